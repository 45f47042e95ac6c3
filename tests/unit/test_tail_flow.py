"""The tail in the wings' wake: the way of a wake is a streamline, no wake asks nothing of the elevator."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.integrate import solve_ivp

from sparwright.air.mesh import turned_by
from sparwright.base.source import Band
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.tail_flow import CASES, at_greatest, behind, elevator_wanted, tail_flow, wanted
from sparwright.flight.trim import trimmed
from sparwright.flight.work import place

MODELS = ("W1", "W2", "W3")


@pytest.fixture(params=MODELS)
def case(ran, request):
    return ran(request.param).flight.flown.cases["max_mass"]


def test_elevator_by_hand() -> None:
    """e0 -0.34, carried -0.17: at r 0.9 and 0.85 of the effect (-0.34 - 0.17/9)/0.85; ends at (0.8, 0.75), (1, 0.9)."""
    found = wanted(-0.34, -0.17, Band(0.9, 0.8, 1.0))
    assert_allclose([found.value, found.low, found.high], [-0.358889 / 0.85, -0.51, -0.34 / 0.9], rtol=1e-5, atol=0)


def test_a_tail_that_lifts_wants_less_up_elevator_and_one_without_load_the_same() -> None:
    wake, none = Band.exact(0.8), Band.exact(1.0)
    assert wanted(-0.3, 0.1, wake).value > wanted(-0.3, 0.1, none).value
    assert wanted(-0.3, 0.0, wake) == wanted(-0.3, 0.0, none)
    assert not wanted(-0.3, 0.1, Band.exact(math.nan)).known


def test_no_wake_asks_for_what_the_stall_asked_for(case) -> None:
    found, stall = behind(case.line, case.stall.section_end, Band.exact(1.0)), case.stall.elevator
    assert_allclose([found.value, found.low, found.high], [stall.value, stall.low, stall.high], rtol=1e-9, atol=0)


def test_behind_a_wake_the_tail_carries_what_it_carried(case) -> None:
    """Put back into the lattice; 1 % of the change: the tail's lift is a little curved in the elevator."""
    line, r = case.line, 0.9
    at = line.states(0.9)
    stance = line.fitted.stances.at(float(at.alpha[0]))
    which = [s.name for s in line.company.mesh.surfaces].index(line.plane.tail)
    elevator = behind(line, 0.9, Band.exact(r)).value * EFFECTIVE.value
    lifts = [
        float(stance.surface_lift(stance.amounts({line.plane.tail: e}, at.twist[0]))[which])
        for e in (float(at.elevator[0]), elevator)
    ]
    assert_allclose(r * lifts[1], lifts[0], rtol=0, atol=0.01 * abs(lifts[1] - lifts[0]))
    assert abs(lifts[1] - lifts[0]) > 0.05 * abs(lifts[0])


def test_the_flow_of_the_wings_is_what_the_tail_meets_in_the_lattice(case) -> None:
    """The lattice takes the tail's own part away from the whole; here it is left out from the start."""
    line = case.line
    state = line.company.state(line.company.nodes[5].alpha, {line.plane.tail: -0.1})
    lattice = line.company.mesh
    tail = lattice.blocks()[[s.name for s in lattice.surfaces].index(line.plane.tail)]
    found = state.past_wings(turned_by(lattice.bound, state.alpha)[:, tail])
    assert_allclose(found, state.values[4:7, tail], rtol=0, atol=1e-10)
    assert np.abs(found - state.values[1:4, tail]).max() > 0.05


def test_a_wake_follows_the_flow(case) -> None:
    """Against a step-by-step integration to 1e-8 from the same trailing edge; 1 mm over some 2 m."""
    line = case.line
    state, found = line.state(0.9), tail_flow(line, 0.9)
    names = [s.name for s in line.company.mesh.surfaces]
    tail = next(p for p in line.company.planforms if p.is_tail)
    for wake in found.wakes:
        y = line.company.mesh.surfaces[names.index(wake.name)].middle[1]
        j = int(np.argmin(np.abs(y - tail.span / 4)))
        edges = line.company.mesh.edges()[names.index(wake.name)]
        x, y0, z = turned_by((edges[:, -1, j] + edges[:, -1, j + 1]) / 2, state.alpha)

        def slope(at: float, height: np.ndarray, y0: float = float(y0)) -> float:
            u, _, w = state.past_wings(np.array([[at], [y0], [float(height[0])]]))[:, 0]
            return w / u

        far = float(turned_by(np.array([6.0, 0.0, 0.0]), state.alpha)[0])
        way = solve_ivp(slope, (float(x), far), [float(z)], rtol=1e-8, atol=1e-8, dense_output=True)
        station = tail.leading_edge[0].mean() + tail.chord.mean() / 4
        at = np.linspace(float(x), far, 2000)
        path = turned_by(np.array([at, np.full(at.size, y0), way.sol(at)[0]]), -state.alpha)
        assert_allclose(wake.middle(station), np.interp(station, path[0], path[2]), rtol=0, atol=1e-3)


