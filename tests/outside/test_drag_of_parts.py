"""Drag of struts, tubes and landing gears against printed examples and tests.

Sources. C. Wieselsberger, NACA TN 84 (1922): the cylinder table, read back at its own points. B. Jones,
Elements of Practical Aerodynamics, ex. 13.1: four round struts 3/4 in by 6 ft drag 46.8 lb at 100 mph, four
streamlined ones 5/8 in wide 2.6 lb; the band must hold them. W. H. Herrnstein, D. Biermann, NACA TR 485
(1934): fixed gears of a 3,000 lb aeroplane, best 13 lb and worst 98 lb at 100 mph; a gear of bare wheels and
round legs must lie between.
"""

from __future__ import annotations

import pytest
from numpy.testing import assert_allclose

from sparwright.air.atmosphere import atmosphere
from sparwright.air.drag import StrutForDrag, cylinder_drag, strut, wheel
from sparwright.base.quantity import parse
from sparwright.family.model import Wheel

SEA = atmosphere(0.0)
SPEED = parse("100 mph", "speed")
Q = SEA.density * SPEED**2 / 2
POUND = parse("1 lbf", "force")


@pytest.mark.parametrize(
    "re, drag", [(5150.0, 0.944), (9180.0, 1.06), (30300.0, 1.16), (161000.0, 1.18), (503000.0, 0.302)]
)
def test_cylinder_table(re: float, drag: float) -> None:
    assert_allclose(cylinder_drag(re), drag, rtol=1e-12, atol=0)


@pytest.mark.parametrize("shape, width, pounds", [("round", "3/4 in", 46.8), ("streamline", "5/8 in", 2.6)])
def test_four_struts(shape: str, width: str, pounds: float) -> None:
    item = StrutForDrag("strut", parse("6 ft", "length"), parse(width, "length"), shape, 4)  # type: ignore[arg-type]
    area = strut(item, SEA, SPEED).area
    half_a_digit = 0.05
    assert area.low * Q / POUND - half_a_digit <= pounds <= area.high * Q / POUND + half_a_digit
    assert area.high < 2.1 * area.low, "the band must say something"


def test_gear_between_best_and_worst() -> None:
    legs = [strut(StrutForDrag(f"leg {i}", 0.8, 0.032, "round", 2), SEA, SPEED) for i in range(2)]
    tyre = Wheel(name="main", diameter=0.55, width=0.15, mass=5, place=(0.5, 0.8, -0.9))
    total = wheel(tyre).area.value + sum(leg.area.value for leg in legs)
    assert 13 * POUND / Q < total < 98 * POUND / Q
