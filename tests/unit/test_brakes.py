"""Brakes: from hand to tyre by hand, the link's turn, what the parts touch, what is told when the file is wrong."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.controls.brake_levers import brake_levers_clear
from sparwright.family.brakes import Brakes
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.ground.brakes import brake_checks, brake_results, braked, link_arm, ratio, turn
from sparwright.ground.work import OnGround, work_out
from sparwright.parts.brakes import stack
from sparwright.parts.frame import frame_tubes
from sparwright.parts.layout import lay_out
from sparwright.parts.measured import measure
from sparwright.parts.part import Assembly
from sparwright.parts.undercarriage import gear_not_drawn
from sparwright.run import RunResult

FILE = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
DEMO = FILE.read_text(encoding="utf-8")
INCH = 0.0254
LEVER = math.hypot(3, 14.25)  # in, from bolt to grip


@pytest.fixture(scope="module")
def w1(whinchat: Family) -> Model:
    return whinchat.models["W1"]


def brakes(model: Model) -> Brakes:
    assert model.undercarriage and model.undercarriage.brakes
    return model.undercarriage.brakes


def other(model: Model, **said: float) -> Model:
    """The model with other figures of its brakes."""
    gear = model.undercarriage
    assert gear is not None
    return replace(model, undercarriage=replace(gear, brakes=replace(brakes(model), **said)))  # type: ignore[arg-type]


def on(model: Model, ran: Callable[[str], RunResult]) -> OnGround:
    return work_out(model, ran("W1").balance)


def test_from_hand_to_tyre_by_hand(w1: Model, ran: Callable[[str], RunResult]) -> None:
    """20 lbf, 14.56 in over 2, a fifth lost, gain 6, friction 0.35, 2-1/2 in drum, 7 in tyre: two wheels."""
    here = on(w1, ran)
    found = braked(here)
    assert found is not None
    pull = 20 * LEVER / 2 * 0.8
    assert_allclose([ratio(w1, line) for line in brakes(w1).lines], LEVER / 2, rtol=1e-9)
    assert_allclose(found.pull / 4.4482216, pull, rtol=1e-6)
    assert_allclose(found.force.value / 4.4482216, 2 * pull * 6 * 0.35 * 2.5 / 7, rtol=1e-6)
    assert_allclose(found.share, 2 * pull * 6 * 0.35 * 2.5 / 7 / (here.corners["heaviest"].loading.mass / 0.45359237),
                    rtol=1e-5)  # fmt: skip
    assert_allclose(found.force.low, 0.75 * found.force.value, rtol=1e-12)


def test_a_cable_that_slants_pulls_harder(w1: Model) -> None:
    """Down at 45 deg its line, 0.4 in aft and 2 in over the bolt, passes it by 1.6 sqrt(1/2) in."""
    line = brakes(w1).lines[0]
    down = {"stop": (line.run["stop"][0], line.run["stop"][1], line.run["stop"][2] - 5.4 * INCH)}
    assert_allclose(ratio(w1, replace(line, run=down)), LEVER / 1.6 * math.sqrt(2), rtol=1e-9)


def test_the_pull_that_lifts_the_tail_brakes_by_d_over_h(w1: Model, ran: Callable[[str], RunResult]) -> None:
    """With the hand at the pull that is told, in the worst corner, the force is that of the lift's deceleration."""
    here = on(w1, ran)
    found = braked(here)
    assert found is not None
    again = braked(on(other(w1, hand=found.lift.low), ran))
    assert again is not None
    shares = [again.force.high / (s.loading.mass * 9.80665) / s.band(lambda x: x.braking, level=True).low
              for s in here.corners.values()]  # fmt: skip
    assert_allclose(max(shares), 1.0, rtol=1e-9)


def test_the_links_line_and_its_turn(w1: Model) -> None:
    """A link level at 3 in over the axle: that is its arm. Risen, the triangle still has its three sides."""
    b = brakes(w1)
    level = replace(b, arm=3 * INCH, above=3 * INCH, ahead=4 * INCH)
    assert_allclose(link_arm(level), 3 * INCH, rtol=1e-12)
    assert_allclose(turn(level, 0.0), 0.0, rtol=0, atol=1e-12)
    rise, angle = 1.5 * INCH, turn(level, 1.5 * INCH)
    hole = np.array([0.0, rise]) + 3 * INCH * np.array([-math.sin(angle), math.cos(angle)])
    ear = np.array([-4.0, 3.0]) * INCH
    assert_allclose(np.linalg.norm(hole - ear), 4 * INCH, rtol=1e-12)
    assert abs(angle) > 0.05
    assert math.isnan(turn(replace(level, ahead=0.5 * INCH), 9 * INCH))


