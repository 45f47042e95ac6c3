"""A small chart: axes named with their unit, lines named on the lines, limits hatched on the side that fails.

    chart = Chart("Lift", Axis("angle of attack", "deg"), Axis("lift coefficient"), (Curve("Re 1 million", a, cl),))
    strokes = plot(chart, Box(0, 0, 90, 70))

Unknown values (NaN) leave a gap in a line. Measured points lie over computed lines, bands under both as a light tone
with edges in the line's own dash. At most five lines.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.charts.axes import Axis, Frame, drawn_axes, frame
from sparwright.charts.label import Name, Named, place
from sparwright.charts.page import CHARTING, MOST, words
from sparwright.plans.drawing import Area, Box, Circle, Dash, Line, Point, Polyline, Stroke, Weight
from sparwright.plans.lettering import paragraph, wrapped

__all__ = ["Axis", "Chart", "Curve", "Limit", "Measured", "Note", "plot"]

Mark = Literal["circle", "square", "triangle", "diamond", "cross"]
MARKS: tuple[Mark, ...] = ("circle", "square", "triangle", "diamond", "cross")
ROW = 4.6  # mm of a row below the chart, for a name without a clear place
OVER = 0.04  # of the values' range, kept free on the side of a limit that fails
SAMPLE = 14.0  # mm of line beside such a name


@dataclass(frozen=True)
class Curve:
    """A computed line, in the axes' units; low and high are its band where it has one."""

    name: str  # empty for a line that is named elsewhere on the same chart
    x: np.ndarray  # (n,)
    y: np.ndarray  # (n,), NaN where unknown
    low: np.ndarray | None = None  # (n,)
    high: np.ndarray | None = None  # (n,)
    dash: Dash = "solid"
    weight: Weight = "thick"


@dataclass(frozen=True)
class Measured:
    """Measured points, in the axes' units; the name says who measured."""

    name: str
    x: np.ndarray  # (n,)
    y: np.ndarray  # (n,)
    mark: Mark = "circle"


@dataclass(frozen=True)
class Limit:
    """A limit, as a line in the axes' units, and on which side of it, in the y axis's values, a thing fails."""

    name: str
    x: np.ndarray  # (n,)
    y: np.ndarray  # (n,)
    fails: Literal["above", "below"] = "above"


@dataclass(frozen=True)
class Note:
    """A word at a place, in the axes' units, with a heavy diamond there."""

    text: str
    x: float = number("axis", "place along x, in the axis's unit")
    y: float = number("axis", "place along y, in the axis's unit")


@dataclass(frozen=True)
class Chart:
    """Everything one small chart shows. `unknown` says why there is nothing to show, where there is not."""

    head: str
    x: Axis
    y: Axis
    curves: tuple[Curve, ...] = ()
    measured: tuple[Measured, ...] = ()
    limits: tuple[Limit, ...] = ()
    notes: tuple[Note, ...] = ()
    unknown: str = ""


@dataclass(frozen=True)
class _Inked:
    """Strokes with the names that belong to them and the lines that names must keep clear of."""

    strokes: tuple[Stroke, ...] = ()
    names: tuple[Name, ...] = ()
    walls: tuple[BaseGeometry, ...] = ()


def plot(chart: Chart, box: Box) -> tuple[Stroke, ...]:
    """The chart drawn inside a box of the page. Raises DesignProblem for more than five lines."""
    if len(chart.curves) > MOST:
        raise DesignProblem(f"{chart.head}: {len(chart.curves)} lines, and a chart takes at most {MOST}")
    if not _known(chart):
        return _empty(chart, box)
    rows: tuple[str, ...] = ()
    while True:
        strokes, left = _plotted(chart, box, rows)
        if not left:
            return (*strokes, *_below(chart, rows, box))
        rows = (*rows, *left)


def _known(chart: Chart) -> bool:
    lines = [(c.x, c.y) for c in chart.curves] + [(m.x, m.y) for m in chart.measured]
    return any(bool(np.any(np.isfinite(x) & np.isfinite(y))) for x, y in lines)


def _empty(chart: Chart, box: Box) -> tuple[Stroke, ...]:
    """Head and reason: an unknown is open and says what is missing."""
    c = CHARTING
    head, y = paragraph(chart.head, (box.left, box.top), c.middle, box.width, c.pitch, bold=True, layer="note")
    why = f"Unknown: {chart.unknown}" if chart.unknown else "Unknown."
    return (*head, *paragraph(why, (box.left, y - 2.0), c.small, box.width, c.pitch, layer="note")[0])


