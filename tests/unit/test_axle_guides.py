"""Guides of the sprung axle: a force made by hand across, along and beside the slot."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from handmade import answer_of

from sparwright.base.check import Check
from sparwright.family.model import Family, Model
from sparwright.margins import sources
from sparwright.margins.along import check_of
from sparwright.margins.axle_guides import guide_checks
from sparwright.margins.roots import own_axes
from sparwright.structure.whole import skeleton

INCH = 0.0254


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    """A model with a sprung axle in guides."""
    return whinchat.models["W1"]


def found(model: Model, force: tuple[float, float, float], both: bool = False) -> dict[str, Check]:
    """By the last word: a force (x, y, z) N at the axle on one guide, or on both."""
    bones = skeleton(model)
    answer, given = answer_of(model, {}, bones), {}
    for i in bones.which(lambda b: b.part == f"{model.name}-gear-GUIDE")[: 2 if both else 1]:
        own = own_axes(answer, int(i)) @ np.array(force)
        given[int(i)] = [0.0] * 6 + [*own, 0.0, 0.0, 0.0]
    checks = guide_checks(model, answer_of(model, given, bones), sources.strengths(model))
    return {c.id.rsplit(".", 1)[1]: c for c in checks}


def test_across_the_slot_by_hand(w1: Model) -> None:
    """1 kN across: both sides tied at their ends; M = P l/4, with 1.15, on 1/2 in of 1/8 in sheet."""
    long = 4.75 * INCH  # the slot's: from the axle hanging to its stop
    near = sources.strengths(w1).material("4130N", "tension_near_weld", 0.125 * INCH).value
    t, b, wide = 0.125 * INCH, 0.5 * INCH, (1.5 + 1 / 32 + 0.5) * INCH
    check = found(w1, (1000.0, 0.0, 0.0))["slot"]
    step = next(s for s in check.steps if "in the plane" in s.title)
    l = next(v for k, v, _ in step.given if k == "l")
    assert l == pytest.approx(long, rel=0.1)
    assert step.value == pytest.approx(1150 * l / 4 * 6 / (t * b**2 * near) + 1150 * l / 2 / wide / (b * t * near))
    assert check.value > step.value


def test_sideways_both_guides_together(w1: Model) -> None:
    """What one guide does against the other is none; what both do one way is on one of them."""
    one, two = (found(w1, (0.0, 500.0, 0.0), both) for both in (False, True))
    assert two["slot"].value == pytest.approx(2 * one["slot"].value, rel=1e-6)
    r, down = 1.125 / 2 * INCH, 5.75 * INCH
    q = 1150 / (2 * math.pi * r) + 1150 * down / (math.pi * r**2)
    flow = next(s for s in found(w1, (0.0, 1000.0, 0.0))["weld"].steps if s.title.startswith("flow"))
    assert flow.value == pytest.approx(q, rel=1e-3)


def test_double_the_force_double_the_use(w1: Model) -> None:
    once, twice = found(w1, (300.0, 200.0, 900.0)), found(w1, (600.0, 400.0, 1800.0))
    for kind in ("slot", "weld"):
        assert twice[kind].value == pytest.approx(2 * once[kind].value)
        assert once[kind].part == "W1-gear-GUIDE-R"


def test_every_guide_in_the_frame_is_looked_at(w1: Model) -> None:
    bars = [b for b in skeleton(w1).bars if "GUIDE" in b.part]
    assert bars and {check_of(b) for b in bars} == {"strength.guide."}
    without = replace(w1, undercarriage=replace(w1.undercarriage, guide=None))  # type: ignore[type-var]
    assert not list(guide_checks(without, answer_of(w1, {}), sources.strengths(w1)))


def test_a_seam_from_memory_does_not_pass(w1: Model) -> None:
    check = found(w1, (10.0, 0.0, 10.0))["weld"]
    assert check.verdict == "unknown" and "recalled" in check.caveat
