"""What the pictures show of a model that has been flown: load, stall, lift, drag, and the flow round its sections.

The stall is that of the greatest take-off mass at the forward limit, power off; the cruise that of the same loading at
the cruise speed of the drag table. Strips inside the fuselage have no limit: nothing is said of them.
"""

from __future__ import annotations

import math
import re

import numpy as np
from scipy.interpolate import CubicSpline

from sparwright.charts.drag_bars import DragBar, drag_picture
from sparwright.charts.lift_curves import LiftCurves, LiftOf, lift_picture
from sparwright.charts.moment import (
    LOADING,
    Moment,
    at_speed,
    at_stall_of,
    limits,
    speed_words,
    state_words,
    why_unknown,
    wing_strips,
    wings_of,
    working,
)
from sparwright.charts.of_sections import polar_pictures, pressure_pictures
from sparwright.charts.page import Heading, Picture
from sparwright.charts.span import SpanLoading, WingLoading, span_picture
from sparwright.charts.stall_seen import WingSeen, stall_picture
from sparwright.charts.units import UNITS, Units
from sparwright.data.loader import sources
from sparwright.family.model import spoken
from sparwright.flight.drag_table import DragTable, drag_table
from sparwright.flight.fast import cruise_speed
from sparwright.flight.fly import Flight
from sparwright.flight.stall import over
from sparwright.flight.work import Case, Flown
from sparwright.shape.planform import Planform

POINTS = 121  # along a line of lift
__all__ = ["drag", "drag_bars", "lift", "lift_curves", "pictures", "short_source", "span", "stall"]


def pictures(flight: Flight, origin: str, units: str = "inch") -> dict[str, Picture]:
    """Every picture that a model's flight gives, by its short name.

    origin: family, model, program and file, for the foot. units: "inch", "millimetre" or "si".
    """
    u = UNITS[units]
    flown = flight.flown
    return {"load-along-span": span(flown, origin, u), "stall-from-above": stall(flown, origin, u),
            "lift-over-angle": lift(flown, origin, u), "drag-by-item": drag(flown, origin, u),
            **polar_pictures(flown, origin), **pressure_pictures(flown, origin, u)}  # fmt: skip


def span(flown: Flown, origin: str, units: Units) -> Picture:
    """Load along the span of each wing at cruise and at the stall."""
    case, cruise = flown.cases[LOADING], cruise_speed(flown)
    at_cruise, at_stall = at_speed(flown, case, cruise), at_stall_of(flown, case)
    head = Heading(f"{flown.model.name}: load along the span", state_words(case, units), origin)
    return span_picture(head, _loading(flown, "cruise", at_cruise, case, units),
                        _loading(flown, "the stall", at_stall, case, units), units)  # fmt: skip


def stall(flown: Flown, origin: str, units: Units) -> Picture:
    """The stall from above, at the greatest lift of the trimmed aeroplane."""
    case = flown.cases[LOADING]
    moment = at_stall_of(flown, case)
    seen = tuple(_seen(flown, case, p, moment) for p in wings_of(flown))
    state = f"{state_words(case, units)}. Shown at greatest lift; how the stall goes on from here is not worked out."
    head = Heading(f"{flown.model.name}: stall from above", state, origin)
    return stall_picture(head, seen, units, why_unknown(case, moment))


def lift(flown: Flown, origin: str, units: Units) -> Picture:
    """Lift of the whole and of each surface over the angle of attack."""
    case = flown.cases[LOADING]
    head = Heading(f"{flown.model.name}: lift over angle of attack", state_words(case, units), origin)
    return lift_picture(head, lift_curves(flown, case))


def lift_curves(flown: Flown, case: Case) -> LiftCurves:
    """The trimmed lift of a case, from the least angle worked out to that of greatest lift; parts over all wings' area.

    Between the angles that were worked out the same spline as the trimmed line's goes.
    """
    moment, line, s = at_stall_of(flown, case), case.line, case.stall
    if not moment.known:
        return LiftCurves(unknown=why_unknown(case, moment))
    angles = [x.stance.alpha for x in line.settled]
    alpha = np.linspace(angles[0], moment.alpha, POINTS)
    each = CubicSpline(angles, [x.stance.surface_lift(x.amounts) / flown.plane.area for x in line.settled])(alpha)
    high = {p.name: p.mean_chord[2] for p in flown.plane.company.planforms}
    names = [x.name for x in line.company.mesh.surfaces]
    parts = tuple(LiftOf(n, each[:, i], high[n], n == flown.plane.tail) for i, n in enumerate(names))
    first, ends = (float(line.states(CL).alpha[0]) for CL in (s.first_lift, s.lift.value))
    return LiftCurves(np.degrees(alpha), parts, s.surface, math.degrees(first),
                      math.degrees(ends) if s.ended_by == "elevator" else math.nan)  # fmt: skip


def drag(flown: Flown, origin: str, units: Units) -> Picture:
    """Drag item by item at cruise."""
    table = drag_table(flown)
    state = f"Greatest take-off mass, level, sea level, {speed_words(table.speed, units.speed)}; bands low to high"
    head = Heading(f"{flown.model.name}: drag item by item", state, origin)
    return drag_picture(head, drag_bars(table), table.total, units.area)


def drag_bars(table: DragTable) -> tuple[DragBar, ...]:
    """The rows of a drag table as bars."""
    return tuple(
        DragBar(_named(r.name, r.group), r.area, r.part, r.coefficient, r.stands_on, short_source(r.source))
        for r in table.rows
    )


def _named(name: str, group: str) -> str:
    return spoken(name) if group == "wings" else name.replace("_", " ")


def short_source(source: str) -> str:
    """The keys alone of a source in words, and "common practice" where a part of it is; itself where it has neither.

    >>> short_source("naca-tr-824 app. II (chart); hoerner-drag ch. 3 (memory); high common practice")
    'naca-tr-824, hoerner-drag, common practice'
    """
    known = sources()
    keys = [w for w in re.split(r"[\s;,()]+", source) if w in known]
    found = dict.fromkeys((*keys, *(("common practice",) if "common practice" in source else ())))
    return ", ".join(found) or source


def _loading(flown: Flown, word: str, moment: Moment, case: Case, units: Units) -> SpanLoading:
    if not math.isfinite(moment.alpha):
        return SpanLoading(word, (), why_unknown(case, moment))
    pressure, strips = flown.air.density * moment.speed**2 / 2, wing_strips(case, moment)
    wings = []
    for p in wings_of(flown):
        s = strips[p.name]
        wings.append(WingLoading(p.name, s.y, pressure * s.lift / s.width, s.lift_coefficient,
                                 limits(flown, p.name, moment.speed), p.mean_chord[2]))  # fmt: skip
    return SpanLoading(f"{word}, {speed_words(moment.speed, units.speed)}", tuple(wings))


def _seen(flown: Flown, case: Case, p: Planform, moment: Moment) -> WingSeen:
    if not moment.known:
        one = np.array([math.nan])
        return WingSeen(p, np.array([0.0, p.leading_edge[1, -1]]), one, one, one)
    s, data = wing_strips(case, moment)[p.name], flown.plane.strips[p.name]
    spare = over(case.line, p.name, case.line.states(moment.lift))[0]
    leaves = data.place("parts_upper", *working(case, p.name, moment))
    clear_spare, clear_leaves = (np.where(data.outside, v, np.nan) for v in (spare, leaves))
    first = int(np.argmin(np.abs(s.y - case.stall.buttline))) if case.stall.surface == p.name else -1
    return WingSeen(p, np.concatenate([[0.0], np.cumsum(s.width)]), s.y, clear_spare, clear_leaves, first)
