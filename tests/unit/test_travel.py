"""Elevator and rudder turned: the gap is what geometry says, and a horn that meets a tube is told with its number."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from tails import tail_alone, tailed

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Family, Model
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Assembly, Part
from sparwright.parts.solids import solids
from sparwright.parts.tail_fittings import axis
from sparwright.parts.tail_frame import surfaces
from sparwright.parts.travel import Nearest, Turning, closed_body, movable, nearest, steps, travel_checks, turning
from sparwright.shape.solid import Solid, as_place
from sparwright.shape.tube import Tube


def turned(model: Model, name: str) -> Turning:
    return next(t for t in movable(model) if t.name == name)


def least(model: Model, name: str, assembly: Assembly) -> Mapping[str, Nearest]:
    return nearest(turned(model, name), movable(model), assembly)


def test_a_quarter_turn_about_the_right_takes_aft_down_and_up_is_the_other_way() -> None:
    assert_allclose(turning(np.array([0.0, 1.0, 0.0]), np.pi / 2) @ (1, 0, 0), (0, 0, -1), rtol=0, atol=1e-12)
    some = np.array([0.36, 0.48, 0.8])
    assert_allclose(turning(some, 0.7) @ some, some, rtol=0, atol=1e-12)
    assert_allclose(turning(some, 0.3) @ turning(some, 0.4), turning(some, 0.7), rtol=0, atol=1e-12)


def test_both_pass_and_say_what_is_nearest() -> None:
    found = {c.id: c for c in travel_checks(tailed(), tail_alone(tailed()))}
    assert set(found) == {"parts.travel.elevator", "parts.travel.rudder"}
    for check in found.values():
        assert check.verdict == "pass" and "P1-" in check.caveat and len(check.steps) == 2
    rudder = found["parts.travel.rudder"]  # front tube to the eye strap: half the gap less bush and sheet
    assert "P1-rudder-FRONT and P1-fin-HINGE-EYE-" in rudder.caveat
    assert_allclose(rudder.value, (0.25 - 0.125 - 0.032) * 0.0254, rtol=0, atol=3e-5)


def rod_beside_the_rudder(part_of_travel: float, gap: float) -> tuple[Part, np.ndarray]:
    """A rod of 6 mm along the rudder's trailing edge as it stands at a part of full left, that far off on its left."""
    s = next(x for x in surfaces(tailed()) if not x.flat)
    place, along = axis(s)
    trailing = next(p for p in tail_alone(tailed()).parts if p.number == "P1-rudder-TRAILING-EDGE")
    assert isinstance(trailing.shape, Tube)
    turn = turning(along, -part_of_travel * s.tail.up)
    a, b = ((p - place) @ turn.T + place for p in trailing.shape.path[[0, -1]])
    way = (b - a) / np.linalg.norm(b - a)
    side = np.cross(way, (1.0, 0.0, 0.0))
    side = side / np.linalg.norm(side) * np.sign(side[1] * (a - place)[1])
    reach = trailing.shape.outside / 2 + gap + 0.003
    rod = Tube(path=np.array([a + d * way + reach * side for d in (0.2, 0.4)]), outside=0.006, wall=0.0)
    body = rod.solid()
    return Part(number="P1-stray", name="rod", form="tube", group="tail", purpose="test", material="4130N", stock="",
                places=(as_place(body.centre),), mass=1.0, shape=rod), side  # fmt: skip


def test_the_gap_to_a_rod_over_the_trailing_edge_is_the_one_worked_out() -> None:
    """A rod along the hinge line's direction, straight over where the rudder's trailing edge stands at full left."""
    alone = tail_alone(tailed())
    stray, side = rod_beside_the_rudder(1.0, 0.004)
    rod = stray.shape
    assert isinstance(rod, Tube)
    found = least(tailed(), "rudder", replace(alone, parts=(*alone.parts, stray)))[""]
    free = least(tailed(), "rudder", alone)[""]
    assert_allclose(found.gap, min(0.004, free.gap), rtol=0, atol=3e-5)
    near = replace(stray, shape=replace(rod, path=rod.path - 0.0035 * side))
    told = least(tailed(), "rudder", replace(alone, parts=(*alone.parts, near)))[""]
    assert (told.one, told.other) == ("P1-rudder-TRAILING-EDGE", "P1-stray") and told.stance == "left 25 deg"
    assert_allclose(told.gap, 0.0005, rtol=0, atol=3e-5)


