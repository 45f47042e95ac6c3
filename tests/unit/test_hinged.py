"""Moments of hinged surfaces about a hinge line that is swept, by hand."""

from __future__ import annotations

import math

import numpy as np
from numpy.testing import assert_allclose

from sparwright.mass.hinged import arms
from sparwright.parts.part import Part
from sparwright.parts.travel import Turning


def weight(number: str, *places: tuple[float, float, float]) -> Part:
    return Part(number=number, name="", form="item", group="tail", purpose="", material="bought", stock="",
                places=places, mass=2.0)  # fmt: skip


def turning(sweep: float, right: bool = False) -> Turning:
    """A surface hinged on a line through (1, 0, 0), swept aft going out."""
    along = np.array([math.sin(sweep), math.cos(sweep), 0.0])
    return Turning("flap", "M-flap-", np.array([1.0, 0.0, 0.0]), along, 0.4, 0.4, 0.3, 0.02, right=right)


def test_the_arm_is_square_to_a_swept_line() -> None:
    """A weight 0.2 aft of the line's point and 0.5 out: square to a line swept by s it is 0.2 cos s - 0.5 sin s."""
    for sweep in (0.0, 0.1, -0.3):
        (arm,) = arms(turning(sweep), [weight("M-flap-A", (1.2, 0.5, 0.0)), weight("M-wing-B", (9.0, 0.0, 0.0))])
        assert_allclose(arm.aft, 0.2 * math.cos(sweep) - 0.5 * math.sin(sweep), atol=1e-12)
        assert_allclose(arm.moment.value, 2.0 * arm.aft)


def test_of_a_pair_only_the_right_one_counts_and_the_middle_half() -> None:
    (arm,) = arms(turning(0.0, True), [weight("M-flap-A", (1.2, 0.5, 0.0), (1.8, -0.5, 0.0))])
    assert_allclose((arm.mass, arm.aft), (2.0, 0.2))
    (half,) = arms(turning(0.0, True), [weight("M-flap-A", (1.4, 0.0, 0.0))])
    assert_allclose((half.mass, half.aft), (1.0, 0.4))
    assert arms(turning(0.0, True), [weight("M-flap-A", (1.4, -0.5, 0.0))]) == ()
