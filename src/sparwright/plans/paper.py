"""What every sheet carries before a part is drawn on it: border, checks of the print, title block.

Two check lines at right angles, as long as the sheet allows in whole half inches (exact in both units),
their four corners A B C D for the diagonals, a 100 mm and a 4 in square. Scale along, scale across and
skew of a copier or plotter differ, so each is to be measured (common practice, no source).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, millimetres
from sparwright.base.record import number
from sparwright.base.safety import CAUTION
from sparwright.plans.drawing import DRAFTING, Box, Line, Point, Stroke, Text, cross, rectangle
from sparwright.plans.lettering import paragraph, width, wrapped
from sparwright.plans.side import LEGEND

BORDER = 12.7  # mm, from the edge of the paper
INSET = 6.0  # mm, from the border to the check lines
HALF_INCH = 12.7  # mm
STRIP = 101.6  # mm, height of the strip of squares and title block: the 4 in square
BAND = 10.5  # mm, from the lower check line to that strip: its own words
FAR = 10**9  # inches without feet


@dataclass(frozen=True)
class Issue:
    """Which copy of the set this is; empty is written by hand."""

    revision: str = ""
    serial: str = ""
    date: str = ""

    @property
    def rows(self) -> tuple[tuple[str, str], ...]:
        """What each is called, and what it is."""
        return ("Revision", self.revision), ("Serial of this set", self.serial), ("Date", self.date)


UNSAID = Issue()


@dataclass(frozen=True)
class TitleBlock:
    """What the title block of every sheet of a set says."""

    family: str
    model: str
    program: str  # "Sparwright 0.1.0"
    file_sha256: str
    units: str = "inch and millimetre"
    title: str = "Rib templates, full size"
    axes: str = "Each part: x aft along the chord, y up"
    legend: str = LEGEND
    issue: Issue = UNSAID


@dataclass(frozen=True)
class Paper:
    """A size of sheet, long side across."""

    name: str
    title: str
    width: float = number("mm", "width")
    height: float = number("mm", "height")


PAPERS = {
    "24x36": Paper("24x36", "24 × 36 in", 914.4, 609.6),
    "A1": Paper("A1", "A1", 841.0, 594.0),
}


def paper(name: str) -> Paper:
    """The paper of that name; DesignProblem names those we have."""
    if name not in PAPERS:
        raise DesignProblem(f"there is no paper {name!r}; choose one of {', '.join(PAPERS)}")
    return PAPERS[name]


def check_corners(p: Paper) -> tuple[Point, Point, Point, Point]:
    """A, B, C, D: the rectangle of the check lines, anticlockwise from the lower left, mm."""
    x0 = y0 = BORDER + INSET
    w, h = (math.floor((side - 2 * x0) / HALF_INCH) * HALF_INCH for side in (p.width, p.height))
    return (x0, y0), (x0 + w, y0), (x0 + w, y0 + h), (x0, y0 + h)


def check_sides(p: Paper) -> tuple[float, float]:
    """Check lines A-B and A-D as drawn, m."""
    (ax, ay), _, (cx, cy), _ = check_corners(p)
    return (cx - ax) / 1000, (cy - ay) / 1000


def field_of(p: Paper) -> Box:
    """Where templates may be drawn, clear of check lines, squares and title block."""
    (x0, y0), _, (x1, y1), _ = check_corners(p)
    return Box(x0 + 13.0, y0 + BAND + STRIP + 4.0, x1 - 12.0, y1 - 4.0)


def squares(p: Paper) -> tuple[tuple[Point, float, str], ...]:
    """Lower left corner, side and caption of the two squares, mm."""
    x0, y0 = check_corners(p)[0]
    x, y = x0 + 13.0, y0 + BAND
    return ((x, y), 100.0, "100 mm square"), ((x + 108.0, y), 101.6, "4″ square")


def both_units(metres: float) -> str:
    """A length in shop inches and in millimetres.

    >>> both_units(0.8763)
    '34 1/2″ = 876.3 mm'
    """
    return f"{inches(metres, FAR)} = {millimetres(metres)}"


def furniture(p: Paper, title: TitleBlock, sheet: int, total: int) -> tuple[Stroke, ...]:
    """Border, checks and title block of one sheet."""
    return (*frame(p, title, sheet, total), *checks(p))


def frame(p: Paper, title: TitleBlock, sheet: int, total: int, told: Sequence[str] = ()) -> tuple[Stroke, ...]:
    """Border, corner marks and title block; `told` is what a sheet corrected for one printer says of that."""
    return (*_border(p), *_title_block(p, title, sheet, total, told))


def checks(p: Paper) -> tuple[Stroke, ...]:
    """Check lines and squares."""
    return (*_checks(p), *_squares(p))


def _border(p: Paper) -> Iterator[Stroke]:
    yield rectangle(BORDER, BORDER, p.width - BORDER, p.height - BORDER, "frame", "thick")
    edge, leg = 6.0, 12.0
    for x, sx in ((edge, 1), (p.width - edge, -1)):
        for y, sy in ((edge, 1), (p.height - edge, -1)):
            yield Line((x, y), (x + sx * leg, y), "frame", "thick")
            yield Line((x, y), (x, y + sy * leg), "frame", "thick")


def _checks(p: Paper) -> Iterator[Stroke]:
    a, b, c, d = check_corners(p)
    small = DRAFTING.small
    yield Line(a, b, "check")
    yield Line(a, d, "check")
    for at in (a, b, c, d):
        yield from cross(at, 5.0, "check")
    for i in range(1, int((b[0] - a[0]) / 25.4)):
        yield Line((a[0] + 25.4 * i, a[1]), (a[0] + 25.4 * i, a[1] - (3.0 if i % 4 == 0 else 1.5)), "check")
    for i in range(1, int((d[1] - a[1]) / 25.4)):
        yield Line((a[0], a[1] + 25.4 * i), (a[0] - (3.0 if i % 4 == 0 else 1.5), a[1] + 25.4 * i), "check")
    across, up = both_units((b[0] - a[0]) / 1000), both_units((d[1] - a[1]) / 1000)
    yield Text(
        f"Check line A–B: {across}, ticks 1″", ((a[0] + b[0]) / 2, a[1] + 3.0), small, align="middle", layer="check"
    )
    yield Text(f"Check line A–D: {up}, ticks 1″", (a[0] + 7.5, (a[1] + d[1]) / 2), small, 90.0, "middle", layer="check")
    for name, (x, y), sx, sy in (("A", a, 1, 1), ("B", b, -1, 1), ("C", c, -1, -1), ("D", d, 1, -1)):
        yield Text(
            name,
            (x + sx * 4.0, y + (3.0 if sy > 0 else -7.0)),
            small,
            0.0,
            "left" if sx > 0 else "right",
            True,
            "check",
        )


def _squares(p: Paper) -> Iterator[Stroke]:
    for (x, y), side, caption in squares(p):
        yield rectangle(x, y, x + side, y + side, "check")
        yield Text(caption, (x + side / 2, y + side / 2), DRAFTING.small, 0.0, "middle", layer="check")


def title_box(p: Paper) -> tuple[float, float, float, float]:
    """The title block's rectangle, mm: left, bottom, right, top."""
    (x, y), side, _ = squares(p)[1]
    return x + side + 8.0, y, field_of(p).right, y + STRIP


