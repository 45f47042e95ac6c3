"""Forces laid out: they come to what the lattice says, mirror, scale, and what is unknown is no number."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from aloft import MODELS, Made, case, made
from numpy.testing import assert_allclose

from sparwright.air.mesh import turned_by
from sparwright.air.node import node
from sparwright.air.odd_panels import odd_panels
from sparwright.air.sideways import sideways
from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.drag import build
from sparwright.flight.trim import attached
from sparwright.handling.flap import flap
from sparwright.loads.air_forces import cg, level_lift, pressure
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.fin_forces import fin_half
from sparwright.loads.halves import even, laid, odd
from sparwright.loads.lay import laid_out
from sparwright.loads.ready import balanced, held, pitched
from sparwright.loads.tail import ADDED, PITCHING
from sparwright.loads.tail_forces import other_tail
from sparwright.loads.together import joined, mirrored, on_those, resultant
from sparwright.shape.lifting import camber, thickness

EXACT = 1e-9  # the state itself is balanced; 1e-11 rad of its angle are 1e-10 of its lift
BETWEEN = 1e-3  # of the lift and of q S c: a lattice laid at the angle itself against the spline through 11 angles


@pytest.fixture(params=MODELS)
def ready(request: pytest.FixtureRequest) -> Made:
    return made(request.param)


def centre(c: LoadCase) -> tuple[float, float, float]:
    return c.station, 0.0, c.waterline


def along(force: np.ndarray, alpha: float) -> tuple[float, float]:
    x, _, z = turned_by(force, alpha)
    return float(x), float(z)


@pytest.mark.parametrize("factor, speed", [(3.8, 35.0), (1.0, 40.0), (-1.5, 40.0), (-1.5, 60.0)])
def test_all_forces_come_to_lift_drag_and_no_moment(ready: Made, factor: float, speed: float) -> None:
    """Lift of the case; drag of the lattice and of every item; moment about the centre of gravity that of the drag."""
    c = case(ready, "A", "manoeuvre", factor, speed)
    found = laid_out(c, ready[0])
    q, S, at = pressure(c), ready[0].plane.area, balanced(ready[0], c.lift, cg(c))
    drag, lift = along(resultant(found.pushes)[0], found.alpha)
    assert_allclose(lift, q * S * c.lift, rtol=EXACT)
    assert_allclose(lift, q * at.state.totals[1], rtol=1e-10)
    state = even(at.state, at.lattice.cut, at.turned)
    wings = joined([laid(h, side, q, name, "flap") for name, h in state.items() for side in ("R", "L")])
    force, moment = resultant(wings)
    assert_allclose(along(force, at.alpha), q * np.array(at.state.totals[:2]), rtol=1e-10)
    assert_allclose(moment, [0, q * at.state.totals[2], 0], rtol=1e-10, atol=1e-9 * q)
    assert drag > q * at.state.totals[0]
    body = ready[0].plane.body_slopes[0] * at.alpha * q * S * ready[0].plane.chord
    about = resultant(wings, centre(c))[1][1] + body
    assert abs(about) < EXACT * q * S * ready[0].plane.chord


@pytest.mark.parametrize("factor, speed", [(3.8, 35.0), (1.0, 40.0), (-1.5, 40.0), (-1.5, 60.0)])
def test_a_lattice_laid_at_the_angle_itself_says_nearly_the_same(ready: Made, factor: float, speed: float) -> None:
    c = case(ready, "A", "manoeuvre", factor, speed)
    at = balanced(ready[0], c.lift, cg(c))
    own = replace(at.state.company, nodes=(node(at.state.company.mesh, at.alpha),)).state(at.alpha, at.turned)
    assert_allclose(own.lift, c.lift, rtol=BETWEEN)
    assert abs(own.moment_about(*cg(c)) + ready[0].plane.body_slopes[0] * at.alpha) < BETWEEN


def test_pitched_has_the_moment_asked_for(ready: Made) -> None:
    c = case(ready, "A", "manoeuvre", 3.8, 35.0)
    level = balanced(ready[0], c.lift, cg(c))
    at = pitched(ready[0], level, 0.05, cg(c))
    assert at.alpha == level.alpha and at.elevator < level.elevator
    moment = at.state.moment_about(*cg(c)) + ready[0].plane.body_slopes[0] * at.alpha
    assert_allclose(moment, 0.05, rtol=EXACT)


def test_drag_is_that_of_the_build_up(ready: Made) -> None:
    """Item by item the same but for the induced: near the wings here, far behind there."""
    h, plane = ready[1], ready[0].plane
    line = attached(plane, (h.station, h.waterline), h.mass, ready[0].air)
    speeds = np.array([32.0, 45.0])
    built = build(plane, line, h.mass, speeds, ready[0].air)
    for i, speed in enumerate(speeds):
        c = case(ready, "L", "manoeuvre", 1.0, float(speed))
        found = laid_out(c, ready[0])
        q, at = pressure(c), balanced(ready[0], c.lift, cg(c))
        rest = along(resultant(found.pushes)[0], found.alpha)[0] - q * at.state.totals[0]
        assert_allclose(rest, built.total[0, i] - built.items["induced"][0, i], rtol=1e-4)


def test_straight_flight_is_its_own_mirror(ready: Made) -> None:
    c = case(ready, "A", "manoeuvre", 3.8)
    p = laid_out(c, ready[0]).pushes
    other = mirrored(p)
    force, moment = resultant(p, centre(c))
    assert_allclose(force[1], 0, atol=1e-8 * c.mass * GRAVITY)
    assert_allclose(moment[[0, 2]], 0, atol=1e-7 * c.mass * GRAVITY)
    assert_allclose(_by_name(p), _by_name(other), atol=1e-7 * c.mass * GRAVITY)
    assert {n for n in p.on if n.endswith(":R")} == {n[:-1] + "R" for n in p.on if n.endswith(":L")}


def _by_name(p: Pushes) -> np.ndarray:
    """Force and moment of all that each thing takes, by its name."""
    return np.array([np.concatenate(resultant(on_those(p, n))) for n in sorted(set(p.on))])


def test_doubled_pressure_doubles_the_air_on_the_wings(ready: Made) -> None:
    slow = case(ready, "A", "manoeuvre", 2.0)
    fast = replace(slow, speed=slow.speed * math.sqrt(2))
    at = balanced(ready[0], slow.lift, cg(slow))
    half = even(at.state, at.lattice.cut, at.turned)[ready[0].plane.wings[0]]
    one, two = (laid(half, "L", pressure(c), "a", "b") for c in (slow, fast))
    assert_allclose(two.force, 2 * one.force, rtol=1e-12)
    assert_allclose(two.moment, 2 * one.moment, rtol=1e-12)


def test_the_hinge_parts_a_strip_without_changing_it(ready: Made) -> None:
    c = case(ready, "A", "manoeuvre", 3.8)
    at = balanced(ready[0], c.lift, cg(c))
    for half in even(at.state, at.lattice.cut, at.turned).values():
        whole = replace(half, behind=0 * half.behind, hinge=0 * half.hinge)
        parted, one = (resultant(laid(h, "R", 1.0, "a", "b")) for h in (half, whole))
        assert_allclose(np.concatenate(parted), np.concatenate(one), rtol=1e-10, atol=1e-10)


def test_hinge_moment_is_that_of_the_stick_force(ready: Made) -> None:
    """The same sum as handling/flap.py, which does not know of forces; thin aerofoil, nothing cut away at the root."""
    plane, model = ready[0].plane, ready[0].model
    c = case(ready, "A", "manoeuvre", 1.0)
    at = balanced(ready[0], c.lift, cg(c))
    f = flap(plane.company, camber(model), thickness(model), plane.tail)
    amounts = plane.stances.at(at.alpha).amounts({plane.tail: at.elevator})
    parts = f.at(at.alpha).parts(amounts)
    half = even(at.state, at.lattice.cut, at.turned)[plane.tail]
    assert_allclose(half.hinge.sum(), parts.angle + parts.flap * at.elevator, rtol=1e-6)


def test_odd_panels_come_to_the_moments_of_sideways(ready: Made) -> None:
    """The same equations summed elsewhere: force to the right, rolling and yawing moment about the stream's axes."""
    c = case(ready, "A", "manoeuvre", 1.5)
    at = balanced(ready[0], c.lift, cg(c))
    given = (at.state, cg(c), ready[0].fin, at.slopes)
    panels, sums = odd_panels(*given), sideways(*given)
    for name in panels.bound:
        each = odd(at.state, at.lattice.cut, panels, {name: 1.0})
        sides = [laid(h.times(k), s, 1.0, "a", "b") for h in each.values() for s, k in (("R", 1.0), ("L", -1.0))]
        fin = laid(fin_half(ready[0], panels, {name: 1.0}, at.alpha), "", 1.0, "fin", "rudder")
        for p, wanted in ((joined(sides), sums.wings[name]), (fin, sums.fin[name])):
            force, moment = resultant(p, centre(c))
            turned = turned_by(moment, at.alpha)
            found = np.array([force[1], -turned[0], -turned[2]])
            least = 1e-9 * max(abs(wanted.side), abs(wanted.roll), abs(wanted.yaw))
            assert_allclose(found, [wanted.side, wanted.roll, wanted.yaw], rtol=1e-8, atol=least)


