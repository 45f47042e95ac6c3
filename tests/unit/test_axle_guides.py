"""Guides of the sprung axle: a force made by hand across, along and beside the slot."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from handmade import answer_of

from sparwright.base.check import Check
from sparwright.family.model import Family, Model
from sparwright.ground.springs import cord_pull, cord_rise
from sparwright.margins import sources
from sparwright.margins.along import check_of
from sparwright.margins.axle_guides import Ring, _rise, angles, guide_checks, ring_of
from sparwright.margins.roots import own_axes
from sparwright.shape.frame import nodes
from sparwright.strength.joints.weld import seam_length
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
    """1 kN across: both sides tied at their ends; M = P l/4, with 1.15, on 7/8 in of 1/8 in sheet."""
    long = 4.75 * INCH  # the slot's: from the axle hanging to its stop
    near = sources.strengths(w1).material("4130N", "tension_near_weld", 0.125 * INCH).value
    t, b, wide = 0.125 * INCH, 7 / 8 * INCH, (1.5 + 1 / 32 + 7 / 8) * INCH
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
    ring, down = rear_leg(w1), 5.75 * INCH  # no force along the slot: the axle is at its lower end
    flow = next(s for s in found(w1, (0.0, 1000.0, 0.0))["weld"].steps if s.title.startswith("flow"))
    assert flow.value == pytest.approx(1150 / ring.long + 1150 * down / ring.bowed, rel=1e-3)


def rear_leg(model: Model) -> Ring:
    """The ring of W1's rear leg: of the stouter wall, from B2 to AX."""
    place, leg = nodes(model.fuselage), (1.125 * INCH, 0.083 * INCH)
    return ring_of(*leg, np.subtract(place["AXR"], place["B2R"]))


def test_a_leg_aslant_has_an_ellipse_for_its_seam() -> None:
    """All round it is the exact ellipse of strength/joints; square on it is a circle; stiffer the way it leans."""
    D, way = 0.03, np.array([0.0, math.sin(0.7), math.cos(0.7)])
    ring, square = ring_of(D, 0.002, way), ring_of(D, 0.002, np.array([0.0, 1.0, 0.0]))
    assert ring.long == pytest.approx(float(seam_length(D, 0.7)), rel=1e-4)
    assert square.long == pytest.approx(math.pi * D, rel=1e-4)
    assert square.bowed == pytest.approx(math.pi * D**2 / 4, rel=1e-3)
    assert square.turned == pytest.approx(math.pi * D**2 / 2, rel=1e-3)
    ahead = ring_of(D, 0.002, np.array([math.cos(0.7), math.sin(0.7), 0.0]))
    assert ring.bowed > ahead.bowed > square.bowed and ahead.turned == pytest.approx(ring.turned)


def test_the_flange_by_hand() -> None:
    """1/2 in by 1/8 in strip, 1 in of 1/8 in flange: the parallel-axis sum, worked out with a pencil in inches."""
    both = angles(0.5 * INCH, 0.125 * INCH, INCH)
    at = 0.125 * 0.5625 / 0.1875
    inertia = (0.5 * 0.125**3 + 0.125) / 12 + 0.0625 * at**2 + 0.125 * (0.5625 - at) ** 2
    assert both.plate == pytest.approx(2 * inertia / (at + 0.0625) * INCH**3)
    assert both.edge == pytest.approx(2 * inertia / (1.0625 - at) * INCH**3)
    assert both.pressed == pytest.approx(0.43 * math.pi**2 / 12 / (1 - 0.09) / 64, rel=2e-3)


def test_a_flange_stiffens_the_guide_sideways_and_no_other_way(w1: Model) -> None:
    bare = with_guide(w1, flange=None)
    slot = [found(m, (0.0, 1000.0, 0.0))["slot"].value for m in (bare, w1)]
    assert slot[0] > 5 * slot[1]
    across = [found(m, (1000.0, 0.0, 0.0))["slot"].value for m in (bare, w1)]
    assert across[0] == pytest.approx(across[1])
    deep, thin = (with_guide(w1, flange=d * INCH) for d in (1.2, 4.0))
    assert found(deep, (0.0, 1000.0, 0.0))["slot"].value < slot[1]
    step = next(s for s in found(thin, (0.0, 1000.0, 0.0))["slot"].steps if "out of it" in s.title)
    given = {k: v for k, v, _ in step.given}
    assert given["F_cr"] < given["F"]  # so deep a strip wrinkles at its free edge first
    l, use = given["l"] - given["u"], 1 / min(given["Z"] * given["F"], given["Z'"] * given["F_cr"])
    assert step.value == pytest.approx(1150 * l * use)


