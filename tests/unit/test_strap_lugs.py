"""Lugs of the seat's straps: where they lie, what they weigh, what is told when wrong."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from families import DEMO_FILE
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.parts.frame import frame_tubes
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly, Plate
from sparwright.parts.strap_lugs import strap_anchors, strap_lug_parts

DEMO = DEMO_FILE.read_text("utf-8")
INCH = 0.0254


@pytest.fixture
def w1(whinchat: Family) -> Model:
    return whinchat.models["W1"]


def strapped(model: Model, **changes: Any) -> Model:
    """The model with another harness."""
    assert model.seat is not None and model.seat.harness is not None
    return replace(model, seat=replace(model.seat, harness=replace(model.seat.harness, **changes)))


def only_lugs(model: Model) -> Assembly:
    """The lugs, the tubes they stand on and the welds between."""
    whole = lay_out(model)
    parts = tuple(
        p for p in whole.parts if "STRAP-LUG" in p.number or p.number.endswith(("E1R-E1L", "T2R-D2R", "T2L-D2L"))
    )
    names = {p.number for p in parts}
    return replace(whole, parts=parts, joints=tuple(j for j in whole.joints if set(j.parts) <= names))


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_each_anchor_has_a_lug_on_its_tube_right_and_left(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    anchors = list(strap_anchors(model, frame_tubes(model)))
    told = [(a.strap, a.hand, a.tube.number.split("TUBE-")[1]) for a in anchors]
    assert told == [("shoulder", "R", "E1R-E1L"), ("shoulder", "L", "E1R-E1L"), ("lap", "R", "T2R-D2R"),
                    ("lap", "L", "T2L-D2L")]  # fmt: skip
    lugs = {p.number: p for p in strap_lug_parts(model, frame_tubes(model))}
    for a in anchors:
        lug = lugs[f"{name}-seat-STRAP-LUG-{a.strap.upper()}-{a.hand}"]
        assert isinstance(lug.shape, Plate) and lug.hand == a.hand
        middle = lug.shape.holes[0].mean(axis=0)
        assert_allclose(lug.poses[0].place(*middle), a.place, atol=1e-6)
    found = measure(only_lugs(model))
    assert not found.clashes and not found.apart and not found.adrift


def test_the_straps_are_bolted_to_them_with_a_bolt_that_fits(w1: Model) -> None:
    """Strap's end 1/8 in and lug 0.090 in: 0.215 in of grip."""
    joints = [j for j in lay_out(w1).joints if "STRAP-LUG" in j.number and j.kind == "bolt"]
    assert len(joints) == 4 and all("W1-systems-HARNESS" in j.parts for j in joints)
    assert all(j.bolt and abs(j.bolt.grip - 0.215 * INCH) < 1e-9 and j.bolt.stock_grip >= j.bolt.grip for j in joints)


def test_weight_by_hand(w1: Model) -> None:
    """Hull of a 1/2 in round h over a foot 1-1/2 in long: two tangents from the foot's ends, less the bolt's hole."""
    lug = next(p for p in strap_lug_parts(w1, frame_tubes(w1)) if p.number.endswith("SHOULDER-R"))
    h = math.hypot(1.0, 0.2) - 0.25  # from the face of the 1/2 in tube, in
    far, r, b = math.hypot(h, 0.75), 0.5, 0.75
    turn = math.atan2(b, h) + math.acos(r / far)  # of a tangent's foot from straight down
    outline = 2 * (b * h / 2 + r * math.sqrt(far**2 - r**2) / 2) + r**2 * (math.pi - turn)
    area = (outline - math.pi / 4 * 0.25**2) * INCH**2
    mass = area * 0.090 * INCH * 7833
    assert_allclose(lug.mass, mass, rtol=5e-3)


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"lap": (68.5 * INCH, 7 * INCH, -13 * INCH)}, r"seat\.harness\.lap.*W1-fuselage-TUBE-T2R-D2R, on no tube"),
        (
            {"lap": (67.3 * INCH, 12 * INCH, -13 * INCH)},
            r"from the middle of W1-fuselage-TUBE-T2R-D2R.*outside the tube",
        ),
        ({"shoulder": (98 * INCH, 10.5 * INCH, 8.5 * INCH)}, r"past the end of W1-fuselage-TUBE-E1R-E1L, on no tube"),
        ({"lap_on": "T2-Z9"}, r"seat\.harness\.lap_on: no tube of the frame runs T2-Z9"),
    ],
)
def test_an_anchor_on_no_tube_is_told(w1: Model, changes: dict[str, Any], said: str) -> None:
    model = strapped(w1, **changes)
    with pytest.raises(DesignProblem, match=said):
        list(strap_lug_parts(model, frame_tubes(model)))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('lap_on = "T2-D2"', 'lap_on = "T2-D9"', "seat.harness.lap_on"),
        ('lap_on = "T2-D2"\n', "", "seat.harness.lap_on"),
        ('shoulder_on = "E1R-E1L"', 'shoulder_on = "E1R-E2L"', "seat.harness.shoulder_on"),
        ('edge = "1/2 in", bolt = "AN4", tang', 'edge = "1/4 in", bolt = "AN4", tang', "seat.harness.lug.edge"),
        ('edge = "1/2 in", bolt = "AN4", tang', 'edge = "1/2 in", bolt = "AN44", tang', "seat.harness.lug.bolt"),
        ('item = "harness"\n', 'item = "harnes"\n', "nearest known is 'harness'"),
    ],
)
def test_what_is_wrong_is_told_by_key(old: str, new: str, said: str) -> None:
    assert DEMO.count(old) >= 1
    with pytest.raises(FileProblems) as told:
        read(DEMO.replace(old, new, 1).encode(), str(DEMO_FILE))
    assert said in str(told.value)


def test_without_lugs_they_are_said_not_to_be_drawn(w1: Model) -> None:
    bare = lay_out(strapped(w1, lug=None))
    assert "lugs of the seat's straps" in bare.unknowns
    assert not np.any(["STRAP-LUG" in p.number for p in bare.parts])
