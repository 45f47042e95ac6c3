"""Pictures of level flight: power wanted and given over speed; speed, throttle and fuel over engine speed.

Everything is that of the greatest take-off mass at sea level on the standard day, or of the air the model was worked
out in. Power is that of the thrust, force times speed: what the propeller loses is not in it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.source import Band
from sparwright.charts.chart import Axis, Chart, Curve, Limit, Note, plot
from sparwright.charts.page import CHARTING, Heading, Picture, page
from sparwright.charts.panels import WIDTH as WIDE
from sparwright.charts.ticks import enough, figure, ticks
from sparwright.charts.units import Unit, Units
from sparwright.flight.cruise_told import cruise
from sparwright.flight.work import Flown
from sparwright.plans.drawing import Box
from sparwright.power.engine import fastest, fuel_flow, full_throttle, greatest_speed, top_speed
from sparwright.power.matching import full_pull, full_thrust

WIDTH, TALL = 170.0, 112.0  # mm of the picture of power
MAP, SMALL = 140.0, 64.0  # mm: height of the chart of speed and fuel, width of those beside it
PAST = 1.08  # of the greatest level speed: as far as is shown
FUELS = 4  # lines of equal fuel flow, one less than a chart takes
ECONOMICAL = {"time": "lasts longest", "range": "goes farthest", "haste": "between haste and thrift"}
NO_CURVE = "the engine has no power curve"


def shown(value: float, unit: Unit) -> str:
    """A value with its unit, three figures.

    >>> shown(25.0, Unit("kt", 1.9438))
    '48.6 kt'
    """
    there = value * unit.factor
    return f"{figure(there, enough(there))} {unit.name}"


def state_of(flown: Flown, units: Units) -> str:
    """What the performance is told for, in words."""
    return f"Greatest take-off mass, {shown(flown.performance.mass, units.mass)}, sea level, standard day, no wind"


def power_picture(flown: Flown, heading: Heading, units: Units) -> Picture:
    """Power wanted and given over speed, with the speeds that a pilot chooses by it."""
    chart = power_chart(flown, units)
    box = Box(CHARTING.margin, 0.0, WIDTH - CHARTING.margin, TALL)
    return page(heading, WIDTH, plot(chart, box), 0.0, TALL, _power_told(chart))


def power_chart(flown: Flown, units: Units) -> Chart:
    """Power of the drag, and of the thrust at full throttle, over true speed."""
    head, x = "Power of thrust and drag", Axis("True speed", units.speed.name)
    y = Axis("Force times speed", units.power.name, low=0.0)
    p = flown.performance
    if not p.moved.maps:
        return Chart(head, x, y, unknown=NO_CURVE)
    fast = PAST * p.top.speed.value if math.isfinite(p.top.speed.value) else math.inf
    V = p.drag.speed[p.drag.speed <= fast]
    wanted = units.power.of(V * p.drag.total[:, : V.size])
    given = units.power.of(np.array([V * full_thrust(p.moved.engine, m, V, flown.air) for m in p.moved.maps]))
    across = units.speed.of(V)
    least, most = given.min(axis=0), given.max(axis=0)
    curves = [
        Curve("wanted in level flight", across, *wanted),
        Curve("given at full throttle", across, given[0], least, most, dash="dash"),
    ]
    if math.isfinite(p.climb.speed.value):
        at = float(units.speed.of(np.array(p.climb.speed.value)))
        ends = [float(np.interp(at, across, c.y)) for c in curves]
        said = f"best climb, {shown(p.climb.speed.value, units.speed)}"
        curves.append(Curve(said, np.full(2, at), np.array(ends), dash="dots"))
    return Chart(head, x, y, tuple(curves), notes=tuple(_speeds(flown, curves, units)))


def _speeds(flown: Flown, curves: list[Curve], units: Units) -> Iterator[Note]:
    """Economical and greatest level speeds on the power wanted."""
    p, wanted = flown.performance, curves[0]
    best = cruise(flown, p, flown.air).best
    named = [("fastest level flight", p.top.speed.value), *((said, best[k].speed) for k, said in ECONOMICAL.items())]
    for said, speed in named:
        if math.isfinite(speed):
            at = float(units.speed.of(np.array(speed)))
            yield Note(f"{said}, {shown(speed, units.speed)}", at, float(np.interp(at, wanted.x, wanted.y)))


def _power_told(chart: Chart) -> str:
    if chart.unknown:
        return f"Power over speed: unknown, {chart.unknown}."
    marked = [*(c.name for c in chart.curves[2:]), *(n.text for n in chart.notes)]
    return f"Power wanted and given over true speed. Marked: {'; '.join(marked)}."


# ------------------------------------------------------------------ engine speed, speed, throttle and fuel


def level_picture(flown: Flown, heading: Heading, units: Units) -> Picture:
    """Speed over engine speed with lines of equal fuel flow; throttle and fuel of level flight beside it."""
    c = CHARTING
    left = Box(c.margin, -MAP, WIDE - c.margin - SMALL - c.between, 0.0)
    right, half = WIDE - c.margin - SMALL, (MAP - c.between) / 2
    strokes = (
        *plot(map_chart(flown, units), left),
        *plot(throttle_chart(flown), Box(right, -half, WIDE - c.margin, 0.0)),
        *plot(fuel_chart(flown, units), Box(right, -MAP, WIDE - c.margin, -MAP + half)),
    )
    return page(heading, WIDE, strokes, -MAP, 0.0, " ".join(_level_told(flown, units)))


def _rpm(flown: Flown) -> Axis:
    return Axis("Engine speed", "rpm", high=1.02 * fastest(flown.model.engine) * 60)


def level_rows(flown: Flown) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """(n,) engine speed rpm; (3, n) speed m/s, throttle, fuel kg/s of level flight: value, low, high.

    Those of the round engine speeds that are told, and the greatest level speed last where it is at full throttle.
    """
    rows = [r for r in flown.performance.rows if math.isfinite(r.speed.value)]
    found = [(r.crank, r.speed, r.throttle, r.fuel) for r in rows]
    top, engine = flown.performance.top, flown.model.engine
    if top.pull is not None and all(top.pull.turning * engine.gear > r.crank for r in rows):
        crank = top.pull.turning * engine.gear
        full = full_throttle(engine, crank, flown.air)
        part = Band(top.pull.power / full, math.nan, math.nan)
        fuel = fuel_flow(engine, crank, min(top.pull.power, full), flown.air)
        found.append((crank, Band(top.speed.value, math.nan, math.nan), part, Band(fuel.value, math.nan, math.nan)))
    if not found:
        return np.zeros(0), *(np.zeros((3, 0)),) * 3
    cranks, *bands = zip(*found, strict=True)
    each = [np.array([[b.value, b.low, b.high] for b in band]).T for band in bands]
    return 60 * np.array(cranks), each[0], each[1], each[2]


def map_chart(flown: Flown, units: Units) -> Chart:
    """Level speed over engine speed, lines of equal fuel flow, full throttle, the engine's greatest speed."""
    head, y = "Level speed, and what any pair of speeds burns", Axis("True speed", units.speed.name)
    rpm, speed, _, fuel = level_rows(flown)
    found = flown.surface
    if found is None or not rpm.size:
        why = NO_CURVE if found is None else "no level flight is known at any engine speed"
        return Chart(head, Axis("Engine speed", "rpm"), y, unknown=why)
    low, high = 0.9 * flown.performance.slowest, PAST * float(speed[0].max())
    speeds = np.linspace(low, high, 61)
    curves = [Curve("level flight", rpm, *units.speed.of(speed))]
    for each in _round_fuels(units.fuel.of(fuel[0])):
        line = _fuel_line(flown, each / units.fuel.factor, speeds, units)
        curves.append(Curve(f"{figure(each, enough(each, 2))} {units.fuel.name}", *line, dash="dash", weight="thin"))
    limits = tuple(_limits(flown, speeds, units))
    return Chart(head, _rpm(flown), y, tuple(curves), limits=limits)


