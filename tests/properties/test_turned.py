"""What must hold of the lattice turned into the stream."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
from cells import LINES, biplane, scaled, upside_down, wing
from numpy.testing import assert_allclose

from sparwright.air.mesh import mesh, source_rows
from sparwright.air.node import node
from sparwright.air.turned import Company, CompanyState, turned
from sparwright.shape.planform import Planform

X = np.linspace(0, 1, 201)
THICK = {name: np.array([X, 0.12 * 4 * X * (1 - X)]) for name in LINES}
THIN = {name: np.array([X, 0 * X]) for name in LINES}
ALPHA = 0.12


@lru_cache
def company() -> Company:
    return turned(biplane(), LINES, THICK)


def numbers(s: CompanyState) -> np.ndarray:
    return np.array([s.lift, s.induced_drag, s.induced_drag_near, s.moment, *s.lift_share.values()])


def one(surfaces: tuple[Planform, ...], alpha: float = ALPHA, **more: int) -> CompanyState:
    return turned(surfaces, LINES, THICK, [alpha], **more).state(alpha, {"upper": 0.05})


@pytest.mark.parametrize("by", [0.07, 30.0])
def test_size_does_not_matter(by: float) -> None:
    large = one(tuple(scaled(p, by) for p in biplane()))
    assert_allclose(numbers(large), numbers(one(biplane())), rtol=1e-6, atol=1e-9)


def test_order_does_not_matter() -> None:
    a, b = one(biplane()), one(biplane()[::-1])
    for name in a.strips:
        assert_allclose(a.strips[name].lift, b.strips[name].lift, rtol=1e-9, atol=1e-12)
    assert_allclose(numbers(a)[:4], numbers(b)[:4], rtol=1e-9, atol=0)


def test_upside_down_gives_the_opposite_lift() -> None:
    lines = LINES | {name + " down": line * np.array([[1.0], [-1.0]]) for name, line in LINES.items()}
    thick = THICK | {name + " down": line for name, line in THICK.items()}
    up = turned(biplane(), lines, thick, [ALPHA]).state(ALPHA, {"upper": 0.05})
    over = tuple(upside_down(p) for p in biplane())
    down = turned(over, lines, thick, [-ALPHA]).state(-ALPHA, {"upper": -0.05})
    for name in up.strips:
        assert_allclose(down.strips[name].lift, -up.strips[name].lift, rtol=1e-9, atol=1e-12)
        assert_allclose(down.strips[name].onset, up.strips[name].onset, rtol=1e-9, atol=0)
    assert_allclose([down.induced_drag, down.moment], [up.induced_drag, -up.moment], rtol=1e-9, atol=0)


def test_a_plain_wing_lifts_nothing_at_no_angle() -> None:
    level = wing("wing", 0, 0, twist=0.0, section="flat")
    s = turned((replace(level, angle=0 * level.angle),), LINES, THIN, [0.0]).state(0.0)
    assert_allclose([s.lift, s.induced_drag, s.moment], 0.0, rtol=0, atol=1e-13)


def test_circulation_is_straight_and_drag_square_in_the_hinges() -> None:
    """At a node and between nodes."""
    for alpha in (company().nodes[4].alpha, 0.11):
        at = [company().state(alpha, {"lower": e, "tail": -2 * e}) for e in (0.0, 0.04, 0.08, 0.12)]
        assert_allclose(np.diff([s.circulation for s in at], 2, axis=0), 0, rtol=0, atol=1e-12)
        assert_allclose(np.diff([s.induced_drag for s in at], 3), 0, rtol=0, atol=1e-14)


def test_breaks_and_hinge_ends_are_strip_edges() -> None:
    surface = mesh(biplane(), LINES, THIN).surfaces[1]
    for y in (1.0, 4.0, 2.4, 3.6):
        assert np.min(np.abs(surface.edge[1] - y)) < 1e-9


def test_crossing_surfaces_share_their_strips() -> None:
    low, high = wing("low", 0, 0, rise=0.2), wing("high", 4, 0.3, span=6, rise=0.0)
    first, second = (s.edge[1] for s in mesh((low, high), LINES, THIN, angles=[0.0]).surfaces)
    assert_allclose(first[: second.size], second, rtol=0, atol=1e-12)


@pytest.mark.parametrize("height", [0.0, 0.01, 0.05, 0.2])
def test_a_tail_in_the_wake_is_not_upset_by_where_the_strips_lie(height: float) -> None:
    """Strips of wing and tail are cut at the same buttlines there; left alone, the tail's lift can even change sign."""
    pair = (wing("wing", 0, 0, rise=0.0), wing("tail", 5.0, height, span=3.3, root=0.8, tip=0.7, rise=0.0, tail=True))
    a, b = (turned(pair, LINES, THICK, [0.0], spanwise=s).state(0.0) for s in (14, 40))
    assert_allclose(a.surface_lift("tail"), b.surface_lift("tail"), rtol=0.01, atol=0)
    assert_allclose(a.moment, b.moment, rtol=0, atol=0.005 * abs(b.lift))
    assert_allclose(a.induced_drag_near, a.induced_drag, rtol=0.01, atol=0)


