"""Engine, speeds, range and drag told as results with their working."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step
from sparwright.base.source import Band
from sparwright.flight.aeroplane import EFFECTIVE, turned_in_truth
from sparwright.flight.estimates import climb_steps, induced_steps, slip_steps, top_steps
from sparwright.flight.performance import Row
from sparwright.flight.propeller_told import METHOD as BLADES
from sparwright.flight.propeller_told import blade_words, pull_steps
from sparwright.flight.published import NOTE, as_seen, low_end
from sparwright.flight.slow import told
from sparwright.flight.work import Flown, Performance
from sparwright.power.engine import part_throttle, part_words
from sparwright.power.matching import Pull

ELEVATOR = "section flow of a turned flap (flight/drag.py); none to twice as much: common practice, no source"
UNTRIMMED = "untrimmed: no lift on the tail, the moment left to itself; a lifting tail can bring it below nought"
METHOD = f"{BLADES}; anderson-flight ch. 6"


def speed_results(flown: Flown) -> Iterator[Result]:
    """Level speed and fuel at round engine speeds, top speed, climb."""
    yield from level_results(flown, flown.performance, "flight", "greatest take-off mass", ("flight.drag.total",))
    climb = flown.performance.climb
    yield told(
        as_seen(climb.value, "climb"),
        "flight.climb.rate",
        "best rate of climb, greatest take-off mass",
        "m/s",
        METHOD,
        climb.reason or f"{blade_words(flown)}; {NOTE}",
        (*pull_steps(flown, climb.pull), *_climb_step(flown), *low_end(climb.value, "climb")),
    )
    yield told(climb.speed, "flight.climb.speed", "speed of the best rate of climb", "m/s", METHOD, climb.reason)


def level_results(flown: Flown, p: Performance, id: str, words: str, parents: tuple[str, ...] = ()) -> Iterator[Result]:
    """Level speed and fuel at round engine speeds and the top speed of a performance; how ids begin, what day it is."""
    for row in p.rows:
        yield from _row_results(flown, row, id, words, parents)
    top = p.top
    note = f"{_held(flown, top.pull)}; {NOTE}" if top.pull else top.reason
    power = top.pull.power if top.pull else math.nan
    hand = top_steps(power, p.line.air.density, without_lift(p), top.speed.value) if top.pull else ()
    steps = (*pull_steps(flown, top.pull), *low_end(top.speed, "top"), *hand)
    title = f"fastest level flight, {words}"
    yield told(as_seen(top.speed, "top"), f"{id}.speed.max", title, "m/s", METHOD, note, steps, parents)


def _row_results(flown: Flown, row: Row, id: str, words: str, parents: tuple[str, ...]) -> Iterator[Result]:
    rpm, engine = f"{row.crank * 60:.0f}", flown.model.engine
    numbers = (("n", row.crank / engine.gear, "rev/s"), ("throttle", row.throttle.value, "1"))
    solved = Step("level flight", "T(V, n) = D(V), the fastest V", numbers, row.speed.value, "m/s", METHOD)
    slip = slip_steps(flown.model.propeller.pitch, row.crank / engine.gear, row.speed.value)
    at = row.speed if row.speed.known else Band(row.speed.value, math.nan, math.nan)
    yield told(at, f"{id}.speed.at_rpm.{rpm}", f"level speed at {rpm} rpm, {words}", "m/s", METHOD,
               row.reason or blade_words(flown), (solved, *slip), parents)  # fmt: skip
    ratio = float(part_throttle(engine, np.array(row.throttle.value))[0])
    given = (
        ("P", row.power.value, "W"),
        ("b0", row.fuel.value / row.power.value / ratio, "kg/J"),
        ("b/b0", ratio, "1"),
    )
    curve, note = f"engine curve ({engine.mark})", row.reason or blade_words(flown)
    burnt = Step("fuel", "m = P b0(n) (b/b0 at the throttle)", given, row.fuel.value, "kg/s", curve)
    yield told(row.fuel, f"{id}.fuel.at_rpm.{rpm}", f"fuel flow at {rpm} rpm, level flight, {words}", "kg/s",
               f"{curve}; {part_words(engine)}", note, (burnt,), (f"{id}.speed.at_rpm.{rpm}",))  # fmt: skip


def _held(flown: Flown, pull: Pull | None) -> str:
    if pull is None:
        return ""
    how = "at full throttle" if pull.held_by == "throttle" else "throttled to the engine's highest speed"
    return f"{how}; {blade_words(flown)}"


def _climb_step(flown: Flown) -> tuple[Step, ...]:
    best, drag, mass = flown.performance.climb, flown.performance.drag, flown.model.limits.max_mass
    if best.pull is None:
        return ()
    V = best.speed.value
    given = (
        ("T", best.pull.thrust, "N"),
        ("D", float(np.interp(V, drag.speed, drag.total[0])), "N"),
        ("V", V, "m/s"),
        ("m", mass, "kg"),
        ("g", GRAVITY, "m/s2"),
    )
    step = Step("rate of climb", "RC = (T - D) V/(m g)", given, best.value.value, "m/s", "anderson-flight ch. 6")
    hand = climb_steps(best.pull.power, mass * GRAVITY, given[1][1], V, best.value.value)
    return (step, *hand)


def without_lift(p: Performance) -> float:
    """Drag area, m2, of all but what lift costs, at the fastest of the speeds."""
    q = p.line.air.density / 2 * float(p.drag.speed[-1]) ** 2
    return float(p.drag.total[0][-1] - p.drag.items["induced"][0][-1]) / q


def drag_results(flown: Flown) -> Iterator[Result]:
    """The build-up at one cruising speed, and what trimming costs there."""
    p, air = flown.performance, flown.air
    V = cruise_speed(flown)
    at = f"at {V:.1f} m/s, greatest take-off mass"
    q = air.density * V**2 / 2
    rest = {item.name: item for item in flown.plane.parasite(V, air)}
    for name, force in {**p.drag.items, "total": p.drag.total}.items():
        value, low, high = (float(np.interp(V, p.drag.speed, f)) for f in force)
        item = rest.get(name)
        parents = tuple(f"flight.drag.{_slug(n)}" for n in p.drag.items) if name == "total" else ()
        yield told(
            Band(value, low, high),
            f"flight.drag.{_slug(name)}",
            f"drag, {_words(name)}, {at}",
            "N",
            str(item.source) if item else _drag_source(flown, name),
            item.note if item else "",
            (_drag_step(flown, name, value, q), *(_induced_hand(flown, value, q) if name == "induced" else ())),
            parents,
        )
    yield _cruise_elevator(flown, V, at)


def _cruise_elevator(flown: Flown, speed: float, at: str) -> Result:
    """The elevator that trims in cruise."""
    drag = flown.performance.drag
    e = float(np.interp(speed, drag.speed, drag.states.elevator))
    band = turned_in_truth(e)
    given = (("e_lattice", e, "rad"), ("f", EFFECTIVE.value, "1"))
    step = Step("elevator", "e = e_lattice/f, e_lattice from CM = 0", given, band.value, "rad", "anderson-flight ch. 7")
    note = "trailing edge down positive, power off"
    return told(band, "flight.elevator.cruise", f"elevator in cruise, {at}", "rad",
                "anderson-flight ch. 7, by the lattice; f common practice, no source", note, (step,))  # fmt: skip


def cruise_speed(flown: Flown) -> float:
    """The level speed nearest to three quarters of full throttle; 1.5 times the slowest when none is known."""
    row = cruise_row(flown)
    return 1.5 * float(flown.performance.drag.speed[0]) if row is None else row.speed.value


def cruise_row(flown: Flown) -> Row | None:
    """Level flight at the round engine speed nearest to three quarters of full throttle; None when none is known."""
    rows = [r for r in flown.performance.rows if math.isfinite(r.speed.value) and math.isfinite(r.throttle.value)]
    return min(rows, key=lambda r: abs(r.throttle.value - 0.75), default=None)


def _induced_hand(flown: Flown, value: float, q: float) -> tuple[Step, ...]:
    span = flown.plane.company.reference.span
    return induced_steps(flown.performance.mass * GRAVITY, q, span, value)


def _slug(name: str) -> str:
    return re.sub(r"[^A-Za-z0-9_]+", "_", name).strip("_")


def _words(name: str) -> str:
    return name.replace("_", " ").replace(".", " ")


def _drag_source(flown: Flown, name: str) -> str:
    if name in flown.plane.strips:
        return flown.plane.strips[name].source
    return {"induced": "naca-tr-121 (far wake)", "total": "sum of the items", "elevator": ELEVATOR}[name]


def _drag_step(flown: Flown, name: str, value: float, q: float) -> Step:
    """The last line of an item's working."""
    plane = flown.plane
    if name == "total":
        V = cruise_speed(flown)
        drag = flown.performance.drag
        given = tuple((_words(n), float(np.interp(V, drag.speed, f[0])), "N") for n, f in drag.items.items())
        return Step("drag", "sum", given, value, "N", "definition")
    if name in plane.strips:
        strips = plane.strips[name]
        wet = 2 * float(np.sum(strips.area[strips.outside]))
        given = (("q", q, "Pa"), ("mean cd", value / q / wet, "1"), ("S outside the fuselage", wet, "m2"))
        return Step("section drag", "D = q mean(cd) S", given, value, "N", strips.source)
    if name == "induced":
        given = (("q", q, "Pa"), ("S", plane.area, "m2"), ("CDi", value / q / plane.area, "1"))
        return Step("induced drag", "D = q S CDi", given, value, "N", "naca-tr-121 (far wake)")
    return Step("drag", "D = q f", (("q", q, "Pa"), ("f", value / q, "m2")), value, "N", "definition of the drag area")
