"""Stouter ribs at named stations: drawn, numbered, weighed, jointed, without clashes; and what cannot be said."""

from __future__ import annotations

import pytest
from families import problems, reading
from numpy.testing import assert_allclose
from stouter import WING, stouter, text_of
from trusses import TRUSS

from sparwright.data.loader import material
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Part, Plate
from sparwright.shape.rib import bend_allowance
from sparwright.structure.sections import rib_section
from sparwright.structure.whole import skeleton

CABANE = 'cabane = { at = ["12 in", "24 in"], sheet = SHEET, holes = false }'
BENT = 'strut = { at = ["24 in", "92 in"], sheet = SHEET, flange = "3/4 in", bend_radius = "1/8 in" }'
TWO = 'strut = { at = ["24 in"], sheet = SHEET, back_to_back = true }'
INCH = 0.0254


def ribs(assembly: Assembly, word: str) -> list[Part]:
    return [p for p in assembly.parts if p.purpose == "rib" and word in p.number]


def at_place(assembly: Assembly, buttline: str) -> list[Part]:
    return [p for p in assembly.parts if p.purpose == "rib" and buttline in p.at.replace("BL ", "").split(", ")]


def test_they_have_a_group_a_sheet_and_no_holes_of_their_own() -> None:
    made = lay_out(stouter(CABANE))
    mine = [p for p in made.parts if p.name.startswith("stouter")]
    assert [p.number for p in mine] == ["P1-wing-RIB-12"] and mine[0].at == "BL 12″, 24″"
    plate = mine[0].shape
    assert isinstance(plate, Plate) and plate.thickness == pytest.approx(0.006) and mine[0].stock.endswith("6 mm")
    others = next(p for p in made.parts if p.number == "P1-wing-RIB-0")
    assert isinstance(others.shape, Plate) and others.shape.thickness == pytest.approx(0.004)
    assert len(others.shape.holes) > len(plate.holes) == 2  # the spars alone


def test_their_mass_is_that_of_their_own_sheet() -> None:
    plain, stout = lay_out(stouter(CABANE.replace("12 in", "36 in"))), lay_out(stouter(CABANE))
    a = next(p for p in stout.parts if p.number == "P1-wing-RIB-12")
    assert isinstance(a.shape, Plate)
    assert a.mass == pytest.approx(a.shape.solid().volume * material("okoume-ply").density)
    b = next(p for p in plain.parts if p.number == "P1-wing-RIB-0")
    assert "12″" in b.at and a.mass > 1.5 * b.mass  # half as thick again, without holes


def test_bent_ones_have_their_own_flange_on_the_blank() -> None:
    made = lay_out(stouter(BENT, "P2"))
    mine = [p for p in made.parts if p.name.startswith("stouter nose rib") and p.hand == "R"]
    assert mine and "1/8″ inside radius" in mine[0].shape.bend  # type: ignore[union-attr]
    plate = mine[0].shape
    assert isinstance(plate, Plate) and plate.blank is not None
    t, radius = 0.050 * INCH, INCH / 8
    reach = 0.75 * INCH - 2 * (radius + t) + bend_allowance(radius, t)
    assert abs(plate.flange) == pytest.approx(reach)
    assert plate.blank[:, 0].min() == pytest.approx(plate.outline[:, 0].min() - reach, abs=1e-6)


def test_what_turns_with_the_aileron_stays_as_it_was() -> None:
    made = lay_out(stouter(BENT.replace('"24 in", ', ""), "P2"))
    here = [p for p in made.parts if p.purpose == "rib" and "92″" in p.at or "7′ 8″" in p.at]
    turning = [p for p in here if "AILERON" in p.number]
    assert turning and all(p.shape.thickness == pytest.approx(0.025 * INCH) for p in turning)  # type: ignore[union-attr]


def test_the_tail_may_stay_as_the_others() -> None:
    row = CABANE.replace("12 in", "36 in").replace("holes = false", "tail = false")
    made = lay_out(stouter(row, "P2"))
    names = {p.name for p in made.parts if p.name.startswith("stouter")}
    assert names == {"stouter nose rib, lower", "stouter middle rib, lower"}
    whole = lay_out(stouter(row.replace("tail = false", "tail = true"), "P2"))
    assert "stouter tail rib, lower" in {p.name for p in whole.parts}


