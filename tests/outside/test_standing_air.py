"""Divergence of a uniform cantilever and reversal of a section on a spring, against closed forms.

Sources: megson, problem on divergence (read): GJ 12e6 N m2, 8.0 m root to tip, chord 2.8 m, lift slope 3.1, aerodynamic
centre 1.2 m ahead of the axis, 1.226 kg/m3: 269.2 m/s. Typical section (memory, high; bisplinghoff-1955 ch. 8):
q_R = -K (dCL/dd)/(S c a dCm/dd), with Glauert's flap (air/thin.py).
"""

from __future__ import annotations

import numpy as np
import pytest
from cantilevers import Wing, changed, frame, laid, strips

from sparwright.aeroelastic.screening import cantilever_divergence
from sparwright.aeroelastic.standing import Standing, give_of, standing
from sparwright.aeroelastic.strip import Strips, two_dimensional
from sparwright.air.thin import flap_line, lift_and_moment


def _diverging(w: Wing) -> Standing:
    nothing = 0 * laid(w, 0.5, 4)
    return standing(strips(w), give_of(frame(w), laid(w, 0.5, 2), laid(w, 0.5, 4), nothing))


def test_divergence_of_a_uniform_cantilever() -> None:
    """269.2 m/s; 60 strips leave 6e-5, the printed digit 2e-4."""
    w = Wing(span=8.0, chord=2.8, axis=0.25 + 1.2 / 2.8, bending=1e9, torsion=12e6, slope=3.1, parts=60)
    found = np.sqrt(2 * _diverging(w).divergence / 1.226)
    assert found == pytest.approx(269.2, abs=0.08)
    assert cantilever_divergence(12e6, 2.8, 1.2, 8.0, 3.1, 1.226) == pytest.approx(269.2, abs=0.05)


@pytest.mark.parametrize("axis", [0.05, 0.2, 0.2499])
def test_no_divergence_ahead_of_the_quarter(axis: float) -> None:
    """The lift then holds the wing back."""
    assert _diverging(changed(Wing(), axis=axis)).divergence == np.inf


@pytest.mark.parametrize("hinge", [0.6, 0.75, 0.9])
def test_reversal_of_a_section_on_a_spring(hinge: float) -> None:
    """The closed form holds wherever the spring's axis is; 1e-6 is the search's."""
    c, width, stiff = 1.3, 0.8, 2500.0
    one, x, z = np.ones(1), np.array([[1.0, 0, 0]]), np.array([[0.0, 0, 1]])
    s = Strips(0 * x, x, z, c * one, width * one, hinge * one, two_dimensional(c * one))
    lift, moment = lift_and_moment(flap_line(hinge))
    asked, row = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
    for aft in (0.3, 0.45):
        arm = (aft - 0.5) * c  # of the axis behind the middle: give of a body on a torsion spring there
        body = np.array([arm, 1.0, 0.0])
        on = standing(s, np.outer(body, body) / stiff)
        closed = -stiff * lift / (width * c * c * 2 * np.pi * moment)
        assert on.divergence == pytest.approx(stiff / (2 * np.pi * width * c * (aft - 0.25) * c), rel=1e-9)
        if closed < on.divergence:
            assert on.reversal(asked, row, 1e9) == pytest.approx(closed, rel=1e-6)


def test_what_is_left_of_an_aileron_that_does_nothing_is_not_known() -> None:
    """No strip carries what is asked: nought over nought is no roll that is never reversed."""
    one, x, z = np.ones(1), np.array([[1.0, 0, 0]]), np.array([[0.0, 0, 1]])
    on = standing(Strips(0 * x, x, z, one, one, 0.75 * one, two_dimensional(one)), np.diag([0.0, 1e-4, 0.0]))
    with np.errstate(invalid="ignore"):
        assert np.isnan(on.reversal(np.zeros(3), np.array([1.0, 0.0, 0.0]), 1e5))
