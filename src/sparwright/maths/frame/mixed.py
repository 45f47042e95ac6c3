"""Second order the short way: axial forces and wires follow every single solve, each case goes on from a mix.

Symbols: u scaled movements, K the factor's stiffness, f load, D(N) = Kg(N) - Kg(rigging), G, s as in `wires`. A turn:
  g(u) = K^-1 (f - D(N(u)) u) - G s,    s exact for the wires of this turn
z = g(u) - u is nought where u is right; z K z is no less than the residual's energy with the slack wires out.
Anderson's mixing: on from g - sum c_i (g_i+1 - g_i) over the last turns, with c of least |z - sum c_i (z_i+1 - z_i)|:
one solve a turn, and whether the plain repetition would close or not. A case is taken when u meets its balance with the
axial forces and wires of u itself; one that does not get there is left to `second`, which goes carefully.
Source: anderson-1965, walker-ni-2011 (memory, high).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.maths.frame.pulled import added, dots, pulls, tight
from sparwright.maths.frame.stiff import Factor, Prepared
from sparwright.maths.frame.wires import Wires, slackened_together

MEMORY = 3  # turns that are mixed
TURNS = 25
FAR = 10.0  # of the load's own energy: it runs away
FLAT = 1e-14  # of their sum, added to the squares of the mix: turns that are alike
BATCH = 64  # cases side by side: what stays near the processor


@dataclass(frozen=True)
class Mixed:
    """Of c cases what the short way found."""

    moved: np.ndarray  # (u, c) scaled
    slack: np.ndarray  # (w, c) bool
    turns: np.ndarray  # (c,)
    there: np.ndarray  # (c,) bool: settled; the others are as they came


class Past:
    """The last turns of k cases: how z and g changed. Filled in place, inside this file only."""

    def __init__(self) -> None:
        """Nothing has been."""
        self.z: list[np.ndarray] = []
        self.g: list[np.ndarray] = []
        self.last: tuple[np.ndarray, np.ndarray] | None = None

    def mixed(self, z: np.ndarray, g: np.ndarray) -> np.ndarray:
        """(u, k) where to go on from."""
        if self.last is not None:
            self.z = [*self.z, z - self.last[0]][-MEMORY:]
            self.g = [*self.g, g - self.last[1]][-MEMORY:]
        self.last = z, g
        out = g.copy()
        for part, step in zip(_parts(self.z, z), self.g, strict=True):
            out -= part * step
        return out

    def keep(self, which: np.ndarray) -> None:
        """Forget all but some cases; which: (k,) bool."""
        self.z, self.g = [a[:, which] for a in self.z], [a[:, which] for a in self.g]
        self.last = None if self.last is None else (self.last[0][:, which], self.last[1][:, which])


def _parts(steps: list[np.ndarray], z: np.ndarray) -> np.ndarray:
    """(n, k) c of least |z - sum c_i steps_i| of each case."""
    if not steps:
        return np.zeros((0, z.shape[1]))
    count = len(steps)
    square = np.empty((z.shape[1], count, count))
    for i, a in enumerate(steps):
        for j in range(i + 1):
            square[:, i, j] = square[:, j, i] = dots(a, steps[j])
    size = np.einsum("kii->k", square)
    square[:, range(count), range(count)] += np.where(size > 0, FLAT * size, 1.0)[:, None]
    right = np.stack([dots(a, z) for a in steps], axis=1)
    return np.asarray(np.linalg.solve(square, right[:, :, None])[:, :, 0].T)


def mixed(
    prepared: Prepared, on: Factor, wires: Wires, load: np.ndarray, moved: np.ndarray, slack: np.ndarray,
    settled: np.ndarray,
) -> Mixed:  # fmt: skip
    """Second order from first: load, moved (u, c) scaled, slack (w, c); settled (c,): root of the energy z may have."""
    out = Mixed(moved.copy(), slack.copy(), np.ones(moved.shape[1], int), np.zeros(moved.shape[1], bool))
    for start in range(0, moved.shape[1], BATCH):
        some = np.arange(start, min(start + BATCH, moved.shape[1]))
        _batch(prepared, on, wires, load, settled, out, some)
    return out


def _batch(
    prepared: Prepared, on: Factor, wires: Wires, load: np.ndarray, settled: np.ndarray, out: Mixed, some: np.ndarray
) -> None:
    """Settle some cases, into `out`."""
    u, slack, f, past = out.moved[:, some], out.slack[:, some], load[:, some], Past()
    size = np.sqrt(np.abs(dots(u, on.matrix @ u)))
    for turn in range(2, TURNS + 2):
        g, after, known = _turn(prepared, on, wires, f, u, slack)
        z = g - u
        off = np.sqrt(np.abs(dots(z, on.matrix @ z)))
        there = known & (off <= settled[some]) & np.all(after == slack, axis=0)
        out.moved[:, some[there]], out.slack[:, some[there]] = u[:, there], slack[:, there]
        out.turns[some[there]], out.there[some[there]] = turn, True
        on_with = known & ~there & (off <= FAR * size)
        if not np.any(on_with):
            return
        u, slack = past.mixed(z, g), after
        if not np.all(on_with):
            past.keep(on_with)
            some, u, slack, f, size = (a[..., on_with] for a in (some, u, slack, f, size))


def _turn(
    prepared: Prepared, on: Factor, wires: Wires, load: np.ndarray, u: np.ndarray, slack: np.ndarray
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(g(u), which wires are slack in it, which cases are known) of k cases."""
    more = pulls(prepared, wires, u, slack) - prepared.frame.tension[:, None]
    g = on.back(load - added(prepared, more, u))
    if not wires.which.size:
        return g, slack, np.ones(u.shape[1], bool)
    s, known = slackened_together(wires.left, tight(prepared, wires) + wires.pulling.T @ g, slack)
    g -= wires.gain @ s
    return g, s > 0, known
