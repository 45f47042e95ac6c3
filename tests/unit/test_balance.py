"""Weights ahead of hinges and play: what a file says wrongly, what they clear, arms under 24 g, what is not known."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import tails
from ailerons import HINGED
from balances import AILERON, slugs, tail_text, tailed, winged
from families import DEMO_FILE, problems, reading
from numpy.testing import assert_allclose
from steered import steered
from tails import tail_alone

from sparwright.aeroelastic.screening import parallel_parameter
from sparwright.controls.chain import moving
from sparwright.controls.play import left
from sparwright.controls.play_told import NOT_SAID, play_results
from sparwright.data.loader import material
from sparwright.family.play import ControlPlay
from sparwright.family.reader import read
from sparwright.margins.balance_arms import Held, arm_use, balance_arm_checks, moments
from sparwright.margins.sources import strengths
from sparwright.mass.hinged import hinge_results
from sparwright.parts.aileron import ailerons
from sparwright.parts.aileron_fittings import hinge_axes
from sparwright.parts.balance import balance_parts
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.travel import movable, travel_checks
from sparwright.plans.cutlist import cut_list
from sparwright.structure.masses import lumps
from sparwright.structure.whole import skeleton

TAIL, WINGED = tail_text(), HINGED + AILERON.format(along=147.0)


def said(text: str, old: str, new: str, after: str = "") -> str:
    """What is said of a text whose first `old` behind `after` is replaced."""
    at = text.index(old, text.index(after))
    return "\n".join(map(str, problems(text[:at] + new + text[at + len(old) :])))


@pytest.mark.parametrize(
    ("old", "new", "key", "words"),
    [
        ('material = "lead"', 'material = "6061-T6"', "weight.material", "is lead or a steel; 6061-T6 is aluminium"),
        ('material = "lead"', 'material = "leed"', "weight.material", "nearest known is 'lead'"),
        ('bolt = "AN3"', 'bolt = "AN99"', "weight.bolt", "is not a bolt we know"),
        ('bolt = "AN3"', 'bolt = "AN4"', "weight.bolt", "cut from the tube of the hinges' bushes"),
        ('ahead = "6.0 in"', 'ahead = "0.5 in"', "weight.ahead", "lies wholly ahead of the hinge line"),
        ('ahead = "6.0 in"', 'ahead = "-6 in"', "weight.ahead", "must be positive"),
        ('behind = "4 in"', 'behind = "1 in"', "weight.behind", "both bolts lie behind the front tube"),
        ('behind = "4 in"', 'behind = "40 in"', "weight.behind", "ahead of the trailing edge"),
        ('diameter = "1-1/2 in"', 'diameter = "1/2 in"', "weight.diameter", "two bolt diameters"),
        ('length = "2.0 in"', 'length = "20 in"', "tailplane.frame.weight", "is no heavier than 2.5 kg"),
    ],
)
def test_what_a_tails_weight_must_be(old: str, new: str, key: str, words: str) -> None:
    told = said(TAIL, old, new, "[tailplane.frame.weight]")
    assert key in told and words in told


@pytest.mark.parametrize(
    ("old", "new", "key", "words"),
    [
        ('below = "4-1/2 in"', 'below = "1/2 in"', "weights.middle.below", "stands under its hinge line, or over it"),
        (
            'along = "147.0 in"',
            'along = "20 in"',
            "weights.middle.along",
            "the arm of a weight with the ribs beside it",
        ),
        ('along = "147.0 in"', 'along = "132 in"', "along", "stands clear of"),
        ('material = "lead"', 'material = "spruce"', "weights.middle.material", "is lead or a steel; spruce is wood"),
        ('length = "2 in"', 'length = "30 in"', "weights.middle", "is no heavier than 2.5 kg"),
    ],
)
def test_what_an_ailerons_weight_must_be(old: str, new: str, key: str, words: str) -> None:
    told = said(WINGED, old, new, "[models.P1.wings.wing.aileron.frame.weights.middle]")
    assert key in told and words in told


def test_a_steel_slug_weighs_less_by_its_density() -> None:
    at = TAIL.index('material = "lead"', TAIL.index("[tailplane.frame.weight]"))
    steel = reading(TAIL[:at] + 'material = "4130N"' + TAIL[at + len('material = "lead"') :]).models["P1"]
    ratio = material("4130N").density / material("lead").density
    assert_allclose(slugs(steel)[0].mass, slugs(tailed())[0].mass * ratio, rtol=1e-12)


def test_nothing_is_in_the_way_of_a_tails_weights_and_all_is_held() -> None:
    made = lay_out(tailed())
    found = measure(made)
    mine = [x for x in (*found.clashes, *found.apart) if "BALANCE" in x.one + x.other]
    assert not mine
    assert not [n for n in (*found.loose, *found.adrift, *found.not_closed) if "BALANCE" in n]


def test_nothing_is_in_the_way_of_an_ailerons_weight() -> None:
    found = measure(lay_out(winged()))
    assert not [x for x in (*found.clashes, *found.apart) if "BALANCE" in x.one + x.other]


def test_one_over_and_one_under_the_wing_balance_fore_and_aft_too() -> None:
    """Alike ahead, opposite over the hinge line: their moments square to the line add, those over it cancel."""
    under = AILERON.format(along=147.0).replace("4-1/2 in", "6 in")
    over = AILERON.format(along=153.0).replace("weights.middle", "weights.over").replace("4-1/2 in", "-6 in")
    model = reading(HINGED + under + over).models["P1"]
    axes = hinge_axes(ailerons(model)[0])
    mine = [p for p in slugs(model) if p.hand == "R"]
    off = np.array([p.places[0] for p in mine]) - axes.start
    assert_allclose(off @ axes.over, [-6 * 0.0254, 6 * 0.0254], atol=1e-9)
    assert_allclose(off @ axes.aft, -5 * 0.0254, atol=1e-9)
    made = lay_out(model)
    assert {c.id: c.verdict for c in travel_checks(model, made)}["parts.travel.aileron.wing"] == "pass"
    assert not [x for x in measure(made).clashes if "BALANCE" in x.one + x.other]


def test_a_weight_that_would_swing_into_the_wing_is_found() -> None:
    """Hung too near under the wing it meets the skin with the aileron down."""
    near = reading(WINGED.replace('below = "4-1/2 in"', 'below = "3 in"').replace('ahead = "5 in"', 'ahead = "9 in"'))
    checks = {c.id: c for m in (near.models["P1"],) for c in travel_checks(m, lay_out(m))}
    good = {c.id: c for c in travel_checks(winged(), lay_out(winged()))}
    assert good["parts.travel.aileron.wing"].verdict == "pass"
    assert checks["parts.travel.aileron.wing"].verdict == "fail"
    assert "BALANCE" in checks["parts.travel.aileron.wing"].caveat + checks["parts.travel.aileron.wing"].part


def test_the_frame_carries_it_on_its_own_surface() -> None:
    model = tailed()
    bones = skeleton(model)
    found = lumps(model, lay_out(model), bones)
    mine = [i for i, n in enumerate(found.names) if "elevator-BALANCE-WEIGHT-R" in n]
    assert mine and found.laid is not None
    (slug,) = [p for p in slugs(model) if p.number.endswith("elevator-BALANCE-WEIGHT-R")]
    assert_allclose(sum(found.mass[mine]), slug.mass)
    rows = found.laid.tocsc()[:, [6 * mine[0] + 2]].nonzero()[0] // 6
    assert {bones.names[i].split(".")[0] for i in rows} == {"elevator"}


def test_what_the_weights_take_off_is_told_and_only_where_there_are_any() -> None:
    model = tailed()
    made = lay_out(model)
    found = {r.id: r for r in hinge_results(model, made)}
    bare = tail_alone(tails.tailed())
    without = {r.id: r for r in hinge_results(tails.tailed(), bare)}
    for name in ("elevator", "rudder"):
        (step,) = [s for s in found[f"mass.hinge.{name}"].steps if s.title.startswith("part that the balance")]
        (off, rest) = (v for _, v, _ in step.given)
        assert off < 0 < rest
        assert_allclose(step.value, -off / rest)
        assert_allclose(off + rest, found[f"mass.hinge.{name}"].value)
        assert_allclose(rest, without[f"mass.hinge.{name}"].value)
        assert not [s for s in without[f"mass.hinge.{name}"].steps if "balance" in s.title]


def test_it_is_in_the_cut_list() -> None:
    rows = {r.number: r for r in cut_list(balance_parts(tailed()))}
    (slug,) = [r for n, r in rows.items() if n.endswith("rudder-BALANCE-WEIGHT")]
    assert slug.material == "lead" and "Lead, cast, round" in slug.stock
    assert_allclose((slug.length, slug.width), (2 * 0.0254, 1.5 * 0.0254))


# ------------------------------------------------------------------ arms


def _held(below: float = 0.0) -> Held:
    frame = tailed().tailplane.frame
    assert frame and frame.weight
    return Held("x", "x", "x", frame.weight, 0.5, 0.2, below)


def test_moments_of_the_three_directions() -> None:
    """A tail's slug at 0.2 m, e = (0.090 + 2)/2 in from the arm's middle; an aileron's 0.1 m under its hold."""
    e = (0.09 + 2) / 2 * 0.0254
    assert_allclose(moments(_held(), "square to the surface", 10.0), (2.0, 0.0, 10 * e))
    assert_allclose(moments(_held(), "fore and aft", 10.0), (0.0, 10 * e, 0.0))
    assert_allclose(moments(_held(), "along the hinge line", 10.0), (0.0, 2.0, 0.0))
    assert_allclose(moments(_held(0.1), "fore and aft", 10.0), (1.0, 10 * e, 0.0))
    assert_allclose(moments(_held(0.1), "along the hinge line", 10.0), (0.0, 1.0, 2.0))


