"""Round 4130 tube: metal area and weight per foot.

Source: area pi (D - t) t; weight at 0.283 lb/in3 (MIL-HDBK-5, steel 4130; memory, high). Values worked for sizes sold,
five printed digits for the area and four for the weight; a stock list prints the same to a hundredth of a pound.
"""

from __future__ import annotations

import pytest
from numpy.testing import assert_allclose

from sparwright.data.loader import material, tubes
from sparwright.family.model import RoundTube
from sparwright.parts.frame import tube_area

IN, LB = 0.0254, 0.45359237
SIZES = [(1.0, 0.035, 0.10611, 0.3603), (0.75, 0.035, 0.07862, 0.2670), (1.25, 0.049, 0.18488, 0.6279)]


@pytest.mark.parametrize(("outside", "wall", "area", "weight"), SIZES)
def test_area_and_weight(outside: float, wall: float, area: float, weight: float) -> None:
    size = next(
        t for t in tubes() if t.stock == "4130" and abs(t.outside / IN - outside) + abs(t.wall / IN - wall) < 1e-9
    )
    found = tube_area(RoundTube(material="4130N", outside=size.outside, wall=size.wall))
    assert_allclose(found / IN**2, area, rtol=0, atol=5e-6)
    assert_allclose(found * material("4130N").density / (LB / (12 * IN)), weight, rtol=5e-4)


def test_every_size_is_a_tube() -> None:
    for t in tubes():
        assert 0 < t.wall < t.outside / 2
