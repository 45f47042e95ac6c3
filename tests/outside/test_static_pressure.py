"""Potential flow about static holes against closed forms.

katz-plotkin-2001 sec. 2.12: an endless straight vortex turns the air at G/(2 pi h); a half-endless one at half that in
the plane of its end. Sec. 3.5: on the axis ahead of a half body of revolution, its source D/4 behind the nose,
u = -(D/4)^2 V/r^2, all of V at the nose; D far back follows from the flow through it, 4 pi (D/4)^2 V = pi D^2/4 V.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.source import Band
from sparwright.systems.pitot import error, half_body, straight


def test_straight_vortices() -> None:
    far, h = 1e6, 0.7
    whole = straight(np.array([0, -far, 0.0]), np.array([0, far, 0.0]), np.array([0, 0, -h]), 3.0)
    assert_allclose(whole, [-3.0 / (2 * math.pi * h), 0, 0], rtol=1e-9, atol=1e-12)  # under a lifting one: slower
    half = straight(np.array([0, 0, 0.0]), np.array([0, far, 0.0]), np.array([0, 0, -h]), 3.0)
    assert_allclose(half, whole / 2, rtol=1e-6, atol=1e-12)


@pytest.mark.parametrize("ahead", [0.0, 0.5, 1.0, 1.5])
def test_ahead_of_a_half_body(ahead: float) -> None:
    """cp on the axis is 1 - (1 - (D/4)^2/r^2)^2: 1 at the nose, 0.078 one diameter ahead."""
    D, V = 0.9, np.array([30.0, 0, 0])
    total = V + half_body(np.zeros(3), V, D, np.array([-ahead * D, 0, 0]))
    cp = 1 - float(total @ total) / 900
    r = ahead * D + D / 4
    assert_allclose(cp, 1 - (1 - (D / 4) ** 2 / r**2) ** 2, rtol=1e-12, atol=1e-12)


def test_the_flow_of_the_source_fills_the_body() -> None:
    """Through a great sphere about the nose goes what the body of diameter D takes of the wind."""
    D, V, R = 0.8, np.array([10.0, 0, 0]), 50.0
    u = np.linspace(-1, 1, 2001)
    middle = (u[1:] + u[:-1]) / 2
    flow = 0.0
    for c in middle:
        n = np.array([c, math.sqrt(1 - c * c), 0])
        flow += 2 * math.pi * R**2 * (u[1] - u[0]) * float(half_body(np.zeros(3), V, D, R * n) @ n)
    assert_allclose(flow, math.pi / 4 * D**2 * 10.0, rtol=1e-3, atol=0)


def test_a_pressure_too_high_reads_slow() -> None:
    """q as read is (1 - cp) q, by Bernoulli."""
    e = error(Band(0.1, 0.05, 0.15), 20.0)
    assert_allclose((20.0 + e.value) ** 2, 0.9 * 400, rtol=1e-12, atol=0)
    assert e.low < e.value < e.high < 0
