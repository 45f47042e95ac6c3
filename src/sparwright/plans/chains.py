"""Dimensions of a drawing: chains from point to point, and running ones from one datum, both closing.

A chain gives every step and, one row out, the whole; the last step is left out of neither, so that it can be checked.
Running dimensions give each place from the datum, lettered across at its extension line: they have no steps to add up,
and errors do not grow along them. Figures are rounded to whole 64ths first; where the rounded steps of a chain do not
sum to the rounded whole, the chain is given as running dimensions.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Literal

from sparwright.base.quantity import inches, millimetres, sixty_fourths
from sparwright.base.record import number
from sparwright.plans.drawing import DRAFTING, Dimension, Line, Point, Polyline, Stroke, Text
from sparwright.plans.lettering import width

Units = Literal["inch", "millimetre"]
EXTEND = 1.8  # mm an extension line runs past its dimension line
CLEAR = 1.5  # mm from what is drawn to an extension line
INCHES = 36  # from so many inches on a length is written in feet too


def said(metres: float, units: Units, feet_from: int = INCHES) -> str:
    """A length as the sheet gives it.

    >>> said(0.0508, "inch"), said(0.0508, "millimetre")
    ('2″', '50.8')
    """
    return inches(metres, feet_from) if units == "inch" else millimetres(metres).removesuffix(" mm")


@dataclass(frozen=True)
class Across:
    """The way a row of dimensions runs: along x below or above what is drawn, or along y beside it."""

    upright: bool = False  # along y
    at: float = number("mm", "where the dimension line lies: y, or x of an upright one", 0.0)
    away: int = -1  # -1: below or left of what is drawn, 1: above or right
    name: str = ""  # what the row tells: "ribs from the middle"
    because: str = ""  # where its lengths come from, in words

    def point(self, along: float, out: float = 0.0) -> Point:
        """A point at `along`, so far out from the dimension line (towards `away`)."""
        far = self.at + self.away * out
        return (far, along) if self.upright else (along, far)

    def foot(self, mark: Mark, clear: float = 0.0) -> Point:
        """Where the drawn thing ends at a mark, or so far clear of it towards the row."""
        start = mark.start + self.away * clear
        return (start, mark.along) if self.upright else (mark.along, start)


@dataclass(frozen=True)
class Mark:
    """A place to be dimensioned: where on the paper, how far from the datum, from where its extension line starts."""

    along: float = number("mm", "on the paper, along the row")
    value: float = number("m", "true distance from the datum")
    start: float = number("mm", "across the row: where the drawn thing ends")
    name: str = ""  # what stands there: "RIB-24"


def chain(marks: Sequence[Mark], row: Across, units: Units, whole: bool = True) -> tuple[Stroke, ...]:
    """A chain through the marks in order, and the whole one row further out.

    Steps too short for their figure carry it outside on a short leader in turn above and below the line; a chain whose
    rounded steps do not sum to its rounded whole becomes running dimensions.
    """
    marks = sorted(marks, key=lambda m: m.along)
    if len(marks) < 2:
        return ()
    steps = [abs(b.value - a.value) for a, b in pairwise(marks)]
    total = abs(marks[-1].value - marks[0].value)
    fits = all(width(said(v, units), DRAFTING.small) + 2 * DRAFTING.gap < b.along - a.along
               for v, (a, b) in zip(steps, pairwise(marks), strict=True))  # fmt: skip
    if not fits or not closes(steps, total, units):
        return running(marks, row, units)
    found: list[Stroke] = []
    extended = _extensions(marks, row)
    for i, (v, (a, b)) in enumerate(zip(steps, pairwise(marks), strict=True)):
        found += _step(a, b, v, row, units, extended[0 if i == 0 else i + 1 : i + 2])
    if whole and len(marks) > 2:
        outer = replace(row, at=row.at + row.away * DRAFTING.row)
        ends = (marks[0], marks[-1])
        further = [Line(row.point(m.along, EXTEND), outer.point(m.along, EXTEND), "measure") for m in ends]
        found += _step(*ends, total, outer, units, further)
    return tuple(found)


def closes(steps: Sequence[float], total: float, units: Units) -> bool:
    """Whether the figures of the steps, as printed, sum to the printed whole.

    >>> closes([0.1001, 0.1001], 0.2002, "millimetre"), closes([0.10004, 0.10004], 0.20008, "millimetre")
    (True, False)
    """
    unit: Callable[[float], int] = sixty_fourths if units == "inch" else (lambda m: round(m * 10_000))
    return sum(unit(s) for s in steps) == unit(total)


def _step(first: Mark, last: Mark, value: float, row: Across, units: Units, extended: Sequence[Line]
          ) -> Iterator[Stroke]:  # fmt: skip
    """A dimension line with its figure in a gap, ticks at both ends, and the extension lines that are its own."""
    a, b = first.along, last.along
    words, middle = said(value, units), (a + b) / 2
    half = width(words, DRAFTING.small) / 2 + DRAFTING.gap
    x, y = row.point(middle)
    at, turn = ((x + DRAFTING.small / 2, y), 90.0) if row.upright else ((x, y - DRAFTING.small / 2), 0.0)
    shown: tuple[Line | Text, ...] = (
        *extended,
        Line(row.point(a), row.point(middle - half), "measure"),
        Line(row.point(middle + half), row.point(b), "measure"),
        *(_tick(row.point(along)) for along in (a, b)),
        Text(words, at, DRAFTING.small, turn, "middle", layer="measure"),
    )
    yield from shown
    name = f"{first.name} to {last.name}" if first.name and last.name else ""
    yield Dimension("along", row.foot(first), row.foot(last), (x, y), words, shown, value, turn, name, row.name,
                    row.because)  # fmt: skip


def _tick(at: Point) -> Line:
    t = DRAFTING.tick
    return Line((at[0] - t, at[1] - t), (at[0] + t, at[1] + t), "measure", "thick")


def _extensions(marks: Sequence[Mark], row: Across) -> list[Line]:
    return [Line(row.foot(m, CLEAR), row.point(m.along, EXTEND), "measure") for m in marks]


def running(marks: Sequence[Mark], row: Across, units: Units) -> tuple[Stroke, ...]:
    """Each mark's distance from the datum (value nought), lettered across at its own extension line.

    Figures keep a line's height apart: where marks lie closer, extension lines bend to make room.
    """
    marks = sorted(marks, key=lambda m: m.along)
    apart = DRAFTING.small * 1.55
    lettered = spread([m.along for m in marks], apart)
    found: list[Stroke] = []
    bend = 3.0 if any(abs(a - m.along) > 1e-6 for a, m in zip(lettered, marks, strict=True)) else 0.0
    datum = min(marks, key=lambda m: abs(m.value))
    turn = 90.0 if row.upright else 0.0
    for m, to in zip(marks, lettered, strict=True):
        path = [row.foot(m, CLEAR), row.point(m.along), row.point(to, bend), row.point(to, bend + EXTEND)]
        at = row.point(to, bend + EXTEND + DRAFTING.gap)
        words = said(m.value, units)
        shown = (Polyline(tuple(dict.fromkeys(path)), "measure"), _across(words, at, row))
        found += [*shown, Dimension("running", row.foot(datum), row.foot(m), at, words, shown, m.value, turn, m.name,
                                    row.name, row.because)]  # fmt: skip
    if abs(datum.value) < 1e-9:
        found.append(_datum(row.point(datum.along)))
    return tuple(found)


def _across(words: str, at: Point, row: Across) -> Text:
    """Lettering that runs away from the row, its middle on its own line."""
    h = DRAFTING.small / 2
    if row.upright:
        return Text(words, (at[0], at[1] - h), DRAFTING.small, align="left" if row.away > 0 else "right",
                    layer="measure")  # fmt: skip
    return Text(words, (at[0] + h, at[1]), DRAFTING.small, 90.0, "left" if row.away > 0 else "right", layer="measure")


def _datum(at: Point) -> Polyline:
    """A small square at nought."""
    h = 1.2
    x, y = at
    return Polyline(((x - h, y - h), (x + h, y - h), (x + h, y + h), (x - h, y + h)), "measure", closed=True,
                    weight="thick")  # fmt: skip


def spread(wanted: Sequence[float], apart: float) -> list[float]:
    """The places nearest to those wanted (rising) that are so far apart at least: pools of neighbours, least squares.

    >>> spread([0.0, 1.0, 10.0], 4.0)
    [-1.5, 2.5, 10.0]
    """
    pools: list[tuple[float, int]] = []  # mean of (wanted - i apart), how many
    for i, w in enumerate(wanted):
        mean, count = w - i * apart, 1
        while pools and pools[-1][0] > mean:
            other, n = pools.pop()
            mean, count = (mean * count + other * n) / (count + n), count + n
        pools.append((mean, count))
    flat = [m for m, n in pools for _ in range(n)]
    return [m + i * apart for i, m in enumerate(flat)]
