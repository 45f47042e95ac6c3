"""The nose of a rib that a cell's flow goes round, against a worked example in print.

Source: T. H. G. Megson, Introduction to Aircraft Structural Analysis, 2010, section 23.3, example 23.2 (megson, read):
a flow of 7.0 N/mm round a nose of 50 000 mm2 that is 300 mm deep where it is cut gives a shear of 2100 N there and a
push in each flange of 2333.3 N; behind the cut another 95 000 mm2 lie ahead of the spar.
Tolerance: printed to five digits; our places are strips, so a thousandth.
"""

from __future__ import annotations

import numpy as np
import pytest

from sparwright.margins.rib_torque import handed_over

FLOW, AHEAD, BEHIND, DEEP = 7.0e3, 0.050, 0.095, 0.300  # N/m, m2, m2, m
CUT = 2 * AHEAD / DEEP  # m: a nose like a wedge; the areas alone count
SPAR = CUT + BEHIND / DEEP


def test_shear_and_flange_loads_of_the_nose() -> None:
    x = (np.arange(20000) + 0.5) * SPAR / 20000
    V, M = handed_over(x, np.minimum(DEEP, DEEP * x / CUT), SPAR)
    torque = 2 * FLOW * (AHEAD + BEHIND)
    k = int(np.searchsorted(x, CUT))
    assert torque * V[k] == pytest.approx(2100.0, rel=1e-3)
    assert torque * M[k] / DEEP == pytest.approx(2333.3, rel=1e-3)
    assert torque * M[-1] == pytest.approx(torque, rel=1e-3)  # all of it at the spar