@pytest.mark.parametrize("model", ["P1", "P2"])
def test_two_stand_back_to_back_web_on_web(model: str) -> None:
    """Two hands of bent ones, both about the buttline, flanges away from each other; each pair is joined."""
    made = lay_out(stouter(TWO, model))
    back = [p for p in made.parts if "-BACK-" in p.number and p.purpose == "rib"]
    assert len(back) == (1 if model == "P1" else 6)
    t = {"P1": 0.006, "P2": 0.050 * INCH}[model]
    for p in back:
        front = next(q for q in made.parts if q.number == p.number.replace("BACK-", ""))
        for q, way in ((front, 1), (p, -1)):
            for pose in q.poses:
                out = (abs(pose.origin[1]) - 24 * INCH) * way
                assert out == pytest.approx(t / 2)
        joints = [j for j in made.joints if p.number in j.parts and "-JOINT-BACK-" in j.number]
        assert len(joints) == 1 and joints[0].primary
        assert joints[0].kind == ("glue" if model == "P1" else "rivet")
        assert sum(q.count for q in (p, front)) == 2 * p.count
    right = [p for p in back if p.hand in ("", "R")]
    assert sum(len(p.poses) for p in right) == (2 if model == "P1" else 3)


@pytest.mark.parametrize(("row", "model"), [(CABANE, "P1"), (BENT, "P2"), (TWO, "P1"), (TWO, "P2")])
def test_they_touch_what_they_must_and_clash_with_nothing(row: str, model: str) -> None:
    made = lay_out(stouter(row, model))
    mine = {p.number for p in made.parts if p.name.startswith("stouter")}
    found, own = measure(made), f"{model}-{WING[model]}-"
    assert mine
    assert not [c for c in found.clashes if {c.one, c.other} & mine and own in c.one and own in c.other]
    assert not [a for a in found.apart if {a.one, a.other} & mine]
    assert not set(found.loose) & mine and not [n for n in found.adrift if any(n.startswith(m) for m in mine)]


def test_a_stouter_rib_in_a_built_up_wing_is_of_sheet() -> None:
    text = text_of(CABANE)
    at = text.index("\n[models.P1.wings.wing.aileron]")
    made = lay_out(reading(text[:at] + TRUSS + text[at:]).models["P1"])
    assert [p.number for p in made.parts if p.name.startswith("stouter")] == ["P1-wing-RIB-12"]
    assert any(p.purpose == "rib gusset" for p in made.parts)


def test_the_frame_s_bar_has_its_area_and_stiffness() -> None:
    model = stouter(CABANE.replace("holes = false", "back_to_back = true"))
    bones, wing = skeleton(model), model.wings[0]
    plain, stout = (
        next(b for b in bones.bars if b.what == "rib" and abs(b.at[3] - y * INCH) < 1e-6 and b.at[2] == "R")
        for y in (36, 12)
    )
    assert stout.section.area == pytest.approx(2 * 1.5 * plain.section.area)  # two of 6 mm for one of 4
    assert stout.section.about_y == pytest.approx(2 * rib_section(wing.rib_at(12 * INCH), 0.0, 1).about_y, abs=1.0)
    one, two = (rib_section(wing.rib_at(12 * INCH), 0.15, n) for n in (1, 2))
    assert_allclose((two.about_y, two.shear_area[0]), (2 * one.about_y, 2 * one.shear_area[0]))


@pytest.mark.parametrize(
    ("row", "model", "key", "words"),
    [
        ('x = { at = ["13 in"], sheet = SHEET }', "P1", "x.at", "the nearest stand at 12 in and 24 in"),
        ('x = { at = [], sheet = SHEET }', "P1", "x.at", "one whole rib at least"),
        ('x = { at = ["12 in"], sheet = SHEET }\ny = { at = ["12 in"], sheet = SHEET }', "P1", "y.at",
         "said of this rib already, in stouter_ribs.x"),
        ('x = { at = ["12 in"], sheet = { material = "okoume-ply", thickness = "3 mm" } }', "P1", "x.sheet.thickness",
         "no thinner than the other ribs, 4 mm"),
        ('x = { at = ["12 in"], sheet = SHEET, web_left = "1/2 in" }', "P1", "x.web_left",
         "holes larger than those of the other ribs: 1″ is left"),
        ('x = { at = ["12 in"], sheet = SHEET, web_left = "2 in", holes = false }', "P1", "x.web_left",
         "it has none; leave one of the two out"),
        ('x = { at = ["12 in"], sheet = SHEET, flange = "1/2 in" }', "P1", "x.flange", "the ribs of the wing are flat"),
        ('x = { at = ["24 in"], sheet = SHEET, bend_radius = "3/4 in" }', "P2", "x", "wider than its own bend"),
        ('x = { at = ["24 in"], sheet = { material = "6061-T6", thickness = "0.025 in" } }', "P2", "x",
         "made as the other ribs are"),
    ],
)  # fmt: skip
def test_what_cannot_be_is_told(row: str, model: str, key: str, words: str) -> None:
    found = problems(text_of(row, model))
    assert any(key in p.key and words in str(p) for p in found), [str(p) for p in found]
