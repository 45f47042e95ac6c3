"""Power-off stall: the first wing station to reach its section's maximum lift ends the lift of the aeroplane.

The critical section method: CL is raised along the trimmed states; the least CL at which a strip reaches its cl max,
at the Reynolds number of that speed, is taken as the greatest. Strips inside the fuselage side are left out.
Source: naca-tr-572 (the method, for one wing); here for every wing of the cell at once. Nothing is said of how
the stall goes on, of the slipstream, or of interference at struts.

Symbols: CL on the area of all wings, V = sqrt(2 m g/(rho S CL)), Re = V c rho/mu.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.flight.aeroplane import EFFECTIVE, Aeroplane
from sparwright.flight.trim import Line

Ended = Literal["section", "elevator", "unknown"]
UNKNOWN = Band.exact(math.nan)
ROUNDS, NEAR = 40, 1e-3


@dataclass(frozen=True)
class Stall:
    """Where and at what speed the lift ends; unknown with the reason where no cl max is on file."""

    speed: Band  # m/s, true; at sea level also calibrated
    lift: Band  # greatest CL of the trimmed aeroplane
    section_end: float = number("1", "CL at which the first strip stalls, were the elevator strong enough", math.nan)
    surface: str = ""
    buttline: float = number("m", "where the stall begins", math.nan)
    chord: float = number("m", "chord there", math.nan)
    section_lift: float = number("1", "cl max used there", math.nan)
    reynolds: float = number("1", "Reynolds number there", math.nan)
    alpha: float = number("rad", "angle of attack of the thrust line there", math.nan)
    elevator: Band = UNKNOWN  # rad, wanted at the wings' stall, lost effectiveness allowed for
    ended_by: Ended = "unknown"
    reason: str = ""


@dataclass(frozen=True)
class _Critical:
    lift: float
    surface: str = ""
    strip: int = -1
    maximum: float = math.nan
    reason: str = ""


def stall(plane: Aeroplane, line: Line, mass: float, air: Air) -> Stall:
    """Stalling speed at a mass (kg)."""

    def speed_at(CL: float) -> float:
        return math.sqrt(2 * mass * GRAVITY / (air.density * plane.area * CL))

    per_metre = 1 / air.kinematic
    likely, low, high = (_critical(plane, line, speed_at, per_metre, end) for end in ("value", "low", "high"))
    bad = next((e for e in (likely, low, high) if not math.isfinite(e.lift)), None)
    if bad:
        return Stall(UNKNOWN, UNKNOWN, reason=bad.reason)
    ends = (likely.lift, low.lift, high.lift)
    reach = Band(*(min(CL, _elevator_reach(plane, line, CL, f)) for CL, f in zip(ends, _factors(), strict=True)))
    at = line.states(likely.lift)
    e = float(at.elevator[0])
    strips, i = plane.strips[likely.surface], likely.strip
    speed = Band(speed_at(reach.value), speed_at(reach.high), speed_at(reach.low))
    return Stall(
        speed, reach, likely.lift, likely.surface, float(strips.y[i]), float(strips.chord[i]), likely.maximum,
        speed_at(likely.lift) * float(strips.chord[i]) * per_metre, float(at.alpha[0]),
        Band(e / EFFECTIVE.value, *sorted((e / EFFECTIVE.low, e / EFFECTIVE.high))),
        "section" if reach.value == likely.lift else "elevator",
    )  # fmt: skip


def _factors() -> tuple[float, float, float]:
    return EFFECTIVE.value, EFFECTIVE.low, EFFECTIVE.high


def _critical(
    plane: Aeroplane, line: Line, speed_at: Callable[[float], float], per_metre: float, end: str
) -> _Critical:
    """The strip that reaches its cl max first, the speed being found with it."""
    CL = 0.8 * line.most
    for _ in range(ROUNDS):
        found = _first(plane, line, CL, speed_at(CL) * per_metre, end)
        if not math.isfinite(found.lift) or abs(found.lift - CL) < 1e-8:
            return found
        last, CL = CL, min(found.lift, line.most - 2 * NEAR)
        if last == CL:
            return _Critical(math.nan, reason=f"no section stalls up to {line.company.range[1]:.2f} rad, where the "
                             "lattice ends")  # fmt: skip
    return _Critical(math.nan, reason="the stall does not settle between speed and Reynolds number")


def _first(plane: Aeroplane, line: Line, CL: float, reynolds_per_chord: float, end: str) -> _Critical:
    best = _Critical(math.inf)
    near = line.states(np.array([CL, CL + NEAR]))
    for name in plane.wings:
        strips = plane.strips[name]
        here, there = line.section_lift(name, near)
        limit = strips.lift_limit(reynolds_per_chord * strips.chord, end)
        if not np.all(np.isfinite(limit[strips.outside])):
            return _Critical(math.nan, reason=f"{name}: {strips.why_unknown(reynolds_per_chord * strips.chord)}")
        slope = (there - here) / NEAR
        reach = np.where(strips.outside & (slope > 0), CL + (limit - here) / np.where(slope > 0, slope, 1.0), np.inf)
        i = int(np.argmin(reach))
        if reach[i] < best.lift:
            best = _Critical(float(reach[i]), name, i, float(limit[i]))
    if not best.lift > 0:
        return _Critical(math.nan, reason="a wing would stall before it lifts the aeroplane")
    return best


def _elevator_reach(plane: Aeroplane, line: Line, most: float, effective: float) -> float:
    """The CL up to which the elevator's up travel trims; infinity when it is enough up to `most`."""
    at = line.states(np.linspace(0.05, most, 120))
    spare = at.elevator + plane.model.tailplane.up * effective
    beyond = np.flatnonzero(spare < 0)
    if not len(beyond):
        return math.inf
    i = max(int(beyond[0]), 1)
    return float(at.lift[i - 1] + (at.lift[i] - at.lift[i - 1]) * spare[i - 1] / (spare[i - 1] - spare[i]))
