"""The fuel system as parts: weights against bodies, left and right apart, welded edges touch, nothing in the way."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from numpy.testing import assert_allclose

from sparwright.data.loader import material
from sparwright.family.model import Family, Model
from sparwright.parts.frame import frame_tubes
from sparwright.parts.fuel import fuel_joints, fuel_parts, fuel_replaces, tank_number
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly
from sparwright.parts.solids import solids
from sparwright.parts.tank_hold import hold_joints
from sparwright.systems.tank import volume

MODELS = ("W1", "W2", "W3")


def plumbed(model: Model, wings: bool = False) -> Assembly:
    """The model with its fuel system; without its wings, which take long to measure, unless they are asked for."""
    bare = lay_out(model)
    if not wings:
        kept = tuple(p for p in bare.parts if not p.group.startswith("wing"))
        bare = replace(bare, parts=kept, joints=())
    own = {p.number for p in bare.parts} | {j.number for j in bare.joints}
    parts = tuple(p for p in fuel_parts(model) if p.number not in own)
    made = (*fuel_joints(model), *hold_joints(model, frame_tubes(model)))
    joints = tuple(j for j in made if j.number not in own)
    return replace(bare, parts=(*bare.parts, *parts), joints=(*bare.joints, *joints))


def lying(model: Model, axis: str) -> Model:
    """The same with a lying cylinder for a tank."""
    assert model.fuel
    tank = replace(model.fuel.tank, shape="cylinder", axis=axis, length=0.25, width=0.25, height=0.25, hold=None)
    long = {"width": 0.5} if axis == "across" else {"length": 0.5}
    return replace(model, fuel=replace(model.fuel, tank=replace(tank, **long), vent=None))  # type: ignore[arg-type]


@pytest.mark.parametrize("name", MODELS)
def test_weights_are_those_of_the_bodies(whinchat: Family, name: str) -> None:
    for part in fuel_parts(whinchat.models[name]):
        bodies = solids(part)
        if bodies and part.form != "item":  # an item's body is the room it takes
            own = sum(b.volume for b in bodies) * material(part.material).density
            assert_allclose(part.mass, own, rtol=0.002, atol=0, err_msg=part.number)  # corners of round things
            assert_allclose(bodies[0].centre, part.places[0], rtol=0, atol=2e-3, err_msg=part.number)


@pytest.mark.parametrize("name", ["W1", *(pytest.param(n, marks=pytest.mark.long) for n in ("W2", "W3"))])
def test_nothing_is_in_the_way_every_seam_touches_and_every_part_is_held(whinchat: Family, name: str) -> None:
    found = measure(plumbed(whinchat.models[name]))
    assert [c for c in found.clashes if "-fuel-" in c.one + c.other] == []
    assert [a for a in found.apart if "-fuel-" in a.joint] == []
    assert [n for n in found.loose if "-fuel-" in n] == []


@pytest.mark.long
@pytest.mark.parametrize("name", MODELS)
def test_nothing_of_the_whole_model_is_in_the_way(whinchat: Family, name: str) -> None:
    found = measure(plumbed(whinchat.models[name], wings=True))
    assert [c for c in found.clashes if "-fuel-" in c.one + c.other] == []


@pytest.mark.long
def test_a_line_through_a_tube_is_found(whinchat: Family) -> None:
    """The measure can fail: the cabin line led through the lower longeron."""
    model = whinchat.models["W1"]
    assert model.fuel
    line = model.fuel.lines[1]
    run = list(line.run.items())
    x, _, z = model.fuselage.nodes["B2"]
    led = replace(line, run=dict([run[0], ("astray", (x - 0.2, 0.32, z)), *run[1:]]))
    spoiled = replace(model, fuel=replace(model.fuel, lines=(model.fuel.lines[0], led, *model.fuel.lines[2:])))
    found = measure(plumbed(spoiled))
    assert any("LINE-CABIN-LINE" in c.one + c.other for c in found.clashes)


def test_left_and_right_are_parts_of_their_own(whinchat: Family) -> None:
    sides = [p for p in fuel_parts(whinchat.models["W1"]) if "TANK-SIDE" in p.number]
    assert [p.hand for p in sides] == ["R", "L"] and all(p.count == 1 for p in sides)
    assert sides[0].places[0][1] == -sides[1].places[0][1] > 0


@pytest.mark.long
@pytest.mark.parametrize("axis", ["across", "along"])
def test_a_lying_cylinder_has_barrel_and_ends(whinchat: Family, axis: str) -> None:
    model = lying(whinchat.models["W1"], axis)
    assert model.fuel
    parts = {p.number.removeprefix("W1-fuel-"): p for p in fuel_parts(model)}
    ends = {"across": {"TANK-END-R", "TANK-END-L"}, "along": {"TANK-FRONT", "TANK-REAR"}}[axis]
    assert ends | {"TANK-BARREL", "TANK"} <= set(parts)
    tank, t = model.fuel.tank, model.fuel.tank.wall
    shell = math.pi / 4 * ((tank.height + 2 * t) ** 2 - tank.height**2) * 0.5
    assert_allclose(parts["TANK-BARREL"].mass, shell * material(tank.material).density, rtol=1e-9, atol=0)
    assert_allclose(volume(tank), math.pi / 4 * 0.25**2 * 0.5, rtol=1e-12, atol=0)
    found = measure(plumbed(model))
    assert [a for a in found.apart if "TANK" in a.joint and "-fuel-" in a.joint] == []


def test_what_it_stands_for_is_named_and_its_tank_has_a_number(whinchat: Family) -> None:
    model = whinchat.models["W2"]
    assert fuel_replaces(model) == ("fuel_tank", "fuel_lines")
    numbers = [p.number for p in fuel_parts(model)]
    assert tank_number(model) == "W2-fuel-TANK" in numbers and len(numbers) == len(set(numbers))
    joints = [j.number for j in fuel_joints(model)]
    assert len(joints) == len(set(joints)) > 20
    assert {n for j in fuel_joints(model) for n in j.parts} == set(numbers)


def test_no_fuel_no_parts(whinchat: Family) -> None:
    bare = replace(whinchat.models["W1"], fuel=None)
    assert fuel_parts(bare) == () and fuel_joints(bare) == () and fuel_replaces(bare) == ()
