"""What keeps the engine below its greatest speed: the propeller at full throttle, and spun by the air with it closed.

Symbols: g greatest permitted crankshaft speed over the gear, rev/s; P full-throttle power there; J = V/(nD); VNE the
speed never exceeded.

    full throttle: the fastest V at which CP(V/(gD)) rho g^3 D^5 = P, beyond which the throttle must be closed some way
    throttle closed: n = VNE/(J0 D), CP(J0) = 0: as fast as the air turns a propeller that nothing holds

An engine with its throttle closed holds the propeller back, by how much is not known: that speed is an upper end.
Beyond the curve's last point its power is taken to stay, on the safe side. Source: definitions; the two cases are those
of cfr-23-2014 23.33(b) (memory). Range: that of the propeller's map.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from sparwright.base.source import UNKNOWN, Band
from sparwright.family.engine import Engine
from sparwright.power.engine import full_throttle, greatest_speed, top_speed
from sparwright.power.gas import Gas
from sparwright.power.propeller import PropellerMap
from sparwright.power.slipstream import windmilling

SPUN = 1.10  # of the greatest continuous speed, throttle closed at VNE; cfr-23-2014 23.33(b)(2) (memory)
FREE = 0.05  # of J0: two measured propellers, whose J0 ours lay within (docs/decisions/propeller.md)
FINE = 2001


def full_throttle_limit(engine: Engine, maps: Sequence[PropellerMap], air: Gas) -> Band:
    """The speed, m/s, at which full throttle turns the engine at its greatest permitted speed; nought: even standing.

    The likely map first; NaN without a curve, or where a map ends before.
    """
    found = [_holds_to(engine, chart, air) for chart in maps] if engine.curve else []
    return Band(found[0], min(found), max(found)) if found and all(map(math.isfinite, found)) else UNKNOWN


def _holds_to(engine: Engine, chart: PropellerMap, air: Gas) -> float:
    """The fastest speed at which the propeller takes the engine's full power at its greatest speed."""
    most, n = greatest_speed(engine), greatest_speed(engine) / engine.gear
    power = full_throttle(engine, min(most, top_speed(engine)), air)
    wanted = power / (air.density * n**3 * chart.diameter**5)
    J = np.linspace(0.0, float(chart.advance[-1]), FINE) if chart.advance.size else np.array([])
    takes = chart.coefficients(J)[1] - wanted if J.size else J
    if not J.size or not np.all(np.isfinite(takes)):
        return math.nan
    over = np.flatnonzero(takes >= 0)
    if not over.size:
        return 0.0
    i = int(over[-1])
    if i == J.size - 1:
        return math.nan  # the map ends while the propeller still holds the engine
    part = takes[i] / (takes[i] - takes[i + 1])
    return float(J[i] + part * (J[i + 1] - J[i])) * n * chart.diameter


def spun_free(engine: Engine, maps: Sequence[PropellerMap], speed: float) -> Band:
    """Crankshaft speed, rev/s, of a propeller that the air turns at a speed (m/s) with nothing to hold it.

    An upper end: the low end of the band is the coarsest blade's, and an engine's own drag is not in it.
    """
    turns = [speed / (windmilling(chart)[0] * chart.diameter) * engine.gear for chart in maps]
    if not turns or not all(map(math.isfinite, turns)):
        return UNKNOWN
    return Band(turns[0], min(turns) * (1 - FREE), max(turns) * (1 + FREE))
