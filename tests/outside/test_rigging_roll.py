"""The aileron that holds a wing whose one side is set nose up, by strips, against lifting-line theory.

Source: H. Glauert, The Elements of Aerofoil and Airscrew Theory (1926) ch. XI (Fourier series of the circulation, odd
loads: even n alone; rolling moment as the second coefficient), solved here at collocation points; tau in closed form,
ch. IX. The strips leave out what they do to each other: FLOW is the range of lifting-line over strips for wings of
aspect ratio 5 to 8 with usual ailerons, found here: 0.93 to 1.16.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.family.model import Family
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.rigging import FLOW, flap_part, held_by, lever
from sparwright.shape.lifting import wing_planform

COUNT = 400


def second(aspect: float, start: float, end: float) -> float:
    """Second coefficient of a rectangular wing with an odd angle of 1 between two parts of the half span."""
    n, theta = np.arange(2, 2 * COUNT + 1, 2), np.arange(1, COUNT + 1) * np.pi / (2 * COUNT + 1)
    mu, y = 2 * np.pi / (4 * aspect), np.cos(theta)
    matrix = np.sin(np.outer(theta, n)) * (mu * n + np.sin(theta)[:, None])
    angle = ((y > start) & (y < end)).astype(float)
    return float(np.linalg.solve(matrix, mu * np.sin(theta) * angle)[0])


@pytest.mark.parametrize("aspect", [5.0, 6.0, 8.0])
@pytest.mark.parametrize("ends", [(0.5, 0.95), (0.6, 1.0), (0.35, 0.95), (0.45, 0.87)])
def test_strips_against_lifting_line(whinchat: Family, aspect: float, ends: tuple[float, float]) -> None:
    model, span = whinchat.models["W1"], 8.0
    wing = model.wings[0]
    assert wing.aileron
    panel = replace(wing.panels[0], root_buttline=0.0, tip_buttline=span / 2, root_chord=span / aspect,
                    tip_chord=span / aspect, sweep=0.0, dihedral=0.0, twist=0.0)  # fmt: skip
    aileron = replace(wing.aileron, inboard=ends[0] * span / 2, outboard=ends[1] * span / 2, frame=None)
    plain = replace(wing, panels=(panel,), aileron=aileron)
    t, p = 0.01, wing_planform(plain)
    found = held_by(replace(model, wings=(plain,)), t * lever(p, 0.0, span / 2))
    tau = flap_part(aileron.hinge)
    theirs = t / 2 * second(aspect, 0.0, 1.0) / (tau * second(aspect, *ends))  # one side t is half odd, half even
    ours = found.value * EFFECTIVE.value
    assert FLOW.low <= theirs / ours <= FLOW.high
    assert found.low <= theirs / EFFECTIVE.high and theirs / EFFECTIVE.low <= found.high


@pytest.mark.parametrize("chord", [0.2, 0.25, 0.3, 0.5])
def test_flap_part(chord: float) -> None:
    """tau = 1 - (th - sin th)/pi, cos th = 2E - 1."""
    th = math.acos(2 * chord - 1)
    assert_allclose(flap_part(1 - chord), 1 - (th - math.sin(th)) / math.pi, rtol=1e-9)
