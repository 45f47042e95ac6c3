"""The proof-load tests of whole models: loads, mirror, trestles, readings, and what is said where nothing stands."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from sparwright.base.axes import GRAVITY
from sparwright.family.proof import ProofBags, ProofMeasured
from sparwright.proof.against import Along
from sparwright.proof.bags import beyond, step_parts
from sparwright.proof.boards import laid_boards
from sparwright.proof.chain import bag_of, proof_told
from sparwright.proof.governing import Held, at, used
from sparwright.proof.loaded import laid_bags, own_weight
from sparwright.proof.plan import plans
from sparwright.proof.plan import tested as members_of
from sparwright.proof.record import BagTest, Proof
from sparwright.run import RunResult
from sparwright.structure.masses import Carriers, lumps

Ran = Callable[[str], RunResult]


@pytest.fixture(scope="module")
def told(ran: Ran) -> Callable[..., Proof]:
    def work(name: str, bag: float = 0.0, measured: tuple[ProofMeasured, ...] = ()) -> Proof:
        run = ran(name)
        if not (bag or measured or run.flight.flown.model.proof_measured):
            return run.proof
        own = run.flight.flown.model
        bags = ProofBags(bag=bag, small_bag=bag) if bag else own.proof
        model = replace(own, proof=bags, proof_measured=measured)
        return proof_told(model, run.assembly, run.margins.answer, run.margins.laid)

    return cache(work)


def of(proof: Proof, key: str) -> BagTest:
    return next(t for t in proof.tests if t.plan.key == key)


def test_steps_begin_with_one_and_two_g_and_end_at_limit() -> None:
    assert step_parts(3.8) == pytest.approx((1 / 3.8, 2 / 3.8, 0.67, 0.9, 1.0))
    assert step_parts(-1.5) == pytest.approx((0.67, 0.9, 1.0)), "one g would be the same step as 67 %"
    assert step_parts(math.nan) == (0.25, 0.5, 0.67, 0.9, 1.0)


def test_bags_and_weight_are_the_air_less_inertia(told: Callable[..., Proof], ran: Ran) -> None:
    """The whole wings of W1: n x air - (n + 1) x structure, within what pitching and the tilt add."""
    test = of(told("W1"), "wings_up")
    air = sum(b.air.sum() for b in test.surfaces) * 2
    own = sum(b.weight.sum() for b in test.surfaces) * 2
    by_hand = air - (test.factor + 1) * own
    assert test.wanted == pytest.approx(by_hand, rel=0.01), "the pull along the chord and pitching, a hundredth"
    assert test.total[-1] * GRAVITY == pytest.approx(test.wanted, abs=test.bag_force), "both halves to half a bag"
    run = ran("W1")
    parts = sum(p.mass * p.count for p in run.assembly.parts if p.group.startswith("wing "))
    spread = sum(x.mass for x in run.flight.flown.model.allowances if x.group == "wings")
    assert own / GRAVITY > 1.05 * (parts + spread), "struts, wires and fittings hang on the wing's nodes as well"
    margins = run.margins
    assert margins.answer is not None
    weight = own_weight(
        lumps(run.flight.flown.model, run.assembly, margins.answer.skeleton), np.array([0.0, 0, 1]), False
    )
    mine = [i for n, i in margins.answer.skeleton.node.items() if n.startswith("wing.")]
    assert own == pytest.approx(weight[mine, 2].sum(), rel=1e-6), "what the frame's nodes of the wing carry in the shop"


def test_the_tilt_is_that_of_air_less_inertia(told: Callable[..., Proof], ran: Ran) -> None:
    """By the case's own pushes on the wings and its acceleration, each with its distance out; the pull is forward."""
    test, margins = of(told("W1"), "wings_up"), ran("W1").margins
    assert test.governing is not None and margins.answer is not None
    one, laid = margins.laid[test.governing.place], margins.answer.laid[test.governing.place]
    on = [n.startswith(("wing:", "aileron:")) for n in one.pushes.on]
    (bays,) = test.surfaces
    mass = 2 * bays.weight.sum(axis=1) @ bays.outline.middle / GRAVITY
    net = np.abs(one.pushes.place[on, 1]) @ one.pushes.force[on] - mass * laid.acceleration
    assert test.tilt == pytest.approx(math.atan2(-net[0], net[2]), abs=math.radians(0.15)), "pitching adds a little"
    assert 0.05 < test.tilt < 0.3
    assert np.linalg.norm(test.down) == pytest.approx(1.0)
    assert test.down[2] > 0.9 and test.down[1] == 0.0


