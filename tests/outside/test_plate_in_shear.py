"""Shear buckling of a flat plate, edges simply held: 0.025 in, 6 x 12 in, E 10.5e6 psi, nu 0.33: k 6.34, 1066.7 psi.

Source: Timoshenko and Gere, Theory of Elastic Stability (memory, high), k = 5.34 + 4 (b/a)^2; worked from it,
five digits.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.data.loader import Material
from sparwright.strength.beam_box import shear_buckling

SHEET = Material(key="m", title="m", kind="aluminium", youngs=10.5e6, poisson=0.33)


@pytest.mark.parametrize(("height", "bay"), [(6.0, 12.0), (12.0, 6.0)])
def test_whichever_side_is_longer(height: float, bay: float) -> None:
    assert_allclose(shear_buckling(SHEET, 0.025, height, bay), 1066.7, rtol=0, atol=0.05)


def test_long_plate() -> None:
    """k tends to 5.34."""
    assert_allclose(shear_buckling(SHEET, 0.025, 6.0, 6e4), 1066.7 * 5.34 / 6.34, rtol=1e-4)


def test_unknown_for_plywood() -> None:
    ply = Material(key="m", title="m", kind="plywood", youngs=1e6, poisson=0.3)
    assert np.isnan(shear_buckling(ply, 0.06, 6.0, 12.0))
