"""A wing near the ground: its image takes away the part sigma of the induced drag that a second wing would add.

Source: C. Wieselsberger, Wing Resistance near the Ground, NACA TM 77 (1922): induced drag times 1 - sigma(2 h/b), sigma
Prandtl's factor for two elliptic loadings of one span (NACA TR 116). Exact values of sigma by quadrature of the wash of
an elliptic sheet: 0.484 at 2 h/b = 0.2, 0.290 at 0.4, so 0.516 and 0.710 at h/b = 0.1 and 0.2.

Sources: naca-tm-77, naca-tr-116.
"""

from __future__ import annotations

import numpy as np
import pytest
from air_wings import FLAT
from numpy.testing import assert_allclose
from traces import trace

from sparwright.air.farwake import drag_matrix
from sparwright.air.turned import turned
from sparwright.shape.planform import Planform

FACTORS = [(0.1, 0.516), (0.2, 0.710)]
SPAN = 6.0


@pytest.mark.parametrize(("height", "factor"), FACTORS)
def test_far_wake_of_an_elliptic_loading(height: float, factor: float) -> None:
    """Printed to 0.001."""
    wake = trace(np.array([[0.0, SPAN / 2], [0.0, 0.0]]), 80)
    g = np.sqrt(1 - (2 * wake.middle[0] / SPAN) ** 2)
    near, free = (g @ drag_matrix([wake], ground) @ g for ground in (-height * SPAN, -np.inf))
    assert_allclose(near / free, factor, rtol=0, atol=1e-3)


def elliptic() -> Planform:
    """Chord an ellipse in 16 straight pieces, quarter chords in one line."""
    y = SPAN / 2 * np.sin(np.linspace(0, np.pi / 2, 17))
    chord = 4 / np.pi * np.maximum(np.sqrt(np.maximum(1 - (2 * y / SPAN) ** 2, 0)), 0.05)
    return Planform("wing", np.array([-chord / 4, y, 0 * y]), chord, 0 * y, ("flat",) * 17)


@pytest.mark.parametrize(("height", "factor"), FACTORS)
def test_laid_above_its_image(height: float, factor: float) -> None:
    """At a small angle; 2 %: nearer the ground the loading is no longer quite elliptic."""
    alpha = 0.01
    free = turned((elliptic(),), FLAT, FLAT, [alpha], spanwise=24).state(alpha)
    near = turned((elliptic(),), FLAT, FLAT, [alpha], height=height * SPAN, spanwise=24).state(alpha)
    assert_allclose(near.induced_drag / near.lift**2 / (free.induced_drag / free.lift**2), factor, rtol=0.02, atol=0)
    for s in (near, free):  # 1 to 1.5 % apart: a kinked and nearly pointed tip
        assert_allclose(s.induced_drag_near, s.induced_drag, rtol=0.015, atol=0)
    assert near.lift > free.lift


def test_high_up_the_ground_is_not_felt() -> None:
    free = turned((elliptic(),), FLAT, FLAT, [0.1], spanwise=16).state(0.1)
    high = turned((elliptic(),), FLAT, FLAT, [0.1], height=100 * SPAN, spanwise=16).state(0.1)
    assert_allclose([high.lift, high.induced_drag], [free.lift, free.induced_drag], rtol=1e-3, atol=0)


def test_no_flow_through_the_ground() -> None:
    """Thickness, circulation and tail together: straight above the image nothing crosses the plane."""
    from sparwright.air.inflow import inflow
    from sparwright.air.mesh import turned_by

    alpha, height = 0.1, 1.0
    company = turned((elliptic(),), FLAT, FLAT, [alpha], height=height, spanwise=16)
    lattice, node = company.mesh, company.nodes[0]
    points = np.array([np.linspace(-2, 5, 9), np.linspace(0, 3, 9), np.full(9, node.ground)])
    corners = turned_by(lattice.corners, alpha)
    given = corners, lattice.chordwise, lattice.counts, lattice.source
    direct, _ = inflow(*given, points, np.ones((1, 9)))
    image, _ = inflow(*given, points * np.array([[1.0], [1.0], [-1.0]]) + np.array([[0.0], [0.0], [2 * node.ground]]),
                      np.ones((1, 9)))  # fmt: skip
    flow = node.still @ (direct + image * np.array([[1.0], [1.0], [-1.0]])).reshape(lattice.panels, -1)
    assert_allclose(flow.reshape(3, 9)[2], 0, rtol=0, atol=1e-12)
    assert np.abs(flow.reshape(3, 9)[0]).max() > 1e-3


def test_a_wing_in_the_ground_is_refused() -> None:
    with pytest.raises(ValueError, match="into the ground"):
        turned((elliptic(),), FLAT, FLAT, [0.3], height=0.1)
