"""What stands on a page of a tiled sheet besides the templates: match lines and crosses, the check square, its name.

All but the words at the foot belong to the drawing and are corrected with it. Nothing here runs over lettering: match
lines and square are broken where they would.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from sparwright.plans.clash import line_of
from sparwright.plans.drawing import DRAFTING, Box, Line, Point, Polyline, Stroke, Text, cross, moved
from sparwright.plans.lettering import box, width
from sparwright.plans.tiles import FOOT, LAP, SIDE, STRIP, Tile, Tiling, page_name

HALF = 4.0  # mm, half of a match cross
SQUARE, FOUR_INCHES = 100.0, 101.6  # mm, sides of the check square
TICK = 3.0  # mm, of the square's ticks
MARK = 2.0  # mm, half of the square's fourth corner
CROSSES_APART = 25.0  # mm, so that two of them hold a page straight
AIR = 1.0  # mm between lettering and a broken line

Edge = tuple[Point, Point]
CORNERS = (("lower left", 1, 1), ("lower right", -1, 1), ("upper left", 1, -1), ("upper right", -1, -1))


@dataclass(frozen=True)
class Leaf:
    """One page of a tiled set: `true` strokes are corrected for a printer, `fixed` ones not; mm on the page."""

    name: str
    true: tuple[Stroke, ...]
    fixed: tuple[Stroke, ...]
    tile: Tile | None = None


@dataclass(frozen=True)
class Drawn:
    """What lies on the sheet that is tiled, to keep clear of, mm on the sheet."""

    all: shapely.STRtree
    words: shapely.STRtree

    def free(self, shape: shapely.Geometry) -> bool:
        """Whether nothing is drawn there."""
        return not len(self.all.query(shape, predicate="intersects"))


def drawn_of(t: Tiling) -> Drawn:
    """The shapes of all strokes and of the lettering alone."""
    boxes = [shapely.Polygon(box(s, AIR)) for s in t.strokes if isinstance(s, Text)]
    lines = [line_of(s) for s in t.strokes if not isinstance(s, Text)]
    return Drawn(shapely.STRtree([*boxes, *lines]), shapely.STRtree(boxes))


def leaves(t: Tiling, words: str) -> tuple[Leaf, ...]:
    """All pages of a sheet; `words` stand at the foot of each after its name."""
    drawn = drawn_of(t)
    return tuple(_leaf(t, tile, drawn, words) for tile in t.tiles)


def _leaf(t: Tiling, tile: Tile, drawn: Drawn, words: str) -> Leaf:
    words_of_it, square = _square(tile, drawn)
    taken = shapely.MultiLineString([line_of(s) for s in square])
    match = [s for side in SIDES for s in _side(t, tile, side, drawn, taken)]
    on_page = tuple(moved(s, tile.dx, tile.dy) for s in dict.fromkeys((*match, *square)))  # corners have two sides
    return Leaf(tile.name, on_page, tuple(_foot(t, tile, words_of_it, words)), tile)


SIDES = ("left", "bottom", "right", "top")
STEP = {"left": (0, -1), "right": (0, 1), "top": (-1, 0), "bottom": (1, 0)}


def _edge(trim: Box, side: str) -> Edge:
    """The match line of a side between the page's corners, from the left or from below."""
    a, b, c, d = (trim.left, trim.bottom), (trim.right, trim.bottom), (trim.right, trim.top), (trim.left, trim.top)
    return {"left": (a, d), "bottom": (a, b), "right": (b, c), "top": (d, c)}[side]


def _side(t: Tiling, tile: Tile, side: str, drawn: Drawn, taken: shapely.Geometry) -> Iterator[Stroke]:
    """Match line, crosses and words of one side; nothing where no page joins."""
    step = STEP[side]
    other = t.at(tile.row + step[0], tile.column + step[1])
    if other is None:
        return
    edge = _edge(tile.trim, side)
    yield from broken(edge, drawn, "match", "chain")
    spots = _crosses(edge, drawn)
    for at in spots:
        yield from cross(at, HALF, "match", "thick")
    words = f"cut, lay on {other.name}" if side in ("left", "bottom") else f"{other.name} lies on this"
    taken = shapely.GeometryCollection([taken, *(_about(p, HALF + AIR) for p in spots)])
    yield from _said(words, edge, -1 if side in ("left", "bottom") else 1, drawn, taken)


def _about(p: Point, half: float) -> shapely.Polygon:
    return shapely.box(p[0] - half, p[1] - half, p[0] + half, p[1] + half)


def broken(edge: Edge, drawn: Drawn, layer: str, dash: str = "solid") -> Iterator[Stroke]:
    """A straight line with gaps where lettering stands."""
    line = shapely.LineString(edge)
    hit = drawn.words.query(line, predicate="intersects")
    left = shapely.difference(line, shapely.union_all(drawn.words.geometries[hit])) if len(hit) else line
    for piece in shapely.get_parts(left):
        if piece.length > 0:
            (ax, ay), (bx, by) = piece.coords[0], piece.coords[-1]
            yield Line((ax, ay), (bx, by), layer, dash=dash)  # type: ignore[arg-type]


