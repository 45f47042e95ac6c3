"""Any template on pages: nothing is lost, nothing empty is printed, every page joins the others and can be printed."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.parts.part import Part, Plate
from sparwright.plans.clash import clashes, line_of
from sparwright.plans.correction import Measured, correction
from sparwright.plans.drawing import Line, Sheet, Text
from sparwright.plans.lettering import box
from sparwright.plans.paper import TitleBlock
from sparwright.plans.templates import briefly, templates
from sparwright.plans.tile_map import map_page
from sparwright.plans.tile_page import Leaf, leaves
from sparwright.plans.tiled import tiled
from sparwright.plans.tiles import EDGE, FOOT, LAP, SIDE, STRIP, TILE_PAPERS, TOP, Tiling, tiling

TITLE = TitleBlock("Whinchat", "T1", "Sparwright 0.1.0", "0" * 64)

UNDO = correction(Measured("24 × 36 in sheet", "the copy shop in Main Street", "2026-05-04",
                           0.8763, 0.5715, 0.8770, 0.5712, 1.0464, 1.0469))  # fmt: skip

sizes = st.lists(st.tuples(st.floats(0.02, 0.84), st.floats(0.02, 0.38)), min_size=1, max_size=4)
papers = st.sampled_from(sorted(TILE_PAPERS))


def sheets(plates) -> tuple[Sheet, ...]:
    parts = [
        Part(number=f"P{i}", name="plate", form="plate", group="g", purpose="p", material="birch-ply", stock="ply",
             places=((0, 0, 0),), mass=0.1,
             shape=Plate(outline=np.array([[0, 0], [a, 0.1 * b], [0.3 * a, b]]), holes=(), thickness=0.003))
        for i, (a, b) in enumerate(plates)
    ]  # fmt: skip
    return templates(parts, "24x36", TITLE)


def shapes(strokes) -> list:
    return [shapely.Polygon(box(s)) if isinstance(s, Text) else line_of(s) for s in strokes]


def area(box_) -> shapely.Polygon:
    return shapely.box(box_.left, box_.bottom, box_.right, box_.top)


@settings(max_examples=30, deadline=None)
@given(sizes, papers)
def test_every_stroke_lies_on_the_pages_and_pages_without_templates_are_left_out(plates, paper):
    for sheet in sheets(plates):
        t = tiling(sheet, TILE_PAPERS[paper])
        shown = shapely.union_all([area(tile.window) for tile in t.tiles])
        for s, shape in zip(t.strokes, shapes(t.strokes), strict=True):
            assert shown.buffer(1e-6).covers(shape), s
        drawn = shapely.union_all(shapes(sheet.drawn))
        check = shapely.union_all(shapes(t.strokes[len(sheet.drawn) :]))
        for tile in t.tiles:
            seen = area(tile.window)
            beyond = [o for o in t.tiles if o.row == tile.row and o.column > tile.column]  # it joins those
            assert seen.intersects(check if tile.check_only else drawn) or beyond
        kept = {(tile.row, tile.column) for tile in t.tiles}
        assert len(t.left_out) == t.rows * t.columns - len(kept)


def test_a_page_is_left_out_and_named_where_nothing_would_be_on_it():
    (sheet,) = sheets([(0.8, 0.18), (0.42, 0.18)])
    for p in TILE_PAPERS.values():
        t = tiling(sheet, p)
        assert t.left_out == ("B4", "B5") and not any(tile.check_only for tile in t.tiles)


@settings(max_examples=30, deadline=None)
@given(sizes, papers)
def test_pages_hang_together_share_the_overlap_and_keep_clear_of_what_is_not_printed(plates, paper):
    p = TILE_PAPERS[paper]
    for sheet in sheets(plates):
        t = tiling(sheet, p)
        for tile in t.tiles:
            w = tile.window
            assert w.left + tile.dx == pytest.approx(SIDE) and w.right + tile.dx == pytest.approx(p.width - SIDE)
            assert w.bottom + tile.dy == pytest.approx(FOOT + STRIP) and w.top + tile.dy == pytest.approx(
                p.height - TOP
            )
            for step in ((0, 1), (1, 0)):
                other = t.at(tile.row + step[0], tile.column + step[1])
                if other:
                    common = area(w).intersection(area(other.window)).bounds
                    assert min(common[2] - common[0], common[3] - common[1]) == pytest.approx(LAP)
        assert _joined({(tile.row, tile.column) for tile in t.tiles})


def _joined(cells: set[tuple[int, int]]) -> bool:
    seen, todo = set(), [next(iter(cells))]
    while todo:
        r, c = todo.pop()
        if (r, c) in cells - seen:
            seen.add((r, c))
            todo += [(r + 1, c), (r - 1, c), (r, c + 1), (r, c - 1)]
    return seen == cells


@settings(max_examples=20, deadline=None)
@given(sizes, papers)
def test_neighbours_carry_the_same_crosses_and_at_least_two(plates, paper):
    for sheet in sheets(plates):
        t = tiling(sheet, TILE_PAPERS[paper])
        pages = {leaf.tile.name: leaf for leaf in leaves(t, "x")}
        for tile in t.tiles:
            for step, edge in (((0, 1), "right"), ((-1, 0), "top")):
                other = t.at(tile.row + step[0], tile.column + step[1])
                if other is None:
                    continue
                level = getattr(tile.trim, edge)
                axis = 0 if edge == "right" else 1
                one = {c for c in crosses(pages[tile.name]) if abs(c[axis] - level) < 0.01}
                two = {c for c in crosses(pages[other.name]) if abs(c[axis] - level) < 0.01}
                assert one == two and len(one) >= 2


def crosses(leaf: Leaf) -> set[tuple[float, float]]:
    """Middles of upright match crosses, mm on the sheet."""
    assert leaf.tile is not None
    lines = [s for s in leaf.true if isinstance(s, Line) and s.layer == "match" and s.weight == "thick"]
    middles = [((s.start[0] + s.end[0]) / 2 - leaf.tile.dx, (s.start[1] + s.end[1]) / 2 - leaf.tile.dy) for s in lines]
    return {(round(x, 3), round(y, 3)) for x, y in middles}


@settings(max_examples=20, deadline=None)
@given(sizes, papers)
def test_nothing_on_page_or_map_runs_into_anything(plates, paper):
    p = TILE_PAPERS[paper]
    for sheet in sheets(plates):
        t = tiling(sheet, p)
        for words in ((), briefly(UNDO)):
            on_map = map_page(t, TITLE, words).fixed
            assert clashes(Sheet(1, 1, "", "", p.width, p.height, on_map)) == ()
            assert min(shape.bounds[1] for shape in shapes(on_map)) > FOOT
        for leaf in leaves(t, "Whinchat T1"):
            page = Sheet(1, 1, "", "", p.width, p.height, (*leaf.true, *leaf.fixed))
            assert clashes(page) == ()
            assert not _struck(t, leaf)


def _struck(t: Tiling, leaf: Leaf) -> list[str]:
    """Words of the templates that a line of the page runs through, and words of the page on a template's line."""
    assert leaf.tile is not None
    dx, dy = leaf.tile.dx, leaf.tile.dy
    there = shapely.transform(shapes(t.strokes), lambda xy: xy + (dx, dy))
    inside = shapely.intersection(there, shapely.transform(area(leaf.tile.window), lambda xy: xy + (dx, dy)))
    found = []
    for s, shape in zip(leaf.true, shapes(leaf.true), strict=True):
        hit = [o for o, g in zip(t.strokes, inside, strict=True) if isinstance(s, Text) or isinstance(o, Text)
               if g.intersects(shape)]  # fmt: skip
        found += [f"{s} on {o}" for o in hit]
    return found


