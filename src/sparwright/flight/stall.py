"""Power-off stall: the greatest lift of the trimmed aeroplane with its wings' real sections, strip by strip.

The greatest CL is where the lift of the trimmed line (trim.py) is greatest: some strips are past their section's own
greatest lift by then. Told with it is where it begins: the strip whose effective angle passes that of its section's
greatest lift first. Where a thin nose lets go (air/nose_stall.py), the lift ends with the first strip whose does. How
the stall goes on is not unique and not worked out; nor is the slipstream, nor interference at struts.

Band: the least and the greatest of what the strips' sections may be off (air/behaviour.py), as a fraction of CL, since
near the greatest lift most strips of a wing are near their own (tests/properties/test_strips.py). Where the elevator
runs out before, the lift ends there. Source: naca-tr-572 (the first strip, for one wing); the rest is worked out here.

Symbols: CL on the area of all wings, V = sqrt(2 m g/(rho S CL)), Re = V c rho/mu.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from sparwright.air.raised import EDGE, past_the_nose
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import EFFECTIVE, turned_in_truth
from sparwright.flight.trim import Line, States

Ended = Literal["section", "elevator", "unknown"]
LOOKED = 200  # values of CL at which the first strip is looked for


@dataclass(frozen=True)
class Stall:
    """Where and at what speed the lift ends; unknown with the reason where the greatest lift is."""

    speed: Band  # m/s, true; at sea level also calibrated
    lift: Band  # greatest CL of the trimmed aeroplane
    section_end: float = number("1", "greatest CL, were the elevator strong enough", math.nan)
    first_lift: float = number("1", "CL at which the first strip passes its section's greatest lift", math.nan)
    surface: str = ""
    buttline: float = number("m", "where the stall begins", math.nan)
    chord: float = number("m", "chord there", math.nan)
    section_lift: float = number("1", "greatest lift of the section there", math.nan)
    reynolds: float = number("1", "Reynolds number there", math.nan)
    alpha: float = number("rad", "angle of attack of the thrust line at greatest lift", math.nan)
    elevator: Band = UNKNOWN  # rad, wanted at greatest lift, lost effectiveness allowed for
    ended_by: Ended = "unknown"
    least_by: Ended = "unknown"  # what ends the low end of the lift
    reason: str = ""
    note: str = ""


@dataclass(frozen=True)
class _First:
    """The strip that lets go first."""

    lift: float
    surface: str
    strip: int


def stall(line: Line) -> Stall:
    """Stalling speed of a trimmed line."""
    plane, air = line.plane, line.air
    if not math.isfinite(line.most):
        return Stall(UNKNOWN, UNKNOWN, reason=line.reason)
    per_metre = line.per_metre(line.most)
    spread = _spread(line, per_metre)
    first = _first(line)
    if first is None or not all(map(math.isfinite, spread)):
        reasons = (s.why_unknown(per_metre * s.chord) for n, s in plane.strips.items() if n in plane.wings)
        why = next((r for r in reasons if r), "")
        return Stall(UNKNOWN, UNKNOWN, reason=why or "no strip passes its section's greatest lift")
    ends = (line.most, *(line.most * s for s in spread))
    trims = [elevator_reach(line, f) for f in (EFFECTIVE.value, EFFECTIVE.low, EFFECTIVE.high)]
    if any(map(math.isnan, trims)):
        return Stall(UNKNOWN, UNKNOWN, reason="the elevator is past its up travel at the least lift that is known")
    reach = Band(*(min(CL, trim) for CL, trim in zip(ends, trims, strict=True)))
    at = line.states(line.most)
    e = float(at.elevator[0])
    strips, i = plane.strips[first.surface], first.strip
    chord = float(strips.chord[i])
    speeds = (math.sqrt(2 * line.mass * GRAVITY / (air.density * plane.area * CL))
              for CL in (reach.value, reach.high, reach.low))  # fmt: skip
    return Stall(
        Band(*speeds), reach, line.most, first.lift, first.surface, float(strips.y[i]), chord,
        float(strips.lift_limit(per_metre * strips.chord, "value")[i]), per_metre * chord, float(at.alpha[0]),
        turned_in_truth(e),
        "section" if reach.value == line.most else "elevator",
        "section" if reach.low == ends[1] else "elevator", note=line.note,
    )  # fmt: skip


def _spread(line: Line, per_metre: float) -> tuple[float, float]:
    """(low, high) of the strips' greatest lift over the likely one: the worst and the best strip."""
    plane, low, high = line.plane, [], []
    for name in plane.wings:
        s = plane.strips[name]
        value, down, up = (s.lift_limit(per_metre * s.chord, end)[s.outside] for end in ("value", "low", "high"))
        low.append(float(np.min(down / value)))
        high.append(float(np.max(up / value)))
    return float(np.min(low)), float(np.max(high))  # NaN where one wing's is


def _first(line: Line) -> _First | None:
    """The strip whose effective angle passes its section's own stall first, or None."""
    plane = line.plane
    at = line.states(np.linspace(0.5 * line.most, line.most, LOOKED))
    best: _First | None = None
    nose = past_the_nose(line.fitted, line.settled[-1], line.per_metre) >= -EDGE  # then it ends that much short of it
    nearest, last = -math.inf, None
    for name in plane.wings:
        s, spare = plane.strips[name], over(line, name, at)
        for i in np.flatnonzero(s.outside):
            passed = np.flatnonzero(spare[:, i] >= 0)
            if passed.size and (best is None or at.lift[passed[0]] < best.lift):
                best = _First(float(at.lift[passed[0]]), name, int(i))
            if nose and spare[-1, i] > nearest:
                nearest, last = float(spare[-1, i]), _First(line.most, name, int(i))
    return best or last


def over(line: Line, name: str, at: States) -> np.ndarray:
    """(n, m) rad by which each strip's effective angle is past that of its section's greatest lift."""
    s, here = line.plane.strips[name], line.company.strip_slices[name]
    re = np.array([line.per_metre(float(CL)) for CL in at.lift])[:, None] * s.chord
    return np.asarray(at.works[:, here] - s.stall_angle(re))


def elevator_reach(line: Line, effective: float) -> float:
    """The CL up to which the elevator's up travel trims; infinity when it is enough up to the greatest.

    NaN where it is past its travel already in the least lift that is known.
    """
    at = line.states(np.linspace(0.05 * line.last, line.last, LOOKED))
    known = np.isfinite(at.elevator)
    lift, spare = at.lift[known], (at.elevator + line.plane.model.tailplane.up * effective)[known]
    beyond = np.flatnonzero(spare < 0)
    if not len(beyond):
        return math.inf
    i = int(beyond[0])
    if i == 0:
        return math.nan
    return float(lift[i - 1] + (lift[i] - lift[i - 1]) * spare[i - 1] / (spare[i - 1] - spare[i]))