def _plotted(chart: Chart, box: Box, rows: Sequence[str]) -> tuple[tuple[Stroke, ...], tuple[str, ...]]:
    """(strokes, names without a place), with room below for the names in `rows`."""
    xs, ys = _values(chart)
    f = frame(chart.head, chart.x, chart.y, xs, ys, Box(box.left, box.bottom + _deep(rows, box), box.right, box.top))
    inked = [*(_curve(c, f) for c in chart.curves), *(_measured(m, f) for m in chart.measured),
             *(_limit(m, f) for m in chart.limits), *(_note(n, f) for n in chart.notes)]  # fmt: skip
    names = [n for i in inked for n in i.names if n.text and not n.of.is_empty]
    room = Box(f.box.left + 0.6, f.box.bottom + 0.6, f.box.right, f.box.top)
    axes = [shapely.LineString(p) for p in f.lines]
    shown = [n for n in names if n.text not in rows]
    rest = [n.solid for n in names if n.text in rows]
    placed, left = place(shown, room, [*axes, *rest, *(w for i in inked for w in i.walls)])
    strokes = (*drawn_axes(f, [p.box for p in placed]), *(s for i in inked for s in i.strokes), *_lettered(placed))
    return strokes, tuple(n.text for n in left)


def _lettered(placed: Sequence[Named]) -> Iterator[Stroke]:
    for p in placed:
        yield p.text
        yield from (s for s in (p.leader, p.dot) if s is not None)


def _rows(name: str, box: Box) -> tuple[str, ...]:
    return wrapped(name, CHARTING.small, box.width - SAMPLE - 2.0)


def _deep(names: Sequence[str], box: Box) -> float:
    """Room that names below the chart take, mm."""
    return ROW * sum(len(_rows(n, box)) for n in names)


def _below(chart: Chart, names: Sequence[str], box: Box) -> Iterator[Stroke]:
    """Names that found no clear place, each beside a piece of its line or its mark."""
    top = box.bottom + _deep(names, box)
    for name in names:
        y = top - ROW + 1.4
        for i, line in enumerate(_rows(name, box)):
            yield words(line, (box.left + SAMPLE + 2.0, y - i * ROW))
        top -= _deep([name], box)
        middle = (box.left + SAMPLE / 2, y + CHARTING.small / 2)
        ends = ((box.left, middle[1]), (box.left + SAMPLE, middle[1]))
        for c in (c for c in chart.curves if c.name == name):
            yield Line(*ends, "line", c.weight, c.dash)
        for m in (m for m in chart.measured if m.name == name):
            yield _mark(m.mark, middle)
        for _ in (n for n in chart.notes if n.text == name):
            yield _mark("diamond", middle, "thick")
        for _ in (m for m in chart.limits if m.name == name):
            yield from (Line(*ends, "line"), *_barbs(np.array(ends).T, -1.0))


def _sets(chart: Chart) -> list[tuple[np.ndarray, np.ndarray]]:
    """(x, y) of everything along lines and at points, known values only."""
    found = [(c.x, c.y) for c in chart.curves] + [(m.x, m.y) for m in chart.measured]
    found += [(m.x, m.y) for m in chart.limits] + [(np.array([n.x]), np.array([n.y])) for n in chart.notes]
    known = [np.isfinite(x) & np.isfinite(y) for x, y in found]
    return [(x[k], y[k]) for (x, y), k in zip(found, known, strict=True)]


def _values(chart: Chart) -> tuple[np.ndarray, np.ndarray]:
    """Everything along x, and along y, that the axes must hold."""
    sets = _sets(chart)
    bands = [b[np.isfinite(b)] for c in chart.curves for b in (c.low, c.high) if b is not None]
    held = np.concatenate([*(y for _, y in sets), *bands])
    over = OVER * float(np.ptp(held))  # so that the hatch beside a limit stays inside the axes
    beyond = [m.y[np.isfinite(m.y)] + (over if m.fails == "above" else -over) for m in chart.limits]
    return np.concatenate([x for x, _ in sets]), np.concatenate([held, *beyond])


def _curve(c: Curve, f: Frame) -> _Inked:
    lines = [run for run in _runs(c.x, c.y, f)]
    strokes: list[Stroke] = list(_band(c, f))
    strokes += [Polyline(tuple(map(tuple, run.tolist())), "line", weight=c.weight, dash=c.dash) for run in lines]
    own = shapely.MultiLineString([run for run in lines])
    walls = [shapely.LineString(s.points) for s in strokes if isinstance(s, Polyline)]
    return _Inked(tuple(strokes), (Name(c.name, own),), tuple(walls))


