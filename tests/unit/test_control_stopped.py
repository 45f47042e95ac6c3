"""Where metal stops the controls: pins at the end of the travel, checks that see one that is not, the differential."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from families import DEMO_FILE
from numpy.testing import assert_allclose
from steered import controls_alone, steered

from sparwright.base.check import Check
from sparwright.controls.chain import moving
from sparwright.controls.stopped import differential, stop_checks, stopped
from sparwright.family.model import Model
from sparwright.family.reader import load
from sparwright.parts.control_stops import side_angle
from sparwright.parts.controls import controls_made
from sparwright.parts.layout import lay_out
from sparwright.parts.linkage import stand
from sparwright.parts.part import Assembly


@cache
def demo(name: str) -> tuple[Model, Assembly]:
    model = load(DEMO_FILE).models[name]
    return model, lay_out(model)


def checks(model: Model, assembly: Assembly) -> dict[str, Check]:
    assert model.controls is not None
    found = moving(model, model.controls)[1]
    return {c.id: c for m in found for c in stop_checks(model, m, stopped(model, m, assembly))}


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_every_surface_is_stopped_at_both_ends(name: str) -> None:
    model, assembly = demo(name)
    found = checks(model, assembly)
    wings = [w.name for w in model.wings if w.aileron]
    ends = [("elevator", "up"), ("elevator", "down"), ("rudder", "left"), ("rudder", "right")]
    ends += [(f"{w}_aileron", word) for w in wings for word in ("up", "down")]
    assert set(found) == {f"controls.{n}.stopped.{w}" for n, w in ends}
    assert {c.verdict for c in found.values()} == {"pass"}


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_the_pins_of_the_stick_are_mirrors_and_meet_the_lug_where_the_first_aileron_is_at_its_end(name: str) -> None:
    model, assembly = demo(name)
    assert model.controls is not None
    right, left = (np.array(assembly.part(f"{name}-controls-STOP-{w}-STICK").places[0]) for w in ("RIGHT", "LEFT"))
    assert_allclose(left * (1, -1, 1), right, rtol=0, atol=1e-9)
    assert right[1] > 0.01
    layout, found = moving(model, model.controls)
    angle, first = side_angle(model, layout)
    motions = [m for m in found if m.force == "aileron"]
    assert first.partition(" ")[0] in {m.name for m in motions}
    for motion in motions:  # at the stop none is past its travel, and one is at it
        there = [abs(stand(motion.run, "torque_tube", s * angle).angles[motion.surface]) for s in (1, -1)]
        assert all(a <= e.travel + 1e-9 for a, e in zip(there, motion.ends, strict=True))
        if first.startswith(motion.name):
            assert min(abs(a - e.travel) for a, e in zip(there, motion.ends, strict=True)) < 1e-9
        met = [s.lever for s in stopped(model, motion, assembly)]
        assert_allclose(np.abs(met), angle, rtol=0, atol=math.radians(0.35))  # round bodies have corners


@pytest.mark.parametrize("name", ["W1", "W3"])
def test_the_differential_is_that_of_right_and_left_at_one_place_of_the_stick(name: str) -> None:
    model, assembly = demo(name)
    assert model.controls is not None
    for motion in (m for m in moving(model, model.controls)[1] if m.force == "aileron"):
        at = stopped(model, motion, assembly)
        told = differential(motion, at)
        over = stand(motion.run, "torque_tube", at[0].lever).angles
        other = motion.surface[:-1] + "L"
        assert_allclose(told.value, over[motion.surface] / -over[other], rtol=2e-3)
        assert told.steps[0].formula == "u/d" and 0.9 < told.value < 1.1


def test_a_travel_that_the_metal_does_not_allow_fails() -> None:
    model, assembly = demo("W1")
    wings = tuple(replace(w, aileron=replace(w.aileron, up=math.radians(22))) if w.aileron else w for w in model.wings)
    found = checks(replace(model, wings=wings), assembly)
    assert found["controls.wing_aileron.stopped.up"].verdict == "fail"
    assert found["controls.wing_aileron.stopped.down"].verdict == "pass"


def test_without_a_stop_it_is_unknown_and_says_what_would_settle_it() -> None:
    model, _ = demo("W1")
    c = model.controls
    assert c is not None
    bare = replace(model, controls=replace(c, stops=replace(c.stops, side=None)))
    assembly = lay_out(bare)
    found = checks(bare, assembly)
    for word in ("up", "down"):
        told = found[f"controls.wing_aileron.stopped.{word}"]
        assert told.verdict == "unknown" and "[controls.stops.side]" in told.caveat
    motion = next(m for m in moving(bare, c)[1] if m.force == "aileron")
    assert math.isnan(differential(motion, stopped(bare, motion, assembly)).value)


def test_a_pin_out_of_reach_is_unknown_and_says_so() -> None:
    """The rudder's pins on the wrong side: the horn meets one at neutral, or none."""
    model, assembly = steered(), controls_alone()
    assert model.controls is not None
    motion = next(m for m in moving(model, model.controls)[1] if m.name == "rudder")
    parts = tuple(
        replace(p, shape=replace(p.shape, path=p.shape.path + np.array([0.0, 0.0, 0.1])))  # type: ignore[union-attr,type-var]
        if "STOP-LEFT" in p.number
        else p
        for p in assembly.parts
    )
    found = {c.id: c for c in stop_checks(model, motion, stopped(model, motion, replace(assembly, parts=parts)))}
    assert found["controls.rudder.stopped.left"].verdict == "unknown"
    assert "no contact" in found["controls.rudder.stopped.left"].caveat
    assert found["controls.rudder.stopped.right"].verdict == "pass"


def test_a_family_without_ailerons_on_the_stick_has_no_lug() -> None:
    model = steered()
    assert not any("TORQUE-STOP" in p.number for p in controls_made(model, controls_alone().parts).parts)
