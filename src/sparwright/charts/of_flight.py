"""What the pictures show of a model that has been flown: loads along the span, the stall from above, drag by item.

The stall is that of the greatest take-off mass at the forward limit, power off; the cruise that of the same loading at
the cruise speed of the drag table. Strips inside the fuselage have no limit: nothing is said of them.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.air.grid import Strips
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.charts.drag_bars import DragBar, drag_picture
from sparwright.charts.page import Heading, Picture
from sparwright.charts.span import SpanLoading, WingLoading, span_picture
from sparwright.charts.stall_seen import WingSeen, stall_picture
from sparwright.charts.ticks import figure
from sparwright.charts.units import UNITS, Unit, Units
from sparwright.data.loader import sources
from sparwright.flight.drag_table import DragTable, drag_table
from sparwright.flight.fast import cruise_speed
from sparwright.flight.fly import Flight
from sparwright.flight.stall import over
from sparwright.flight.work import Case, Flown
from sparwright.shape.planform import Planform

LOADING = "max_mass"


@dataclass(frozen=True)
class Moment:
    """The aeroplane trimmed at one speed."""

    speed: float = number("m/s", "true speed")
    lift: float = number("1", "CL")
    alpha: float = number("rad", "angle of attack of the thrust line")


def pictures(flight: Flight, origin: str, units: str = "inch") -> dict[str, Picture]:
    """Every picture that a model's flight gives, by its short name.

    origin: family, model, program and file, for the foot. units: "inch", "millimetre" or "si".
    """
    u = UNITS[units]
    return {"load-along-span": span(flight, origin, u), "stall-from-above": stall(flight, origin, u),
            "drag-by-item": drag(flight.flown, origin, u)}  # fmt: skip


def span(flight: Flight, origin: str, units: Units) -> Picture:
    """Load along the span of each wing at cruise and at the stall."""
    flown = flight.flown
    case, cruise = flown.cases[LOADING], cruise_speed(flown)
    at_cruise, at_stall = at_speed(flown, case, cruise), at_stall_of(flown, case)
    head = Heading(f"{flown.model.name}: load along the span", _state(flight, case, units), origin)
    return span_picture(head, _loading(flown, "cruise", at_cruise, case, units),
                        _loading(flown, "the stall", at_stall, case, units), units)  # fmt: skip


def stall(flight: Flight, origin: str, units: Units) -> Picture:
    """The stall from above."""
    flown = flight.flown
    case = flown.cases[LOADING]
    moment = at_stall_of(flown, case)
    seen = tuple(_seen(flown, case, p, moment) for p in _wings(flown))
    state = f"{_state(flight, case, units)}. At greatest lift; how the stall goes on from there is not worked out."
    head = Heading(f"{flown.model.name}: stall from above", state, origin)
    return stall_picture(head, seen, units, _why(case, moment))


def drag(flown: Flown, origin: str, units: Units) -> Picture:
    """Drag item by item at cruise."""
    table = drag_table(flown)
    state = f"Greatest take-off mass, level, sea level, {_speed(table.speed, units.speed)}; bands low to high"
    head = Heading(f"{flown.model.name}: drag item by item", state, origin)
    return drag_picture(head, drag_bars(table), table.total, units.area)


def drag_bars(table: DragTable) -> tuple[DragBar, ...]:
    """The rows of a drag table as bars."""
    return tuple(
        DragBar(_named(r.name, r.group), r.area, r.part, r.coefficient, r.stands_on, short_source(r.source))
        for r in table.rows
    )


def _named(name: str, group: str) -> str:
    plain = name.replace("_", " ")
    return plain if group != "wings" or "wing" in plain else f"{plain} wing"


def short_source(source: str) -> str:
    """The keys alone of a source in words, and "common practice" where a part of it is; itself where it has neither.

    >>> short_source("naca-tr-824 app. II (chart); hoerner-drag ch. 3 (memory); high common practice")
    'naca-tr-824, hoerner-drag, common practice'
    """
    known = sources()
    keys = [w for w in re.split(r"[\s;,()]+", source) if w in known]
    found = dict.fromkeys((*keys, *(("common practice",) if "common practice" in source else ())))
    return ", ".join(found) or source


def at_speed(flown: Flown, case: Case, speed: float) -> Moment:
    """Level flight at a speed (m/s); angles NaN where there is no trim."""
    CL = 2 * case.loading.mass * GRAVITY / (flown.air.density * flown.plane.area * speed**2)
    return Moment(speed, CL, float(case.line.states(CL).alpha[0]))


def at_stall_of(flown: Flown, case: Case) -> Moment:
    """The state of greatest lift; NaN where the stall is unknown."""
    CL = case.stall.section_end
    if not math.isfinite(CL):
        return Moment(math.nan, math.nan, math.nan)
    wing = flown.air.density * flown.plane.area / 2
    speed = math.sqrt(case.loading.mass * GRAVITY / (wing * CL))
    return Moment(speed, CL, case.stall.alpha)


def wing_strips(case: Case, moment: Moment) -> Mapping[str, Strips]:
    """The load along each surface, by its name, as the flight room has it."""
    return case.line.state(moment.lift).strips


def limits(flown: Flown, name: str, speed: float) -> np.ndarray:
    """(m,) greatest section lift of a wing's strips at a speed (m/s); NaN where unknown or inside the fuselage."""
    data = flown.plane.strips[name]
    found = data.lift_limit(speed * data.chord / flown.air.kinematic, "value")
    return np.asarray(np.where(data.outside, found, np.nan))