def test_ailerons_the_other_way_are_the_mirror(ready: Made) -> None:
    one, two = (laid_out(case(ready, "r", "roll", 2.5, 40.0, {"aileron": d}), ready[0]).pushes for d in (0.2, -0.2))
    scale = ready[1].mass * GRAVITY
    assert_allclose(_by_name(one), _by_name(mirrored(two)), atol=1e-7 * scale)
    straight = laid_out(case(ready, "s", "manoeuvre", 2.5), ready[0]).pushes
    assert_allclose(one.force + two.force, 2 * straight.force, atol=1e-8 * scale)
    c = case(ready, "r", "roll", 2.5)
    assert resultant(one, centre(c))[1][0] < -0.1 * scale  # up on the right puts the right wing down


def test_a_steady_roll_has_no_moment_about_its_axis(ready: Made) -> None:
    c = case(ready, "r.steady", "roll", 2.5, 40.0, {"aileron": 0.2})
    still = laid_out(replace(c, key="r"), ready[0])
    turning = laid_out(c, ready[0])
    size = abs(resultant(still.pushes, centre(c))[1][0])
    assert abs(resultant(turning.pushes, centre(c))[1][0]) < 1e-6 * size


def test_one_half_carries_less(ready: Made) -> None:
    c = case(ready, "roll.unsymmetrical", "roll", 3.8)
    p = laid_out(c, ready[0]).pushes
    right, left = (resultant(on_those(p, *(f"wing:{w}:{s}" for w in ready[0].plane.wings)))[0] for s in ("R", "L"))
    assert_allclose(left[2], 0.7 * right[2], rtol=1e-9)
    c = case(ready, "tail.one_half.thrown", "tail", 3.8, 40.0, {"elevator": -0.1})
    p = laid_out(c, ready[0]).pushes
    right, left = (resultant(on_those(p, f"tailplane:{s}", f"elevator:{s}"))[0] for s in ("R", "L"))
    assert_allclose(left[2], other_tail(3.8) * right[2], rtol=1e-9)


