"""Least induced drag of two and three wings, and the stagger theorem.

Source: M. M. Munk, The Minimum Induced Drag of Aerofoils, NACA TR 121 (1921). The values are his condition,
the same wash everywhere, solved with 15 sine terms a wing; four digits. e = k^2 on one span, heights in spans.
Tolerance 1 % as the issue asks; near against far wake 2 %.
"""

from __future__ import annotations

import numpy as np
import pytest
from air_wings import FLAT, rectangle
from numpy.testing import assert_allclose

from sparwright.air.farwake import far_wake_drag, least_drag, trace
from sparwright.air.grid import lay_out, panels
from sparwright.air.lattice import Cell, lay
from sparwright.air.wash import matrix


def cell(*heights: float) -> list:
    return [trace(np.array([[0, 0.5], [z, z]])) for z in heights]


def test_one_wing() -> None:
    assert_allclose(least_drag(cell(0.0)).efficiency, 1.0, rtol=1e-9, atol=0)


@pytest.mark.parametrize(
    "h, e", [(0.05, 1.1275), (0.1, 1.2158), (0.15, 1.2899), (0.2, 1.3546), (0.3, 1.4638), (0.5, 1.6245)]
)
def test_two_wings(h: float, e: float) -> None:
    assert_allclose(least_drag(cell(0.0, h)).efficiency, e, rtol=0.01, atol=0)


@pytest.mark.parametrize("H, e, outer", [(0.1, 1.2369, 0.4270), (0.2, 1.4021, 0.4055), (0.5, 1.7781, 0.3750)])
def test_three_wings(H: float, e: float, outer: float) -> None:
    best = least_drag(cell(0.0, H / 2, H))
    assert_allclose(best.efficiency, e, rtol=0.01, atol=0)
    assert_allclose(best.shares, [outer, 1 - 2 * outer, outer], rtol=0.01, atol=0)


def staggered(forward: float) -> Cell:
    return lay((rectangle("lower", 6), rectangle("upper", 5, -forward, 0.9, 1.1)), FLAT)


@pytest.mark.parametrize("forward", [-0.8, 0.0, 0.4, 1.0])
def test_near_field_is_far_wake(forward: float) -> None:
    state = staggered(forward).state(0.1)
    assert_allclose(state.induced_drag_near, state.induced_drag, rtol=0.02, atol=0)


def near_drag(forward: float, gamma: np.ndarray) -> float:
    """Force on the bound vortices of a cell at given circulations, whatever the boundary condition says."""
    grid = panels(lay_out(staggered(forward).planforms, 14), 6)
    wash = gamma @ matrix(grid.corners, grid.rows, grid.bound, grid.normal)
    return float(4 * gamma @ (wash * staggered(forward).panel_width))


def test_stagger_leaves_drag_alone_at_given_circulation() -> None:
    gamma = staggered(0.0).state(0.1).circulation
    base = near_drag(0.0, gamma)
    for forward in (-0.8, 0.4, 1.0):
        assert_allclose(near_drag(forward, gamma), base, rtol=0.01, atol=0)
    strips = staggered(0.0).by_strip(gamma)
    parts = np.split(strips, 2)
    far = [far_wake_drag(staggered(s).traces, parts) for s in (-0.8, 0.0, 1.0)]
    assert_allclose(far, far[0], rtol=1e-12, atol=0)
    assert_allclose(base, far[0], rtol=0.02, atol=0)
