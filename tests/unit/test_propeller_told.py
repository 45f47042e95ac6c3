"""Engine and propeller as told of a demo model: working that can be followed, checks that fail and do not know."""

import math
from dataclasses import replace

import pytest
from numpy.testing import assert_allclose

from sparwright.flight.fast import cruise_row
from sparwright.flight.overspeed_told import overspeed_told
from sparwright.flight.propeller_told import blade_words, flying_results, standing_results
from sparwright.power.matching import full_pull


@pytest.fixture(scope="module")
def flown(ran):
    return ran("W2").flight.flown


def refitted(flown, limits=None, **engine):
    """The same aeroplane with an engine changed, its propeller's maps kept."""
    changed = replace(flown.model.engine, **engine)
    model = replace(flown.model, engine=changed, limits=limits or flown.model.limits)
    moved = replace(flown.moved, engine=changed)
    return replace(flown, model=model, performance=replace(flown.performance, moved=moved))


def test_standing_thrust_follows_from_its_working_and_stays_below_the_disc(flown):
    thrust, crank = standing_results(flown)
    takes, gives, disc, ratio = thrust.steps
    of = {name: value for name, value, _ in gives.given}
    assert_allclose(of["CT"] * of["rho"] * of["n"] ** 2 * of["D"] ** 4, thrust.value, rtol=1e-9)
    assert_allclose(takes.value, full_pull(flown.model.engine, flown.moved.maps[0], 0.0, flown.air).power, rtol=1e-9)
    assert 0.5 < ratio.value < 1 and disc.value > thrust.value
    assert thrust.low < thrust.value < thrust.high and crank.low < crank.value < crank.high
    assert_allclose(crank.value, of["n"] * flown.model.engine.gear, rtol=1e-9)
    assert 0.85 < crank.steps[-1].value < 1.15  # by hand from one measured propeller


def test_efficiency_in_cruise_is_below_the_disc(flown):
    row = cruise_row(flown)
    climb, cruise = flying_results(flown, row)
    assert 0.6 < cruise.value < cruise.steps[1].value < 1
    assert climb.low < climb.value < climb.high
    assert not next(iter(r for r in flying_results(flown, None) if r.id.endswith("efficiency"))).band.known


def test_over_speed_passes_fails_and_does_not_know(flown):
    _, (climb, dive) = overspeed_told(flown, 50.0)
    assert {climb.verdict, dive.verdict} == {"pass"}
    assert "none is given" in climb.caveat
    low = refitted(flown, greatest_speed=flown.model.engine.curve[1].speed)
    _, (climb, dive) = overspeed_told(low, 50.0)
    assert climb.verdict == "fail" and "as the file says" in climb.caveat
    assert [c.verdict for c in overspeed_told(flown, math.nan)[1]] == ["pass", "unknown"]
    fast = refitted(flown, limits=replace(flown.model.limits, never_exceed=90.0))
    assert overspeed_told(fast, 50.0)[1][1].verdict == "fail"
    bare = refitted(flown, curve=())
    assert [c.verdict for c in overspeed_told(replace(bare, performance=replace(
        bare.performance, moved=replace(bare.moved, maps=()))), 50.0)[1]] == ["unknown", "unknown"]  # fmt: skip


def test_over_speed_by_hand(flown):
    full, free = overspeed_told(flown, 50.0)[0]
    engine, D = flown.model.engine, flown.model.propeller.diameter
    power, speed = full.steps
    assert_allclose(power.value, engine.curve[-1].power, rtol=2e-3)
    of = {name: value for name, value, _ in speed.given}
    assert_allclose(of["J"] * of["n"] * D, full.value, rtol=1e-9)
    of = {name: value for name, value, _ in free.steps[0].given}
    assert of["VNE"] == 45.0
    assert_allclose(of["g"] * of["VNE"] / (of["J0"] * D), free.value, rtol=1e-9)


def test_the_surface_is_where_level_flight_is(flown):
    """Each level row lies on it: thrust at its speeds is the drag there."""
    s = flown.surface
    for row in flown.performance.rows:
        if row.fuel.known:
            i, j = abs(s.crank - row.crank).argmin(), abs(s.speed - row.speed.value).argmin()
            assert s.reached[i, j]
            assert abs(s.power[i, j] / row.power.value - 1) < 0.12  # a grid's step away
    assert s.fuel.shape == (3, *s.thrust.shape)


def test_words_of_a_blade_say_what_it_is(flown):
    assert "standard blade" in blade_words(flown)
    told = replace(flown, model=replace(flown.model, propeller=replace(flown.model.propeller, blade=(None,) * 6)))
    assert "6 stations" in blade_words(told)
