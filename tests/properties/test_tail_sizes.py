"""Tail frames: one side mirrors the other, all sizes scale, the weight is that of the bodies whatever the sizes are."""

from __future__ import annotations

from dataclasses import fields, is_dataclass, replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from shapely import Point, Polygon
from tails import tailed

from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.parts.part import Part, Plate, Skin
from sparwright.parts.solids import solids
from sparwright.parts.tail import tail_joints, tail_parts
from sparwright.parts.tail_fittings import strap
from sparwright.parts.travel import turning

MIRROR = np.array([1.0, -1.0, 1.0])


def grown(thing: Any, by: float) -> Any:
    """A record with every length of it and below it grown."""
    if isinstance(thing, tuple):
        return tuple(grown(x, by) for x in thing)
    if not is_dataclass(thing):
        return thing
    new = {}
    for f in fields(thing):
        value = getattr(thing, f.name)
        if f.metadata.get("unit") == "m" and value is not None:
            new[f.name] = tuple(np.multiply(value, by)) if isinstance(value, tuple) else value * by
        elif is_dataclass(value) or isinstance(value, tuple):
            new[f.name] = grown(value, by)
    return replace(thing, **new)  # type: ignore[type-var]


def grown_model(model: Model, by: float) -> Model:
    nodes = {k: tuple(np.multiply(v, by)) for k, v in model.fuselage.nodes.items()}
    body = replace(model.fuselage, nodes=nodes, tubes=grown(model.fuselage.tubes, by))
    return replace(model, tailplane=grown(model.tailplane, by), fin=grown(model.fin, by), fuselage=body)


def by_number(model: Model) -> dict[str, Part]:
    return {p.number: p for p in tail_parts(model)}


def test_the_left_of_every_pair_is_the_mirror_of_the_right() -> None:
    """To a micrometre: the corners of round things begin at another angle."""
    parts, pairs = by_number(tailed()), 0
    for number, right in parts.items():
        if not number.endswith("-R"):
            continue
        left = parts[number[:-1] + "L"]
        pairs += 1
        assert_allclose(left.mass, right.mass, rtol=1e-6)
        order = sorted(left.places, key=lambda p: p[2])
        for a, b in zip(sorted(right.places, key=lambda p: p[2]), order, strict=True):
            assert_allclose(np.array(a) * MIRROR, b, rtol=0, atol=1e-6, err_msg=number)
        for a, b in zip(solids(right), solids(left), strict=True):
            assert_allclose(np.sort((a.box * MIRROR), axis=0), b.box, rtol=0, atol=1e-6, err_msg=number)
            assert_allclose(a.volume, b.volume, rtol=1e-6)
    assert pairs > 50


def test_the_whole_tail_balances_on_the_centreline() -> None:
    """Fin and tailplane are alike on both sides, but for the elevator's horn and the fin's hinge pins' ends."""
    parts = [p for p in tail_parts(tailed()) if "HORN" not in p.number]
    moment = sum(p.mass * y for p in parts for _, y, _ in p.places)
    assert abs(moment) / sum(p.mass * p.count for p in parts) < 1e-9


@pytest.mark.parametrize("by", [0.5, 2.0])
def test_twice_the_size_eight_times_the_weight(by: float) -> None:
    """Tubes and plates by the cube, fabric by the square; rivets and pins are bought as they are."""
    small, large = by_number(tailed()), by_number(grown_model(tailed(), by))
    own = ("RIB", "SPAR", "EDGE", "FRONT", "ROOT", "TIP", "DIAGONAL", "GUSSET", "JOIN")
    for kind, power in (*((k, 3) for k in own), ("FABRIC", 2)):
        before = sum(p.mass * p.count for n, p in small.items() if f"-{kind}" in n)
        after = sum(p.mass * p.count for n, p in large.items() if f"-{kind}" in n)
        assert before > 0
        assert_allclose(after, before * by**power, rtol=1e-6, err_msg=kind)


@settings(max_examples=8, deadline=None)
@given(st.floats(0.1, 0.9), st.floats(0.55, 1.2), st.floats(0.0, 0.15), st.sampled_from(["0.035", "0.049", "0.058"]))
def test_weight_is_that_of_the_bodies_and_joints_name_parts(
    hinge: float, taper: float, sweep: float, wall: str
) -> None:
    """Fins of many shapes: every part's mass is its bodies', each joint's parts are there, numbers are one each."""
    fin = tailed().fin
    assert fin.frame
    chord = 1.2
    hinge = 0.3 + 0.4 * hinge
    fixed = replace(fin.frame.fixed, leading=replace(fin.frame.fixed.leading, wall=float(wall) * 0.0254))
    new = replace(fin, root_chord=chord, tip_chord=chord * taper, sweep=sweep, hinge=hinge,
                  frame=replace(fin.frame, fixed=fixed))  # fmt: skip
    model = replace(tailed(), fin=new, tailplane=replace(tailed().tailplane, frame=None))
    parts, joints = by_number(model), list(tail_joints(model))
    assert len(parts) == len(list(tail_parts(model)))
    assert {n for j in joints for n in j.parts} - set(parts) <= {n for j in joints for n in j.parts if "fuselage" in n}
    for p in parts.values():
        bodies = solids(p)
        if bodies and p.material != "bought" and not isinstance(p.shape, Skin):
            weight = sum(b.volume for b in bodies) * material(p.material).density
            assert_allclose(p.mass * p.count, weight, rtol=0.003, err_msg=p.number)
        if isinstance(p.shape, Plate) and p.purpose == "tail gusset":
            plate = Polygon(p.shape.outline)
            assert all(plate.exterior.distance(Point(xy)) >= 2 * 0.003175 - 1e-9 for xy in p.shape.marks[0].points)


@given(st.floats(0.003, 0.02), st.floats(0.1, 0.9), st.floats(0.0004, 0.0015), st.floats(0.001, 0.02))
def test_a_strap_is_one_sheet_of_one_thickness(tube: float, share: float, thickness: float, room: float) -> None:
    """Its area is its thickness by its middle line, to the roundness of 32 corners."""
    inner = share * tube
    edge = 0.6 * tube
    ring = Polygon(strap(edge + inner + thickness + room, tube, inner, thickness, edge))
    assert ring.is_valid
    assert_allclose(ring.area, thickness * (ring.length / 2 - thickness), rtol=2e-3)


@given(st.floats(-3, 3), st.tuples(*(st.floats(-1, 1),) * 3).filter(lambda v: np.linalg.norm(v) > 0.1))
def test_turning_keeps_lengths_and_hands(angle: float, along: tuple[float, float, float]) -> None:
    turn = turning(np.array(along) / np.linalg.norm(along), angle)
    assert_allclose(turn @ turn.T, np.eye(3), rtol=0, atol=1e-12)
    assert_allclose(np.linalg.det(turn), 1.0, rtol=1e-12)
    assert_allclose(np.trace(turn), 1 + 2 * np.cos(angle), rtol=0, atol=1e-12)
