"""From bank to bank: no lag is angle over rate, more inertia begins slower, the helix angle knows no speed."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.base.source import UNKNOWN, Band
from sparwright.data.aileron import effect
from sparwright.flight.roll import Rolling, rolling
from sparwright.flight.sides import Piece, Sides

rates, lags, angles = st.floats(0.2, 4.0), st.floats(0.0, 1.0), st.floats(0.1, 2.0)


@given(rates, angles)
def test_without_lag_it_is_angle_over_rate(rate: float, angle: float) -> None:
    assert_allclose(Rolling(Band.exact(rate), 0.0 + 1e-12).time(angle).value, angle / rate, rtol=1e-6)


@given(rates, lags, angles)
def test_the_time_gives_the_angle_back(rate: float, lag: float, angle: float) -> None:
    lag = max(lag, 1e-3)
    s = Rolling(Band.exact(rate), lag).time(angle).value
    assert_allclose(rate * (s - lag * (1 - math.exp(-s / lag))), angle, rtol=1e-9)
    assert angle / rate < s < angle / rate + lag + 1e-9
    assert Rolling(Band.exact(rate), 2 * lag).time(angle).value > s


@given(st.floats(15.0, 60.0), st.floats(0.1, 0.4), st.floats(200.0, 900.0))
def test_rate_goes_with_speed_and_helix_does_not(speed: float, deflection: float, inertia: float) -> None:
    area, span = 15.0, 9.0
    sides = Sides(0.6, 0.05, {"Clp": (Piece("wings", -0.45, -0.5, -0.4),), "ClA": (Piece("wings", 0.2, 0.18, 0.22),)})
    one, two = (rolling(sides, deflection, inertia, 1.225 * v * v / 2 * area, v, span) for v in (speed, 2 * speed))
    assert_allclose(two.rate.value, 2 * one.rate.value)
    assert_allclose(two.helix.value, one.helix.value)
    assert_allclose(one.helix.value, one.rate.value * span / 2 / speed)
    assert_allclose(one.helix.value, effect(deflection).value * deflection * 0.2 / 0.45)
    assert_allclose(two.lag, one.lag / 2)
    damping = 1.225 * speed**2 / 2 * area * span * 0.45 * span / (2 * speed)  # N m for each rad/s
    assert_allclose(one.lag, inertia / damping)
    assert one.rate.low < one.rate.value < one.rate.high


def test_no_rate_no_time() -> None:
    assert not Rolling(UNKNOWN).time(1.0).known
    assert math.isnan(Rolling(Band(-0.1, -0.2, 0.0), 0.2).time(1.0).value)
