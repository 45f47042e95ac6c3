"""Take-off, climb over height and glide: what more weight, less pull and thinner air do; ends that do not exist."""

from __future__ import annotations

import math
from types import MappingProxyType
from typing import Any

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from shelf import shelf

from sparwright.air.atmosphere import atmosphere
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.engine import CurvePoint, Engine, Propeller
from sparwright.flight.drag import Drag
from sparwright.flight.field import Field, take_off
from sparwright.flight.heights import Climbs, climbs, glide, height_of, stopped_area, time_to
from sparwright.flight.performance import Mover, mover
from sparwright.power.propeller import Blade

masses = st.floats(250.0, 500.0)


def field(mass: float, pull: float) -> Field:
    return Field(mass, 1.225, 12.0, 0.4, 0.8, lambda v: pull * (1 - np.asarray(v) / 60), lambda v: 350.0 + 0.0 * v)


@settings(max_examples=40)
@given(masses, st.floats(1000.0, 2000.0), st.floats(1.01, 1.4))
def test_more_weight_less_pull_more_friction_each_take_more_way(mass: float, pull: float, by: float) -> None:
    base = take_off(field(mass, pull), 0.05, 19.0, 22.0, 15.0)
    for worse in (
        take_off(field(mass * by, pull), 0.05, 19.0, 22.0, 15.0),
        take_off(field(mass, pull / by), 0.05, 19.0, 22.0, 15.0),
        take_off(field(mass, pull), 0.05 * by, 19.0, 22.0, 15.0),
    ):
        assert worse.roll > base.roll > 0
        assert worse.whole > base.whole


def test_too_little_pull_is_not_a_number() -> None:
    found = take_off(field(400.0, 150.0), 0.05, 19.0, 22.0, 15.0)
    assert math.isnan(found.roll) and math.isnan(found.whole)
    assert math.isnan(take_off(field(400.0, 400.0), 0.0, 5.0, 22.0, 15.0).air)


@given(st.floats(0.5, 6.0), st.floats(1e-4, 1.2e-3))
def test_straight_climb_has_its_ceiling_where_it_meets_nought(first: float, fall: float) -> None:
    heights = (0.0, 1000.0, 2000.0)
    rates = tuple(first - fall * h for h in heights)
    wanted = first / fall
    found = height_of(0.0, heights, rates)
    if wanted <= 2000.0 + 1500.0:
        assert_allclose(found, wanted, rtol=1e-9)
    else:
        assert math.isnan(found)
    if rates[-1] > 0:
        assert_allclose(time_to(1500.0, heights, rates), math.log(first / (first - fall * 1500)) / fall, rtol=1e-9)
        assert time_to(1500.0, heights, rates) > 1500.0 / first


def test_what_never_comes_is_not_a_number() -> None:
    assert math.isnan(height_of(0.0, (0.0, 1000.0), (1.0, 1.0)))
    assert math.isnan(height_of(0.0, (0.0, 1000.0), (-1.0, -2.0)))
    assert math.isnan(time_to(1500.0, (0.0, 1000.0), (2.0, 1.0)))
    assert math.isnan(time_to(900.0, (0.0, 1000.0), (2.0, -1.0)))


def drag_of(f: float, k: float, mass: float) -> Drag:
    """Drag area f and induced drag k W^2/q."""
    V = np.linspace(12.0, 60.0, 200)
    q = 1.225 * V**2 / 2
    total = q * f + k * (mass * 9.80665) ** 2 / q
    states: Any = None
    return Drag(V, states, MappingProxyType({"all": np.array([total, total * 0.9, total * 1.1])}))


@settings(max_examples=30)
@given(st.floats(0.3, 1.2), st.floats(0.004, 0.02))
def test_the_glide_of_a_parabola(f: float, k: float) -> None:
    """Flattest where the drag area takes as much as lift does: E = 2 sqrt(f k), of the mass not at all."""
    for mass in (300.0, 420.0):
        g = glide(drag_of(f, k, mass), mass, 1.225, Band.exact(0.0), 12.0)
        best = (2 * mass * 9.80665 / 1.225 * math.sqrt(k / f)) ** 0.5
        if 12.5 < best < 59.0:
            assert_allclose(g.ratio.value, 1 / (2 * math.sqrt(f * k)), rtol=2e-3)
            assert abs(g.speed - best) < 0.5
            assert g.slow <= g.speed + 1e-9
            assert g.ratio.low < g.ratio.value < g.ratio.high


def test_a_stopped_propeller_flattens_nothing() -> None:
    d = drag_of(0.6, 0.01, 350.0)
    free, held = (glide(d, 350.0, 1.225, Band.exact(a), 14.0) for a in (0.0, 0.1))
    assert held.ratio.value < free.ratio.value and held.sink.value > free.sink.value
    assert not glide(d, 350.0, 1.225, UNKNOWN, 14.0).ratio.known


def test_stopped_blades_by_hand() -> None:
    """Two blades of 0.1 m chord from 0.1 to 0.8 m, lying flat to the disc: 0.14 m2 of plate."""
    r = np.linspace(0.1, 0.8, 50)
    blade = Blade(r, np.full(50, 0.1), np.zeros(50), 2, 1.6)
    assert_allclose(stopped_area(blade).value, 1.1 * 0.14)
    edge = Blade(r, np.full(50, 0.1), np.full(50, math.pi / 2), 2, 1.6)
    assert_allclose(stopped_area(edge).value, 0.0, atol=1e-12)


def moved() -> Mover:
    """An engine that turns near its greatest power: one held far below gains speed, and power, in thinner air."""
    curve = tuple(CurvePoint(speed=n, power=p, consumption=1e-7) for n, p in ((30.0, 12e3), (45.0, 26e3), (55.0, 33e3)))
    engine = Engine(name="t", strokes=4, cylinders=4, mass=60, mass_band=0.1, place=(0, 0, 0), curve=curve)
    propeller = Propeller(diameter=1.5, pitch=0.7, mass=3.0, place=(0, 0, 0))
    return mover(engine, propeller, atmosphere(0.0), shelf)


def test_climb_falls_with_height_heat_and_weight() -> None:
    m = moved()
    cold, hot = (climbs(m, drag_of(0.45, 0.004, 350.0), 350.0, 17.0, offset) for offset in (0.0, 20.0))
    heavy = climbs(m, drag_of(0.45, 0.004, 400.0), 400.0, 17.0 * math.sqrt(400 / 350))
    values = [r.value for r in cold.rates]
    assert all(a > b for a, b in zip(values[:-1], values[1:], strict=True))
    for other in (hot, heavy):
        assert all(o.value < c.value for o, c in zip(other.rates, cold.rates, strict=True))
    assert cold.speeds[2] > cold.speeds[0]
    assert 0 < cold.steepest.low <= cold.steepest.value <= cold.steepest.high < math.pi / 2
    assert math.sin(cold.steepest.value) * cold.at <= cold.rates[0].value + 1e-9


def test_without_charts_or_stall_all_is_unknown() -> None:
    bare = Mover(moved().engine, ())
    for found in (climbs(bare, drag_of(0.6, 0.01, 350.0), 350.0, 17.0),
                  climbs(moved(), drag_of(0.6, 0.01, 350.0), 350.0, math.nan)):  # fmt: skip
        assert isinstance(found, Climbs) and not any(r.known for r in found.rates)
