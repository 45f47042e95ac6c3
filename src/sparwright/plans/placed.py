"""Lettering set down where it is free: each label near what it names, off other lettering and off every line.

A label tries places round its point, near ones first and in the order of ways it likes. One that finds no free place
near gets a leader. What is fixed (lines, dimensions, lettering) is never moved. A label for which no place is free at
any distance is told, so that nothing is silently left out.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

import numpy as np
import shapely

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.plans.clash import line_of
from sparwright.plans.drawing import DRAFTING, Box, Circle, Line, Point, Stroke, Text, is_line
from sparwright.plans.lettering import ABOVE, BELOW, box, em, width

WAYS = (45.0, 135.0, 315.0, 225.0, 0.0, 180.0, 90.0, 270.0)  # deg, of a label from its point
NEAR = 2.2  # mm, from the point to the lettering without a leader
FAR = (6.0, 9.0, 13.0, 18.0, 24.0, 31.0, 40.0, 52.0, 66.0, 84.0, 105.0, 130.0, 160.0, 200.0)  # mm, with one
CROWD = 45.0  # mm: points nearer than this crowd one another
PATIENCE = 6  # turns before balloons keep further off
TRIES = 60  # times all are set down
ROUND = 24  # ways tried at each distance with a leader
BALLOON = 1.9  # half width of a balloon over the height of its capitals


@dataclass(frozen=True)
class Label:
    """Words for a point of a drawing."""

    content: str
    at: Point
    size: float = number("mm", "height of capitals", DRAFTING.small)
    ways: tuple[float, ...] = number("deg", "from the point, those liked best first", WAYS)
    bold: bool = False
    ringed: bool = False  # in a circle on a leader, as parts are called out
    clear: float = number("mm", "half width of what is drawn at the point itself", 0.0)
    layer: str = "note"


@dataclass
class _Taken:
    """What is on the paper already."""

    lines: shapely.STRtree
    boxes: list[shapely.Geometry] = field(default_factory=list)
    leaders: list[shapely.Geometry] = field(default_factory=list)

    def free(self, wanted: np.ndarray, room: shapely.Geometry) -> np.ndarray:
        """(n,) which of some boxes lie inside the room, off every line, leader and lettering."""
        good = np.asarray(shapely.within(wanted, room))
        hit = self.lines.query(wanted, predicate="intersects")[0]
        good[hit] = False
        for others in (self.boxes, self.leaders):
            if others and good.any():
                tree = shapely.STRtree(others)
                good[tree.query(wanted, predicate="intersects")[0]] = False
        return good


def placed(labels: Sequence[Label], fixed: Sequence[Stroke], room: Box) -> tuple[Stroke, ...]:
    """The labels as strokes. DesignProblem names one for which there is no room at all.

    Names stand close by and go first, balloons find what is left. One that finds no way out of a crowd goes before all
    others, and they are set down once more; after some turns all balloons keep further off.
    """
    order = sorted(outwards(labels), key=lambda x: x.ringed)
    inside = shapely.box(room.left, room.bottom, room.right, room.top)
    for turn in range(TRIES):
        found, lost = _all(order, _taken(fixed), inside, min(turn // PATIENCE, len(FAR) - 3))
        if lost is None:
            return tuple(found)
        order = [lost, *(x for x in order if x is not lost)]
    raise DesignProblem(f"no room on the sheet for {order[0].content!r}")


def outwards(labels: Sequence[Label]) -> list[Label]:
    """The labels, each in a ring liking best the way out of the crowd round it, so that leaders run apart."""
    points = np.array([x.at for x in labels], float).reshape(-1, 2)
    found = []
    for label, at in zip(labels, points, strict=True):
        away = at - points
        near = np.hypot(*away.T) < CROWD
        way = away[near].mean(axis=0)
        if label.ringed and near.sum() > 2 and np.hypot(*way) > 0.5:
            first = math.degrees(math.atan2(way[1], way[0]))
            label = replace(label, ways=(first, *label.ways))
        found.append(label)
    return found


def _all(order: Sequence[Label], taken: _Taken, room: shapely.Geometry, off: int
         ) -> tuple[list[Stroke], Label | None]:  # fmt: skip
    """(strokes, the first label without a place). off: how many of the nearest distances balloons leave free."""
    found: list[Stroke] = []
    for label in order:
        strokes = _set(label, taken, room, off)
        if strokes is None:
            return found, label
        found += strokes
    return found, None


def _taken(fixed: Sequence[Stroke]) -> _Taken:
    lines = [line_of(s) for s in fixed if is_line(s)]
    return _Taken(shapely.STRtree(lines), [shapely.Polygon(box(s, 0.4)) for s in fixed if isinstance(s, Text)])


def _set(label: Label, taken: _Taken, room: shapely.Geometry, off: int) -> list[Stroke] | None:
    """At the first free place; leaders cross each other only where no place is free without."""
    for crossing in (False, True):
        for far in FAR[off:] if label.ringed else (NEAR, *FAR):
            found = _at(label, far, taken, room, crossing)
            if found is not None:
                return found
    return None


def _at(label: Label, far: float, taken: _Taken, room: shapely.Geometry, crossing: bool) -> list[Stroke] | None:
    ways = label.ways if far == NEAR else _round(label.ways[0])
    places = [_middle(label, way, far) for way in ways]
    boxes = np.array([_box(label, p) for p in places])
    for i in np.flatnonzero(taken.free(boxes, room)):
        leader = None if far == NEAR else _leader(label, places[i])
        if leader is not None and _through(leader, taken.boxes if crossing else [*taken.boxes, *taken.leaders]):
            continue
        taken.boxes.append(boxes[i])
        if leader is not None:
            taken.leaders.append(leader)
        return _strokes(label, places[i], leader)
    return None


def _round(first: float) -> tuple[float, ...]:
    """Ways all round, the liked one first, then to both sides of it in turn."""
    step = 360.0 / ROUND
    return tuple(first + s * step * ((i + 1) // 2) for i in range(ROUND) for s in ((1 if i % 2 else -1),))


def _half(label: Label) -> tuple[float, float]:
    """Half width and half height of the lettering, or of its ring, mm."""
    wide = width(label.content, label.size, label.bold) / 2
    if label.ringed:
        r = max(wide + 1.0, label.size * BALLOON / 2 + 1.0)
        return r, r
    return wide, (ABOVE + BELOW) * em(label.size) / 2


def _middle(label: Label, way: float, far: float) -> Point:
    """The middle of the lettering so that its edge is `far` from the point's own edge in that way."""
    c, s = math.cos(math.radians(way)), math.sin(math.radians(way))
    a, b = _half(label)
    reach = min(a / abs(c) if abs(c) > 1e-9 else math.inf, b / abs(s) if abs(s) > 1e-9 else math.inf)
    away = far + label.clear + (a if label.ringed else reach)
    return label.at[0] + away * c, label.at[1] + away * s


