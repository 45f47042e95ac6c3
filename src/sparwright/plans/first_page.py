"""The page to print first: a check rectangle as large as a page, what to measure, how far paper moves with damp."""

from __future__ import annotations

from collections.abc import Iterator

from sparwright.base.safety import CAUTION
from sparwright.data.paper import PAPER
from sparwright.plans.correction import MOST_SCALE
from sparwright.plans.drawing import DRAFTING, Align, Point, Stroke, Text
from sparwright.plans.lettering import paragraph
from sparwright.plans.paper import HALF_INCH, Paper, TitleBlock
from sparwright.plans.tile_map import written_lengths
from sparwright.plans.tile_page import Leaf
from sparwright.plans.tiles import EDGE, FOOT, SIDE, STRIP, TOP, check_strokes

INSIDE = 9.0  # mm from the check lines to the words
LONG = (0.3, 0.9, 1.5)  # m, lengths of templates in the table


def first_corners(p: Paper) -> tuple[Point, Point, Point, Point]:
    """A B C D of the page's check rectangle, mm: whole half inches within what a printer reaches."""
    x, y = SIDE + EDGE + 1.0, FOOT + STRIP + EDGE
    w, h = (int(room // HALF_INCH) * HALF_INCH for room in (p.width - SIDE - EDGE - x, p.height - TOP - EDGE - y))
    return (x, y), (x + w, y), (x + w, y + h), (x, y + h)


def first_sides(p: Paper) -> tuple[float, float]:
    """A-B and A-D of that rectangle as drawn, m."""
    (ax, ay), _, (cx, cy), _ = first_corners(p)
    return (cx - ax) / 1000, (cy - ay) / 1000


def first_page(p: Paper, title: TitleBlock, told: tuple[str, ...] = ()) -> Leaf:
    """The page; `told` is what a set corrected for one printer says of that."""
    corners = first_corners(p)
    return Leaf("Print this page first", tuple(check_strokes(corners)), tuple(_words(p, title, corners, told)))


def _words(
    p: Paper, title: TitleBlock, corners: tuple[Point, Point, Point, Point], told: tuple[str, ...]
) -> Iterator[Stroke]:
    d = DRAFTING
    (ax, _), (bx, _), (_, top), _ = corners
    left, right, y = ax + INSIDE + 3.0, bx - INSIDE, top - INSIDE
    texts, y = paragraph(f"{title.family} {title.model}: print this page first", (left, y), d.middle, right - left,
                         d.pitch, bold=True)  # fmt: skip
    yield from texts
    for words in (*told, *FIRST, *((*FEW,) if not told else ())):
        texts, y = paragraph(words, (left, y - 1.5), d.small, right - left, d.pitch)
        yield from texts
    yield from written_lengths(first_sides(p), left, right - 40.0, y - 3.0)
    yield from _moves(left, right, y - 75.0)
    low = FOOT + STRIP - 2.0
    texts, low = paragraph(CAUTION, (SIDE, low), d.small, p.width - 2 * SIDE, d.pitch, layer="frame")
    yield from texts


FIRST = (
    "Print at 100 % (actual size), upright, on the printer and the paper of the whole set. All four corner crosses "
    "must show. Measure A–B, A–D and both diagonals, cross to cross, with a steel rule, to a quarter of a millimetre.",
)
FEW = (
    "If they are as drawn, print the rest. If not, give them to the command plans, with --measured, --measured-on, "
    "--printer and --date: it draws the set corrected for this printer, along, across and for skew. More than "
    f"{100 * MOST_SCALE:.0f} % is refused: that is a scaled print.",
    "A rule read to a quarter of a millimetre on this page leaves 0.1 %, a millimetre in a metre. The check lines of a "
    "sheet that is put together are longer and better: measure them too, and give those.",
)


def _moves(left: float, right: float, y: float) -> Iterator[Stroke]:
    """How far paper moves between a dry and a damp day: shares, and what they make of a template."""
    d = DRAFTING
    ends = [left + (right - left) * (0.37 + 0.21 * i) for i in range(4)]
    for row in _rows():
        for words, x in zip(row, (left, *ends), strict=True):
            align: Align = "left" if x == left else "right"
            yield Text(words, (x, y - d.small), d.small, align=align, bold=words == HEAD)
        y -= d.pitch * d.small
    yield from paragraph(MOVES, (left, y - 1.0), d.small, right - left, d.pitch)[0]


def _rows() -> Iterator[tuple[str, ...]]:
    yield HEAD, "", *(f"of {1000 * m:,.0f} mm" for m in LONG)
    for way in ("along", "across"):
        low, high = PAPER[f"{way}_least"].value, PAPER[f"{way}_most"].value
        moves = (f"{1000 * m * low:.1f}–{1000 * m * high:.1f} mm" for m in LONG)
        yield f"{way} its grain", f"{100 * low:.1f}–{100 * high:.1f} %", *moves


HEAD = "Bond paper moves"
MOVES = (
    "between a dry and a damp day; second-hand figures, their humidity not said. Print, measure and cut on one day in "
    f"one room. Polyester film: {100 * PAPER['film_warmth'].value:.2f} % for ten degrees."
)