def _title_block(p: Paper, title: TitleBlock, sheet: int, total: int, told: Sequence[str]) -> Iterator[Stroke]:
    x0, y0, x1, y1 = title_box(p)
    yield rectangle(x0, y0, x1, y1, "frame", "thick")
    widths = (0.25, 0.22, 0.13, 0.20, 0.20) if told else (0.27, 0.20, 0.24, 0.29)
    edges = [x0]
    for share in widths:
        edges.append(edges[-1] + share * (x1 - x0))
    for x in edges[1:-1]:
        yield Line((x, y0), (x, y1), "frame")
    yield from _column(edges[0], edges[1], y1, "Before you cut", (*_how_to_check(p), *(() if told else (OFF,))))
    if told:
        yield from _column(edges[1], edges[2], y1, "Corrected for one printer", told)
    first = edges[-4:]
    yield from _written(first[0], first[1], y1)
    yield from _column(first[1], first[2], y1, "Caution", (CAUTION, title.legend))
    yield from _names(first[2], x1, y1, p, title, sheet, total)


def _how_to_check(p: Paper) -> tuple[str, ...]:
    a, _, c, _ = check_corners(p)
    diagonal = both_units(math.dist(a, c) / 1000)
    return (
        "Print at actual size, never “fit to page”. All four corner marks must show.",
        "Measure both check lines, both diagonals and both squares. "
        f"A–C and B–D: {diagonal}; unequal diagonals are a skewed print.",
        "Measure each template’s own lengths. Figures govern over lines.",
        "Paper moves with damp: measure again on the day of cutting. A copy of this sheet has errors of its own: "
        "measure the copy, never copy a copy.",
    )


