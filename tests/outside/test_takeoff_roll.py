"""Ground roll against the closed form of m dV/dt = A - B V^2 (J. D. Anderson, Introduction to Flight, 6.15).

s = ln[A/(A - B V^2)]/(2B), t = ln[(sqrt A + V sqrt B)/(sqrt A - V sqrt B)]/(2 sqrt(A B)), per unit mass. Inputs made
up; answers by independent code, printed to 0.01 m and 0.001 s.
"""

import math

from numpy.testing import assert_allclose

from sparwright.flight.takeoff import ground_roll


def test_closed_form():
    W, S, T0, k, mu, CL, CD, rho = 2943.0, 12.0, 900.0, 0.25, 0.04, 0.4, 0.06, 1.225
    way, time = ground_roll(W / 9.80665, lambda v: T0 - mu * W - (k + rho * S * (CD - mu * CL) / 2) * v**2, 18.789)
    assert_allclose(way, 78.36, rtol=0, atol=0.005)
    assert_allclose(time, 7.949, rtol=0, atol=5e-4)


def test_never_gets_there():
    assert all(map(math.isnan, ground_roll(300.0, lambda v: 100.0 - v**2, 18.0)))
