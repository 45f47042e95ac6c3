"""The engine told as results: what it weighs and where, its power, and its torque at the propeller.

    torque at the propeller  Q = P g/(2 pi n)     n crankshaft turns in unit time, g crankshaft turns for one of it

The curve's power is that at the propeller's flange. Between two points power is straight over speed, so torque is
greatest at a point of the curve. Source: the definition of work.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.base.check import Result, Step
from sparwright.base.source import UNKNOWN, Band
from sparwright.family.engine import CurvePoint, Engine

FULL = "full throttle, sea level, at the points of its curve"
NO_CURVE = "the engine has no curve in the file"


def torque(engine: Engine, point: CurvePoint) -> float:
    """Torque at the propeller at full throttle at a point of the curve, N m.

    >>> engine = Engine(name="t", strokes=4, cylinders=2, mass=50, mass_band=0, place=(0, 0, 0), gear=2.0)
    >>> round(torque(engine, CurvePoint(speed=50.0, power=31415.9265, consumption=1e-7)), 6)
    200.0
    """
    return point.power * engine.gear / (2 * math.pi * point.speed)


def engine_results(engine: Engine) -> Iterator[Result]:
    """Mass, place, greatest power and torque of an engine; power and torque unknown without a curve."""
    yield _told(engine, "mass", "installed mass", "kg", Band.relative(engine.mass, engine.mass_band))
    yield _told(engine, "station", "station of its centre of mass", "m", Band.exact(engine.place[0]))
    strongest = max(engine.curve, key=lambda p: p.power, default=None)
    turning = max(engine.curve, key=lambda p: torque(engine, p), default=None)
    if strongest is None or turning is None:
        yield _told(engine, "power", "greatest power", "W", UNKNOWN, NO_CURVE)
        yield _told(engine, "torque", "greatest torque at the propeller", "N m", UNKNOWN, NO_CURVE)
        return
    yield _told(
        engine,
        "power",
        "greatest power",
        "W",
        Band.exact(strongest.power),
        f"{FULL}, at {strongest.speed * 60:.0f} rpm",
    )
    given = (("P", turning.power, "W"), ("g", engine.gear, "1"), ("n", turning.speed, "rev/s"))
    most = torque(engine, turning)
    step = Step("torque at the propeller", "P g/(2 pi n)", given, most, "N m")
    caveat = f"{FULL}, at {turning.speed * 60:.0f} rpm; a mean over the turn, single strokes pull harder"
    yield _told(engine, "torque", "greatest torque at the propeller", "N m", Band.exact(most), caveat, (step,))


def _told(
    engine: Engine, key: str, title: str, unit: str, band: Band, caveat: str = "", steps: tuple[Step, ...] = ()
) -> Result:
    source = f"engine's numbers: {engine.mark}"
    id, title = f"power.engine.{key}", f"engine: {title}"
    return Result(id, title, band.value, unit, band.low, band.high, source, caveat, steps)
