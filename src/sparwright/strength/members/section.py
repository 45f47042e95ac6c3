"""Round tube: what its cross section has. Formulas of geometry, exact.

Symbols: D outside diameter, t wall, d = D - 2 t bore, A area, I second moment, Z = 2 I/D, rho radius of gyration,
J = 2 I, Q first moment of half the ring, h hole through both walls, s = (D - t) asin(h/(D - t)) what it takes of the
middle line. All in SI, all vectorised; NaN where the wall is not between nought and D/2.

>>> # 1.000 x 0.035 in
>>> round(float(area(1.0, 0.035)), 5), round(float(gyration(1.0, 0.035)), 5)
(0.10611, 0.3414)
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sparwright.strength.members.margin import within


def _sizes(outside: ArrayLike, wall: ArrayLike) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    D, t = np.asarray(outside, dtype=float), np.asarray(wall, dtype=float)
    t = within((t > 0) & (2 * t <= D), t)
    return D, t, D - 2 * t


def area(outside: ArrayLike, wall: ArrayLike) -> np.ndarray:
    """A = pi t (D - t), m2. outside D and wall t in m."""
    D, t, _ = _sizes(outside, wall)
    return np.asarray(np.pi * t * (D - t))


def inertia(outside: ArrayLike, wall: ArrayLike) -> np.ndarray:
    """I = pi (D^4 - d^4)/64, m4."""
    D, _, d = _sizes(outside, wall)
    return np.asarray(np.pi * (D**4 - d**4) / 64)


def gyration(outside: ArrayLike, wall: ArrayLike) -> np.ndarray:
    """rho = sqrt(D^2 + d^2)/4, m."""
    D, _, d = _sizes(outside, wall)
    return np.asarray(np.sqrt(D**2 + d**2) / 4)


def modulus(outside: ArrayLike, wall: ArrayLike) -> np.ndarray:
    """Z = 2 I/D, m3."""
    return np.asarray(2 * inertia(outside, wall) / np.asarray(outside, dtype=float))


def plastic_modulus(outside: ArrayLike, wall: ArrayLike) -> np.ndarray:
    """(D^3 - d^3)/6, m3: what the bending moment is over the yield stress when the whole ring yields."""
    D, _, d = _sizes(outside, wall)
    return np.asarray((D**3 - d**3) / 6)


def polar(outside: ArrayLike, wall: ArrayLike) -> np.ndarray:
    """J = pi (D^4 - d^4)/32, m4."""
    return 2 * inertia(outside, wall)


def first_moment(outside: ArrayLike, wall: ArrayLike) -> np.ndarray:
    """Q = (D^3 - d^3)/12 of half the ring, m3."""
    return plastic_modulus(outside, wall) / 2


def net_area(outside: ArrayLike, wall: ArrayLike, hole: ArrayLike) -> np.ndarray:
    """A - 2 t s, m2, with a hole through both walls.

    hole: diameter h, m; nought for none. NaN where the hole is wider than the middle line.
    """
    D, t, _ = _sizes(outside, wall)
    return np.asarray(area(D, t) - 2 * t * (D - t) * _half_angle(D, t, hole))


def net_modulus(outside: ArrayLike, wall: ArrayLike, hole: ArrayLike) -> np.ndarray:
    """Z (1 - (2 a + sin 2 a)/pi), m3, bent so that the hole is where the stress is greatest.

    sin a = h/(D - t): both holes take the sectors within a of the outer fibres, exact; a drilled hole with its straight
    sides loses the same to the order (t/D)^2. The middle is taken as unmoved, which two holes leave it, the outer
    fibre as D/2 away, though the hole took it. hole as in `net_area`.

    >>> float(net_modulus(1.0, 0.05, 0.0) / modulus(1.0, 0.05))
    1.0
    """
    D, t, _ = _sizes(outside, wall)
    a = _half_angle(D, t, hole)
    return np.asarray(modulus(D, t) * (1 - (2 * a + np.sin(2 * a)) / np.pi))


def _half_angle(D: np.ndarray, t: np.ndarray, hole: ArrayLike) -> np.ndarray:
    h = np.asarray(hole, dtype=float)
    return np.asarray(np.arcsin(within((h >= 0) & (h < D - t), h) / (D - t)))
