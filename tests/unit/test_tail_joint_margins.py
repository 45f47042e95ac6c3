"""Joints of the tail: rivets of an arm, tabs, horns and clamps against statics by hand."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from handmade import answer_of

from sparwright.base.check import Check
from sparwright.family.model import Family, Model, Skin
from sparwright.margins import fabric, sources, tail_joints
from sparwright.margins.braces import Strengths
from sparwright.margins.tail_joints import RivetedEnd, horn_width, on_a_face, plate_use, riveted_ends, tail_joint_checks
from sparwright.parts.tail_frame import surfaces
from sparwright.structure.answered import Answered
from sparwright.structure.whole import skeleton

POUND, INCH = 4.4482216, 0.0254


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    """A model with a framed tail."""
    return whinchat.models["W1"]


def found(model: Model, answer: Answered, strengths: Strengths | None = None) -> dict[str, Check]:
    """By id."""
    return {c.id: c for c in tail_joint_checks(model, answer, strengths or sources.strengths(model))}


def test_a_face_takes_half_and_the_pair_of_the_bending() -> None:
    """N, V, and a moment about either axis, at the middle of rivets 30 mm from the node, both ends of a bar."""
    force = np.array([1000.0, 100.0, 50.0, 4.0, 6.0, 8.0])
    end = RivetedEnd("", "", 0, 0, 0.03, 0.02)
    along, across, turn = (float(v) for v in on_a_face(force, end))
    assert along == pytest.approx(1000 / 2 + (6.0 + 0.03 * 50) / 0.02)
    assert across == pytest.approx(100 / 2 + 4.0 / 0.02)
    assert turn == pytest.approx(abs(8.0 - 0.03 * 100) / 2)
    other = on_a_face(force, replace(end, end=1))
    assert float(other[2]) == pytest.approx((8.0 + 0.03 * 100) / 2)


def test_a_pulled_rib_by_hand(w1: Model) -> None:
    """900 N along a rib: three rivets on each of two faces, half an inch apart; test's strength of the two sheets."""
    bones = skeleton(w1)
    bare = answer_of(w1, {}, bones)
    tail = surfaces(w1)[0]
    end = next(e for e in riveted_ends(tail, bare)["tailplane"] if "RIB" in e.tube)
    force = [-900.0, 0, 0, 0, 0, 0, 900.0, 0, 0, 0, 0, 0]
    c = found(w1, answer_of(w1, {end.bar: force}, bones))["strength.gusset.tailplane"]
    one = sources.joint_allowable(w1, "rivet", "shear", fastener="blind-steel-1/8", of=("6061-T6",)).value
    assert 250 * POUND < one < 310 * POUND  # of the eight forces of the file, 290 the least, less its scatter
    assert c.value == pytest.approx(900 / 6 / one)
    assert c.part in (e.gusset for e in riveted_ends(tail, bare)["tailplane"])


def test_every_tube_that_ends_in_a_gusset_is_looked_at(w1: Model) -> None:
    answer = answer_of(w1, {})
    ends = [e for s in surfaces(w1) for those in riveted_ends(s, answer).values() for e in those]
    ribs = [e for e in ends if e.tube == "W1-tailplane-RIB-20+16-R"]
    assert len(ribs) == 2 and {e.end for e in ribs} == {0, 1}
    assert not [e for e in ends if e.tube == "W1-tailplane-SPAR" and "SP20" in e.gusset]  # it runs on


def test_a_plate_bent_both_ways() -> None:
    force = np.array([100.0, 0.0, 0.0, 0.0, 5.0, 1.0])
    by_hand = (100 / (0.02 * 0.003) + 6 * 5 / (0.003 * 0.02**2) + 6 * 1 / (0.02 * 0.003**2)) / 400e6
    assert float(plate_use(force, 0.02, 0.003, 400e6)) == pytest.approx(by_hand)


def test_a_horn_by_hand(w1: Model) -> None:
    """50 N m at the tube's middle of the elevator's horn; what is left at the tube's edge over the width there."""
    bones = skeleton(w1)
    i = int(bones.which(lambda b: b.part == "W1-elevator-HORN")[0])
    force = np.zeros(12)
    force[4] = 50.0
    c = found(w1, answer_of(w1, {i: list(force)}, bones))["strength.horn.elevator"]
    s = surfaces(w1)[0]
    edge = 7 / 16 / 4  # half of the tube over the arm, inches
    wide = horn_width(s, edge)
    assert 0.03 < wide < 0.045
    F = sources.strengths(w1).material("4130N", "tension_near_weld", s.frame.horn.sheet.thickness).value
    left = 1.15 * 50 * (1 - edge)
    assert c.value == pytest.approx(6 * left / (s.frame.horn.sheet.thickness * wide**2) / F)


def test_what_is_not_known_does_not_pass(w1: Model, monkeypatch: pytest.MonkeyPatch) -> None:
    known = sources.strengths(w1)
    lost = replace(known, material=lambda *a: replace(known.material(*a), value=math.nan),
                   fastener=lambda *a: replace(known.fastener(*a), value=math.nan))  # fmt: skip
    plain = tail_joints.joint_allowable
    monkeypatch.setattr(tail_joints, "joint_allowable", lambda *a, **k: replace(plain(*a, **k), value=math.nan))
    assert {c.verdict for c in found(w1, answer_of(w1, {}), lost).values()} == {"unknown"}


def test_fabric_says_what_is_missing(w1: Model) -> None:
    """W/S by hand; the class is the lower one; nothing of it passes."""
    answer = answer_of(w1, {})
    checks = {c.id: c for c in fabric.fabric_checks(w1, answer, {})}
    loading = fabric.wing_loading(w1)
    area = 2 * 192 * INCH * 62 * INCH
    assert loading == pytest.approx(w1.limits.max_mass * 9.80665 / area, rel=1e-3)
    assert "65 lb/in" in checks["strength.fabric.class"].caveat
    assert {c.verdict for c in checks.values()} == {"unknown"}


def test_suction_of_the_cover_sums_to_the_force() -> None:
    """Where a cover begins, p over the chord from there is the two loads' own integral: n at the end of both."""
    skin = replace(_cover(), start=0.3)
    s = np.linspace(0.02, 0.98, 4001)
    one = np.ones(1)
    p = [fabric.suction(replace(skin, start=float(x)), 1.5 * one, 1200.0 * one, -90.0 * one)[0] for x in s]
    inside = float(np.trapezoid(p, s) * 1.5)
    middle = 4 * 90 / 1.5
    lost = (1200 - middle) * (2 / np.pi) * (2 * math.sqrt(0.02)) + middle * 16 / (3 * np.pi) * 2 * 0.02**1.5
    assert inside == pytest.approx(1200 - lost, rel=0.02)


def _cover() -> Skin:
    return Skin(name="cover", start=0.2, end=1.0, material="fabric", areal=0.3)
