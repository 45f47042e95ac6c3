"""What must hold of any aeroplane: with mass, with balance, with something draggy hung on it."""

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shelf import shelf

from sparwright.air.atmosphere import atmosphere
from sparwright.air.drag import StrutForDrag
from sparwright.family.reader import load
from sparwright.flight.aeroplane import aeroplane
from sparwright.flight.drag import build
from sparwright.flight.performance import _crossing, best_climb, most_speed, mover
from sparwright.flight.stability import neutral_point
from sparwright.flight.stall import stall
from sparwright.flight.trim import attached, trimmed

AIR = atmosphere(0.0)
MODELS = load("examples/whinchat/whinchat.toml").models
SPEED = np.linspace(24.0, 60.0, 37)  # clear of the stall of all three


@pytest.fixture(params=sorted(MODELS))
def plane(request):
    return aeroplane(MODELS[request.param], (), AIR, shelf)


def place(plane, h):
    return plane.chord_station + h * plane.chord, 0.1


def test_twice_the_mass_stalls_a_little_under_root_two_faster(plane):
    """Root two at the same cl max, a little less because cl max grows with Reynolds number."""
    heavy, light = (stall(trimmed(plane, place(plane, 0.3), m, AIR)).speed.value for m in (500.0, 250.0))
    ratio = heavy / light
    assert 0.93 * math.sqrt(2) < ratio < math.sqrt(2)


def test_balance_forward_wants_more_up_elevator_and_stalls_faster(plane):
    lines = [trimmed(plane, place(plane, h), 350.0, AIR) for h in (0.2, 0.3)]
    elevators = [float(line.states(1.0).elevator[0]) for line in lines]
    speeds = [stall(line).speed.value for line in lines]
    assert elevators[0] < elevators[1]
    assert speeds[0] > speeds[1]


def test_neutral_point_hardly_knows_the_balance_it_is_worked_out_from(plane):
    """Only through the elevator that trims: the lift leans, so a little is left."""
    found = [neutral_point(plane, place(plane, h), 0.6, 350.0, AIR).value for h in (0.2, 0.3)]
    assert_allclose(found[0], found[1], rtol=0, atol=0.01)


def test_elevator_does_not_move_at_the_neutral_point(plane):
    """With the centre of gravity there, de/dCL is nought (anderson-flight ch. 7)."""
    h = 0.3
    for _ in range(3):  # the elevator that trims moves it a little
        h = neutral_point(plane, place(plane, h), 0.6, 350.0, AIR).value
    at = attached(plane, place(plane, h), 350.0, AIR).states(np.array([0.55, 0.65]))
    forward = attached(plane, place(plane, h - 0.1), 350.0, AIR).states(np.array([0.55, 0.65]))
    assert abs(np.diff(at.elevator)[0]) < 0.01 * abs(np.diff(forward.elevator)[0])


def test_something_draggy_costs_its_own_drag_speed_and_climb(plane):
    hung = replace(plane, struts=(StrutForDrag("mast", 2.0, 0.1, "round", 1),))
    line = trimmed(plane, place(plane, 0.28), 380.0, AIR)
    clean, dirty = (build(p, line, 380.0, SPEED, AIR) for p in (plane, hung))
    assert np.all(dirty.total[0] > clean.total[0] + dirty.items["mast"][0])  # its end fittings come on top
    moved = mover(plane.model.engine, plane.model.propeller, AIR, shelf)
    assert most_speed(moved, dirty, AIR).value.value < most_speed(moved, clean, AIR).value.value
    climbs = [best_climb(moved, d, 380.0, AIR, 24.0).value.value for d in (clean, dirty)]
    assert climbs[1] < climbs[0]


def test_induced_drag_is_a_parabola_in_the_mass(plane):
    """Trimmed angles are nearly straight in CL, so three masses tell a fourth; twist keeps it from m squared."""
    line = trimmed(plane, place(plane, 0.28), 380.0, AIR)
    masses = np.array([200.0, 300.0, 400.0, 350.0])
    d = np.array([build(plane, line, m, SPEED, AIR).items["induced"][0][:10] for m in masses])
    a, b, c = masses[:3]
    m = masses[3]
    told = (
        d[0] * (m - b) * (m - c) / ((a - b) * (a - c))
        + d[1] * (m - a) * (m - c) / ((b - a) * (b - c))
        + d[2] * (m - a) * (m - b) / ((c - a) * (c - b))
    )
    np.testing.assert_allclose(d[3], told, rtol=1e-3, atol=0)
    assert np.all(d[2] > 2 * d[0]), "and heavier costs more"


def test_the_higher_of_two_crossings_is_taken_to_the_step():
    """spare = -(v - 20)(v - 40): from below at 20, from above at 40; a straight line is met exactly."""
    v = np.linspace(15.3, 60.0, 400)
    assert_allclose(_crossing(v, -(v - 20) * (v - 40)), 40.0, rtol=1e-4)
    assert_allclose(_crossing(v, 33.3 - v), 33.3, rtol=1e-12)
    assert math.isnan(_crossing(v, v - 5))
