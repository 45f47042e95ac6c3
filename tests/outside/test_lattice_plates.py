"""Flat rectangular plates, alone and in cells.

Sources. Alone: converged lifting-surface values; those of aspect ratio 1 and 2 are E. O. Tuck's 1.460 and
2.474 per rad, the others an independent lattice extrapolated to fine panels, give or take 0.003. Cells: an
independent lattice of 6 x 32 horseshoes a wing, its error about 0.3 %, hence 0.5 % here. Lift of two wings
against one: National Physical Laboratory tests of 1911 to 1912 as printed in J. B. Rathbun, Aeroplane
Construction and Operation (1918) ch. VII, measured, hence 0.03.
"""

from __future__ import annotations

import numpy as np
import pytest
from air_wings import FLAT, rectangle
from numpy.testing import assert_allclose

from sparwright.air.turned import CompanyState, turned
from sparwright.shape.planform import Planform

SMALL = 1e-3  # rad; the values are of linear theory, slope and share in the limit of no angle


def plates(*wings: Planform) -> CompanyState:
    return turned(wings, FLAT, FLAT, [SMALL]).state(SMALL)


def slope_of(state: CompanyState) -> float:
    """Flat plates along the stream lift nothing at no angle."""
    return state.lift / SMALL


def pair(gap: float, forward: float = 0.0, aspect: float = 6.0) -> CompanyState:
    return plates(rectangle("lower", aspect), rectangle("upper", aspect, -forward, gap))


@pytest.mark.parametrize(
    "aspect, slope", [(1, 1.460), (2, 2.474), (4, 3.612), (5, 3.954), (6, 4.215), (8, 4.587), (10, 4.839)]
)
def test_alone(aspect: float, slope: float) -> None:
    assert_allclose(slope_of(plates(rectangle("wing", aspect))), slope, rtol=0, atol=0.003)


CELLS = [  # gap, upper forward, slope, upper's share, e on one span
    (0.5, 0.0, 2.944, 0.5, 1.1783),
    (0.75, 0.0, 3.201, 0.5, 1.2450),
    (1.0, 0.0, 3.392, 0.5, 1.3032),
    (1.25, 0.0, 3.533, 0.5, 1.3551),
    (1.5, 0.0, 3.639, 0.5, 1.4019),
    (2.0, 0.0, 3.785, 0.5, 1.4831),
    (1.0, 0.25, 3.412, 0.5273, 1.3022),
    (1.0, 0.5, 3.464, 0.5525, 1.2996),
    (1.0, -0.5, 3.464, 0.4475, 1.2996),
]


@pytest.mark.parametrize("gap, forward, slope, share, e", CELLS)
def test_two_wings(gap: float, forward: float, slope: float, share: float, e: float) -> None:
    state = pair(gap, forward)
    assert_allclose(slope_of(state), slope, rtol=0.005, atol=0)
    assert_allclose(state.lift_share["upper"], share, rtol=0, atol=0.003)
    span, area = 6.0, 12.0
    assert_allclose(state.lift**2 * area / (np.pi * span**2 * state.induced_drag), e, rtol=0.005, atol=0)


@pytest.mark.parametrize(
    "gap, slope, shares, e",
    [
        (0.75, 2.767, [0.3603, 0.2794, 0.3603], 1.4625),
        (1.0, 3.020, [0.3530, 0.2940, 0.3530], 1.5717),
        (1.5, 3.361, [0.3456, 0.3089, 0.3456], 1.7618),
    ],
)
def test_three_wings(gap: float, slope: float, shares: list[float], e: float) -> None:
    state = plates(*(rectangle(str(i), 6, z=i * gap) for i in range(3)))
    assert_allclose(slope_of(state), slope, rtol=0.005, atol=0)
    assert_allclose(list(state.wing_share.values()), shares, rtol=0, atol=0.003)
    assert_allclose(state.lift**2 * 18 / (np.pi * 36 * state.induced_drag), e, rtol=0.005, atol=0)


@pytest.mark.parametrize("gap, factor", [(0.8, 0.77), (1.0, 0.82), (1.2, 0.86), (1.6, 0.89)])
def test_measured_loss_of_lift(gap: float, factor: float) -> None:
    assert_allclose(pair(gap).lift / plates(rectangle("wing", 6)).lift, factor, rtol=0, atol=0.03)
