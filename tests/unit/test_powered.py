"""The stall under power: closed forms of one strip, nothing without thrust, and never in a licence check."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY
from sparwright.flight.powered import DROPS, Wetted, powered, wetted

MODELS = ("W1", "W2", "W3")
RHO, D, HUB = 1.2, 2.0, (0.0, 0.0, 0.0)
W, UP = 3000.0, 10.0
OFF = math.sqrt(2 * W / (RHO * UP))  # power-off speed, m/s
ONE = Wetted(
    np.array([1e5]), np.array([0.0]), np.array([1.0]), np.array([0.0]), np.array([1.0]), np.array([2.0]),
    np.array([0.2]), 1 - 4 * DROPS[None], np.array([0.0]), 0.0, UP,
)  # fmt: skip


def doubling(V: float) -> float:
    """Thrust 3 q A: v = V/2 at the disc, V far behind, where the radius is sqrt(3/4) of the disc's."""
    return 3 * RHO * V**2 / 2 * math.pi * D**2 / 4


def speed(strips: Wetted, thrust, how: str = "same") -> float:
    return powered(strips, W, OFF, RHO, D, HUB, thrust, how).speed


def test_one_strip_by_hand() -> None:
    """0.866 of the strip at four times the pressure: S CL 10 + 2 x 0.866 x 3 x 2 = 20.392 m2."""
    found = powered(ONE, W, OFF, RHO, D, HUB, doubling, "same")
    assert_allclose(found.speed, OFF * math.sqrt(10 / 20.3923), rtol=1e-5, atol=0)
    assert_allclose([found.immersed, found.pressure, found.gain], [0.866025, 4.0, 10.3923], rtol=1e-5, atol=0)


def test_one_strip_in_a_flow_turned_to_the_thrust_line_by_hand() -> None:
    """tan 0.2 halved is an angle of 0.10101: 0.09899 less, k = 0.60404, and a stream 1.732 wide over a chord of 1:
    h = 1.732/(2 + sqrt(7)) = 0.37283; 10 + 2 x 0.866 x 0.37283 x (4 x 0.60404 - 1) x 2."""
    assert_allclose(speed(ONE, doubling, "turned"), OFF * math.sqrt(10 / 11.8289), rtol=1e-4, atol=0)


def test_thrust_alone_by_hand() -> None:
    """W - 600 N sin 0.3 on the wings."""
    up = replace(ONE, alpha=0.3)
    assert_allclose(speed(up, lambda V: 600.0, "none"), OFF * math.sqrt(1 - 0.2 * math.sin(0.3)), rtol=1e-8, atol=0)
    clear = replace(up, waterline=np.array([-50.0]))  # the slipstream climbs away over it
    assert_allclose(speed(clear, lambda V: 600.0, "same"), speed(up, lambda V: 600.0, "none"), rtol=1e-9, atol=0)


def test_the_slipstream_bends_upwards() -> None:
    """At 0.3 rad it has left the thrust line 3 m behind, and is found where the stream across it takes it."""
    near = replace(ONE, station=np.array([3.0]), alpha=0.3)
    on_line = powered(near, W, OFF, RHO, D, HUB, doubling, "same")
    V = on_line.speed
    higher = powered(replace(near, waterline=np.array([0.5])), W, OFF, RHO, D, HUB, doubling, "same")
    assert on_line.immersed < higher.immersed and higher.speed < V


def test_too_much_thrust_and_unknown_thrust_are_not_a_speed() -> None:
    assert math.isnan(speed(replace(ONE, alpha=0.5), lambda V: 1e5))
    assert math.isnan(speed(ONE, lambda V: math.nan))
    assert math.isnan(speed(replace(ONE, short=np.full((1, DROPS.size), np.nan)), doubling, "turned"))


@pytest.fixture(params=MODELS)
def flown(ran, request):
    return ran(request.param).flight.flown


def test_no_thrust_is_the_power_off_stall_and_more_thrust_is_slower(flown) -> None:
    case, prop = flown.cases["max_mass"], flown.model.propeller
    strips, weight = wetted(case.line, case.stall.lift.value), case.loading.mass * GRAVITY
    off = case.stall.speed.value

    def at(T: float) -> float:
        given = (weight, off, flown.air.density, prop.diameter, prop.place)
        return powered(strips, *given, lambda V: T, "turned").speed

    assert_allclose(at(0.0), off, rtol=1e-8, atol=0)
    speeds = [at(T) for T in (0.0, 200.0, 500.0, 900.0)]
    assert all(a > b for a, b in zip(speeds, speeds[1:], strict=False))


def test_the_strips_are_those_of_the_state(flown) -> None:
    """Their lift, with that of the strips within the body and the tail, is the whole; 3e-4: splines."""
    case, plane = flown.cases["max_mass"], flown.plane
    strips, state = wetted(case.line, case.stall.lift.value), case.line.state(case.stall.lift.value)
    rest = state.surface_lift(plane.tail)
    for name in plane.wings:
        s = plane.strips[name]
        rest += 2 * float(state.strips[name].lift[~s.outside].sum())
    assert_allclose(2 * strips.lift.sum() + rest, strips.up, rtol=3e-4, atol=0)
    assert_allclose(strips.short[:, 0], 1.0, rtol=1e-12, atol=0)
    assert (strips.short[:, 5] < 1).mean() > 0.5


def test_results_are_an_indication_and_no_check_uses_them(ran) -> None:
    for name in MODELS:
        run = ran(name)
        off, on, idle = (run.result(f"flight.stall.{w}") for w in ("max_mass", "power", "idle"))
        assert on.low < on.value < on.high and on.value < off.value and on.high < off.high
        assert off.value < idle.value and idle.low == off.low and "idling engine brakes" in idle.caveat
        assert idle.high < 1.02 * off.high
        assert "not for a licence check" in on.caveat
        mine = ("flight.stall.power", "flight.stall.idle", "flight.slipstream")
        assert not [c.id for c in run.checks for p in c.parents if p.startswith(mine)]