def test_usual_panels_are_enough_for_a_cell_with_kinks() -> None:
    lifts = []
    for c, m in ((6, 14), (12, 28)):
        low, high = (turned(biplane(), LINES, THICK, [a], chordwise=c, spanwise=m).state(a).lift for a in (-0.01, 0.01))
        lifts.append(high - low)
    assert_allclose(lifts[0], lifts[1], rtol=0.003, atol=0)


@pytest.mark.parametrize("degrees", [0, 5, 10, 15])
def test_near_field_drag_is_the_far_wakes(degrees: int) -> None:
    """The forces on the panels along the stream against Munk's wake, for a cell with sweep, dihedral, kinks and a tail.

    Lift differs by what sidewash does to the wakes, which grows with the square of the angle.
    """
    s = company().state(np.radians(degrees))
    assert_allclose(s.induced_drag_near, s.induced_drag, rtol=0.012, atol=0)
    assert_allclose(s.lift, s.lift_far, rtol=0.003 + 0.1 * np.sin(np.radians(degrees)) ** 2, atol=0)


def test_near_field_drag_comes_closer_with_more_strips() -> None:
    """What stays, 0.7 % at 15 deg, is the sidewash taken straight out to the tips."""
    apart = []
    for c, m in ((6, 14), (12, 28)):
        s = turned(biplane(), LINES, THICK, [0.26], chordwise=c, spanwise=m).state(0.26)
        apart.append(abs(s.induced_drag_near / s.induced_drag - 1))
    assert apart[1] < 0.75 * apart[0] and apart[1] < 0.0075


def test_near_field_drag_of_a_plain_cell_is_closer() -> None:
    """Without sweep, kinks and twist 0.1 % is left up to 15 deg."""
    plain = tuple(plate(name, z) for name, z in (("lower", 0.0), ("upper", 1.2)))
    for alpha in np.radians([5, 10, 15]):
        s = turned(plain, LINES, THICK, [alpha]).state(alpha)
        assert_allclose(s.induced_drag_near, s.induced_drag, rtol=0.001, atol=0)


def plate(name: str, z: float = 0.0, chord: float = 1.0, section: str = "flat") -> Planform:
    edge = np.array([[0.0, 0.0], [0.0, 3.0], [z, z]])
    return Planform(name, edge, np.full(2, chord), np.zeros(2), (section,) * 2)


def test_strips_sum_to_the_whole() -> None:
    s = company().state(ALPHA, {"lower": 0.1})
    assert_allclose(2 * sum(strips.lift.sum() for strips in s.strips.values()), s.lift * s.company.reference.area)
    assert_allclose(sum(s.lift_share.values()), 1, rtol=1e-12)
    assert_allclose(sum(s.wing_share.values()), 1, rtol=1e-12)


