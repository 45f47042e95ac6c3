"""A closed polyline as straight lines and true arcs, for a machine that cuts arcs.

    from a corner on, each stretch goes as far as one line or one arc keeps every point of the polyline, and the middle
    of each of its sides, within the tolerance; an arc runs through the stretch's first, middle and last point
    bulge = tan(angle / 4), the angle turned through, anticlockwise positive

So the path leaves the polyline by no more than the tolerance and closes on itself. The middles matter: three points lie
on a circle whatever corner they make. Worked out here; bulges as DXF has them.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import shapely

from sparwright.base.record import number

MOST = math.pi * 0.999  # rad one arc turns through: half a circle, so that no arc closes on itself
STRAIGHT = 1e-9
HALVINGS = 6  # of the tolerance, for a path that crosses itself
CHECKED = 0.004  # rad, of an arc's steps where a path is looked at for crossings
CORNER = 0.6  # rad: a polyline that stands for a curve turns less at each point; no stretch goes over such a corner


@dataclass(frozen=True)
class Vertex:
    """A point of a path, and the bulge of what leads to the next one: nought for a line."""

    x: float = number("mm", "place")
    y: float = number("mm", "place")
    bulge: float = number("1", "tangent of a quarter of the angle turned through", 0.0)


def circle_of(ring: np.ndarray, tolerance: float) -> tuple[float, float, float] | None:
    """(x, y, radius) of the circle a closed polyline is, within the tolerance; None where it is none.

    >>> a = np.linspace(0, 2 * np.pi, 60, endpoint=False)
    >>> tuple(round(v, 3) for v in circle_of(np.column_stack([3 + 2 * np.cos(a), 2 * np.sin(a)]), 0.01))
    (3.0, 0.0, 2.0)
    """
    if len(ring) < 8:
        return None
    x, y = ring.T
    system = np.column_stack([2 * x, 2 * y, np.ones(len(ring))])
    (cx, cy, c), *_ = np.linalg.lstsq(system, x * x + y * y, rcond=None)
    radius = math.sqrt(max(c + cx * cx + cy * cy, 0.0))
    middles = (ring + np.roll(ring, -1, axis=0)) / 2
    far = np.abs(np.hypot(np.vstack([ring, middles])[:, 0] - cx, np.vstack([ring, middles])[:, 1] - cy) - radius)
    return (float(cx), float(cy), radius) if far.max() <= tolerance else None


def path_of(ring: np.ndarray, tolerance: float) -> tuple[Vertex, ...]:
    """The closed path of a closed polyline (n, 2), mm, that does not repeat its first point and does not cross itself.

    An arc that begins nearly along the line before it may cross it within the tolerance: a machine's offset fails on
    such a loop. Then the tolerance is halved, and if no halving helps, the polyline itself is the path.
    """
    for halved in range(HALVINGS):
        found = _path(ring, tolerance / 2**halved)
        if shapely.LinearRing(drawn(found, CHECKED)).is_simple:
            return found
    return tuple(Vertex(float(x), float(y)) for x, y in ring)


def _path(ring: np.ndarray, tolerance: float) -> tuple[Vertex, ...]:
    turn = _turns(ring)
    start = int(np.argmax(np.round(turn, 6)))
    points = np.vstack([np.roll(ring, -start, axis=0), ring[start]])
    corners = np.append(np.flatnonzero(np.roll(turn, -start) > CORNER), len(points) - 1)
    found: list[Vertex] = []
    at = 0
    while at < len(points) - 1:
        last, bulge = _reach(points, at, int(corners[np.searchsorted(corners, at, side="right")]), tolerance)
        found.append(Vertex(float(points[at][0]), float(points[at][1]), bulge))
        at = last
    return tuple(found)


def _turns(ring: np.ndarray) -> np.ndarray:
    """(n,) rad by which the polyline turns at each point, either way."""
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    across = before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0]
    return np.asarray(np.abs(np.arctan2(across, (before * after).sum(axis=1))))


def _reach(points: np.ndarray, at: int, corner: int, tolerance: float) -> tuple[int, float]:
    """The last point up to the next corner that a line or arc from `at` reaches, and its bulge: steps double, halve."""
    good, bulge = at + 1, 0.0
    step = 1
    while step:
        last = min(good + step, corner)
        fitted = _fit(points[at : last + 1], tolerance) if last > good else None
        if fitted is None:
            step //= 2
        else:
            good, bulge = last, fitted
            step *= 2
    return good, bulge


def _fit(points: np.ndarray, tolerance: float) -> float | None:
    """The bulge of the line or arc through a stretch; None where neither keeps to it."""
    chord, away = points[-1] - points[0], points - points[0]
    long = math.hypot(*chord)
    if long < 1e-9:
        return None
    off = np.abs(chord[0] * away[:, 1] - chord[1] * away[:, 0]).max() / long
    if off <= tolerance:
        along = away @ chord / long
        on = along.min() > -tolerance and along.max() < long + tolerance
        if on and off <= tolerance / 10:
            return 0.0
    centre = _centre(points[0], points[len(points) // 2], points[-1])
    if centre is None:
        return 0.0 if off <= tolerance and on else None
    spokes = points - centre
    radius = math.hypot(*spokes[0])
    middles = (spokes[1:] + spokes[:-1]) / 2
    if _off_circle(spokes, radius) > tolerance or _off_circle(middles, radius) > tolerance:
        return None
    turn = spokes[:-1, 0] * spokes[1:, 1] - spokes[:-1, 1] * spokes[1:, 0]
    if not (turn.min() > -STRAIGHT or turn.max() < STRAIGHT):
        return None
    whole = float(np.arctan2(turn, (spokes[:-1] * spokes[1:]).sum(axis=1)).sum())
    return math.tan(whole / 4) if abs(whole) <= MOST else None


def _off_circle(spokes: np.ndarray, radius: float) -> float:
    return float(np.abs(np.hypot(spokes[:, 0], spokes[:, 1]) - radius).max())


def _centre(a: np.ndarray, b: np.ndarray, c: np.ndarray) -> np.ndarray | None:
    """Middle of the circle through three points; None where they lie on a line."""
    u, v = b - a, c - a
    d = 2 * (u[0] * v[1] - u[1] * v[0])
    if abs(d) < 1e-9:
        return None
    uu, vv = u @ u, v @ v
    return np.asarray(a + np.array([v[1] * uu - u[1] * vv, u[0] * vv - v[0] * uu]) / d)


def drawn(path: tuple[Vertex, ...], step: float = 0.02) -> np.ndarray:
    """(n, 2) the closed path as points again, arcs in steps of that many rad, for measuring."""
    found = []
    for v, w in zip(path, (*path[1:], path[0]), strict=True):
        found.append((v.x, v.y))
        if v.bulge:
            whole = 4 * math.atan(v.bulge)
            half = math.hypot(w.x - v.x, w.y - v.y) / 2
            radius = half / math.sin(abs(whole) / 2)
            up = (radius - abs(v.bulge) * half) * (1 if v.bulge > 0 else -1)
            nx, ny = -(w.y - v.y) / (2 * half), (w.x - v.x) / (2 * half)
            cx, cy = (v.x + w.x) / 2 + nx * up, (v.y + w.y) / 2 + ny * up
            first = math.atan2(v.y - cy, v.x - cx)
            for a in np.linspace(0, whole, max(2, math.ceil(abs(whole) / step)) + 1)[1:-1]:
                found.append((cx + radius * math.cos(first + a), cy + radius * math.sin(first + a)))
    return np.array(found)