def test_use_of_an_arm_by_hand() -> None:
    """M = 1 N m on 15 x 2 mm flat: 6/(0.015 0.002^2) = 100 MPa; T = 1: 50 MPa; P = 300 N: 10 and 15 MPa."""
    assert_allclose(arm_use(0.0, (0.0, 1.0, 0.0), 0.015, 0.002, 400e6, 1.0), 0.25)
    assert_allclose(arm_use(0.0, (0.0, 0.0, 1.0), 0.015, 0.002, 1.0, 200e6), 0.25)
    assert_allclose(arm_use(300.0, (0.0, 1.0, 1.0), 0.015, 0.002, 220e6, 130e6), math.hypot(0.5, 0.5))


def test_every_arm_has_a_check_of_the_rule() -> None:
    found = {c.id: c for m in (tailed(), winged()) for c in balance_arm_checks(m, strengths(m))}
    assert set(found) == {"strength.balance.elevator", "strength.balance.rudder",
                          "strength.balance.wing.aileron.middle"}  # fmt: skip
    for c in found.values():
        assert math.isfinite(c.value) and c.rule == "cfr-23-2014 23.659"
        assert all(type(v) is float for s in c.steps for v in (s.value, *(g[1] for g in s.given)))
        assert [s.given[0][1] for s in c.steps[1:4]] == [24.0, 12.0, 12.0]


