"""The map of a tiled sheet: which page goes where, how they are joined, what must be measured when they are."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import product

import shapely

from sparwright.base.safety import CAUTION
from sparwright.plans import flat_parts, side, tube_ends
from sparwright.plans.clash import line_of
from sparwright.plans.drawing import DRAFTING, Box, Line, Point, Polyline, Stroke, Text, moved, rectangle
from sparwright.plans.form import BETWEEN, DESCENT, MARGIN
from sparwright.plans.lettering import box, paragraph, width
from sparwright.plans.paper import TitleBlock, both_units
from sparwright.plans.tile_page import Leaf, outlines, sheet_words
from sparwright.plans.tile_parts import few_enough, measured_as, parts_on_pages
from sparwright.plans.tiles import LAP, Tiling, own_part, page_name

ROW = 8.5  # mm, of a length to be written
MOST_MAP = 95.0  # mm, height of the map
BELOW_MAP = 4.0  # mm
TWO_LINES = 22.0  # mm, least height of a page on the map that has a second line
LEGENDS = {flat_parts.KIND: flat_parts.LEGEND, tube_ends.KIND: tube_ends.LEGEND}
FINE = 0.15  # mm on the map: finer than it can be seen


def map_page(t: Tiling, title: TitleBlock, told: tuple[str, ...] = ()) -> Leaf:
    """The map page of one sheet; `told` is what a set corrected for one printer says of that."""
    d, left, right = DRAFTING, MARGIN, t.paper.width - MARGIN
    head = f"{title.family} {title.model}: {t.sheet.set_words}, sheet {t.sheet.number} of {t.sheet.total}"
    few = parts_on_pages(t, title.model)
    on = tuple(few) if few_enough(few, t.paper) else ("Which part is on which page: the next page.",)
    strokes: list[Stroke] = []
    y = t.paper.height - MARGIN
    for words in (head, _counted(t), *on, *told):
        size = d.middle if words is head else d.small
        texts, y = paragraph(words, (left, y), size, right - left, d.pitch, bold=words is head)
        strokes += texts
        y -= 1.0
    steps = tuple(_steps(left, right, 0.0, t, title))
    low = min(_lowest(s) for s in steps)
    drawn, y = _map(t, left, right, y - 1.0, MARGIN + BELOW_MAP + 0.5 - low)
    strokes += [*drawn, *(moved(s, 0.0, y - BELOW_MAP) for s in steps)]
    return Leaf(f"{sheet_words(t)}: {', '.join(t.sheet.shows)}", (), tuple(strokes))


def _counted(t: Tiling) -> str:
    out = f"; left out, nothing is on them: {', '.join(t.left_out)}" if t.left_out else ""
    alone = [tile.name for tile in t.tiles if tile.check_only]
    only = f"; for the check lines only: {', '.join(alone)}" if alone else ""
    whole = f"{len(t.tiles)} pages, {t.paper.title}, upright{out}{only}."
    return f"{whole} Measured when put together: --measured-on {measured_as(t)}."


def _lowest(s: Stroke) -> float:
    return min(p[1] for p in (box(s) if isinstance(s, Text) else line_of(s).coords))


def _map(t: Tiling, left: float, right: float, top: float, lower: float) -> tuple[list[Stroke], float]:
    """The pages with the templates on them, small, no lower than `lower`; and the y below."""
    cells = list(product(range(t.rows), range(t.columns)))
    whole = [_cell(t, r, c) for r, c in cells]
    x0, y1 = min(b.left for b in whole), max(b.top for b in whole)
    x1, y0 = max(b.right for b in whole), min(b.bottom for b in whole)
    k = min((right - left) / (x1 - x0), min(MOST_MAP, top - lower) / (y1 - y0))

    def on(p: Point) -> Point:
        return left + k * (p[0] - x0), top - k * (y1 - p[1])

    strokes: list[Stroke] = []
    for (r, c), one in zip(cells, whole, strict=True):
        strokes += _page(t, r, c, Box(*on((one.left, one.bottom)), *on((one.right, one.top))))
    gaps = shapely.union_all([shapely.Polygon(box(s, 0.8)) for s in strokes if isinstance(s, Text)])
    for points in outlines(t.strokes):
        line = shapely.LineString([on(p) for p in points]).simplify(FINE).difference(gaps)
        strokes += [_line(g, "cut") for g in shapely.get_parts(line) if g.length > 0]
    a, b, _, d = map(on, t.corners)
    sides = shapely.MultiLineString([(a, b), (a, d)]).difference(gaps)
    strokes += [_line(g, "check") for g in shapely.get_parts(sides) if g.length > 0]
    return strokes, top - k * (y1 - y0)


def _line(g: shapely.LineString, layer: str) -> Polyline:
    return Polyline(tuple((float(x), float(y)) for x, y in g.coords), layer)


def _cell(t: Tiling, row: int, column: int) -> Box:
    """Where the page of that place lies on the sheet, printed or not."""
    one = t.tiles[0]
    wide, high = one.trim.width, one.trim.height
    x, y = one.trim.left + (column - one.column) * wide, one.trim.bottom - (row - one.row) * high
    return own_part(Box(x, y, x + wide, y + high), (row, column), t.rows, t.columns)


def _page(t: Tiling, row: int, column: int, at: Box) -> Iterator[Stroke]:
    """One page on the map: its name, and a dashed line round it where it is left out."""
    d, tile = DRAFTING, t.at(row, column)
    yield rectangle(at.left, at.bottom, at.right, at.top, "match")
    x, y = (at.left + at.right) / 2, (at.bottom + at.top) / 2
    words: tuple[tuple[str, float, bool], ...]
    if tile is None:
        words = ((page_name(row, column), d.small, False), ("left out", d.small, False))
        inset = rectangle(at.left + 2.5, at.bottom + 2.5, at.right - 2.5, at.top - 2.5, "match")
        yield replace(inset, dash="dash")
    else:
        words = ((tile.name, d.middle, True),) + ((("check only", d.small, False),) if tile.check_only else ())
    if len(words) > 1 and (at.height < TWO_LINES or width(words[1][0], d.small) + 7.0 > at.width):
        words = words[:1]  # what is left off stands above the map
    for i, (word, size, bold) in enumerate(words):
        yield Text(word, (x, y - size / 2 + (len(words) - 1) * 3.5 - i * 8.0), size, 0.0, "middle", bold, "match")


def _steps(left: float, right: float, y: float, t: Tiling, title: TitleBlock) -> Iterator[Stroke]:
    """What to do; then caution and origin beside the four lengths with room to write."""
    d, half = DRAFTING, (left + right) / 2
    for i, words in enumerate(STEPS, 1):
        yield Text(f"{i}", (left, y - d.small), d.small, bold=True)
        texts, y = paragraph(words, (left + 6.0, y), d.small, right - left - 6.0, d.pitch)
        yield from texts
        y -= 1.0
    texts, y = paragraph(LEGENDS.get(t.sheet.kind, side.LEGEND), (left, y - 1.0), d.small, right - left, d.pitch)
    yield from texts
    low = y - 2.0
    yield from written_lengths(t.sides, half, right, low)
    for words in (CAUTION, f"{title.program}, design file sha256 {title.file_sha256[:12]}"):
        texts, low = paragraph(words, (left, low), d.small, half - left - 6.0, d.pitch, layer="frame")
        yield from texts
        low -= 1.2


STEPS = (
    "Print every page at 100 %, upright, all on the same printer and paper. Measure the square on each.",
    f"Pages share {LAP:.0f} mm. Begin with the lowest page at the left, go to the right, then up row by row: cut a "
    "page along its left and lower match line and lay that edge on its neighbour’s match line.",
    "Halves of crosses make whole crosses; lines run on. Tape, no wet glue: it stretches paper.",
    "Measure A–B, A–D and both diagonals, cross to cross. More than 1 mm off: do not cut; the command plans with "
    "--measured draws the set corrected for your printer.",
    "Measure each template’s own lengths. Figures govern over lines. Never copy: a copy has errors of its own.",
)


def written_lengths(sides: tuple[float, float], left: float, right: float, y: float) -> Iterator[Stroke]:
    """The four lengths as drawn, each with a line to write what was measured, then printer, paper, date, initials."""
    d = DRAFTING
    diagonal = (sides[0] ** 2 + sides[1] ** 2) ** 0.5
    yield Text("As drawn, and as measured", (left, y - d.small), d.small, bold=True, layer="hand")
    y -= 3.0
    lengths = (("A–B", sides[0]), ("A–D", sides[1]), ("A–C", diagonal), ("B–D", diagonal))
    names = (*(f"{name}  {both_units(long)}" for name, long in lengths), "Printer", "Paper", "Date, initials")
    for name in names:
        y -= ROW
        yield Text(name, (left, y + DESCENT), d.small, layer="hand")
        yield Line((left + width(name, d.small) + BETWEEN, y), (right, y), "hand")
