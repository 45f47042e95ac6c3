"""Economical speeds, range and endurance told as results.

`flight.cruise.<range, time, haste>.<speed, rpm, fuel>`, `flight.range`, `flight.range.haste`, `flight.endurance`, on
the standard day at sea level and, by days_told.py, on every day of the file.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from sparwright.air.atmosphere import Air
from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step, by_hand
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.cruise import CRUISE
from sparwright.flight.cruise import Economy, Level, Trip, economies, level, start_fuel, trip
from sparwright.flight.drag import build
from sparwright.flight.estimates import range_steps
from sparwright.flight.fast import without_lift
from sparwright.flight.propeller_told import blade_words
from sparwright.flight.slow import told
from sparwright.flight.work import Flown, Performance

METHOD = "glauert-1935 (blade elements); anderson-flight ch. 6 (flight/cruise.py)"
SPEEDS = {"range": "that goes farthest", "time": "that lasts longest", "haste": "between haste and thrift"}
SAFE = 1.2  # of the stalling speed to plan with, below which nobody is told to cruise (common practice, no source)
HELD = f"held to {SAFE} of the stalling speed to plan with; the best lies slower"
EDGE = "at the edge of what is known of the fuel: a better speed may lie beyond"
LEVEL = "level, no wind, constant airspeed; at the start the greatest fuel of the file"


@dataclass(frozen=True)
class Cruise:
    """Level flight at three masses, light to heavy, and what it comes to."""

    flights: tuple[Level, ...]
    best: dict[str, Economy]
    trips: dict[str, Trip]
    why: str = ""


def cruise(flown: Flown, p: Performance, air: Air) -> Cruise:
    """The cruise of a performance; unknown trips with the reason where there is no fuel or its flow is not known."""
    fuel = usable_fuel(flown)
    masses = (p.mass - fuel, p.mass - fuel / 2, p.mass)
    drags = [build(flown.plane, p.line, m, p.drag.speed, air, p.rest) for m in masses[:2]]
    flights = tuple(level(p.moved, d, m, air) for d, m in zip((*drags, p.drag), masses, strict=True))
    best = economies(flights, SAFE * p.slowest)
    start = start_fuel(flown.model.engine, air, CRUISE["start"].value)
    trips = {k: trip(flights, e.speed, fuel, start, reserve(flown)) for k, e in best.items()}
    why = "no fuel in the file" if not fuel > 0 else ""
    if not why and not math.isfinite(best["range"].speed):
        why = "no level flight with a known fuel flow"
    return Cruise(flights, best, trips, why)


def usable_fuel(flown: Flown) -> float:
    """kg, of all fuel loads."""
    return sum(load.most - load.least for load in flown.model.loads if load.kind == "fuel")


def reserve(flown: Flown) -> float:
    """The time kept back, s."""
    own = flown.model.limits.reserve
    return CRUISE["reserve"].value if own is None else own


def cruise_results(flown: Flown) -> Iterator[Result]:
    """Sea level, standard day, greatest take-off mass."""
    found = cruise(flown, flown.performance, flown.air)
    yield from told_cruise(
        flown, flown.performance, found, "flight", "greatest take-off mass at the start, sea level, standard day"
    )


def _hand(flown: Flown, p: Performance, e: Economy) -> tuple[Step, ...]:
    span = flown.plane.company.reference.span
    return range_steps(p.mass * GRAVITY, p.line.air.density, span, without_lift(p), e.speed)


def told_cruise(flown: Flown, p: Performance, found: Cruise, id: str, words: str) -> Iterator[Result]:
    """The same for any day: how ids begin, and what is said of the day."""
    for key, said in SPEEDS.items():
        e = found.best[key]
        known = math.isfinite(e.speed)
        note = "; ".join(x for x in (EDGE if e.edge else HELD if e.held else "", LEVEL, blade_words(flown)) if x)
        note = note if known else found.why or "the fuel flow is not known at any level speed"
        title = f"the level speed {said}, {words}"
        hand = _hand(flown, p, e) if known and key == "range" else ()
        yield told(Band.exact(e.speed), f"{id}.cruise.{key}.speed", f"true speed, {title}", "m/s", METHOD, note, hand)
        yield told(Band.exact(e.crank), f"{id}.cruise.{key}.rpm", f"engine speed, {title}", "rev/s", METHOD, note)
        step = Step("fuel", "f = P b", (("throttle", e.throttle, "1"), ("n", e.crank, "rev/s")), e.fuel.value, "kg/s")
        yield told(e.fuel, f"{id}.cruise.{key}.fuel", f"fuel flow, {title}", "kg/s", METHOD, note, (step,))
    yield _far(flown, found, "range", f"{id}.range", f"range at the level speed {SPEEDS['range']}, {words}")
    yield _far(flown, found, "haste", f"{id}.range.haste", f"range at the level speed {SPEEDS['haste']}, {words}")
    yield _long(flown, found, f"{id}.endurance", f"endurance at the level speed {SPEEDS['time']}, {words}")


def _kept(flown: Flown, t: Trip) -> str:
    spare = f"{t.reserve:.1f} kg for {reserve(flown) / 60:.0f} minutes more"
    return f"{t.start:.1f} kg for start and take-off and {spare} are left out; nothing for climb; {LEVEL}"


def _why(found: Cruise, t: Trip) -> str:
    if found.why:
        return found.why
    short = math.isfinite(t.start + t.reserve) and not math.isfinite(t.burnt)
    return "the fuel does not last for start, take-off and reserve" if short else "the fuel flow is not known there"


def _far(flown: Flown, found: Cruise, key: str, id: str, title: str) -> Result:
    t, e = found.trips[key], found.best[key]
    if not math.isfinite(t.way.value):
        return told(UNKNOWN, id, title, "m", METHOD, _why(found, t))
    steps = (*_time(flown, found, t, e), Step("range", "V t", (("V", e.speed, "m/s"), ("t", t.time.value, "s")),
                                              t.way.value, "m", "definition"), *_breguet(found, t, e))  # fmt: skip
    return told(t.way, id, title, "m", METHOD, _kept(flown, t), steps)


def _long(flown: Flown, found: Cruise, id: str, title: str) -> Result:
    t, e = found.trips["time"], found.best["time"]
    if not math.isfinite(t.time.value):
        return told(UNKNOWN, id, title, "s", METHOD, _why(found, t))
    return told(t.time, id, title, "s", METHOD, _kept(flown, t), _time(flown, found, t, e))


def _time(flown: Flown, found: Cruise, t: Trip, e: Economy) -> tuple[Step, ...]:
    left = (("usable", usable_fuel(flown), "kg"), ("start", t.start, "kg"), ("reserve", t.reserve, "kg"))
    mean = (("m", t.burnt, "kg"), ("flow at the start", e.fuel.value, "kg/s"))
    return (
        Step("fuel for cruise", "usable - start - reserve", left, t.burnt, "kg", "definition"),
        Step("time", "Int dm/f, Simpson's rule over three masses", mean, t.time.value, "s", "anderson-flight ch. 6"),
    )


def _breguet(found: Cruise, t: Trip, e: Economy) -> tuple[Step, ...]:
    """Breguet's closed form with what holds at the start held all the way: a little short, as the drag then falls."""
    heavy = found.flights[-1]
    i = int(abs(heavy.speed - e.speed).argmin())
    power, fuel = float(heavy.power[i]), float(heavy.fuel[0, i])
    drag = float(heavy.drag[i])
    b, eta, start = fuel / power, drag * e.speed / power, heavy.mass - t.start
    LD = heavy.mass * GRAVITY / drag
    way = eta / (b * GRAVITY) * LD * math.log(start / (start - t.burnt))
    given = (("eta", eta, "1"), ("b", b, "kg/J"), ("L/D", LD, "1"), ("m0", start, "kg"), ("m1", start - t.burnt, "kg"))
    return by_hand("eta/(b g) L/D ln(m0/m1)", given, way, t.way.value, "m", "anderson-flight ch. 6 (Breguet)")
