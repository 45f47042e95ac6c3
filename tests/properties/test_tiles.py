"""Any template on pages: nothing is lost, nothing empty is printed, every page joins the others and can be printed."""

from __future__ import annotations

from collections.abc import Iterable
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
from sparwright.plans.flat_parts import flat_sheets
from sparwright.plans.lettering import box
from sparwright.plans.paper import TitleBlock
from sparwright.plans.split import match_letter
from sparwright.plans.templates import briefly, templates
from sparwright.plans.tile_map import map_page
from sparwright.plans.tile_page import Leaf, leaves
from sparwright.plans.tile_parts import parts_on_pages, parts_pages
from sparwright.plans.tiled import tiled
from sparwright.plans.tiles import EDGE, FOOT, LAP, SIDE, STRIP, TILE_PAPERS, TOP, Tiling, own_part, tiling

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
    assert made.pages == 1 + sum(len(s.maps) + len(s.pages) for s in made.sheets)
    for one, two in pairwise(made.sheets):
        assert two.tiling.sheet.number == one.tiling.sheet.number + 1
    for s in made.sheets:
        for leaf in s.pages:
            words = [x.content for x in leaf.fixed if isinstance(x, Text)]
            row, column = leaf.name.rstrip("0123456789"), leaf.name.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")
            assert (
                f"Rib templates, sheet {s.tiling.sheet.number} of {s.tiling.sheet.total}, row {row}, column {column}"
                in words
            )
            assert any(w.startswith("Print at 100 %.") for w in words)
            assert any("100 mm, outer ticks 4″" in w for w in words)
        texts = " ".join(x.content for leaf in s.maps for x in leaf.fixed if isinstance(x, Text))
        assert all(f"{leaf.name}" in texts for leaf in s.pages) and str(len(s.pages)) + " pages" in texts
        for name in s.tiling.left_out:
            assert "left out" in texts and name in texts


def small_parts(count: int, long: float = 0.11) -> tuple[Sheet, ...]:
    """Sheets of small flat parts, no two alike, each for both hands."""
    found = []
    for i in range(count):
        ring = np.array([[0, 0], [long + 1e-3 * i, 0], [long, 0.06], [0.02, 0.05]])
        for hand in ("L", "R"):
            found.append(Part(number=f"T1-tailplane-GUSSET-SP{i}+12-{hand}", name="gusset", form="plate", group="tail",
                              purpose="gusset", material="6061-T6", stock="Aluminium 6061-T6, 0.032 in",
                              places=((0, 0, 0),), mass=0.1,
                              shape=Plate(outline=ring, holes=(), thickness=0.0008)))  # fmt: skip
    return flat_sheets(found, ("24x36",), TITLE)


def words_of(found: Iterable[Leaf]) -> str:
    return " ".join(s.content for leaf in found for s in leaf.fixed if isinstance(s, Text))


@pytest.mark.parametrize("paper", sorted(TILE_PAPERS))
@pytest.mark.parametrize("count", [1, 3, 40])
def test_the_sheets_own_frame_is_on_no_page_and_the_map_says_which_part_is_on_which(count, paper):
    p = TILE_PAPERS[paper]
    for sheet in small_parts(count):
        assert 0 < sheet.furniture and not [s for s in sheet.drawn if s.layer == "frame"]
        t = tiling(sheet, p)
        said = parts_on_pages(t, "T1")
        for place in sheet.placements:
            (line,) = [x for x in said if place.part.removeprefix("T1-") in x.partition(": ")[2].split(", ")]
            pages = line.partition(":")[0].split(", ")
            inside = shapely.Point(place.dx + 50, place.dy + 25)  # in the middle of every one of these outlines
            assert next(x.name for x in t.tiles if area(own_part(x.trim, (x.row, x.column), t.rows, t.columns))
                        .intersects(inside)) in pages  # fmt: skip
        for leaf in (map_page(t, TITLE), *parts_pages(t, TITLE)):
            page = Sheet(1, 1, "", "", p.width, p.height, leaf.fixed)
            assert clashes(page) == ()
            edges = shapely.union_all(shapes(leaf.fixed)).bounds
            assert edges[0] > SIDE and edges[1] > FOOT and edges[2] < p.width - SIDE and edges[3] < p.height - TOP
        told = words_of((map_page(t, TITLE), *parts_pages(t, TITLE)))
        assert all(place.part.removeprefix("T1-") in told for place in sheet.placements)
        assert f"flat parts, sheet {sheet.number} of" in told and "lay the template printed side down" in told.replace(
            "  ", " "
        )


def test_pages_of_two_sets_say_which_set_they_are_of():
    both = (*sheets([(0.5, 0.2)]), *small_parts(2))
    made = tiled(both, TILE_PAPERS["letter"], TITLE)
    heads = [next(s.content for s in sheet.pages[0].fixed if isinstance(s, Text)) for sheet in made.sheets]
    assert heads[0].startswith("Rib templates, sheet 1 of 1, row ")
    assert heads[1].startswith("Flat parts, sheet 1 of 1, row ")


def test_match_lines_of_parts_have_letters_that_no_row_of_pages_and_no_corner_has():
    letters = [match_letter(i) for i in range(30)]
    assert len(set(letters)) == 30 and not {x[0] for x in letters} & set("ABCDEFGHIJKLMNO")
