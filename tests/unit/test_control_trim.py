"""The trim's spring: its force against its energy, a plane case by hand, checks that see a slack or a long one."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from families import DEMO_FILE
from numpy.testing import assert_allclose

from sparwright.controls.chain import controls_told, moving
from sparwright.controls.trim import Set, sets, trim_checks, trim_results
from sparwright.family.controls import Controls, Trim
from sparwright.family.model import Model
from sparwright.family.reader import load
from sparwright.parts.layout import lay_out
from sparwright.shape.solid import turning


@cache
def demo(name: str = "W1") -> tuple[Model, Controls, Trim]:
    model = load(DEMO_FILE).models[name]
    assert model.controls is not None and model.controls.trim is not None
    return model, model.controls, model.controls.trim


def found(model: Model, c: Controls, trim: Trim) -> tuple[Set, ...]:
    return sets(model, c, trim, next(m for m in moving(model, c)[1] if m.name == "elevator"))


def trimmed(**said: float | tuple[float, float, float]) -> tuple[Model, Controls, Trim]:
    model, c, trim = demo()
    own = replace(trim, **said)  # type: ignore[arg-type]
    c = replace(c, trim=own)
    return replace(model, controls=c), c, own


def test_the_force_at_the_grip_is_the_springs_energy_over_the_grips_way() -> None:
    model, c, trim = demo()
    assert model.seat is not None and model.seat.stick is not None
    pivot, grip = np.array(c.stick.pivot), np.array(model.seat.stick.place)
    rate, arm, h = trim.pull / trim.drawn, float(np.linalg.norm(grip - pivot)), 1e-5
    for s in found(model, c, trim)[:3]:

        def energy(pitch: float, hole: np.ndarray = s.hole) -> float:
            hook = pivot + turning(np.array([0.0, 1.0, 0.0]), pitch) @ (np.array(trim.hook) - pivot)
            return 0.5 * rate * (float(np.linalg.norm(hole - hook)) - trim.slack) ** 2

        assert_allclose(s.stick, -(energy(h) - energy(-h)) / (2 * h) / arm, rtol=1e-6)
        assert s.stick > 0  # it draws the stick aft


def test_a_plane_case_by_hand() -> None:
    """Hook 0.05 m over the bolt, the lever's hole 0.5 m straight aft of it: a pull of 100 N, an arm of 0.05 m."""
    model, c, trim = demo()
    pivot = c.stick.pivot
    hook = (pivot[0], 0.0, pivot[2] + 0.05)
    cranks = tuple(
        replace(k, pivot=(hook[0] + 0.5, 0.0, hook[2] - 0.04),
                holes={"spring": (hook[0] + 0.5, 0.0, hook[2]), "grip": (hook[0] + 0.5, 0.0, hook[2] + 0.16)})
        if k.name == "trim" else k for k in c.cranks
    )  # fmt: skip
    own = replace(trim, hook=hook, slack=0.4, pull=50.0, drawn=0.05)
    c = replace(c, trim=own, cranks=cranks)
    middle = found(replace(model, controls=c), c, own)[1]
    assert model.seat is not None and model.seat.stick is not None
    arm = float(np.linalg.norm(np.array(model.seat.stick.place) - np.array(pivot)))
    assert_allclose((middle.length, middle.tension), (0.5, 100.0), rtol=1e-9)
    assert_allclose(middle.stick, 100.0 * 0.05 / arm, rtol=1e-9)
    assert_allclose(middle.hand, 100.0 * 0.04 / 0.2, rtol=1e-9)


def test_further_aft_the_lever_draws_more_and_the_results_say_so() -> None:
    told = {r.id: r for r in trim_results(found(*demo()))}
    assert set(told) == {f"controls.trim.{k}" for k in ("force.middle", "force.aft", "force.forward", "lever")}
    middle = told["controls.trim.force.middle"]
    forces = [s.value for s in middle.steps]
    assert forces == sorted(forces) and (middle.low, middle.high) == (forces[0], forces[2])
    assert told["controls.trim.force.aft"].value < middle.value < told["controls.trim.force.forward"].value


def test_a_slack_spring_pulls_nothing_and_fails() -> None:
    model, c, trim = trimmed(slack=0.7)
    at = found(model, c, trim)
    assert all(s.tension == 0 and s.stick == 0 for s in at)
    checks = {k.id: k for k in trim_checks(model, trim, at)}
    assert checks["controls.trim.taut"].verdict == "fail" and checks["controls.trim.drawn"].verdict == "pass"


def test_a_spring_that_is_slack_at_one_end_of_the_travel_only_fails() -> None:
    model, c, trim = trimmed(slack=0.63)
    at = found(model, c, trim)
    assert {s.tension > 0 for s in at} == {True, False}
    told = next(k for k in trim_checks(model, trim, at) if k.id == "controls.trim.taut")
    assert told.verdict == "fail" and told.caveat == "stick aft, lever -25 deg"


def test_a_spring_drawn_too_far_fails() -> None:
    model, c, trim = trimmed(longest=0.05)
    checks = {k.id: k for k in trim_checks(model, trim, found(model, c, trim))}
    assert checks["controls.trim.drawn"].verdict == "fail" and checks["controls.trim.taut"].verdict == "pass"


@pytest.mark.long
@pytest.mark.parametrize(("aft", "verdict"), [(20, "pass"), (36, "fail")])
def test_a_lever_that_comes_to_a_cable_is_told(aft: float, verdict: str) -> None:
    """W1's aileron cable rises past the lever's upper end."""
    model, _, _ = trimmed(aft=math.radians(aft))
    told = {k.id: k for k in controls_told(model, lay_out(model)).checks}["controls.trim.clear"]
    assert told.verdict == verdict
    assert ("CABLE-FIRST-AILERON-R" in told.caveat) is (verdict == "fail")


def test_without_trim_there_is_no_part_and_nothing_is_said() -> None:
    model, c, _ = demo()
    bare = replace(model, controls=replace(c, trim=None))
    assembly = lay_out(bare)
    assert not any("TRIM-SPRING" in p.number or "TRIM-LUG" in p.number for p in assembly.parts)
    told = controls_told(bare, assembly, measured=False)
    assert not any("trim" in x.id for x in (*told.results, *told.checks))
