"""Bending of a wing with its aileron: flutter by another way, and what mass balance does to it.

Source: T. Theodorsen, NACA TR 496 (1935), equations (A), (C) without torsion and his functions T1 to T12 written as
printed (memory, high); solved here as he did, for a speed and frequency at an assumed reduced frequency, while the
program follows roots over the speed. Both solve the same equations, so they are held to 1e-6, what the root finders
leave. That flutter of bending and aileron goes as the aileron's centre of mass comes forward to its hinge:
T. Theodorsen and I. E. Garrick, NACA TR 685 (1940) (memory, high; their figures are not at hand).
"""

from __future__ import annotations

import math
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import brentq
from scipy.special import hankel2

from sparwright.aeroelastic.strip import Motion, Strips, airs, two_dimensional
from sparwright.aeroelastic.swept import Shaken, swept

MU, X, R2, OMEGA_H, OMEGA_B = 12.0, 0.08, 0.02, 1.0, 2.0  # M/(pi rho b2), unbalance, inertia over M b, M b2; rad/s
C = 0.5  # hinge at three quarters of the chord, half chords aft of the middle


def _t() -> dict[int, float]:
    r, a = math.sqrt(1 - C * C), math.acos(C)
    return {
        1: -r * (2 + C * C) / 3 + C * a,
        3: -(1 / 8 + C * C) * a * a + C * r * a * (7 + 2 * C * C) / 4 - (1 - C * C) * (5 * C**2 + 4) / 8,
        4: -a + C * r,
        5: -(1 - C * C) - a * a + 2 * C * r * a,
        10: r + a,
        11: a * (1 - 2 * C) + r * (2 - C),
        12: r * (2 + C) - a * (2 * C + 1),
    }


def _air(k: float) -> np.ndarray:
    """(2, 2) forces over rho w^2 of h down and the aileron down, b = 1, moving as exp(i w t): w = k v."""
    t, i = _t(), 1j
    late = hankel2(1, k) / (hankel2(1, k) + 1j * hankel2(0, k))
    w = np.array([i / k, t[10] / (math.pi * k * k) + i * t[11] / (2 * math.pi * k)])
    p = -np.array([-math.pi, -i * t[4] / k + t[1]]) - 2 * math.pi * late * w
    still = (t[5] - t[4] * t[10]) / (math.pi * k * k) - i * t[4] * t[11] / (2 * math.pi * k)
    m = -np.array([t[1], still + t[3] / math.pi]) - t[12] * late * w
    return np.array([p, m])


def _mass(x: float, r2: float = R2) -> np.ndarray:
    return MU * math.pi * np.array([[1.0, x], [x, r2]])


STIFF = MU * math.pi * np.diag([OMEGA_H**2, R2 * OMEGA_B**2])


def _by_k(x: float) -> list[float]:
    """Speeds at which it neither grows nor dies: of 1/w2 real in (M + air) u = K u/w2, over reduced frequencies."""

    def values(k: float) -> np.ndarray:
        found = np.linalg.eigvals(np.linalg.solve(STIFF, _mass(x) + _air(k)))
        return found[np.argsort(found.real)]

    ks = np.geomspace(0.02, 8.0, 4000)
    at = np.array([values(k) for k in ks])
    speeds = []
    for j in (0, 1):
        sign = np.sign(at[:, j].imag)
        for n in np.flatnonzero(sign[1:] * sign[:-1] < 0):
            k = brentq(lambda k, j=j: values(k)[j].imag, ks[n], ks[n + 1], xtol=1e-13)
            one = values(k)[j]
            if abs(one.imag) < 1e-9 and one.real > 0:
                speeds.append(1 / math.sqrt(one.real) / k)
    return sorted(speeds)


def _ours(x: float, r2: float = R2, omega: float = OMEGA_B) -> float:
    one = np.ones(1)
    strips = Strips(np.zeros((1, 3)), np.array([[1.0, 0, 0]]), np.array([[0.0, 0, 1]]), 2 * one, one, (1 + C) / 2 * one,
                    two_dimensional(2 * one))  # fmt: skip
    stiff = MU * math.pi * np.diag([OMEGA_H**2, R2 * omega**2])
    moves = Motion(np.array([[-1.0, 0.0]]), np.zeros((1, 2)), np.array([[0.0, 1.0]]))
    return swept(Shaken(_mass(x, r2), stiff, airs(strips, moves), 1.0), np.linspace(0.05, 6.0, 120)).flutter


@pytest.mark.parametrize("x", [0.04, 0.08, 0.12])
def test_the_speed_is_that_of_the_reduced_frequency(x: float) -> None:
    assert _ours(x) == pytest.approx(_by_k(x)[0], rel=1e-6)


@pytest.mark.parametrize(("omega", "xs"), [(OMEGA_B, (0.1, 0.08, 0.06, 0.04)), (0.05, (0.08, 0.06, 0.04, 0.02))])
def test_balance_raises_it(omega: float, xs: tuple[float, ...]) -> None:
    """On its circuit and nearly free: less unbalance, higher speed, and none once it is balanced or ahead."""
    speeds = [_ours(x, R2, omega) for x in xs]
    assert np.isfinite(speeds).all()
    assert all(b > a for a, b in pairwise(speeds))
    assert _ours(0.0, R2, omega) == _ours(-0.02, R2, omega) == np.inf
    assert not _by_k(0.0)


def test_a_little_balance_may_lower_it() -> None:
    """Why no weight is taken on trust: between unbalanced and balanced the speed dips, by both ways alike."""
    assert _by_k(0.1)[0] < _by_k(0.12)[0]
    assert _ours(0.1) < _ours(0.12)


def test_a_weight_on_an_arm_ahead_of_the_hinge_raises_it() -> None:
    """m at n ahead takes m n off the unbalance and adds m n^2 to the inertia (and m to the wing: left out here)."""
    n = 0.5
    m = 0.08 / n  # balanced
    assert _ours(0.08) < _ours(0.08 - m * n, R2 + m * n * n) == np.inf
