"""Take-off and landing on a level field without wind: ground roll, and way from or to a height.

Symbols: T thrust, D drag, L lift, W weight, m friction, Vs stalling speed, V1 speed of lift-off or touchdown, V2 speed
at the height h that is cleared.

    rolling       m dV/dt = T - D - m (W - L)                     stepped through the speed (takeoff.py)
    from V1 to V2 and up h:   way = [h + (V2^2 - V1^2)/(2 g)] W/(T - D), the mean of T - D at V1 and V2
    down h along a slope c, then from V2 to V1 with the engine shut:   way = h/c + (V2^2 - V1^2)/(2 g) W/D

Rolling, the thrust line lies level: lift and drag are those of the trimmed line at that attitude, the induced drag in
the share that the ground leaves of it. The slope c is the steepest a landing is shown at, or the glide's where that is
flatter. Energy, worked out here; the rolling way: anderson-flight 6.15 and 6.16.

Range: firm level ground, no wind; rain, long grass, soft ground, a slope and a tired engine each take much more.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.flight.takeoff import ground_roll

Force = Callable[[np.ndarray], np.ndarray]
SLOWEST = 0.5  # m/s: a landing roll ends here


@dataclass(frozen=True)
class Field:
    """What an aeroplane brings to the field, at one weight and air."""

    mass: float = number("kg", "mass")
    density: float = number("kg/m3", "of the air")
    area: float = number("m2", "wing area")
    lift: float = number("1", "CL rolling, thrust line level")
    drag_area: float = number("m2", "drag area rolling, all drag over the dynamic pressure")
    thrust: Force = lambda v: 0.0 * v  # N at speeds, m/s
    drag: Force = lambda v: 0.0 * v  # N in flight, m/s


@dataclass(frozen=True)
class Ways:
    """Rolling, in the air, and both."""

    roll: float = number("m", "on the ground", math.nan)
    air: float = number("m", "in the air", math.nan)
    time: float = number("s", "rolling", math.nan)
    slow: float = number("m/s", "speed of lift-off or touchdown", math.nan)
    fast: float = number("m/s", "speed at the height that is cleared", math.nan)
    force: float = number("N", "in the air, mean of the two: thrust less drag, or drag of a landing", math.nan)

    @property
    def whole(self) -> float:
        """From standing to the height, or back, m."""
        return self.roll + self.air


def take_off(f: Field, friction: float, lift_off: float, over: float, height: float) -> Ways:
    """From standing to a height, m; speeds in m/s. NaN where the thrust does not do it."""
    weight = f.mass * GRAVITY

    def net(v: np.ndarray) -> np.ndarray:
        q = f.density * v**2 / 2
        return np.asarray(f.thrust(v) - q * f.drag_area - friction * np.maximum(weight - q * f.area * f.lift, 0.0))

    roll, time = ground_roll(f.mass, net, lift_off)
    speeds = np.array([lift_off, over])
    spare = float(np.mean(f.thrust(speeds) - f.drag(speeds)))
    energy = height + (over**2 - lift_off**2) / (2 * GRAVITY)
    return Ways(roll, energy * weight / spare if spare > 0 else math.nan, time, lift_off, over, spare)


def landing(f: Field, friction: float, touch: float, over: float, height: float, slope: float) -> Ways:
    """From a height, m, to a stand, the engine shut: down a slope (way over height is 1/slope), slowing, rolling.

    touch: speed of touchdown. The slope is the glide's at `over` where that is flatter.
    """
    weight = f.mass * GRAVITY
    slow = float(np.mean(f.drag(np.array([touch, over]))))
    glide = float(f.drag(np.array([over]))[0]) / weight
    air = height / min(slope, glide) + max(over**2 - touch**2, 0.0) / (2 * GRAVITY) * weight / slow

    def held(v: np.ndarray) -> np.ndarray:
        q = f.density * v**2 / 2
        return np.asarray(q * f.drag_area + friction * np.maximum(weight - q * f.area * f.lift, 0.0))

    v = np.linspace(SLOWEST, touch, 401)
    way, time = (f.mass * float(np.trapezoid(x / held(v), v)) for x in (v, np.ones_like(v)))
    return Ways(way, air, time, touch, over, slow)
