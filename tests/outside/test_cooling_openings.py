"""Openings for cooling air against thorp-1963, as quoted: 100 hp about 32.5 sq in at 100 mph, 50 at 65 mph."""

from __future__ import annotations

from numpy.testing import assert_allclose

from sparwright.base.quantity import parse, to
from sparwright.systems.cooling import FLOW, area


def test_the_worked_example() -> None:
    hundred = parse("100 hp", "power")
    for speed, square_inches in (("100 mph", 32.5), ("65 mph", 50.0)):
        found = to(area(hundred, parse(speed, "speed")).value, "in2")
        assert_allclose(found, square_inches, rtol=0.01, atol=0)  # printed round: 32.5 and "more like 50"


def test_twenty_cubic_feet_a_minute() -> None:
    """25 hp a cylinder want 500 cubic feet a minute."""
    assert_allclose(FLOW * parse("25 hp", "power") * 60 / to(1.0, "ft") ** -3, 500.0, rtol=1e-9, atol=0)
