"""The aeroplane standing on level ground: wheels as they give way, and where the ground lies in its own axes.

    n  upward normal of the ground in the aeroplane's axes (base/axes.py), at attitude a and bank b
    height of a point p      n . p - g
    lowest of a tyre         n . c - (r - w/2) sqrt(nx^2 + nz^2) - w/2

A tyre is a ring of round section: c middle, r radius over the tread, w width. Under weight its axle is raised by the
springing and its radius is less by what the tyre is pressed in; flat, it stands on its rim with the leg at its stop.
Axles rise straight up: a leg that swings out or aft as it gives way is not followed. Ground that is soft or uneven is
not in it. Everything by geometry; the three-point attitude is that of flight/near_ground.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
from scipy.optimize import brentq

from sparwright.base.axes import up
from sparwright.base.record import number
from sparwright.family.ground import Springing
from sparwright.family.model import Model, Wheel
from sparwright.flight.near_ground import stand

MOST_TURN = math.radians(45)  # a bank or attitude is looked for up to here


@dataclass(frozen=True)
class Feet:
    """The main wheel on the right, its twin on the left, and the tail wheel, in one state."""

    right: Wheel
    left: Wheel
    tail: Wheel


@dataclass(frozen=True)
class Pose:
    """Where the ground lies in the aeroplane's own axes."""

    attitude: float = number("rad", "of the thrust line, nose up", 0.0)
    bank: float = number("rad", "right wing low", 0.0)
    ground: float = number("m", "n . p of the ground", 0.0)

    @property
    def up(self) -> np.ndarray:
        """Upward normal of the ground in the aeroplane's axes."""
        return normal(self.attitude, self.bank)

    def height(self, points: np.ndarray) -> np.ndarray:
        """Heights above the ground, m, of points (3, n)."""
        return np.asarray(self.up @ points - self.ground)


@dataclass(frozen=True)
class Stood:
    """The wheels of a model hanging in the air, at rest under weight, and with the right main tyre flat.

    A state that is not known is None, and `why` says which key is missing or why it cannot stand so.
    """

    hanging: Feet | None = None
    rest: Feet | None = None
    flat: Feet | None = None
    why: str = ""
    why_flat: str = ""


def normal(attitude: float, bank: float) -> np.ndarray:
    """Upward normal of the ground in the aeroplane's axes, nose up and right wing low, rad.

    >>> normal(0.0, 0.0).tolist()
    [-0.0, -0.0, 1.0]
    """
    return np.array(up(attitude, bank))


def lowest(wheel: Wheel, up: np.ndarray) -> float:
    """n . p of the lowest point of a tyre, m."""
    ring = (wheel.diameter - wheel.width) / 2
    return float(up @ np.array(wheel.place)) - ring * math.hypot(up[0], up[2]) - wheel.width / 2


def contact(wheel: Wheel, up: np.ndarray) -> np.ndarray:
    """(3,) where a tyre touches the ground."""
    ring = (wheel.diameter - wheel.width) / 2
    flat = np.array([up[0], 0.0, up[2]])
    return np.asarray(np.array(wheel.place) - ring * flat / np.linalg.norm(flat) - wheel.width / 2 * up)


def stood(model: Model) -> Stood:
    """The wheels of a model in their three states."""
    on = stand(model.wheels)
    if on.main is None or on.tail is None:
        return Stood(why=on.reason, why_flat=on.reason)
    found = {s.name: s for s in model.ground.springing} if model.ground else {}
    hanging = _feet(on.main, on.main, on.tail)
    why = _missing(on.main, found, ("tyre", "leg")) or _missing(on.tail, found, ("tyre", "leg"))
    if why:
        return Stood(hanging, why=why, why_flat=why)
    main, tail = (under_weight(w, found[w.name]) for w in (on.main, on.tail))
    rest = _feet(main, main, tail)
    why_flat = _missing(on.main, found, ("rim", "stop"))
    flat = None if why_flat else _feet(with_flat_tyre(on.main, found[on.main.name]), main, tail)
    return Stood(hanging, rest, flat, "", why_flat)


def _missing(wheel: Wheel, found: dict[str, Springing], keys: tuple[str, ...]) -> str:
    """Which keys of a wheel's springing the file does not say."""
    s = found.get(wheel.name)
    absent = [f"ground.springing.{wheel.name}.{k}" for k in keys if s is None or getattr(s, k) is None]
    return f"the file does not say {' and '.join(absent)}" if absent else ""


def _feet(right: Wheel, left: Wheel, tail: Wheel) -> Feet:
    x, y, z = left.place
    return Feet(right, replace(left, place=(x, -y, z)), tail)


def under_weight(wheel: Wheel, s: Springing) -> Wheel:
    """A wheel as it stands still at the greatest mass: axle raised, tyre pressed in."""
    assert s.leg is not None and s.tyre is not None
    return _given_way(wheel, s.leg, wheel.diameter - 2 * s.tyre)


def with_flat_tyre(wheel: Wheel, s: Springing) -> Wheel:
    """A wheel on its rim, its leg at its stop."""
    assert s.stop is not None and s.rim is not None
    return _given_way(wheel, s.stop, s.rim)


def _given_way(wheel: Wheel, rise: float, diameter: float) -> Wheel:
    x, y, z = wheel.place
    return replace(wheel, place=(x, y, z + rise), diameter=diameter)


def level(feet: Feet) -> Pose:
    """Thrust line and wings level on the main wheels, the tail held up."""
    return Pose(ground=lowest(feet.right, normal(0, 0)))


def tail_down(feet: Feet) -> Pose:
    """On all three wheels. ValueError where there is no such attitude."""
    on = stand((feet.right, feet.tail))
    if on.reason:
        raise ValueError(on.reason)
    return Pose(on.attitude, 0.0, lowest(feet.right, normal(on.attitude, 0)))


def tilted_level(feet: Feet, bank: float) -> Pose:
    """Thrust line level, tilted over the right main wheel."""
    return Pose(0.0, bank, lowest(feet.right, normal(0, bank)))


def tilted_down(feet: Feet, bank: float) -> Pose:
    """On the right main wheel and the tail wheel, tilted over the line between them."""

    def gap(a: float) -> float:
        up = normal(a, bank)
        return lowest(feet.right, up) - lowest(feet.tail, up)

    a = _root(gap, -MOST_TURN, MOST_TURN)
    return Pose(a, bank, lowest(feet.right, normal(a, bank)))


def lame(feet: Feet) -> Pose:
    """Thrust line level on two main wheels that stand at different heights (one of them flat)."""

    def gap(b: float) -> float:
        up = normal(0, b)
        return lowest(feet.right, up) - lowest(feet.left, up)

    b = _root(gap, -MOST_TURN, MOST_TURN)
    return Pose(0.0, b, lowest(feet.right, normal(0, b)))


def _root(gap: Callable[[float], float], low: float, high: float) -> float:
    """Where gap is nought. ValueError when it does not change sign."""
    return float(brentq(gap, low, high, xtol=1e-14))