def test_bags_are_laid_alike_on_both_sides_and_none_is_lost(told: Callable[..., Proof], ran: Ran) -> None:
    answer = ran("W1").margins.answer
    test = of(told("W1"), "wings_up")
    assert answer is not None
    bones = answer.skeleton
    carriers = Carriers(ran("W1").flight.flown.model, bones)
    loads = laid_bags(bones, carriers, test.surfaces, test.counts, test.bag_force, test.down)
    assert loads[:, :, :3].sum(axis=1) == pytest.approx(np.outer(test.total * GRAVITY, test.down), abs=1e-6)
    other = [bones.node[n.replace(".R.", ".L.")] for n in bones.names if ".R." in n]
    mine = [bones.node[n] for n in bones.names if ".R." in n]
    assert loads[:, other, :3] * np.array([1, -1, 1]) == pytest.approx(loads[:, mine, :3], abs=1e-6)
    assert loads[:, other, 3:] * np.array([-1, 1, -1]) == pytest.approx(loads[:, mine, 3:], abs=1e-6)


def test_trestles_carry_bags_and_aeroplane(told: Callable[..., Proof]) -> None:
    """What the trestles press with rises from step to step by the bags that were added (tilted: their part square)."""
    test = of(told("W1"), "wings_up")
    assert test.loaded is not None and test.trestles is not None
    assert not test.boards and not test.ropes
    assert len(set(test.trestles.nodes)) == 4
    pressed = test.loaded.reaction.sum(axis=1)
    assert np.diff(pressed) == pytest.approx(
        np.diff(np.concatenate([[0], test.total])) * GRAVITY * test.down[2], rel=1e-6
    )


def test_movements_grow_with_load_and_lie_in_their_band(told: Callable[..., Proof]) -> None:
    test = of(told("W1"), "wings_up")
    tip = next(p for p in test.points if p.key == "wing.front.tip")
    assert (np.diff(tip.moved[0]) > 0).all(), "the tip goes on going down"
    assert (tip.moved[1] > tip.moved[0]).all() and (tip.moved[2] < tip.moved[0]).all(), "soft more, stiff less"


def test_the_wing_carries_in_the_test_what_it_does_in_the_case(told: Callable[..., Proof]) -> None:
    """Bags of 100 g in place of whole ones: bending where it is great, within two hundredths of the case's."""
    test = of(told("W1", 0.1), "wings_up")
    for one in test.along:
        great = np.abs(one.case[:, 1]) > 0.5 * np.abs(one.case[:, 1]).max()
        assert one.ratio[great, 1] == pytest.approx(1.0, abs=0.02), one.name


def test_finer_bags_miss_less_along_the_spar(told: Callable[..., Proof]) -> None:
    def missed(bag: float) -> float:
        test = of(told("W1", bag), "wings_up")
        (bays,), (count,) = test.surfaces, test.counts
        true, found = (beyond(x, bays.outline.width)[1] for x in (bays.bags.sum(1), count[-1].sum(1) * test.bag_force))
        return float(np.abs(true - found).max())

    assert missed(0.1) < 0.05 * missed(20.0)


def test_the_ratio_is_plain_where_the_case_is_great_and_held_against_half_elsewhere() -> None:
    case, test = np.array([[100.0, 0.0], [10.0, 50.0]]), np.array([[98.0, 1.0], [8.0, 51.0]])
    found = Along("x", np.zeros(2), case, test).ratio
    assert found == pytest.approx(np.array([[0.98, 1.0], [1 - 2 / 50, 1.02]]))