def with_guide(model: Model, **keys: float | None) -> Model:
    gear = model.undercarriage
    assert gear and gear.guide
    return replace(model, undercarriage=replace(gear, guide=replace(gear.guide, **keys)))  # type: ignore[arg-type]


def test_the_axle_stands_where_its_cord_holds_it(w1: Model) -> None:
    """Load along the slot lifts the axle to where it meets the side load: as far as the cord gives at its hardest."""
    gear = w1.undercarriage
    assert gear and gear.rubber
    load = np.array([0.0, 1000.0, 2000.0, 1e5])
    hard = [cord_rise(gear.rubber, float(P), 0.12065, 1 + gear.rubber.band) for P in load]
    assert _rise(gear.rubber, load, 0.12065) == pytest.approx(hard, abs=1e-5)
    assert not _rise(None, load, 0.12065).any()
    given = [rise_in(found(w1, (0.0, 9000.0, P), both=True)["slot"]) for P in (0.0, 3000.0)]
    assert given[0] == 0 < given[1] == pytest.approx(cord_rise(gear.rubber, 2000.0, 0.12065, 1.15), abs=1e-4)
    assert rise_in(found(w1, (0.0, 9000.0, 3000.0))["slot"]) == 0  # the other guide bears nothing: there it is down
    assert rise_in(found(w1, (0.0, 9000.0, -3000.0), both=True)["slot"]) == 0  # drawn down it lies on the slot's end


def test_sideways_the_lower_axle_counts_on_whichever_guide(w1: Model) -> None:
    """One guide's cord holds 3 kN and lifts the axle, the other's nothing: the side load counts where it is low."""
    one, both = (found(w1, (0.0, 9000.0, 3000.0), b)["slot"] for b in (False, True))
    step = next(s for s in one.steps if "out of it" in s.title)
    given = {k: v for k, v, _ in step.given}
    assert step.value == pytest.approx(1.15 * 9000 * given["l"] / given["Z'"] / given["F"])
    lifted = next(s for s in both.steps if "out of it" in s.title)
    part = 1 - rise_in(both) / given["l"]  # and both guides' push
    assert lifted.value == pytest.approx(2 * part * step.value)


def test_over_its_slot_the_plate_reaches_to_the_legs(w1: Model) -> None:
    """From the slot's upper end, 4-3/4 in and half of 1-17/32 in over the axle, to the round about the legs' node."""
    check = found(w1, (0.0, 0.0, 8000.0))["slot"]
    step = next(s for s in check.steps if "over its end" in s.title)
    deep = (-32.25 + 1.125 / 2 + 0.875 / 2) - (-38 + 4.75 + (1.5 + 1 / 32) / 2)
    given = {k: v for k, v, _ in step.given}
    assert given["d"] == pytest.approx(deep * INCH, rel=1e-6)
    wide, t = (1.5 + 1 / 32 + 0.875) * INCH, 0.125 * INCH
    assert step.value == pytest.approx(6 * 9200 * wide / 8 / (t * (deep * INCH) ** 2 * given["F"]))


def test_a_push_ahead_by_the_strip_it_is_on(w1: Model) -> None:
    """At the slot's upper end it bends nothing; half way up a fixed bar's P l/8, and as much as its end sways."""
    gear = w1.undercarriage
    assert gear and gear.rubber
    half = cord_pull(gear.rubber, 0.12065 / 2, 1.15)
    for load, part in ((0.0, 1 / 4), (half, 1 / 8 + 1 / 8), (1e4, 0.0)):
        check = found(w1, (3000.0, 0.0, 1.5 * load), both=True)["slot"]
        step = next(s for s in check.steps if "in the plane" in s.title)
        given = {k: v for k, v, _ in step.given}
        assert given["M"] == pytest.approx(1.15 * 3000 * 0.12065 * part, rel=1e-4, abs=1e-9), load


def rise_in(check: Check) -> float:
    return next(v for s in check.steps if "out of it" in s.title for k, v, _ in s.given if k == "u")


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


def test_a_cord_past_what_was_measured_does_not_pass(w1: Model) -> None:
    """How far it lifts the axle is not known then, and so not what the guide bears."""
    assert w1.undercarriage and w1.undercarriage.rubber
    short = replace(w1.undercarriage.rubber, stretch=tuple(0.5 * s for s in w1.undercarriage.rubber.stretch))
    lost = replace(w1, undercarriage=replace(w1.undercarriage, rubber=short))
    assert np.isnan(_rise(short, np.array([0.0, 3000.0]), 0.1)).all()
    assert {c.verdict for c in found(lost, (0.0, 0.0, 1.0)).values()} == {"unknown"}
    assert found(w1, (0.0, 0.0, 1.0))["slot"].verdict == "pass"
    assert not _rise(None, np.array([3000.0]), 0.1).any(), "without a cord it does not rise"
