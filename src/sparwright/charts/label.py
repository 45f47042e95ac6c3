"""Where a line's name stands: beside the line, clear of everything, nearer to it than to any other line.

The rule, for each name in turn, those with the least choice first:
1. beside its own line: boxes that touch the line's clear gap above, below, left and right of points along it. A box
   counts when it is inside the room, clear of every stroke and word, and at least twice as near to its own line as to
   any other named one. The one whose middle lies nearest to its line is taken, of equals the one farthest right.
2. else anywhere clear, with a leader that ends on its own line, crosses no other line and no word; the shortest.
3. else the same with a leader that may cross lines, never words or other leaders; its dot tells where it ends.
4. else it is left out, and the caller must say it elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sparwright.base.record import number
from sparwright.charts.page import CHARTING, words
from sparwright.plans.drawing import Box, Circle, Line, Text
from sparwright.plans.lettering import ABOVE, BELOW, em, width

ALONG = 1.5  # mm between the points tried along a line
GRID = 2.0  # mm between the places tried for a name with a leader
NEARER = 2.0  # a name is so many times nearer to its own line than to another
RIGHT = 0.02  # mm of nearness given up for a mm farther right
DOT = 0.45  # mm, radius of the dot that ends a leader
APART = 6.0  # mm2: a leader is APART/d shorter wished for where its end lies d mm from the next line
TRIED = 2000  # leaders looked at together, shortest first
KEEP = 0.6 * CHARTING.gap  # mm between a word and any stroke
NOTHING = shapely.GeometryCollection()
LONGEST = 40.0  # mm of leader; a name farther off is better told below the chart
OFF = 0.35  # mm between a name and its leader


@dataclass(frozen=True)
class Name:
    """A name and the line, or point, it belongs to, mm on the page."""

    text: str
    of: BaseGeometry
    radius: float = number("mm", "half width of the marks at points; nought for a line", 0.0)
    size: float = number("mm", "height of capitals", CHARTING.small)
    bold: bool = False

    @property
    def solid(self) -> BaseGeometry:
        """What of it other words keep clear of."""
        return self.of.buffer(self.radius) if self.radius else self.of


@dataclass(frozen=True)
class Named:
    """A name that has its place; a leader and its dot where it does not stand beside its line."""

    name: Name
    text: Text
    box: Box
    leader: Line | None = None
    dot: Circle | None = None


def place(names: Sequence[Name], room: Box, obstacles: Sequence[BaseGeometry]) -> tuple[list[Named], list[Name]]:
    """(placed, left out): a place for each name inside `room`, clear of the names' lines and the `obstacles`."""
    placed: list[Named] = []
    left: list[Name] = []
    still = _union([*obstacles, *(n.solid for n in names)])
    choice = {i: _beside(n, names, room, still) for i, n in enumerate(names)}
    while choice:
        i = min(choice, key=lambda k: len(choice[k][1]) or math.inf)
        boxes, cost = choice.pop(i)
        name = names[i]
        found = _named(name, boxes[:, int(np.argmin(cost))]) if len(cost) else _led(i, names, room, obstacles, placed)
        if found is None:
            left.append(name)
            continue
        placed.append(found)
        choice = {k: _without(*c, found) for k, c in choice.items()}
    return placed, left


def _union(shapes: Sequence[BaseGeometry]) -> BaseGeometry:
    """All of them together, thinned by less than shows, and made ready for many questions."""
    whole = shapely.union_all(shapely.simplify(np.array(list(shapes), dtype=object), 0.02)) if shapes else NOTHING
    shapely.prepare(whole)
    return whole


def _taken(found: Named) -> BaseGeometry:
    b = found.box
    shape = shapely.box(b.left, b.bottom, b.right, b.top)
    return shape if found.leader is None else shape.union(_line(found.leader))


def _line(leader: Line) -> shapely.LineString:
    return shapely.LineString((leader.start, leader.end))


def _without(boxes: np.ndarray, cost: np.ndarray, found: Named) -> tuple[np.ndarray, np.ndarray]:
    """The places that are left when one more name stands."""
    free = ~shapely.dwithin(shapely.box(*boxes), _taken(found), KEEP) if len(cost) else np.zeros(0, bool)
    return boxes[:, free], cost[free]


def _sizes(name: Name) -> tuple[float, float]:
    return width(name.text, name.size, name.bold), (ABOVE + BELOW) * em(name.size)


def _others(name: Name, names: Sequence[Name]) -> BaseGeometry:
    return _union([n.of for n in names if n is not name])


def _beside(name: Name, names: Sequence[Name], room: Box, still: BaseGeometry) -> tuple[np.ndarray, np.ndarray]:
    """(boxes (4, k), cost (k,)) of the places beside the name's own line that count."""
    boxes = _round_points(_points(name.of), CHARTING.gap + name.radius, *_sizes(name))
    boxes = boxes[:, _inside(boxes, room)]
    boxes = boxes[:, ~shapely.dwithin(still, shapely.box(*boxes), KEEP)]
    other, shapes = _others(name, names), shapely.box(*boxes)
    own = shapely.distance(shapes, name.of)
    clear = shapely.distance(shapes, other) >= NEARER * own if not other.is_empty else np.full(own.shape, True)
    middle = shapely.points((boxes[0] + boxes[2]) / 2, (boxes[1] + boxes[3]) / 2)
    cost = shapely.distance(middle, name.of) + RIGHT * (room.right - boxes[2])
    return boxes[:, clear], cost[clear]