def _crosses(edge: Edge, drawn: Drawn) -> tuple[Point, ...]:
    """The corners and two places between, the same on both pages that share the edge: never on lettering, and on a
    line of a template only at the corners or where there is no other place.
    """
    long = math.dist(*edge)
    shares = np.array([0.0, 1.0, *np.arange(HALF / long, 1.0 - HALF / long, 4.0 / long)])
    places = np.round(np.outer(1 - shares, edge[0]) + np.outer(shares, edge[1]), 4)
    lettered, near = _hit(places, HALF, drawn.words), _hit(places, HALF + AIR, drawn.all)
    spots: list[Point] = []
    for share, some in ((0.0, slice(0, 1)), (1.0, slice(1, 2)), (1 / 3, slice(2, None)), (2 / 3, slice(2, None))):
        for i in np.lexsort((np.abs(shares[some] - share), near[some])):
            p = (float(places[some][i][0]), float(places[some][i][1]))
            if not lettered[some][i] and all(math.dist(p, q) > CROSSES_APART for q in spots):
                spots.append(p)
                break
    return tuple(spots)


def _hit(places: np.ndarray, half: float, tree: shapely.STRtree) -> np.ndarray:
    """Of each place (n, 2), whether anything of the tree comes within `half` of it, mm."""
    (x, y), found = places.T, np.zeros(len(places), bool)
    found[tree.query(shapely.box(x - half, y - half, x + half, y + half), predicate="intersects")[0]] = True
    return found


def _said(words: str, edge: Edge, way: int, drawn: Drawn, taken: shapely.Geometry) -> Iterator[Text]:
    """Words along a match line, in the half of the overlap beyond it, where nothing else is."""
    ax, ay = edge[0]
    long, size = math.dist(*edge), DRAFTING.small
    upright = ax == edge[1][0]
    off = LAP / 4 + size / 2 if upright == (way > 0) else LAP / 4 - size / 2
    middle = 0.5 * long
    for k in range(2 * int(long / 8)):
        along = middle + (k + 1) // 2 * 4.0 * (1 if k % 2 else -1)
        if not width(words, size) / 2 + HALF < along < long - width(words, size) / 2 - HALF:
            continue
        anchor = (ax + way * off, ay + along) if upright else (ax + along, ay + way * off)
        text = Text(words, anchor, size, 90.0 if upright else 0.0, "middle", layer="match")
        shape = shapely.Polygon(box(text, AIR / 2))
        if drawn.free(shape) and not shape.intersects(taken):
            yield text
            return


def _square(tile: Tile, drawn: Drawn) -> tuple[str, list[Stroke]]:
    """The check square at a corner of the page where its fourth corner stands clear, and what is said of it."""
    t = tile.trim
    places = [
        (name, (t.left if sx > 0 else t.right, t.bottom if sy > 0 else t.top), sx, sy) for name, sx, sy in CORNERS
    ]
    places.sort(key=lambda p: _crowd(_far(p[1], p[2], p[3]), drawn))
    name, at, sx, sy = places[0]
    strokes: list[Stroke] = []
    for end in ((at[0] + sx * FOUR_INCHES, at[1]), (at[0], at[1] + sy * FOUR_INCHES)):
        strokes += broken((at, end), drawn, "check")
    for long in (SQUARE, FOUR_INCHES):
        x, y = at[0] + sx * long, at[1] + sy * long
        strokes += broken(((x, at[1]), (x, at[1] - sy * TICK)), drawn, "check")
        strokes += broken(((at[0], y), (at[0] - sx * TICK, y)), drawn, "check")
    fx, fy = _far(at, sx, sy)
    ways = f"inner ticks 100 mm, tick to tick {SQUARE * math.sqrt(2):.1f} mm"
    if _crowd((fx, fy), drawn) < 2:
        ways = "inner ticks, slanted cross 100 mm"
        strokes.append(Line((fx - MARK, fy - MARK), (fx + MARK, fy + MARK), "check"))
        strokes.append(Line((fx - MARK, fy + MARK), (fx + MARK, fy - MARK), "check"))
    return f"Square {name}: {ways}, outer ticks 4″.", strokes


def _crowd(p: Point, drawn: Drawn) -> int:
    """0 where nothing is near, 1 where only lines are, 2 where lettering is."""
    if len(drawn.words.query(_about(p, MARK), predicate="intersects")):
        return 2
    return 0 if drawn.free(_about(p, 2 * MARK)) else 1


def _far(at: Point, sx: int, sy: int) -> Point:
    return at[0] + sx * SQUARE, at[1] + sy * SQUARE


def _foot(t: Tiling, tile: Tile, square: str, words: str) -> Iterator[Text]:
    """The page's name, then the square and what else is to be said."""
    d, right = DRAFTING, t.paper.width - SIDE
    row, column = page_name(tile.row, 0)[:-1], tile.column + 1
    y = FOOT + STRIP - 2.0 - d.small
    name = f"{sheet_words(t)}, row {row}, column {column}"
    yield Text(name, (SIDE, y), d.small, bold=True, layer="frame")
    yield Text(words, (right, y), d.small, align="right", layer="frame")
    y -= d.pitch * d.small
    yield Text(f"Print at 100 %. {square}", (SIDE, y), d.small, layer="frame")


def sheet_words(t: Tiling) -> str:
    """Which sheet of which set its pages are of: "Tube ends, sheet 4 of 9"."""
    words = t.sheet.set_words
    return f"{words[:1].upper()}{words[1:]}, sheet {t.sheet.number} of {t.sheet.total}"


def outlines(strokes: Iterable[Stroke]) -> tuple[tuple[Point, ...], ...]:
    """Lines that are cut, as points, mm on the sheet."""
    found = (s for s in strokes if isinstance(s, Polyline) and s.layer == "cut")
    return tuple((*s.points, s.points[0]) if s.closed else s.points for s in found)
