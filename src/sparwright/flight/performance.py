"""Level speed against engine speed, top speed, climb and fuel of a fixed-pitch aeroplane.

Symbols: T thrust, D drag, W weight, V speed, n propeller turning, P power, RC = (T - D) V/W.
Each answer is worked out for nine pairs: drag at its value, low and high end; propeller as given, and with the
blade 1 deg finer and 1 deg coarser. The least and the greatest of the nine are its band.
Sources: anderson-flight ch. 6 (level flight, climb). The blade's 1 deg stands for makers' pitch, thickness of the
section and the misses against measured propellers, about 10 % in thrust and power (tests/outside).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.air.polars import Polars, Told
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.model import Engine, Propeller, Section
from sparwright.flight.drag import Drag
from sparwright.power.blade_section import sections_along, worked_out_once
from sparwright.power.engine import fastest, fuel_flow, full_throttle, idle_speed, least_load, top_speed
from sparwright.power.matching import Pull, full_pull, full_thrust
from sparwright.power.propeller import Blade, Gas, PropellerMap, blade_of, propeller_map

BLADE_BAND = math.radians(1.0)
CLIMBS = 1.2  # of the stalling speed, below which nobody is told to climb or glide (common practice, no source)


@dataclass(frozen=True)
class Mover:
    """What moves the aeroplane, with the propeller's maps: as given, 1 deg finer, 1 deg coarser."""

    engine: Engine
    maps: tuple[PropellerMap, ...]
    blade: Blade | None = None


@dataclass(frozen=True)
class Row:
    """Level flight at one engine speed; unknown where it cannot be flown, `reason` says why."""

    crank: float = number("rev/s", "engine speed")
    speed: Band = UNKNOWN  # m/s
    power: Band = UNKNOWN  # W
    throttle: Band = UNKNOWN  # power over full-throttle power at that engine speed
    fuel: Band = UNKNOWN  # kg/s
    reason: str = ""


@dataclass(frozen=True)
class Best:
    """A greatest thing and the speed it is had at."""

    value: Band
    speed: Band
    pull: Pull | None = None
    reason: str = ""


def mover(engine: Engine, propeller: Propeller, air: Gas, polars: Polars = worked_out_once,
          sections: Mapping[str, Section] | None = None, told: Told | None = None) -> Mover:  # fmt: skip
    """Engine and the three maps of its propeller, made at 0.9 of the engine's highest speed (Reynolds numbers).

    polars: gives those of the blade's sections, which takes some seconds without a store; sections: those its table
    names. Raises KeyError for a section that is not among them.
    """
    blade = blade_of(propeller, sections)
    if not engine.curve:
        return Mover(engine, (), blade)
    turning = 0.9 * top_speed(engine) / engine.gear
    data = sections_along(blade, (turning, turning), air, polars, told)
    turned = (blade, *(blade.turned(by) for by in (-BLADE_BAND, BLADE_BAND)))
    return Mover(engine, tuple(propeller_map(b, turning, air, data) for b in turned), blade)


def crank_speeds(engine: Engine, most: int = 9) -> tuple[float, ...]:
    """Round engine speeds, rev/s, inside the curve: steps of 100, 200, 250 or 500 rpm, at most `most` of them."""
    if not engine.curve:
        return ()
    low, high = idle_speed(engine) * 60, fastest(engine) * 60
    for step in (100, 200, 250, 500, 1000, 2000):
        first, last = math.ceil(round(low / step, 6)), math.floor(round(high / step, 6))
        if last - first < most:
            break
    return tuple(i * step / 60 for i in range(first, last + 1))


def at_crank_speed(moved: Mover, drag: Drag, crank: float, air: Gas) -> Row:
    """Level speed, power, throttle and fuel at an engine speed (rev/s): the fastest V at which T(V, n) = D(V)."""
    n = crank / moved.engine.gear
    pairs = [_level(chart, total, drag.speed, n, air) for chart, total in _pairs(moved, drag)]
    full = full_throttle(moved.engine, crank, air)
    speed, power = pairs[0]
    if not math.isfinite(speed):
        return Row(crank, reason="too little thrust for level flight at this engine speed")
    if power > full:
        return Row(crank, reason=f"out of reach: level flight would take {power / full:.2f} of full throttle")
    low, high = (fuel_flow(moved.engine, crank, p, air) for p in _ends([p for _, p in pairs], full))
    fuel = fuel_flow(moved.engine, crank, power, air)
    why = _doubt(pairs, full, fuel, least_load(moved.engine))
    band = [p / full for _, p in pairs]
    return Row(crank, _band([v for v, _ in pairs]), _band([p for _, p in pairs]), _band(band),
               Band(fuel.value, low.low, high.high), why)  # fmt: skip