def test_an_arm_of_thin_sheet_fails() -> None:
    model = tailed()
    frame = model.tailplane.frame
    assert frame and frame.weight
    arm = replace(frame.weight.arm, thickness=0.5e-3)
    thin = replace(model, tailplane=replace(model.tailplane, frame=replace(
        frame, weight=replace(frame.weight, arm=arm))))  # fmt: skip
    (c,) = [c for c in balance_arm_checks(thin, strengths(thin)) if c.id == "strength.balance.elevator"]
    assert c.verdict == "fail" and c.value > 1


# ------------------------------------------------------------------ play


def test_free_play_that_nobody_has_said_is_unknown() -> None:
    model = steered()
    assert model.controls is not None
    silent = replace(model.controls, play=None)
    found = tuple(play_results(model, silent, moving(model, silent)[1]))
    assert found
    assert all(math.isnan(r.value) and r.outside_range == NOT_SAID for r in found)


def test_a_loop_rigged_to_no_tension_is_unknown() -> None:
    """The demo's ailerons are moved by a closed loop of cable."""
    model = read(DEMO_FILE.read_bytes(), DEMO_FILE.name).models["W1"]
    assert model.controls is not None
    cables = tuple(replace(c, tension=0.0) for c in model.controls.cables)
    loose = replace(model.controls, play=ControlPlay(rod_end=1e-4, pivot=1e-4, hinge=1e-4))
    slack = replace(model, controls=replace(loose, cables=cables))
    for m, known in ((replace(model, controls=loose), True), (slack, False)):
        assert m.controls is not None
        found = {r.id: r for r in play_results(m, m.controls, moving(m, m.controls)[1])}
        assert math.isfinite(found["controls.wing_aileron.play"].value) == known
        assert ("no tension" in found["controls.wing_aileron.play"].outside_range) != known


def test_the_edge_is_told_in_length_and_the_comparison_without_a_verdict() -> None:
    """The demo's elevator: hinged at 0.45 of 44 in at its root, where it is deepest."""
    model = read(DEMO_FILE.read_bytes(), DEMO_FILE.name).models["W1"]
    assert model.controls is not None
    loose = replace(model.controls, play=ControlPlay(rod_end=1e-4, pivot=1e-4, hinge=2e-4))
    found = {r.id: r for r in play_results(model, loose, moving(model, loose)[1])}
    angle, edge = found["controls.elevator.play"], found["controls.elevator.play.edge"]
    assert_allclose(edge.value, angle.value * 0.55 * 44 * 0.0254 + 2e-4)
    assert "no verdict" in angle.caveat and "0.13 deg" in angle.caveat and "memory" in angle.caveat
    assert_allclose(sum(s.value for s in angle.steps[:-1]), angle.value)
    assert_allclose(edge.steps[-1].value, left(angle.value, math.radians(1)))
    numbers = [v for r in found.values() for s in r.steps for v in (r.value, s.value, *(g[1] for g in s.given))]
    assert all(type(v) in (float, int) for v in numbers)
    rudder = found["controls.rudder.play"]
    assert rudder.value == 0.0 and "taut cables hold it" in rudder.caveat


def test_a_surface_without_inertia_has_no_parameter() -> None:
    assert math.isnan(parallel_parameter(1.0, 0.0, 0.5))


def test_what_turns_reaches_as_far_as_its_weight() -> None:
    """So that no step of the travel check is longer than the surface is thick."""
    t = next(m for m in movable(winged()) if m.right)
    (slug,) = [p for p in slugs(winged()) if p.hand == "R"]
    off = np.array(slug.places[0]) - t.place
    assert t.reach >= np.linalg.norm(off - (off @ t.along) * t.along)