def test_a_frame_that_does_not_stand_is_unknown_with_the_reason(told: Callable[..., Proof], ran: Ran) -> None:
    run = ran("W1")
    model = run.flight.flown.model
    for answer in (None,):
        found = proof_told(model, run.assembly, answer, run.margins.laid)
        assert len(found.checks) == len(plans(model))
        assert {c.verdict for c in found.checks} == {"unknown"}
        assert all("not answered" in c.caveat for c in found.checks)


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_bags_leave_out_the_air_that_the_body_carries(told: Callable[..., Proof], ran: Ran, name: str) -> None:
    """The air of the bays is that of the case's own pushes on the wing, not of those on the body between the roots."""
    test, margins = of(told(name), "wings_up"), ran(name).margins
    assert test.governing is not None
    pushes = margins.laid[test.governing.place].pushes
    for bays in test.surfaces:
        on = [n.split(":")[0] in ("wing", "aileron") and f":{bays.outline.name}:R" in n for n in pushes.on]
        assert bays.air.sum() == pytest.approx(pushes.force[on].sum(axis=0) @ test.down, rel=2e-3), bays.outline.name


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_the_test_loads_what_it_is_meant_to_prove_and_overloads_nothing(told: Callable[..., Proof], name: str) -> None:
    for c in told(name).checks:
        assert c.verdict == "pass", (c.id, c.value)


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_trestles_stand_under_upright_frames_around_the_wings_feet(
    told: Callable[..., Proof], ran: Ran, name: str
) -> None:
    answer = ran(name).margins.answer
    assert answer is not None
    bones = answer.skeleton
    wings = tuple(f"{w.name}." for w in ran(name).flight.flown.model.wings)
    ends = [e for b in bones.bars if b.what in ("strut", "link") for e in (b.ends, b.ends[::-1])]
    feet = [bones.frame.place[bones.node[a], 0] for a, b in ends if not set(".:") & set(a) and b.startswith(wings)]
    for test in told(name).tests:
        assert test.trestles is not None
        first, last = (bones.frame.place[bones.node[p[0]], 0] for p in (test.trestles.first, test.trestles.last))
        assert first < min(feet) + 0.02 and last > max(feet) - 0.02, test.plan.key


def test_boards_turn_the_wing_by_what_bags_leave_and_push_nowhere(told: Callable[..., Proof], ran: Ran) -> None:
    """A couple each: nothing up or down, the moment of all boards that which the bays ask for."""
    run = ran("W2")
    answer, test = run.margins.answer, of(told("W2"), "wings_down")
    assert answer is not None and len(test.boards) == 6
    carriers = Carriers(run.flight.flown.model, answer.skeleton)
    loads = laid_boards(answer.skeleton, carriers, test.boards, test.bag_force, test.down, len(test.parts))
    assert loads[..., :3].sum(axis=1) == pytest.approx(0.0, abs=1e-9)
    moment = (np.cross(answer.skeleton.frame.place, loads[-1, :, :3]) + loads[-1, :, 3:]).sum(axis=0)
    wanted = 2 * sum(float(b.torque.sum()) for b in test.surfaces)
    assert abs(wanted) > 100 and abs(moment[0]) + abs(moment[2]) < 1e-6
    square = float(np.mean([b.along @ np.array([-test.down[2], 0, test.down[0]]) for b in test.boards]))
    assert abs(moment[1]) == pytest.approx(abs(wanted * square), rel=1e-2), "the chord is tilted against gravity"
    assert np.sign(moment[1]) == np.sign(wanted) * np.sign(test.down[2]), "the nose the way down"


def test_each_step_hangs_no_more_on_a_board_than_the_next(told: Callable[..., Proof]) -> None:
    for name in ("W1", "W2", "W3"):
        for board in of(told(name), "wings_down").boards:
            assert list(board.counts) == sorted(board.counts) and board.counts[-1] > 0
            assert board.counts[-1] * of(told(name), "wings_down").bag_force * board.arm == pytest.approx(
                abs(board.couple), rel=1e-9
            )