def _points(of: BaseGeometry) -> np.ndarray:
    """(2, n) points along a line, or the point itself."""
    parts = [g for g in getattr(of, "geoms", [of]) if not g.is_empty]
    found = []
    for part in parts:
        if part.length == 0:
            found.append(np.array(part.coords).T[:2])
            continue
        along = np.linspace(0, part.length, max(int(part.length / ALONG), 2) + 1)
        found.append(shapely.get_coordinates(shapely.line_interpolate_point(part, along)).T)
    return np.hstack(found) if found else np.zeros((2, 0))


def _round_points(at: np.ndarray, gap: float, wide: float, tall: float) -> np.ndarray:
    """(4, n) left, low, right, high of boxes round points: above and below in three shifts, left and right."""
    x, y = at
    lefts = [(x - f * wide, y + g) for f in (0.0, 0.5, 1.0) for g in (gap, -gap - tall)]
    lefts += [(x + gap, y - tall / 2), (x - gap - wide, y - tall / 2)]
    left, low = np.concatenate([a for a, _ in lefts]), np.concatenate([b for _, b in lefts])
    return np.array([left, low, left + wide, low + tall])


def _inside(boxes: np.ndarray, room: Box) -> np.ndarray:
    left, low, right, high = boxes
    inside = (left >= room.left) & (low >= room.bottom) & (right <= room.right) & (high <= room.top)
    return np.asarray(inside)


def _named(name: Name, box: np.ndarray) -> Named:
    left, low, right, high = map(float, box)
    text = words(name.text, (left, low + BELOW * em(name.size)), size=name.size, bold=name.bold)
    return Named(name, text, Box(left, low, right, high))


def _led(
    i: int, names: Sequence[Name], room: Box, obstacles: Sequence[BaseGeometry], placed: Sequence[Named]
) -> Named | None:
    """The clear place with the shortest leader that crosses nothing, else no word; None when there is none."""
    name = names[i]
    if name.of.is_empty:
        return None
    wide, tall = _sizes(name)
    x, y = np.meshgrid(np.arange(room.left, room.right - wide, GRID), np.arange(room.bottom, room.top - tall, GRID))
    left, low = x.ravel(), y.ravel()
    boxes = np.array([left, low, left + wide, low + tall])
    standing = [_taken(p) for p in placed]
    everything = _union([*obstacles, *(n.solid for n in names), *standing])
    boxes = boxes[:, ~shapely.dwithin(everything, shapely.box(*boxes), 2 * CHARTING.gap)]
    targets, wish = _targets(name, names)
    crossed = [*obstacles, *(n.solid for n in names if n is not name), *standing]
    for walls in (crossed, standing):
        found = _shortest(name, boxes, targets, wish, _union(walls))
        if found:
            return found
    return None


def _targets(name: Name, names: Sequence[Name]) -> tuple[np.ndarray, np.ndarray]:
    """((2, n) places a leader may end at, (n,) mm each is less liked): where other lines are well away."""
    targets, other = _points(name.of), _others(name, names)
    if name.radius or other.is_empty:
        return targets, np.zeros(targets.shape[1])
    apart = shapely.distance(shapely.points(targets.T), other)
    good = apart >= min(2 * DOT, float(np.max(apart)) / 2)
    return targets[:, good], APART / np.maximum(apart[good], DOT)


def _shortest(
    name: Name, boxes: np.ndarray, targets: np.ndarray, wish: np.ndarray, walls: BaseGeometry
) -> Named | None:
    """The shortest leader from the edge of a box to a target that keeps clear of the walls; None when none does.

    wish: (targets,) mm that each target is less liked.
    """
    near = np.clip(targets[:, None, :], boxes[:2, :, None], boxes[2:, :, None])  # (2, boxes, targets)
    long = np.hypot(*(near - targets[:, None, :]))
    order = np.argsort(long + wish, axis=None)
    order = order[long.ravel()[order] <= LONGEST]
    for start in range(0, order.size, TRIED):
        i, j = np.unravel_index(order[start : start + TRIED], long.shape)
        room = long[i, j] > OFF + name.radius + DOT
        i, j = i[room], j[room]
        run, way = long[i, j], targets[:, j] - near[:, i, j]
        ends = np.stack((near[:, i, j] + way * OFF / run, targets[:, j] - way * name.radius / run))  # (2, xy, k)
        clear = np.flatnonzero(~shapely.intersects(walls, shapely.linestrings(ends.transpose(2, 0, 1))))
        if len(clear):
            k = int(clear[0])
            return _with_leader(name, boxes[:, i[k]], ends[:, :, k])
    return None


def _with_leader(name: Name, box: np.ndarray, ends: np.ndarray) -> Named:
    found = _named(name, box)
    a, b = ((float(x), float(y)) for x, y in ends)
    dot = None if name.radius else Circle(b, DOT, "leader", "thick")
    return Named(name, found.text, found.box, Line(a, b, "leader"), dot)
