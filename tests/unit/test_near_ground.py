"""The aeroplane near the ground: how it stands, nothing felt far up, lift won, downwash lost, more elevator wanted."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose
from traces import trace

from sparwright.air.farwake import drag_matrix
from sparwright.family.model import Wheel
from sparwright.flight.near_ground import CASES, bottom, ground_checks, near, stand
from sparwright.flight.trim import untrimmed

MODELS = ("W1", "W2", "W3")


def wheel(name: str, radius: float, place: tuple[float, float, float]) -> Wheel:
    return Wheel(name=name, diameter=2 * radius, width=0.1, mass=4.0, place=place)


MAIN, AFT = wheel("main", 0.2, (0.5, 0.8, -0.9)), wheel("tail", 0.1, (4.5, 0.0, -0.2))


@pytest.fixture(scope="module", params=MODELS)
def flown(ran, request):
    return ran(request.param).flight.flown


def test_three_point_attitude_by_hand() -> None:
    """Axles 4 m and 0.7 m apart: atan(0.7/4) and, the main wheel being 0.1 m larger, asin(0.1/4.0608) on top."""
    on = stand((AFT, MAIN))
    assert_allclose(on.attitude, math.atan(0.7 / 4) + math.asin(0.1 / math.hypot(4, 0.7)), rtol=1e-12, atol=0)


def test_both_wheels_touch_at_three_points_and_one_of_them_elsewhere() -> None:
    on = stand((MAIN, AFT))
    a = on.attitude
    assert_allclose(bottom(MAIN, a), bottom(AFT, a), rtol=0, atol=1e-12)
    assert on.ground(a - 0.05) == bottom(MAIN, a - 0.05) < bottom(AFT, a - 0.05)
    assert on.ground(a + 0.05) == bottom(AFT, a + 0.05) < bottom(MAIN, a + 0.05)


def test_what_does_not_stand_on_three_points_says_so() -> None:
    nose = wheel("nose", 0.15, (-0.8, 0.0, -0.9))
    for wheels, says in (((MAIN,), "pair"), ((AFT,), "pair"), ((MAIN, nose), "nose stands ahead"), ((), "pair")):
        on = stand(wheels)
        assert math.isnan(on.attitude) and says in on.reason


def test_high_up_the_ground_is_not_felt(flown) -> None:
    """300 m up, some 40 spans: lift, downwash, induced drag and elevator as in free air."""
    line, on = flown.cases["max_mass"].line, stand(flown.model.wheels)
    found = near(line, on.attitude, -300.0)
    assert not found.reason
    for what in ("lift", "downwash", "induced", "elevator"):
        assert_allclose(getattr(found.ground, what), getattr(found.free, what), rtol=1e-4, atol=1e-5)


def test_free_air_is_the_trimmed_line(flown) -> None:
    line = flown.cases["max_mass"].line
    at = line.states(0.7)
    found = near(line, float(at.alpha[0]), -300.0)
    assert_allclose(found.free.lift, 0.7, rtol=3e-3, atol=0)
    assert_allclose(found.free.elevator, at.elevator[0], rtol=0, atol=3e-3)  # the line goes by splines


def test_near_the_ground_more_lift_less_downwash_less_drag_more_elevator(flown) -> None:
    """The nearer the more of each."""
    line, on = flown.cases["max_mass"].line, stand(flown.model.wheels)
    low = on.ground(on.attitude)
    each = [near(line, on.attitude, low - more, real=False) for more in (0.0, 0.5, 2.0)]
    free = each[0].free
    lifts = [n.ground.lift for n in each] + [free.lift]
    assert all(a > b for a, b in zip(lifts, lifts[1:], strict=False))
    for what in ("downwash", "induced"):
        values = [getattr(n.ground, what) for n in each] + [getattr(free, what)]
        assert all(a < b for a, b in zip(values, values[1:], strict=False))
    elevators = [n.ground.elevator for n in each] + [free.elevator]
    assert all(a < b for a, b in zip(elevators, elevators[1:], strict=False))
    assert_allclose(np.diff([n.height for n in each]), [0.5, 1.5], rtol=1e-9, atol=0)


def test_one_wing_without_tail_load_against_its_image(ran) -> None:
    """1 - sigma(2 h/b) of an elliptic loading at the mean height (naca-tm-77); 6 %: neither elliptic nor level."""
    flown = ran("W1").flight.flown
    on = stand(flown.model.wheels)
    line = untrimmed(flown.plane, flown.cases["max_mass"].loading.mass, flown.air)
    found = near(line, on.attitude, on.ground(on.attitude), real=False)
    span = flown.plane.company.reference.span
    wake = trace(np.array([[0.0, span / 2], [0.0, 0.0]]), 80)
    g = np.sqrt(1 - (2 * wake.middle[0] / span) ** 2)
    theirs, free = (g @ drag_matrix([wake], h) @ g for h in (-found.height, -np.inf))
    assert_allclose(found.ground.induced / found.free.induced, theirs / free, rtol=0.06, atol=0)


def test_what_cannot_be_is_refused_with_a_reason(flown) -> None:
    line = flown.cases["max_mass"].line
    assert "touch the ground" in near(line, 0.1, 0.0).reason
    assert "no trim is known" in near(line, 1.0, -300.0).reason


def test_results_and_checks(ran) -> None:
    for name in MODELS:
        run = ran(name)
        found = {r.id: r for r in run.results if r.id.startswith("flight.ground.")}
        whats = ("three_point", "stall", "approach")
        wanted = {f"flight.ground.elevator.{w}.{c}" for w in whats for c in CASES}
        wanted |= {f"flight.ground.{w}" for w in ("attitude", "speed", "lift", "downwash", "induced")}
        assert set(found) == wanted
        assert all(r.band.known or r.caveat for r in found.values())
        assert found["flight.ground.lift"].low > 1 > found["flight.ground.induced"].high
        checks = {c.id: c for c in run.checks}
        for c in ground_checks(run.flight.flown, found):
            three = found[c.id.replace("elevator", "elevator.three_point")]
            assert checks[c.id].value == c.value == -three.low
            assert c.limit == run.flight.flown.model.tailplane.up
            assert c.verdict == ("pass" if -three.low <= c.limit else "fail")
