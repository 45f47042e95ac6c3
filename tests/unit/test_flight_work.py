"""The flight room on a whole model: every answer is put back into the air room and must come out again."""

import math
from dataclasses import replace
from types import MappingProxyType, SimpleNamespace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shelf import shelf

from sparwright.air.atmosphere import atmosphere
from sparwright.air.node import node
from sparwright.air.stance import stances
from sparwright.base.axes import GRAVITY
from sparwright.base.source import Band
from sparwright.family.model import Measured, Section
from sparwright.family.reader import load
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.fast import cruise_speed
from sparwright.flight.fly import fly
from sparwright.flight.performance import crank_speeds
from sparwright.flight.stall import elevator_reach
from sparwright.flight.trim import attached, trimmed, untrimmed
from sparwright.mass.record import Balance, Loading
from sparwright.power.matching import full_pull
from sparwright.shape.lifting import planforms
from sparwright.shape.planform import reference

AIR = atmosphere(0.0)
SPLINE = 2e-4  # trim goes by splines through forces, a state by splines through circulations: both through 9 angles
FAMILY = load("examples/whinchat/whinchat.toml")


def up_travel(elevator: list[float]) -> float:
    """`elevator_reach` of a line with these elevator angles, rad, at lifts from 0.1 to 1, 0.3 rad of up travel."""
    lifts = np.linspace(0.1, 1.0, len(elevator))
    line = SimpleNamespace(
        last=1.0,
        states=lambda _: SimpleNamespace(lift=lifts, elevator=np.array(elevator)),
        plane=SimpleNamespace(model=SimpleNamespace(tailplane=SimpleNamespace(up=0.3))),
    )
    return elevator_reach(line, 1.0)  # type: ignore[arg-type]


def test_up_travel_that_is_not_enough_for_any_known_lift_gives_no_lift() -> None:
    """From 0.1 to 1 in nine steps: enough; 0.2 rad at 0.5 and 0.4 at 0.6, half way; too little from the first known."""
    assert up_travel([-0.2] * 10) == math.inf
    assert_allclose(up_travel([0.1, 0.0, -0.1, -0.15, -0.2, -0.4, -0.5, -0.6, -0.7, -0.8]), 0.55, rtol=1e-12)
    assert math.isnan(up_travel([math.nan] * 5 + [-0.4, -0.5, -0.6, -0.7, -0.8]))


def balance(model) -> Balance:
    """Two loadings, fore and aft, made up."""

    ref = reference(planforms(model))

    def case(name, mass, h):
        at = ref.station + h * ref.chord
        return Loading(name=name, mass=mass, station=at, waterline=0.1, fraction=h, fraction_low=h - 0.01,
                       fraction_high=h + 0.01, inertia=np.eye(3))  # fmt: skip

    return Balance(
        lines=(),
        empty=Band.relative(200.0, 0.05),
        empty_station=0.6,
        cases=(case("light", 270.0, 0.22), case("full", 350.0, 0.31)),
    )


def flown(model, struts=()):
    return fly(model, balance(model), struts, AIR, shelf)


@pytest.fixture(scope="module", params=sorted(FAMILY.models))
def flight(request):
    return flown(FAMILY.models[request.param])


@pytest.mark.parametrize("CL", [0.3, 0.6, 1.0])
def test_trimmed_states_put_back_into_the_lattice(flight, CL):
    plane, case = flight.flown.plane, flight.flown.cases["foremost"]
    at, state = case.line.states(CL), case.line.state(CL)
    assert_allclose(state.lift, CL, rtol=SPLINE)
    alpha = float(at.alpha[0])
    moment = state.moment_about(case.loading.station, case.loading.waterline) + plane.body_slopes[0] * alpha
    assert_allclose(moment, 0.0, rtol=0, atol=1e-3)  # 4 degrees between the last two angles; 0.001 chord of the lift
    assert_allclose(at.induced[0], state.induced_drag, rtol=SPLINE)
    assert_allclose(at.section[0], state.section_lift, rtol=0, atol=5 * SPLINE)
    assert_allclose(at.onset[0], state.onset, rtol=0, atol=SPLINE)


