"""Where a part longer than the sheet is parted, and what of a line is left on each piece."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.parts.part import Plate
from sparwright.plans.drawing import Point, paper_points

LAP = 25.0  # mm drawn beyond a match line on either piece
CLEAR = 20.0  # mm wanted from a match line to anything marked or measured


@dataclass(frozen=True)
class Span:
    """One piece of a template, in the part's own axes, mm. `matches` are the lettered match lines on it."""

    piece: int
    pieces: int
    left: float = number("mm", "from")
    right: float = number("mm", "to")
    matches: tuple[tuple[str, float], ...] = ()

    def holds(self, *points: Point) -> bool:
        """Whether all points (mm) lie on this piece."""
        return all(self.left - 1e-9 <= x <= self.right + 1e-9 for x, _ in points)


def bounds(plate: Plate) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of all that is cut, mm."""
    rings = [plate.outline] if plate.blank is None else [plate.outline, plate.blank]
    xy = np.vstack(rings) * 1000.0
    (x0, y0), (x1, y1) = xy.min(axis=0), xy.max(axis=0)
    return float(x0), float(y0), float(x1), float(y1)


def spans(plate: Plate, room: float) -> tuple[Span, ...]:
    """The pieces of a plate when `room` mm of length fit on a sheet; one when it need not be parted."""
    x0, _, x1, _ = bounds(plate)
    if x1 - x0 <= room:
        return (Span(1, 1, x0, x1),)
    if room <= 4 * LAP:
        raise DesignProblem(f"{room:.0f} mm of sheet are too few to part a template of {x1 - x0:.0f} mm")
    count = max(2, math.ceil((x1 - x0 - 2 * LAP) / (room - 2 * LAP)))
    cuts = _match_lines(x0, x1, count, room, _kept_clear(plate))
    letters = [(match_letter(i), x) for i, x in enumerate(cuts)]
    edges = [x0, *cuts, x1]
    laps = [0.0, *([LAP] * len(cuts)), 0.0]
    return tuple(
        Span(i + 1, count, a - laps[i], b + laps[i + 1], tuple(letters[max(i - 1, 0) : i + 1]))
        for i, (a, b) in enumerate(pairwise(edges))
    )


def match_letter(i: int) -> str:
    """The letter of a match line, counted from 0: from P on, since A is a row of pages and a corner of check lines.

    >>> match_letter(0), match_letter(11)
    ('P', 'PP')
    """
    letters = "PQRSTUVWXYZ"
    return letters[i % len(letters)] * (i // len(letters) + 1)


def _kept_clear(plate: Plate) -> np.ndarray:
    """x, mm, of marks that stand up and of the ends of master lengths."""
    ends = [1000.0 * p[0] for length in plate.lengths for p in (length.start, length.end)]
    for mark in plate.marks:
        xs = [1000.0 * p[0] for p in mark.points]
        if max(xs) - min(xs) < 4 * CLEAR:
            ends += xs
    return np.array(ends)


def _match_lines(x0: float, x1: float, count: int, room: float, avoid: np.ndarray) -> list[float]:
    """Match lines at whole millimetres, as even as may be, clear of `avoid`; every piece fits the room."""
    cuts: list[float] = []
    for k in range(1, count):
        ideal = x0 + (x1 - x0) * k / count
        ends = (x0 if k == 1 else cuts[-1] - LAP) + room - LAP
        rest = count - k
        starts = x1 - rest * (room - 2 * LAP) - LAP  # the pieces still to come must hold what is left
        choices = np.arange(math.ceil(starts), math.floor(ends) + 1, dtype=float)
        if choices.size == 0:
            choices = np.array([ideal])
        gaps = np.abs(choices[:, None] - avoid).min(axis=1, initial=CLEAR)
        best = choices[gaps >= gaps.max() - 1e-9]
        cuts.append(float(best[np.argmin(np.abs(best - ideal))]))
    return cuts


def ring_on(ring: np.ndarray, span: Span) -> tuple[tuple[tuple[Point, ...], bool], ...]:
    """A closed ring (n, 2), m, as polylines (mm) on the piece, each with whether it is closed."""
    points = paper_points(ring)
    if span.holds(*points):
        return ((points, True),)
    return tuple((line, False) for line in _clipped((*points, points[0]), span))


def line_on(points: tuple[Point, ...], span: Span) -> tuple[tuple[Point, ...], ...]:
    """An open line (mm) on the piece."""
    return (points,) if span.holds(*points) else _clipped(points, span)


def _clipped(points: tuple[Point, ...], span: Span) -> tuple[tuple[Point, ...], ...]:
    window = shapely.box(span.left, -1e6, span.right, 1e6)
    left = shapely.intersection(shapely.LineString(points), window)
    merged = shapely.line_merge(left) if left.geom_type == "MultiLineString" else left
    lines = [g for g in shapely.get_parts(merged) if g.geom_type == "LineString" and g.length > 0]
    return tuple(tuple((float(x), float(y)) for x, y in g.coords) for g in lines)
