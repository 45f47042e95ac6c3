"""The surface of engine and propeller: it is the map and the engine at every place, and ends where they end."""

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shelf import shelf

from sparwright.air.atmosphere import atmosphere
from sparwright.family.model import CurvePoint, Engine, Propeller
from sparwright.flight.performance import mover
from sparwright.power.engine import fuel_flow, full_throttle
from sparwright.power.matching import full_pull
from sparwright.power.overspeed import full_throttle_limit, spun_free
from sparwright.power.surface import surface

AIR = atmosphere(0.0)
CURVE = tuple(CurvePoint(speed=s, power=p, consumption=8e-8) for s, p in ((30.0, 15e3), (45.0, 26e3), (55.0, 30e3)))
ENGINE = Engine(name="made up", strokes=4, cylinders=4, mass=60.0, mass_band=0.0, place=(0.0, 0.0, 0.0), curve=CURVE)
PROPELLER = Propeller(diameter=1.5, pitch=0.75, blades=2, mass=4.0, place=(0.0, 0.0, 0.0))


@pytest.fixture(scope="module")
def moved():
    return mover(ENGINE, PROPELLER, AIR, shelf)


def test_every_place_is_the_map_and_the_engine(moved):
    s = surface(ENGINE, moved.maps[0], AIR)
    assert 0.2 < s.reached.mean() < 0.9
    for i, j in np.argwhere(s.reached)[::97]:
        g, V = float(s.crank[i]), float(s.speed[j])
        p = moved.maps[0].at(V, g, AIR)
        assert_allclose([s.thrust[i, j], s.power[i, j]], [p.thrust, p.power], rtol=1e-12, atol=0)
        assert_allclose(s.throttle[i, j], p.power / full_throttle(ENGINE, g), rtol=1e-6, atol=0)
        fuel = fuel_flow(ENGINE, g, p.power, AIR)
        assert_allclose(s.fuel[:, i, j], [fuel.value, fuel.low, fuel.high], rtol=1e-9, atol=0)
        assert math.isnan(s.efficiency[i, j]) if V == 0 else 0 < s.efficiency[i, j] < 1 or s.thrust[i, j] < 0


def test_the_edge_is_full_throttle(moved):
    """At one flight speed the fastest engine speed that can be is the one that engine and propeller match at."""
    s = surface(ENGINE, moved.maps[0], AIR, speed=np.array([0.0, 20.0, 30.0]), crank=np.linspace(30.0, 55.0, 2001))
    for j, V in enumerate(s.speed):
        most = s.crank[np.flatnonzero(s.reached[:, j])[-1]]
        assert_allclose(most, full_pull(ENGINE, moved.maps[0], float(V), AIR).turning, rtol=0, atol=0.02)


def test_no_curve_no_surface(moved):
    assert not surface(replace(ENGINE, curve=()), moved.maps[0], AIR, crank=np.array([40.0])).reached.any()


def test_at_the_limit_full_throttle_turns_at_the_greatest_speed(moved):
    limit = full_throttle_limit(ENGINE, moved.maps, AIR)
    assert limit.low < limit.value < limit.high
    below, above = (full_pull(ENGINE, moved.maps[0], limit.value + d, AIR) for d in (-0.2, 0.2))
    assert below.held_by == "throttle" and above.held_by == "engine speed"
    assert_allclose(below.turning, 55.0, rtol=5e-3, atol=0)


def test_a_higher_permitted_speed_moves_the_limit_up_and_a_fine_pitch_down(moved):
    limit = full_throttle_limit(ENGINE, moved.maps, AIR).value
    assert full_throttle_limit(replace(ENGINE, greatest_speed=58.0), moved.maps, AIR).value > limit
    fine = mover(ENGINE, replace(PROPELLER, pitch=0.3), AIR, shelf)
    assert full_throttle_limit(ENGINE, fine.maps, AIR).value < limit
    tiny = mover(ENGINE, replace(PROPELLER, pitch=0.3, diameter=1.1), AIR, shelf)
    assert full_throttle_limit(ENGINE, tiny.maps, AIR).value == 0.0, "it overspeeds standing"


def test_spun_free_goes_with_speed_and_gear_and_takes_no_power(moved):
    one = spun_free(ENGINE, moved.maps, 40.0)
    assert_allclose(spun_free(ENGINE, moved.maps, 80.0).value, 2 * one.value, rtol=1e-9, atol=0)
    assert_allclose(spun_free(replace(ENGINE, gear=2.0), moved.maps, 40.0).value, 2 * one.value, rtol=1e-9, atol=0)
    assert abs(moved.maps[0].at(40.0, one.value, AIR).power) < 1.0
    assert one.low < one.value < one.high
    assert not spun_free(ENGINE, (), 40.0).known
    assert not full_throttle_limit(replace(ENGINE, curve=()), moved.maps, AIR).known
