"""A plate larger than the sheet, parted both ways at match lines, and what of a line lies in one piece."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sparwright.plans.drawing import Box, Point
from sparwright.plans.split import LAP, match_letter


@dataclass(frozen=True)
class Match:
    """A match line: its letter and its two ends, mm."""

    letter: str
    start: Point
    end: Point


@dataclass(frozen=True)
class Window:
    """One piece of a plate in its own axes, mm, with what is drawn beyond its match lines."""

    piece: int
    pieces: int
    box: Box
    matches: tuple[Match, ...] = ()

    def holds(self, x: float, y: float) -> bool:
        """Whether a point lies on this piece."""
        b = self.box
        return b.left - 1e-9 <= x <= b.right + 1e-9 and b.bottom - 1e-9 <= y <= b.top + 1e-9


def windows(whole: Box, wide: float, tall: float) -> tuple[Window, ...]:
    """The pieces of a plate where `wide` by `tall` mm fit a sheet; one where it need not be parted.

    Pieces are as even as may be, parted on whole millimetres, and overlap by LAP on either side of a match line.
    """
    xs, ys = _cuts(whole.left, whole.right, wide), _cuts(whole.bottom, whole.top, tall)
    count = (len(xs) - 1) * (len(ys) - 1)
    letters = {("x", i): match_letter(i - 1) for i in range(1, len(xs) - 1)}
    letters |= {("y", j): match_letter(len(xs) - 3 + j) for j in range(1, len(ys) - 1)}
    found: list[Window] = []
    for j in range(len(ys) - 1):
        for i in range(len(xs) - 1):
            matches = (*(Match(letters["x", k], (xs[k], ys[j]), (xs[k], ys[j + 1])) for k in (i, i + 1)
                         if ("x", k) in letters),
                       *(Match(letters["y", k], (xs[i], ys[k]), (xs[i + 1], ys[k])) for k in (j, j + 1)
                         if ("y", k) in letters))  # fmt: skip
            lap = [LAP * (0 < k < len(edges) - 1) for edges, k in ((xs, i), (ys, j), (xs, i + 1), (ys, j + 1))]
            box = Box(xs[i] - lap[0], ys[j] - lap[1], xs[i + 1] + lap[2], ys[j + 1] + lap[3])
            found.append(Window(len(found) + 1, count, box, matches))
    return tuple(found)


def _cuts(low: float, high: float, room: float) -> list[float]:
    """Where a length is parted so that each piece with its laps fits the room, ends included."""
    count = 1 if high - low <= room else max(2, math.ceil((high - low - 2 * LAP) / (room - 2 * LAP)))
    return [low, *(float(round(low + (high - low) * k / count)) for k in range(1, count)), high]


def clipped(
    points: Sequence[Point] | np.ndarray, window: Window, closed: bool
) -> Iterator[tuple[tuple[Point, ...], bool]]:
    """A line, mm, on the piece: each stretch of it and whether it is closed."""
    line = [(float(x), float(y)) for x, y in points]
    if all(window.holds(x, y) for x, y in line):
        yield tuple(line), closed
        return
    b = window.box
    left = shapely.intersection(shapely.LineString([*line, line[0]] if closed else line),
                                shapely.box(b.left, b.bottom, b.right, b.top))  # fmt: skip
    merged = shapely.line_merge(left) if left.geom_type == "MultiLineString" else left
    for g in shapely.get_parts(merged):
        if g.geom_type == "LineString" and g.length > 0:
            yield tuple((float(x), float(y)) for x, y in g.coords), False
