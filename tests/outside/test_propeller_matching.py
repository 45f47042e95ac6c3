"""Fixed-pitch matching. Source: B. Jones, Elements of Practical Aerodynamics, ex. 15.1 to 15.3.

CT and CP at blade angle 23 deg are chart readings of the source and go in as the propeller's map; 6 ft, 125 mph,
2200 rpm, full throttle, constant engine torque. Answers recomputed from the printed formulas: three printed
digits of the speed ratio, one decimal of a pound; J 0.8333 falls between chart readings given to 0.001.
"""

import math
from types import SimpleNamespace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.quantity import parse, to
from sparwright.base.record import locked
from sparwright.family.model import CurvePoint, Engine
from sparwright.power.matching import constant_torque_ratio, full_pull
from sparwright.power.propeller import PropellerMap

AIR = SimpleNamespace(density=parse("0.002378 kg/m3", "density") * 515.379, viscosity=1.78938e-5, sound=340.294)
J = [0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.8335]
CT = [0.198, 0.186, 0.173, 0.16, 0.144, 0.132, 0.12, 0.1, 0.082, 0.075]
CP = [0.127, 0.124, 0.122, 0.118, 0.112, 0.108, 0.103, 0.093, 0.08, 0.076]
CHART = PropellerMap(parse("6 ft", "length"), locked(J), locked(CT), locked(CP))
V0, N0 = parse("125 mph", "speed"), parse("2200 rpm", "turning")


def engine() -> Engine:
    """Constant torque, as much as the propeller takes at 125 mph and 2200 rpm."""
    power = 0.076 * AIR.density * N0**3 * CHART.diameter**5
    curve = tuple(CurvePoint(speed=f * N0, power=f * power, consumption=1e-7) for f in (0.5, 1.0, 1.2))
    return Engine(name="torque", strokes=4, cylinders=4, mass=100.0, mass_band=0.0, place=(0.0, 0.0, 0.0), curve=curve)


def test_thrust_at_design_point():
    thrust = 0.075 * AIR.density * N0**2 * CHART.diameter**4
    assert_allclose(to(thrust, "lbf"), 310.8, rtol=0, atol=0.15)  # density printed to four digits


@pytest.mark.parametrize(
    ("advance", "coefficient", "ratio"), [(0.7, 0.093, 0.904), (0.5, 0.108, 0.839), (0.0, 0.127, 0.774)]
)
def test_speed_ratio_by_formula_and_by_matching(advance, coefficient, ratio):
    assert_allclose(constant_torque_ratio(coefficient, 0.076), ratio, rtol=0, atol=5e-4)
    pull = full_pull(engine(), CHART, advance * ratio * N0 * CHART.diameter, AIR)
    assert pull.held_by == "throttle"
    assert_allclose(pull.turning / N0, ratio, rtol=0, atol=1e-3)  # the chart's slope times the ratio's last digit


def test_thrust_of_the_engine_propeller_pair_by_constant_torque():
    """T = T0 (CP0/CT0)(CT/CP): 384.9 lb at J 0.5, 490.9 lb standing; last digit and the ratio's rounding, 0.3 %."""
    for advance, thrust in ((0.5, 384.9), (0.0, 490.9)):
        n = np.interp(advance, [0.0, 0.5], [0.7736, 0.8389]) * N0
        pull = full_pull(engine(), CHART, advance * n * CHART.diameter, AIR)
        assert_allclose(to(pull.thrust, "lbf"), thrust, rtol=3e-3)


def test_500_horsepower():
    """Ex. 15.1: 500 hp, 180 mph, 1900 rpm, 9 ft, 0.001756 slug/ft3: CP 0.0835, J 0.9265, with CT 0.074 855 lb, 0.821.

    Slide-rule digits: J is 0.9263 by the same inputs."""
    rho, n, D, V = 0.001756 * 515.379, 1900 / 60, 9 * 0.3048, parse("180 mph", "speed")
    cp = parse("500 hp", "power") / (rho * n**3 * D**5)
    thrust = 0.074 * rho * n**2 * D**4
    assert_allclose(cp, 0.0835, rtol=0, atol=1e-4)
    assert_allclose(V / (n * D), 0.9265, rtol=0, atol=3e-4)
    assert_allclose(to(thrust, "lbf"), 855, rtol=0, atol=1)
    chart = PropellerMap(D, locked([0.9, 0.9265, 1.0]), locked([0.08, 0.074, 0.06]), locked([0.088, 0.0835, 0.07]))
    air = SimpleNamespace(density=rho, viscosity=1.7e-5, sound=330.0)
    point = chart.at(0.9265 * n * D, n, air)
    assert_allclose(point.efficiency, 0.821, rtol=0, atol=1e-3)
    assert math.isclose(point.torque * 2 * math.pi * n, point.power)
