"""What must hold of any propeller: scale with density, turning and size; the disc is never beaten."""

from types import SimpleNamespace

import numpy as np
import pytest
from blades import Plain, computed
from numpy.testing import assert_allclose

from sparwright.family.model import Propeller
from sparwright.power.blade_section import ANGLES
from sparwright.power.disc import ideal_efficiency
from sparwright.power.propeller import propeller_map, run, standard_blade


def air(density=1.225):
    return SimpleNamespace(density=density, viscosity=1.78938e-5, sound=340.294)


def propeller(diameter=1.5, pitch=0.9):
    return Propeller(diameter=diameter, pitch=pitch, blades=2, mass=4.0, place=(0.0, 0.0, 0.0))


def fixed() -> Plain:
    """The Clark Y at one Reynolds number, so that scaling is exact."""
    one = data(standard_blade(propeller())).sections[0]
    return Plain(ANGLES, one.lift[-1], one.drag[-1])


def data(blade):
    return computed(blade, 25.0, 45.0, air())


@pytest.mark.parametrize("J", [0.0, 0.2, 0.5, 0.7])
def test_coefficients_do_not_know_density_turning_or_size(J):
    base = run(standard_blade(propeller()), J * 30 * 1.5, 30.0, air(), fixed())
    for diameter, n, density in ((1.5, 30.0, 0.6), (1.5, 20.0, 1.225), (3.0, 15.0, 1.0)):
        other = run(standard_blade(propeller(diameter, 0.6 * diameter)), J * n * diameter, n, air(density), fixed())
        assert_allclose(other.thrust_coefficient, base.thrust_coefficient, rtol=1e-9)
        assert_allclose(other.power_coefficient, base.power_coefficient, rtol=1e-9)
        assert_allclose(other.thrust, base.thrust * density / 1.225 * (n / 30) ** 2 * (diameter / 1.5) ** 4, rtol=1e-9)


@pytest.mark.parametrize("speed", [10.0, 20.0, 30.0])
def test_never_better_than_the_disc(speed):
    blade = standard_blade(propeller())
    p = run(blade, speed, 40.0, air(), data(blade))
    assert 0 < p.efficiency < ideal_efficiency(p.thrust, speed, np.pi * 1.5**2 / 4, 1.225)


def test_map_gives_what_the_run_gives_between_its_knots():
    blade = standard_blade(propeller())
    chart = propeller_map(blade, 40.0, air(), data(blade))
    for J in (0.013, 0.21, 0.487, 0.71):
        p = run(blade, J * 40 * 1.5, 40.0, air(), data(blade))
        ct, cp = chart.coefficients(J)
        assert_allclose([ct, cp], [p.thrust_coefficient, p.power_coefficient], rtol=0, atol=3e-4)


def test_more_pitch_takes_more_power():
    blades = [standard_blade(propeller(pitch=p)) for p in (0.7, 0.9, 1.1)]
    powers = [run(b, 20.0, 40.0, air(), data(b)).power for b in blades]
    assert powers[0] < powers[1] < powers[2]
