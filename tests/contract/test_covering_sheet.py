"""Covering and finish: pieces weigh what the mass room weighs, and what nobody has said is not made up."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

import sparwright as sw
from sparwright.base.check import Check, Step
from sparwright.base.quantity import parse
from sparwright.data.loader import material
from sparwright.family.buying import Buying, read_buying
from sparwright.family.model import Family
from sparwright.margins.fabric import CLASS, FASTEST, LACING, NEW, SPACING, WORN
from sparwright.mass.weigh import weigh
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly, Skin
from sparwright.plans.block import numbered
from sparwright.plans.clash import clashes
from sparwright.plans.cloth import Cloth, cloth_told, cover_start, laced, pieces, rings, strips
from sparwright.plans.drawing import Text
from sparwright.plans.drawings.covering import NOT_ON_FILE, NOT_WORKED_OUT, covering_drawing, hole_of, lacing_table
from sparwright.plans.paper import TitleBlock

NAMES = ("W1", "W2", "W3")


@pytest.fixture(scope="module")
def family() -> Family:
    return sw.load("examples/whinchat/whinchat.toml")


@cache
def assembly(name: str) -> Assembly:
    return lay_out(sw.load("examples/whinchat/whinchat.toml").models[name])


def lettering(family: Family, name: str, told: Cloth | None = None) -> list[str]:
    drawn = covering_drawing(family.models[name], assembly(name).parts, "inch", told=told)
    return [s.content for s in drawn.strokes if isinstance(s, Text)]


@pytest.mark.parametrize("name", NAMES)
def test_pieces_weigh_what_the_aeroplane_is_weighed_with(family: Family, name: str) -> None:
    """Every cloth part once, and the line of the fuselage's covering of the mass room."""
    model = family.models[name]
    listed = pieces(model, assembly(name).parts)
    cloth = sum(
        p.mass * p.count for p in assembly(name).parts if p.form == "skin" and material(p.material).kind == "fabric"
    )
    line = next(x.mass.value for x in weigh(model, assembly(name)).lines if x.name == "fuselage covering")
    assert sum(p.mass * p.count for p in listed) == pytest.approx(cloth + line, rel=1e-12) and line > 0
    assert len({p.mark for p in listed}) == len(listed)


@pytest.mark.parametrize("name", NAMES)
def test_a_piece_is_as_large_as_its_sides(family: Family, name: str) -> None:
    """Area of one by its weight is length by girth, but for what is cut out for an aileron."""
    for p in pieces(family.models[name], assembly(name).parts):
        if p.parts:
            shape = p.parts[0].shape
            assert isinstance(shape, Skin)
            assert 0.75 * p.along * p.around < p.area < 1.001 * p.along * p.around, p.name


@pytest.mark.parametrize("name", NAMES)
def test_holes_are_those_of_the_file(family: Family, name: str) -> None:
    model = family.models[name]
    wanted = sorted(o.diameter for w in model.wings if w.inspection for o in w.inspection.openings)
    found = sorted(hole_of(p) for p in rings(assembly(name).parts))
    assert found == pytest.approx(wanted, abs=3e-4) and found  # the ring's corners stand for a circle
    said = lettering(family, name)
    assert all(o.reason in said for w in model.wings if w.inspection for o in w.inspection.openings)


def test_lacing_by_hand(family: Family) -> None:
    """W1: cloth from a fifth of the chord, so a little more than 1.6 chords round each rib of both halves."""
    model = family.models["W1"]
    (wing,) = model.wings
    (x,) = laced(model)
    start, chord = cover_start(wing), wing.panels[0].root_chord
    assert start == 0.2 and x.low == "inboard"  # dihedral: water runs to the root
    assert 1.0 < x.run / (x.ribs * 2 * (1 - start) * chord) < 1.03
    assert 0.0 < x.bay[0] <= x.bay[1] <= wing.ribs.pitch + 1e-9


def _checks() -> list[Check]:
    """As margins/fabric.py gives them, less what is not read: its own tests hold the numbers."""
    nan = float("nan")
    steps = (Step(NEW, "", (), 11383.0, "N/m"), Step(WORN, "", (), 8056.0, "N/m"), Step(FASTEST, "", (), 47.2, "m/s"))
    stitches = (Step(SPACING, "S/(p b)", (), 0.0889, "m"),)
    return [Check(CLASS, "", nan, nan, steps=steps), Check(f"{LACING}wing", "", nan, nan, steps=stitches)]


def test_strength_and_lacing_come_from_the_checks(family: Family) -> None:
    told = cloth_told(_checks())
    model = family.models["W1"]
    assert lacing_table(model, told, "inch").rows[0][3] == "3 1/2″"
    said = lettering(family, "W1", told)
    assert any(w.startswith("65 lb/in at 106 mph") for w in said) and NOT_WORKED_OUT not in said
    notes = covering_drawing(model, assembly("W1").parts, "inch", told=told).notes
    assert any("no pitch to lace at" in n and "AC 43.13-1B" in n for n in notes)
    assert lacing_table(model, Cloth(), "inch").rows[0][3] == NOT_WORKED_OUT


def test_width_of_cloth_is_the_buying_files_or_not_on_file(family: Family) -> None:
    sold = read_buying(
        '[[price]]\nform = "cloth"\nmaterial = "fabric"\nwidth = "66 in"\nlength = "1 yd"\nprice = 11\n', "b"
    )
    told = cloth_told([], sold)
    assert told.width == pytest.approx(parse("66 in", "length"))
    outer = next(p for p in pieces(family.models["W1"], assembly("W1").parts) if p.name.endswith("COVER-outer"))
    assert strips(outer, told.width) == int(np.ceil(168.06 / 66)) == 3 and strips(outer, float("nan")) == 0
    assert "Strips 5′ 6″ wide" in lettering(family, "W1", told)
    bare = lettering(family, "W1", cloth_told([], Buying()))
    assert "Strips of cloth" in bare and bare.count(NOT_ON_FILE) > lettering(family, "W1", told).count(NOT_ON_FILE) > 5


@pytest.mark.parametrize("name", NAMES)
def test_nothing_runs_into_anything_with_all_that_can_be_said(family: Family, name: str) -> None:
    told = Cloth(11383.0, 8056.0, 47.2, 1.6764, {w.name: 0.0889 for w in family.models[name].wings})
    for size in ("24x36", "A1"):
        drawn = covering_drawing(family.models[name], assembly(name).parts, "inch", size, told)
        (sheet,) = numbered([drawn], TitleBlock("Whinchat", name, "Sparwright", "0" * 64))
        assert clashes(sheet) == ()