@settings(max_examples=30, deadline=None)
@given(sizes, papers)
def test_check_lines_are_whole_half_inches_clear_of_the_templates_and_on_printed_pages(plates, paper):
    for sheet in sheets(plates):
        t = tiling(sheet, TILE_PAPERS[paper])
        halves = np.array(t.sides) / 0.0127
        np.testing.assert_allclose(halves, np.round(halves), rtol=0, atol=1e-9)
        a, b, c, d = t.corners
        shown = shapely.union_all([area(tile.window) for tile in t.tiles])
        for corner in (a, b, c, d):
            assert shown.buffer(1e-6).covers(shapely.Point(corner).buffer(EDGE - 0.3))
        drawn = shapely.union_all(shapes(sheet.drawn))
        assert shapely.LineString([d, a, b]).distance(drawn) > 5.0 and shapely.Point(c).distance(drawn) > 4.0


def test_a_set_counts_its_pages_and_says_which_sheet_each_is():
    made = tiled(sheets([(0.8, 0.3), (0.8, 0.35), (0.5, 0.3)]), TILE_PAPERS["letter"], TITLE)
    assert made.pages == 1 + len(made.sheets) + sum(len(s.pages) for s in made.sheets)
    for one, two in pairwise(made.sheets):
        assert two.tiling.sheet.number == one.tiling.sheet.number + 1
    for s in made.sheets:
        for leaf in s.pages:
            words = [x.content for x in leaf.fixed if isinstance(x, Text)]
            row, column = leaf.name.rstrip("0123456789"), leaf.name.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
            assert f"Sheet {s.tiling.sheet.number}, row {row}, column {column}" in words
            assert any("100 mm, outer ticks 4″" in w for w in words)
        texts = " ".join(x.content for x in s.map.fixed if isinstance(x, Text))
        assert all(f"{leaf.name}" in texts for leaf in s.pages) and str(len(s.pages)) + " pages" in texts
        for name in s.tiling.left_out:
            assert "left out" in texts and name in texts
