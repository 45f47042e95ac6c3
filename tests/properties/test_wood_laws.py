"""Wooden members: they turn over, scale and grow as they must, arrays as single numbers, and nothing unknown passes."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.strength.members import (
    d_nose,
    glue,
    ply,
    ply_buckling,
    rib_truss,
    scarf,
    wood_bolt,
    wood_box,
    wood_column,
    wood_rib,
    wood_section,
    wood_state,
)
from sparwright.strength.members.wood_box import CapLoads, CapStrength
from sparwright.strength.members.wood_margin import margin
from sparwright.strength.members.wood_rib import SheetStrength
from sparwright.strength.members.wood_section import SparShape

SPAR = SparShape(depth=0.15, width=0.03, upper=0.02, lower=0.014, web=0.0015, ratio=0.4)
WOOD = CapStrength(bending=65e6, crushing=30e6, tension=65e6)
SHEET = SheetStrength(bending=40e6, along=30e6, shear=9e6)
BIRCH = ply.veneer("birch", 12e9)
sizes = st.floats(0.5, 3.0)
loads = st.floats(-3000, 3000)


@given(loads, loads, st.floats(-200, 200))
def test_a_spar_upside_down(moment: float, axial: float, chordwise: float) -> None:
    """Caps changed over and the moment turned: the same use."""
    over = replace(SPAR, upper=SPAR.lower, lower=SPAR.upper)
    one = wood_box.use(SPAR, CapLoads(moment, axial, chordwise), WOOD)
    two = wood_box.use(over, CapLoads(-moment, axial, -chordwise), WOOD)
    assert_allclose(two, one, rtol=1e-9)


@given(sizes, loads, loads)
def test_a_spar_scales(k: float, moment: float, axial: float) -> None:
    """Sizes by k, moments by k^3 and forces by k^2: the same stresses. I goes with k^4, GJ with k^4."""
    big = replace(SPAR, **{f: k * getattr(SPAR, f) for f in ("depth", "width", "upper", "lower", "web")})
    one = wood_box.use(SPAR, CapLoads(moment, axial), WOOD)
    assert_allclose(wood_box.use(big, CapLoads(moment * k**3, axial * k**2), WOOD), one, rtol=1e-9)
    assert_allclose(wood_section.values(big).inertia, k**4 * wood_section.values(SPAR).inertia, rtol=1e-9)
    assert_allclose(wood_section.torsion(big, 6e8, 8e8), k**4 * wood_section.torsion(SPAR, 6e8, 8e8), rtol=1e-9)


@given(loads, loads, st.floats(1.0, 5.0))
def test_use_goes_with_load_and_strength(moment: float, axial: float, k: float) -> None:
    one = wood_box.use(SPAR, CapLoads(moment, axial, 50.0), WOOD)
    assert_allclose(wood_box.use(SPAR, CapLoads(k * moment, k * axial, k * 50.0), WOOD), k * one, rtol=1e-9)
    strong = CapStrength(*(k * getattr(WOOD, f) for f in ("bending", "crushing", "tension")))
    assert_allclose(wood_box.use(SPAR, CapLoads(moment, axial, 50.0), strong), one / k, rtol=1e-9)


@given(loads, loads, st.floats(0, 200), st.floats(0.0, 1.0))
def test_more_load_never_uses_less(moment: float, axial: float, chordwise: float, less: float) -> None:
    full = wood_box.use(SPAR, CapLoads(moment, axial, chordwise), WOOD)
    for some in (CapLoads(less * moment, axial, chordwise), CapLoads(moment, less * axial, chordwise),
                 CapLoads(moment, axial, less * chordwise)):  # fmt: skip
        assert wood_box.use(SPAR, some, WOOD) <= full * (1 + 1e-9)


@given(st.floats(0, 60e6), st.floats(0, 60e6))
def test_the_straight_line_asks_no_more_than_the_sum(bending: float, compression: float) -> None:
    line = float(wood_box.line_use(bending, compression, 40e6, 30e6))
    assert line <= (bending / 40e6 + compression / 30e6) * (1 + 1e-9)


def test_arrays_are_the_numbers_one_by_one() -> None:
    rng = np.random.default_rng(5)
    moments, depths = rng.normal(0, 2000, 7), rng.uniform(0.1, 0.2, 7)
    many = wood_box.use(replace(SPAR, depth=depths), CapLoads(moments, 500.0), WOOD)
    one = [float(wood_box.use(replace(SPAR, depth=d), CapLoads(m, 500.0), WOOD)) for d, m in
           zip(depths, moments, strict=True)]  # fmt: skip
    assert_allclose(many, one, rtol=1e-12)
    walls = ply.stiffness(BIRCH, ply.crossed(0.0015, 3))[1]
    found = ply_buckling.shear_flow(walls, depths, 0.1)
    assert_allclose(found, [float(ply_buckling.shear_flow(walls, d, 0.1)) for d in depths], rtol=1e-12)


def test_section_twin() -> None:
    """The same section cut into strips 0.1 mm high and summed."""
    v, n = wood_section.values(SPAR), 150000
    y = (np.arange(n) + 0.5) * SPAR.depth / n
    cap = (y < SPAR.lower) | (y > SPAR.depth - SPAR.upper)
    wide = np.where(cap, SPAR.width, 0.0) + SPAR.ratio * 2 * SPAR.web
    area = wide.sum() * SPAR.depth / n
    middle = (wide * y).sum() / wide.sum()
    assert_allclose(v.area, area, rtol=1e-5)
    assert_allclose(v.middle, middle, rtol=1e-5)
    assert_allclose(v.inertia, (wide * (y - middle) ** 2).sum() * SPAR.depth / n, rtol=1e-5)
    above = y > middle
    assert_allclose(v.first_middle, (wide * (y - middle))[above].sum() * SPAR.depth / n, rtol=1e-5)


@pytest.mark.parametrize("webs", [1, 2])
def test_section_twin_across(webs: int) -> None:
    """The same across, in strips: one web on the front face moves the axis ahead, so a cap's back edge is farthest."""
    shape, n = replace(SPAR, webs=webs), 330000
    front = shape.width / 2 + shape.web
    z = (np.arange(n) + 0.5) * 2 * front / n - front
    wall = (z > shape.width / 2) | ((z < -shape.width / 2) & (webs == 2))
    tall = np.where(wall, shape.ratio * shape.depth, 0.0)
    tall += np.where(np.abs(z) < shape.width / 2, shape.upper + shape.lower, 0.0)
    axis = (tall * z).sum() / tall.sum()
    v = wood_section.values(shape)
    assert_allclose(v.chordwise, (tall * (z - axis) ** 2).sum() * 2 * front / n, rtol=1e-4)
    assert_allclose(v.side, shape.width / 2 + axis, rtol=1e-4)


