"""What must stay the same, or scale, when a wing cell is changed."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.air.lattice import Cell, lay
from sparwright.shape.planform import Planform

X = np.linspace(0, 1, 41)
LINES = {"flat": np.array([X, 0 * X]), "bent": np.array([X, 0.16 * X * (1 - X)])}


def wing(name: str, x: float, z: float, *, span: float = 8.0, root: float = 1.3, tip: float = 0.9, sweep: float = 0.1,
         rise: float = 0.05, twist: float = -0.03, section: str = "bent", tail: bool = False) -> Planform:  # fmt: skip
    y = np.array([0.0, 0.25, 1.0]) * span / 2
    edge = np.array([x + sweep * y, y, z + rise * y])
    chord = np.array([root, root, tip])
    return Planform(
        name, edge, chord, 0.03 + twist * y / y[-1], (section,) * 3, 0.0, 0.7, 0.3 * span, 0.45 * span, tail
    )


def scaled(p: Planform, by: float) -> Planform:
    return replace(
        p, leading_edge=p.leading_edge * by, chord=p.chord * by, hinge_from=p.hinge_from * by, hinge_to=p.hinge_to * by
    )


def biplane() -> tuple[Planform, ...]:
    return (
        wing("lower", 0.4, 0.0, span=7),
        wing("upper", 0.0, 1.4),
        wing("tail", 5.0, 0.5, span=3, root=0.8, tip=0.7, tail=True),
    )


def numbers(cell: Cell, alpha: float = 0.07, **more: Any) -> np.ndarray:
    s = cell.state(alpha, {"upper": 0.05}, **more)
    return np.array([s.lift, s.induced_drag, s.induced_drag_near, s.moment, *s.lift_share.values()])


@settings(max_examples=12, deadline=None)
@given(st.floats(0.05, 40.0))
def test_size_does_not_matter(by: float) -> None:
    small, large = lay(biplane(), LINES), lay(tuple(scaled(p, by) for p in biplane()), LINES)
    assert_allclose(numbers(large), numbers(small), rtol=1e-6, atol=1e-9)
    assert_allclose(large.reference.area, small.reference.area * by**2, rtol=1e-12, atol=0)
    assert_allclose(large.neutral_point(), small.neutral_point() * by, rtol=1e-6, atol=0)


@settings(max_examples=8, deadline=None)
@given(st.permutations([0, 1, 2]))
def test_order_does_not_matter(order: list[int]) -> None:
    one, other = lay(biplane(), LINES), lay(tuple(biplane()[i] for i in order), LINES)
    a, b = one.state(0.07, {"upper": 0.05}), other.state(0.07, {"upper": 0.05})
    for name in ("lower", "upper", "tail"):
        assert_allclose(a.strips[name].circulation, b.strips[name].circulation, rtol=1e-9, atol=1e-12)
    assert_allclose([a.lift, a.induced_drag, a.moment], [b.lift, b.induced_drag, b.moment], rtol=1e-9, atol=0)


@pytest.mark.parametrize("x, z", [(0.0, 4000.0), (0.0, -4000.0)])
def test_a_wing_far_away_changes_nothing(x: float, z: float) -> None:
    alone = lay((wing("upper", 0.0, 1.4),), LINES).state(0.07)
    both = lay((wing("upper", 0.0, 1.4), wing("other", x, z)), LINES).state(0.07)
    assert_allclose(both.strips["upper"].circulation, alone.strips["upper"].circulation, rtol=1e-5, atol=0)


def upside_down(p: Planform) -> Planform:
    edge = p.leading_edge * np.array([[1.0], [1.0], [-1.0]])
    return replace(p, leading_edge=edge, angle=-p.angle, sections=tuple(s + " down" for s in p.sections))


def test_upside_down_gives_the_opposite_lift() -> None:
    lines = LINES | {name + " down": line * np.array([[1.0], [-1.0]]) for name, line in LINES.items()}
    up = lay(biplane(), lines).state(0.07, {"upper": 0.05}, 0.01)
    down = lay(tuple(upside_down(p) for p in biplane()), lines).state(-0.07, {"upper": -0.05}, -0.01)
    for name in up.strips:
        assert_allclose(down.strips[name].circulation, -up.strips[name].circulation, rtol=1e-9, atol=1e-12)
    assert_allclose(down.induced_drag, up.induced_drag, rtol=1e-9, atol=0)
    assert_allclose(down.moment, -up.moment, rtol=1e-9, atol=0)


def test_a_plain_wing_lifts_nothing_at_no_angle() -> None:
    level = wing("wing", 0, 0, twist=0.0, section="flat")
    state = lay((replace(level, angle=0 * level.angle),), LINES).state(0.0)
    assert_allclose([state.lift, state.induced_drag, state.moment], 0.0, rtol=0, atol=1e-13)


def test_lift_is_straight_and_drag_square_in_the_state() -> None:
    cell = lay(biplane(), LINES)
    zero, one, two = (cell.state(a, {"lower": a / 2}, a / 9) for a in (0.0, 0.04, 0.08))
    assert_allclose(two.lift - zero.lift, 2 * (one.lift - zero.lift), rtol=1e-12, atol=0)
    drags = [cell.state(a).induced_drag for a in (-0.1, 0.0, 0.1, 0.2)]
    assert_allclose(np.diff(drags, 3), 0, rtol=0, atol=1e-14)


def test_shares_sum_to_one_and_totals_to_the_strips() -> None:
    state = lay(biplane(), LINES).state(0.07)
    assert_allclose(sum(state.lift_share.values()), 1, rtol=1e-12, atol=0)
    assert_allclose(sum(state.wing_share.values()), 1, rtol=1e-12, atol=0)
    total = 2 * sum(s.lift.sum() for s in state.strips.values())
    assert_allclose(total, state.lift * state.cell.reference.area, rtol=1e-12, atol=0)


def test_moment_moves_with_the_lift() -> None:
    state = lay(biplane(), LINES).state(0.07)
    ref = state.cell.reference
    fore, aft = state.moment_about(1.0, 0.5), state.moment_about(1.0 + ref.chord / 10, 0.5)
    assert_allclose(aft - fore, state.lift / 10, rtol=1e-9, atol=0)


def test_moment_moves_with_the_force_along_the_thrust_line() -> None:
    """Along x the lift leans forward by alpha and the drag pulls aft: CX = CDi - alpha CL."""
    state = lay(biplane(), LINES).state(0.07)
    ref = state.cell.reference
    low, high = state.moment_about(1.0, 0.5), state.moment_about(1.0, 0.5 + ref.chord / 10)
    assert_allclose(high - low, -(state.induced_drag_near - 0.07 * state.lift) / 10, rtol=1e-9, atol=0)


def test_neutral_point_is_where_the_moment_stands_still() -> None:
    cell = lay(biplane(), LINES)
    x, z = cell.neutral_point(), cell.reference_point[1]
    m = [cell.state(a).moment_about(x, z) for a in (-1e-3, 1e-3)]
    assert_allclose(m[0], m[1], rtol=0, atol=1e-9)


def test_breaks_and_hinge_ends_are_strip_edges() -> None:
    surface = lay(biplane(), LINES).grid.surfaces[1]
    for y in (1.0, 4.0, 2.4, 3.6):
        assert np.min(np.abs(surface.edge[1] - y)) < 1e-9


def test_panels_converge_with_the_square_of_their_size() -> None:
    """On a plain rectangle; a swept middle, a kink or a hinge end bring it down to first order."""
    plate = wing("wing", 0, 0, root=1.0, tip=1.0, sweep=0.0, rise=0.0, twist=0.0, section="flat")
    plain = replace(plate, leading_edge=plate.leading_edge[:, ::2], chord=plate.chord[::2], angle=np.zeros(2),
                    sections=("flat",) * 2, hinge=1.0)  # fmt: skip
    slopes = [lay((plain,), LINES, chordwise=c, spanwise=2 * c).lift_slope for c in (3, 6, 12, 24)]
    steps = np.diff(slopes)
    assert np.all(np.log2(steps[:-1] / steps[1:]) > 1.9)


def test_usual_panels_are_enough_for_a_cell_with_kinks() -> None:
    usual, fine = (lay(biplane(), LINES, chordwise=c, spanwise=s).lift_slope for c, s in ((6, 14), (12, 28)))
    assert_allclose(usual, fine, rtol=0.003, atol=0)


@pytest.mark.parametrize("height", [0.0, 0.01, 0.05, 0.2])
def test_a_tail_in_the_wake_is_not_upset_by_where_the_strips_lie(height: float) -> None:
    """Strips of wing and tail are cut at the same buttlines there; left alone, the tail's lift can even change sign."""
    pair = (wing("wing", 0, 0, rise=0.0), wing("tail", 5.0, height, span=3.3, root=0.8, tip=0.7, rise=0.0, tail=True))
    usual, fine = (lay(pair, LINES, spanwise=s) for s in (14, 40))
    a, b = usual.state(0.1), fine.state(0.1)
    assert_allclose(a.surface_lift("tail"), b.surface_lift("tail"), rtol=0.01, atol=0)
    assert_allclose(usual.neutral_point(), fine.neutral_point(), rtol=0.005, atol=0)
    assert_allclose(a.induced_drag_near, a.induced_drag, rtol=0.01, atol=0)


def test_crossing_surfaces_share_their_strips() -> None:
    low, high = wing("low", 0, 0, rise=0.2), wing("high", 4, 0.3, span=6, rise=0.0)
    first, second = (s.edge[1] for s in lay((low, high), LINES).grid.surfaces)
    assert_allclose(first[: second.size], second, rtol=0, atol=1e-12)
