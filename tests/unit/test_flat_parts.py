"""Templates of flat parts: what is drawn is the part, alike ones share one, large ones are parted, and what is missing
is told."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
import shapely
from numpy.testing import assert_allclose
from shapely.affinity import translate

import sparwright as sw
from sparwright.base.problem import DesignProblem
from sparwright.parts.alike import alike, flat_parts
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Foot, Formed, Mark, Part, Plate
from sparwright.plans.clash import clashes, line_of
from sparwright.plans.drawing import Circle, Polyline, Sheet, Text
from sparwright.plans.flat_block import turned
from sparwright.plans.flat_parts import drilled, flat_sheets
from sparwright.plans.paper import TitleBlock
from sparwright.shape.rib import bend_allowance
from sparwright.shape.solid import CORNERS, plate, round_radius

TITLE = TitleBlock("Whinchat", "T1", "Sparwright 0.1.0", "0" * 64)
CORNER = np.array([(0, 0), (0.08, 0), (0.08, 0.02), (0.03, 0.05), (0, 0.05)])


def hole(x: float, y: float, d: float) -> np.ndarray:
    a = -2 * np.pi * np.arange(CORNERS) / CORNERS
    return np.array([x, y]) + round_radius(d / 2) * np.column_stack([np.cos(a), np.sin(a)])


def made(number: str, outline: np.ndarray = CORNER, material: str = "4130N", **more: object) -> Part:
    shape = Plate(outline=np.asarray(outline, dtype=float), thickness=0.0016, **{"holes": (), **more})  # type: ignore[arg-type]
    return Part(number=number, name="gusset", form="plate", group="g", purpose="p", material=material, stock="sheet",
                places=((0, 0, 0),), mass=0.1, shape=shape)  # fmt: skip


def words(sheets: tuple[Sheet, ...]) -> str:
    return " ".join(t.content for s in sheets for t in s.strokes if isinstance(t, Text))


def sheets(*parts: Part, paper: str = "24x36") -> tuple[Sheet, ...]:
    found = flat_sheets(parts, [paper], TITLE)
    assert [clashes(s) for s in found] == [()] * len(found)
    return found


def test_outline_and_holes_are_where_they_were_computed() -> None:
    part = made("T1-G", holes=(hole(0.01, 0.01, 0.00635), hole(0.06, 0.012, 0.0127)))
    (sheet,) = sheets(part)
    (place,) = sheet.placements
    line = next(s for s in sheet.on("cut") if isinstance(s, Polyline))
    assert place.turn == 0.0
    assert_allclose(np.array(line.points), 1000 * CORNER + [place.dx, place.dy], rtol=0, atol=1e-9)
    circles = sorted((c.centre[0] - place.dx, c.centre[1] - place.dy, c.radius)
                     for c in sheet.on("cut") if isinstance(c, Circle))  # fmt: skip
    assert_allclose(circles, [(10, 10, 3.175), (60, 12, 6.35)], rtol=0, atol=1e-6)
    said = words((sheet,))
    assert "a: 1 Ø 1/2″ = 12.70 mm" in said and "b: 1 Ø 1/4″ = 6.35 mm" in said


def test_tall_metal_is_laid_along_and_the_placement_says_so() -> None:
    (sheet,) = sheets(made("T1-G", CORNER[:, ::-1][::-1]))
    (place,) = sheet.placements
    line = next(s for s in sheet.on("cut") if isinstance(s, Polyline))
    x, y = (CORNER[:, ::-1][::-1] * 1000).T
    assert place.turn == 90.0
    assert_allclose(np.array(line.points), np.column_stack([-y + place.dx, x + place.dy]), rtol=0, atol=1e-9)


def test_wood_is_not_turned_and_a_grain_that_is_not_said_is_asked_for() -> None:
    (sheet,) = sheets(made("T1-W", CORNER[:, ::-1][::-1], "birch-ply"))
    assert sheet.placements[0].turn == 0.0 and "Grain: the part does not say" in words((sheet,))
    (sheet,) = sheets(made("T1-W", CORNER, "birch-ply", grain="along it"))
    assert "Grain along it" in words((sheet,)) and "does not say" not in words((sheet,))


def test_alike_parts_share_a_template_and_mirrors_turn_it_over() -> None:
    right, same = made("T1-R"), made("T1-S", CORNER + 0.3)
    left = made("T1-L", (CORNER * [-1, 1])[::-1])
    other, thick = (
        made("T1-O", CORNER * 1.01),
        replace(right, number="T1-T", shape=replace(right.shape, thickness=0.002)),
    )
    groups = alike(flat_parts([right, same, left, other, thick]))
    assert [(g.part.number, [p.number for p in g.same], [p.number for p in g.over]) for g in groups] == [
        ("T1-R", ["T1-S"], ["T1-L"]), ("T1-O", [], []), ("T1-T", [], [])]  # fmt: skip
    found = sheets(right, same, left)
    assert found[0].shows == ("T1-R", "T1-S", "T1-L") and "make 3" in words(found)
    assert "1 turned over: T1-L" in words(found)


def test_marks_of_other_words_or_elsewhere_are_not_alike() -> None:
    marks = (Mark(label="AN3", points=((0.01, 0.01),)), Mark(label="AN4", points=((0.02, 0.03),)))
    swapped = (Mark(label="AN4", points=((0.01, 0.01),)), Mark(label="AN3", points=((0.02, 0.03),)))
    moved = (marks[0], Mark(label="AN4", points=((0.02, 0.0302),)))
    assert len(alike(flat_parts([made("A", marks=marks), made("B", marks=marks)]))) == 1
    assert len(alike(flat_parts([made("A", marks=marks), made("B", marks=swapped)]))) == 2
    assert len(alike(flat_parts([made("A", marks=marks), made("B", marks=moved)]))) == 2


def bent(radius: float, up: float = 1.0) -> Part:
    """A foot of 1 in on the right edge, laid out as the hinge plates of the demo are."""
    t, foot = 0.0016, 0.0254
    known = 0.0 if math.isnan(radius) else radius
    flat = foot - 2 * (known + t) + bend_allowance(known, t)
    square = np.array([(0, 0), (0.06, 0), (0.06, 0.03), (0, 0.03)])
    blank = np.array([(0, 0), (0.06 + flat, 0), (0.06 + flat, 0.03), (0, 0.03)])
    stands = Foot(start=(0.06, 0.0), end=(0.06, 0.03), height=up * (foot - t), radius=radius)
    return made("T1-F", square, blank=blank, foot=stands, marks=(Mark(label="spring", points=((0.01, 0.01),)),))


@pytest.mark.parametrize(("up", "way"), [(1.0, "up, towards you,"), (-1.0, "down, away from you,")])
def test_bend_lines_leave_the_two_legs_and_the_allowance(up: float, way: str) -> None:
    """Each leg from its tangent line is its outside size less R + t; what lies between is the bend's allowance."""
    radius, t = 3 / 16 * 0.0254, 0.0016
    (sheet,) = sheets(bent(radius, up))
    x = sorted(s.points[0][0] - sheet.placements[0].dx for s in sheet.on("bend"))
    ends = [p[0] - sheet.placements[0].dx for p in next(s for s in sheet.on("cut") if isinstance(s, Polyline)).points]
    assert all(s.dash == "dash" for s in sheet.on("bend")) and len(x) == 2
    assert_allclose(x[0] - min(ends), 60 - 1000 * (radius + t), rtol=0, atol=1e-6)
    assert_allclose(max(ends) - x[1], 25.4 - 1000 * (radius + t), rtol=0, atol=1e-6)
    assert_allclose(x[1] - x[0], 1000 * bend_allowance(radius, t), rtol=0, atol=1e-6)
    said = words((sheet,))
    assert f"Bend {way} 90°, inside" in said and "3/16″ = 4.8 mm" in said
    assert "1 to prick for spring, diameter not on file" in said


