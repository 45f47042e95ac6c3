"""An aeroplane sideways at the speeds it is looked at: derivatives worked out three times, and between those.

The heaviest loading, level flight. Worked out at a cruising speed, at the approach and at SLOW of the stalling speed;
between the three, over the lift coefficient, by the polynomial through them (flight/sides.py).
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from sparwright.air.turned import CompanyState
from sparwright.base.axes import GRAVITY
from sparwright.base.source import Band
from sparwright.data.aileron import effect
from sparwright.data.flying import SLIP
from sparwright.data.roll import ROLL
from sparwright.flight.fast import cruise_speed
from sparwright.flight.sides import Sides, between, sides_at, span_of
from sparwright.flight.work import Case, Flown

CASE = "heaviest"
APART = 0.02  # of a lift coefficient: nearer than this two speeds are one
SLOPE = math.radians(1.0)  # over which the slope of a section's lift is taken
WORDS = {
    "climb": "at the speed of best climb",
    "cruise": "at a cruising speed",
    "takeoff": "at 1.2 of the stalling speed",
    "approach": "at 1.3 of the stalling speed",
    "slow": "at 1.1 of the stalling speed",
}


@dataclass(frozen=True)
class Lateral:
    """Speeds by name, and derivatives at any of them."""

    flown: Flown
    case: Case
    speeds: Mapping[str, float] = field(default_factory=dict)  # m/s
    known: tuple[Sides, ...] = ()
    states: Mapping[str, CompanyState] = field(default_factory=dict)
    reason: str = ""

    def lift(self, speed: float) -> float:
        """CL in level flight at a speed, m/s."""
        return self.case.loading.mass * GRAVITY / (self.flown.air.density * speed**2 / 2 * self.flown.plane.area)

    def sides(self, key: str) -> Sides:
        """Derivatives at one of the speeds."""
        return between(self.known, self.lift(self.speeds[key])) if not self.reason else Sides(math.nan)

    @property
    def span(self) -> float:
        """The greatest span, m."""
        return span_of(self.flown.plane)

    def force(self, key: str) -> float:
        """q S at one of the speeds, N."""
        return self.flown.air.density * self.speeds[key] ** 2 / 2 * self.flown.plane.area


def lateral(flown: Flown) -> Lateral:
    """All that the results of roll, sideslip and modes are made of; `reason` says why there is nothing."""
    case = flown.cases[CASE]
    stall = case.stall.speed
    if not stall.known:
        return Lateral(flown, case, reason="stalling speed unknown")
    speeds = {k: ROLL[f"{k}_speed"].value * stall.value for k in ("takeoff", "approach")}
    speeds |= {"slow": SLIP["touchdown_speed"].value * stall.value, "cruise": cruise_speed(flown)}
    climb = flown.performance.climb.speed.value
    if math.isfinite(climb):
        speeds["climb"] = climb
    first = Lateral(flown, case, speeds)
    lifts: dict[str, float] = {}
    for key in ("cruise", "approach", "slow"):
        lift = first.lift(speeds[key])
        if all(abs(lift - x) > APART * x for x in lifts.values()):
            lifts[key] = lift
    if not all(math.isfinite(float(case.line.states(x).alpha[0])) for x in lifts.values()):
        return Lateral(flown, case, speeds, reason="level flight is not trimmed at one of the speeds")
    states = {k: case.line.state(x) for k, x in lifts.items()}
    return Lateral(flown, case, speeds, tuple(sides_at(flown, case, lifts[k], s) for k, s in states.items()), states)


def full_aileron(flown: Flown) -> float:
    """Half of the travel up and down together, rad, of the wing with the least; NaN without ailerons."""
    return min(((w.aileron.up + w.aileron.down) / 2 for w in flown.model.wings if w.aileron), default=math.nan)


def full_rudder(flown: Flown) -> float:
    """The lesser travel of the rudder, rad."""
    return min(flown.model.fin.up, flown.model.fin.down)


def power_left(lat: Lateral, key: str) -> Band:
    """Part of the ailerons' power left at a speed: slope of the sections' lift where they work over that in cruise.

    Each strip of the ailerons by its part of the rolling moment, c y dy. 1 without ailerons' strips near the stall;
    NaN where a section is not known. What a turned aileron itself does to the flow is not in it.
    """
    case, plane, flown = lat.case, lat.flown.plane, lat.flown
    total, left = 0.0, 0.0
    for wing in (w for w in flown.model.wings if w.aileron):
        strips, here = plane.strips[wing.name], plane.company.strip_slices[wing.name]
        surface = plane.company.mesh.surfaces[plane.company.place_of(wing.name)]
        weight = strips.area * strips.y * surface.hinged
        slopes = []
        for CL in (lat.lift(lat.speeds[key]), lat.lift(lat.speeds["cruise"])):
            works, re = case.line.states(CL).works[0, here], case.line.per_metre(CL) * strips.chord
            ends = [strips.place("lift", works + d, re) for d in (SLOPE, -SLOPE)]
            slopes.append((ends[0] - ends[1]) / (2 * SLOPE))
        over = weight > 0
        total += float(weight.sum())
        left += float((weight * slopes[0] / slopes[1])[over].sum()) if over.any() else 0.0
    part = left / total if total else math.nan
    return Band(part, min(part, 1.0) - 0.5 * abs(1 - part), max(part, min(1.0, part + 0.5 * abs(1 - part))))


def real_aileron(lat: Lateral) -> Band:
    """What the real ailerons do of the lattice's at full travel."""
    return effect(full_aileron(lat.flown))


def coefficient(derivative: float, amount: float, band: Band) -> Band:
    """A derivative times an amount, with what a real flap does of it."""
    ends = sorted(derivative * amount * k for k in (band.low, band.high))
    return Band(derivative * amount * band.value, ends[0], ends[1])


def spread(center: float, parts: np.ndarray) -> Band:
    """A number with independent give or take: root of the sum of squares of the changes that lower it, and raise it."""
    down = math.sqrt(float(np.sum(np.minimum(parts, 0) ** 2)))
    up = math.sqrt(float(np.sum(np.maximum(parts, 0) ** 2)))
    return Band(center, center - down, center + up)
