"""The states that pictures show: cruise, and the greatest lift at the greatest take-off mass and the forward limit."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.air.grid import Strips
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.charts.ticks import figure
from sparwright.charts.units import Unit, Units
from sparwright.flight.work import Case, Flown
from sparwright.shape.planform import Planform

LOADING = "max_mass"


@dataclass(frozen=True)
class Moment:
    """The aeroplane trimmed at one speed."""

    speed: float = number("m/s", "true speed")
    lift: float = number("1", "CL")
    alpha: float = number("rad", "angle of attack of the thrust line")

    @property
    def known(self) -> bool:
        """Whether there is such a state."""
        return math.isfinite(self.alpha)


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


def working(case: Case, name: str, moment: Moment) -> tuple[np.ndarray, np.ndarray]:
    """(angles at which a surface's sections work, rad; Reynolds numbers on their chords), (m,) each, root to tip."""
    line = case.line
    works = line.states(moment.lift).works[0, line.company.strip_slices[name]]
    return works, line.per_metre(moment.lift) * line.plane.strips[name].chord


def limits(flown: Flown, name: str, speed: float) -> np.ndarray:
    """(m,) greatest section lift of a wing's strips at a speed (m/s); NaN where unknown or inside the fuselage."""
    data = flown.plane.strips[name]
    found = data.lift_limit(speed * data.chord / flown.air.kinematic, "value")
    return np.asarray(np.where(data.outside, found, np.nan))


def wings_of(flown: Flown) -> tuple[Planform, ...]:
    """The planforms of the wings, without the tail."""
    return tuple(p for p in flown.plane.company.planforms if not p.is_tail)


def why_unknown(case: Case, moment: Moment) -> str:
    """Why a state is unknown; empty when it is known."""
    if moment.known:
        return ""
    return case.stall.reason or "no trim is found at that speed"


def state_words(case: Case, units: Units) -> str:
    """The state of the stall in a sentence."""
    s, mass = case.stall, case.loading.mass
    heavy = f"{figure(mass * units.mass.factor, 0)} {units.mass.name}"
    said = [f"Greatest take-off mass {heavy} at the forward limit, power off, sea level, trimmed"]
    if math.isfinite(s.alpha):
        said.append(f"greatest lift at {figure(math.degrees(s.alpha), 1)} deg")
        said.append(s.note)
    said.append("the elevator runs out before that, shown as if it did not" if s.ended_by == "elevator" else "")
    return "; ".join(x for x in said if x)


def speed_words(speed: float, unit: Unit) -> str:
    """A speed with its unit."""
    return f"{figure(speed * unit.factor, 1)} {unit.name}"
