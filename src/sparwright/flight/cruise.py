"""Level flight over speed with a fixed pitch, the economical speeds, range and endurance with a reserve.

Symbols: V speed, D drag, T thrust, n propeller turning, P power, f fuel burnt in a unit of time, m mass.

    T(V, n) = D(V)               the engine speed of level flight, with the throttle that goes with it
    way for each mass of fuel    s = V/f
    way                          Int s dm from the mass with the reserve left to the mass at the start
    time                         Int dm/f

Best range is where s is greatest, longest time where f is least; between haste and thrift V s, the quotient of fuel
and speed gained, is greatest (carson-1980). Each at its own airspeed all the way, through the points of Simpson's rule
over the mass: full, half of the fuel, none. Level, no wind. Before cruise the fuel of run-up, taxi and take-off is
taken off (a time at full throttle), and the reserve after it (a time at the same cruise).
Sources: anderson-flight ch. 6 (Breguet's integral); the reserve of data/cruise.toml. Range: where drag, map and the
engine's fuel are known; a best at the edge of what is known says so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.base.record import locked, number
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.engine import Engine
from sparwright.flight.drag import Drag
from sparwright.flight.performance import Mover
from sparwright.power.engine import fuel_flow, full_throttle
from sparwright.power.surface import surface

SIMPSON = (1.0, 4.0, 1.0)


@dataclass(frozen=True)
class Level:
    """Level flight over n speeds at one mass: the likely drag and map, and the ends of the fuel."""

    speed: np.ndarray  # (n,) m/s, true
    crank: np.ndarray  # (n,) rev/s; NaN where it cannot be flown
    power: np.ndarray  # (n,) W at the propeller
    throttle: np.ndarray  # (n,) part of full throttle at that engine speed
    fuel: np.ndarray  # (3, n) kg/s: value, low, high; NaN also where the engine's data end
    drag: np.ndarray  # (n,) N
    mass: float = number("kg", "mass")

    @property
    def way(self) -> np.ndarray:
        """(3, n) m for each kg of fuel: value, low, high."""
        return np.array([self.speed / self.fuel[i] for i in (0, 2, 1)])


def level(moved: Mover, drag: Drag, mass: float, air: Air) -> Level:
    """Engine speed, power and fuel of level flight at each speed of a drag curve of that mass; NaN without maps.

    Ends of the fuel: the drag's ends and the engine's own band together.
    """
    V = drag.speed
    if not moved.maps:
        none = locked(np.full(V.shape, np.nan))
        return Level(V, none, none, none, locked(np.full((3, V.size), np.nan)), locked(drag.total[0]), mass)
    found = surface(moved.engine, moved.maps[0], air, V)
    ends = [_at_thrust(found.crank, found.thrust, total) for total in drag.total]
    rows = [[_read(found.crank, table, crank) for crank in ends] for table in (found.power, found.throttle)]
    fuel = [_read(found.crank, found.fuel[i], crank) for i, crank in zip((0, 1, 2), ends, strict=True)]
    crank, power, throttle = locked(ends[0]), locked(rows[0][0]), locked(rows[1][0])
    return Level(V, crank, power, throttle, locked(np.array(fuel)), locked(drag.total[0]), mass)


def _at_thrust(crank: np.ndarray, thrust: np.ndarray, total: np.ndarray) -> np.ndarray:
    """(s,) engine speeds at which thrust (r, s), rising with them, is the drag (s,); NaN outside."""
    found = np.full(total.shape, np.nan)
    for j, drag in enumerate(total):
        known = np.isfinite(thrust[:, j])
        if known.sum() > 1 and np.isfinite(drag):
            found[j] = np.interp(drag, thrust[known, j], crank[known], np.nan, np.nan)
    return found


def _read(crank: np.ndarray, table: np.ndarray, at: np.ndarray) -> np.ndarray:
    """(s,) a table (r, s) at an engine speed in each column, straight between; NaN where either end is."""
    i = np.clip(np.searchsorted(crank, at) - 1, 0, crank.size - 2)
    part, column = (at - crank[i]) / (crank[i + 1] - crank[i]), np.arange(at.size)
    return np.asarray(table[i, column] * (1 - part) + table[i + 1, column] * part)


@dataclass(frozen=True)
class Economy:
    """One economical speed."""

    speed: float = number("m/s", "true speed")
    crank: float = number("rev/s", "engine speed")
    throttle: float = number("1", "part of full throttle")
    fuel: Band = UNKNOWN  # kg/s
    edge: bool = False  # where what is known ends, so that a better one may lie beyond
    held: bool = False  # at the slowest speed that is asked for: the best lies slower


def economies(flights: Sequence[Level], slowest: float) -> dict[str, Economy]:
    """For "range", "time" and "haste" of the last flight, the heaviest, at speeds from `slowest` m/s up; else NaN.

    Where both ends of the fuel are known at every one of the masses, which share their speeds.
    """
    flight = flights[-1]
    V, f = flight.speed, flight.fuel[0]
    known = np.all([np.isfinite(x.fuel).all(axis=0) for x in flights], axis=0)
    usable = known & (slowest <= V)
    best = {"range": V / f, "time": 1 / f, "haste": V**2 / f}
    return {key: _best(flight, np.where(usable, value, np.nan), known) for key, value in best.items()}


def _best(flight: Level, value: np.ndarray, fuel_known: np.ndarray) -> Economy:
    known = np.flatnonzero(np.isfinite(value))
    if not known.size:
        return Economy(*(math.nan,) * 3)
    i = int(np.nanargmax(value))
    fuel = Band(*(float(x) for x in flight.fuel[:, i]))
    held = i == known[0] and i > 0 and bool(fuel_known[i - 1])
    return Economy(float(flight.speed[i]), float(flight.crank[i]), float(flight.throttle[i]), fuel,
                   i in (known[0], known[-1]) and not held, held)  # fmt: skip


def over_masses(masses: Sequence[float], each: Sequence[float]) -> float:
    """Integral over the mass by Simpson's rule through its start, its middle and its end; kg, and anything for each kg.

    >>> round(over_masses((300.0, 350.0, 400.0), (1 / 300, 1 / 350, 1 / 400)) / math.log(400 / 300), 4)
    1.0001
    """
    return (max(masses) - min(masses)) / 6 * sum(k * x for k, x in zip(SIMPSON, each, strict=True))


@dataclass(frozen=True)
class Trip:
    """How far and how long at one airspeed; bands by the fuel's ends."""

    way: Band  # m
    time: Band  # s, the reserve not counted
    start: float = number("kg", "fuel for run-up, taxi and take-off", math.nan)
    reserve: float = number("kg", "fuel of the reserve", math.nan)
    burnt: float = number("kg", "fuel burnt in cruise", math.nan)


