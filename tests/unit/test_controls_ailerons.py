"""Ailerons on cables and struts, as the demo has them: alike on both sides, linked alike, held where they stand."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from families import DEMO_FILE
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem
from sparwright.controls.chain import moving
from sparwright.controls.motion import Motion
from sparwright.family.model import Family, Model
from sparwright.family.reader import load
from sparwright.flight.in_the_wind import in_the_wind
from sparwright.parts.control_bodies import footing, frame_tube, in_plane, meets
from sparwright.parts.layout import lay_out
from sparwright.parts.linkage import swing
from sparwright.parts.measured import passes
from sparwright.parts.part import Part
from sparwright.parts.solids import solids


@cache
def family() -> Family:
    return load(DEMO_FILE)


def ailerons(name: str) -> tuple[Model, list[Motion]]:
    model = family().models[name]
    assert model.controls is not None
    return model, [m for m in moving(model, model.controls)[1] if m.force == "aileron"]


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_the_left_aileron_is_the_mirror_and_goes_the_other_way(name: str) -> None:
    _, found = ailerons(name)
    for motion in found:
        left = motion.surface[:-1] + "L"
        for right, other in zip(*(swing(motion.run, "torque_tube", a, 4) for a in (0.1, -0.1)), strict=True):
            assert_allclose(right.angles[motion.surface], other.angles[left], rtol=0, atol=1e-9)
        last = swing(motion.run, "torque_tube", 0.1, 4)[-1]
        assert last.angles[motion.surface] > 0.1 and last.angles[left] < -0.1  # stick right: right up, left down


@pytest.mark.parametrize("name", ["W2", "W3"])
def test_linked_ailerons_move_alike(name: str) -> None:
    """A parallelogram but for the angle between its arms: an eighth less down than up at full travel."""
    _, found = ailerons(name)
    assert len(found) == 2
    for stance in found[0].stances:
        upper, lower = (stance.angles[f"aileron.{w}-R"] for w in ("upper", "lower"))
        assert abs(upper - lower) < 0.15 * abs(upper) + 1e-9


@cache
def _made(name: str) -> dict[str, Part]:
    """All parts of a model by their numbers."""
    return {p.number: p for p in lay_out(family().models[name]).parts}


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_left_parts_are_the_mirror_of_the_right(name: str) -> None:
    parts = _made(name)
    assert any("TORQUE-ARM" in n for n in parts)
    for number, part in parts.items():
        if part.group == "controls" and part.hand == "R":
            other = parts[number[:-1] + "L"]
            assert_allclose(other.mass, part.mass, rtol=1e-6)
            a, b = (np.array([s.box for s in solids(p)]) for p in (part, other))
            assert_allclose(np.sort(b[..., 1] * -1), np.sort(a[..., 1]), rtol=0, atol=1e-6)


def test_an_opening_is_for_the_parts_it_names_and_no_others() -> None:
    parts = _made("W1")
    cable = parts["W1-controls-CABLE-LAST-AILERON-R"]
    web = footing(family().models["W1"], _made("W1"), "wing-FALSE-SPAR", "R")
    spar = replace(cable, number=web.number, passes=())
    assert passes(cable, spar) and passes(spar, cable)
    assert not passes(cable, replace(spar, number="W1-wing-REAR-WEB-outer")) and not passes(spar, spar)


def test_a_bracket_on_a_part_that_is_not_there_is_told_with_those_that_are() -> None:
    with pytest.raises(DesignProblem, match="wing-FALSE-SPAR"):
        footing(family().models["W1"], _made("W1"), "wing-FALSE-SPARR", "R")


def test_a_bracket_may_stand_on_either_half_of_what_runs_from_tip_to_tip() -> None:
    """W2's upper rear web is one piece; each of the lower wing's stands on its own side."""
    model, parts = family().models["W2"], _made("W2")
    for hand in ("R", "L"):
        whole = footing(model, parts, "upper-REAR-WEB-centre", hand).body
        half = footing(model, parts, "lower-REAR-WEB-outer", hand).body
        assert whole is not None and half is not None
        assert whole.box[0, 1] < -3.9 and whole.box[1, 1] > 3.9
        assert (half.box[:, 1] > 0).all() == (hand == "R") and (half.box[:, 1] < 0).all() == (hand == "L")


def test_links_from_aileron_to_aileron_stand_in_the_wind() -> None:
    """W2: one on each side, from hole to hole by the file, faired; bare it is as wide as the tube; W1 has none."""
    model = family().models["W2"]
    assert model.controls is not None
    (seen,) = (s for s in in_the_wind(model, lay_out(model)) if s.name == "link")
    low, high = (np.array(k.hole) for k in model.controls.lugs)
    assert 0.96 < seen.length / np.linalg.norm(high - low) < 1  # the rod ends are not tube
    assert (seen.count, seen.shape, seen.on_wings) == (2, "streamline", 2)
    assert_allclose(seen.width, 0.75 * 0.0254, rtol=1e-9)
    bare = replace(model.controls, rods=tuple(replace(r, fairing="round") for r in model.controls.rods))
    (round_,) = (s for s in in_the_wind(replace(model, controls=bare), lay_out(model)) if s.name == "link")
    assert_allclose(round_.width, 0.625 * 0.0254, rtol=1e-9)
    other = family().models["W1"]
    known = {k.name for k in (*other.struts, *other.wires)}
    assert all(s.name in known for s in in_the_wind(other, lay_out(other)))


def test_a_bent_rib_that_points_to_the_root_has_a_number_of_its_own() -> None:
    """Its right hand stands on the left wing: with the others, a joint on one side would name what is not there."""
    for number, part in _made("W2").items():
        if part.purpose == "rib" and part.hand:
            sides = {np.sign(round(y, 6)) for _, y, _ in part.places} - {0.0}
            assert len(sides) <= 1, number


def test_a_bracket_stands_on_the_stretch_of_a_bent_tube_that_it_stands_over() -> None:
    """W2's tube from C2 by L2 to D2: at station 55.6 in it is on its first stretch, by hand."""
    model, inch = family().models["W2"], 0.0254
    pose = in_plane(np.array([1.0, 0.0, 0.0]), np.array([55.6, 10.5, -14.6]) * inch)
    at, _ = meets(model, frame_tube(model, "C2R-D2R", "R"), pose, (0.0, 0.0))
    share = (55.6 - 46.0) / (60.66 - 46.0)
    assert_allclose(np.array(pose.place(*at)) / inch, (55.6, 12 - 1.25 * share, -16 + 1.4 * share), rtol=0, atol=1e-6)