@given(st.floats(0, np.pi), st.sampled_from([3, 5, 7]))
def test_turning_a_sheet_keeps_its_invariants(angle: float, plies: int) -> None:
    """D_11 + D_22 + 2 D_12 and D_66 - D_12 do not change; a quarter turn changes D_11 and D_22 over."""
    zero = ply.stiffness(BIRCH, ply.crossed(0.002, plies))[1]
    turned = ply.stiffness(BIRCH, ply.crossed(0.002, plies, angle))[1]
    for d in (turned,):
        assert_allclose(d[0, 0] + d[1, 1] + 2 * d[0, 1], zero[0, 0] + zero[1, 1] + 2 * zero[0, 1], rtol=1e-9)
        assert_allclose(d[2, 2] - d[0, 1], zero[2, 2] - zero[0, 1], rtol=1e-9)
    quarter = ply.stiffness(BIRCH, ply.crossed(0.002, plies, np.pi / 2))[1]
    assert_allclose(ply_buckling.turned(quarter), zero, atol=1e-9 * zero[0, 0])


@settings(max_examples=8, deadline=None)
@given(st.floats(0.4, 2.5), st.sampled_from([0.0, 0.5, 0.8]))
def test_panels_seen_from_the_other_side(ratio: float, angle: float) -> None:
    """x and y changed over, and 45 degrees the other way with the shear the other way: the same load."""
    d = ply.stiffness(BIRCH, ply.crossed(0.0015, 3, angle))[1]
    mirror = ply.stiffness(BIRCH, ply.crossed(0.0015, 3, -angle))[1]
    one = ply_buckling.panel(d, ratio, 1.0, (0.2, 0.1, 1.0))
    assert_allclose(ply_buckling.panel(ply_buckling.turned(d), 1.0, ratio, (0.1, 0.2, 1.0)), one, rtol=1e-8)
    assert_allclose(ply_buckling.panel(mirror, ratio, 1.0, (0.2, 0.1, -1.0)), one, rtol=1e-8)