def _box(label: Label, middle: Point) -> shapely.Geometry:
    (a, b), g = _half(label), 0.6
    x, y = middle
    return shapely.box(x - a - g, y - b - g, x + a + g, y + b + g)


def _leader(label: Label, middle: Point) -> shapely.LineString:
    """From the point's edge to the edge of the lettering."""
    a, b = _half(label)
    dx, dy = middle[0] - label.at[0], middle[1] - label.at[1]
    long = math.hypot(dx, dy)
    c, s = dx / long, dy / long
    edge = a if label.ringed else min(a / abs(c) if abs(c) > 1e-9 else math.inf,
                                      b / abs(s) if abs(s) > 1e-9 else math.inf) + 0.8  # fmt: skip
    start = label.at[0] + c * label.clear, label.at[1] + s * label.clear
    return shapely.LineString((start, (middle[0] - c * edge, middle[1] - s * edge)))


def _through(leader: shapely.LineString, others: Sequence[shapely.Geometry]) -> bool:
    """Whether a leader runs through one of other things."""
    return bool(others) and bool(np.any(shapely.intersects(leader, np.array(others))))


def _strokes(label: Label, middle: Point, leader: shapely.LineString | None) -> list[Stroke]:
    base = middle[1] - label.size / 2 if label.ringed else middle[1] - (ABOVE - BELOW) * em(label.size) / 2
    found: list[Stroke] = [Text(label.content, (middle[0], base), label.size, 0.0, "middle", label.bold, label.layer)]
    if label.ringed:
        found.append(Circle(middle, _half(label)[0], label.layer))
    if leader is not None:
        (x0, y0), (x1, y1) = leader.coords
        found.append(Line((x0, y0), (x1, y1), label.layer))
    return found
