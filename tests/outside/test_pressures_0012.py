"""Pressure along the upper side of the NACA 0012 at 0, 10 and 15 deg, Re 2.88 million.

Source: arc-rm-3726 (table beside; digitised from a photocopy, approximate by its own words, which is why the first 5 %
of the chord, where a digitised place is worth most, is held only by its suction peak).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from section_flow import rows, worked

pytestmark = pytest.mark.long


@pytest.mark.parametrize("degrees", [0, 10, 15])
def test_upper_side(degrees: int) -> None:
    point = worked("0012", 2.88e6).points[degrees + 4]
    assert point.settled
    assert math.isclose(point.alpha, math.radians(degrees), abs_tol=1e-9)
    nose = int(np.argmin(point.x))
    x, pressure = point.x[nose::-1], point.pressure[nose::-1]
    table = [(float(r["x_over_c"]), float(r["Cp_upper"])) for r in rows("arc-rm-3726-pressures.csv")
             if float(r["alpha_deg"]) == degrees]  # fmt: skip
    aft = np.array([(a, p) for a, p in table if a > 0.05])
    missed = np.interp(aft[:, 0], x, pressure) - aft[:, 1]
    assert np.sqrt(np.mean(missed**2)) < 0.065, missed
    np.testing.assert_allclose(pressure.min(), min(p for _, p in table), rtol=0.07, atol=0)