def test_a_bend_without_radius_is_told() -> None:
    (sheet,) = sheets(bent(math.nan))
    assert not sheet.on("bend") and "its radius is not on file" in words((sheet,))


@pytest.mark.parametrize("paper", ["24x36", "A1"])
def test_a_part_larger_than_every_sheet_is_parted_both_ways_and_nothing_is_lost(paper: str) -> None:
    big = 1.2 * np.array([(0, 0), (1.6, 0.1), (1.5, 0.9), (0.7, 1.0), (0.1, 0.8)])
    part = made("T1-BIG", big, holes=(hole(0.5, 0.5, 0.2),))
    found = sheets(part, paper=paper)
    places = [(s, p) for s in found for p in s.placements]
    assert len(places) == places[0][1].pieces > 4
    drawn = []
    for sheet, place in places:
        drawn += [translate(line_of(s), -place.dx, -place.dy) for s in sheet.on("cut")]
    assert len(found) == len(places)  # each piece fills a sheet, so its strokes are known to be its own
    whole = shapely.union_all(drawn)
    truth = shapely.union_all([shapely.LinearRing(1000 * big), shapely.Point(500, 500).buffer(100, 512).exterior])
    assert truth.difference(whole.buffer(0.02)).length == 0
    assert whole.difference(truth.buffer(0.02)).length == 0
    said = words(found)
    sheet_of = {p.piece: s.number for s, p in places}
    for sheet, place in places:
        mine = words((sheet,))
        named = {int(a): int(b) for a, b in re.findall(r"piece (\d+) on sheet (\d+)", mine)}
        assert named == {k: v for k, v in sheet_of.items() if k != place.piece}
    assert said.count("Lay each match line") == len(places)


