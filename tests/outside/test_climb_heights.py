"""Ceilings and time to climb of a textbook of 1939, and the landing roll against its closed form.

K. D. Wood's Technical Aerodynamics class of problems as printed by the US Army manual T689: 4000 lb, 60 hp to spare at
sea level and 17 hp at 10 000 ft: 495 and 140 ft/min, absolute ceiling 13 953 ft, service ceiling 11 135 ft. Climb of
1000 ft/min at sea level and a ceiling of 15 000 ft: 9.43 min to 7000 ft (read, recomputed).
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.flight.field import Field, landing
from sparwright.flight.heights import SERVICE, height_of, time_to

FOOT, MINUTE = 0.3048, 60.0


def climb(horsepower: float, pounds: float = 4000.0) -> float:
    """Feet a minute of power to spare, in m/s."""
    return horsepower * 33000 / pounds * FOOT / MINUTE


def test_ceilings() -> None:
    heights, rates = (0.0, 10_000 * FOOT), (climb(60), climb(17))
    assert_allclose([r / FOOT * MINUTE for r in rates], [495, 140.25])
    assert_allclose(height_of(0.0, heights, rates) / FOOT, 13_953, atol=1.0)
    assert_allclose(height_of(SERVICE, heights, rates) / FOOT, 11_135, atol=1.0)


def test_time_to_climb() -> None:
    heights, rates = (0.0, 14_999 * FOOT), (1000 * FOOT / MINUTE, 1000 / 15_000 * FOOT / MINUTE)
    assert_allclose(time_to(7000 * FOOT, heights, rates) / MINUTE, 9.43, atol=0.005)


@pytest.mark.parametrize("friction", [0.05, 0.3])
def test_landing_roll_by_its_closed_form(friction: float) -> None:
    """m dV/dt = -(A + B V^2): s = m/(2 B) ln[(A + B V1^2)/(A + B V0^2)]; t by the arc tangent (Anderson 6.16)."""
    f = Field(300.0, 1.225, 12.0, 0.4, 0.9, drag=lambda v: 400.0 + 0.0 * v)
    touch, stop = 18.0, 0.5
    a = friction * 300.0 * 9.80665
    b = 1.225 / 2 * (0.9 - friction * 12.0 * 0.4)
    found = landing(f, friction, touch, 22.0, 15.0, 0.052)
    way = 300.0 / (2 * b) * math.log((a + b * touch**2) / (a + b * stop**2))
    assert_allclose(found.roll, way, rtol=1e-4)
    root = math.sqrt(abs(b) / a)
    turn = math.atan if b > 0 else math.atanh
    time = 300.0 / math.sqrt(a * abs(b)) * (turn(root * touch) - turn(root * stop))
    assert_allclose(found.time, time, rtol=1e-4)
    energy = (22.0**2 - touch**2) / (2 * 9.80665)
    assert_allclose(found.air, 15.0 / 0.052 + energy * 300.0 * 9.80665 / 400.0, rtol=1e-12)


def test_a_glide_flatter_than_the_slope_is_what_it_comes_down_on() -> None:
    weight = 300.0 * 9.80665
    f = Field(300.0, 1.225, 12.0, 0.4, 0.9, drag=lambda v: weight / 30 + 0.0 * np.asarray(v))
    assert_allclose(landing(f, 0.3, 18.0, 18.0, 15.0, 0.052).air, 15.0 * 30)