def test_a_wake_that_passes_clear_leaves_the_tail_alone_and_one_that_does_not_takes(ran) -> None:
    """W1's and W2's wakes pass the tail by more than their half-width; the middle one of W3 does not."""
    for name in ("W1", "W2"):
        line = ran(name).flight.flown.cases["max_mass"].line
        found = tail_flow(line, 0.5)
        assert found.pressure == Band.exact(1.0)
    found = tail_flow(ran("W3").flight.flown.cases["max_mass"].line, 0.5)
    assert found.pressure.low < found.pressure.value < 0.96 and found.pressure.high <= 1


def test_past_the_greatest_lift_nothing_is_said(case) -> None:
    found = tail_flow(case.line, 3.0)
    assert not found.pressure.known and "no trim" in found.reason


def test_results_say_why_when_unknown(ran) -> None:
    for name in MODELS:
        run = ran(name)
        found = {r.id: r for r in run.results if "tail.pressure" in r.id or "elevator.wake" in r.id}
        assert set(found) == {
            "flight.tail.pressure.cruise",
            "flight.tail.pressure.approach",
            "flight.tail.pressure.stall",
            "flight.elevator.wake.foremost",
            "flight.elevator.wake.max_mass",
        }
        for case in ("foremost", "max_mass"):
            wake, stall = (run.result(f"flight.elevator.{w}.{case}") for w in ("wake", "stall"))
            assert not wake.band.known or (wake.low <= stall.low and wake.high >= stall.high - 1e-9)
        for r in found.values():
            assert r.caveat and (r.band.known or "known" in r.caveat)


def test_an_end_of_the_drag_that_is_out_of_range_makes_the_whole_unknown(case) -> None:
    """At the stall the greatest likely section drag may pass what wakes are known for; no end is told then."""
    found = tail_flow(case.line, case.stall.section_end)
    assert found.pressure.known == (not found.reason)
    ends = (found.pressure.value, found.pressure.low, found.pressure.high)
    assert found.pressure.known or all(map(math.isnan, ends))


def test_the_elevator_wanted_is_the_stalls_own_where_nothing_is_added(ran) -> None:
    """W1's tail stands clear of the wakes; with one slope for the body's moment nothing is left to add."""
    case = ran("W1").flight.flown.cases["max_mass"]
    sure = replace(case.line.plane, body_slopes=(case.line.plane.body_slopes[0],) * 3)
    bare = replace(case, line=replace(case.line, plane=sure))
    assert_allclose(bands(elevator_wanted(bare).elevator), bands(case.stall.elevator), rtol=1e-6)
    more = elevator_wanted(case).elevator
    assert more.low < case.stall.elevator.low and more.high > case.stall.elevator.high


@pytest.mark.parametrize("name", MODELS)
def test_a_body_that_lifts_the_nose_less_wants_more_up_elevator(ran, name) -> None:
    """And by about its moment over the elevator's: near the greatest lift the angle goes with it, so 0.7 to 2."""
    case = ran(name).flight.flown.cases["max_mass"]
    line, plane, found = case.line, case.line.plane, elevator_wanted(case)
    assert found.body[0] < 0 < found.body[1]
    likely, least, _ = plane.body_slopes
    other = trimmed(replace(plane, body_slopes=(least,) * 3), place(case.loading), line.mass, line.air)
    assert_allclose(found.body[0], (at_greatest(other) - found.without) / EFFECTIVE.low, rtol=1e-9)
    alpha = case.stall.alpha
    stance = line.fitted.stances.at(alpha)
    step = [stance.amounts({plane.tail: e}, line.states(line.most).twist[0]) for e in (-0.3, -0.2)]
    moments = [float(c @ line.keep.nought(stance)[0] @ c) for c in step]
    alone = -(least - likely) * alpha / ((moments[1] - moments[0]) / 0.1) / EFFECTIVE.low
    assert 0.7 < found.body[0] / alone < 2.0


def test_a_tail_in_a_wake_wants_the_wakes_elevator_too(ran) -> None:
    """W3's stands in its middle wing's at 1.1 of the stalling speed: the loss and the body's moment add."""
    case = ran("W3").flight.flown.cases["max_mass"]
    found = elevator_wanted(case)
    assert found.pressure.low < 0.95
    wake = behind(case.line, case.stall.section_end, found.pressure)
    assert wake.low < case.stall.elevator.low - 0.01
    assert_allclose(found.elevator.low, wake.low + found.body[0], rtol=1e-12)


@pytest.mark.parametrize("name", MODELS)
def test_the_check_stands_on_the_result_that_counts_all(ran, name) -> None:
    run = ran(name)
    for case in CASES:
        check = next(c for c in run.checks if c.id == f"flight.elevator.authority.{case}")
        wanted = run.result(f"flight.elevator.wake.{case}")
        assert check.parents == (wanted.id,) and check.value == -wanted.low
        assert wanted.steps[-1].value == wanted.low


def bands(band: Band) -> tuple[float, float, float]:
    return band.value, band.low, band.high