def test_a_gust_on_the_tail_and_on_one_half_of_it(ready: Made) -> None:
    """The load that is asked for, upwards, on the tailplane; the left half then carries a part of all it has."""
    step = Step(ADDED, "", (), 600.0, "N")
    c = replace(case(ready, "tail.gust.C.up", "tail", 1.0), steps=(step,))
    level = laid_out(case(ready, "L", "manoeuvre", 1.0), ready[0]).pushes
    both, one = (laid_out(replace(c, key=k), ready[0]).pushes for k in (c.key, "tail.one_half.gust.C.up"))
    change = resultant(both)[0] - resultant(level)[0]
    assert_allclose(change[2], 600.0, rtol=0.03)  # square to the stream, what leans forward is small
    left = [resultant(on_those(p, "tailplane:L", "elevator:L"))[0] for p in (both, one)]
    assert_allclose(left[1], other_tail(ready[0].model.limits.n_positive) * left[0], rtol=1e-9)


def test_a_checked_manoeuvre_pitches_as_asked(ready: Made) -> None:
    c = replace(case(ready, "tail.checked.A.up", "tail", 1.0), steps=(Step(PITCHING, "", (), 4.0, "rad/s2"),))
    moments = []
    for found in (laid_out(c, ready[0], inertia=500.0), laid_out(replace(c, key="L", kind="manoeuvre"), ready[0])):
        moments.append(resultant(on_those(found.pushes, "wing", "aileron", "tailplane", "elevator"), centre(c))[1][1])
    assert_allclose(moments[0] - moments[1], 2000.0, rtol=0.03)  # with the elevator's own drag
    assert "inertia" in laid_out(c, ready[0]).outside


