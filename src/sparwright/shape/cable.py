"""The way of a tight cable over pulleys and through rings: its length, how far it lies round each, where it turns.

On a pulley the cable's middle runs on a circle of radius r in the pulley's plane. From a point at a distance d of the
middle, measured in the plane, it meets the circle at

    a = arccos(r/d)

before the line from the middle to the point (coming) or behind it (going); between the two points it lies on the arc
r times the angle. Straight parts run from point to point in space, so a cable that comes askew is as long as it is;
how far it is askew is told. A ring is a point that the cable passes. Source: geometry, worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sparwright.base.record import locked, number

SETTLED = 1e-13  # m
MOST = 200  # rounds
BEND = math.radians(8)  # between drawn points of an arc

Vector = tuple[float, float, float]  # three numbers are worked with one by one: an array of three costs ten times that


@dataclass(frozen=True)
class Wheel:
    """The circle a cable's middle runs on."""

    centre: np.ndarray = number("m", "(3,) middle")
    normal: np.ndarray = number("1", "(3,) its axis; the cable goes round it right-handed")
    radius: float = number("m", "to the middle of the cable")

    @cached_property
    def middle(self) -> Vector:
        """Its centre, m."""
        return _plain(self.centre)

    @cached_property
    def axis(self) -> Vector:
        """Its normal."""
        return _plain(self.normal)

    def touch(self, point: Vector, going: bool) -> Vector:
        """Where a straight part from a point comes to the circle, or leaves it for the point, m."""
        (cx, cy, cz), n, r = self.middle, self.axis, self.radius
        out = (point[0] - cx, point[1] - cy, point[2] - cz)
        off = _dot(out, n)
        x, y, z = out[0] - off * n[0], out[1] - off * n[1], out[2] - off * n[2]
        far = math.sqrt(x * x + y * y + z * z)
        if far <= r:
            raise ValueError("a cable's end lies within a pulley")
        first = (x / far, y / far, z / far)
        second = _cross(n, first)
        c = r / far  # cosine of the angle
        s = math.sqrt(1.0 - c * c) * (-1.0 if going else 1.0)
        return (
            cx + r * (c * first[0] + s * second[0]),
            cy + r * (c * first[1] + s * second[1]),
            cz + r * (c * first[2] + s * second[2]),
        )

    def between(self, coming: Vector, going: Vector) -> float:
        """The angle from one point of the circle to another, within half a turn either way, rad."""
        a, b = _less(coming, self.middle), _less(going, self.middle)
        return math.atan2(_dot(_cross(a, b), self.axis), _dot(a, b))


@dataclass(frozen=True)
class Way:
    """A cable's way at one stance."""

    length: float = number("m", "from end to end")
    line: np.ndarray = number("m", "(n, 3) points along it, arcs in steps")
    straights: tuple[np.ndarray, ...] = ()  # (2, 3) m each, in order
    wraps: tuple[float, ...] = number("rad", "how far it lies round each pulley; negative: it has left it", ())
    turns: tuple[float, ...] = number("rad", "by how much it changes direction in each ring", ())
    askew: tuple[float, ...] = number("rad", "greater angle of its two parts to each pulley's plane", ())

    def at(self, along: float) -> tuple[np.ndarray, np.ndarray]:
        """(place, direction), (3,) each, at a distance along it."""
        steps = np.diff(self.line, axis=0)
        far = np.concatenate([[0.0], np.cumsum(np.linalg.norm(steps, axis=1))])
        i = int(np.clip(np.searchsorted(far, along, side="right") - 1, 0, len(steps) - 1))
        unit = steps[i] / np.linalg.norm(steps[i])
        return self.line[i] + (along - far[i]) * unit, unit


def wheel_in(
    before: np.ndarray, corner: np.ndarray, after: np.ndarray, radius: float, axis: np.ndarray | None = None
) -> Wheel:
    """The wheel that turns a cable at the corner of its way; ValueError where it does not turn there.

    The middle lies on the line that halves the corner, r/cos(half the turn) from it. An axis of its own, where given,
    is turned to the side the cable needs.
    """
    u, v = _unit(corner - before), _unit(after - corner)
    normal = np.cross(u, v)
    if np.linalg.norm(normal) < 1e-6:
        raise ValueError("the cable goes straight on there")
    half = math.acos(float(np.clip(u @ v, -1.0, 1.0))) / 2
    centre = corner + radius / math.cos(half) * _unit(v - u)
    if axis is not None:
        return Wheel(locked(centre), locked(_unit(axis) * (1.0 if axis @ normal > 0 else -1.0)), radius)
    return Wheel(locked(centre), locked(_unit(normal)), radius)


