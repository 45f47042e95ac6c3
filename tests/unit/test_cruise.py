"""Cruise by hand: steady flows, the economical speeds of a polar, the reserve, days of other air and mass."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.atmosphere import atmosphere
from sparwright.base.axes import GRAVITY
from sparwright.family.days import Day
from sparwright.flight.cruise import Level, economies, level, trip
from sparwright.flight.cruise_told import cruise, usable_fuel
from sparwright.flight.days_told import on_day
from sparwright.flight.performance import Mover

MODELS = ("W1", "W2", "W3")
V = np.linspace(10.0, 60.0, 501)


def flat(mass: float, flow: float) -> Level:
    """Burns the same at every speed, a tenth less and more at its ends."""
    one = np.ones(V.size)
    return Level(
        V, 40 * one, 1e4 * one, 0.5 * one, np.array([flow * one, 0.9 * flow * one, 1.1 * flow * one]), one, mass
    )


def test_a_trip_on_a_steady_flow_by_hand() -> None:
    """20 kg, 1 for the start, 1800 s at 0.0011 kept: 17.02 kg at 0.001 kg/s last 17 020 s, at 30 m/s 510.6 km."""
    found = trip([flat(m, 0.001) for m in (300, 310, 320)], 30.0, 20.0, 1.0, 1800.0)
    assert_allclose([found.time.value, found.way.value, found.reserve, found.burnt], [17020, 510600, 1.98, 17.02],
                    rtol=1e-9, atol=0)  # fmt: skip
    assert_allclose([found.time.low, found.time.high], [17020 / 1.1, 17020 / 0.9], rtol=1e-9, atol=0)


def test_a_flow_that_falls_with_the_mass_is_integrated() -> None:
    """Flow m/1e5: time = 1e5 ln(m0/m1)."""
    flights = [flat(m, m / 1e5) for m in (300.0, 310.0, 320.0)]
    found = trip(flights, 30.0, 20.0, 0.0, 0.0)
    assert_allclose(found.time.value, 1e5 * math.log(320 / 300), rtol=1e-6, atol=0)


def test_too_little_fuel_and_unknown_flow_are_no_trip() -> None:
    flights = [flat(m, 0.001) for m in (300, 310, 320)]
    assert not trip(flights, 30.0, 2.5, 1.0, 1800.0).time.known
    assert not trip(flights, 70.0, 20.0, 1.0, 1800.0).time.known


def test_economical_speeds_of_a_parabola() -> None:
    """f goes with D V, D = a V^2 + b/V^2: range at (b/a)^1/4, least power and haste a factor 3^1/4 below and above."""
    a, b = 0.5, 0.5 * 25.0**4
    flow = (a * V**3 + b / V) * 1e-7
    f = replace(flat(350.0, 1.0), fuel=np.array([flow, flow, flow]))
    found = economies([f], 12.0)
    best = {"range": 25.0, "time": 25.0 / 3**0.25, "haste": 25.0 * 3**0.25}
    for key, speed in best.items():
        assert_allclose(found[key].speed, speed, rtol=0, atol=0.1)
        assert not found[key].edge
    assert economies([f], 40.0)["range"].held


@pytest.fixture(params=MODELS)
def flown(ran, request):
    return ran(request.param).flight.flown


def test_level_flight_agrees_with_the_rows_by_engine_speed(flown) -> None:
    p = flown.performance
    found = level(flown.moved, p.drag, p.mass, flown.air)
    seen = 0
    for row in p.rows:
        if row.speed.known and row.throttle.value < 1:
            crank = float(np.interp(row.speed.value, found.speed, found.crank))
            fuel = float(np.interp(row.speed.value, found.speed, found.fuel[0]))
            if not math.isfinite(crank):  # slower than what is told of level flight
                continue
            assert_allclose(crank, row.crank, rtol=2e-3, atol=0)
            assert_allclose(fuel, row.fuel.value, rtol=1e-2, atol=0)
            seen += 1
    assert seen > 2


def test_no_curve_is_unknown(flown) -> None:
    p = flown.performance
    found = level(Mover(flown.model.engine, ()), p.drag, p.mass, flown.air)
    assert np.isnan(found.fuel).all() and not economies([found], 12.0)["range"].fuel.known


def test_results_hold_together(ran) -> None:
    for name in MODELS:
        run = ran(name)
        flown = run.flight.flown
        far, haste = run.result("flight.range"), run.result("flight.range.haste")
        assert far.value > haste.value or math.isnan(haste.value)
        slow, fast = (run.result(f"flight.cruise.{k}.speed").value for k in ("time", "haste"))
        assert slow <= run.result("flight.cruise.range.speed").value <= fast
        assert usable_fuel(flown) > 0 and "30 minutes" in far.caveat
        assert 0.9 < far.steps[-1].value < 1.1  # over Breguet's form


def test_nobody_is_told_to_cruise_or_climb_near_the_stall(flown) -> None:
    p = flown.performance
    best = cruise(flown, p, flown.air).best
    assert all(e.speed >= 1.2 * p.slowest for e in best.values())
    stall = flown.cases["max_mass"].stall.speed.value
    assert p.climb.speed.low >= 1.2 * stall - 1e-9


def test_a_longer_reserve_is_a_shorter_way(flown) -> None:
    longer = replace(flown, model=replace(flown.model, limits=replace(flown.model.limits, reserve=3600.0)))
    mine, theirs = (cruise(x, x.performance, x.air).trips["range"] for x in (flown, longer))
    assert theirs.way.value < mine.way.value
    assert_allclose(theirs.reserve, 2 * mine.reserve, rtol=1e-9, atol=0)


def test_the_standard_day_at_the_greatest_mass_is_the_standard_result(flown) -> None:
    found = on_day(flown, Day(name="same", altitude=0.0))
    assert_allclose(found.performance.top.speed.value, flown.performance.top.speed.value, rtol=1e-4, atol=0)
    assert_allclose(found.performance.climb.value.value, flown.performance.climb.value.value, rtol=0, atol=0.02)


def test_lighter_stalls_slower_and_climbs_better(flown) -> None:
    heavy = on_day(flown, Day(name="heavy", altitude=0.0))
    m = 0.85 * heavy.mass
    light = on_day(flown, Day(name="light", altitude=0.0, mass=m))
    assert_allclose(light.calibrated.value / heavy.calibrated.value, math.sqrt(0.85), rtol=0.02, atol=0)
    assert light.performance.climb.value.value > heavy.performance.climb.value.value
    at = light.performance.drag
    assert_allclose(
        at.states.lift[0], 2 * m * GRAVITY / (1.225 * at.speed[0] ** 2 * flown.plane.area), rtol=1e-4, atol=0
    )


def test_high_and_hot_stalls_at_the_same_calibrated_speed_and_climbs_worse(flown) -> None:
    here, high = (on_day(flown, Day(name="d", altitude=h, warmer=w)) for h, w in ((0.0, 0.0), (1500.0, 15.0)))
    assert_allclose(high.calibrated.value, here.calibrated.value, rtol=0.02, atol=0)
    assert high.stall.speed.value > 1.05 * here.stall.speed.value
    assert high.performance.climb.value.value < here.performance.climb.value.value
    assert high.air.density < atmosphere(1500.0).density


def test_balance_of_a_day_moves_the_elevator(flown) -> None:
    fore, aft = (on_day(flown, Day(name="d", altitude=0.0, balance=h)) for h in (0.20, 0.34))
    e = [float(np.interp(25.0, d.performance.drag.speed, d.performance.drag.states.elevator)) for d in (fore, aft)]
    assert e[0] < e[1]
