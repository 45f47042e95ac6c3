"""Engine and propeller: torque, thrust, side load and the gyroscopic couple, at the propeller's hub and on the mount.

    torque        M = f P/(2 pi n)      f of data/pushes.toml by strokes and cylinders, P power, n turns a second
    side          F = s m g             s of data/pushes.toml, at the centre of the engine's mass
    gyroscopic    M = I w x (turning of the aeroplane)

A propeller that turns to the right as the pilot sees it is driven by the engine, whose mount is turned to the left:
left wing down, about +x. Which way it turns the file does not say: both are cases. Sources: data/pushes.toml; statics.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.data.pushes import PARTS, torque_factor
from sparwright.family.model import Engine
from sparwright.loads.air_forces import manoeuvre
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.code import asked
from sparwright.loads.engine import PITCH, TORQUE, YAW
from sparwright.loads.laid_out import LaidOut
from sparwright.loads.ready import Ready
from sparwright.loads.together import joined, push
from sparwright.power.engine import greatest_speed


def limit_torque(engine: Engine) -> float:
    """N m at the propeller, the greatest over the full-throttle curve; NaN where the engine has none."""
    mean = max((p.power / (2 * math.pi * p.speed / engine.gear) for p in engine.curve), default=math.nan)
    return torque_factor(engine.strokes, engine.cylinders) * mean


def torque(ready: Ready, case: LoadCase, thrust: float = 0.0, to_right: bool = True) -> LaidOut:
    """The symmetrical state of the case with the limit torque. ValueError where the engine's torque is not known.

    to_right: whether the propeller turns to the right as the pilot sees it.
    """
    engine = ready.model.engine
    moment = asked(case.steps, TORQUE, limit_torque(engine))
    if not math.isfinite(moment):
        raise ValueError(f"the torque of {engine.name} is not known")
    whole = manoeuvre(ready, case, thrust)
    couple = push("mount", ready.model.propeller.place, moment=(moment if to_right else -moment, 0.0, 0.0))
    return replace(whole, pushes=joined([whole.pushes, couple]))


def turning(ready: Ready, case: LoadCase, thrust: float = 0.0, to_right: bool = True) -> LaidOut:
    """The symmetrical state of the case with the gyroscopic couple of its rates, nose left and nose up positive.

    The propeller as a rod of even mass, m D^2/12, which blades that thin out stay below; at the engine's greatest
    speed.
    """
    p, engine = ready.model.propeller, ready.model.engine
    yaw, pitch = asked(case.steps, YAW), asked(case.steps, PITCH)
    if not math.isfinite(yaw + pitch):
        raise ValueError("the case does not say how fast it turns")
    spin = 2 * math.pi * greatest_speed(engine) / engine.gear
    couple = gyroscopic(ready, p.mass * p.diameter**2 / 12, spin, pitch, -yaw, to_right)
    whole = manoeuvre(ready, case, thrust)
    said = "propeller as a rod of even mass"
    return replace(whole, pushes=joined([whole.pushes, couple]), notes=(*whole.notes, said))


def least_side(factor: float) -> float:
    """Side load over the engine's weight: 1.33, or a third of the positive limit load factor where that is more."""
    return max(PARTS["mount_side"].value, factor / 3)


def side_load(ready: Ready, most: float) -> Pushes:
    """Side load on the mount, to the right, of engine and propeller, each `most` of its weight."""
    engine, propeller = ready.model.engine, ready.model.propeller
    return joined(
        [push("mount", thing.place, (0.0, most * thing.mass * GRAVITY, 0.0)) for thing in (engine, propeller)]
    )


def gyroscopic(ready: Ready, inertia: float, turning: float, pitch: float, yaw: float, to_right: bool = True) -> Pushes:
    """Couple on the mount of a turning propeller in an aeroplane that turns.

    inertia: kg m2 of the propeller about its axis; turning: rad/s of it; pitch: rad/s, nose up; yaw: rad/s, nose right.
    M = -W x (I w), W = (0, pitch, -yaw). Right-turning propeller: w forward, along -x.
    """
    spin = np.array([-inertia * turning if to_right else inertia * turning, 0.0, 0.0])
    return push("mount", ready.model.propeller.place, moment=-np.cross(np.array([0.0, pitch, -yaw]), spin))