@pytest.mark.parametrize("CL", [0.3, 0.9, 1.1])
def test_every_strip_carries_what_its_section_does(flight, CL):
    """Read back from the states: the lift of each strip outside the body is its section's at the angle it works at."""
    plane, line = flight.flown.plane, flight.flown.cases["max_mass"].line
    at = line.states(CL)
    for name in plane.wings:
        strips, here = plane.strips[name], plane.company.strip_slices[name]
        re = line.per_metre(CL) * strips.chord
        real = strips.place("lift", at.works[0, here], re)
        assert_allclose(at.section[0, here][strips.outside], real[strips.outside], rtol=0, atol=2e-3)


def test_past_the_greatest_lift_there_is_no_trim(flight):
    line = flight.flown.cases["foremost"].line
    at = line.states(np.array([line.most - 1e-3, line.most + 1e-3]))
    assert np.isfinite(at.alpha[0]) and at.alpha[0] < line.company.range[1]
    assert np.isnan(at.alpha[1]) and np.isnan(at.elevator[1])


def test_untrimmed_tail_carries_nothing(flight):
    plane = flight.flown.plane
    state = untrimmed(plane, 350.0, AIR).state(0.5)
    assert_allclose(state.lift, 0.5, rtol=SPLINE)
    assert_allclose(state.surface_lift("tailplane"), 0.0, rtol=0, atol=5 * SPLINE)


def test_the_lattice_alone_has_no_stall_and_no_twist(flight):
    plane, case = flight.flown.plane, flight.flown.cases["heaviest"]
    line = attached(plane, (case.loading.station, case.loading.waterline), case.loading.mass, AIR)
    at = line.states(0.7)
    assert not at.twist.any() and math.isnan(line.most) and "no stall" in line.reason
    state = plane.company.state(float(at.alpha[0]), {"tailplane": float(at.elevator[0])})
    assert_allclose(state.lift, 0.7, rtol=SPLINE)


def test_the_stall_is_the_greatest_lift_and_begins_where_a_section_stalls(flight):
    """Worked out again from the states and the sections."""
    plane = flight.flown.plane
    for case in flight.flown.cases.values():
        s, line = case.stall, case.line
        assert s.speed.low < s.speed.value < s.speed.high
        lift = case.loading.mass * GRAVITY / (AIR.density * s.speed.value**2 / 2 * plane.area)
        assert_allclose(lift, s.lift.value, rtol=1e-9)
        assert s.section_end == line.most >= s.lift.value
        assert 0.9 * line.most < s.first_lift <= line.most
        strips, here = plane.strips[s.surface], plane.company.strip_slices[s.surface]
        i = int(np.argmin(np.abs(strips.y - s.buttline)))
        for CL, sign in ((s.first_lift - 0.01, -1), (min(s.first_lift + 0.005, line.most), 1)):
            re = line.per_metre(CL) * strips.chord
            spare = line.states(CL).works[0, here] - strips.stall_angle(re)
            assert sign * spare[i] >= -1e-3


def test_heavier_stalls_faster_and_thinner_air_too(flight):
    cases = flight.flown.cases
    assert cases["lightest"].stall.speed.value < cases["heaviest"].stall.speed.value


