"""What performance is on each day of the file: its height, its warmth, and the mass and balance flown at.

`flight.day.NAME.*`: stall, level speeds and fuel by engine speed, top speed, economical speeds, range, endurance,
climb, take-off and landing. Everything is worked out anew in that air and at that mass. Speeds of the stall are
calibrated, all others true. The propeller's sections keep the Reynolds numbers of sea level (flight/heights.py).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from sparwright.air.atmosphere import Air, atmosphere
from sparwright.base.check import Result, Step
from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.family.days import Day
from sparwright.flight.cruise_told import cruise, told_cruise
from sparwright.flight.fast import level_results
from sparwright.flight.field_told import At, brought, on_field, three_points
from sparwright.flight.propeller_told import blade_words
from sparwright.flight.published import NOTE, as_seen
from sparwright.flight.slow import told
from sparwright.flight.stall import Stall, stall
from sparwright.flight.trim import Cg, trimmed
from sparwright.flight.work import Flown, Performance, performance, place

METHOD = "anderson-flight ch. 6 in that day's air (flight/days_told.py)"


@dataclass(frozen=True)
class DayFlown:
    """The aeroplane on one day."""

    day: Day
    air: Air
    stall: Stall  # true speeds
    performance: Performance
    mass: float = number("kg", "mass")

    @property
    def calibrated(self) -> Band:
        """Stalling speed, calibrated, m/s."""
        k = math.sqrt(self.air.density / atmosphere(0.0).density)
        s = self.stall.speed
        return Band(k * s.value, k * s.low, k * s.high)


def on_day(flown: Flown, day: Day) -> DayFlown:
    """The aeroplane worked out anew in a day's air, at its mass and balance; the stall at the forward limit without."""
    air, mass = atmosphere(day.altitude, day.warmer), day.mass or flown.model.limits.max_mass
    slow = place(flown.cases["max_mass"].loading) if day.balance is None else balance(flown, day)
    stalled = stall(trimmed(flown.plane, slow, mass, air))
    p = performance(flown.model, flown.plane, balance(flown, day), stalled, air, flown.moved, mass)
    return DayFlown(day, air, stalled, p, mass)


def balance(flown: Flown, day: Day) -> Cg:
    """Station and waterline flown at; the waterline is the heaviest loading's."""
    heavy = place(flown.cases["heaviest"].loading)
    if day.balance is None:
        return heavy
    return flown.plane.chord_station + day.balance * flown.plane.chord, heavy[1]


def day_results(flown: Flown, by_id: Mapping[str, Result]) -> Iterator[Result]:
    """All days of the file; by_id: the results of `flight.ground.*`."""
    for day in flown.model.days:
        yield from _day(flown, on_day(flown, day), by_id)


def words(found: DayFlown) -> str:
    """A day in words."""
    warm = found.air.temperature - 273.15
    return f"{found.day.altitude:.0f} m pressure altitude, {warm:.0f} deg C, {found.mass:.0f} kg, no wind"


def _day(flown: Flown, found: DayFlown, by_id: Mapping[str, Result]) -> Iterator[Result]:
    id, said, p = f"flight.day.{found.day.name}", words(found), found.performance
    where = "at the forward limit of the balance" if found.day.balance is None else "at the day's balance"
    note = found.stall.reason or "; ".join(x for x in (where, found.stall.note) if x)
    given = (("V true", found.stall.speed.value, "m/s"), ("rho", found.air.density, "kg/m3"))
    step = Step("calibrated", "V sqrt(rho/rho0)", given, found.calibrated.value, "m/s", "definition")
    yield told(found.calibrated, f"{id}.stall", f"stalling speed, calibrated, power off, {said}", "m/s", METHOD, note,
               (step,))  # fmt: skip
    yield from level_results(flown, p, id, said)
    yield from told_cruise(flown, p, cruise(flown, p, found.air), id, said)
    climb = f"{blade_words(flown)}; {NOTE}"
    yield told(as_seen(p.climb.value, "climb"), f"{id}.climb.rate", f"best rate of climb, {said}", "m/s", METHOD,
               p.climb.reason or climb)  # fmt: skip
    yield told(p.climb.speed, f"{id}.climb.speed", f"true speed of the best climb, {said}", "m/s", METHOD,
               p.climb.reason or climb)  # fmt: skip
    yield from field_on(flown, found, by_id)


def field_on(flown: Flown, found: DayFlown, by_id: Mapping[str, Result]) -> Iterator[Result]:
    """Take-off and landing on a day; by_id: the results of `flight.ground.*`."""
    p = found.performance
    here = At(found.air, f"flight.day.{found.day.name}", words(found), blade_words(flown))
    f = replace(brought(flown, by_id), mass=found.mass, density=found.air.density,
                drag=lambda v: np.interp(v, p.drag.speed, p.drag.total[0]))  # fmt: skip
    three, k = three_points(by_id), math.sqrt(found.mass / flown.model.limits.max_mass)
    slowest = Band(k * three.value, k * three.low, k * three.high)
    yield from on_field(flown, found.calibrated, slowest, f, here)
