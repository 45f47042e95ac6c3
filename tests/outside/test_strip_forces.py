"""Forces on strips against closed forms of wing theory.

H. Glauert, The Elements of Aerofoil and Airscrew Theory (1926): ch. VII a plate in two dimensions feels a force square
to the stream, so that along its chord it is pulled forward by lift times the sine of the angle; ch. IX the pressure on
a section with a flap turned by d at th (E of the chord),

    dCp = 4 d [(1 - th/pi) (1 + cos t)/sin t + 1/pi ln |sin (t + th)/2 / sin (t - th)/2|]

(the sum of his series, worked out here); ch. XI an elliptic wing has the same downwash CL/(pi A) everywhere, and its
half carries its load at 4/(3 pi) of the half span. Lifting line; our lifting surface at aspect ratio 8 lies near it.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from air_wings import FLAT, four_digit_line, rectangle
from numpy.testing import assert_allclose

from sparwright.air import hinge, thin
from sparwright.air.turned import turned
from sparwright.loads.behind import carries, of_line
from sparwright.loads.halves import Half, cuts, even
from sparwright.loads.laid_out import span_load
from sparwright.shape.planform import Planform

ASPECT = 8.0


def ellipse(aspect: float) -> Planform:
    """Elliptic chords of an area of `aspect`, quarter line straight; the very tip keeps 2 % of the chord."""
    t = np.linspace(0, np.pi / 2, 15)
    y, chord = aspect / 2 * np.sin(t), 4 / np.pi * np.maximum(np.cos(t), 0.02)
    return Planform("wing", np.array([-chord / 4, y, 0 * y]), chord, 0 * y, ("flat",) * y.size)


def strips(wing: Planform, alpha: float, lines: dict[str, np.ndarray] = FLAT, spanwise: int = 20) -> tuple[Half, float]:
    company = turned((wing,), lines, {k: np.array([[0.0, 1.0], [0.0, 0.0]]) for k in lines}, [alpha], spanwise=spanwise)
    state = company.state(alpha)
    return even(state, cuts(company, lines), {})["wing"], state.lift


@pytest.mark.parametrize("at", [0.5, 0.6, 0.7, 0.8])
def test_a_flap_carries_what_its_pressures_come_to(at: float) -> None:
    """By quadrature, the logarithm's pole at the hinge taken from one side: 1e-4 is what the rule leaves of it."""
    th = math.acos(1 - 2 * at)
    t = th + (math.pi - th) * np.linspace(0, 1, 400_001)[1:-1]
    front, log = (1 + np.cos(t)) / np.sin(t), np.log(np.abs(np.sin((t + th) / 2) / np.sin((t - th) / 2)))
    pressure = 4 * ((1 - th / math.pi) * front + log / math.pi)
    x, dx = (1 - np.cos(t)) / 2, np.sin(t) / 2
    force = np.trapezoid(pressure * dx, t)
    moment = -np.trapezoid(pressure * (x - at) * dx, t) / (1 - at) ** 2
    assert_allclose(carries(at).flap, force, rtol=1e-4)
    assert_allclose(hinge.slopes(at).flap, moment, rtol=1e-4)
    plate = 4 * np.trapezoid(front * dx, t)
    assert_allclose(carries(at).angle, plate, rtol=1e-5)


def test_behind_the_nose_is_the_whole_lift() -> None:
    line = four_digit_line(0.04, 0.4)
    assert_allclose(of_line(line, 1e-12), thin.lift_and_moment(line)[0], rtol=1e-5)
    assert_allclose(carries(1e-9).flap, 2 * math.pi, rtol=1e-3)  # all of it turned is an angle of attack


@pytest.mark.parametrize("alpha", [-0.1, 0.05, 0.15, 0.3])
def test_a_plate_is_pulled_forward_by_lift_times_what_is_left_of_its_angle(alpha: float) -> None:
    """Every strip within 0.8 of the half span: half a per cent of its lift, where the pull is 4 to 24. Nearer the tip a
    lifting surface has more downwash than a lifting line."""
    half, CL = strips(ellipse(ASPECT), alpha)
    force = np.hypot(half.normal, half.chordwise)
    left, inner = abs(alpha - CL / (math.pi * ASPECT)), half.cut.y < 0.8 * ASPECT / 2
    assert inner.sum() > 10
    assert_allclose(half.chordwise[inner] / force[inner], -math.sin(left), rtol=0, atol=0.005)


def test_an_elliptic_half_carries_its_load_at_its_place() -> None:
    """4/(3 pi) of the half span; shear at the root half the lift, moment there by the same. 1 %: lifting surface."""
    half, CL = strips(ellipse(ASPECT), 0.05)
    load = span_load(half, "R", 100.0, "")
    lift = 100.0 * CL * half.cut.area.sum()
    normal = load.normal * load.width
    assert_allclose(float(normal @ load.y) / normal.sum() / (ASPECT / 2), 4 / (3 * math.pi), rtol=0.01)
    assert_allclose(load.summed(load.normal)[0] + normal[0] / 2, lift, rtol=0.002)


def test_torsion_of_a_long_wing_is_its_sections_moment() -> None:
    """cm of the mean line about the quarter chord; away from the tip of a wing of aspect ratio 40, 1 %."""
    line = {"flat": four_digit_line(0.04, 0.4)}
    half, _ = strips(rectangle("wing", 40.0), 0.02, line, 30)
    cm = half.torsion / (half.cut.chord * half.cut.area)
    assert_allclose(cm[:15], thin.lift_and_moment(line["flat"])[1], rtol=0.01)
