"""Downwash behind one horseshoe vortex, the rolled-up wake of an elliptic wing.

Source: H. Glauert, The Elements of Aerofoil and Airscrew Theory (1926) ch. XII: span s = pi b/4,
eps = Gamma/(pi s V) (1 + sqrt(x^2 + s^2/4)/x), Gamma = V CL S/(2 s). Aspect ratio 6, eps/CL in rad at
x/b 0.25, 0.5, 1: 0.1231, 0.0977, 0.0892. Tolerance: half a unit of the last digit.
"""

from __future__ import annotations

import numpy as np
from numpy.testing import assert_allclose

from sparwright.air.inflow import inflow


def test_downwash() -> None:
    b = 1.0
    s, area = np.pi * b / 4, b * b / 6
    corners = np.array([[0.0, 0.0, 0.1, 0.1], [0.0, s / 2, 0.0, s / 2], [0.0] * 4])
    points = np.array([[0.25 * b, 0.5 * b, b], [0.0] * 3, [0.0] * 3])
    air, _ = inflow(corners, 1, np.array([1]), np.zeros(1), points, np.zeros((1, 3)))
    assert_allclose(-air[0, 2] * area / (2 * s), [0.1231, 0.0977, 0.0892], rtol=0, atol=0.5e-4)
