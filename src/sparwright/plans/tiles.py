"""A template sheet on pages a home printer takes: which piece of the sheet each page shows, and its check lines.

Pages stand upright (a page turned would exchange the printer's two errors), in rows A, B, C from the top and columns
1, 2, 3 from the left. Neighbours share LAP millimetres; the match line runs along the middle of it. Only the templates
are put on pages, with check lines of their own around them; frame and title block of the sheet stand on its map.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np
import shapely

from sparwright.base.record import number
from sparwright.plans.clash import line_of
from sparwright.plans.drawing import DRAFTING, Box, Line, Point, Sheet, Stroke, Text, cross
from sparwright.plans.form import PAGES
from sparwright.plans.lettering import box
from sparwright.plans.paper import HALF_INCH, Paper, both_units

LAP = 15.0  # mm shared by neighbours
SIDE, TOP, FOOT = 6.4, 6.4, 12.7  # mm no home printer need reach; inkjets hold the tail (common practice, no source)
STRIP = 14.6  # mm above the foot for the page's name and what to do
ROUND = 6.6  # mm from templates to their check lines
EDGE = 4.2  # mm beyond a check line: its ticks and half of its corner's cross
SHORTEST = 0.5  # of the templates' length: a shorter check line would not be worth measuring
APART = 8.0  # mm from the corner C to anything else
CLEAR = 5.0  # mm wanted from a match line to a prick point or the end of a line
Cell = tuple[int, int]  # row and column, from 0
TILE_PAPERS = {p.name: p for p in PAGES.values()}


@dataclass(frozen=True)
class Tile:
    """One page: its place among the others, the part of the sheet it shows, and how that is shifted onto the page."""

    row: int
    column: int
    trim: Box  # of the sheet, mm: between the match lines
    dx: float = number("mm", "page x less sheet x")
    dy: float = number("mm", "page y less sheet y")
    check_only: bool = False  # no template stroke, only the check lines

    @property
    def name(self) -> str:
        """Row and column: "B2"."""
        return page_name(self.row, self.column)

    @property
    def window(self) -> Box:
        """What the page shows of the sheet, mm: half of the overlap beyond the match lines."""
        t, h = self.trim, LAP / 2
        return Box(t.left - h, t.bottom - h, t.right + h, t.top + h)


@dataclass(frozen=True)
class Tiling:
    """One sheet on pages of one paper."""

    paper: Paper
    sheet: Sheet
    corners: tuple[Point, Point, Point, Point]  # A, B, C, D of the check lines, mm on the sheet
    strokes: tuple[Stroke, ...]  # templates and check lines, mm on the sheet
    rows: int
    columns: int
    tiles: tuple[Tile, ...]

    @property
    def sides(self) -> tuple[float, float]:
        """A-B and A-D as drawn, m."""
        (ax, ay), _, (cx, cy), _ = self.corners
        return (cx - ax) / 1000, (cy - ay) / 1000

    @property
    def left_out(self) -> tuple[str, ...]:
        """Names of pages on which nothing would be drawn."""
        kept = {t.name for t in self.tiles}
        names = (page_name(r, c) for r, c in product(range(self.rows), range(self.columns)))
        return tuple(n for n in names if n not in kept)

    def at(self, row: int, column: int) -> Tile | None:
        """The page of that place, None where it is left out or beyond the edge."""
        return next((t for t in self.tiles if (t.row, t.column) == (row, column)), None)


def page_name(row: int, column: int) -> str:
    """Rows by letter from the top, columns by number from the left, both counted from 0.

    >>> page_name(1, 1), page_name(26, 0)
    ('B2', 'AA1')
    """
    letter = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"
    return f"{letter[row] if row < 26 else letter[row // 26 - 1] + letter[row % 26]}{column + 1}"


def trim_size(p: Paper) -> tuple[float, float]:
    """Width and height, mm, that one page adds: what can be printed, less strip and overlap."""
    return p.width - 2 * SIDE - LAP, p.height - TOP - FOOT - STRIP - LAP


def tiling(sheet: Sheet, p: Paper) -> Tiling:
    """The sheet's templates on pages of that paper."""
    shapes = [_shape(s) for s in sheet.drawn]
    bounds = Box(*map(float, shapely.total_bounds(shapes)))
    x, y = bounds.left - ROUND, bounds.bottom - ROUND  # of the corner A
    w = math.ceil((bounds.right + ROUND - x) / HALF_INCH) * HALF_INCH
    x0, y0, x1, y1 = x - EDGE, y - EDGE, x + w + EDGE, bounds.top
    wide, high = trim_size(p)
    columns, rows = (max(1, math.ceil((b - a - LAP) / one)) for a, b, one in ((x0, x1, wide), (y0, y1, high)))
    start = Box(x0 + LAP / 2, y0, x1, y1 - LAP / 2)  # the outer half of an overlap without a neighbour is of use too
    trims = _grid(start, (rows, columns), (wide, high), sheet.drawn, shapes)
    boxes = {cell: own_part(box, cell, rows, columns) for cell, box in trims.items()}
    w = _shortened(x, w, boxes, _touched(boxes, shapes))
    corners = _corners((x, y), w, bounds.top, shapely.STRtree(shapes))
    checks = tuple(check_strokes(corners))
    kept = _kept(boxes, shapes, [_shape(s) for s in checks])
    dx, dy = SIDE + LAP / 2, FOOT + STRIP + LAP / 2
    tiles = (Tile(r, c, b, dx - b.left, dy - b.bottom, kept[r, c]) for (r, c), b in trims.items() if (r, c) in kept)
    return Tiling(p, sheet, corners, (*sheet.drawn, *checks), rows, columns, tuple(tiles))


