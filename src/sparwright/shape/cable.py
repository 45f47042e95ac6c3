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

import numpy as np

from sparwright.base.record import locked, number

SETTLED = 1e-13  # m
MOST = 200  # rounds
BEND = math.radians(8)  # between drawn points of an arc


@dataclass(frozen=True)
class Wheel:
    """The circle a cable's middle runs on."""

    centre: np.ndarray = number("m", "(3,) middle")
    normal: np.ndarray = number("1", "(3,) its axis; the cable goes round it right-handed")
    radius: float = number("m", "to the middle of the cable")

    def _flat(self, point: np.ndarray) -> tuple[np.ndarray, np.ndarray, float]:
        """(two unit vectors in the plane, the first towards a point; its distance in the plane)."""
        out = point - self.centre
        out = out - (out @ self.normal) * self.normal
        far = float(np.linalg.norm(out))
        if far <= self.radius:
            raise ValueError("a cable's end lies within a pulley")
        first = out / far
        return first, np.cross(self.normal, first), far

    def touch(self, point: np.ndarray, going: bool) -> np.ndarray:
        """(3,) where a straight part from a point comes to the circle, or leaves it for the point."""
        first, second, far = self._flat(point)
        angle = math.acos(self.radius / far) * (-1.0 if going else 1.0)
        return np.asarray(self.centre + self.radius * (math.cos(angle) * first + math.sin(angle) * second))

    def between(self, coming: np.ndarray, going: np.ndarray) -> float:
        """The angle from one point of the circle to another, within half a turn either way, rad."""
        a, b = (coming - self.centre) / self.radius, (going - self.centre) / self.radius
        return math.atan2(float(np.cross(a, b) @ self.normal), float(a @ b))


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
    touch = _touching(start, over, end)
    straights = tuple(np.array([touch[i][1], touch[i + 1][0]]) for i in range(len(touch) - 1))
    units = [_unit(s[1] - s[0]) for s in straights]
    length = sum(float(np.linalg.norm(s[1] - s[0])) for s in straights)
    wraps, turns, askew, line = [], [], [], [start]
    for i, thing in enumerate(over, 1):
        if isinstance(thing, Wheel):
            wrap = thing.between(*touch[i])
            wraps.append(wrap)
            length += thing.radius * wrap
            askew.append(max(math.asin(min(1.0, abs(float(u @ thing.normal)))) for u in units[i - 1 : i + 1]))
            line += _arc(thing, touch[i][0], wrap)
        else:
            turns.append(math.acos(float(np.clip(units[i - 1] @ units[i], -1.0, 1.0))))
            line.append(thing)
    return Way(length, locked([*line, end]), straights, tuple(wraps), tuple(turns), tuple(askew))


def _touching(
    start: np.ndarray, over: Sequence[Wheel | np.ndarray], end: np.ndarray
) -> list[tuple[np.ndarray, np.ndarray]]:
    """(where it comes, where it goes) at the start, each thing on the way and the end; in rounds until none moves."""
    found = [(start, start), *((t.centre, t.centre) if isinstance(t, Wheel) else (t, t) for t in over), (end, end)]
    for _ in range(MOST):
        moved = 0.0
        for i, thing in enumerate(over, 1):
            if isinstance(thing, Wheel):
                both = thing.touch(found[i - 1][1], False), thing.touch(found[i + 1][0], True)
                moved = max(moved, *(float(np.abs(a - b).max()) for a, b in zip(both, found[i], strict=True)))
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
