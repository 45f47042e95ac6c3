"""Flutter: how frequency and damping of every mode go with the speed, by the p-k method.

Symbols: p = g w + i w root, w frequency, g w growth, V speed, rho density; M K generalised mass and
stiffness, rho (V^2 A + V p B + p^2 N) the air's forces (strip.py), A and B at the frequency of the root itself.

    (p^2 (M - rho N) - p rho V B(w/V) + K (1 + 0 i) - rho V^2 A(w/V)) x = 0,   w = Im p

A branch is followed from speed to speed by Newton's method from where it was; each step is halved until it finds the
same branch again. Where two come onto one root, or one is lost, they are followed once more in smaller steps. It
flutters where its growth goes through nought upwards. Structural damping is left out (on the safe side; a frame of wood
and tube has some one to three per cent), `damping` names it: K (1 + i d).
Range: a frequency above nought; a root that has become real is no longer followed (divergence, standing.py, sees it).
One that is lost before it is: what it does further on is not known, and `lost` says from which speed.
Source: hassig-1971 (memory, high).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.aeroelastic.strip import Airs
from sparwright.base.record import locked, number

NEAR = 1e-9  # of a root
ROUNDS = 25
SLOW = 1e-3  # of the lowest natural frequency: a root slower than that is taken as real
STOPPED = 0.2  # of its natural frequency
NEARER = 12  # halvings of a step towards where a branch is lost
ALIKE = 1e-6  # of a root: two branches nearer than that are on one root


@dataclass(frozen=True)
class Care:
    """How carefully a branch is followed."""

    halvings: int = number("1", "of a step at most")
    same: float = number("1", "least likeness of its shape from one step to the next")
    leap: float = number("1", "part of its root that it moves by in one step, at most")


PLAIN, CAREFUL = Care(6, 0.8, 0.2), Care(10, 0.97, 0.02)


@dataclass(frozen=True)
class Branch:
    """One mode over the speeds; NaN where it is no longer followed."""

    mode: int  # which natural mode it comes from
    root: np.ndarray  # (v,) complex, 1/s
    shape: np.ndarray  # (v, m) complex, coordinates, of length one

    @property
    def growth(self) -> np.ndarray:
        """(v,) rate of growth over frequency: minus the part of critical damping."""
        with np.errstate(invalid="ignore"):
            return np.asarray(self.root.real / np.abs(self.root))

    @property
    def frequency(self) -> np.ndarray:
        """(v,) rad/s."""
        return np.asarray(self.root.imag)


@dataclass(frozen=True)
class Swept:
    """All branches over the speeds."""

    speeds: np.ndarray = number("m/s", "(v,) true airspeed")
    branches: tuple[Branch, ...] = ()
    flutter: float = number("m/s", "least speed at which a branch begins to grow; infinite where none does", np.inf)
    frequency: float = number("rad/s", "of that branch there; NaN where none does", np.nan)
    which: int = -1  # place of that branch; -1 for none
    lost: float = number("m/s", "least speed at which a branch is lost that has not become real; else infinite", np.inf)


@dataclass(frozen=True)
class Shaken:
    """m coordinates that have mass and stiffness in moving air."""

    mass: np.ndarray  # (m, m) generalised mass, kg
    stiffness: np.ndarray  # (m, m) generalised stiffness, N/m
    air: Airs
    density: float = number("kg/m3", "of the air")
    damping: float = number("1", "structural damping d, twice the part of critical", 0.0)

    def terms(self, speed: float, frequency: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
        """(of p^2, of p, of one), (m, m) each, at a frequency, rad/s."""
        still, rate = self.air.lagged(frequency / speed if speed > 0 else 0.0)
        rho = self.density
        held = self.stiffness * (1 + 1j * self.damping) if self.damping else self.stiffness
        return self.mass - rho * self.air.mass, -rho * speed * rate, held - rho * speed**2 * still


def natural(on: Shaken) -> tuple[np.ndarray, np.ndarray]:
    """(omega (m,) rad/s rising, shapes (m, m) by columns of length one) at rest in the air, whose mass moves along."""
    heavy = on.mass - on.density * on.air.mass
    heavy = (heavy + heavy.T) / 2
    root = np.linalg.cholesky(heavy)
    inner = np.linalg.solve(root, np.linalg.solve(root, on.stiffness).T)
    value, vector = np.linalg.eigh((inner + inner.T) / 2)
    shape = np.linalg.solve(root.T, vector)
    return np.sqrt(np.maximum(value, 0.0)), shape / np.linalg.norm(shape, axis=0)


def swept(on: Shaken, speeds: np.ndarray, slowest: float = 0.0, only: Sequence[int] | None = None) -> Swept:
    """Follow every natural mode faster than `slowest` rad/s over rising speeds, m/s; only some, by their places.

    >>> from sparwright.aeroelastic.strip import Motion, Strips, airs, two_dimensional
    >>> one, x, z = np.ones(1), np.array([[1.0, 0, 0]]), np.array([[0.0, 0, 1]])
    >>> s = Strips(0 * x, x, z, 2 * one, one, one, two_dimensional(2 * one))
    >>> a = airs(s, Motion(np.array([[1.0]]), np.array([[0.0]]), np.array([[0.0]])))
    >>> bool(np.isinf(swept(Shaken(10 * np.eye(1), 1e3 * np.eye(1), a, 1.2), np.linspace(1, 20, 5)).flutter))
    True
    """
    omega, shapes = natural(on)
    branches = []
    fast = np.flatnonzero(omega > max(slowest, SLOW * omega.max()))
    for j in fast if only is None else [j for j in fast if j in only]:
        branches.append(_followed(on, speeds, int(j), complex(0, omega[j]), shapes[:, j].astype(complex)))
    for i in _doubtful(on, speeds, branches, omega):
        mode = branches[i].mode
        start, shape = complex(0, omega[mode]), shapes[:, mode].astype(complex)
        branches[i] = _followed(on, speeds, mode, start, shape, CAREFUL)
    branches = _parted(branches)
    found = [(*_onset(on, speeds, b), i) for i, b in enumerate(branches)]
    found = [f for f in found if np.isfinite(f[0])]
    first = min(found, default=(np.inf, np.nan, -1))
    lost = min((_lost(on, speeds, b, float(omega[b.mode])) for b in branches), default=np.inf)
    return Swept(locked(speeds), tuple(branches), *first, lost)


def _lost(on: Shaken, speeds: np.ndarray, b: Branch, natural_: float) -> float:
    """Speed at which a branch is no longer followed; infinite where it is followed to the last or becomes real.

    One slower than STOPPED of its natural frequency, or damped by more than 0.7 of critical, is on its way to that.
    """
    gone = np.flatnonzero(np.isnan(b.root.real))
    if not gone.size:
        return np.inf
    i, last, p, x = int(gone[0]), 0.0, complex(0, natural_), None
    if i:
        last, p, x = float(speeds[i - 1]), complex(b.root[i - 1]), b.shape[i - 1]
    step = float(speeds[i]) - last
    for _ in range(NEARER if x is not None else 0):
        step /= 2
        assert x is not None
        found = _stepped(on, last, last + step, p, x, 0.0, 0)
        if found is not None:
            (p, x), last = found, last + step
    return np.inf if p.imag < max(STOPPED * natural_, -p.real) else float(speeds[i])


def _doubtful(on: Shaken, speeds: np.ndarray, branches: list[Branch], omega: np.ndarray) -> list[int]:
    """Places of branches that share a root with another somewhere, or are lost."""
    root = np.array([b.root for b in branches])
    found = {i for i, b in enumerate(branches) if np.isfinite(_lost(on, speeds, b, float(omega[b.mode])))}
    for i in range(len(branches)):
        for j in range(i):
            if np.any(np.abs(root[i] - root[j]) < ALIKE * np.abs(root[i])):
                found |= {i, j}
    return sorted(found)


def _parted(branches: list[Branch]) -> list[Branch]:
    """Of two branches that have come onto one root the one that had to leap is cut there."""
    root = np.array([b.root for b in branches])
    for v in range(1, root.shape[1] if len(root) else 0):
        for i in range(len(root)):
            for j in np.flatnonzero(np.abs(root[i + 1 :, v] - root[i, v]) < ALIKE * np.abs(root[i, v])) + i + 1:
                leap = [abs(root[k, v] - root[k, v - 1]) for k in (i, j)]
                root[(i, j)[int(np.argmax(leap))], v:] = complex(np.nan, np.nan)
    return [replace(b, root=r) for b, r in zip(branches, root, strict=True)]


def _followed(on: Shaken, speeds: np.ndarray, mode: int, p: complex, x: np.ndarray, care: Care = PLAIN) -> Branch:
    root, shape = np.full(len(speeds), complex(np.nan, np.nan)), np.full((len(speeds), len(x)), np.nan + 0j)
    last, least = 0.0, SLOW * abs(p)
    for i, speed in enumerate(speeds):
        found = _stepped(on, last, float(speed), p, x, least, care.halvings, care)
        if found is None:
            break
        (p, x), last = found, float(speed)
        root[i], shape[i] = p, x
    return Branch(mode, root, shape)


def _stepped(on: Shaken, last: float, speed: float, p: complex, x: np.ndarray, least: float, halvings: int,
             care: Care = PLAIN) -> tuple[complex, np.ndarray] | None:  # fmt: skip
    """The branch at a speed, from where it was; by way of the middle where the shape jumps."""
    found = settled(on, speed, p, x)
    if found is not None and abs(np.vdot(found[1], x)) > care.same and abs(found[0] - p) < care.leap * abs(p) and (
            found[0].imag > least):  # fmt: skip
        return found
    if not halvings:
        return None
    between = _stepped(on, last, (last + speed) / 2, p, x, least, halvings - 1, care)
    return between and _stepped(on, (last + speed) / 2, speed, *between, least, halvings - 1, care)


def settled(on: Shaken, speed: float, p: complex, x: np.ndarray) -> tuple[complex, np.ndarray] | None:
    """(root, shape) next to a first guess, the air at the root's own frequency; None where it does not settle."""
    m = len(x)
    for _ in range(ROUNDS):
        two, one, nought = on.terms(speed, abs(p.imag))
        matrix = p * p * two + p * one + nought
        border = np.zeros((m + 1, m + 1), complex)
        border[:m, :m], border[:m, m], border[m, :m] = matrix, (2 * p * two + one) @ x, x.conj()
        try:
            step = np.linalg.solve(border, np.concatenate([-(matrix @ x), [0.0]]))
        except np.linalg.LinAlgError:
            return None
        x, p = x + step[:m], p + complex(step[m])
        x = x / np.linalg.norm(x)
        if abs(step[m]) < NEAR * abs(p):
            return p, x
    return None


def _onset(on: Shaken, speeds: np.ndarray, b: Branch) -> tuple[float, float]:
    """(speed, frequency) at which a branch first grows, by bisection between the speeds; infinite where it does not."""
    grows = b.root.real > 0
    if not grows.any():
        return np.inf, np.nan
    i = int(np.argmax(grows))
    if i == 0:
        return float(speeds[0]), float(b.root[0].imag)
    low, high, p, x = float(speeds[i - 1]), float(speeds[i]), complex(b.root[i - 1]), b.shape[i - 1]
    for _ in range(40):
        middle = (low + high) / 2
        found = _stepped(on, low, middle, p, x, 0.0, PLAIN.halvings)
        if found is None or high - low < 1e-6 * high:
            break
        if found[0].real > 0:
            high = middle
        else:
            low, (p, x) = middle, found
    return (low + high) / 2, float(p.imag)
