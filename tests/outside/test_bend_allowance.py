"""Bend allowance of sheet: 90 degrees, inside radius 0.125, thickness 0.040 in: 0.2242 in, setback 0.165 in.

Source: AC 43.13-1B chapter 4, and the Navy's Aviation Structural Mechanic manual (read): (0.01743 R + 0.0078 T) N; the
second prints 0.0173, which gives 0.2227, so the methods agree within 0.7 %.
"""

from __future__ import annotations

from numpy.testing import assert_allclose

from sparwright.family.model import Ribs, Sheet
from sparwright.shape.rib import bend_allowance, flange_reach


def test_allowance() -> None:
    """Four printed digits: 0.22417."""
    assert_allclose(bend_allowance(0.125, 0.040), 0.2242, rtol=0, atol=5e-5)
    assert_allclose(bend_allowance(0.125, 0.040), 0.2227, rtol=0.007)


def test_flat_width_of_a_flange() -> None:
    """Flanges 1 in wide on a web 3 in over the bends: flat 3 + 2 (1) - 2 (2 x 0.165) + 2 x 0.2242 = 4.788."""
    sheet = Sheet(material="6061-T6", thickness=0.040)
    ribs = Ribs(pitch=12.0, sheet=sheet, flange=1.0, bend_radius=0.125)
    assert_allclose(3 + 2 * flange_reach(ribs), 4.788, rtol=0, atol=5e-4)
