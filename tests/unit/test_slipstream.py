"""The slipstream over strips, and the idle propeller."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.testing import assert_allclose
from shelf import shelf

from sparwright.air.atmosphere import atmosphere
from sparwright.family.reader import load
from sparwright.flight.performance import mover
from sparwright.power.propeller import standard_blade
from sparwright.power.slipstream import added_speed, idle_drag, slipstream, stopped_drag, windmilling

FAMILY = load("examples/whinchat/whinchat.toml")
AIR = atmosphere(0.0)


def test_no_thrust_changes_nothing() -> None:
    s = slipstream(0.0, 30.0, 1.7, (-0.8, 0.0, 0.0), 1.225)
    x = np.linspace(-0.5, 5, 9)
    assert_allclose(s.pressure_ratio(x), 1.0, rtol=1e-12, atol=0)
    assert_allclose(s.radius(x), 0.85, rtol=1e-12, atol=0)


def test_strips_inside_outside_and_across_the_edge() -> None:
    s = slipstream(500.0, 25.0, 1.7, (0.0, 0.0, 0.0), 1.225)
    x, z, edges = np.full(4, 2.0), np.zeros(4), np.array([0.0, 0.3, 0.6, 0.9, 1.2])
    r = float(s.radius(2.0))
    assert 0.6 < r < 0.85
    part = s.immersed(x, edges, z)
    assert_allclose(part, [1, 1, (r - 0.6) / 0.3, 0], rtol=1e-12, atol=0)
    ratio = s.strip_ratio(x, edges, z)
    q = float(s.pressure_ratio(2.0))
    assert_allclose(ratio, [q, q, 1 + part[2] * (q - 1), 1], rtol=1e-12, atol=0)
    assert_allclose(s.immersed(x, edges, z + 2 * r), 0.0, rtol=0, atol=0)
    assert_allclose(s.immersed(x - 3, edges, z), 0.0, rtol=0, atol=0)


def test_high_strips_see_the_chord_of_the_circle() -> None:
    s = slipstream(500.0, 25.0, 1.7, (0.0, 0.0, 0.2), 1.225)
    r = float(s.radius(1.0))
    part = s.immersed(np.array([1.0]), np.array([0.0, 1.0]), np.array([0.2 + 0.6 * r]))
    assert_allclose(part, [0.8 * r], rtol=1e-12, atol=0)


def test_past_the_theory_is_unknown() -> None:
    A, rho, V = 2.0, 1.2, 20.0
    assert_allclose(added_speed(-rho * A * V**2 / 2, V, A, rho), -V / 2, rtol=1e-12, atol=0)
    assert math.isnan(added_speed(-rho * A * V**2 / 2 * 1.001, V, A, rho))
    s = slipstream(-1e5, V, 1.7, (0.0, 0.0, 0.0), rho)
    assert np.isnan(s.strip_ratio(np.array([1.0]), np.array([0.0, 0.5]), np.array([0.0]))).all()
    assert np.isnan(slipstream(500.0, 0.0, 1.7, (0.0, 0.0, 0.0), rho).pressure_ratio(1.0)).all()


def test_idle_propeller_lies_between_stopped_and_spun_free() -> None:
    for model in FAMILY.models.values():
        blade, chart = standard_blade(model.propeller), mover(model.engine, model.propeller, AIR, shelf).maps[0]
        item, stopped, (J, free) = idle_drag(blade, chart), stopped_drag(blade), windmilling(chart)
        assert_allclose(chart.coefficients(J)[1], 0.0, rtol=0, atol=1e-9)
        assert 0 < free < stopped.area.low
        assert item.area.low == free and item.area.high == stopped.area.high
        assert_allclose(item.coefficient.value * item.stands_on, item.area.value, rtol=1e-12, atol=0)
        assert item.area.high < math.pi * blade.diameter**2 / 4 / 2, "more than half the disc"


def test_a_stopped_blade_by_hand_and_one_too_coarse() -> None:
    blade = standard_blade(FAMILY.models["W1"].propeller)
    flat = replace(blade, chord=np.full_like(blade.r, 0.1), angle=np.full_like(blade.r, math.radians(30)))
    length = float(blade.r[-1] - blade.r[0])
    area = 2 * 0.1 * length * math.cos(math.radians(30))
    assert_allclose(stopped_drag(flat).area.value, 1.1 * area, rtol=1e-9, atol=0)
    assert not stopped_drag(replace(flat, angle=np.full_like(blade.r, 0.9))).area.known
