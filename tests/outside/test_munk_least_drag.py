"""Least induced drag of two and three wings, and the stagger theorem.

Source: M. M. Munk, The Minimum Induced Drag of Aerofoils, NACA TR 121 (1921). The values are his condition,
the same wash everywhere, solved with 15 sine terms a wing; four digits. e = k^2 on one span, heights in spans.
Tolerance 1 %; near against far wake 2 %.
"""

from __future__ import annotations

import numpy as np
import pytest
from air_wings import FLAT, rectangle
from numpy.testing import assert_allclose
from traces import trace, widths

from sparwright.air.farwake import Trace, drag_matrix
from sparwright.air.turned import Company, turned


def best(traces: list[Trace]) -> tuple[float, np.ndarray]:
    """e on the largest span and shares of the loading that has the same wash along the lift everywhere."""
    k, lift = drag_matrix(traces), 4 * widths(traces)
    gamma = np.linalg.solve(k, lift)
    total, starts = lift @ gamma, np.cumsum([0, *(t.length.size for t in traces)])[:-1]
    span = max(2 * t.edge[0, -1] for t in traces)
    return total**2 / (np.pi * span**2 * (gamma @ k @ gamma)), np.add.reduceat(gamma * lift, starts) / total


def cell(*heights: float) -> list[Trace]:
    return [trace(np.array([[0, 0.5], [z, z]])) for z in heights]


def test_one_wing() -> None:
    assert_allclose(best(cell(0.0))[0], 1.0, rtol=1e-9, atol=0)


@pytest.mark.parametrize(
    "h, e", [(0.05, 1.1275), (0.1, 1.2158), (0.15, 1.2899), (0.2, 1.3546), (0.3, 1.4638), (0.5, 1.6245)]
)
def test_two_wings(h: float, e: float) -> None:
    assert_allclose(best(cell(0.0, h))[0], e, rtol=0.01, atol=0)


@pytest.mark.parametrize("H, e, outer", [(0.1, 1.2369, 0.4270), (0.2, 1.4021, 0.4055), (0.5, 1.7781, 0.3750)])
def test_three_wings(H: float, e: float, outer: float) -> None:
    found, shares = best(cell(0.0, H / 2, H))
    assert_allclose(found, e, rtol=0.01, atol=0)
    assert_allclose(shares, [outer, 1 - 2 * outer, outer], rtol=0.01, atol=0)


def staggered(forward: float, alpha: float = 0.1) -> Company:
    return turned((rectangle("lower", 6), rectangle("upper", 5, -forward, 0.9, 1.1)), FLAT, FLAT, [alpha])


@pytest.mark.parametrize("forward", [-0.8, 0.0, 0.4, 1.0])
def test_near_field_is_far_wake(forward: float) -> None:
    state = staggered(forward).state(0.1)
    assert_allclose(state.induced_drag_near, state.induced_drag, rtol=0.02, atol=0)


def drags(forward: float, gamma: np.ndarray) -> tuple[float, float]:
    """Near field and far wake of a cell of flat plates along the stream at given circulations, whatever they meet."""
    node = staggered(forward, 0.0).nodes[0]
    w = (gamma @ node.at_bound).reshape(3, -1)[2]
    strips = node.mesh.by_strip(gamma)
    return float(-4 * gamma @ (w * node.mesh.segment[1])), float(strips @ node.far @ strips)


def test_stagger_leaves_drag_alone_at_given_circulation() -> None:
    gamma = staggered(0.0).state(0.1).circulation
    base, far = drags(0.0, gamma)
    for forward in (-0.8, 0.4, 1.0):
        near, same = drags(forward, gamma)
        assert_allclose(near, base, rtol=0.01, atol=0)
        assert_allclose(same, far, rtol=1e-12, atol=0)
    assert_allclose(base, far, rtol=0.02, atol=0)