def _round_fuels(fuel: np.ndarray) -> tuple[float, ...]:
    """Round fuel flows between the least and the greatest of level flight, four at most."""
    known = fuel[np.isfinite(fuel)]
    if not known.size:
        return ()
    for most in (6, 5, 4, 3, 2):
        found = [t for t in ticks(float(known.min()), float(known.max()), most) if known.min() <= t <= known.max()]
        if len(found) <= FUELS:
            return tuple(found)
    return tuple(found[:FUELS])


def _fuel_line(flown: Flown, fuel: float, speeds: np.ndarray, units: Units) -> tuple[np.ndarray, np.ndarray]:
    """(engine speed rpm, speed in its unit) at which a fuel flow, kg/s, is burnt; NaN where it cannot be.

    Of a line that breaks where it runs along full throttle the longest stretch is kept, the rest would be specks.
    """
    assert flown.surface is not None
    s, each = flown.surface, list[float]()
    for row in s.fuel[0].T:  # one flight speed
        known = np.flatnonzero(np.isfinite(row))
        rises = known.size > 1 and bool(np.all(np.diff(row[known]) > 0))
        each.append(float(np.interp(fuel, row[known], s.crank[known], math.nan, math.nan)) if rises else math.nan)
    return longest(60 * np.interp(speeds, s.speed, np.array(each))), units.speed.of(speeds)


