"""The lattice of a very long wing against thin-aerofoil theory: camber and plain flaps.

Source: H. Glauert, The Elements of Aerofoil and Airscrew Theory (1926) ch. VII and IX; worked out for the
NACA mean lines, angle of no lift -2.077, -4.154, -1.094 deg and moment about the quarter chord -0.0531,
-0.1062, -0.0128; flaps tau = 1 - (th - sin th)/pi with cos th = 2E - 1. Tolerance: the printed
digits for the angle and tau, 1 % for slope and moment. The middle strip of a wing of aspect ratio 400 is
compared; the whole wing still loses 1 % of its slope to the tips, as lifting-line theory says it should.
The theory is linear in camber and angle, the lattice holds sines and cosines (0.007 deg at the 4.15 deg of 44), so mean
lines and angles are taken a hundredth as large and the answer a hundred times.
"""

from __future__ import annotations

import numpy as np
import pytest
from air_wings import FLAT, five_digit_line, four_digit_line, rectangle
from numpy.testing import assert_allclose

from sparwright.air.turned import CompanyState, turned

SMALL = 0.01
LINES = {
    "24": (four_digit_line(0.02, 0.4), -2.077, -0.0531),
    "44": (four_digit_line(0.04, 0.4), -4.154, -0.1062),
    "230": (five_digit_line(), -1.094, -0.0128),
}


def middle(state: CompanyState) -> tuple[float, float]:
    """Lift and moment about the quarter chord of the strip at the middle of the wing."""
    s = state.strips["wing"]
    return s.lift_coefficient[0], s.lift_coefficient[0] * (0.25 - s.centre[0])


@pytest.mark.parametrize("name", LINES)
def test_mean_lines(name: str) -> None:
    line, angle, moment = LINES[name]
    bent, none = ({"line": line * np.array([[1.0], [by]])} for by in (SMALL, 0.0))
    cell = turned((rectangle("wing", 400, section="line"),), bent, none, [0.0, SMALL])
    lift, turning = (v / SMALL for v in middle(cell.state(0.0)))
    slope = middle(cell.state(SMALL))[0] / SMALL - lift
    assert_allclose(np.degrees(-lift / slope), angle, rtol=0, atol=0.001)
    assert_allclose(slope, 2 * np.pi, rtol=0.01, atol=0)
    assert_allclose(turning, moment, rtol=0.01, atol=0)


@pytest.mark.parametrize(
    "E, tau, moment",
    [
        (0.2, 0.5498, -0.6400),
        (0.25, 0.6090, -0.6495),
        (0.3, 0.6607, -0.6416),
        (0.4, 0.7478, -0.5879),
        (0.5, 0.8183, -0.5),
    ],
)
def test_flaps(E: float, tau: float, moment: float) -> None:
    cell = turned((rectangle("wing", 400, hinge=1 - E),), FLAT, FLAT, [0.0, SMALL])
    lift, turning = middle(cell.state(0.0, {"wing": SMALL}))
    assert_allclose(lift / middle(cell.state(SMALL))[0], tau, rtol=0, atol=1e-4)
    assert_allclose(turning / SMALL, moment, rtol=0.01, atol=0)
