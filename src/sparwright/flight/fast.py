"""Engine, speeds, range and drag told as results with their working."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import EFFECTIVE, turned_in_truth
from sparwright.flight.performance import Row
from sparwright.flight.published import NOTE, as_seen, low_end
from sparwright.flight.slow import told
from sparwright.flight.work import Flown
from sparwright.power.matching import Pull

PROPELLER = (
    "propeller known only by diameter and pitch: a standard blade is assumed, its angle give or take 1 deg; "
    "slipstream on wing and tail, cooling drag and propeller-body interference are not in it"
)
ELEVATOR = "section flow of a turned flap (flight/drag.py); none to twice as much: common practice, no source"
UNTRIMMED = "untrimmed: no lift on the tail, the moment left to itself; a lifting tail can bring it below nought"
PART = "part throttle burns more per power than full throttle; the engine's file gives full throttle only"
METHOD = "glauert-1935 (blade elements); anderson-flight ch. 6"


def standing_results(flown: Flown) -> Iterator[Result]:
    """Thrust and engine speed, standing, full throttle."""
    pull, step = flown.performance.standing, _pull_step(flown, flown.performance.standing)
    note = pull.reason or f"two measured small propellers stood 14 and 21 % above this method; {PROPELLER}"
    yield told(
        Band(pull.thrust, 0.9 * pull.thrust, 1.25 * pull.thrust),
        "power.static.thrust",
        "thrust standing still, full throttle",
        "N",
        METHOD,
        note,
        step,
    )
    crank = pull.turning * flown.model.engine.gear
    yield told(
        Band.relative(crank, 0.07),
        "power.static.rpm",
        "engine speed standing still, full throttle",
        "rev/s",
        METHOD,
        pull.reason or PROPELLER,
        step,
    )


def speed_results(flown: Flown) -> Iterator[Result]:
    """Level speed and fuel at round engine speeds, top speed, climb."""
    for row in flown.performance.rows:
        yield from _row_results(flown, row)
    top, climb = flown.performance.top, flown.performance.climb
    yield told(
        as_seen(top.speed, "top"),
        "flight.speed.max",
        "fastest level flight, greatest take-off mass",
        "m/s",
        METHOD,
        f"{_held(top.pull)}; {NOTE}" if top.pull else top.reason,
        (*_pull_step(flown, top.pull), *low_end(top.speed, "top")),
        ("flight.drag.total",),
    )
    yield told(
        as_seen(climb.value, "climb"),
        "flight.climb.rate",
        "best rate of climb, greatest take-off mass",
        "m/s",
        METHOD,
        climb.reason or f"{PROPELLER}; {NOTE}",
        (*_pull_step(flown, climb.pull), *_climb_step(flown), *low_end(climb.value, "climb")),
    )
    yield told(climb.speed, "flight.climb.speed", "speed of the best rate of climb", "m/s", METHOD, climb.reason)


def _row_results(flown: Flown, row: Row) -> Iterator[Result]:
    rpm = f"{row.crank * 60:.0f}"
    engine = flown.model.engine
    n = row.crank / engine.gear
    solved = Step(
        "level flight",
        "T(V, n) = D(V), the fastest V",
        (("n", n, "rev/s"), ("throttle", row.throttle.value, "1")),
        row.speed.value,
        "m/s",
        METHOD,
    )
    flown_at = row.speed if row.speed.known else Band(row.speed.value, math.nan, math.nan)
    yield told(
        flown_at,
        f"flight.speed.at_rpm.{rpm}",
        f"level speed at {rpm} rpm",
        "m/s",
        METHOD,
        row.reason or PROPELLER,
        (solved,),
        ("flight.drag.total",),
    )
    burnt = Step(
        "fuel",
        "m = P b(n)",
        (("P", row.power.value, "W"), ("b", row.fuel.value / row.power.value, "kg/J")),
        row.fuel.value,
        "kg/s",
        f"engine curve ({engine.mark})",
    )
    yield told(
        row.fuel,
        f"flight.fuel.at_rpm.{rpm}",
        f"fuel flow at {rpm} rpm, level flight",
        "kg/s",
        f"engine curve ({engine.mark}); part throttle -5 %, +20 %: common practice, no source",
        row.reason or PART,
        (burnt,),
        (f"flight.speed.at_rpm.{rpm}",),
    )


def _held(pull: Pull | None) -> str:
    if pull is None:
        return ""
    how = "at full throttle" if pull.held_by == "throttle" else "throttled to the highest engine speed of the curve"
    return f"{how}; {PROPELLER}"


def _pull_step(flown: Flown, pull: Pull | None) -> tuple[Step, ...]:
    if pull is None or pull.point is None:
        return ()
    D, p = flown.model.propeller.diameter, pull.point
    rest = (("rho", flown.air.density, "kg/m3"), ("n", pull.turning, "rev/s"), ("D", D, "m"))
    return (
        Step(
            "power the propeller takes",
            "P = CP rho n^3 D^5",
            (("CP", p.power_coefficient, "1"), *rest),
            p.power,
            "W",
            METHOD,
        ),
        Step(
            "thrust of the propeller",
            "T = CT rho n^2 D^4",
            (("CT", p.thrust_coefficient, "1"), *rest),
            p.thrust,
            "N",
            METHOD,
        ),
    )


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
    return (Step("rate of climb", "RC = (T - D) V/(m g)", given, best.value.value, "m/s", "anderson-flight ch. 6"),)


def range_results(flown: Flown) -> Iterator[Result]:
    """How far and how long the fuel lasts at the engine speed that goes farthest, without wind or reserve."""
    rows = [r for r in flown.performance.rows if r.fuel.known and r.speed.known]
    fuel = sum(load.most - load.least for load in flown.model.loads if load.kind == "fuel")
    if not rows or not fuel > 0:
        why = "no engine speed with known fuel flow in level flight" if not rows else "no fuel in the file"
        yield told(UNKNOWN, "flight.range", "range", "m", METHOD, why)
        yield told(UNKNOWN, "flight.endurance", "endurance", "s", METHOD, why)
        return
    row = max(rows, key=lambda r: r.speed.value / r.fuel.value)
    rpm = f"{row.crank * 60:.0f}"
    last = Band(fuel / row.fuel.value, fuel / row.fuel.high, fuel / row.fuel.low)
    way = Band(last.value * row.speed.value, last.low * row.speed.low, last.high * row.speed.high)
    note = "greatest take-off mass all the way, no wind, no reserve, nothing for climb"
    parents = (f"flight.fuel.at_rpm.{rpm}", f"flight.speed.at_rpm.{rpm}")
    time = Step(
        "endurance", "t = m/flow", (("m", fuel, "kg"), ("flow", row.fuel.value, "kg/s")), last.value, "s", "definition"
    )
    far = Step("range", "V t", (("V", row.speed.value, "m/s"), ("t", last.value, "s")), way.value, "m", "definition")
    yield told(way, "flight.range", f"range at {rpm} rpm", "m", METHOD, note, (time, far), parents)
    yield told(last, "flight.endurance", f"endurance at {rpm} rpm", "s", METHOD, note, (time,), parents)


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
            (_drag_step(flown, name, value, q),),
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
    rows = [r for r in flown.performance.rows if math.isfinite(r.speed.value) and math.isfinite(r.throttle.value)]
    if not rows:
        return 1.5 * float(flown.performance.drag.speed[0])
    return min(rows, key=lambda r: abs(r.throttle.value - 0.75)).speed.value


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
