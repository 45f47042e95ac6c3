"""The textbook wing of four panels: aspect ratio 5, no taper, swept 45 degrees, one panel along the chord.

Source: J. J. Bertin, M. L. Smith, Aerodynamics for Engineers, worked example of the vortex lattice: lift
1.096 pi sin(alpha) and circulations 0.0273, 0.0287, 0.0286, 0.0250 of 4 pi b V alpha from root to tip.
Strips of equal width with control points in their middle, as printed. Tolerance: half a unit of the last
printed digit; the slope 3.4442 per rad is the same sum carried to five digits.

Sources: bertin-smith, mcbain-lift.
"""

from __future__ import annotations

import numpy as np
from numpy.testing import assert_allclose

from sparwright.air.inflow import inflow

SPAN, CHORD, STRIPS = 1.0, 0.2, 4


def solved() -> np.ndarray:
    """Circulation of the four strips for one radian: bound vortices at a quarter, control points at three quarters."""
    y = np.linspace(0, SPAN / 2, STRIPS + 1)
    middle = (y[1:] + y[:-1]) / 2
    corners = np.hstack([[y + part * CHORD, y, 0 * y] for part in (0.25, 1.0)])
    points = np.array([middle + 0.75 * CHORD, middle, 0 * middle])
    air, _ = inflow(corners, 1, np.array([STRIPS]), np.zeros(STRIPS), points, np.zeros((1, STRIPS)))
    return np.linalg.solve(-air[:, 2].T, np.ones(STRIPS))


def test_circulation() -> None:
    printed = [0.0273, 0.0287, 0.0286, 0.0250]
    assert_allclose(solved() / (4 * np.pi * SPAN), printed, rtol=0, atol=0.5e-4)


def test_lift_slope() -> None:
    slope = 4 * solved().sum() * SPAN / 2 / STRIPS / (SPAN * CHORD)
    assert_allclose(slope, 3.4442, rtol=0, atol=1e-4)
    assert_allclose(slope / np.pi, 1.096, rtol=0, atol=0.5e-3)