def test_a_gust_is_met_with_the_elevator_of_level_flight(ready: Made) -> None:
    """Lift as asked; the tail gains less than its own slope would give it: the downwash grows with the wings' lift."""
    c = case(ready, "gust", "gust", 3.0)
    found = laid_out(c, ready[0])
    before = balanced(ready[0], level_lift(c, ready[0].plane.area), cg(c))
    assert found.elevator == before.elevator
    assert_allclose(along(resultant(found.pushes)[0], found.alpha)[1], 3 * c.mass * GRAVITY, rtol=EXACT)
    after = held(ready[0], c.lift, before.elevator, cg(c))
    tail = ready[0].plane.tail
    gained = after.state.surface_lift(tail) - before.state.surface_lift(tail)
    area = 2 * float(ready[0].plane.strips[tail].area.sum())
    assert 0 < gained < 2 * math.pi * area * (after.alpha - before.alpha)


def test_an_elevator_turned_at_once_leaves_the_angle(ready: Made) -> None:
    c = case(ready, "tail.up", "tail", 1.0, 40.0, {"elevator": -0.3})
    found = laid_out(c, ready[0])
    assert_allclose(found.elevator, -0.3 * EFFECTIVE.value, rtol=1e-12)
    level = laid_out(case(ready, "L", "manoeuvre"), ready[0])
    assert found.alpha == level.alpha
    down = [resultant(on_those(x.pushes, "tailplane", "elevator"))[0][2] for x in (found, level)]
    assert down[0] < down[1]
    assert resultant(found.pushes, centre(c))[1][1] > 0  # nose up


def test_rudder_to_the_right_turns_the_nose_right_and_a_sideslip_too(ready: Made) -> None:
    c = case(ready, "y", "yaw", 1.0, 40.0, {"rudder": -0.3})
    force, moment = resultant(laid_out(c, ready[0]).pushes, centre(c))
    assert force[1] < 0 and moment[2] < 0
    slip = laid_out(replace(c, deflection={"sideslip": 0.1}), ready[0])
    force, moment = resultant(slip.pushes, centre(c))
    assert force[1] < 0 and moment[2] < 0  # wind from the right: pushed to the left, turned into it
    other = laid_out(replace(c, deflection={"sideslip": -0.1}), ready[0])
    assert_allclose(_by_name(mirrored(other.pushes)), _by_name(slip.pushes), atol=1e-6 * c.mass * GRAVITY)


def test_a_rudder_loads_the_fin_further_aft_than_a_sideslip(ready: Made) -> None:
    c = case(ready, "y", "yaw")
    at = balanced(ready[0], c.lift, cg(c))
    panels = odd_panels(at.state, cg(c), ready[0].fin, at.slopes)
    behind = []
    for name in ("sideslip", "rudder"):
        half = fin_half(ready[0], panels, {name: 1.0}, at.alpha)
        behind.append(-half.torsion.sum() / (half.normal @ half.cut.chord))
    assert -0.05 < behind[0] < 0.1 < behind[1] < 0.5


def test_what_the_lattice_does_not_know_is_no_number(ready: Made) -> None:
    found = laid_out(case(ready, "A", "manoeuvre", 30.0), ready[0])
    assert found.outside and np.isnan(found.pushes.force).all()
    doubted = laid_out(replace(case(ready, "A", "manoeuvre"), caveat="VS is not known"), ready[0])
    assert doubted.outside == "VS is not known" and np.isfinite(doubted.pushes.force).all()


def test_a_sideslip_throws_no_spike_next_to_the_plane_of_symmetry(ready: Made) -> None:
    """Each strip has both its legs: the sidewash on them all but cancels where circulation is even along the span."""
    c = case(ready, "A", "manoeuvre", 2.0)
    at = balanced(ready[0], c.lift, cg(c))
    panels = odd_panels(at.state, cg(c), ready[0].fin, at.slopes)
    for half in odd(at.state, at.lattice.cut, panels, {"sideslip": 1.0}).values():
        along = np.abs(half.normal / half.cut.width)
        assert along[0] < 1.5 * along[1:].max(), half.cut.name
