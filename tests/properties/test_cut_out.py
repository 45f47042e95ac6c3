"""Fuselage and cut-outs: what the code does with them, so that it stays what docs/accuracy.md says it is.

The wing is carried through the body flat, with its root's chord and angle; what lies inside counts for area and lift,
not for section drag and not for the stall. A cut-out is a change of chord, and the lattice does the rest.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shelf import shelf

from sparwright.air.atmosphere import atmosphere
from sparwright.air.turned import turned
from sparwright.family.reader import load
from sparwright.flight.aeroplane import aeroplane
from sparwright.shape.lifting import wing_planform
from sparwright.shape.planform import Planform

FLAT = {"flat": np.array([[0.0, 1.0], [0.0, 0.0]])}
MODELS = load("examples/whinchat/whinchat.toml").models
HALF, SLOPE, TIP = 0.5, 0.05, 4.0  # m: half width of the cut-out, its sloping side, the tip


def notched(depth: float) -> Planform:
    """A rectangular wing of chord 1 and span 8 with a cut-out at the trailing edge, `depth` of the chord."""
    y = np.array([0.0, HALF, HALF + SLOPE, TIP])
    chord = np.array([1 - depth, 1 - depth, 1.0, 1.0])
    return Planform("w", np.array([0 * y, y, 0 * y]), chord, 0 * y, ("flat",) * 4)


def lift_and_span_factor(depth: float) -> tuple[float, float, float]:
    """(lift over q in m2 at 0.1 rad, L^2/(pi q b^2 D), circulation in the middle over the greatest)."""
    wing = notched(depth)
    s = turned((wing,), FLAT, FLAT, [0.1]).state(0.1)
    lift, drag = s.lift * wing.area, s.induced_drag * wing.area
    g = s.strips["w"].circulation
    return lift, lift**2 / (np.pi * (2 * TIP) ** 2 * drag), float(g[0] / g.max())


def test_a_cut_out_costs_its_area_exactly() -> None:
    assert_allclose(notched(0.0).area - notched(0.4).area, 2 * 0.4 * (HALF + SLOPE / 2), rtol=1e-12, atol=0)


def test_a_cut_out_costs_more_lift_than_area_and_a_dip_in_the_load() -> None:
    whole, e0, _ = lift_and_span_factor(0.0)
    last = (0.0, e0, 1.0)
    for depth in (0.1, 0.2, 0.4, 0.6):
        lift, e, middle = lift_and_span_factor(depth)
        lost, area = 1 - lift / whole, 1 - notched(depth).area / notched(0.0).area
        assert area < lost < 2 * area
        assert lost > last[0] and e < last[1] and middle < last[2]
        last = (lost, e, middle)


def test_no_cut_out_is_the_plain_wing() -> None:
    plain = Planform("w", np.array([[0.0, 0.0], [0.0, TIP], [0.0, 0.0]]), np.ones(2), np.zeros(2), ("flat",) * 2)
    assert_allclose(
        lift_and_span_factor(0.0)[0],
        turned((plain,), FLAT, FLAT, [0.1]).state(0.1).lift * plain.area,
        rtol=1e-3,
        atol=0,
    )


@pytest.mark.parametrize("name", ["W2", "W3"])
def test_the_wing_is_carried_through_the_body_flat(name: str) -> None:
    model = MODELS[name]
    lower = model.wing("lower")
    p = wing_planform(lower)
    side, root = lower.panels[0].root_buttline, lower.panels[0]
    assert p.side == side > 0
    assert_allclose(p.chord[0], root.root_chord, rtol=1e-12, atol=0)
    assert_allclose(p.leading_edge[:, 0], (lower.leading_edge[0], 0.0, lower.leading_edge[2]), rtol=1e-12, atol=1e-12)
    outside = sum((q.tip_buttline - q.root_buttline) * (q.root_chord + q.tip_chord) for q in lower.panels)
    assert_allclose(p.area, outside + 2 * side * root.root_chord, rtol=1e-12, atol=0)


def test_what_lies_inside_the_body_lifts_but_has_no_section_drag() -> None:
    plane = aeroplane(MODELS["W2"], (), atmosphere(0.0), shelf)
    strips = plane.strips["lower"]
    p = next(p for p in plane.company.planforms if p.name == "lower")
    inside = ~strips.outside
    assert_allclose(2 * strips.area[inside].sum(), 2 * p.side * p.chord[0], rtol=1e-6, atol=0)
    assert (plane.company.state(0.1).strips["lower"].lift[inside] > 0).all()