def test_drag_is_the_sum_of_its_items_and_its_bands_are_in_order(flight):
    drag = flight.flown.performance.drag
    for name, force in drag.items.items():
        known = np.isfinite(force[0])
        assert np.all(force[1][known] <= force[0][known]) and np.all(force[0][known] <= force[2][known]), name
    q = AIR.density * drag.speed**2 / 2
    plane, i = flight.flown.plane, 20
    at = drag.states
    state = plane.company.state(float(at.alpha[i]), {"tailplane": float(at.elevator[i])}, at.twist[i])
    assert_allclose(drag.items["induced"][0, i], q[i] * plane.area * state.induced_drag, rtol=SPLINE)
    assert_allclose(state.lift * q[i] * plane.area, flight.flown.model.limits.max_mass * GRAVITY, rtol=SPLINE)
    strips, here = plane.strips["tailplane"], plane.company.strip_slices["tailplane"]
    cd = strips.drag(drag.states.works[i : i + 1, here], (drag.speed[i] * strips.chord / AIR.kinematic)[None])[0, 0]
    met = state.onset[here] ** 2
    assert_allclose(drag.items["tailplane"][0, i], 2 * q[i] * np.sum(cd * met * strips.area), rtol=SPLINE)


def test_level_rows_and_top_speed_balance_thrust_and_drag(flight):
    model, p = flight.flown.model, flight.flown.performance
    moved = flight.flown.moved
    for row in p.rows:
        if math.isfinite(row.speed.value):
            point = moved.maps[0].at(row.speed.value, row.crank / model.engine.gear, AIR)
            assert_allclose(point.thrust, np.interp(row.speed.value, p.drag.speed, p.drag.total[0]), rtol=5e-3)
            assert row.throttle.value <= 1
        else:
            assert row.reason
    top = full_pull(model.engine, moved.maps[0], p.top.speed.value, AIR)
    assert_allclose(top.thrust, np.interp(p.top.speed.value, p.drag.speed, p.drag.total[0]), rtol=5e-3)
    assert p.climb.value.low < p.climb.value.value < p.climb.value.high
    assert p.climb.speed.value < p.top.speed.value


def test_faster_engine_faster_flight(flight):
    speeds = [r.speed.value for r in flight.rows if math.isfinite(r.speed.value)]
    assert len(speeds) >= 3 and speeds == sorted(speeds)


def test_every_result_says_what_it_is_and_where_it_comes_from(flight):
    ids = [r.id for r in flight.results]
    assert len(ids) == len(set(ids))
    for r in flight.results:
        assert r.title and r.unit and r.source and " " not in r.id
        assert math.isfinite(r.value) or r.caveat, r.id
        assert not r.low > r.value and not r.high < r.value, r.id
        assert all(parent in ids or parent.startswith("mass.") for parent in r.parents), r.id


def test_a_table_that_does_not_reach_leaves_unknowns_not_numbers():
    """The designer's table at one Reynolds number says nothing of another; nothing is held at its last value."""
    model = FAMILY.models["W1"]
    angles = np.radians([-8, -4, 0, 4, 8, 12, 14])
    lift = tuple(2 * np.pi * np.sin(angles) + 0.4)
    own = Measured(reynolds=1e5, source="a tunnel", angle=tuple(angles), lift=lift, give_or_take=0.03)
    section = Section(name="lifting", naca="4412", measured=(own,))
    model = replace(model, sections=MappingProxyType({**model.sections, "lifting": section}))
    flight = flown(model)
    found = {r.id: r for r in flight.results}
    stall = found["flight.stall.heaviest"]
    assert math.isnan(stall.value) and "lifting is known from Reynolds number 66,667 to 150,000" in stall.caveat
    assert math.isnan(found["flight.speed.max"].value)
    assert math.isfinite(found["flight.neutral_point"].value)
    assert {c.verdict for c in flight.checks if "elevator" in c.id} == {"unknown"}


def test_an_elevator_that_runs_out_ends_the_lift_and_fails_its_check():
    model = FAMILY.models["W1"]
    weak = flown(replace(model, tailplane=replace(model.tailplane, up=math.radians(4.0))))
    full = flown(model)
    s = weak.flown.cases["max_mass"].stall
    assert s.ended_by == "elevator"
    assert s.speed.value > full.flown.cases["max_mass"].stall.speed.value
    at = weak.flown.cases["max_mass"].line.states(s.lift.value)
    assert_allclose(float(at.elevator[0]) / EFFECTIVE.value, -math.radians(4.0), rtol=1e-3)
    verdicts = {c.id: c.verdict for c in weak.checks}
    assert verdicts["flight.elevator.authority.max_mass"] == "fail"


