"""Slipstream against closed forms.

Sources. H. Glauert, The Elements of Aerofoil and Airscrew Theory (1926) ch. XV: half of the speed is added ahead of
the disc, T = rho A (V + v) 2v, the stream keeps its flow. The speed along the axis of a straight vortex tube: rings
summed by the law of Biot and Savart, independent of our closed form. Worked case: 30 kW ideal, 1.5 m, 30 m/s, sea
level gives T = 845.1 N and ideal efficiency 0.8451 = V/(V + v), closed form to the printed digits.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.power.disc import ideal_efficiency
from sparwright.power.slipstream import added_speed, slipstream

DISC = math.pi * 1.5**2 / 4
RHO = 1.225


def test_the_worked_case() -> None:
    v = added_speed(845.1, 30.0, DISC, RHO)
    assert_allclose(30.0 / (30.0 + v), 0.8451, rtol=0, atol=5e-5)  # half of the last printed digit


@pytest.mark.parametrize("thrust, speed", [(845.1, 30.0), (1573.6, 0.0), (200.0, 50.0), (-100.0, 40.0)])
def test_thrust_is_momentum_given_to_the_air(thrust: float, speed: float) -> None:
    s = slipstream(thrust, speed, 1.5, (0.0, 0.0, 0.0), RHO)
    far = 1e6
    u, r = float(s.velocity(far)), float(s.radius(far))
    assert_allclose(u - speed, 2 * s.added, rtol=1e-9, atol=0)
    assert_allclose(RHO * math.pi * r**2 * u * (u - speed), thrust, rtol=1e-9, atol=0)
    if speed > 0:
        assert_allclose(speed / (speed + s.added), ideal_efficiency(thrust, speed, DISC, RHO), rtol=1e-12, atol=0)


def test_the_stream_keeps_its_flow() -> None:
    s = slipstream(900.0, 25.0, 1.7, (-0.9, 0.0, 0.1), RHO)
    x = np.linspace(-0.9, 6.0, 30)
    flow = math.pi * s.radius(x) ** 2 * s.velocity(x)
    assert_allclose(flow, math.pi * 0.85**2 * (25.0 + s.added), rtol=1e-12, atol=0)
    static = slipstream(900.0, 0.0, 1.7, (0.0, 0.0, 0.0), RHO)
    assert_allclose(static.radius(1e6), 0.85 / math.sqrt(2), rtol=1e-9, atol=0)


@pytest.mark.parametrize("x", [-1.0, -0.3, 0.0, 0.4, 1.0, 3.0])
def test_the_axis_of_a_vortex_tube(x: float) -> None:
    """Rings of strength g dx' each give g dx' R^2/(2 ((x-x')^2 + R^2)^1.5) on the axis; g = 2 v makes v at the disc.

    Summed to 2000 radii by the trapezoid rule in a stretched variable: the tail left out is 1e-7.
    """
    R, v = 0.75, 5.5
    s = np.linspace(0, math.asinh(2000.0), 20001)
    behind = R * np.sinh(s)
    weight = 2 * v * R**2 / (2 * ((x - behind) ** 2 + R**2) ** 1.5)
    summed = np.trapezoid(weight * R * np.cosh(s), s)
    stream = slipstream(2 * RHO * math.pi * R**2 * (30 + v) * v, 30.0, 2 * R, (0.0, 0.0, 0.0), RHO)
    assert_allclose(float(stream.velocity(x)) - 30.0, summed, rtol=1e-5, atol=0)
