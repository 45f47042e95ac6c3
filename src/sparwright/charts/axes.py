"""Axes of a small chart: round figures, names with units, a faint grid that stops for every word."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sparwright.base.record import number
from sparwright.charts.page import CHARTING, words
from sparwright.charts.ticks import lettered, reach, ticks
from sparwright.plans.drawing import Box, Line, Point, Stroke, Text
from sparwright.plans.lettering import paragraph, width, wrapped

PITCH_X, PITCH_Y = 11.0, 8.0  # mm, least from figure to figure
CLEAR = 0.6  # mm that the grid keeps from a word


@dataclass(frozen=True)
class Axis:
    """What runs along an axis. `low` and `high` are values it must reach; the data may reach farther."""

    name: str
    unit: str = ""  # empty for a ratio
    low: float = number("axis", "value the axis must reach, in its unit; NaN for none", math.nan)
    high: float = number("axis", "value the axis must reach, in its unit; NaN for none", math.nan)
    down: bool = False  # values grow downwards, or to the left

    @property
    def title(self) -> str:
        """Name with unit."""
        return f"{self.name}, {self.unit}" if self.unit else f"{self.name} (no unit)"


@dataclass(frozen=True)
class Frame:
    """Axes laid on the page: where each value lies."""

    head: tuple[Text, ...]
    x: Axis
    y: Axis
    x_ticks: tuple[float, ...]
    y_ticks: tuple[float, ...]
    x_ends: tuple[float, float]
    y_ends: tuple[float, float]
    box: Box  # the room of the lines

    def x_at(self, values: np.ndarray) -> np.ndarray:
        """Page x of values along the x axis, mm."""
        return _at(values, self.x_ends, self.x.down, self.box.left, self.box.right)

    def y_at(self, values: np.ndarray) -> np.ndarray:
        """Page y of values along the y axis, mm."""
        return _at(values, self.y_ends, self.y.down, self.box.bottom, self.box.top)

    @property
    def area(self) -> shapely.Polygon:
        """The room of the lines."""
        return shapely.box(self.box.left, self.box.bottom, self.box.right, self.box.top)

    @property
    def lines(self) -> tuple[tuple[Point, Point], ...]:
        """The two axes, and nought of each where it lies inside."""
        b = self.box
        found = [((b.left, b.bottom), (b.right, b.bottom)), ((b.left, b.bottom), (b.left, b.top))]
        if self.y_ends[0] < 0 < self.y_ends[1]:
            y = float(self.y_at(np.array([0.0]))[0])
            found.append(((b.left, y), (b.right, y)))
        if self.x_ends[0] < 0 < self.x_ends[1]:
            x = float(self.x_at(np.array([0.0]))[0])
            found.append(((x, b.bottom), (x, b.top)))
        return tuple(found)


def _at(values: np.ndarray, ends: tuple[float, float], down: bool, start: float, end: float) -> np.ndarray:
    low, high = ends
    part = (np.asarray(values, dtype=float) - low) / (high - low)
    return np.asarray(start + (end - start) * (1 - part if down else part))


def frame(head: str, x: Axis, y: Axis, xs: np.ndarray, ys: np.ndarray, box: Box) -> Frame:
    """Axes that hold the values xs and ys, laid into a box with head, names and figures inside it."""
    c = CHARTING
    lines, top = paragraph(head, (box.left, box.top), c.middle, box.width, c.pitch, bold=True, layer="note")
    name, top = paragraph(y.title, (box.left, top), c.small, box.width, c.pitch, layer="note")
    foot = 2.2 + c.tick + c.small + len(wrapped(x.title, c.small, box.width)) * c.pitch * c.small
    low, high = box.bottom + foot, top - 2.0
    y_ticks, y_ends = _ticks(y, ys, high - low, PITCH_Y)
    left = box.left + max(width(t, c.small) for t in lettered(y_ticks)) + c.tick + 1.0
    x_ticks, x_ends = _ticks(x, xs, box.right - left, PITCH_X)
    last = width(lettered(x_ticks)[-1], c.small) / 2
    return Frame((*lines, *name), x, y, x_ticks, y_ticks, x_ends, y_ends, Box(left, low, box.right - last, high))


def _ticks(axis: Axis, values: np.ndarray, room: float, pitch: float) -> tuple[tuple[float, ...], tuple[float, float]]:
    """(figures, ends) of an axis: ends near the values, figures round and inside the ends."""
    held = np.array([*values, *(v for v in (axis.low, axis.high) if math.isfinite(v))])
    low, high = float(held.min()), float(held.max())
    found = ticks(low, high, max(int(room / pitch), 2))
    if found[0] < low - (high - low) and found[-1] > high + (high - low):  # no width worth an axis
        return found, (found[0], found[-1])
    ends = reach(low, high, found[1] - found[0])
    return tuple(t for t in found if ends[0] <= t <= ends[1]), ends


def drawn_axes(f: Frame, boxes: Sequence[Box]) -> Iterator[Stroke]:
    """Grid, axes, ticks, figures and names; the grid stops for the words in `boxes`."""
    yield from f.head
    yield from _grid(f, boxes)
    for i, (start, end) in enumerate(f.lines):
        yield Line(start, end, "frame" if i < 2 else "leader")
    yield from _figures(f)
    c, b = CHARTING, f.box
    y = b.bottom - c.tick - 1.0 - c.small
    for i, line in enumerate(wrapped(f.x.title, c.small, b.right - b.left + 8.0)):
        yield words(line, (b.right, y - (i + 1) * c.pitch * c.small), "right")


def _grid(f: Frame, boxes: Sequence[Box]) -> Iterator[Line]:
    b = f.box
    holes = shapely.union_all([shapely.box(w.left - CLEAR, w.bottom - CLEAR, w.right + CLEAR, w.top + CLEAR)
                               for w in boxes])  # fmt: skip
    xs, ys = f.x_at(np.array(f.x_ticks)), f.y_at(np.array(f.y_ticks))
    for line in (*(((x, b.bottom), (x, b.top)) for x in xs), *(((b.left, y), (b.right, y)) for y in ys)):
        shape = shapely.LineString(line).difference(holes)
        for piece in getattr(shape, "geoms", [shape]):
            if piece.length > 0:
                start, end = piece.coords
                yield Line((float(start[0]), float(start[1])), (float(end[0]), float(end[1])), "grid")


def _figures(f: Frame) -> Iterator[Stroke]:
    c, b = CHARTING, f.box
    for text, x in zip(lettered(f.x_ticks), f.x_at(np.array(f.x_ticks)), strict=True):
        yield Line((float(x), b.bottom), (float(x), b.bottom - c.tick), "frame")
        yield words(text, (float(x), b.bottom - c.tick - 1.0 - c.small), "middle")
    for text, y in zip(lettered(f.y_ticks), f.y_at(np.array(f.y_ticks)), strict=True):
        yield Line((b.left - c.tick, float(y)), (b.left, float(y)), "frame")
        yield words(text, (b.left - c.tick - 1.0, float(y) - c.small / 2), "right")