def test_harder_brakes_and_a_link_that_binds_fail(w1: Model, ran: Callable[[str], RunResult]) -> None:
    good = {c.id: c.verdict for c in brake_checks(on(w1, ran))}
    assert good == {"ground.brakes.tail": "pass", "ground.brakes.turn": "pass"}
    hard = {c.id: c.verdict for c in brake_checks(on(other(w1, gain=7.0), ran))}
    assert hard["ground.brakes.tail"] == "fail"
    bound = {c.id: c for c in brake_checks(on(other(w1, ahead=0.3 * INCH, above=3.5 * INCH), ran))}
    assert bound["ground.brakes.turn"].verdict != "pass"
    free = replace(w1, ground=None)
    assert {c.verdict for c in brake_checks(on(free, ran))} == {"unknown"}


def test_without_brakes_nothing_is_said_but_that(w1: Model, ran: Callable[[str], RunResult]) -> None:
    gear = w1.undercarriage
    assert gear is not None
    bare = replace(w1, undercarriage=replace(gear, brakes=None))
    assert not list(brake_checks(on(bare, ran))) and not list(brake_results(on(bare, ran), ran("W1").flight))
    assert "brakes and their lines" in gear_not_drawn(bare) and "brakes and their lines" not in gear_not_drawn(w1)
    assert not [p for p in lay_out(bare).parts if "-gear-BRAKE-" in p.number]


def only(assembly: Assembly) -> Assembly:
    """Gear and legs alone, with the joints among them."""
    parts = tuple(p for p in assembly.parts if p.group in ("gear", "fuselage"))
    names = {p.number for p in parts}
    return replace(assembly, parts=parts, joints=tuple(j for j in assembly.joints if set(j.parts) <= names))


def test_parts_meet_and_a_drum_too_big_runs_into_its_tyre(w1: Model) -> None:
    found = measure(only(lay_out(w1)))
    assert not found.clashes and not [a for a in found.apart if "BRAKE" in a.joint]
    big = measure(only(lay_out(other(w1, outside=6.5 * INCH, arm=4 * INCH))))
    assert any("BRAKE-DRUM" in c.one + c.other and "WHEEL" in c.one + c.other for c in big.clashes)


def test_a_brake_too_wide_for_the_guide_is_told(w1: Model) -> None:
    tubes = frame_tubes(w1)
    assert w1.undercarriage is not None
    s = stack(w1, w1.undercarriage, brakes(w1), tubes)
    wide = replace(brakes(w1), width=brakes(w1).width + s.inner - s.guide + 0.001, hub_width=0.001)
    with pytest.raises(DesignProblem, match="a narrower brake is wanted"):
        stack(w1, w1.undercarriage, wide, tubes)
    with pytest.raises(DesignProblem, match="hub_width"):
        stack(w1, w1.undercarriage, replace(brakes(w1), hub_width=0.05), tubes)


def test_a_lever_drawn_into_the_seat_is_told(w1: Model) -> None:
    whole = lay_out(w1)
    (good,) = brake_levers_clear(w1, whole)
    assert good.verdict == "pass"
    far = other(w1, travel=math.radians(85))
    (bad,) = brake_levers_clear(far, whole)
    assert bad.value < good.value and "CRANK-BRAKE" in bad.caveat


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('drum = "5 in"', 'drum = "6 in"', "must be less than the outside of the drum"),
        ('arm = "3-1/4 in"', 'arm = "2 in"', "must pass outside the drum"),
        ('lever = "brake_right.cable"', 'lever = "brake_wrong.cable"', "undercarriage.brakes.lines.right.lever"),
        ('held = ["C2R-C2L", "B2R-B2L", "B2R-AXR"]', 'held = ["C2R-C2L", "B2R-B9L"]', "lines.right.held.1"),
        ('bush = { material = "4130N", outside = "1/2 in", wall = "0.120 in" }\nhand',
         'bush = { material = "4130N", outside = "1/2 in", wall = "0.188 in" }\nhand', "its bore must take the bolt"),
        ("[undercarriage.brakes.lines]\nright", "[undercarriage.brakes.lines]\nmiddle", "one line named right"),
        ('hand = "20 lbf"', 'hand = "20 lbf"\nbolt = "AN99"', "is not a bolt we know"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_by_key(old: str, new: str, said: str) -> None:
    assert old in DEMO
    with pytest.raises(FileProblems) as told:
        read(DEMO.replace(old, new, 1).encode(), str(FILE))
    assert said in str(told.value)