def test_forces_and_moments_turn_with_the_axes() -> None:
    """CX = D cos - L sin, CZ = L cos + D sin in body axes; the moment moves with both."""
    s = company().state(ALPHA)
    x, z = s.body_force
    assert_allclose(x, s.induced_drag_near * np.cos(ALPHA) - s.lift * np.sin(ALPHA), rtol=1e-12)
    assert_allclose(z, s.lift * np.cos(ALPHA) + s.induced_drag_near * np.sin(ALPHA), rtol=1e-12)
    c, m = s.company.reference.chord, s.moment_about(1.0, 0.5)
    assert_allclose(s.moment_about(1.0 + c / 10, 0.5) - m, z / 10, rtol=1e-9)
    assert_allclose(s.moment_about(1.0, 0.5 + c / 10) - m, -x / 10, rtol=1e-9)


@pytest.mark.parametrize(("alpha", "order"), [(0.0, 1.9), (0.26, 1.5)])
def test_panels_converge_with_the_square_of_their_size(alpha: float, order: float) -> None:
    """Lift, moment and drag of a thick cambered cell of plain rectangles.

    Second order at small angles. Where the legs bend at the trailing edge the loading near the tips is less smooth, and
    at 15 deg the order falls to between 1.5 and 2; the usual panels are then 0.1 % off the finest.
    """
    cell = (plate("lower", section="bent"), plate("upper", 1.0, section="bent"))
    found = []
    for c in (2, 4, 8, 16):
        s = turned(cell, LINES, THICK, [alpha], chordwise=c, spanwise=2 * c).state(alpha)
        found.append([s.lift, s.moment, s.induced_drag])
    steps = np.abs(np.diff(found, axis=0))
    assert np.all(np.log2(steps[-2] / steps[-1]) > order)
    usual = turned(cell, LINES, THICK, [alpha]).state(alpha)
    assert_allclose([usual.lift, usual.induced_drag], [found[-1][0], found[-1][2]], rtol=0.0015, atol=0)


@pytest.mark.parametrize("z", [4000.0, -4000.0])
def test_a_wing_far_away_changes_nothing(z: float) -> None:
    alone = turned((wing("upper", 0, 1.4),), LINES, THICK, [ALPHA]).state(ALPHA)
    both = turned((wing("upper", 0, 1.4), wing("other", 0, z)), LINES, THICK, [ALPHA]).state(ALPHA)
    for field in ("circulation", "lift", "onset"):
        got, want = (getattr(s.strips["upper"], field) for s in (both, alone))
        assert_allclose(got, want, rtol=1e-5, atol=0)
    assert_allclose(alone.onset, 1, rtol=0, atol=1e-12)


def test_three_wings_with_one_of_vanishing_chord_are_two() -> None:
    two = (plate("lower", section="bent"), plate("upper", 1.6, section="bent"))
    third = plate("middle", 0.8, 1e-5, "bent")
    a = turned(two, LINES, THICK, [ALPHA]).state(ALPHA)
    b = turned((*two, third), LINES, THICK, [ALPHA]).state(ALPHA)
    for name in ("lower", "upper"):
        assert_allclose(b.strips[name].lift, a.strips[name].lift, rtol=1e-4, atol=0)
    assert abs(b.surface_lift("middle")) < 1e-4 * b.surface_lift("upper")


def test_response_is_what_a_little_twist_does() -> None:
    """The Jacobian against finite twists, at a node and between nodes; states are straight in the twist."""
    for alpha in (company().nodes[4].alpha, 0.11):
        base, response = company().state(alpha), company().response(alpha)
        onset = company().onset_response(alpha)
        for strip in (0, 9, -1):
            t = np.zeros(company().chords.size)
            t[strip] = 0.02
            s = company().state(alpha, {}, t)
            assert_allclose((s.strip_circulation - base.strip_circulation) / 0.02, response[:, strip], atol=1e-9)
            assert_allclose((s.onset - base.onset) / 0.02, onset[:, strip], atol=1e-9)
            assert response[strip, strip] > 0


def test_a_twist_of_all_strips_is_the_wing_laid_at_that_angle() -> None:
    """0.03 rad: the twist is to first order, turned about no axis; the drag's form holds the twists too."""
    alpha, by = 0.1, 0.03
    base = turned(biplane()[:2], LINES, THICK, [alpha])
    twisted = base.state(alpha, {}, np.full(base.chords.size, by))
    laid = turned(tuple(replace(p, angle=p.angle + by) for p in biplane()[:2]), LINES, THICK, [alpha]).state(alpha)
    assert_allclose(twisted.strip_circulation, laid.strip_circulation, rtol=0.01, atol=0)
    assert_allclose([twisted.lift, twisted.induced_drag], [laid.lift, laid.induced_drag], rtol=0.01, atol=0)
    gamma = twisted.strip_circulation
    drag = gamma @ base.nodes[0].far @ gamma / base.reference.area
    assert_allclose(twisted.induced_drag, drag, rtol=1e-9)


