"""What a section's flow must do whatever the numbers: mirror, flap, roughness, range."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from sparwright.air.flow.contour import contour, wake_steps
from sparwright.air.flow.polar import SMOOTH, Point, Surface, polar, prepared
from sparwright.family.model import Section
from sparwright.shape.section import curve

THIN = Section(name="tail", naca="0010")
CAMBERED = Section(name="wing", naca="3412")
ROUGH = Surface("rough", upper=0.05, lower=0.05)


def flow(section: Section, degrees: float, surface: Surface = ROUGH, reynolds: float = 1e6, **flap: float) -> Point:
    ready = prepared(section, hinge=flap.get("hinge", 1.0), deflection=flap.get("deflection", 0.0))
    found = polar(ready, reynolds, surface, tuple(math.radians(degrees + step) for step in (0, 1, 2)))
    assert found.points[0].settled, found.points[0].left
    return found.points[0]


def test_a_symmetrical_section_mirrors() -> None:
    up, down = flow(THIN, 4), flow(THIN, -4)
    np.testing.assert_allclose(
        [up.lift, up.drag, up.moment], [-down.lift, down.drag, -down.moment], rtol=1e-4, atol=1e-6
    )
    np.testing.assert_allclose(up.turns, down.turns[::-1], rtol=1e-6, atol=0)


def test_lift_of_the_pressures_is_below_the_potential_one() -> None:
    point = flow(CAMBERED, 4)
    ideal = prepared(CAMBERED).outer.lift(math.radians(4))
    assert 0.85 * ideal < point.lift < ideal


def test_roughness_costs_drag_and_turns_the_flow_early() -> None:
    smooth, rough = flow(CAMBERED, 2, SMOOTH, 2e6), flow(CAMBERED, 2, ROUGH, 2e6)
    assert rough.drag > 1.2 * smooth.drag
    assert rough.turns[0] < 0.08 < 0.3 < smooth.turns[0]
    assert rough.turns[1] < 0.08 < 0.6 < smooth.turns[1]  # the lower side of a smooth section stays laminar longer


def test_a_flap_lifts_and_its_hinge_moment_pulls_it_back() -> None:
    """Between half and all of the thin-aerofoil effect; hinge moment against the turn (glauert-1926: -0.94 per rad)."""
    turn, share = math.radians(4), 0.25
    plain, turned = flow(THIN, 0, hinge=0.75), flow(THIN, 0, hinge=0.75, deflection=turn)
    theta = math.acos(2 * share - 1)
    thin = 2 * math.pi * (1 - (theta - math.sin(theta)) / math.pi)
    assert 0.5 < (turned.lift - plain.lift) / (thin * turn) < 1.0
    assert -1.0 < (turned.hinge_moment - plain.hinge_moment) / turn < -0.4


@pytest.mark.long
def test_a_flap_turned_far_is_reached_in_steps() -> None:
    """15 deg, past where a cold start settles: it still lifts, by less than the thin-aerofoil effect."""
    turn = math.radians(15)
    plain, turned = flow(CAMBERED, 0, hinge=0.78), flow(CAMBERED, 0, hinge=0.78, deflection=turn)
    theta = math.acos(2 * 0.22 - 1)
    thin = 2 * math.pi * (1 - (theta - math.sin(theta)) / math.pi)
    assert 0.3 < (turned.lift - plain.lift) / (thin * turn) < 0.9


def test_outside_its_reynolds_numbers_it_refuses() -> None:
    with pytest.raises(ValueError, match="Reynolds number"):
        polar(prepared(THIN), 2e4)


def test_a_thick_tail_is_refused() -> None:
    blunt = Section(
        name="blunt",
        points=((1.0, 0.02), (0.5, 0.06), (0.1, 0.04), (0.0, 0.0), (0.1, -0.04), (0.5, -0.06), (1.0, -0.02)),
    )
    with pytest.raises(ValueError, match="tail"):
        contour(blunt)


def test_what_does_not_settle_is_nan_with_what_was_left(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two sweeps from nothing cannot settle."""
    monkeypatch.setattr("sparwright.air.flow.polar.MOST", 2)
    p = polar(prepared(CAMBERED), 1e6, SMOOTH, (math.radians(2), math.radians(8)))
    assert p.settled == 0
    assert np.isnan(p.column("lift")).all() and np.isnan(p.column("drag")).all()
    assert (p.column("left") > 1e-4).all() and np.isfinite(p.column("left")).all()


def test_drag_does_not_hang_on_where_the_wake_is_cut_off() -> None:
    """squire-young-1938 carries the wake to rest: cut off at 0.2 or 1.2 chords behind, the drag is one."""
    ready, angles = prepared(CAMBERED), (math.radians(2), math.radians(6))
    last = float(ready.outer.length[0] + ready.outer.length[-1]) / 2
    steps = wake_steps(last, len(ready.steps), 0.2)
    away = ready.away.copy()
    away[0], away[1:-1] = (last + steps[0]) / 2, (steps[1:] + steps[:-1]) / 2
    long, short = (polar(r, 1e6, ROUGH, angles) for r in (ready, replace(ready, steps=steps, away=away)))
    assert long.settled == short.settled == 1
    np.testing.assert_allclose(short.column("drag"), long.column("drag"), rtol=0.02, atol=0)


def test_a_section_given_by_points_flows_like_its_formula() -> None:
    """Rounded to five places: the same pressures at the nose (no zigzag of panels), lift and turning place."""
    walked = curve(CAMBERED)[:, ::8]
    points = tuple((round(float(x), 5), round(float(y), 5)) for x, y in walked.T)
    given, formula = (flow(s, 4, SMOOTH, 2e6) for s in (Section(name="points", points=points), CAMBERED))
    np.testing.assert_allclose([given.lift, given.drag], [formula.lift, formula.drag], rtol=0.01, atol=0)
    np.testing.assert_allclose(given.turns, formula.turns, rtol=0, atol=0.02)
    np.testing.assert_allclose(given.pressure.min(), formula.pressure.min(), rtol=0.02, atol=0)


def test_a_thin_section_settles_through_its_stall() -> None:
    """0009 parts from its nose past 15 deg and loses a third of its lift within 2 deg; every angle still settles."""
    angles = tuple(math.radians(a) for a in range(8, 21))
    found = polar(prepared(Section(name="thin", naca="0009")), 1e6, Surface("built", upper=0.1, lower=0.1), angles)
    assert found.settled == 1
    lift = found.column("lift")
    assert lift[8] < 0.7 * lift.max()
