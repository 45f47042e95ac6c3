"""What the engine puts into its mount: torque with condition A, side load, and gyroscopic turning where the code asks.

    mean torque   P/(2 pi n), n of the propeller: what the mount holds, the gear's part among it
    limit torque  mean torque times a factor by strokes and cylinders

The greatest power of the curve stands for take-off and for continuous running: the file knows one curve. The factor is
used in both cases; cs-vla 361(a)(1) may mean the mean torque (safe side). Thrust is that of full throttle at the speed.
Sources: cs-vla 361, 363 and 14 CFR 23.361, 23.363, 23.371; marks in data/loads.toml.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Step
from sparwright.family.engine import Engine
from sparwright.flight.work import Flown
from sparwright.loads.case import LoadCase
from sparwright.loads.diagram import Envelope
from sparwright.loads.symmetrical import flown_case
from sparwright.power.matching import full_thrust

TORQUE, THRUST, SIDE = "torque on the mount", "thrust", "load factor to the side on the engine"
YAW, PITCH = "rate of yaw", "rate of pitch"
NO_FACTOR = "the code has no factor for this engine's strokes and cylinders"
NO_CURVE = "the engine has no power curve"


def torque_row(engine: Engine) -> str:
    """The row of the factor for an engine's strokes and cylinders."""
    return f"torque_{engine.strokes}_{min(engine.cylinders, 5 if engine.strokes == 4 else 3)}"


def mean_torque(engine: Engine) -> tuple[float, Step]:
    """Torque that the mount holds at the curve's greatest power, N m, with its working; NaN without a curve."""
    if not engine.curve:
        return math.nan, Step("mean torque", "P/(2 pi n)", (), math.nan, "N m", NO_CURVE)
    best = max(engine.curve, key=lambda p: p.power)
    value = best.power / (2 * math.pi * best.speed / engine.gear)
    given = (("P", best.power, "W"), ("n", best.speed / engine.gear, "rev/s"))
    return value, Step("mean torque", "P/(2 pi n)", given, value, "N m", "definition")


def engine_cases(e: Envelope, flown: Flown) -> Iterator[LoadCase]:
    """At the greatest mass, forward; none where there is no envelope."""
    if e.why:
        return
    yield from _torques(e, flown)
    yield _aside(e)
    if e.code.has("gyro_yaw"):
        yield from _turning(e, flown)


def _torques(e: Envelope, flown: Flown) -> Iterator[LoadCase]:
    """Torque with condition A, or with part of it."""
    b, engine, code = e.bounds["max_forward"], flown.model.engine, e.code
    row = torque_row(engine)
    mean, first = mean_torque(engine)
    given = (("mean", mean, "N m"), ("factor", code[row], "1"))
    torque = code.step(TORQUE, "mean torque times the factor", given, mean * code[row], "N m", row)
    said = NO_CURVE if not engine.curve else "" if code.has(row) else NO_FACTOR
    steps, keys = (first, torque, thrust_step(flown, b.top)), ("manoeuvring", "positive", "torque_part", row)
    for key, part, title in (
        ("takeoff", code["torque_part"], "take-off torque with part of condition A"),
        ("continuous", 1.0, "torque with condition A"),
    ):
        n = part * e.positive
        yield flown_case(e, b, f"engine.{key}", title, "engine", b.top, n, keys=keys, steps=steps, caveat=said)


def _aside(e: Envelope) -> LoadCase:
    """The side load alone."""
    code, n, rows = e.code, e.positive, ("mount_side", "mount_third")
    side = max(code["mount_side"], code["mount_third"] * n if code.has("mount_third") else 0.0)
    words = "the greater of 1.33 and what the code asks of n1"
    step = code.step(SIDE, words, (("n1", n, "1"),), side, "1", *rows)
    keys, title = (*e.speeds["C"].given, *rows), "side load on the engine's mount"
    bound, speed = e.bounds["max_forward"], e.speed("C")
    return flown_case(e, bound, "engine.side", title, "engine", speed, 1.0, keys=keys, steps=(step,))


def _turning(e: Envelope, flown: Flown) -> Iterator[LoadCase]:
    """Every pair of yaw and pitch, either way, with thrust."""
    b, code, keys = e.bounds["max_forward"], e.code, ("gyro_yaw", "gyro_pitch", "gyro_factor")
    pull = thrust_step(flown, e.speed("A"))
    for yaw, to in ((1.0, "left"), (-1.0, "right")):
        for pitch, way in ((1.0, "up"), (-1.0, "down")):
            steps = (
                code.printed(YAW, "gyro_yaw", "rad/s", yaw, "as printed, nose left positive"),
                code.printed(PITCH, "gyro_pitch", "rad/s", pitch, "as printed, nose up positive"),
                pull,
            )
            yield flown_case(
                e,
                b,
                f"engine.turning.{to}.{way}",
                f"propeller as a gyroscope, nose {to} and {way}",
                "engine",
                e.speed("A"),
                code["gyro_factor"],
                keys=(*e.speeds["A"].given, *keys),
                steps=steps,
            )


def thrust_step(flown: Flown, speed: float) -> Step:
    """Thrust of full throttle at a speed, m/s; NaN where the propeller's map does not reach."""
    moved = flown.performance.moved
    value = float(full_thrust(moved.engine, moved.maps[0], np.array([speed]), flown.air)[0]) if moved.maps else math.nan
    return Step(THRUST, "full throttle", (("V", speed, "m/s"),), value, "N", "engine and propeller matched")