@pytest.mark.parametrize("name", ["W2", "W3"])
def test_every_planned_test_is_told_once_and_one_without_an_answer_says_why(
    told: Callable[..., Proof], ran: Ran, name: str
) -> None:
    """Of two and three wings with wires: none of their tests is left out."""
    proof = told(name)
    assert [t.plan.key for t in proof.tests] == [p.key for p in plans(ran(name).flight.flown.model)]
    for test in proof.tests:
        if test.why:
            (one,) = [c for c in proof.checks if c.id.startswith(f"proof.{test.plan.key}.")]
            assert one.verdict == "unknown" and one.caveat
    assert len({r.id for r in proof.results}) == len(proof.results)
    assert len({c.id for c in proof.checks}) == len(proof.checks)


def test_readings_come_back_against_the_prediction(told: Callable[..., Proof]) -> None:
    said = next(p for p in of(told("W1"), "wings_up").points if p.key == "wing.front.tip").moved[:, -1]
    read = (
        ProofMeasured(test="wings_up", step=1.0, point="wing.front.tip.R", value=float(said[0])),
        ProofMeasured(
            test="wings_up", step=1.0, point="wing.front.tip.L", value=float(2 * said[0]), note="a wire hung"
        ),
        ProofMeasured(test="wings_up", step=0.33, point="wing.front.tip.L", value=0.01),
        ProofMeasured(test="wings_up", step=1.0, point="nowhere", value=0.01),
    )
    found = [r for r in told("W1", 0.0, read).results if ".measured." in r.id]
    assert [round(r.value, 6) for r in found[:2]] == [1.0, 2.0]
    assert found[0].caveat == "within the band" and "stop" in found[1].caveat and "a wire hung" in found[1].caveat
    assert found[0].low < 1 < found[0].high
    assert math.isnan(found[2].value) and "no such step" in found[2].outside_range
    assert math.isnan(found[3].value) and "no such point" in found[3].outside_range


def test_the_file_says_how_heavy_a_bag_is(ran: Ran) -> None:
    model = replace(ran("W1").flight.flown.model, proof=None)
    wings, tail = plans(model)[0], plans(model)[2]
    assert bag_of(model, wings) == pytest.approx(4.536, abs=1e-3) and bag_of(model, tail) == pytest.approx(
        2.268, abs=1e-3
    )
    own = replace(model, proof=ProofBags(bag=11.0))
    assert bag_of(own, wings) == 11.0 and bag_of(own, tail) == pytest.approx(2.268, abs=1e-3)


def test_loads_without_bags_are_the_cases_own(told: Callable[..., Proof], ran: Ran) -> None:
    found = {r.id: r for r in told("W1").results if r.id.startswith("proof.static.")}
    pull = found["proof.static.controls.stick.elevator.pull"]
    assert pull.value == pytest.approx(740.0), "the code's stick force, cs-vla 397 (memory)"
    for r in found.values():
        if len(r.steps) == 3:
            assert math.dist([s.value for s in r.steps], (0, 0, 0)) == pytest.approx(r.value)
    assert "ultimate" in found["proof.static.seat.harness.up"].caveat
    assert not [k for k in found if "wind" in k or "along_hinge" in k], "those press on surfaces, not on the hand"


def test_what_is_asked_for_is_what_all_would_say(ran: Ran) -> None:
    """The checks of a test's members alone are those of all members, left out the others."""
    run = ran("W1")
    model, answer = run.flight.flown.model, run.margins.answer
    assert answer is not None
    solved, held = at(answer.limit[0], [0, 3]), Held.of(model)
    laid = [answer.laid[i] for i in (0, 3)]
    every = list(used(model, answer.skeleton, laid, solved, held))
    for plan in plans(model):
        mine = members_of(model, plan)
        some = list(used(model, answer.skeleton, laid, solved, held, mine))
        assert some == [c for c in every if mine(c.id)] and 0 < len(some) < len(every)