def _grid(
    start: Box, count: Cell, size: tuple[float, float], drawn: Sequence[Stroke], shapes: Sequence[shapely.Geometry]
) -> dict[Cell, Box]:
    """The pages' places between match lines: fewest pages with templates first, then fewest lines through lettering."""
    (rows, columns), (wide, high) = count, size
    across = _shifts(columns * wide + LAP / 2 - start.width, wide, start.left, columns, _avoid(drawn, 0))
    down = _shifts(rows * high + LAP / 2 - start.height, high, -start.top, rows, _avoid(drawn, 1) * -1.0)
    best: dict[Cell, Box] = {}
    fewest = math.inf
    for dx, dy in product(across, down):
        left, top = start.left - dx, start.top + dy
        trims = {
            (r, c): Box(left + c * wide, top - (r + 1) * high, left + (c + 1) * wide, top - r * high)
            for r, c in product(range(rows), range(columns))
        }
        boxes = {cell: own_part(box, cell, rows, columns) for cell, box in trims.items()}
        full = _touched(boxes, shapes)
        angle = _angle(start, _shortened(start.left, start.width - EDGE, boxes, full))
        pages = len(full | _touched(boxes, [angle]))
        if pages < fewest:
            best, fewest = trims, pages
    return best


def _angle(start: Box, w: float) -> shapely.LineString:
    """Roughly the check lines, D-A-B: what they cross is a page."""
    x, y = start.left, start.bottom + EDGE
    return shapely.LineString([(x, start.top), (x, y), (x + w, y)])


def own_part(trim: Box, cell: Cell, rows: int, columns: int) -> Box:
    """What of the sheet only this page shows, mm: between its match lines, and to its window's edge at the outside."""
    (r, c), h = cell, LAP / 2
    left, right = trim.left - h * (c == 0), trim.right + h * (c == columns - 1)
    return Box(left, trim.bottom - h * (r == rows - 1), right, trim.top + h * (r == 0))


def _shape(s: Stroke) -> shapely.Geometry:
    return shapely.Polygon(box(s)) if isinstance(s, Text) else line_of(s)


def _corners(a: Point, w: float, top: float, drawn: shapely.STRtree) -> tuple[Point, Point, Point, Point]:
    """A B C D: as high, in whole half inches, as what is drawn, with nothing else at C."""
    x, y = a
    most = max(math.floor((top - EDGE - y) / HALF_INCH), 1)
    for count in range(most, 0, -1):
        h = count * HALF_INCH
        if not len(drawn.query(shapely.Point(x + w, y + h).buffer(APART), predicate="intersects")):
            break
    return (x, y), (x + w, y), (x + w, y + h), (x, y + h)