@pytest.mark.parametrize("part_of_travel", [0.3, 0.77])
def test_a_rod_the_trailing_edge_sweeps_through_is_not_stepped_over(part_of_travel: float) -> None:
    """In the way on the way: at neutral, half and full travel the edge is 50 mm and more from it."""
    alone = tail_alone(tailed())
    stray, _ = rod_beside_the_rudder(part_of_travel, -0.006)
    found = least(tailed(), "rudder", replace(alone, parts=(*alone.parts, stray)))[""]
    assert found.gap == 0 and found.other == "P1-stray"


def test_steps_are_no_longer_than_the_tubes_are_thick() -> None:
    for s in surfaces(tailed()):
        edge = (1 - s.tail.hinge) * s.tail.root_chord
        for n, travel in zip(steps(turned(tailed(), s.name("movable"))), (s.tail.up, s.tail.down), strict=True):
            assert edge * travel / n <= s.frame.movable.front.outside < edge * travel / (n - 1)


def test_what_cannot_be_measured_is_told() -> None:
    """A surface without bodies, and a body with a face left out, are no free travel."""
    alone = tail_alone(tailed())
    with pytest.raises(DesignProblem, match="no body of the elevator"):
        least(tailed(), "elevator", replace(alone, parts=tuple(p for p in alone.parts if "-elevator-" not in p.number)))
    spar = next(p for p in alone.parts if p.number == "P1-tailplane-SPAR")
    whole = solids(spar)[0]
    with pytest.raises(DesignProblem, match="P1-tailplane-SPAR: its body is not closed"):
        closed_body(spar, Solid(whole.points, whole.faces[1:]))


def test_a_horn_that_swings_into_the_sternpost_is_told() -> None:
    """The elevator's horn on the centreline, 5 in long, with the elevator 20 deg down."""
    model = tailed()
    frame = model.tailplane.frame
    assert frame
    long = replace(frame, horn=replace(frame.horn, along=0.0, arm=0.13))
    spoiled = replace(model, tailplane=replace(model.tailplane, frame=long, down=0.9))
    check = next(c for c in travel_checks(spoiled, tail_alone(spoiled)) if c.id == "parts.travel.elevator")
    assert check.verdict == "fail" and check.value == 0
    assert "P1-elevator-HORN" in check.caveat


def test_elevators_without_a_cut_back_end_meet_the_rudder() -> None:
    model = tailed()
    frame = model.tailplane.frame
    assert frame
    square = replace(frame, movable=replace(frame.movable, root_aft=frame.movable.root))
    spoiled = replace(model, tailplane=replace(model.tailplane, frame=square, up=0.6))
    found = least(spoiled, "elevator", tail_alone(spoiled))["rudder"]
    assert found.gap == 0 and "rudder" in found.other


@pytest.mark.parametrize("name", ["W1", *(pytest.param(n, marks=pytest.mark.long) for n in ("W2", "W3"))])
def test_all_that_turns_in_the_demo_is_free(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    found = {c.id: c.verdict for c in travel_checks(model, lay_out(model))}
    ailerons = {f"parts.travel.aileron.{w.name}" for w in model.wings if w.aileron}
    assert (
        found
        == dict.fromkeys({"parts.travel.elevator", "parts.travel.rudder", "parts.travel.castor", *ailerons}, "pass")
        and ailerons
    )


def test_a_model_without_frames_has_no_such_check() -> None:
    bare = replace(tailed(), tailplane=replace(tailed().tailplane, frame=None), fin=replace(tailed().fin, frame=None))
    assert list(travel_checks(bare, tail_alone(bare))) == []
