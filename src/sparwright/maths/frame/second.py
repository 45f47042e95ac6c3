"""Second order: each case with the geometric stiffness of its own axial forces, without factorising again.

Nearly all cases settle the short way (`mixed`); the others go carefully, as here, and every one is held against
buckling at its end.

Symbols: P stiffness with the slack wires out (the factor and a low rank), D = Kg(N) - Kg(rigging) what the case adds,
A = P + D. A u = f by conjugate gradients with P as preconditioner: where no member is near its buckling load all
eigenvalues of P^-1 A are near 1, and each turn gains about a digit. P z = r is known, so P itself is never multiplied.
N follows u until the residual with the new N is SETTLED of the load, in the energy of P, or under ROUNDING of it and no
longer falling (a soft frame of stiff tubes has no more digits). A direction with p A p <= 0
means the frame is past its buckling load; as a load may miss the way it buckles, one more right side, drawn at random,
is solved at the end for each case (Lanczos finds with it any eigenvalue that is not positive).
Source: hestenes-stiefel-1952 (memory, high).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np

from sparwright.maths.frame.mixed import mixed
from sparwright.maths.frame.pulled import added, dots, pulls, tight
from sparwright.maths.frame.stiff import Factor, Prepared
from sparwright.maths.frame.wires import Wires, slackened_together

SETTLED = 1e-10
CLOSE = 0.3  # of SETTLED: what is asked for, since the forces of the end still follow
ROUNDING = 1e-5
GAIN = 1e-2  # what one turn with the same N is asked for
SOUND = 1e-5  # residual at which the random right side has seen every eigenvalue
TURNS, STEPS = 40, 400

PAST = "past the frame's buckling load"
MECHANISM = "with its wires slack the frame does not hold the load"
RESTLESS = "did not settle"


@dataclass(frozen=True)
class Cases:
    """What is known of c cases while they are solved. Its arrays are filled in place, inside this room only."""

    moved: np.ndarray  # (u, c) scaled
    pull: np.ndarray  # (m, c) N
    slack: np.ndarray  # (w, c) bool
    turns: np.ndarray  # (c,)
    why: list[str]  # (c,)


class Stiffness:
    """P^-1 and D of a batch of cases. Made anew each turn."""

    def __init__(self, prepared: Prepared, on: Factor, wires: Wires, slack: np.ndarray, added: np.ndarray) -> None:
        """slack: (w, c) bool. added: (m, c) N, axial forces less the rigging in the factor."""
        self.prepared, self.on, self.wires = prepared, on, wires
        self.heavy = prepared.parts.weight[:, None] * added[prepared.parts.of]
        self.low: np.ndarray | None = None  # (c, w, w) M_SS^-1, nought elsewhere
        if np.any(slack):
            sets, of = np.unique(slack, axis=1, return_inverse=True)
            self.low = np.array([wires.inverse(one) for one in sets.T])[of.ravel()]

    def back(self, right: np.ndarray, cases: np.ndarray) -> np.ndarray:
        """P^-1 right, (u, k) of the cases (k,)."""
        out = self.on.back(right)
        if self.low is not None:
            along = (self.wires.gain.T @ right).T[:, :, None]
            out += self.wires.gain @ (self.low[cases] @ along)[:, :, 0].T
        return out

    def added(self, moved: np.ndarray, cases: np.ndarray) -> np.ndarray:
        """D moved, (u, k) of the cases (k,)."""
        turned = self.prepared.rows @ moved
        turned *= self.heavy[:, cases]
        return np.asarray(self.prepared.rows_turned @ turned)


def gradients(
    a: Stiffness, u: np.ndarray, r: np.ndarray, z: np.ndarray, cases: np.ndarray, until: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """Improve u (u, k) with residual r (u, k) and z = P^-1 r of the cases (k,) until r z <= until^2 (k,).

    Gives (u, state (k,)): 0 there, 1 past buckling, 2 not there in STEPS.
    """
    u, state = u.copy(), np.full(cases.size, 2)
    on = np.arange(cases.size)
    energy = dots(r, z)
    p, stiff = z, r
    for _ in range(STEPS):
        there = energy <= until[on] ** 2
        state[on[there]] = 0
        if np.any(there):
            on, r, p, stiff, energy = on[~there], r[:, ~there], p[:, ~there], stiff[:, ~there], energy[~there]
        if not on.size:
            break
        image = stiff + a.added(p, cases[on])
        work = dots(p, image)
        lost = work <= 1e-12 * dots(p, stiff)
        if np.any(lost):
            state[on[lost]] = 1
            on, r, p, stiff = on[~lost], r[:, ~lost], p[:, ~lost], stiff[:, ~lost]
            energy, image, work = energy[~lost], image[:, ~lost], work[~lost]
            if not on.size:
                break
        step = energy / work
        u[:, on] += step * p
        r = r - step * image
        z = a.back(r, cases[on])
        last, energy = energy, dots(r, z)
        p, stiff = z + (energy / last) * p, r + (energy / last) * stiff
    return u, state


def settle(prepared: Prepared, on: Factor, wires: Wires, load: np.ndarray, cases: Cases) -> None:
    """Bring first-order `cases` to second order. load: (u, c) scaled, with the rigging's own.

    A case that cannot be has its reason in `cases.why`.
    """
    size = np.sqrt(np.maximum(dots(load, on.back(load)), 0.0))
    going = _alive(cases, range(size.size))
    going = going[~_shortly(prepared, on, wires, load, cases, going, size)]
    _carefully(prepared, on, wires, load, cases, going, size)
    sound(prepared, on, wires, cases)


def _shortly(
    prepared: Prepared, on: Factor, wires: Wires, load: np.ndarray, cases: Cases, going: np.ndarray, size: np.ndarray
) -> np.ndarray:
    """(k,) which of the cases `going` settle the short way; the others stay as they are."""
    moved, slack = cases.moved[:, going], cases.slack[:, going]
    found = mixed(prepared, on, wires, load[:, going], moved, slack, CLOSE * SETTLED * size[going])
    cases.moved[:, going], cases.slack[:, going] = found.moved, found.slack
    cases.pull[:, going] = pulls(prepared, wires, found.moved, found.slack)
    cases.turns[going[found.there]] = found.turns[found.there]
    return found.there


def _carefully(
    prepared: Prepared, on: Factor, wires: Wires, load: np.ndarray, cases: Cases, going: np.ndarray, size: np.ndarray
) -> None:
    """Conjugate gradients with the axial forces of each turn, for cases in first order."""
    best = np.full(size.size, np.inf)
    for _ in range(TURNS):
        going = _reslack(prepared, wires, load, cases, going)
        if not going.size:
            break
        a, u = _stiffness(prepared, on, wires, cases, going), cases.moved[:, going]
        r = _residual(wires, on, prepared, a, load[:, going], u, cases.slack[:, going])
        z = a.back(r, np.arange(going.size))
        off = np.sqrt(np.maximum(dots(r, z), 0.0))
        rounding = (off <= ROUNDING * size[going]) & (off > 0.9 * best[going])
        best[going] = np.minimum(off, best[going])
        todo = np.flatnonzero((off > SETTLED * size[going]) & ~rounding)
        going = going[todo]
        if not going.size:
            break
        until = np.maximum(CLOSE * SETTLED * size[going], GAIN * off[todo])
        cases.moved[:, going], state = gradients(a, u[:, todo], r[:, todo], z[:, todo], todo, until)
        cases.turns[going] += 1
        _tell(cases, going, state)
        going = _alive(cases, going)
    for c in going:
        cases.why[c] = RESTLESS


def _alive(cases: Cases, which: Iterable[int]) -> np.ndarray:
    """Those of some cases that have no reason to be given up."""
    return np.array([c for c in which if not cases.why[c]], dtype=int)


def sound(prepared: Prepared, on: Factor, wires: Wires, cases: Cases) -> None:
    """Mark the cases whose stiffness is not positive: a right side drawn at random meets every way to buckle."""
    going = _alive(cases, range(len(cases.why)))
    if not going.size:
        return
    a, every = _stiffness(prepared, on, wires, cases, going), np.arange(going.size)
    drawn = np.random.default_rng(1).normal(size=(cases.moved.shape[0], 1))
    r = np.repeat(drawn, going.size, axis=1)
    z = a.back(r, every)
    _, state = gradients(a, np.zeros_like(r), r, z, every, np.asarray(SOUND * np.sqrt(dots(r, z))))
    _tell(cases, going, state)


def _tell(cases: Cases, which: np.ndarray, state: np.ndarray) -> None:
    for c, found in zip(which.tolist(), state.tolist(), strict=True):
        cases.why[c] = ("", PAST, RESTLESS)[found]


def _stiffness(prepared: Prepared, on: Factor, wires: Wires, cases: Cases, which: np.ndarray) -> Stiffness:
    rigging = prepared.frame.tension[:, None]
    return Stiffness(prepared, on, wires, cases.slack[:, which], cases.pull[:, which] - rigging)


def _residual(
    wires: Wires, on: Factor, prepared: Prepared, a: Stiffness, load: np.ndarray, u: np.ndarray, slack: np.ndarray
) -> np.ndarray:
    """load - A u, where a slack wire gives neither stiffness nor rigging."""
    r = load - on.matrix @ u - a.added(u, np.arange(u.shape[1]))
    if np.any(slack):
        r += wires.pulling @ np.where(slack, tight(prepared, wires) + wires.pulling.T @ u, 0.0)
    return np.asarray(r)


def _reslack(prepared: Prepared, wires: Wires, load: np.ndarray, cases: Cases, going: np.ndarray) -> np.ndarray:
    """New axial forces and slack wires of the cases; gives those that still stand."""
    slack = cases.slack[:, going]
    cases.pull[:, going] = pulls(prepared, wires, cases.moved[:, going], slack)
    if not wires.which.size:
        return going
    more = cases.pull[:, going] - prepared.frame.tension[:, None]
    push = load[:, going] - added(prepared, more, cases.moved[:, going])
    slacken(wires, tight(prepared, wires) + wires.gain.T @ push, cases, going)
    going = _alive(cases, going)
    cases.pull[:, going] = pulls(prepared, wires, cases.moved[:, going], cases.slack[:, going])
    return going


def slacken(wires: Wires, force: np.ndarray, cases: Cases, which: np.ndarray) -> np.ndarray:
    """Which wires are slack in the cases `which`, into `cases`; gives s (w, k). force: (w, k) as if all could push."""
    s, known = slackened_together(wires.left, force, cases.slack[:, which])
    cases.slack[:, which] = s > 0
    for c in which[~known].tolist():
        cases.why[c] = MECHANISM
    return s
