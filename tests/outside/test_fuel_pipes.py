"""Flow in pipes against published values.

white-2003, Table in section 6.4: friction of turbulent flow in smooth pipes, 4e3 to 1e8 (recalled, four places).
white-2003, problem 6.18 and its solution: a tank drains through an upright tube (0.42 m of head over the tube's end,
0.3 m of tube of 2 mm, specific gravity 0.95, 1.9 cm3/s); the printed energy equation gives the viscosity, and with it
the flow must come.
katz-2016, example 9.8 and its results on p. 383: 22 m of head, 202 m of pipe of 0.3 m, f = 0.015, two losses K = 0.3:
6.07 m/s, 0.429 m3/s, 20.12 m of loss.
hooper-1981 as quoted with its code: a globe valve of 2 in at Re 1e4 has K = 6.15.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.systems.pipe import (
    Liquid,
    Pipe,
    colebrook,
    fitting_loss,
    friction,
    gravity_flow,
    laminar,
    least_friction,
    most_friction,
    pipe_loss,
)

SMOOTH = ((4e3, 0.0399), (1e4, 0.0309), (1e5, 0.0180), (1e6, 0.0116), (1e7, 0.0081), (1e8, 0.0059))


@pytest.mark.parametrize(("re", "f"), SMOOTH)
def test_smooth_pipes(re: float, f: float) -> None:
    assert_allclose(colebrook(re), f, rtol=0, atol=0.00006)  # four places printed


def test_the_equation_of_colebrook_holds() -> None:
    for re, rough in ((4e3, 0.0), (2e4, 0.001), (1e6, 0.02)):
        f = colebrook(re, rough)
        assert_allclose(1 / math.sqrt(f), -2 * math.log10(rough / 3.7 + 2.51 / (re * math.sqrt(f))), rtol=1e-9, atol=0)


def test_blasius_where_it_holds() -> None:
    """0.316/Re^0.25 from 4e3 to 1e5, a power law through the same measurements: the two part by up to 2.6 %."""
    re = np.geomspace(4e3, 1e5, 20)
    assert_allclose([colebrook(r) for r in re], 0.316 / re**0.25, rtol=0.027, atol=0)


def test_a_tank_drained_by_an_upright_tube() -> None:
    V, head, g, rho, L, d = 0.605, 0.42, 9.81, 948.0, 0.30, 0.002
    viscosity = (head - V**2 / (2 * g)) * rho * g * d**2 / (32 * L * V)  # the printed energy equation
    tube = Pipe(name="tube", bore=d, length=L, fixed=1.0)  # no loss at its entrance; it ends in the open
    flow = gravity_flow([tube], head, Liquid(rho, viscosity), g)
    assert rho * V * d / viscosity < 2000
    assert_allclose(flow * 1e6, 1.9, rtol=0, atol=0.005)  # 1.9 cm3/s printed as 0.605 m/s


def test_a_pipe_from_a_high_tank() -> None:
    pipe = Pipe(name="main", bore=0.3, length=202.0, fixed=2 * 0.3 + 1.0)
    liquid = Liquid(804.0, 1.9e-3)
    flow = gravity_flow([pipe], 22.0, liquid, 9.8, lambda re, rough: 0.015)
    assert_allclose(flow, 0.429, rtol=0, atol=0.0005)
    assert_allclose(flow / pipe.area, 6.07, rtol=0, atol=0.005)
    left = pipe_loss(pipe, flow, liquid, lambda re, rough: 0.015) / (804 * 9.8) - (flow / pipe.area) ** 2 / (2 * 9.8)
    assert_allclose(left, 20.12, rtol=0, atol=0.01)


def test_a_globe_valve() -> None:
    assert_allclose(fitting_loss("globe", 1e4, 2 * 0.0254), 6.15, rtol=0, atol=1e-9)


def test_poiseuille() -> None:
    """dp = 128 mu L Q/(pi D^4)."""
    pipe, liquid, flow = Pipe(name="line", bore=0.006, length=1.4), Liquid(720.0, 3.1e-4), 2e-6
    assert_allclose(pipe_loss(pipe, flow, liquid), 128 * 3.1e-4 * 1.4 * flow / (math.pi * 0.006**4), rtol=1e-12, atol=0)


def test_between_the_two_kinds_of_flow_the_band_holds_both() -> None:
    for re in (2100.0, 3000.0, 3900.0):
        assert least_friction(re) == laminar(re) < friction(re) < most_friction(re) == colebrook(re)
    assert friction(2000.0) == laminar(2000.0) and friction(4000.0) == colebrook(4000.0)