def test_between_the_nodes_it_is_what_a_node_there_would_say() -> None:
    c = company()
    for alpha in (-0.15, 0.03, 0.19, 0.33):
        there = replace(c, nodes=(node(c.mesh, alpha),))
        args = alpha, {"tail": -0.1, "lower": 0.05}, np.full(c.chords.size, -0.01)
        assert_allclose(numbers(c.state(*args)), numbers(there.state(*args)), rtol=1e-3, atol=5e-4)


def test_neighbours_speed_up_the_upper_wing_and_slow_the_lower() -> None:
    """By circulation about CL c/(8 pi h) each way for long wings (glauert-1926 ch. XII); thickness speeds up both."""
    plates = tuple(replace(plate(n, z), leading_edge=np.array([[0.0, 0.0], [0.0, 60.0], [z, z]]))
                   for n, z in (("lower", 0.0), ("upper", 2.0)))  # fmt: skip
    thin, thick = (turned(plates, LINES, t, [0.1]).state(0.1) for t in (THIN, THICK))
    low, high = (thin.strips[n].onset[0] for n in ("lower", "upper"))
    cl = thin.strips["lower"].lift_coefficient[0]
    assert_allclose([1 - low, high - 1], cl / (4 * np.pi * 2.0), rtol=0.1)
    assert thick.strips["lower"].onset[0] > low and thick.strips["upper"].onset[0] > high


def test_sources_of_a_section_close_and_hold_its_area() -> None:
    for rows in (2, 6, 13):
        m = source_rows(THICK["flat"], rows)
        x = (np.arange(rows) + 0.25) / rows
        assert_allclose([m.sum(), m @ x], [0, -0.08], rtol=1e-3, atol=1e-15)
    assert np.all(source_rows(THIN["flat"], 6) == 0)
    open_edge = np.array([X, 0.12 * 4 * X * (1 - X) + 0.01 * X])
    assert_allclose(source_rows(open_edge, 6), source_rows(THICK["flat"], 6), rtol=1e-9)


def test_what_it_refuses() -> None:
    with pytest.raises(ValueError, match="outside the lattice's"):
        company().state(0.5)
    with pytest.raises(KeyError, match="nobody"):
        company().state(0.0, {"nobody": 0.1})
    with pytest.raises(ValueError, match="strips"):
        company().state(0.0, {}, np.zeros(3))
    with pytest.raises(ValueError, match="name"):
        turned((plate("a"), plate("a", 1.0)), LINES, THIN)
    with pytest.raises(ValueError, match="at least one panel"):
        turned((plate("a"),), LINES, THIN, chordwise=0)
    for lines, thick in (({}, THIN), (LINES, {})):
        with pytest.raises(KeyError, match="flat"):
            turned((plate("a"),), lines, thick, [0.0])


def test_ground_is_the_same_wing_upside_down_below() -> None:
    """The image as a surface of its own, thickness and all, at no angle of the thrust line to the ground."""
    lines = LINES | {"bent down": LINES["bent"] * np.array([[1.0], [-1.0]])}
    thick = THICK | {"bent down": THICK["bent"]}
    mine = replace(wing("upper", 0.0, 1.0), angle=np.full(3, 0.1))
    below = replace(upside_down(mine), name="below")
    pair = turned((mine, below), lines, thick, [0.0]).state(0.0)
    ground = turned((mine,), lines, thick, [0.0], height=mine.mean_chord[2]).state(0.0)
    for field in ("circulation", "lift", "onset"):
        got, want = (getattr(s.strips["upper"], field) for s in (ground, pair))
        assert_allclose(got, want, rtol=1e-9, atol=0)
    assert_allclose(ground.induced_drag, pair.induced_drag, rtol=1e-9, atol=0)  # twice the drag on twice the area