def _doubt(pairs: Sequence[tuple[float, float]], full: float, fuel: Band, least: float) -> str:
    """What to say of a row whose likely value is known and an end of its band is not."""
    if not all(math.isfinite(v) for v, _ in pairs):
        return "with the most drag and the finer propeller it would not fly level at this engine speed"
    if not fuel.known:
        return f"fuel unknown below {least:.2g} of full throttle"
    return "the fast end would take more than full throttle" if max(p for _, p in pairs) > full else ""


def _ends(powers: Sequence[float], full: float) -> tuple[float, float]:
    return min(powers), min(max(powers), full)


def most_speed(moved: Mover, drag: Drag, air: Gas) -> Best:
    """The fastest level flight: full throttle, or throttled to the engine's highest speed."""
    tops = [_crossing(drag.speed, thrust - total) for thrust, total in _thrusts(moved, drag, air)]
    pull = full_pull(moved.engine, moved.maps[0], tops[0], air) if moved.maps and math.isfinite(tops[0]) else None
    return Best(_band(tops), _band(tops), pull, "" if pull else "thrust and drag do not meet inside their ranges")


def best_climb(moved: Mover, drag: Drag, mass: float, air: Gas, slowest: float) -> Best:
    """The fastest climb, m/s, and its speed, at speeds from `slowest` m/s up: RC = (T - D) V/W, small angles."""
    found = []
    for thrust, total in _thrusts(moved, drag, air):
        rate = np.where(drag.speed >= slowest, (thrust - total) * drag.speed / (mass * GRAVITY), np.nan)
        i = int(np.nanargmax(rate)) if np.any(np.isfinite(rate)) else -1
        found.append((float(rate[i]), float(drag.speed[i])) if i >= 0 else (math.nan, math.nan))
    rates, speeds = zip(*found, strict=True)
    pull = full_pull(moved.engine, moved.maps[0], speeds[0], air) if math.isfinite(speeds[0]) else None
    return Best(_band(rates), _band(speeds), pull, "" if pull else "thrust or drag unknown at every speed")


def _pairs(moved: Mover, drag: Drag) -> Iterator[tuple[PropellerMap, np.ndarray]]:
    """The nine pairs, the likely one first."""
    for chart in moved.maps:
        for total in drag.total:
            yield chart, total


def _thrusts(moved: Mover, drag: Drag, air: Gas) -> Iterator[tuple[np.ndarray, np.ndarray]]:
    for chart in moved.maps:
        thrust = full_thrust(moved.engine, chart, drag.speed, air)
        for total in drag.total:
            yield thrust, total


def _level(chart: PropellerMap, total: np.ndarray, speed: np.ndarray, n: float, air: Gas) -> tuple[float, float]:
    """(speed, power) of level flight at a propeller speed."""
    ct, _ = chart.coefficients(speed / (n * chart.diameter))
    V = _crossing(speed, ct * air.density * n**2 * chart.diameter**4 - total)
    return V, chart.at(V, n, air).power if math.isfinite(V) else math.nan


def _crossing(speed: np.ndarray, spare: np.ndarray) -> float:
    """The highest speed at which the spare force goes from above nought to below; NaN when it never does."""
    down = np.flatnonzero((spare[:-1] > 0) & (spare[1:] <= 0))
    if not len(down):
        return math.nan
    i = int(down[-1])
    return float(speed[i] + (speed[i + 1] - speed[i]) * spare[i] / (spare[i] - spare[i + 1]))


def _band(found: Sequence[float]) -> Band:
    """The first number with the least and greatest of all; an unknown one makes both ends unknown."""
    known = all(map(math.isfinite, found))
    return Band(found[0], min(found) if known else math.nan, max(found) if known else math.nan)
