"""Picture of the drag item by item: ranked bars with value, band, share, coefficient, area and source."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.charts.page import CHARTING, Heading, Picture, page, words
from sparwright.charts.ticks import enough, figure, lettered, ticks
from sparwright.charts.units import Unit
from sparwright.plans.drawing import Area, Line, Polyline, Stroke
from sparwright.plans.lettering import width

WIDTH = 300.0  # mm
ROW, HEAD = 5.4, 12.0  # mm of a row, of the heads of the columns
BAR, WHISKER = 3.0, 0.9  # mm, height of a bar, half height of the end of a band
SPACE = 5.0  # mm between columns
TICKS = 6


@dataclass(frozen=True)
class DragBar:
    """One item of drag; what is unknown is NaN."""

    name: str
    area: Band  # m2, D/q
    share: float = number("1", "part of the aeroplane's drag; NaN when unknown")
    coefficient: Band = UNKNOWN  # on `stands_on`
    stands_on: float = number("m2", "area the coefficient stands on; NaN where there is none", math.nan)
    source: str = ""  # short name


@dataclass(frozen=True)
class _Column:
    head: str
    cells: tuple[str, ...]
    align: str

    @property
    def wide(self) -> float:
        """Width of the longest cell, mm."""
        return max(width(t, CHARTING.small) for t in (*self.head.split("\n"), *self.cells))


def drag_picture(heading: Heading, bars: Sequence[DragBar], total: Band, area: Unit) -> Picture:
    """The picture: greatest first, unknown last, the whole below. Areas are shown in `area`."""
    ranked = sorted(bars, key=lambda b: (not math.isfinite(b.area.value), -b.area.value))
    columns = _columns(ranked, total, area)
    left = CHARTING.margin + columns[0].wide + SPACE
    room = WIDTH - CHARTING.margin - left - sum(c.wide + SPACE for c in columns[1:]) - SPACE / 2
    strokes: list[Stroke] = []
    x = left + room + 1.5 * SPACE  # the last figure of the axis reaches half its width into the space
    strokes += _column(columns[0], CHARTING.margin)
    for column in columns[1:]:
        strokes += _column(column, x)
        x += column.wide + SPACE
    strokes += _bars(ranked, area, left, left + room)
    low = -HEAD - (len(ranked) + 1) * ROW - 2.0
    strokes.append(_rule(-HEAD - len(ranked) * ROW - 0.6))
    return page(heading, WIDTH, strokes, low, 0.0, _told(ranked, total, area))


def _rule(y: float) -> Line:
    return Line((CHARTING.margin, y), (WIDTH - CHARTING.margin, y), "frame")


def _columns(bars: Sequence[DragBar], total: Band, area: Unit) -> list[_Column]:
    def drag(b: Band) -> str:
        return figure(b.value * area.factor, _places(total, area))

    def band(b: Band) -> str:
        ends = (figure(v * area.factor, _places(total, area)) for v in (b.low, b.high))
        return " to ".join(ends) if math.isfinite(b.low) and math.isfinite(b.high) else "unknown"

    share = [f"{figure(100 * b.share, 1)} %" if math.isfinite(b.share) else "unknown" for b in bars]
    on = [figure(b.stands_on * area.factor, min(enough(b.stands_on * area.factor), 4))
          if math.isfinite(b.stands_on) else "none" for b in bars]  # fmt: skip
    c = [figure(b.coefficient.value, enough(b.coefficient.value)) if math.isfinite(b.coefficient.value) else "none"
         for b in bars]  # fmt: skip
    return [
        _Column("Item", (*(b.name for b in bars), "Whole aeroplane"), "left"),
        _Column(f"D/q, {area.name}", (*(drag(b.area) for b in bars), drag(total)), "right"),
        _Column("low to high", (*(band(b.area) for b in bars), band(total)), "right"),
        _Column("share", (*share, "100 %" if math.isfinite(total.value) else "unknown"), "right"),
        _Column("coefficient\n(no unit)", (*c, ""), "right"),
        _Column(f"on area,\n{area.name}", (*on, ""), "right"),
        _Column("source", (*(b.source or "none" for b in bars), ""), "left"),
    ]


def _places(total: Band, area: Unit) -> int:
    return enough(total.value * area.factor, 4)


def _column(column: _Column, x: float) -> Iterator[Stroke]:
    at = x + column.wide if column.align == "right" else x
    heads = column.head.split("\n")
    for i, line in enumerate(heads):
        y = -HEAD + 3.4 + (len(heads) - 1 - i) * CHARTING.pitch * CHARTING.small
        yield words(line, (at, y), column.align)
    for i, cell in enumerate(column.cells):
        last = i == len(column.cells) - 1
        y = -HEAD - (i + 1) * ROW + (ROW - CHARTING.small) / 2 - (0.6 if last else 0.0)
        if cell:
            yield words(cell, (at, y), column.align, bold=last and column.align == "left")


def _bars(bars: Sequence[DragBar], area: Unit, left: float, right: float) -> Iterator[Stroke]:
    """Bars from nought with their bands, over a faint grid; nothing for an unknown."""
    ends = np.array([v * area.factor for b in bars for v in (b.area.value, b.area.low, b.area.high)])
    known = ends[np.isfinite(ends)]
    if not known.size or float(known.max()) <= 0:
        return
    marks = ticks(min(0.0, float(known.min())), float(known.max()), TICKS)
    by = (right - left) / (marks[-1] - marks[0])
    top, low = -HEAD, -HEAD - len(bars) * ROW

    def at(value: float) -> float:
        return left + (value - marks[0]) * by

    for mark, text in zip(marks, lettered(marks), strict=True):
        yield Line((at(mark), top), (at(mark), low), "frame" if mark == 0 else "grid")
        yield Line((at(mark), top), (at(mark), top + CHARTING.tick), "frame")
        yield words(text, (at(mark), top + CHARTING.tick + 1.0), "middle")
    yield words(f"Drag over dynamic pressure, {area.name}", (left, top + 7.2))
    for i, b in enumerate(bars):
        y = top - (i + 0.5) * ROW
        if math.isfinite(b.area.value):
            yield from _bar(b, area.factor, y, at)


def _bar(b: DragBar, factor: float, y: float, at: Callable[[float], float]) -> Iterator[Stroke]:
    a, e, half = at(0.0), at(b.area.value * factor), BAR / 2
    ring = ((a, y - half), (e, y - half), (e, y + half), (a, y + half))
    yield Area(ring, "middle", "tone")
    yield Polyline(ring, "line", closed=True)
    if math.isfinite(b.area.low) and math.isfinite(b.area.high):
        low, high = at(b.area.low * factor), at(b.area.high * factor)
        yield Line((low, y), (high, y), "point", "thick")
        for x in (low, high):
            yield Line((x, y - WHISKER), (x, y + WHISKER), "point", "thick")


def _told(bars: Sequence[DragBar], total: Band, area: Unit) -> str:
    said = (f"{b.name} {figure(b.area.value * area.factor, _places(total, area))} {area.name}" for b in bars)
    whole = figure(total.value * area.factor, _places(total, area))
    return f"Drag by item, greatest first: {'; '.join(said)}. Whole aeroplane {whole} {area.name}."