def trip(flights: Sequence[Level], speed: float, fuel: float, start: float, reserve: float) -> Trip:
    """The trip at an airspeed, m/s, through flights of the rising masses at the end, in the middle, at the start.

    fuel: usable, kg; start: burnt before, kg; reserve: s at the cruise's own fuel, at its high end. Unknown where the
    fuel flow or its high end is unknown there, or nothing is left for cruise; an end alone is NaN where its flow is.
    """
    flows = np.array([[float(np.interp(speed, f.speed, row, np.nan, np.nan)) for row in f.fuel] for f in flights])
    kept = reserve * float(flows[-1, 2])
    left = fuel - start - kept
    if not left > 0:
        return Trip(UNKNOWN, UNKNOWN, start, kept)
    masses = [flights[-1].mass - start - left, flights[-1].mass - start - left / 2, flights[-1].mass - start]
    times = [over_masses(masses, [1 / float(x) for x in flows[:, i]]) for i in (0, 2, 1)]
    if not math.isfinite(times[0]):
        return Trip(UNKNOWN, UNKNOWN, start, kept)
    return Trip(Band(*(speed * t for t in times)), Band(*times), start, kept, left)


def start_fuel(engine: Engine, air: Air, seconds: float) -> float:
    """Fuel of a time at full throttle at the top of its curve, kg; NaN without a curve."""
    if not engine.curve:
        return math.nan
    crank = max(p.speed for p in engine.curve)
    return seconds * fuel_flow(engine, crank, full_throttle(engine, crank, air), air).high