def test_engine_without_a_curve_is_unknown_all_the_way():
    model = FAMILY.models["W1"]
    flight = flown(replace(model, engine=replace(model.engine, curve=())))
    found = {r.id: r for r in flight.results}
    for id in ("flight.speed.max", "flight.climb.rate", "power.static.thrust", "flight.range"):
        assert math.isnan(found[id].value) and found[id].caveat, id


def test_an_engine_speed_that_would_take_too_much_says_so():
    model = FAMILY.models["W2"]
    coarse = replace(model, propeller=replace(model.propeller, pitch=1.3))
    flight = flown(coarse)
    reasons = [r.reason for r in flight.rows if not math.isfinite(r.speed.value)]
    assert any(r.startswith("out of reach") for r in reasons)


def test_round_engine_speeds():
    speeds = [round(60 * s) for s in crank_speeds(FAMILY.models["W2"].engine)]
    assert speeds == [2000, 2200, 2400, 2600, 2800, 3000, 3200, 3400]


def test_trim_refuses_a_dead_elevator(flight):
    plane = flight.flown.plane
    lattice = plane.company.mesh
    stuck = replace(lattice, hinges={"tailplane": np.zeros(lattice.panels)})
    nodes = tuple(node(stuck, a) for a in np.radians([-12, -4, 4, 12]).tolist())
    still = stances(replace(plane.company, mesh=stuck, nodes=nodes))
    dead = replace(plane, fitted=replace(plane.fitted, stances=still))
    with pytest.raises(ValueError, match="elevator"):
        trimmed(dead, (0.7, 0.1), 350.0, AIR)


def test_the_elevator_in_cruise_is_the_one_that_trims_there(flight):
    """Read back from the trimmed line at the cruise speed; up elevator at the stall, so it has moved down by then."""
    found = {r.id: r for r in flight.results}
    cruise, p = found["flight.elevator.cruise"], flight.flown.performance
    speed = cruise_speed(flight.flown)
    lift = flight.flown.model.limits.max_mass * GRAVITY / (AIR.density * speed**2 / 2 * flight.flown.plane.area)
    i = int(np.argmin(np.abs(p.drag.states.lift - lift)))
    assert_allclose(cruise.value * EFFECTIVE.value, p.drag.states.elevator[i], rtol=0, atol=2e-3)
    assert cruise.value > found["flight.elevator.stall.heaviest"].value + 0.1


def test_a_table_without_drag_says_so_where_the_drag_is_missing():
    """Lift is known and the stall with it; the drag of the wing and of the whole is not, and the row says why."""
    model = FAMILY.models["W1"]
    angles = np.radians(np.arange(-10.0, 21.0, 2.0))
    lift = tuple(np.where(angles < 0.27, 5.8 * angles + 0.4, 5.8 * 0.27 + 0.4 - 1.5 * (angles - 0.27)))
    rows = tuple(Measured(reynolds=re, source="a tunnel", angle=tuple(angles), lift=lift, give_or_take=0.03)
                 for re in (6e5, 1.3e6, 3e6, 6e6))  # fmt: skip
    section = Section(name="lifting", naca="4412", measured=rows)
    flight = flown(replace(model, sections=MappingProxyType({**model.sections, "lifting": section})))
    found = {r.id: r for r in flight.results}
    assert math.isfinite(found["flight.stall.max_mass"].value)
    wing = found["drag.wing"]
    assert math.isnan(wing.value) and "the table of lifting has no drag" in wing.caveat
    assert math.isnan(found["drag.total"].value)
