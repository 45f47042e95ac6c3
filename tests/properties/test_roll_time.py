"""From bank to bank: no lag is angle over rate, more inertia begins slower, the helix angle knows no speed."""

from __future__ import annotations

import math

from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.air.rolling import Odd
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.roll import Rolling, rolling

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


@given(st.floats(15.0, 60.0), st.floats(0.1, 0.5), st.floats(200.0, 900.0))
def test_rate_goes_with_speed_and_helix_does_not(speed: float, deflection: float, inertia: float) -> None:
    o = Odd(-300.0, {"a": 20.0, "b": 15.0})
    one, two = (rolling(o, deflection, inertia, v, 1.225, 9.0) for v in (speed, 2 * speed))
    assert_allclose(two.rate.value, 2 * one.rate.value)
    assert_allclose(two.helix.value, one.helix.value)
    assert_allclose(one.helix.value, one.rate.value * 9.0 / 2 / speed)
    assert_allclose(one.rate.value, 0.85 * deflection * 35.0 / 300.0 * speed)
    assert_allclose(two.lag, one.lag / 2)
    assert_allclose(one.lag, inertia * speed / (1.225 * speed**2 / 2 * 300.0))
    assert one.rate.low < one.rate.value < one.rate.high


def test_no_rate_no_time() -> None:
    assert not Rolling(UNKNOWN).time(1.0).known
    assert math.isnan(Rolling(Band(-0.1, -0.2, 0.0), 0.2).time(1.0).value)