def longest(values: np.ndarray) -> np.ndarray:
    """The same with only its longest unbroken stretch of known values; NaN elsewhere.

    >>> longest(np.array([1.0, np.nan, 2.0, 3.0, np.nan]))
    array([nan, nan,  2.,  3., nan])
    """
    known = np.isfinite(values)
    stretch = np.cumsum(np.diff(known, prepend=False)) * known  # odd numbers, one for each stretch
    if not known.any():
        return values
    counts = np.bincount(stretch[known])
    return np.asarray(np.where(stretch == counts.argmax(), values, np.nan))


def _limits(flown: Flown, speeds: np.ndarray, units: Units) -> Iterator[Limit]:
    """Full throttle, where the propeller holds the engine; the greatest engine speed, upright."""
    engine, chart = flown.model.engine, flown.moved.maps[0]
    pulls = [full_pull(engine, chart, float(v), flown.air) for v in speeds]
    held = np.array([p.turning * engine.gear * 60 if p.held_by == "throttle" else math.nan for p in pulls])
    if np.any(np.isfinite(held)):
        yield Limit("full throttle", held, units.speed.of(speeds), "below")
    most = np.full(2, fastest(engine) * 60)
    ends = units.speed.of(speeds[[0, -1]])
    said = "greatest engine speed" if greatest_speed(engine) <= top_speed(engine) else "end of the engine's curve"
    yield Limit(said, most, ends, "above")


def throttle_chart(flown: Flown) -> Chart:
    """Part of full throttle of level flight over engine speed."""
    rpm, _, throttle, _ = level_rows(flown)
    y = Axis("Power over that of full throttle at that engine speed", low=0.0)
    if not rpm.size:
        return Chart("Throttle", Axis("Engine speed", "rpm"), y, unknown=NO_CURVE)
    limit = Limit("full throttle", rpm[[0, -1]], np.ones(2), "above")
    return Chart("Throttle", _rpm(flown), y, (Curve("level flight", rpm, *throttle),), limits=(limit,))


def fuel_chart(flown: Flown, units: Units) -> Chart:
    """Fuel flow of level flight over engine speed."""
    rpm, _, _, fuel = level_rows(flown)
    y = Axis("Fuel flow", units.fuel.name, low=0.0)
    why = "" if np.any(np.isfinite(fuel[0])) else "the fuel flow is not known at any level speed"
    return Chart("Fuel", _rpm(flown) if rpm.size else Axis("Engine speed", "rpm"), y,
                 (Curve("level flight", rpm, *units.fuel.of(fuel)),), unknown=why)  # fmt: skip


def _level_told(flown: Flown, units: Units) -> Iterator[str]:
    rpm, speed, throttle, fuel = level_rows(flown)
    if not rpm.size:
        yield f"Level flight over engine speed: unknown, {NO_CURVE}."
    for i, n in enumerate(rpm):
        yield (f"{figure(n, 0)} rpm: {shown(speed[0, i], units.speed)}, {figure(100 * throttle[0, i], 0)} % of full "
               f"throttle, {shown(fuel[0, i], units.fuel)}.")  # fmt: skip
