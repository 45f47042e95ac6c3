"""Outside its range a method says NaN and why; it never clamps."""

import math
from types import SimpleNamespace

import numpy as np
import pytest
from blades import computed

from sparwright.family.model import CurvePoint, Engine, Propeller
from sparwright.power.engine import fuel_flow, full_throttle
from sparwright.power.matching import full_pull, full_thrust
from sparwright.power.propeller import propeller_map, run, standard_blade

AIR = SimpleNamespace(density=1.225, viscosity=1.78938e-5, sound=340.294)
CURVE = tuple(
    CurvePoint(speed=s, power=p, consumption=0.3 / 3.6e6) for s, p in ((30.0, 15e3), (45.0, 26e3), (55.0, 30e3))
)


def engine(curve=CURVE) -> Engine:
    return Engine(name="made up", strokes=4, cylinders=4, mass=60.0, mass_band=0.0, place=(0.0, 0.0, 0.0), curve=curve)


def blade(pitch=0.8):
    return standard_blade(Propeller(diameter=1.5, pitch=pitch, blades=2, mass=4.0, place=(0.0, 0.0, 0.0)))


def test_engine_outside_its_curve_is_unknown():
    assert math.isnan(full_throttle(engine(), 29.9))
    assert math.isnan(full_throttle(engine(), 55.1))
    assert math.isnan(full_throttle(engine(()), 40.0))
    assert full_throttle(engine(), 45.0) == 26e3


def test_fuel_at_part_throttle_has_a_wide_band_and_an_end():
    part = fuel_flow(engine(), 45.0, 15e3)
    assert part.low < part.value < part.high
    full = fuel_flow(engine(), 45.0, 26e3)
    assert full.low == full.high == pytest.approx(26e3 * 0.3 / 3.6e6)
    assert math.isnan(fuel_flow(engine(), 45.0, 5e3).value)
    assert math.isnan(fuel_flow(engine(), 45.0, 27e3).value)


def test_propeller_too_fast_at_the_tip_is_unknown():
    data = computed(blade(), 40.0, 66.0, AIR)
    assert math.isfinite(run(blade(), 20.0, 50.0, AIR, data).thrust)
    assert math.isnan(run(blade(), 20.0, 66.0, AIR, data).thrust)
    assert math.isnan(propeller_map(blade(), 40.0, AIR, data).at(20.0, 66.0, AIR).thrust)


def test_map_ends_where_the_theory_ends():
    chart = propeller_map(blade(), 40.0, AIR, computed(blade(), 40.0, 40.0, AIR))
    assert math.isnan(float(chart.coefficients(chart.advance[-1] + 0.01)[0]))


def test_section_outside_its_reynolds_numbers_is_unknown():
    section = computed(blade(), 40.0, 40.0, AIR).sections[0]
    for reynolds in (1e4, 1e8):  # this blade's polars begin above the least of all
        assert np.isnan(section.at(np.array([reynolds]))(np.array([0.1]))[0]).all()
    assert np.isfinite(section.at(np.array([5e5]))(np.array([0.1]))[0]).all()


def test_three_ways_a_pair_can_be_held():
    fine, right, coarse = (
        propeller_map(blade(p), 50.0, AIR, computed(blade(p), 50.0, 50.0, AIR)) for p in (0.4, 0.9, 3.0)
    )
    assert full_pull(engine(), fine, 20.0, AIR).held_by == "engine speed"
    held = full_pull(engine(), right, 20.0, AIR)
    assert held.held_by == "throttle"
    assert held.power == pytest.approx(full_throttle(engine(), held.turning), rel=2e-3)
    speeds = np.array([0.0, 5.0, 20.0, 30.0, 60.0])
    for chart in (fine, right, coarse):
        one_by_one = [full_pull(engine(), chart, float(v), AIR).thrust for v in speeds]
        np.testing.assert_allclose(full_thrust(engine(), chart, speeds, AIR), one_by_one, rtol=1e-12, atol=1e-9)
    none = full_pull(engine(), coarse, 20.0, AIR)
    assert math.isnan(none.thrust) and "lowest speed" in none.reason
    assert "curve" in full_pull(engine(()), right, 20.0, AIR).reason
