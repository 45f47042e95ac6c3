"""A straight beam on several hinges with both ends free, under a running load, its hinges moved: an aileron's spar.

    E I w'''' = q,  w at each hinge as far as it is moved

by stiffness: two-node beams between stations, cubic, exact for a load that is even from station to station. Symbols:
q running load up, w up, M = E I w'' (sagging positive), V = dM/dy. Range: small slopes; E I the same all along; two
hinges or more. Source: timoshenko-gere (continuous beams, memory, high).
"""

from __future__ import annotations

import numpy as np

from sparwright.strength.members.margin import within


def bent(
    y: np.ndarray, running: np.ndarray, hinges: np.ndarray, moved: np.ndarray, stiffness: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """((c, n) M N m, (c, n) V N just outboard of each station, (c, h) N up that each hinge gives it).

    y (n,) m stations, rising; running (c, n - 1) N/m up between them; hinges (h,) places in y of at least two; moved
    (c, h) m up; stiffness E I, N m2. ValueError for fewer than two hinges.

    >>> y = np.linspace(0.0, 2.0, 9)                              # two equal spans: q l^2/8 over the middle hinge
    >>> M, V, R = bent(y, np.full((1, 8), 1.0), np.array([0, 4, 8]), np.zeros((1, 3)), 1.0)
    >>> round(float(M[0, 4]), 6), (-R[0]).round(6).tolist()
    (0.125, [0.375, 1.25, 0.375])
    """
    if len(hinges) < 2:
        raise ValueError("a beam on hinges has two of them at least")
    n, long = len(y), np.diff(y)
    K = np.zeros((2 * n, 2 * n))
    f = np.zeros((len(running), 2 * n))
    for i, h in enumerate(long):
        k, at = stiffness * element(float(h)), slice(2 * i, 2 * i + 4)
        K[at, at] += k
        f[:, at] += running[:, i, None] * np.array([h / 2, h**2 / 12, h / 2, -(h**2) / 12])
    held = 2 * np.asarray(hinges)
    free = np.setdiff1d(np.arange(2 * n), held)
    u = np.zeros_like(f)
    u[:, held] = moved
    u[:, free] = np.linalg.solve(K[np.ix_(free, free)], (f[:, free] - moved @ K[np.ix_(held, free)]).T).T
    given = u @ K - f
    M, V = np.zeros((len(running), n)), np.zeros((len(running), n))
    for i, h in enumerate(long):
        q = u[:, 2 * i : 2 * i + 4] @ (stiffness * element(float(h)))
        q = q - running[:, i, None] * np.array([h / 2, h**2 / 12, h / 2, -(h**2) / 12])
        M[:, i], V[:, i] = -q[:, 1], q[:, 0]
        M[:, i + 1] = q[:, 3]
    fits = np.isfinite(running).all(axis=1) & np.isfinite(moved).all(axis=1)
    return within(fits[:, None], M), within(fits[:, None], V), within(fits[:, None], given[:, held])


def element(h: float) -> np.ndarray:
    """(4, 4) stiffness over E I of a beam h long: ends' w and w' to ends' forces and moments."""
    rows = [(12, 6 * h, -12, 6 * h), (6 * h, 4 * h**2, -6 * h, 2 * h**2)]
    first, second = (np.array(r) / h**3 for r in rows)
    third = -first
    fourth = np.array([6 * h, 2 * h**2, -6 * h, 4 * h**2]) / h**3
    return np.array([first, second, third, fourth])