def check_strokes(corners: tuple[Point, Point, Point, Point]) -> Iterable[Stroke]:
    """Check lines A-B and A-D with their lengths and inch ticks, and a cross at each of the corners A B C D."""
    a, b, c, d = corners
    small = DRAFTING.small
    yield Line(a, b, "check")
    yield Line(a, d, "check")
    for at, name, sx, sy in ((a, "A", 1, 1), (b, "B", -1, 1), (c, "C", -1, -1), (d, "D", 1, -1)):
        yield from cross(at, 4.0, "check")
        y = at[1] + (1.5 if sy > 0 else -1.5 - small)
        yield Text(name, (at[0] + sx * 1.5, y), small, 0.0, "left" if sx > 0 else "right", True, "check")
    for i in range(1, math.ceil((b[0] - a[0]) / 25.4)):
        yield Line((a[0] + 25.4 * i, a[1]), (a[0] + 25.4 * i, a[1] - (3.0 if i % 4 == 0 else 1.5)), "check")
    for i in range(1, math.ceil((d[1] - a[1]) / 25.4)):
        yield Line((a[0], a[1] + 25.4 * i), (a[0] - (3.0 if i % 4 == 0 else 1.5), a[1] + 25.4 * i), "check")
    across, up = both_units((b[0] - a[0]) / 1000), both_units((d[1] - a[1]) / 1000)
    yield Text(f"A–B {across}", ((a[0] + b[0]) / 2, a[1] + 1.5), small, 0.0, "middle", layer="check")
    yield Text(f"A–D {up}", (a[0] + 1.5 + small, (a[1] + d[1]) / 2), small, 90.0, "middle", layer="check")


def _avoid(strokes: Iterable[Stroke], axis: int) -> np.ndarray:
    """Stretches (n, 2), mm along x or y, that a match line across that axis had better not pass through."""
    found = []
    for s in strokes:
        if isinstance(s, Text):
            ends = [p[axis] for p in box(s, CLEAR / 2)]
            found.append((min(ends), max(ends)))
        elif isinstance(s, Line) and abs(s.start[axis] - s.end[axis]) < 2 * CLEAR:
            found.append((min(s.start[axis], s.end[axis]) - CLEAR, max(s.start[axis], s.end[axis]) + CLEAR))
    return np.array(found).reshape(-1, 2)


def _shifts(spare: float, step: float, start: float, count: int, avoid: np.ndarray) -> tuple[float, ...]:
    """How far, mm within what is to spare, the grid may begin before `start`: where its lines pass through least, and
    at both ends.
    """
    most = max(spare, 0.0)
    if count < 2 or len(avoid) == 0:
        return (most / 2,)
    shifts = np.arange(0.0, math.floor(most) + 1.0)
    lines = start - shifts[:, None] + step * np.arange(1, count)
    low, high = avoid.min(axis=1), avoid.max(axis=1)
    hit = ((lines[:, :, None] > low) & (lines[:, :, None] < high)).sum(axis=(1, 2))
    return (float(shifts[np.argmin(hit)]), 0.0, float(shifts[-1]))


def _shortened(x: float, w: float, boxes: dict[Cell, Box], full: set[Cell]) -> float:
    """Length of A-B: no longer than the bottom row's templates reach, where it would need pages for itself alone."""
    row = max(r for r, _ in boxes)
    last = max((c for r, c in full if r == row), default=-1)
    if last < 0 or (row, last + 1) not in boxes:
        return w
    shorter = math.floor((boxes[row, last].right - EDGE - x) / HALF_INCH) * HALF_INCH
    return shorter if SHORTEST * w <= shorter < w else w


def _kept(
    boxes: dict[Cell, Box], shapes: Sequence[shapely.Geometry], marks: Sequence[shapely.Geometry]
) -> dict[Cell, bool]:
    """Places of pages that are printed: with a template, with check lines only, or to join those."""
    full, only = _touched(boxes, shapes), _touched(boxes, marks)
    kept = {cell: cell not in full for cell in boxes if cell in full or cell in only}
    for row in sorted({r for r, _ in kept}):  # a row hangs together; all rows hang on the check line A-D, column 1
        last = max(c for r, c in kept if r == row)
        for c in range(last):
            kept.setdefault((row, c), True)
    return kept


def _touched(boxes: dict[Cell, Box], shapes: Sequence[shapely.Geometry]) -> set[Cell]:
    """The places on which something is drawn."""
    cells, tree = list(boxes), shapely.STRtree(shapes)
    areas = [shapely.box(b.left, b.bottom, b.right, b.top) for b in boxes.values()]
    return {cells[i] for i in tree.query(areas, predicate="intersects")[0]}
