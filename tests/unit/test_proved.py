"""What tests prove, member by member: uses at limit load, which test counts, when a member is proved."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sparwright.base.check import Check, check
from sparwright.base.source import Band
from sparwright.loads.case import LoadCase
from sparwright.margins.worst import LOST
from sparwright.proof import checked
from sparwright.proof.bags import in_steps
from sparwright.proof.bays import on_skin, turned_by_boards
from sparwright.proof.boards import MANY, by_rib
from sparwright.proof.checked import LEAST
from sparwright.proof.governing import Asked, Governing, of_limit
from sparwright.proof.outlines import halved
from sparwright.proof.plan import Plan
from sparwright.proof.proved import ENOUGH, Member, decisive, members, spar_of, standing
from sparwright.proof.record import BagTest


def use(id: str, value: float, title: str = "a spar: caps", case: str = "pulled up") -> Check:
    return check(
        id, title, Band.exact(value), 1.0, "<=", "1", case=case, rule="cfr-23-2014 23.305(a)", method="by hand"
    )


def member(id: str, flight: float, case: float, test: float) -> Member:
    return Member(id, id, flight, case, test, "pulled up")


def test_a_use_of_ultimate_strength_counts_one_and_a_half_times_at_limit() -> None:
    assert of_limit(use("x", 0.4)) == pytest.approx(0.6)
    assert of_limit(use("x", 0.4, "a spar: caps at limit load, no lasting set")) == 0.4


def test_members_are_those_known_in_all_three_the_most_used_first() -> None:
    flight = [use("a", 0.2), use("b", 0.5), use("c", math.nan), use("d", 0.9)]
    found = members(flight, [use("a", 0.1), use("b", 0.5), use("c", 0.1), use("d", 0.9)],
                    [use("a", 0.21), use("b", 0.4), use("c", 0.1), use("d", 0.9)], lambda id: id != "d")  # fmt: skip
    assert [m.id for m in found] == ["b", "a"], "c is not known, d is not of this test"
    assert found[0].over_flight == pytest.approx(0.8) and not found[0].proved
    assert found[1].over_case == pytest.approx(2.1) and found[1].proved


def test_a_member_counts_with_the_test_that_loads_it_most_against_the_greatest_of_flight() -> None:
    up, down = member("a", 0.5, 0.5, 0.48), member("a", 0.6, 0.3, 0.3)
    (one,) = standing([("wings_up", [up]), ("wings_down", [down])])
    assert one.test == "wings_up" and one.flight == 0.6 and one.ratio == pytest.approx(0.8) and not one.proved
    (other,) = standing([("wings_down", [down]), ("wings_up", [up])])
    assert (other.test, other.flight) == (one.test, one.flight), "whatever the order"
    assert LEAST == ENOUGH


def test_of_a_spar_the_check_counts_that_its_own_case_uses_most() -> None:
    every = [member("strength.upper.rear.caps", 0.9, 0.5, 0.5), member("strength.upper.rear.webs", 0.7, 0.6, 0.3),
             member("strength.tube.struts-LIFT", 0.9, 0.9, 0.9)]  # fmt: skip
    assert {k: m.id for k, m in decisive(every).items()} == {"upper.rear": "strength.upper.rear.webs"}
    assert spar_of("strength.bolts.upper.rear.12") == ""


def test_bags_and_boards_together_are_load_and_moment() -> None:
    """Any load and centre, lifted bays too: the sum of the load and its moment about the nose are kept."""
    rng = np.random.default_rng(7)
    for _ in range(50):
        load, centre, chord = rng.uniform(-20, 200, 8), rng.uniform(-3, 2, 8), rng.uniform(0.8, 1.3, 8)
        bags, torque = on_skin(load, centre, (0.15, 0.5), chord)
        assert bags.min() >= -1e-9 and bags.sum() == pytest.approx(max(load.sum(), 0.0))
        if load.sum() > 0:
            about_nose = (bags @ np.array([0.15, 0.5]) * chord).sum() - torque.sum()
            assert about_nose == pytest.approx((load * centre * chord).sum())


def test_boards_share_the_whole_moment_out_along_the_span(outline: object) -> None:
    turn = np.linspace(30.0, 5.0, 8)
    found = dict(by_rib(outline, turn))  # type: ignore[arg-type]
    assert len(found) == MANY and sum(found.values()) == pytest.approx(turn.sum())
    assert max(found.values()) < 0.6 * turn.sum()
    assert dict(by_rib(outline, -turn)) == {k: pytest.approx(-v) for k, v in found.items()}  # type: ignore[arg-type]
    assert not dict(by_rib(outline, 0 * turn))  # type: ignore[arg-type]


def test_boards_only_where_bags_miss_a_tenth(outline: object) -> None:
    load = np.full(8, 100.0)
    assert not turned_by_boards(outline, load, np.full(8, 0.0), (0.05, 0.5))  # type: ignore[arg-type]
    assert turned_by_boards(outline, load, np.full(8, -0.05), (0.05, 0.5))  # type: ignore[arg-type]


def test_on_hinged_parts_each_line_is_counted_for_itself() -> None:
    net, weight = np.array([[-30.0, 60.0], [-10.0, 40.0]]), np.zeros((2, 2))
    assert in_steps(net, weight, (1.0,), 10.0, True)[0].tolist() == [[0.0, 6.0], [0.0, 4.0]]
    assert in_steps(net, weight, (1.0,), 10.0)[0].sum() == 6.0, "on one skin the sum counts"


def test_half_bags_miss_no_more_than_a_quarter() -> None:
    rng = np.random.default_rng(3)
    net = rng.uniform(0, 60, (9, 2))
    (count,) = in_steps(net, np.zeros((9, 2)), (1.0,), 40.0)
    off = np.cumsum((count * 40.0 - net).sum(1)[::-1])
    assert np.abs(off).max() <= 10.0 + 1e-9 and (count * 2 == np.round(count * 2)).all()


def test_wide_bays_of_the_tail_are_cut_in_two() -> None:
    assert halved(np.array([0.0, 0.3, 0.9])).tolist() == pytest.approx([0.0, 0.3, 0.6, 0.9])


@pytest.fixture
def outline() -> object:
    from sparwright.proof.bays import Outline

    edges = np.linspace(0.3, 2.7, 9)
    nose = np.stack([0 * edges, edges, 0 * edges], axis=1)
    one = np.ones(8)
    return Outline(
        "upper", 1, edges, nose, np.ones(9), np.outer(one, [1.0, 0, 0]), np.outer(one, [0, 0, 1.0]), 1.0, (0.2, 0.7)
    )


@pytest.mark.parametrize("how", ["known", "a place", "a strength"])
def test_a_member_that_is_not_known_keeps_the_test_from_passing(how: str) -> None:
    """Of its own case and at its last step: the greatest use of the others says nothing of it."""
    caps, webs = use("strength.upper.front.caps", 0.4), use("strength.upper.front.webs", 0.2, "webs")
    if how == "a place":
        webs = replace(webs, verdict="unknown", caveat=f"{LOST}a use outside its method's range")
    elif how == "a strength":
        webs = use("strength.upper.front.webs", math.nan, "webs")
    case = LoadCase(key="up", title="up", kind="manoeuvre", rule="r", loading="none", mass=1.0, station=0.0,
                    waterline=0.0, speed=1.0, factor=1.0)  # fmt: skip
    known = Governing(0, 0.6, "caps", caps.id)
    plan = Plan("wings_up", "wings up", "upright", ("upper",), np.array([0.0, 0.0, 1.0]))
    every = Asked((known,), (), (caps, webs))
    test = BagTest(plan, 5.0, np.zeros(3), case=case, governing=known, asked=every, held=(caps, webs))
    found = {c.id: c for c in checked.test_checks(test, lambda _: True, {}, {})}
    for id in ("proof.wings_up.case", "proof.wings_up.tested"):
        assert found[id].value == pytest.approx(0.6)
        assert found[id].verdict == ("pass" if how == "known" else "unknown"), id
        assert how == "known" or "webs" in found[id].caveat
