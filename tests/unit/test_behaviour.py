"""A section out of its polars: what is known, where it ends, and the band of its greatest lift."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.behaviour import GRID, METHOD, behaviour, column, greatest, knots, method, needed
from sparwright.air.polars import ANGLES, KNOTS, Asked, Table, surfaces
from sparwright.family.model import Measured, Section

SECTION = Section(name="s", naca="4412")
ANGLE = np.array(ANGLES)


def table(most: float, lost: tuple[int, ...] = (), drag: float = 0.01) -> Table:
    """Straight up to `most` at 14 degrees and down behind; the angles (deg) in `lost` did not settle."""
    top = math.radians(14.0)
    lift = np.where(ANGLE <= top, most - 5.0 * (top - ANGLE), most - 1.5 * (ANGLE - top))
    lift[np.isin(np.round(np.degrees(ANGLE)), lost)] = np.nan
    flat = np.where(np.isfinite(lift), drag, np.nan)
    return Table(ANGLE, lift, flat, -flat, flat, flat, flat, flat, np.zeros(ANGLE.size), flat)


def polars(values: dict[str, float], knots: tuple[float, ...] = (1e6, 2e6)) -> dict[Asked, Table]:
    found = {}
    for name, most in values.items():
        for i, re in enumerate(knots):
            found[Asked(SECTION, name, re)] = table(most + 0.1 * i, drag=0.01 * (1 + list(values).index(name)))
    return found


THREE = {"smooth": 1.6, "built": 1.5, "rough": 1.4}


def test_the_value_is_the_stated_surface_and_between_reynolds_numbers_it_goes_by_their_logarithm() -> None:
    for name, most in THREE.items():
        b = behaviour(replace(SECTION, surface=name), {replace(a, section=replace(SECTION, surface=name)): t
                                                       for a, t in polars(THREE).items()})  # fmt: skip
        assert_allclose(b.lift_limit(np.array([1e6, math.sqrt(2) * 1e6, 2e6])).value, [most, most + 0.05, most + 0.1],
                        rtol=1e-9)  # fmt: skip
        assert_allclose(b.stall_angle(np.array(1.5e6)), math.radians(14.0), rtol=1e-9)


def test_the_band_adds_method_surface_and_building_as_squares() -> None:
    b = behaviour(SECTION, polars(THREE)).lift_limit(np.array(1e6))
    down, up = method(0.12, 1e6)
    built = 1 - surfaces()["built"].lift_low
    assert_allclose(b.low, 1.5 * (1 - math.sqrt(down**2 + (0.1 / 1.5) ** 2 + built**2)), rtol=1e-12)
    assert_allclose(b.high, 1.5 * (1 + math.sqrt(up**2 + (0.1 / 1.5) ** 2)), rtol=1e-12)


def test_every_thickness_has_its_method() -> None:
    assert METHOD[0][0] == 0 and METHOD[-1][1] == 1
    assert all(a[1] == b[0] for a, b in zip(METHOD, METHOD[1:], strict=False))
    assert method(0.09, 9e5)[0] > method(0.12, 9e5)[0] < method(0.21, 9e5)[0]
    assert method(0.09, 9e5)[0] > method(0.09, 1e6)[0]


def test_drag_spans_the_surfaces() -> None:
    b = behaviour(SECTION, polars(THREE)).drag(np.array(0.1), np.array(1e6))
    assert b.low < 0.01 and 0.0199 < float(b.value) < 0.0201 and b.high > 0.03


def test_nothing_is_held_outside() -> None:
    b = behaviour(SECTION, polars(THREE))
    for re in (0.99e6, 2.01e6):
        assert np.isnan(b.lift(np.array(0.1), np.array(re))[0])
        assert "is known from Reynolds number 1,000,000 to 2,000,000" in b.reason(re)
    for alpha in (-12.2, 26.2):
        assert np.isnan(b.at("drag", np.radians(alpha), np.array(1.5e6)))
    assert b.reason(1.5e6) == ""


def test_slope_is_that_of_the_lift() -> None:
    b, h = behaviour(SECTION, polars(THREE)), 1e-6
    alpha, re = np.linspace(-0.15, 0.33, 97), np.full(97, 1.3e6)
    rise = (b.lift(alpha + h, re)[0] - b.lift(alpha - h, re)[0]) / (2 * h)
    assert_allclose(b.lift(alpha, re)[1], rise, rtol=0, atol=1e-4)


def test_one_angle_that_did_not_settle_is_bridged_and_two_end_the_column() -> None:
    assert np.isfinite(column(table(1.5, lost=(5,)), "lift")[GRID.size * 17 // 32])
    cut = column(table(1.5, lost=(8, 9)), "lift")
    assert np.nanmax(np.degrees(GRID[np.isfinite(cut)])) == pytest.approx(7.0)
    assert np.all(np.isnan(column(table(1.5, lost=tuple(range(-2, 7))), "lift")))


def test_what_is_on_file_is_known_whatever_lies_beside_it() -> None:
    """At a Reynolds number on file the unknown angles of its neighbour do not count, nor those beside an angle."""
    lost = {Asked(SECTION, n, re): table(1.5, lost=(16, 17, 18, 19, 20) if re == 1e6 else ())
            for n in surfaces() for re in (1e6, 2e6)}  # fmt: skip
    b = behaviour(SECTION, lost)
    past = np.radians(18.0)
    assert np.isfinite(b.at("lift", past, np.array(2e6))) and np.isnan(b.at("lift", past, np.array(1.9e6)))
    assert np.isfinite(b.at("lift", GRID, np.array(2e6))).all()
    last = np.radians(15.0)
    assert np.isfinite(b.at("lift", last, np.array(1e6))) and np.isnan(b.at("lift", last + 1e-4, np.array(1e6)))


def test_a_greatest_lift_must_be_followed_by_a_fall() -> None:
    assert greatest(table(1.5)) == pytest.approx(1.5)
    assert math.isnan(greatest(table(1.5, lost=(15, 16, 17, 18, 19, 20))))
    b = behaviour(SECTION, {Asked(SECTION, n, 1e6): table(1.5, lost=(15, 16)) for n in surfaces()})
    assert "does not settle up to its greatest lift" in b.reason(1e6)


def test_a_lift_that_rises_again_past_the_stall_is_another_answer() -> None:
    """The section flow can jump to it; it is no greatest lift."""
    t = table(1.5)
    lift = t.lift.copy()
    lift[-2:] = 1.7
    found = column(replace(t, lift=lift), "lift")
    assert np.nanmax(found) == pytest.approx(1.5) and np.degrees(GRID[np.isfinite(found)].max()) == pytest.approx(24.0)
    assert greatest(replace(t, lift=lift)) == pytest.approx(1.5)
    lift[:2] = -3.0  # and so on the other side, where the lift falls on and does not jump
    assert np.degrees(GRID[np.isfinite(column(replace(t, lift=lift), "lift"))].min()) == pytest.approx(-12.0)


def test_the_angle_of_a_lift_is_the_one_below_greatest_lift() -> None:
    b, re = behaviour(SECTION, polars(THREE)), np.array([1e6, 1.7e6])
    for cl in (-0.3, 0.4, 1.3):
        assert_allclose(b.lift(b.angle_of(np.full(2, cl), re), re)[0], cl, rtol=0, atol=1e-9)
    assert np.all(np.isnan(b.angle_of(np.full(2, 1.9), re)))


def test_a_designers_table_goes_before_what_is_computed() -> None:
    angle = np.radians([-6.0, -2.0, 2.0, 6.0, 10.0, 12.0, 14.0])
    lift = (-0.2, 0.2, 0.6, 1.0, 1.3, 1.35, 1.3)
    rows = tuple(Measured(reynolds=re, source=f"run {i}", angle=tuple(angle), lift=lift, give_or_take=0.04)
                 for i, re in enumerate((1e6, 3e6)))  # fmt: skip
    mine = replace(SECTION, surface="smooth", measured=rows)
    b = behaviour(mine, {})
    assert needed([(mine, 1e6, 3e6)]) == ()
    assert "run 0; run 1" in b.source
    limit = b.lift_limit(np.array([1e6, 4.4e6]))
    assert_allclose([limit.low, limit.value, limit.high], np.outer([0.96, 1, 1.04], [1.35, 1.35]), rtol=1e-9)
    assert np.isnan(b.lift_limit(np.array(4.6e6)).value) and np.isnan(b.lift_limit(np.array(0.6e6)).value)
    assert np.isnan(b.drag(np.array(0.1), np.array(1e6)).value)
    level = replace(mine, measured=(replace(rows[0], lift=tuple(sorted(lift))),))
    assert "its table shows no fall after its greatest lift" in behaviour(level, {}).reason(1e6)


def test_the_reynolds_numbers_asked_for_enclose_those_flown() -> None:
    assert knots(1e6, 1.3e6) == tuple(k for k in KNOTS if 8e5 < k < 2e6)
    assert knots(1e3, 6e4)[0] == KNOTS[0] and knots(8e6, 2e7)[-1] == KNOTS[-1]
    asked = needed([(SECTION, 1e6, 1.3e6)])
    assert len(asked) == 3 * len(knots(1e6, 1.3e6)) == len(set(asked))


def test_without_polars_there_is_no_behaviour() -> None:
    with pytest.raises(ValueError, match="no polar"):
        behaviour(SECTION, {})
