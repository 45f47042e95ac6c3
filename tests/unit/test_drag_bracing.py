"""Drag bracing: where its wires go and how long they are by hand, what touches what, what is told of a bad one."""

from __future__ import annotations

import math

import numpy as np
import pytest
from families import PROBE, problems, reading
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem
from sparwright.data.hardware import wire_end
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.parts.drag_bracing import crossings, drag_joints, drag_parts
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Tube

INCH = 0.0254
TABLE = "[models.P1.wings.wing.ribs]\n"
SAID = """[models.P1.wings.wing.drag_bracing]
bays = ["30 in", "54 in", "78 in"]
tube = { material = "4130N", outside = "1/2 in", wall = "0.035 in" }
foot = { material = "4130N", thickness = "0.063 in" }
lug = { material = "4130N", thickness = "0.090 in" }
edge = "0.4 in"
bolt = "AN3"
pitch = "1 in"
block = "spruce"
wire = "1/8 in"
level = "0.4 in"
hole = "1/2 in"

"""


def braced(said: str = SAID) -> Model:
    return reading(PROBE.replace(TABLE, said + TABLE, 1)).models["P1"]


def test_one_wire_of_each_bay_pulls_against_drag_and_one_the_other_way() -> None:
    """Drag: from the front spar inside to the rear spar outside; both from pin to pin as far as Pythagoras says."""
    model = braced()
    wires = crossings(model, model.wings[0])
    assert [(round(w.start / INCH), w.level) for w in wires] == [(30, 1), (30, -1), (54, 1), (54, -1)]
    for w in wires:
        inner, outer = w.ends
        names = inner.post.spar.name, outer.post.spar.name
        assert names == (("front", "rear") if w.level == 1 else ("rear", "front"))
        assert outer.post.buttline - inner.post.buttline == pytest.approx(24 * INCH)
        beside = (0.5 / 2 + 1.5 * 0.4) * INCH + 3e-3
        square = abs(inner.pin[0] - outer.pin[0])
        long = math.hypot(24 * INCH - 2 * beside, square)
        assert_allclose(np.linalg.norm(outer.pin - inner.pin), long, rtol=2e-3)
        assert (outer.pin[0] > inner.pin[0]) == (w.level == 1)
        for pull in w.ends:
            assert abs(pull.way @ pull.normal) < 1e-12
            assert abs(pull.post.axes.up @ (pull.pin - pull.post.at(0.0)) - w.level * 0.4 * INCH) < 1e-9


def test_a_wire_is_cut_from_fork_to_turnbuckle_and_weighs_that() -> None:
    model = braced()
    wing = model.wings[0]
    parts = {p.number: p for p in drag_parts(model, wing)}
    first, wire = crossings(model, wing)[0], parts["P1-wing-DRAG-WIRE-30"]
    fork, buckle = wire_end("fork", INCH / 8), wire_end("turnbuckle", INCH / 8)
    assert fork and buckle and isinstance(wire.shape, Tube) and wire.count == 2
    pins = float(np.linalg.norm(first.ends[1].pin - first.ends[0].pin))
    assert_allclose(wire.shape.length, pins - fork.length - buckle.length, rtol=1e-9)
    tube = parts["P1-wing-DRAG-TUBE-54"]
    area = math.pi / 4 * (0.5**2 - 0.43**2) * INCH**2
    assert isinstance(tube.shape, Tube)
    assert_allclose(tube.mass, area * tube.shape.length * material("4130N").density, rtol=1e-3)
    assert "cut " in wire.stock and "pin to pin" in wire.stock


def test_all_of_it_is_held_and_touches() -> None:
    model = braced()
    assembly = lay_out(model)
    mine = {p.number for p in drag_parts(model, model.wings[0])}
    joints = list(drag_joints(model, model.wings[0]))
    assert mine - {n for j in joints for n in j.parts} == set()
    numbers = {j.number for j in joints}
    found = measure(assembly)
    assert not [a for a in found.apart if a.joint in numbers]
    assert not [n for n in found.adrift if n.split(" at ")[0] in mine]
    clashes = [c for c in found.clashes if {c.one, c.other} & mine and "-RIB-" not in c.one + c.other]
    assert not clashes
    assert all(j.bolt is not None for j in joints if j.kind == "bolt" or "PIN" in j.number)
    assert not any("drag bracing" in u for u in assembly.unknowns)
    assert any("drag bracing (wing)" in u for u in lay_out(reading(PROBE).models["P1"]).unknowns)


def test_the_rear_spar_with_one_web_is_bolted_through_it_alone() -> None:
    model = braced()
    parts = {p.number for p in drag_parts(model, model.wings[0])}
    assert "P1-wing-DRAG-FOOT-FRONT-54-BLOCK" in parts and "P1-wing-DRAG-FOOT-REAR-54-BLOCK" not in parts
    grips = {j.number: j.bolt.grip for j in drag_joints(model, model.wings[0]) if j.bolt and "BOLTS" in j.number}
    rear, front = (grips[f"P1-wing-DRAG-FOOT-{s}-54-BOLTS-JOINT"] for s in ("REAR", "FRONT"))
    assert_allclose(rear, 0.063 * INCH + 0.002, rtol=1e-9)
    assert_allclose(front, 0.063 * INCH + 1.25 * INCH + 2 * 0.002, rtol=1e-9)


@pytest.mark.parametrize(
    ("old", "new", "key", "says"),
    [
        ('["30 in", "54 in", "78 in"]', '["54 in", "30 in"]', "bays", "from the inside out"),
        ('"78 in"]', '"178 in"]', "bays.2", "must lie on the wing"),
        ('outside = "1/2 in", wall = "0.035 in"', 'outside = "1/2 in", wall = "0.25 in"', "tube.wall", "half"),
        ('pitch = "1 in"', 'pitch = "1/2 in"', "pitch", "three diameters"),
        ('block = "spruce"', 'block = "sproose"', "block", "spruce"),
        ('wire = "1/8 in"', 'wire = "0.2 in"', "wire", "no fork"),
        ('edge = "0.4 in"', 'edge = "1/4 in"', "edge", "two diameters"),
        ('hole = "1/2 in"', 'hole = "1/16 in"', "hole", "wider than the wire"),
        ('bolt = "AN3"', 'bolt = "AN33"', "bolt", "AN3"),
    ],
)
def test_a_bad_one_is_told_at_its_key(old: str, new: str, key: str, says: str) -> None:
    assert old in SAID
    found = problems(PROBE.replace(TABLE, SAID.replace(old, new, 1) + TABLE, 1))
    assert [p.key for p in found] == [f"models.P1.wings.wing.drag_bracing.{key}"]
    assert says in found[0].wanted


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('pitch = "1 in"', 'pitch = "3-1/2 in"', "into the caps|is .* high"),
        ('bays = ["30 in", "54 in", "78 in"]', 'bays = ["30 in", "36 in"]', "."),
    ],
)
def test_what_does_not_fit_is_told(old: str, new: str, says: str) -> None:
    model = braced(SAID.replace(old, new, 1))
    if says == ".":  # short bays are possible as long as the ends leave some wire
        assert len(crossings(model, model.wings[0])) == 2
        return
    with pytest.raises(DesignProblem, match=says):
        list(drag_parts(model, model.wings[0]))