def _wings(flown: Flown) -> tuple[Planform, ...]:
    return tuple(p for p in flown.plane.cell.planforms if not p.is_tail)


def _loading(flown: Flown, word: str, moment: Moment, case: Case, units: Units) -> SpanLoading:
    if not math.isfinite(moment.alpha):
        return SpanLoading(word, (), _why(case, moment))
    pressure, strips = flown.air.density * moment.speed**2 / 2, wing_strips(case, moment)
    wings = []
    for p in _wings(flown):
        s = strips[p.name]
        wings.append(WingLoading(p.name, s.y, pressure * s.lift / s.width, s.lift_coefficient,
                                 limits(flown, p.name, moment.speed), p.mean_chord[2]))  # fmt: skip
    return SpanLoading(f"{word}, {_speed(moment.speed, units.speed)}", tuple(wings))


def _seen(flown: Flown, case: Case, p: Planform, moment: Moment) -> WingSeen:
    if not math.isfinite(moment.alpha):
        return WingSeen(p, np.array([0.0, p.leading_edge[1, -1]]), np.array([math.nan]), np.array([math.nan]))
    s = wing_strips(case, moment)[p.name]
    spare = over(case.line, p.name, case.line.states(moment.lift))[0]
    part = np.where(spare < 0, s.lift_coefficient / limits(flown, p.name, moment.speed), 1.0)
    part = np.where(flown.plane.strips[p.name].outside, part, np.nan)
    first = int(np.argmin(np.abs(s.y - case.stall.buttline))) if case.stall.surface == p.name else -1
    return WingSeen(p, np.concatenate([[0.0], np.cumsum(s.width)]), s.y, part, first)


def _why(case: Case, moment: Moment) -> str:
    """Why a state is unknown; empty when it is known."""
    if math.isfinite(moment.alpha):
        return ""
    return case.stall.reason or "no trim is found at that speed"


def _state(flight: Flight, case: Case, units: Units) -> str:
    s, mass = case.stall, case.loading.mass
    outside = next(r.outside_range for r in flight.results if r.id == f"flight.stall.{LOADING}")
    heavy = f"{figure(mass * units.mass.factor, 0)} {units.mass.name}"
    said = [f"Greatest take-off mass {heavy} at the forward limit, power off, sea level, trimmed"]
    if math.isfinite(s.alpha):
        said.append(f"greatest lift at {figure(math.degrees(s.alpha), 1)} deg")
        said.append(s.note)
        said.append(outside and f"{outside}: the stall is unknown, shown as the lattice gives it")
    said.append("the elevator runs out before the wings stall" if s.ended_by == "elevator" else "")
    return "; ".join(x for x in said if x)


def _speed(speed: float, unit: Unit) -> str:
    return f"{figure(speed * unit.factor, 1)} {unit.name}"
