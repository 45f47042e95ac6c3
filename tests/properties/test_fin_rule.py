"""The force across a propeller's axis: the rule of the fin beside blade elements, and what must hold of it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.optimize import brentq

from sparwright.family.model import Propeller
from sparwright.power.fin_rule import GIVE, fin_slope, side_area
from sparwright.power.propeller import standard_blade

RHO, SLOPE = 1.225, 5.73  # slope of a section, 1/rad
PITCHES = (0.6, 0.8, 1.0, 1.2)  # m, of a propeller of 1.7 m


def across(blade, V: float, turning: float) -> tuple[float, float]:
    """(N/q for each radian, m2, thrust N) by elements that keep the flow through the disc as it is.

    A blade at the angle th meets V a sin(th) more round the axis. N = sum over blades of the mean of sin(th) times its
    force against the turning, B/2 V dFt/dU; a straight section, no drag, momentum through the whole disc.
    """
    Om, zero = 2 * math.pi * turning, -math.radians(3.4)  # of a Clark Y, to its chord

    def forces(v: float, more: float = 0.0) -> tuple[np.ndarray, np.ndarray]:
        U, W = Om * blade.r + more, V + v
        phi = np.arctan2(W, U)
        lift = RHO / 2 * (U**2 + W**2) * blade.chord * SLOPE * (blade.angle - phi - zero)
        return lift * np.cos(phi), lift * np.sin(phi)

    def thrust(v: float) -> float:
        return blade.blades * float(np.trapezoid(forces(v)[0], blade.r))

    area = math.pi * blade.diameter**2 / 4
    v = brentq(lambda v: thrust(v) - 2 * RHO * area * (V + v) * v, -0.4 * V, 40.0)  # momentum
    by = (forces(v, 0.01)[1] - forces(v, -0.01)[1]) / 0.02
    N = blade.blades / 2 * V * float(np.trapezoid(by, blade.r))
    return N / (RHO * V**2 / 2), v


@pytest.mark.parametrize("pitch", PITCHES)
@pytest.mark.parametrize("part", [0.2, 0.4, 0.6, 0.9])
def test_beside_blade_elements(pitch: float, part: float) -> None:
    """Elements whose wake does not answer to the force lie above it; the rule takes an aspect ratio of 8 for that."""
    blade = standard_blade(Propeller(diameter=1.7, pitch=pitch, mass=4.0, place=(0.0, 0.0, 0.0)))
    V = part * pitch * 40.0
    found, v = across(blade, V, 40.0)
    rule = fin_slope(blade, V, v)
    factor = 1 / (1 + 2 / 8)  # of a plane of aspect ratio 8, by which the elements' own section slope is too steep
    assert 0.95 < found * factor / rule.value < 1.09


def test_it_goes_with_area_and_pressure() -> None:
    small, large = (
        standard_blade(Propeller(diameter=d, pitch=0.5 * d, mass=4.0, place=(0.0, 0.0, 0.0))) for d in (1.0, 2.0)
    )
    assert_allclose(side_area(large), 4 * side_area(small), rtol=1e-9, atol=0)
    assert_allclose(fin_slope(small, 20.0, 0.0).value, side_area(small) * 2 * math.pi * 0.8, rtol=1e-12, atol=0)
    band = fin_slope(small, 20.0, 5.0)
    assert_allclose([band.low, band.high], [(1 - GIVE) * band.value, (1 + GIVE) * band.value], rtol=1e-12, atol=0)


def test_standing_still_is_not_known() -> None:
    blade = standard_blade(Propeller(diameter=1.7, pitch=1.0, mass=4.0, place=(0.0, 0.0, 0.0)))
    assert math.isnan(fin_slope(blade, 0.0, 5.0).value)
