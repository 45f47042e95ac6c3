"""A section that heaves, turns and has a flap, by the series of Küssner and Schwarz, against Theodorsen's functions.

Source: kussner-schwarz-1940 (memory, high): x = -cos t, w = P0 + 2 sum Pn cos nt the downwash over speed,

    dp = 2 rho V^2 (a0 cot(t/2) + 2 sum an sin nt),   a0 = C (P0 - P1) + P1,   an = -Pn + ik (P(n-1) - P(n+1))/(2 n)

It knows nothing of Theodorsen's T functions but C itself, which is held against the table of naca-tr-496 (memory,
high; four printed digits).
"""

from __future__ import annotations

import numpy as np
import pytest

from sparwright.aeroelastic.strip import Motion, Strips, airs, two_dimensional
from sparwright.aeroelastic.theodorsen import lag

TERMS = 3000
TABLE = {0.05: (0.9090, -0.1306), 0.1: (0.8320, -0.1723), 0.2: (0.7276, -0.1886), 0.3: (0.6650, -0.1793),
         0.4: (0.6250, -0.1650), 0.5: (0.5979, -0.1507), 1.0: (0.5394, -0.1003), 2.0: (0.5129, -0.0577)}  # fmt: skip


@pytest.mark.parametrize("k", TABLE)
def test_lag_is_the_printed_table(k: float) -> None:
    """Half a unit of the last printed digit, and a little for a rounded table."""
    found = complex(lag(k))
    assert abs(found.real - TABLE[k][0]) < 1e-4
    assert abs(found.imag - TABLE[k][1]) < 1e-4


def _forces(which: str, hinge: float, k: float, b: float) -> np.ndarray:
    """Complex lift up, moment nose up about the middle, hinge moment trailing edge down; over rho V^2, of a unit."""
    tc = np.arccos(1 - 2 * hinge)
    c = -np.cos(tc)
    n = np.arange(TERMS + 2)
    rate = 1j * k / b  # d/dt over V

    def fourier(t0: float, f0: complex, f1: complex) -> np.ndarray:
        """Pn of f0 + f1 x behind t0: (1/pi) Int (f0 - f1 cos t) cos nt dt."""
        nn = np.where(n == 0, 1, n)
        i0 = np.where(n == 0, np.pi - t0, -np.sin(nn * t0) / nn)
        up, down = n + 1, np.where(n == 1, 1, n - 1)
        low = np.where(n == 1, np.pi - t0, -np.sin(down * t0) / np.where(down == 0, 1, down))
        i1 = (low - np.sin(up * t0) / up) / 2
        i1[0] = -np.sin(t0)
        return (f0 * i0 - f1 * i1) / np.pi

    if which == "heave":
        p = fourier(0.0, -rate, 0.0)
    elif which == "turn":
        p = fourier(0.0, 1.0, rate * b)
    else:
        p = fourier(tc, 1.0 - rate * b * c, rate * b)
    m = n[1:-1]
    a = -p[1:-1] + 1j * k / (2 * m) * (p[:-2] - p[2:])
    a0 = complex(lag(k)) * (p[0] - p[1]) + p[1]
    lift = 2 * np.pi * b * (a0 + a[0])
    turn = np.pi * b**2 * (a0 + a[1])

    # hinge: -2 b^2 Int (x - c) (a0 cot(t/2) + 2 sum an sin nt) sin t dt from tc to pi, x = -cos t, in closed form
    def cosines(q: np.ndarray) -> np.ndarray:
        qq = np.where(q == 0, 1, q)
        return np.where(q == 0, np.pi - tc, -np.sin(qq * tc) / qq)

    first = -(cosines(np.array([1]))[0] + (cosines(np.array([0]))[0] + cosines(np.array([2]))[0]) / 2
              + c * (cosines(np.array([0]))[0] + cosines(np.array([1]))[0]))  # fmt: skip
    sines = (cosines(m - 1) - cosines(m + 1)) / 2
    with_x = (cosines(np.abs(m - 2)) - cosines(m + 2)) / 4
    rest = -(with_x + c * sines)
    flap = -2 * b**2 * (a0 * first + 2 * np.sum(a * rest))
    return np.array([lift, turn, flap])


@pytest.mark.parametrize("hinge", [0.45, 0.75, 0.9])
@pytest.mark.parametrize("k", [0.0, 0.08, 0.4, 1.3])
def test_all_nine_forces(hinge: float, k: float) -> None:
    """Heave, turn and flap give the same lift, moment and hinge moment; the series leaves 1e-4 of the least."""
    b = 0.7
    one, x, z = np.ones(1), np.array([[1.0, 0, 0]]), np.array([[0.0, 0, 1]])
    s = Strips(0 * x, x, z, 2 * b * one, one, hinge * one, two_dimensional(2 * b * one))
    unit = np.eye(3)
    air = airs(s, Motion(unit[:1], unit[1:2], unit[2:]))
    still, rate = air.lagged(k / b)
    w = 1j * k / b
    ours = still + w * rate + w**2 * air.mass
    theirs = np.array([_forces(name, hinge, k, b) for name in ("heave", "turn", "flap")]).T
    np.testing.assert_allclose(ours, theirs, rtol=2e-4, atol=1e-9)