@settings(max_examples=8, deadline=None)
@given(sizes, sizes)
def test_buckling_scales(k: float, thick: float) -> None:
    """Flow goes with t^3 and 1/length^2, and longer panels bear less."""
    d, much = (ply.stiffness(BIRCH, ply.crossed(0.001 * t, 3))[1] for t in (1.0, thick))
    one = float(ply_buckling.shear_flow(d, 0.2, 0.1))
    assert_allclose(ply_buckling.shear_flow(much, 0.2 * k, 0.1 * k), one * thick**3 / k**2, rtol=1e-8)
    assert float(ply_buckling.shear_flow(d, 0.3, 0.1)) <= one * (1 + 1e-6)


def test_terms_drawn_out_to_the_end() -> None:
    """Grain at 45 degrees: what shear_flow gives from 8 and 16 terms lies by 0.5 % where 14 and 28 point."""
    d = ply.stiffness(BIRCH, ply.crossed(0.0015, 3, np.pi / 4))[1]
    few, many = (min(ply_buckling.panel(d, 0.3, 0.12, (0, 0, s), n) for s in (1.0, -1.0)) for n in (14, 28))
    assert_allclose(ply_buckling.shear_flow(d, 0.3, 0.12), 2 * many - few, rtol=5e-3)
    assert float(ply_buckling.shear_flow(d, 0.3, 0.12)) < many


def test_more_terms_never_bear_more() -> None:
    d = ply.stiffness(BIRCH, ply.crossed(0.0015, 3, 0.6))[1]
    found = [ply_buckling.panel(d, 0.3, 0.2, (0.0, 0.0, -1.0), n) for n in (4, 6, 8, 10)]
    assert np.all(np.diff(found) <= 1e-9 * found[0])


@given(st.floats(0, np.pi / 2), st.floats(1.5, 2.5))
def test_hankinson_lies_between_its_ends(angle: float, n: float) -> None:
    """With n = 2 never outside them; other exponents meet both ends and sag or swell between."""
    assert 5.0 - 1e-9 <= float(wood_state.hankinson(40.0, 5.0, angle)) <= 40.0 + 1e-9
    assert_allclose(wood_state.hankinson(40.0, 5.0, np.array([0.0, np.pi / 2]), n), [40.0, 5.0], rtol=1e-12)


@pytest.mark.parametrize("prop", ["bending", "tension", "compression", "shear", "compression_across"])
@pytest.mark.parametrize("species", ["spruce", "douglas-fir", "birch", "ash"])
def test_prices_fall_and_never_rise(species: str, prop: str) -> None:
    """Wetter, steeper, longer, hotter: never more of the strength; never more than all of it."""
    fresh = wood_state.WoodState()
    assert_allclose(wood_state.price(species, prop, fresh)[0], 1.0)
    ways = [[replace(fresh, moisture=m) for m in (8.0, 15.0, 18.0, 22.0, 35.0)],
            [replace(fresh, duration=t) for t in (0.1, 3.0, 60.0, 3600.0, 3e8)],
            [replace(fresh, temperature=t) for t in (-20.0, 20.0, 30.0, 50.0)],
            [replace(fresh, grain_run=r) for r in (30.0, 20.0, 15.0)]]  # fmt: skip
    for way in ways:
        found = [wood_state.price(species, prop, s)[0] for s in way]
        assert max(found) <= 1 and np.all(np.diff(found) <= 1e-12), (species, prop, found)


@given(st.floats(-2000, 2000), st.floats(0.05, 0.6))
def test_strips_and_columns(force: float, length: float) -> None:
    """A longer pressed strip bears no more; a pulled one does not know its length."""
    args = (0.006, 0.006)
    one = float(rib_truss.strip_use(force, *args, length, 9e9, 30e6, 60e6))
    two = float(rib_truss.strip_use(force, *args, 1.2 * length, 9e9, 30e6, 60e6))
    assert two == one if force >= 0 else two >= one


