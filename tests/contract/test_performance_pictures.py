"""Pictures of performance: what they draw are the numbers of the results, and nothing lies on a word."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY
from sparwright.base.source import UNKNOWN, Band
from sparwright.charts.chart import Chart, Curve
from sparwright.charts.climb_field import altitudes, climb_of, field_charts, rate_at, rate_chart, time_chart
from sparwright.charts.of_performance import performance_pictures
from sparwright.charts.power_curves import fuel_chart, level_rows, map_chart, power_chart, throttle_chart
from sparwright.charts.roll_trim import elevator_chart, elevator_lines, roll_chart
from sparwright.charts.units import UNITS
from sparwright.family.days import Day
from sparwright.flight.days_told import day_results
from sparwright.flight.heights import SERVICE, Climbs
from sparwright.flight.lateral import lateral
from sparwright.flight.performance import Best, Mover
from sparwright.flight.power_told import CASES, Pulls, pulls
from sparwright.flight.tail_flow import tail_flows
from sparwright.flight.work import Flown
from sparwright.output.shown import unit_of
from sparwright.output.svg import picture_svg
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Text
from sparwright.power.engine import fuel_flow, full_throttle
from sparwright.run import RunResult

Runs = Callable[[str], RunResult]
SLOWLY = pytest.mark.parametrize(
    "model", ["W2", *(pytest.param(name, marks=pytest.mark.long) for name in ("W1", "W3"))]
)
MODELS = pytest.mark.parametrize("model", ["W1", "W2", "W3"])
NONE = Best(UNKNOWN, UNKNOWN, reason="the engine has no power curve")
SI, INCH = UNITS["si"], UNITS["inch"]
NAMES = {"power-over-speed", "level-flight", "climb-over-height", "field-over-height", "roll-over-speed",
         "elevator-over-speed"}  # fmt: skip


def curve(chart: Chart, name: str) -> Curve:
    (found,) = [c for c in chart.curves if c.name.startswith(name)]
    return found


def bare(flown: Flown) -> Flown:
    """The same aeroplane with an engine of which no curve is on file."""
    p = flown.performance
    engine = replace(flown.model.engine, curve=())
    model = replace(flown.model, engine=engine)
    return replace(flown, model=model, performance=replace(p, moved=Mover(engine, ()), rows=(), top=NONE, climb=NONE))


@SLOWLY
@pytest.mark.parametrize("units", ["inch", pytest.param("millimetre", marks=pytest.mark.long)])
def test_no_word_runs_into_anything_and_each_carries_the_caution(ran: Runs, model: str, units: str) -> None:
    drawn = performance_pictures(ran(model).flight, f"Whinchat {model}", units)
    assert set(drawn) == NAMES
    for name, picture in drawn.items():
        assert clashes(picture) == (), name
        assert picture.title.startswith(f"{model}: ") and "unknown" not in picture.words, name
        words = " ".join(s.content for s in picture.strokes if isinstance(s, Text))
        assert "not an approval" in words and "nan" not in words, name
        assert b"<svg" in picture_svg(picture)[:300]


@MODELS
def test_power_left_at_best_climb_lifts_the_weight_and_none_is_left_at_the_fastest(ran: Runs, model: str) -> None:
    run = ran(model)
    chart, flown = power_chart(run.flight.flown, SI), run.flight.flown
    wanted, given, climb = chart.curves
    assert_allclose(climb.x, run.result("flight.climb.speed").value, rtol=1e-12)
    rate = (climb.y[1] - climb.y[0]) / (flown.model.limits.max_mass * GRAVITY)
    assert_allclose(rate, run.result("flight.climb.rate").value, rtol=1e-9)
    top = run.result("flight.speed.max").value
    assert_allclose(np.interp(top, given.x, given.y), np.interp(top, wanted.x, wanted.y), rtol=2e-3)
    at = {n.text.split(",")[0]: n for n in chart.notes}
    for key, words in (("time", "lasts longest"), ("range", "goes farthest"), ("haste", "between haste and thrift")):
        assert_allclose(at[words].x, run.result(f"flight.cruise.{key}.speed").value, rtol=1e-12)
    assert np.all(wanted.low <= wanted.y) and np.all(wanted.y <= wanted.high)
    assert np.all(given.low <= given.y) and np.all(given.y <= given.high)


@MODELS
def test_level_flight_is_that_of_the_results_and_ends_at_full_throttle(ran: Runs, model: str) -> None:
    run = ran(model)
    flown = run.flight.flown
    rpm, speed, throttle, fuel = level_rows(flown)
    for i, n in enumerate(rpm[:-1]):
        for row, what in ((speed, "speed"), (fuel, "fuel")):
            told = run.result(f"flight.{what}.at_rpm.{n:.0f}")
            assert_allclose(row[:, i], [told.value, told.low, told.high], rtol=1e-12)
    assert_allclose(speed[0, -1], run.result("flight.speed.max").value, rtol=1e-12)
    assert_allclose(throttle[0, -1], 1.0, rtol=1e-3)
    (held,) = [m for m in map_chart(flown, SI).limits if m.name == "full throttle"]
    known = np.isfinite(held.x)
    assert_allclose(np.interp(speed[0, -1], held.y[known], held.x[known]), rpm[-1], rtol=2e-3)
    assert_allclose(curve(throttle_chart(flown), "level flight").y, throttle[0])
    assert_allclose(curve(fuel_chart(flown, INCH), "level flight").y * 0.45359237 / 3600, fuel[0], rtol=1e-9)


@MODELS
def test_a_line_of_equal_fuel_burns_that_much_all_along(ran: Runs, model: str) -> None:
    """By the propeller's map and the engine's curve one point at a time; 2 % for the steps of the surface between."""
    flown = ran(model).flight.flown
    lines = [c for c in map_chart(flown, UNITS["millimetre"]).curves if c.name.endswith("kg/h")]
    assert lines
    for line in lines:
        asked, engine = float(line.name.split()[0]) / 3600, flown.model.engine
        known = np.flatnonzero(np.isfinite(line.x))
        for i in known[:: max(len(known) // 5, 1)]:
            crank, V = line.x[i] / 60, line.y[i] / 3.6
            power = flown.moved.maps[0].at(V, crank / engine.gear, flown.air).power
            assert power <= 1.02 * full_throttle(engine, crank, flown.air)
            assert_allclose(fuel_flow(engine, crank, power, flown.air).value, asked, rtol=0.02)


@MODELS
def test_climb_meets_the_ceilings_and_the_time_of_the_results(ran: Runs, model: str) -> None:
    run = ran(model)
    found = climb_of(run.flight.flown)
    chart = rate_chart(found, SI)
    line = curve(chart, "likely")
    for h in (1500, 3000):
        told = run.result(f"flight.climb.rate.{h}")
        at = [float(np.interp(h, line.x, y)) for y in (line.y, line.low, line.high)]
        drawn = [max(x, 0.0) for x in (told.value, told.low, told.high)]  # what sinks is drawn at nought
        assert_allclose(at, drawn, rtol=1e-9)
    marks = {n.text.split(",")[0]: n for n in chart.notes}
    for key, left in (("service", SERVICE), ("absolute", 0.0)):
        assert_allclose(marks[f"{key} ceiling"].x, run.result(f"flight.ceiling.{key}").value, rtol=1e-12)
        assert_allclose(np.interp(marks[f"{key} ceiling"].x, line.x, line.y), left, atol=1e-9)
    minutes = curve(time_chart(found, SI), "likely")
    assert_allclose(np.interp(1000.0, minutes.x, minutes.y) * 60, run.result("flight.climb.time").value, rtol=2e-3)


def test_rates_are_not_carried_on_past_what_is_known() -> None:
    found = Climbs((0.0, 1000.0), (Band(4.0, 4.0, 4.0), Band(3.5, 3.5, 3.5)), (20.0, 20.0))
    rates = rate_at(found, np.array([500.0, 1000.0, 2000.0, 2600.0]))
    assert_allclose(rates[:3], [3.75, 3.5, 3.0], rtol=1e-12)
    assert math.isnan(rates[3])


@SLOWLY
def test_the_field_is_worked_out_as_a_day_of_the_file_is(ran: Runs, model: str) -> None:
    run = ran(model)
    flown, by_id = run.flight.flown, {r.id: r for r in run.flight.results}
    charts = field_charts(flown, by_id, SI)
    assert [c.head.split(" over")[0] for c in charts] == ["Take-off", "Take-off", "Landing", "Landing"]
    day = Day(name="there", altitude=altitudes(SI)[1], warmer=20.0)
    there = replace(flown, model=replace(flown.model, days=(day,)))
    told = {r.id: r for r in day_results(there, by_id)}
    ways = [f"{what}.over.{ground}" for what in ("takeoff", "landing") for ground in ("hard", "grass")]
    for chart, what in zip(charts, ways, strict=True):
        cold, cold_plan, warm, warm_plan = (c.y for c in chart.curves)
        assert_allclose(warm[1], told[f"flight.day.there.{what}"].value, rtol=1e-12)
        assert_allclose(warm_plan[1], told[f"flight.day.there.{what}"].high, rtol=1e-12)
        assert_allclose(cold[0], run.result(f"flight.{what}").value, rtol=2e-3)
        known = [int(np.isfinite(y).sum()) for y in (cold, warm, cold_plan, warm_plan)]
        assert all(np.isfinite(c.y[:n]).all() for c, n in zip(chart.curves, known, strict=True)), "lost from the top"
        assert min(known) == len(cold) or model == "W1", "which is too heavy to climb out at the highest field"
        few = min(known)
        assert few >= 2 and np.all(np.diff(cold[: known[0]]) > 0), "thinner air takes more way"
        assert np.all(warm[:few] > cold[:few]) and np.all(cold_plan[:few] > cold[:few])
        assert np.all(warm_plan[:few] > warm[:few])


@MODELS
def test_roll_and_elevator_are_those_of_the_results(ran: Runs, model: str) -> None:
    run = ran(model)
    flown = run.flight.flown
    chart = roll_chart(lateral(flown), SI)
    line = curve(chart, "likely")
    assert len(chart.notes) == 4
    for note, key in zip(chart.notes, ("takeoff", "approach", "climb", "cruise"), strict=True):
        told = run.result(f"flight.roll.rate.{key}")
        assert_allclose(note.y, math.degrees(told.value), rtol=1e-9)
        assert_allclose(np.interp(note.x, line.x, line.y), note.y, rtol=5e-3)
    found = pulls(flown, flown.moved, tail_flows(flown))
    for name in CASES:
        speed, on, off = elevator_lines(found, name)
        for key, V in found.speeds[name].items():
            i = int(np.argmin(abs(speed - V)))
            for row, power in ((on, "full"), (off, "off")):
                told = run.result(f"flight.trim.{name}.{power}.{key}")
                assert_allclose(row[:, i], [told.value, told.low, told.high], rtol=1e-9)
        stops = {m.name: float(m.y[0]) for m in elevator_chart(flown, found, name, SI).limits}
        tail = flown.model.tailplane
        assert_allclose([stops["up stop"], stops["down stop"]], np.degrees([-tail.up, tail.down]))


def test_without_a_power_curve_each_says_why(ran: Runs) -> None:
    flown = bare(ran("W2").flight.flown)
    for chart in (power_chart(flown, SI), map_chart(flown, SI), throttle_chart(flown)):
        assert chart.unknown == "the engine has no power curve" and not chart.curves
    assert "fuel flow is not known" in fuel_chart(flown, SI).unknown
    assert rate_chart(climb_of(flown), SI).unknown and time_chart(climb_of(flown), SI).unknown
    none = Pulls({}, {}, "the engine has no power curve")
    assert elevator_chart(flown, none, "foremost", SI).unknown == none.why


def test_an_unknown_stall_leaves_roll_unknown_with_its_reason(ran: Runs) -> None:
    lat = replace(lateral(ran("W2").flight.flown), reason="stalling speed unknown")
    assert roll_chart(lat, SI).unknown == "stalling speed unknown"


def test_units_of_the_pictures_are_those_that_the_results_are_shown_in() -> None:
    wanted: Mapping[str, tuple[str, str]] = {
        "power": ("W", ""), "climb": ("m/s", "flight.climb.rate"), "height": ("m", "flight.ceiling"),
        "fuel": ("kg/s", ""), "speed": ("m/s", ""),
    }  # fmt: skip
    for units in ("inch", "millimetre", "si"):
        for field, (si, id) in wanted.items():
            shown, drawn = unit_of(si, units, id), getattr(UNITS[units], field)
            assert drawn.name == shown.name, (units, field)
            assert_allclose(drawn.factor, shown.factor, rtol=1e-12)
