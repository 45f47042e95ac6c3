"""Climb over height, ceilings, time to climb, steepest climb, and the glide.

Symbols: RC rate of climb, h pressure altitude, s density over sea-level density, T thrust, D drag, W weight, V speed.

    RC = (T - D) V/W             climb, small angles
    sin g = (T - D)/W            steepest climb
    E = D/W                      glide: sink over way, power off

At a weight, lift and drag coefficients go with equivalent airspeed: D(V, s) = D0(V sqrt s), with the Reynolds numbers
of sea level (at 3000 m they are a tenth lower). The propeller's coefficients are those of sea level. Between heights
climb goes straight, as it does very nearly for an unblown engine; beyond the last one it is carried on straight, no
further than BEYOND. Sources: anderson-flight ch. 6 (climb, ceilings, time); power with height: power/engine.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.air.atmosphere import atmosphere
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.drag import Drag
from sparwright.flight.performance import CLIMBS, Mover
from sparwright.power.matching import full_thrust
from sparwright.power.propeller import Blade

HEIGHTS = (0.0, 1500.0, 3000.0, 4500.0, 6000.0)  # m
BEYOND = 1500.0  # m past the last
SPEEDS = 17  # looked at, from the stall up
SLOW, FAST = CLIMBS, 2.2  # of the stalling speed: where a best climb is looked for (common practice, no source)
SERVICE = 100 * 0.3048 / 60  # m/s, 100 ft/min (anderson-flight 6.10)
STOPPED = Band(1.1, 0.9, 1.3)  # drag of a stopped blade over its area seen from ahead (common practice, no source)


@dataclass(frozen=True)
class Climbs:
    """Best climb at each height, and the steepest at sea level."""

    heights: tuple[float, ...] = number("m", "pressure altitudes, standard day")
    rates: tuple[Band, ...] = ()  # m/s
    speeds: tuple[float, ...] = number("m/s", "true speed of the best climb", ())
    steepest: Band = UNKNOWN  # rad, at sea level
    at: float = number("m/s", "speed of the steepest climb", math.nan)


def climbs(moved: Mover, drag: Drag, mass: float, stall: float, offset: float = 0.0) -> Climbs:
    """Climb at full throttle over height; offset: K warmer than standard. Unknown rates where the maps have none.

    drag: at sea level, by equivalent airspeed; stall: equivalent stalling speed, m/s. Nine pairs of drag and blade
    give the bands, as in performance.py.
    """
    if not moved.maps or not math.isfinite(stall):
        return Climbs(HEIGHTS, (UNKNOWN,) * len(HEIGHTS), (math.nan,) * len(HEIGHTS))
    equivalent = np.linspace(SLOW * stall, min(FAST * stall, float(drag.speed[-1])), SPEEDS)
    totals = [np.interp(equivalent, drag.speed, d) for d in drag.total]
    rates, speeds, angles, best = [], [], UNKNOWN, math.nan
    for h in HEIGHTS:
        air = atmosphere(h, offset)
        V = equivalent / math.sqrt(air.density / atmosphere(0.0).density)
        pulls = [full_thrust(moved.engine, m, V, air) for m in moved.maps]
        spare = [(t - d) / (mass * GRAVITY) for t in pulls for d in totals]
        found = [float(np.nanmax(x * V)) if np.any(np.isfinite(x)) else math.nan for x in spare]
        rates.append(Band(found[0], min(found), max(found)))
        speeds.append(float(V[int(np.nanargmax(spare[0] * V))]) if math.isfinite(found[0]) else math.nan)
        if h == 0.0 and math.isfinite(found[0]):
            steep = [math.asin(min(1.0, float(np.nanmax(x)))) if np.any(np.isfinite(x)) else math.nan for x in spare]
            angles, best = Band(steep[0], min(steep), max(steep)), float(V[int(np.nanargmax(spare[0]))])
    return Climbs(HEIGHTS, tuple(rates), tuple(speeds), angles, best)


def height_of(rate: float, heights: tuple[float, ...], rates: tuple[float, ...]) -> float:
    """The height, m, at which climb has fallen to a rate, m/s; NaN where it is not reached within BEYOND of the last.

    Straight between heights; climb that never reaches the rate gives NaN. Source: anderson-flight 6.10.

    >>> round(height_of(0.0, (0.0, 3048.0), (2.5146, 0.7122)) / 0.3048)
    13951
    """
    for (a, b), (p, q) in zip(
        zip(heights[:-1], heights[1:], strict=True), zip(rates[:-1], rates[1:], strict=True), strict=True
    ):
        if p >= rate >= q and p > q:
            return a + (b - a) * (p - rate) / (p - q)
    (a, b), (p, q) = heights[-2:], rates[-2:]
    if not (p > q >= rate):
        return math.nan
    found = b + (b - a) * (q - rate) / (p - q)
    return found if found <= b + max(BEYOND, b - a) else math.nan


def time_to(height: float, heights: tuple[float, ...], rates: tuple[float, ...]) -> float:
    """Seconds from the first height to another, m, at best climb: integral of dh/RC, RC straight between heights.

    Of a straight piece from p to q: (b - a) ln(p/q)/(p - q). NaN where the climb does not last.
    """
    total = 0.0
    for (a, b), (p, q) in zip(
        zip(heights[:-1], heights[1:], strict=True), zip(rates[:-1], rates[1:], strict=True), strict=True
    ):
        end = min(b, height)
        if end <= a:
            break
        last = p + (q - p) * (end - a) / (b - a)
        if not (p > 0 and last > 0):
            return math.nan
        total += (end - a) / p if math.isclose(p, last) else (end - a) * math.log(p / last) / (p - last)
    return total if height <= heights[-1] else math.nan


@dataclass(frozen=True)
class Glide:
    """Power off, the propeller stopped."""

    ratio: Band  # way over height lost
    speed: float = number("m/s", "of the flattest glide")
    sink: Band = UNKNOWN  # m/s, least
    slow: float = number("m/s", "speed of the least sink", math.nan)
    stopped: Band = UNKNOWN  # m2, drag area of the stopped propeller


def stopped_area(blade: Blade) -> Band:
    """Drag area of a stopped propeller, m2: its blades as plates seen from ahead, B integral of c cos(angle) dr."""
    seen = blade.blades * float(np.trapezoid(blade.chord * np.cos(blade.angle), blade.r))
    return Band(*(seen * c for c in (STOPPED.value, STOPPED.low, STOPPED.high)))


def glide(drag: Drag, mass: float, density: float, stopped: Band, slowest: float) -> Glide:
    """The flattest glide and the least sink at speeds from `slowest` m/s up."""
    V, q = drag.speed, density * drag.speed**2 / 2
    keep = slowest <= V
    if not stopped.known or not np.all([np.any(np.isfinite(total[keep])) for total in drag.total]):
        return Glide(UNKNOWN, math.nan)
    areas = (stopped.value, stopped.low, stopped.high)
    slopes = [(total + q * area)[keep] / (mass * GRAVITY) for total, area in zip(drag.total, areas, strict=True)]
    flat, sinks = [float(np.nanmin(s)) for s in slopes], [float(np.nanmin(s * V[keep])) for s in slopes]
    i, j = int(np.nanargmin(slopes[0])), int(np.nanargmin(slopes[0] * V[keep]))
    return Glide(Band(1 / flat[0], 1 / flat[2], 1 / flat[1]), float(V[keep][i]), Band(*sinks), float(V[keep][j]),
                 stopped)  # fmt: skip
