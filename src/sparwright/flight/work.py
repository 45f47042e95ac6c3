"""One model worked through the flight room, before it is told in results and checks.

Cases: the four corners of balance (heaviest, lightest, foremost, aftmost) and max_mass, the greatest take-off mass
at the forward limit. Performance is at the greatest take-off mass with the heaviest case's centre of gravity.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.air.drag import StrutForDrag
from sparwright.air.polars import Polars, Told, worked_out
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.model import Model
from sparwright.flight.aeroplane import FASTEST, Aeroplane, aeroplane
from sparwright.flight.drag import Areas, Drag, build, parasite_areas
from sparwright.flight.performance import (
    CLIMBS,
    Best,
    Mover,
    Row,
    at_crank_speed,
    best_climb,
    crank_speeds,
    most_speed,
    mover,
)
from sparwright.flight.stability import neutral_point, volume
from sparwright.flight.stall import Stall, stall
from sparwright.flight.trim import Cg, Line, trimmed, untrimmed
from sparwright.mass.record import Balance, Loading
from sparwright.mass.weigh import extremes
from sparwright.power.matching import Pull, full_pull
from sparwright.power.surface import Surface, surface

LEVEL_CL = 0.6  # at which the neutral point is told
SPEEDS = 61  # looked at, up to FASTEST


@dataclass(frozen=True)
class Case:
    """One loading with its trimmed states and its stall."""

    loading: Loading
    line: Line
    stall: Stall


@dataclass(frozen=True)
class Performance:
    """How fast, how high, how thirsty, at the greatest take-off mass."""

    drag: Drag  # trimmed
    untrimmed: Drag  # the same lift with none on the tail, the moment left to itself
    rows: tuple[Row, ...]
    top: Best
    climb: Best
    standing: Pull
    moved: Mover  # engine and propeller's maps, in the air the model was worked out in
    line: Line  # trimmed about the centre of gravity it is told for
    rest: Areas  # drag areas of all but wings and tail at the drag's speeds
    slowest: float = number("m/s", "slowest speed looked at")
    mass: float = number("kg", "mass it is told for")


@dataclass(frozen=True)
class Flown:
    """Everything worked out, before it is told in results and checks."""

    model: Model
    plane: Aeroplane
    air: Air
    cases: Mapping[str, Case]
    performance: Performance
    neutral_point: Band
    tail_volume: float = number("1", "tail volume, arm from the heaviest case's centre of gravity")

    @property
    def moved(self) -> Mover:
        """Engine and propeller with the propeller's maps."""
        return self.performance.moved

    @cached_property
    def surface(self) -> Surface | None:
        """Thrust, power, throttle and fuel over engine speed and flight speed, the likely map; None without a curve."""
        maps = self.moved.maps
        return surface(self.model.engine, maps[0], self.air) if maps else None


def work_out(model: Model, balance: Balance,
             struts: tuple[StrutForDrag, ...], air: Air, polars: Polars = worked_out,
             told: Told | None = None) -> Flown:  # fmt: skip
    """Stall, trim, drag, level speed against engine speed, climb and stability of a model in `air`.

    What is not on file or out of range is NaN and says why; the page of each part has symbols and sources.
    """
    plane = aeroplane(model, struts, air, polars, told)
    blades = (lambda done, what: told(1.0, what)) if told else None  # the bar does not go back
    moved = mover(model.engine, model.propeller, air, polars, model.sections, blades)
    cases = {name: case(plane, loading, air) for name, loading in loadings(model, balance, plane).items()}
    heavy = extremes(balance)["heaviest"]
    flown = performance(model, plane, place(heavy), cases["max_mass"].stall, air, moved)
    hn = neutral_point(plane, place(heavy), LEVEL_CL, model.limits.max_mass, air)
    return Flown(model, plane, air, MappingProxyType(cases), flown, hn, volume(plane, heavy.station))


def place(loading: Loading) -> Cg:
    """Station and waterline of a loading's centre of gravity."""
    return loading.station, loading.waterline


def loadings(model: Model, balance: Balance, plane: Aeroplane) -> dict[str, Loading]:
    """The corners of balance, and the greatest take-off mass at the forward limit."""
    corners = extremes(balance)
    h = model.limits.forward_cg
    station = plane.chord_station + h * plane.chord
    most = replace(corners["heaviest"], name="greatest take-off mass at the forward limit", mass=model.limits.max_mass,
                   station=station, fraction=h, fraction_low=h, fraction_high=h)  # fmt: skip
    return {**corners, "max_mass": most}


def case(plane: Aeroplane, loading: Loading, air: Air) -> Case:
    """A loading trimmed and stalled."""
    line = trimmed(plane, place(loading), loading.mass, air)
    return Case(loading, line, stall(line))


def performance(model: Model, plane: Aeroplane, cg: Cg, stalled: Stall, air: Air,
                moved: Mover | None = None, mass: float | None = None) -> Performance:  # fmt: skip
    """Drag and what engine and propeller make of it, from the stall (12 m/s where that is unknown) to 75 m/s.

    moved: engine and propeller with its maps; made here without one, the blade's polars worked out. mass: kg, the
    greatest take-off mass where none is given.
    """
    mass, moved = (
        mass or model.limits.max_mass,
        moved or mover(model.engine, model.propeller, air, sections=model.sections),
    )
    slowest = stalled.speed.high if stalled.speed.known else 12.0
    speed = np.linspace(slowest, FASTEST, SPEEDS)
    rest = parasite_areas(plane, speed, air)
    line = trimmed(plane, cg, mass, air)
    drag, free = (build(plane, x, mass, speed, air, rest) for x in (line, untrimmed(plane, mass, air)))
    of = (moved, line, rest, slowest, mass)
    rows = tuple(at_crank_speed(moved, drag, crank, air) for crank in crank_speeds(model.engine))
    if not moved.maps:
        nothing = Best(UNKNOWN, UNKNOWN, reason="the engine has no power curve")
        return Performance(drag, free, (), nothing, nothing, Pull(np.nan, reason=nothing.reason), *of)
    standing = full_pull(model.engine, moved.maps[0], 0.0, air)
    safe = max(slowest, CLIMBS * stalled.speed.value) if stalled.speed.known else slowest
    top, climb = most_speed(moved, drag, air), best_climb(moved, drag, mass, air, safe)
    return Performance(drag, free, rows, top, climb, standing, *of)