OFF = (
    "More than 1 mm off: do not cut. Give the four lengths to the command plans with --measured; it draws the "
    "templates corrected for that printer."
)


def _column(left: float, right: float, top: float, head: str, paragraphs: Sequence[str]) -> Iterator[Stroke]:
    d = DRAFTING
    x, room = left + 4.0, right - left - 8.0
    y = top - 4.0
    texts, y = paragraph(head, (x, y), d.small, room, d.pitch, bold=True, layer="frame")
    yield from texts
    for words in paragraphs:
        texts, y = paragraph(words, (x, y), d.small, room, d.pitch, layer="frame")
        yield from texts
        y -= 1.6


def _written(left: float, right: float, top: float) -> Iterator[Stroke]:
    """Places to write what was measured, when and by whom."""
    d = DRAFTING
    x, end = left + 4.0, right - 4.0
    yield Text("Measured on this print", (x, top - 4.0 - d.small), d.small, bold=True, layer="hand")
    names = ("A–B", "A–D", "A–C", "B–D", "Date", "Initials")
    start = x + max(width(n, d.small) for n in names) + 3.0
    for i, name in enumerate(names):
        y = top - 24.0 - 14.0 * i
        yield Text(name, (x, y), d.small, layer="hand")
        yield Line((start, y - 1.0), (end, y - 1.0), "hand")


def _names(
    left: float, right: float, top: float, p: Paper, title: TitleBlock, sheet: int, total: int
) -> Iterator[Stroke]:
    d = DRAFTING
    x, room, y = left + 4.0, right - left - 8.0, top - 4.0
    name = f"{title.family} {title.model}"
    size = next((s for s in (d.large, d.middle) if len(wrapped(name, s, room, True)) == 1), d.small)
    lines = (
        (name, size, True),
        (title.title, d.middle, False),
        (f"Sheet {sheet} of {total}", d.middle, True),
        (f"Scale 1 : 1, paper {p.title}", d.small, False),
        (f"Units: {title.units}", d.small, False),
        (title.axes, d.small, False),
        (title.program, d.small, False),
        (f"Design file sha256 {title.file_sha256[:12]}", d.small, False),
    )
    for words, height, bold in lines:
        texts, y = paragraph(words, (x, y), height, room, d.pitch, bold=bold, layer="frame")
        yield from texts
        y -= 2.0
    for name, value in title.issue.rows:
        yield from or_written(name, value, x, right - 4.0, y - d.small)
        y -= d.pitch * d.small + 1.2


def or_written(name: str, value: str, x: float, end: float, y: float) -> Iterator[Stroke]:
    """A value where it is known, else a line to write it on."""
    if value:
        yield Text(f"{name}: {value}", (x, y), DRAFTING.small, layer="frame")
        return
    yield Text(name, (x, y), DRAFTING.small, layer="hand")
    yield Line((x + width(name, DRAFTING.small) + 3.0, y - 1.0), (end, y - 1.0), "hand")
