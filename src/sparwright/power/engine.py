"""Engine: full-throttle power over speed and height, and what it burns."""

from __future__ import annotations

import math

import numpy as np

from sparwright.base.source import UNKNOWN, Band
from sparwright.family.model import Engine

SEA_LEVEL_DENSITY = 1.225  # kg/m3, iso-2533
LEAST_LOAD = 0.4  # of the full-throttle power at the same speed; below it we do not say what is burnt
PART_LOAD = (0.95, 1.20)  # of the full-throttle consumption, at part load (common practice, no source)


def full_throttle(engine: Engine, crank: float, air_density: float = SEA_LEVEL_DENSITY) -> float:
    """Brake power in W at a crankshaft speed (rev/s) with the throttle open; NaN outside the engine's curve.

    P = P0(n) [s - (1 - s)/7.55], s = density over sea-level density; P0 straight between the curve's points.
    The curve is taken as power at the propeller flange, gear included. Range: the curve's speeds; up to about
    6000 m. Source: gudmundsson-2014 eq. 7-16 (Gagg and Ferrar), quoted.

    >>> from sparwright.family.model import CurvePoint
    >>> curve = (CurvePoint(speed=40, power=2e4, consumption=1e-7), CurvePoint(speed=60, power=3e4, consumption=1e-7))
    >>> twin = Engine(name="t", strokes=4, cylinders=2, mass=50, mass_band=0, place=(0, 0, 0), curve=curve)
    >>> full_throttle(twin, 50.0)
    25000.0
    """
    return float(full_throttle_curve(engine, np.array(crank), air_density))


def full_throttle_curve(engine: Engine, crank: np.ndarray, air_density: float = SEA_LEVEL_DENSITY) -> np.ndarray:
    """The same for many crankshaft speeds at once, W."""
    return _read(engine, "power", crank) * height_factor(air_density / SEA_LEVEL_DENSITY)


def height_factor(density_ratio: float) -> float:
    """Power of an unblown piston engine over its sea-level power: s - (1 - s)/7.55.

    Source: gudmundsson-2014 eq. 7-16 (Gagg and Ferrar), quoted; a 1940s chart lies 0.03 lower at 10 000 ft.

    >>> round(height_factor(1.11164 / 1.225), 4)
    0.8952
    """
    return density_ratio - (1 - density_ratio) / 7.55


def top_speed(engine: Engine) -> float:
    """Highest crankshaft speed of the curve, rev/s; NaN without a curve."""
    return max((p.speed for p in engine.curve), default=math.nan)


def idle_speed(engine: Engine) -> float:
    """Lowest crankshaft speed of the curve, rev/s; NaN without a curve."""
    return min((p.speed for p in engine.curve), default=math.nan)


def fuel_flow(engine: Engine, crank: float, power: float, air_density: float = SEA_LEVEL_DENSITY) -> Band:
    """Fuel burnt in kg/s at a crankshaft speed (rev/s) and power (W).

    flow = P b(n), b the full-throttle consumption of the curve. At part load the file gives nothing, so the
    same b is used with -5 % and +20 % (common practice, no source); below 0.4 of the full-throttle power at
    that speed, above full throttle, or outside the curve: unknown, NaN.
    """
    load = power / full_throttle(engine, crank, air_density)
    if not LEAST_LOAD <= load <= 1 + 1e-6:
        return UNKNOWN
    flow = power * float(_read(engine, "consumption", np.array(crank)))
    low, high = PART_LOAD if load < 0.999 else (1.0, 1.0)
    return Band(flow, low * flow, high * flow)


def _read(engine: Engine, what: str, crank: np.ndarray) -> np.ndarray:
    if not engine.curve:
        return np.full(np.shape(crank), math.nan)
    points = sorted(engine.curve, key=lambda p: p.speed)
    speeds, values = [p.speed for p in points], [getattr(p, what) for p in points]
    return np.asarray(np.interp(crank, speeds, values, left=math.nan, right=math.nan))
