"""The parts built again from the paper alone: what is cut, read off the sheets, is the part within 1/64 in.

Reads strokes and words of the recorded sheets, which PDF, DXF and SVG replay (held equal elsewhere): outlines of plates
full size; what is cut to figures or to a length, from the words of its table or of the cut lists. Nodes of the frame,
places of ribs and figures of dimensions are read in test_drawing_set.
"""

from __future__ import annotations

import math
import re
from functools import cache

import numpy as np
import pytest
import shapely
from demo import whinchat

from sparwright.base.quantity import parse
from sparwright.cli.plans import full_size
from sparwright.cli.stock import stocked
from sparwright.parts.alike import TURNS
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly, Part, Plate
from sparwright.plans.clash import line_of
from sparwright.plans.cutlist import cut_list
from sparwright.plans.drawing import Circle, Placement, Polyline, Sheet, Text
from sparwright.plans.paper import TitleBlock
from sparwright.plans.stick_sheets import stick_sheets

MODELS = ("W1", "W2", "W3")
ALLOWED = 25.4 / 64  # mm
STEP = 3.0  # mm between places of an outline that are looked at


@cache
def assembly(model: str) -> Assembly:
    return lay_out(whinchat().models[model])


@cache
def sheets(model: str) -> tuple[Sheet, ...]:
    return tuple(full_size(assembly(model).parts, ("24x36",), TitleBlock("Whinchat", model, "Sparwright", "0" * 64)))


def along(lines: shapely.Geometry) -> np.ndarray:
    """(n, 2) places along lines."""
    long = [g for g in shapely.get_parts(lines) if g.length > 0]
    return np.array([xy for g in long for s in np.linspace(0, g.length, max(3, math.ceil(g.length / STEP)))
                     for xy in g.interpolate(s).coords])  # fmt: skip


def in_part(lines: shapely.Geometry, place: Placement) -> shapely.Geometry:
    """What is on a sheet in the part's own axes, mm: moved back, then turned back."""
    c, s = math.cos(math.radians(-place.turn)), math.sin(math.radians(-place.turn))
    back = shapely.affinity.translate(lines, -place.dx, -place.dy)
    return shapely.affinity.affine_transform(back, [c, -s, s, c, 0.0, 0.0])


def edges(part: Part) -> tuple[shapely.Polygon, shapely.Geometry]:
    """(what is cut out of the sheet, its edges), mm."""
    assert isinstance(part.shape, Plate)
    outer = part.shape.outline if part.shape.blank is None else part.shape.blank
    area = shapely.Polygon(outer * 1000.0, [h * 1000.0 for h in part.shape.holes])
    return area, shapely.union_all([shapely.LinearRing(r) for r in (area.exterior, *area.interiors)])


def turned(shape: shapely.Geometry, way: tuple[float, float, bool], onto: shapely.Geometry) -> shapely.Geometry:
    """A shape half turned or turned over about the middle of its box, laid with that onto another's."""
    (a, b, c, d), (e, f, g, h) = shape.bounds, onto.bounds
    x, y = (a + c) / 2, (b + d) / 2
    return shapely.affinity.affine_transform(shape, [way[0], 0, 0, way[1], (e + g) / 2 - way[0] * x,
                                                     (f + h) / 2 - way[1] * y])  # fmt: skip


def by_figures(sheet: Sheet) -> dict[str, shapely.Polygon]:
    """Parts that are cut to figures, from the words of their table: corners from the lower left of their box, mm."""
    words = " ".join(s.content for s in sheet.drawn if isinstance(s, Text) and not s.bold)
    found = {}
    for numbers, _, corners in re.findall(r"((?:W\d-[^ ]+, )*W\d-[^ ]+): make \d+; ([^:]*?); corners ([^A-Za-z]+mm\)"
                                          r"(?:; [^A-Za-z]+mm\))*)", words):  # fmt: skip
        pairs = re.findall(r"([\d /]+)″ , ([\d /]+)″ \(", corners)
        ring = [tuple(parse(f"{v.strip()} in", "length") * 1000 for v in pair) for pair in pairs]
        found |= dict.fromkeys(numbers.split(", "), shapely.Polygon(ring))
    return found


