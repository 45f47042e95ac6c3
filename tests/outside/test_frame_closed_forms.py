"""Textbook formulas in space: cantilevers, columns, strings and wires.

Source: any text on strength of materials (Timoshenko, memory, high): cantilever F L^3/(3 E I) + F L/(G As), F L/(E A),
T L/(G J); beam-column, cantilever under a sideways force and thrust: F (tan u/u - 1) L/P, u^2 = P L^2/(E I); Euler's
columns, pi^2, pi^2/4, 20.1907 and 4 pi^2 times E I/L^2 (timoshenko-gere); a string of tension T under w: w L^2/(8 T);
two wires from a point. Tolerance: rounding where one element is exact, else as the line says.
"""

from __future__ import annotations

import numpy as np
import pytest
from frames import ALL, BALL, even, flat, frame, line, point
from numpy.testing import assert_allclose

from sparwright.maths.frame.buckling import buckling
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare

VALUES = {"area": 2.0, "about_y": 3.0, "about_z": 5.0, "twist": 7.0, "youngs": 11.0, "shear": 4.0}


@pytest.mark.parametrize("count", [1, 3])
@pytest.mark.parametrize(
    ("way", "wanted"),
    [
        (0, 6 / (11 * 2)),
        (1, 6**3 / (3 * 11 * 5) + 6 / (4 * 0.5)),
        (2, 6**3 / (3 * 11 * 3) + 6 / (4 * 0.25)),
        (3, 6 / (4 * 7)),
        (4, 6 / (11 * 3)),
        (5, 6 / (11 * 5)),
    ],
)
def test_cantilever(count: int, way: int, wanted: float) -> None:
    f = line(6, count, {0: ALL}, shear_area=(0.5, 0.25), **VALUES)
    s = solve(prepare(f), point(f, (count, way, 1.0)), False)
    assert_allclose(s.moved[0, count, way], wanted, rtol=1e-12)
    assert_allclose(s.reaction[0, 0, way], -1.0, rtol=1e-12)


def test_spread_load_on_a_cantilever() -> None:
    """True end forces with `spread`: w L and w L^2/2 at the root, nought at the tip; w L^4/(8 E I) + w L^2/(2 G As)."""
    f = line(6, 1, {0: ALL}, shear_area=(0.5, 0.25), **VALUES)
    s = solve(prepare(f), np.zeros((1, 2, 6)), False, spread=even(f, (0, 0, 2.0)))
    assert_allclose(s.force[0, 0], [0, 0, -12, 0, 36, 0, 0, 0, 0, 0, 0, 0], rtol=1e-12, atol=1e-12)
    assert_allclose(s.moved[0, 1, 2], 2 * 6**4 / (8 * 33) + 2 * 36 / (2 * 4 * 0.25), rtol=1e-12)
    assert_allclose(s.reaction[0, 0, 2::2], [-12, 36], rtol=1e-12)


def test_propped_by_a_release() -> None:
    """Built in at one end, its other end pinned by release at a fast node: 5/8, 3/8 of w L, w L^2/8."""
    f = line(4, 1, {0: ALL, 1: ALL}, free=np.isin(np.arange(12), (10, 11)), **VALUES)
    s = solve(prepare(f), np.zeros((1, 2, 6)), False, spread=even(f, (0, 0, -2.0)))
    assert_allclose(s.force[0, 0, [2, 4, 8, 10]], [5, -4, 3, 0], rtol=1e-12, atol=1e-12)
    assert_allclose(s.reaction[0, :, 2], [5, 3], rtol=1e-12)


@pytest.mark.parametrize("part", [0.3, 0.9])
def test_cantilever_pushed_and_pressed(part: float) -> None:
    """Part of its own buckling load; 8 elements: 1e-4 at 0.9 of it."""
    f = line(2, 8, {0: ALL}, **VALUES)
    p, ei = part * np.pi**2 / 16 * 33, 33.0
    s = solve(prepare(f), point(f, (8, 0, -p), (8, 2, 0.1)))
    u = np.sqrt(p * 4 / ei)
    assert_allclose(s.moved[0, 8, 2], 0.1 * 2 / p * (np.tan(u) / u - 1), rtol=1e-4)
    assert_allclose(abs(s.reaction[0, 0, 4]), 0.1 * 2 * np.tan(u) / u, rtol=1e-4)


@pytest.mark.parametrize(
    ("ends", "wanted"),
    [
        ((BALL, (1, 2)), np.pi**2),
        ((ALL, ()), np.pi**2 / 4),
        ((ALL, (1, 2)), 20.190729),
        ((ALL, (1, 2, 3, 4, 5)), 4 * np.pi**2),
    ],
)
def test_columns(ends: tuple[tuple[int, ...], tuple[int, ...]], wanted: float) -> None:
    """The weaker way of the two; 16 elements: 1e-4. Just under and just over, second order says the same."""
    first, last = ends
    p = prepare(line(2, 16, {0: (*first, 3), 16: last}, **{**VALUES, "about_y": 2.0}))
    loads = np.concatenate([point(p.frame, (16, 0, -x * wanted * 22 / 4)) for x in (1, 0.999, 1.001)])
    factor, shape = buckling(p, solve(p, loads[:1], False), 0)
    assert_allclose(factor, 1, rtol=1e-4)
    assert np.abs(shape[:, 1]).max() < 1e-3 < np.abs(shape[:, 2]).max()
    assert solve(p, loads).good.tolist()[1:] == [True, False]


