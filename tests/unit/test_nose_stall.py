"""Where a thin nose lets go, and what a section is then known to do."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.behaviour import UNSEEN, Behaviour, behaviour, method
from sparwright.air.flow.polar import Point, Polar
from sparwright.air.nose_stall import FIRST, MOST, THIN, ends, most_difference
from sparwright.air.polars import ANGLES, Asked, Table, columns, surfaces
from sparwright.family.model import Section

ANGLE = np.array(ANGLES)
SLOPE = 60.0  # of the pressure difference by the angle, a radian
NEAR = math.radians(0.051)  # angles are kept to a tenth of a degree
SMOOTH = surfaces()["smooth"].lift_low


def table(fall: bool = True) -> Table:
    """Lift straight to 1.6 at 16 deg, then down (or flat); a pressure difference that rises with the angle."""
    top = math.radians(16.0)
    lift = np.where(ANGLE <= top, 1.6 - 5.0 * (top - ANGLE), 1.6 - (1.5 * (ANGLE - top) if fall else 0.0))
    flat = np.full(ANGLE.size, 0.01)
    return Table(ANGLE, lift, flat, flat, flat, flat, flat, flat, flat, SLOPE * np.abs(ANGLE))


def section(naca: str = "0009", reynolds: tuple[float, ...] = (2e6, 4e6), fall: bool = True) -> Behaviour:
    s = Section(name="s", naca=naca, surface="smooth")
    return behaviour(s, {Asked(s, name, re): table(fall) for name in surfaces() for re in reynolds})


def test_a_nose_holds_what_is_on_file_and_no_more_below_the_first() -> None:
    for million, most in MOST:
        assert_allclose(most_difference(million * 1e6), most, rtol=1e-12)
    assert_allclose(most_difference(math.sqrt(2) * 1e6), (7.0 + 8.7) / 2, rtol=1e-12)
    assert most_difference(FIRST / 20) == most_difference(FIRST)
    with pytest.raises(ValueError, match="up to Reynolds number 20 million"):
        most_difference(20.1e6)


def test_it_lets_go_where_the_difference_is_reached_and_not_past_greatest_lift() -> None:
    t = table()
    at = most_difference(2e6) / SLOPE
    assert_allclose(ends(ANGLE, t.lift, t.peak, 2e6), (-at, at), rtol=1e-12)
    assert_allclose(ends(ANGLE, t.lift, t.peak / 2, 2e6)[1], math.nan)  # 16.6 deg: the lift has fallen before
    lost = t.peak.copy()
    lost[np.isclose(ANGLE, math.radians(5.0))] = math.nan
    assert_allclose(ends(ANGLE, t.lift, lost, 2e6), (-at, math.nan), rtol=1e-12)
    assert np.isnan(ends(ANGLE, np.full(ANGLE.size, np.nan), t.peak, 2e6)).all()


@pytest.mark.parametrize("fall", [True, False])
def test_greatest_lift_is_that_at_the_nose_and_beyond_it_nothing_is_known(fall: bool) -> None:
    """Known though the section flow's lift does not fall after it."""
    b, re = section(fall=fall), np.array(2e6)
    at = most_difference(2e6) / SLOPE
    assert_allclose(b.lift_limit(re).value, 1.6 - 5.0 * (math.radians(16.0) - at), rtol=0, atol=5 * NEAR)
    assert_allclose(b.stall_angle(re), at, rtol=0, atol=NEAR)
    for sign in (1, -1):
        short, past = np.array(sign * (at - 2e-3)), np.array(sign * (at + 2e-3))
        assert np.isfinite(b.lift(short, re)[0]) and np.isfinite(b.drag(short, re).value)
        assert np.isnan(b.lift(past, re)).all() and np.isnan(b.drag(past, re).value)
        assert np.isnan(b.at("moment", past, re)) and np.isfinite(b.lift_at(past, b.place(re))[0])
    assert_allclose(b.angle_of(b.lift_limit(re).value - 0.02, re), at - 0.004, atol=1e-3)
    assert np.isnan(b.angle_of(np.array(1.5), re))
    assert np.isfinite(b.columns["lift"][0]).sum() > b.within(0).sum() > 0


def test_between_two_reynolds_numbers_the_angle_goes_from_one_to_the_other() -> None:
    b = section()
    two, four = (most_difference(re) / SLOPE for re in (2e6, 4e6))
    re = math.sqrt(8.0) * 1e6
    assert_allclose(b.stall_angle(np.array(re)), (two + four) / 2, rtol=0, atol=NEAR)
    assert_allclose(b.ends_at(b.place(np.array(re)))[1], (two + four) / 2, rtol=0, atol=NEAR)


def test_where_the_nose_holds_at_one_of_them_the_sections_own_stall_stands_for_it() -> None:
    s = Section(name="s", naca="0009", surface="smooth")
    high = replace(table(), peak=table().peak / 2)
    found = behaviour(s, {Asked(s, n, re): t for n in surfaces() for re, t in ((2e6, table()), (4e6, high))})
    middle, own = np.array(math.sqrt(8.0) * 1e6), math.radians(16.0)
    assert_allclose(found.ends_at(found.place(middle))[1], (most_difference(2e6) / SLOPE + own) / 2, rtol=0, atol=NEAR)
    assert np.isinf(found.ends_at(found.place(np.array(4e6)))).all()


def test_thick_sections_are_left_to_the_section_flow() -> None:
    thick = section("0012")
    assert np.isnan(thick.nose).all() and not thick.of_the_nose
    assert_allclose(thick.lift_limit(np.array(2e6)).value, 1.6, rtol=1e-9)
    assert THIN == 0.11 and np.isfinite(section("0010").nose).all()


def test_below_a_million_the_band_downwards_is_wide_and_it_is_said() -> None:
    low, high = section(reynolds=(5e5, 8e5)), section()
    for b, re in ((low, 5e5), (high, 2e6)):
        most, down = b.lift_limit(np.array(re)), method(0.09, re)[0]
        assert_allclose(most.low / most.value, 1 - math.sqrt(down**2 + (1 - SMOOTH) ** 2), rtol=1e-9)
    assert method(0.09, 9.9e5) == UNSEEN and method(0.09, 1e6)[0] < UNSEEN[0] == 0.28
    assert "valarezo-chin-1994, memory" in high.source and "28 %" not in high.source
    assert "an upper end, band 28 % down" in low.source


def test_a_nose_holds_more_the_higher_the_reynolds_number() -> None:
    most = [most_difference(re) for re in np.geomspace(1e6, 2e7, 80)]
    assert np.all(np.diff(most) > 0)


def test_a_polars_peak_is_the_tail_less_the_deepest_and_unknown_where_nothing_settled() -> None:
    """The tail is the mean of the first and the last panel."""
    pressure = np.array([0.1, -0.5, -6.0, 1.0, 0.2, 0.3])
    points = tuple(Point(a, 1.0, 0.01, 0.0, settled=a > 0, pressure=pressure) for a in (-0.1, 0.1))
    assert_allclose(columns(Polar(1e6, points=points)).peak, [math.nan, 6.2], rtol=1e-12)
