"""Formers and stringers: their edges by hand, notches that fit, what is told when wrong."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from families import DEMO_FILE
from numpy.testing import assert_allclose
from shapely import Polygon

from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.data.loader import material
from sparwright.family.formers import Former
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.family.stock import Sheet
from sparwright.parts.flat_sheets import laid_sheets
from sparwright.parts.formers import STEPS, at_share, former_sheets, stringer_parts
from sparwright.parts.frame import frame_tubes
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Straight

DEMO = DEMO_FILE.read_text("utf-8")
INCH = 0.0254
PLAIN = Former(name="plain", sheet=Sheet(material="birch-ply", thickness=0.006), on="E1R-E1L", to="aft", half=0.2,
               feet=0.1, crown=0.3, ring=0.02)  # fmt: skip


@pytest.fixture
def w1(whinchat: Family) -> Model:
    return whinchat.models["W1"]


def deck(model: Model) -> Assembly:
    """Formers, stringers and the cross tubes they stand on."""
    whole = lay_out(model)
    words = ("-SHEET-DECK", "-STRINGER-", "TUBE-D1R-D1L", "TUBE-E1R-E1L", "TUBE-F1R-F1L")
    parts = tuple(p for p in whole.parts if any(w in p.number for w in words))
    names = {p.number for p in parts}
    return replace(whole, parts=parts, joints=tuple(j for j in whole.joints if set(j.parts) <= names))


def test_the_edge_of_a_round_former_by_hand() -> None:
    """Half of 0.2 and a crown 0.2 over the feet is a circle: out of it is straight from its middle."""
    for share in (0.2, 0.5, 0.8):
        point, out, along = at_share(PLAIN, share)
        a = share * math.pi / 2
        assert_allclose(point, [0.2 * math.sin(a), 0.1 + 0.2 * math.cos(a)], atol=1e-12)
        assert_allclose(out, [math.sin(a), math.cos(a)], atol=1e-12)
        assert_allclose(along, [math.cos(a), -math.sin(a)], atol=1e-12)


def test_a_former_without_stringers_is_half_a_ring(w1: Model) -> None:
    """pi/2 (R^2 - r^2) both sides; a ring as wide as it is high is solid."""
    for ring, area in ((0.02, math.pi / 2 * (0.2**2 - 0.18**2)), (0.2, math.pi / 2 * 0.2**2)):
        bare = replace(w1, formers=(replace(PLAIN, ring=ring),), stringers=())
        (sheet,) = former_sheets(bare)
        half = np.array(list(sheet.corners.values()))[:, 1:]
        assert abs(half[0, 0]) < 1e-9 and abs(half[-1, 0]) < 1e-9 and half[:, 0].min() > -1e-9
        assert_allclose(2 * Polygon(half).area, area, rtol=2e-3)


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_stringers_fit_their_notches(whinchat: Family, name: str) -> None:
    whole = deck(whinchat.models[name])
    found = measure(whole)
    assert not found.clashes and not found.apart and not found.adrift and not found.not_closed
    assert sum(1 for p in whole.parts if "-STRINGER-" in p.number) == 4
    assert sum(1 for j in whole.joints if "-STRINGER-" in j.number) == 12


def test_a_stringer_is_flush_and_weighs_what_its_length_says(w1: Model) -> None:
    """1/2 by 3/8 in of spruce from the first to the last former; its outer face on each former's edge."""
    planes = {s.sheet.name: s.pose.origin[0] for s in laid_sheets(w1, frame_tubes(w1))}
    parts = {p.number: p for p in stringer_parts(w1, planes)}
    part = parts["W1-fuselage-STRINGER-UPPER-R"]
    shape = part.shape
    assert isinstance(shape, Straight)
    middle = next(f for f in w1.formers if f.name == "deck_middle")
    outer = shape.rings[STEPS][:2].mean(axis=0)
    assert_allclose(outer[0], planes["deck_middle"], atol=1e-12)
    a = 0.36 * math.pi / 2
    assert_allclose(outer[1:], [middle.half * math.sin(a), middle.feet + (middle.crown - middle.feet) * math.cos(a)])
    centres = shape.rings.mean(axis=1)
    long = float(np.linalg.norm(np.diff(centres, axis=0), axis=1).sum())
    assert 54 * INCH < long < 55.5 * INCH
    # cut square to the station, not to its length: its section is less by the cosine of its slope, a quarter at most
    square = 0.5 * 0.375 * INCH**2 * material("spruce").density
    assert long * square * 0.965 < part.mass < long * square
    assert_allclose(parts["W1-fuselage-STRINGER-UPPER-L"].places[0][1], -part.places[0][1], atol=1e-12)


def test_formers_out_of_turn_are_told(w1: Model) -> None:
    one = replace(w1.stringers[0], formers=("deck_rear", "deck_front"))
    model = replace(w1, stringers=(one,))
    with pytest.raises(DesignProblem, match=r"stringers\.upper: its formers must follow one another aft"):
        lay_out(model)


def test_a_stringer_that_is_not_let_in_runs_into_its_former(w1: Model) -> None:
    """Notches for one place, strips at another: the bodies meet."""
    whole = deck(w1)
    moved = tuple(replace(s, share=s.share + 0.1) for s in w1.stringers)
    planes = {s.sheet.name: s.pose.origin[0] for s in laid_sheets(w1, frame_tubes(w1))}
    strips = {p.number: p for p in stringer_parts(replace(w1, stringers=moved), planes)}
    found = measure(replace(whole, parts=tuple(strips.get(p.number, p) for p in whole.parts)))
    assert any("STRINGER" in c.one + c.other and "DECK" in c.one + c.other for c in found.clashes)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('on = "E1R-E1L", to = "aft", half', 'on = "E1R-E9L", to = "aft", half', "formers.deck_middle.on"),
        ('crown = "11 in", ring', 'crown = "8 in", ring', "formers.deck_middle.crown"),
        ("deck_middle = { sheet", "floor = { sheet", "formers.floor"),
        ('"deck_middle", "deck_rear"], share = 0.36', '"deck_midle", "deck_rear"], share = 0.36',
         "stringers.upper.formers.1"),
        ('formers = ["deck_front", "deck_middle", "deck_rear"], share = 0.36', 'formers = ["deck_front"], share = 0.36',
         "two formers or more"),
        ("share = 0.36", "share = 0.95", "stringers.upper.share"),
        ('depth = "3/8 in" }, formers', 'depth = "7/8 in" }, formers', "stringers.upper.bar.depth"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_by_key(old: str, new: str, said: str) -> None:
    assert DEMO.count(old) >= 1
    with pytest.raises(FileProblems) as told:
        read(DEMO.replace(old, new, 1).encode(), str(DEMO_FILE))
    assert said in str(told.value)