def _runs(x: np.ndarray, y: np.ndarray, f: Frame) -> Iterator[np.ndarray]:
    """(n, 2) unbroken stretches of a line on the page, cut at the frame; a lone known value is a dash of 1 mm."""
    at = np.array([f.x_at(x), f.y_at(y)]).T
    good = np.all(np.isfinite(at), axis=1)
    for part in np.split(np.arange(len(at)), np.flatnonzero(np.diff(good)) + 1):
        if not len(part) or not good[part[0]]:
            continue
        points = at[part] if len(part) > 1 else at[part] + np.array([[-0.5, 0.0], [0.5, 0.0]])
        shape = shapely.LineString(points).intersection(f.area)
        for piece in getattr(shape, "geoms", [shape]):
            if piece.geom_type == "LineString" and piece.length > 0:
                yield np.array(piece.coords)


def _band(c: Curve, f: Frame) -> Iterator[Stroke]:
    if c.low is None or c.high is None:
        return
    good = np.isfinite(c.x) & np.isfinite(c.low) & np.isfinite(c.high)
    for part in np.split(np.arange(len(good)), np.flatnonzero(np.diff(good)) + 1):
        if len(part) < 2 or not good[part[0]]:
            continue
        x, low, high = f.x_at(c.x[part]), f.y_at(c.low[part]), f.y_at(c.high[part])
        ring = [*zip(x, low, strict=True), *zip(x[::-1], high[::-1], strict=True)]
        shape = shapely.make_valid(shapely.Polygon(ring)).intersection(f.area)
        for piece in getattr(shape, "geoms", [shape]):
            if piece.geom_type == "Polygon" and piece.area > 0:
                yield Area(tuple(map(tuple, np.array(piece.exterior.coords)[:-1].tolist())), "light", "tone")
    for edge in (c.low, c.high):
        for run in _runs(c.x, edge, f):
            yield Polyline(tuple(map(tuple, run.tolist())), "line", dash=c.dash)


def _measured(m: Measured, f: Frame) -> _Inked:
    at = np.array([f.x_at(m.x), f.y_at(m.y)]).T
    at = at[np.all(np.isfinite(at), axis=1)]
    inside = at[shapely.intersects(f.area, shapely.points(at))] if len(at) else at
    strokes = tuple(_mark(m.mark, (float(x), float(y))) for x, y in inside)
    own = shapely.MultiPoint(inside)
    return _Inked(strokes, (Name(m.name, own, CHARTING.mark),))


def _mark(mark: Mark, at: Point, weight: Weight = "thin") -> Stroke:
    """An open mark: shapes tell one set of points from another."""
    (x, y), h = at, CHARTING.mark
    match mark:
        case "circle":
            return Circle(at, h, "point")
        case "square":
            ring = ((x - h, y - h), (x + h, y - h), (x + h, y + h), (x - h, y + h))
        case "triangle":
            ring = ((x - h, y - h), (x + h, y - h), (x, y + h), (x, y + h))
        case "diamond":
            ring = ((x - h, y), (x, y - h), (x + h, y), (x, y + h))
        case "cross":
            return Polyline(((x - h, y - h), (x + h, y + h), (x, y), (x - h, y + h), (x + h, y - h)), "point")
    return Polyline(ring, "point", closed=True, weight=weight)


def _limit(limit: Limit, f: Frame) -> _Inked:
    runs = list(_runs(limit.x, limit.y, f))
    up = (1.0 if limit.fails == "above" else -1.0) * (-1.0 if f.y.down else 1.0)
    barbs = [b for run in runs for b in _barbs(run.T, up) if b.end[0] <= f.box.right]
    lines = [Polyline(tuple(map(tuple, run.tolist())), "line") for run in runs]
    walls = [shapely.LineString((b.start, b.end)) for b in barbs]
    return _Inked((*lines, *barbs), (Name(limit.name, shapely.MultiLineString(runs)),), tuple(walls))


def _barbs(run: np.ndarray, up: float) -> Iterator[Line]:
    """Short slanted strokes along a line (2, n), above it for up = 1, below for -1: that side fails."""
    line, b = shapely.LineString(run.T), CHARTING.barb
    for s in np.arange(CHARTING.fence / 2, line.length, CHARTING.fence):
        p = line.interpolate(s)
        yield Line((p.x, p.y), (p.x + b, p.y + up * b), "hatch")


def _note(note: Note, f: Frame) -> _Inked:
    x, y = float(f.x_at(np.array([note.x]))[0]), float(f.y_at(np.array([note.y]))[0])
    if not (math.isfinite(x) and math.isfinite(y)):
        return _Inked()
    at = shapely.Point(x, y)
    return _Inked((_mark("diamond", (x, y), "thick"),), (Name(note.text, at, CHARTING.mark),))