@pytest.mark.long
@pytest.mark.parametrize("model", MODELS)
def test_every_plate_is_cut_from_its_paper_within_a_sixty_fourth(model: str) -> None:
    """Every edge is a line to cut on the pieces of its template together, the template as it is, half turned or turned
    over as it says; no line to cut runs through a part drawn whole; what is cut to figures is rebuilt from them."""
    plates = {p.number: p for p in assembly(model).parts if isinstance(p.shape, Plate)}
    lines: dict[str, list[shapely.Geometry]] = {}
    first: dict[str, str] = {}  # the part in whose axes its template is drawn
    figures: dict[str, shapely.Polygon] = {}
    for sheet in sheets(model):
        figures |= by_figures(sheet)
        cut = shapely.union_all([line_of(s) for s in sheet.on("cut") if isinstance(s, Polyline | Circle)])
        lead: dict[tuple[float, float], Placement] = {}
        for place in sheet.placements:
            one = lead.setdefault((place.dx, place.dy), place)
            lines.setdefault(place.part, []).append(in_part(cut, one))
            first[place.part] = one.part
    assert len(lines) > 150 and figures
    checked = 0
    for number in lines:
        if number not in plates:
            continue
        area, own = edges(plates[number])
        if number in figures:
            moved = shapely.affinity.translate(own, -area.bounds[0], -area.bounds[1])
            assert shapely.hausdorff_distance(moved, figures[number].boundary) <= ALLOWED, number
            checked += 1
            continue
        drawn, onto = shapely.union_all(lines[number]), edges(plates[first[number]])[0]
        ways = TURNS if first[number] != number else TURNS[:1]
        off = min(float(shapely.distance(shapely.points(along(turned(own, w, onto))), drawn).max()) for w in ways)
        assert off <= ALLOWED, (number, off)
        checked += 1
    assert checked > 150


@pytest.mark.long
@pytest.mark.parametrize("model", MODELS)
def test_no_line_to_cut_runs_through_a_part(model: str) -> None:
    plates = {p.number: p for p in assembly(model).parts if isinstance(p.shape, Plate)}
    looked = 0
    for sheet in sheets(model):
        cut = shapely.union_all([line_of(s) for s in sheet.on("cut")
                                 if isinstance(s, Polyline | Circle) and s.dash == "solid"])  # fmt: skip
        seen: set[tuple[float, float]] = set()
        for place in sheet.placements:
            if (place.dx, place.dy) in seen or place.pieces > 1 or place.part not in plates:
                continue
            seen.add((place.dx, place.dy))
            area, _ = edges(plates[place.part])
            if not shapely.box(0, 0, sheet.width, sheet.height).covers(_on_paper(area, place)):
                continue  # cut to figures
            through = shapely.intersection(in_part(cut, place), area.buffer(-ALLOWED))
            assert through.length < 1.0, (place.part, through.length)
            looked += 1
    assert looked > 60


def _on_paper(shape: shapely.Geometry, place: Placement) -> shapely.Geometry:
    c, s = math.cos(math.radians(place.turn)), math.sin(math.radians(place.turn))
    return shapely.affinity.affine_transform(shape, [c, -s, s, c, place.dx, place.dy])


def cut_to(model: str) -> dict[str, float]:
    """Length, m, of every piece that the cut lists of bars and tubes name, from their words alone."""
    made = stocked(whinchat(), whinchat().models[model], assembly(model))
    found: dict[str, float] = {}
    for sheet in stick_sheets(made.sticks, made.buying, TitleBlock("Whinchat", model, "Sparwright", "0" * 64)):
        rows: list[str] = []
        for s in (x for x in sheet.drawn if isinstance(x, Text)):
            if re.match(r"[a-z]: ", s.content):
                rows.append(s.content)
            elif rows and re.match(r"(left over|Stick)", s.content):
                rows.append("")
            elif rows and rows[-1]:
                rows[-1] += f" {s.content}"
        for row in rows:
            if m := re.match(r"[a-z]: (?:\d+ × )?(.*″|.*′) = [\d,.]+ mm – (.*)", row):
                length = parse(m[1].replace("′", " ft").replace("″", " in"), "length")
                for name in m[2].split(", "):
                    found[f"{model}-{name.split(' ')[0]}"] = length
    return found


@pytest.mark.long
@pytest.mark.parametrize("model", MODELS)
def test_every_bar_and_tube_has_its_length_on_paper(model: str) -> None:
    """Within 1/64 in of the part; those of several pieces have drawings of their own."""
    said, parts = cut_to(model), {r.number: r for r in cut_list(assembly(model).to_cut)}
    straight = [n for n, r in parts.items() if r.form in ("tube", "bar") and math.isfinite(r.length) and n in said]
    for n in straight:
        assert abs(said[n] - parts[n].length) <= ALLOWED / 1000 + 1e-9, (n, said[n], parts[n].length)
    assert len(straight) > 300  # the rest are strips out of sheet, in nests, or come in coils