def test_the_column_curve_falls() -> None:
    found = wood_column.stress(np.linspace(1, 300, 400), 9e9, 30e6)
    assert np.all(np.diff(found) < 0)


@given(st.floats(0, 2 * np.pi), loads, loads)
def test_a_turned_truss(angle: float, across: float, up: float) -> None:
    """A frame turned with its loads and supports holds the same forces."""
    joints = np.array([[0.0, 0.0], [1.0, 0.1], [0.4, 0.6]])
    strips, held = [(0, 1), (0, 2), (1, 2)], [(0, 0.0), (0, np.pi / 2), (1, np.pi / 2)]
    push = np.array([[0.0, 0.0], [0.0, 0.0], [across, up]])
    turn = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    one = rib_truss.forces(joints, strips, held, push)[0]
    two = rib_truss.forces(joints @ turn.T, strips, [(j, a + angle) for j, a in held], push @ turn.T)[0]
    assert_allclose(two, one, atol=1e-8 * (1 + abs(across) + abs(up)))
    pair = rib_truss.forces(joints, strips, held, np.array([push, 2 * push]))[0]
    assert_allclose(pair, [one, 2 * one], atol=1e-9 * (1 + abs(across) + abs(up)))


@given(st.floats(0.0, 0.09), st.floats(0.01, 0.1), loads, loads)
def test_a_hole_never_helps(hole: float, length: float, moment: float, shear: float) -> None:
    whole = wood_rib.whole_use(moment / 100, shear / 100, 0.1, 0.002, replace(SHEET, along=30e6, bending=30e6))
    found = wood_rib.hole_use(moment / 100, shear / 100, 0.1, hole, length, 0.002, replace(SHEET, bending=30e6))
    bigger = wood_rib.hole_use(
        moment / 100, shear / 100, 0.1, hole + 0.005, length, 0.002, replace(SHEET, bending=30e6)
    )
    assert bigger >= found * (1 - 1e-9)
    if hole > 0.05:  # a low hole's chords are pressed evenly, where a whole section is at its edge
        assert found >= whole * (1 - 1e-9)


@given(st.floats(100, 5000), st.floats(0.005, 0.02), sizes)
def test_bolts_and_glue_scale(load: float, d: float, k: float) -> None:
    one = wood_bolt.use(load, 30e6, 5e6, 0.3, d, 4 * d)
    assert_allclose(wood_bolt.use(load * k**2, 30e6, 5e6, 0.3, k * d, 4 * k * d), one, rtol=1e-9)
    assert_allclose(glue.use(k * load, k * d, 6e6, 90.0, 2), glue.use(load, d, 6e6, 90.0, 2), rtol=1e-9)
    assert glue.use(load, d, 6e6, 0.0) < glue.use(load, d, 6e6, 45.0) < glue.use(load, d, 6e6, 90.0)


def test_flatter_scarfs_leave_no_less() -> None:
    assert np.all(np.diff(scarf.share(np.linspace(5, 20, 60))) >= 0)
    assert np.all(np.diff(scarf.use(30e6, np.linspace(5, 20, 60), 60e6, 6e6)) <= 1e-12)


def test_nothing_unknown_passes() -> None:
    """NaN in, NaN out, in every use."""
    nan = float("nan")
    d = ply.stiffness(BIRCH, ply.crossed(0.0015, 3))[1]
    found = [
        wood_box.use(SPAR, CapLoads(100.0), replace(WOOD, tension=nan)),
        wood_box.use(SPAR, CapLoads(100.0, 5.0), replace(WOOD, crushing=nan)),
        wood_box.use(SPAR, CapLoads(nan), WOOD),
        ply.use(10.0, 0.001, nan),
        ply_buckling.shear_flow(d * nan, 0.1, 0.1),
        glue.use(1.0, 0.01, nan, 90.0),
        scarf.use(1.0, 12.0, nan, 1.0),
        wood_column.use(1.0, 1.0, 0.1, 1.0, nan, 1.0),
        wood_bolt.use(1.0, 1.0, nan, 0.5, 0.01, 0.02),
        wood_rib.hole_use(1.0, 1.0, 0.1, 0.05, 0.05, 0.002, replace(SHEET, shear=nan)),
        d_nose.use(1.0, 0.01, 0.001, nan, 1.0),
        margin(nan),
    ]
    assert all(np.isnan(x).all() for x in found), found