@pytest.mark.parametrize("bends", [1.0, 0.0])
def test_string(bends: float) -> None:
    """Pinned links in a row carry nothing but by their tension: w L^2/(8 T) in the middle, exact at the nodes.

    Of rods or of cable, whose section does not bend, all the same.
    """
    count, length, tension, w = 10, 5.0, 1000.0, 3.0
    held = {0: ALL, count: ALL}
    f = line(length, count, held, area=1e3, youngs=1e3, about_y=bends, about_z=bends, wire=True, tension=tension)
    p = prepare(f)
    load = np.zeros((1, count + 1, 6))
    load[0, 1:-1, 2] = -w * length / count
    s = solve(p, load)
    assert_allclose(-s.moved[0, count // 2, 2], w * length**2 / (8 * tension), rtol=1e-9)
    assert p.plain.loose and "mechanism" in solve(p, load, False).why[0]


def test_crossed_wires_in_a_pinned_square() -> None:
    """A side force on a square of pinned bars: one wire takes it (F root 2), the other is slack; and the other way."""
    place = [(0, 0, 0), (1, 0, 0), (1, 0, 1), (0, 0, 1)]
    ends = [(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3)]
    pins = np.isin(np.arange(12), (4, 10))[None] & (np.arange(6) < 4)[:, None]
    f = frame(place, ends, flat(4, {0: (0, 2), 1: (2,)}), area=100.0, free=pins, wire=np.arange(6) > 3)
    s = solve(prepare(f), np.concatenate([point(f, (3, 0, 1.0)), point(f, (3, 0, -1.0))]), False)
    assert s.slack[:, 4:].tolist() == [[False, True], [True, False]]
    assert_allclose(s.pull[:, 4:], [[2**0.5, 0], [0, 2**0.5]], rtol=1e-12, atol=1e-12)


def test_rigged_square_keeps_both_wires_until_one_is_slack() -> None:
    """Rigged to T with bars that do not yield: each wire takes half of the load; slack at F root 2/2 = T."""
    place = [(0, 0, 0), (1, 0, 0), (1, 0, 1), (0, 0, 1)]
    ends = [(0, 1), (1, 2), (2, 3), (3, 0), (0, 2), (1, 3)]
    pins = np.isin(np.arange(12), (4, 10))[None] & (np.arange(6) < 4)[:, None]
    area = np.where(np.arange(6) > 3, 1.0, 1e6)
    f = frame(
        place, ends, flat(4, {0: (0, 2), 1: (2,)}), area=area, free=pins, wire=np.arange(6) > 3,
        tension=np.where(np.arange(6) > 3, 0.5, 0.0),
    )  # fmt: skip
    p = prepare(f)
    s = solve(p, np.concatenate([point(f, (3, 0, x)) for x in (0.0, 0.3, 1.0)]), False)
    half = 0.3 * 2**0.5 / 2
    assert_allclose(s.pull[:, 4:], [[0.5, 0.5], [0.5 + half, 0.5 - half], [2**0.5, 0]], rtol=1e-5)


def test_stiff_arm_is_a_lever() -> None:
    """A cantilever met through an arm: the same as a far stiffer element there, forces and movements."""
    arm = np.zeros((1, 2, 3))
    arm[0, 1] = (0.0, 0.0, -0.5)
    by_arm = frame([(0, 0, 0), (2, 0, 0.5)], [(0, 1)], {0: ALL}, arm=arm, **VALUES)
    stiff = {k: np.array([v, (1e7 if k in ("youngs", "shear") else 1) * v]) for k, v in VALUES.items()}
    by_bar = frame([(0, 0, 0), (2, 0, 0), (2, 0, 0.5)], [(0, 1), (1, 2)], {0: ALL}, **stiff)
    for second, across in ((False, 0.1), (True, 0.0)):
        loads = (0, -0.3), (1, across), (2, across)
        a = solve(prepare(by_arm), point(by_arm, *((1, *x) for x in loads)), second)
        b = solve(prepare(by_bar), point(by_bar, *((2, *x) for x in loads)), second)
        assert_allclose(a.moved[0, 1], b.moved[0, 2], rtol=0, atol=1e-6)
        assert_allclose(a.reaction[0, 0], b.reaction[0, 0], rtol=0, atol=1e-6)


def test_pendulum_arm_falls() -> None:
    """A weight pressed down on a stiff post on a spring of torsion k: stands until F h = k."""
    arm = np.zeros((2, 2, 3))
    arm[1, 0] = (0.0, 0.0, 1.0)
    rod = {"area": 1.0, "about_y": 1.0, "about_z": 1.0, "twist": np.array([3.0, 1e-3]), "youngs": 1.0, "shear": 1.0}
    free = np.array([np.zeros(12, bool), np.isin(np.arange(12), (4, 5, 10, 11))])
    place = [(0, 0, 0), (0, 1, 0), (0, 1, 3)]
    held = {0: ALL, 1: (0, 1, 2, 3, 5), 2: (0, 1, 3, 4, 5)}
    f = frame(place, [(0, 1), (1, 2)], held, arm=arm, up=(1, 0, 0), free=free, **rod)
    p = prepare(f)
    s = solve(p, point(f, (2, 2, -1.0)), False)
    # turning by t moves the post's head h t aside; the strut above, 2 long, leans h t/2 and pushes it on
    assert_allclose(buckling(p, s, 0)[0], 3.0 / (1 + 1 / 2), rtol=1e-6)