def way(start: np.ndarray, over: Sequence[Wheel | np.ndarray], end: np.ndarray) -> Way:
    """A tight cable from start to end; `over`: pulleys and (3,) rings in order. ValueError for an end in a pulley."""
    touch = _touching(_plain(start), over, _plain(end))
    straights = tuple(np.array([touch[i][1], touch[i + 1][0]]) for i in range(len(touch) - 1))
    units = [_unit(s[1] - s[0]) for s in straights]
    wraps, turns, askew, line = [], [], [], [start]
    for i, thing in enumerate(over, 1):
        if isinstance(thing, Wheel):
            wraps.append(thing.between(*touch[i]))
            askew.append(max(math.asin(min(1.0, abs(float(u @ thing.normal)))) for u in units[i - 1 : i + 1]))
            line += _arc(thing, np.array(touch[i][0]), wraps[-1])
        else:
            turns.append(math.acos(float(np.clip(units[i - 1] @ units[i], -1.0, 1.0))))
            line.append(thing)
    return Way(_long(touch, over), locked([*line, end]), straights, tuple(wraps), tuple(turns), tuple(askew))


def length(start: np.ndarray, over: Sequence[Wheel | np.ndarray], end: np.ndarray) -> float:
    """How long a tight cable is from start to end, m; as `way` tells it, without its line."""
    if not over:
        return math.dist(start, end)
    return _long(_touching(_plain(start), over, _plain(end)), over)


def grown(
    start: np.ndarray, over: Sequence[Wheel | np.ndarray], end: np.ndarray
) -> tuple[float, np.ndarray, np.ndarray]:
    """(how long a tight cable is, m; (3,) unit vectors out of it at its start and its end)."""
    touch = _touching(_plain(start), over, _plain(end))
    return _long(touch, over), _unit(start - np.array(touch[1][0])), _unit(end - np.array(touch[-2][1]))


def _long(touch: Sequence[tuple[Vector, Vector]], over: Sequence[Wheel | np.ndarray]) -> float:
    straight = sum(math.dist(touch[i][1], touch[i + 1][0]) for i in range(len(touch) - 1))
    return straight + sum(t.radius * t.between(*touch[i]) for i, t in enumerate(over, 1) if isinstance(t, Wheel))


def _touching(start: Vector, over: Sequence[Wheel | np.ndarray], end: Vector) -> list[tuple[Vector, Vector]]:
    """(where it comes, where it goes) at the start, each thing on the way and the end; in rounds until none moves."""
    places = [t.middle if isinstance(t, Wheel) else _plain(t) for t in over]
    found = [(start, start), *((p, p) for p in places), (end, end)]
    wheels = [(i, t) for i, t in enumerate(over, 1) if isinstance(t, Wheel)]
    for _ in range(MOST):
        moved = 0.0
        for i, wheel in wheels:
            both = wheel.touch(found[i - 1][1], False), wheel.touch(found[i + 1][0], True)
            for a, b in zip(both, found[i], strict=True):
                moved = max(moved, abs(a[0] - b[0]), abs(a[1] - b[1]), abs(a[2] - b[2]))
            found[i] = both
        if moved < SETTLED:
            break
    return found


def _arc(wheel: Wheel, coming: np.ndarray, wrap: float) -> list[np.ndarray]:
    a = coming - wheel.centre
    b = np.cross(wheel.normal, a)
    count = max(2, math.ceil(abs(wrap) / BEND) + 1)
    return [wheel.centre + math.cos(t) * a + math.sin(t) * b for t in np.linspace(0.0, wrap, count)]


def _unit(v: np.ndarray) -> np.ndarray:
    return np.asarray(v / np.linalg.norm(v))


def _plain(v: np.ndarray) -> Vector:
    return float(v[0]), float(v[1]), float(v[2])


def _less(a: Vector, b: Vector) -> Vector:
    return a[0] - b[0], a[1] - b[1], a[2] - b[2]


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]