def test_match_lines_of_two_pieces_are_one_line() -> None:
    big = np.array([(0, 0), (1.4, 0), (1.4, 0.2), (0.7, 0.25), (0, 0.2)])
    found = sheets(made("T1-LONG", big))
    ends = set()
    for sheet in found:
        for place in sheet.placements:
            for s in sheet.on("match"):
                if getattr(s, "dash", "") == "chain":
                    ends.add(tuple(np.round([s.start[0] - place.dx, s.start[1] - place.dy], 3)))
    assert len(ends) == 1


def test_long_bare_webs_are_cut_to_figures() -> None:
    web = made("T1-WEB", np.array([(0, 0), (4.2, 0), (4.2, 0.1), (0, 0.15)]), "birch-ply")
    (sheet,) = sheets(web, made("T1-G"))
    said = words((sheet,))
    assert set(sheet.shows) >= {"T1-WEB", "T1-G"} and "Cut to figures" in said and "(4,200, 100 mm)" in said
    assert len([s for s in sheet.on("cut") if isinstance(s, Polyline)]) == 1


def test_bodies_without_a_flat_pattern_are_named() -> None:
    body = Formed(body=plate(CORNER, (), 0.0, 0.001))
    cowl = replace(made("T1-COWL"), shape=body)
    assert "T1-COWL" in words(sheets(cowl)) and "No flat pattern" in words(sheets(cowl))


def test_ribs_and_bought_plates_have_no_place_here() -> None:
    assert flat_sheets([replace(made("T1-A"), purpose="rib"), made("T1-B", material="bought")], ["A1"], TITLE) == ()


def test_an_outline_that_is_not_finite_is_told() -> None:
    broken = CORNER.copy()
    broken[2, 0] = math.nan
    with pytest.raises(DesignProblem, match="part T1-NAN has an outline that is not a closed line of finite points"):
        flat_sheets([made("T1-NAN", broken)], ["A1"], TITLE)


def test_a_quarter_turn_keeps_area_and_brings_four_times_back() -> None:
    part = bent(0.004)
    once = turned(part.shape)
    again = turned(turned(turned(once)))
    assert_allclose(again.outline, part.shape.outline, rtol=0, atol=1e-15)
    assert again.foot == part.shape.foot and again.marks == part.shape.marks
    assert_allclose(shapely.Polygon(once.outline).area, shapely.Polygon(part.shape.outline).area, rtol=1e-12)


def test_a_hole_with_a_bolt_through_it_is_drilled_for_that_bolt() -> None:
    """Bell-cranks name their holes; the joint whose axis runs through one says which bolt. A hook's stays unsaid."""
    assembly = lay_out(sw.load("examples/whinchat/whinchat.toml").models["W2"])
    cranks = [(p, s) for p, s in flat_parts(assembly.parts) if "-CRANK-" in p.number]
    told = {p.number: {m.label for m in s.marks} for p, s in drilled(cranks, assembly.joints)}
    assert told["W2-controls-CRANK-MIDDLE"] == told["W2-controls-CRANK-FRONT"] == {"AN4"}
    assert told["W2-controls-CRANK-TRIM"] == {"spring", "grip"}
    bolts = {j.place: j.fastener for j in assembly.joints if j.bolt}
    for part, shape in drilled(cranks, assembly.joints):
        for mark in shape.marks:
            ((x, y),) = mark.points
            near = [f for at, f in bolts.items() if np.linalg.norm(np.subtract(at, part.poses[0].place(x, y))) < 0.012]
            assert mark.label in near or not near
    moved = [replace(j, place=(j.place[0] + 0.002, *j.place[1:])) for j in assembly.joints]
    assert {m.label for p, s in drilled(cranks, moved) for m in s.marks}.isdisjoint({"AN4"})
