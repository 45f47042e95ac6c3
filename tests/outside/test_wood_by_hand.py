"""A rib truss, an overhanging rib, a wooden column and a scarf, each worked by hand from statics.

Source: statics of any text (Timoshenko); FPL Technical Bulletin 167 for the column (memory, high): at the slenderness
pi sqrt(3 E/(2 F_c)) both formulas give two thirds of F_c. Numbers small enough to follow on paper; tolerances rounding.
"""

from __future__ import annotations

import numpy as np
from numpy.testing import assert_allclose

from sparwright.strength.members import rib_truss, scarf, wood_block, wood_box, wood_column, wood_rib
from sparwright.strength.members.wood_rib import SheetStrength


def test_cantilever_truss() -> None:
    """Two bays of 4 by 3 m, 12 N up at the tip: caps 12 x 8/3 = 32 and 12 x 4/3 = 16, diagonals 12 x 5/3 = 20, post 12.

    Joints: 0, 1 on the wall below and above; 2, 3 the middle; 4 the tip below. Diagonals 0-3 and 3-4.
    """
    joints = np.array([[0, 0], [0, 3], [4, 0], [4, 3], [8, 0]], dtype=float)
    strips = [(0, 2), (2, 4), (1, 3), (0, 3), (3, 4), (2, 3)]
    held = [(0, 0.0), (0, np.pi / 2), (1, 0.0), (1, np.pi / 2)]
    loads = np.zeros((5, 2))
    loads[4, 1] = 12.0
    found, reactions = rib_truss.forces(joints, strips, held, loads)
    # tip: diagonal (3, 4) holds 12 down: its pull has 3/5 upward at 4, so -20; lower cap +16
    # middle above: verticals 3-4 and 0-3 balance: 0-3 +20; upper cap: -16 - 16 = -32; post 0, lower cap 16
    assert_allclose(found, [16.0, 16.0, -32.0, 20.0, -20.0, 0.0], atol=1e-9)
    assert_allclose(reactions, [-32.0, -12.0, 32.0, 0.0], atol=1e-9)


def test_rib_between_two_spars() -> None:
    """Chord 1.2 m, triangle from 300 N/m at the nose to 0 (180 N at 0.4 m), spars at 0.2 and 0.8: 120 and 60 N.

    Moment at the front spar: -(300 x 0.2^2/2 - 250 x 0.2^3/6) = -5.66667 N m.
    """
    x = np.linspace(0, 1.2, 121)
    rib = wood_rib.beam(x, 300 * (1 - x / 1.2), (0.2, 0.8))
    assert_allclose(rib.reactions, [120.0, 60.0], rtol=1e-9)
    assert_allclose(rib.moment[20], -(300 * 0.02 - 250 * 0.2**3 / 6), rtol=1e-9)
    assert_allclose([rib.moment[-1], rib.shear[-1]], 0.0, atol=1e-9)


def test_rib_on_one_spar() -> None:
    """100 N/m over 1 m, spar at 0.25: 100 N, and 100 x (0.25 - 0.5) = -25 N m nose up."""
    x = np.linspace(0, 1.0, 101)
    rib = wood_rib.beam(x, np.full(101, 100.0), (0.25,))
    assert_allclose(rib.reactions, [100.0])
    assert_allclose(rib.couple, -25.0)
    assert_allclose(rib.moment[-1], 0.0, atol=1e-9)


def test_nose_rib() -> None:
    """Held at its end alone: 400 N/m over 0.25 m give 100 N and 400 x 0.25^2/2 = 12.5 N m, upper edge pressed."""
    rib = wood_rib.beam(np.linspace(0, 0.25, 26), np.full(26, 400.0), (0.25,))
    assert_allclose(rib.reactions, [100.0])
    assert_allclose([rib.couple, rib.moment[-1], rib.shear[-1]], [12.5, -12.5, 100.0])


def test_bay_and_gap_of_a_built_up_rib() -> None:
    """6 x 6 mm cap: 125 N and 60 N over a gap of 40 mm: 3.4722 MPa along, 6 x 0.6/(2.16e-7) = 16.667 MPa bent."""
    push, _ = rib_truss.by_sections(10.0, 60.0, 0.08, np.pi / 4)
    found = rib_truss.gap_use(push, 60.0, 0.04, 0.006, 0.006, 60e6, 30e6)
    assert_allclose(found, 3.47222 / 30 + 16.66667 / 60, rtol=1e-6)


def test_rib_at_a_hole() -> None:
    """h 100, g 60, c 60, t 2 mm; M 10 N m, V 100 N: a 20; 6 x 10 x 0.1/(0.002 x 784e-6) = 3.82653 MPa;
    6 x 1.5/(8e-7) = 11.25."""
    strength = SheetStrength(bending=40e6, along=25e6, shear=8e6)
    found = wood_rib.hole_use(10.0, 100.0, 0.1, 0.06, 0.06, 0.002, strength)
    assert_allclose(found, 3.82653 / 25 + 11.25 / 40, rtol=1e-6)
    steps = wood_rib.working(10.0, 100.0, 0.1, 0.06, 0.06, 0.002, strength)
    assert_allclose([s.value for s in steps[1:4]], [3.82653e6, 11.25e6, 1.875e6], rtol=1e-6)


def test_column_where_both_formulas_meet() -> None:
    k = float(wood_column.meeting(9e9, 34.5e6))
    assert_allclose(k, np.pi * np.sqrt(1.5 * 9e9 / 34.5e6), rtol=1e-12)
    assert_allclose(wood_column.stress(k, 9e9, 34.5e6), 34.5e6 * 2 / 3, rtol=1e-12)
    assert_allclose(wood_column.stress(k / 2, 9e9, 34.5e6), 34.5e6 * (1 - 1 / 48), rtol=1e-12)
    assert_allclose(wood_column.stress(k * (1 + 1e-9), 9e9, 34.5e6), np.pi**2 * 9e9 / k**2, rtol=1e-8)


def test_scarf_of_one_in_twelve() -> None:
    """60 MPa on 1 in 12: shear 60 x 12/145, square to it 60/145."""
    slip, open_ = scarf.on_slope(60e6, 12.0)
    assert_allclose([slip, open_], [60e6 * 12 / 145, 60e6 / 145], rtol=1e-12)
    assert_allclose(scarf.use(30e6, 12.0, 60e6, 6e6), 30 / (0.9 * 60), rtol=1e-12)


def test_bar_between_ribs() -> None:
    """500 N/m over 0.3 m, 20 x 10 mm: 5.625 N m, 16.875 MPa; V 75 N, 0.5625 MPa."""
    steps = wood_block.bar_working(500.0, 0.3, 0.02, 0.01, 60e6, 6e6)
    assert_allclose([s.value for s in steps[:3]], [5.625, 16.875e6, 0.5625e6], rtol=1e-12)
    assert_allclose(wood_block.bar_use(500.0, 0.3, 0.02, 0.01, 60e6, 0.75e6), 0.5625 / 0.75, rtol=1e-12)


def test_tipping_of_a_rectangle() -> None:
    """M_cr = (pi/L) sqrt(E I_z G J); b 20, h 200 mm, L 1 m, E 9, G 0.55 GPa, J h b^3/3 (1 - 0.63 b/h): 1804.2 N m."""
    i_z, j = 0.2 * 0.02**3 / 12, 0.2 * 0.02**3 / 3 * (1 - 0.063)
    assert_allclose(wood_box.lateral_moment(i_z, 0.55e9 * j, 1.0, 9e9), 1804.2, rtol=1e-4)
