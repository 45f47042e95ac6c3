"""Joints of metal and wood against worked examples that others printed.

Sources: Shigley 8-12, four bolts under a cantilever (memory, high; three digits: 21.0 and 14.8 kN); MMPDS-09 through an
article, 5/32 rivets in 0.050 clad sheet (read, exact); AC 43.13-1B Tables 4-10 and 4-11, rivets an inch (read, two or
three digits); Porteous and Kermani, Timber Design to Eurocode 5, embedment of C22 and C18 (read, four digits);
EN 1993-1-8 Table 3.10 (read) for pins; AFFDL's bearing at 1.5 and 2 diameters of four metals (read and memory).
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.data.loader import fasteners
from sparwright.strength.joints import group, lug, pin, plate, rivet, weld, wood

LBF, IN, PSI = 4.4482216152605, 0.0254, 6894.757293168361


def test_four_bolts_under_a_cantilever() -> None:
    """16 kN 425 mm from the middle of bolts at 75 and 60 mm: 21.0 kN on the near two, 14.8 kN on the others."""
    places = np.array([(75, 60), (75, -60), (-75, -60), (-75, 60)]) * 1e-3
    f = group.loads(places, (0.0, -16e3), -16e3 * 0.425)
    assert_allclose(np.hypot(*f) / 1e3, [21.0, 21.0, 14.8, 14.8], rtol=0, atol=0.05)
    assert_allclose(f.sum(axis=1), (0.0, -16e3), atol=1e-9)
    turned = places[:, 0] @ f[1] - places[:, 1] @ f[0]
    assert_allclose(turned, -6800.0, rtol=1e-12)


def test_a_rivet_in_two_sheets() -> None:
    """Shear 596, bearing 121000 x 0.156 x 0.050 = 944 lbf: shear decides."""
    assert rivet.strength(596.0, 0.156, 0.050, 121e3) == 596.0
    assert_allclose(rivet.strength(2000.0, 0.156, 0.050, 121e3), 944, rtol=0, atol=0.5)


RIVETS_4_10 = [("3", 0.040, 11.1), ("3", 0.036, 10.0), ("3", 0.032, 8.9), ("4", 0.040, 6.2), ("4", 0.051, 7.9),
               ("4", 0.064, 9.9), ("4", 0.081, 12.5), ("5", 0.051, 5.1), ("5", 0.064, 6.5), ("5", 0.081, 8.1),
               ("5", 0.091, 9.1), ("5", 0.102, 10.3), ("5", 0.128, 12.9), ("6", 0.064, 4.5), ("6", 0.081, 5.7),
               ("6", 0.091, 6.3), ("6", 0.102, 7.1), ("6", 0.128, 8.9)]  # fmt: skip


@pytest.mark.parametrize(("size", "sheet", "wanted"), RIVETS_4_10)
def test_rivets_an_inch_where_shear_decides(size: str, sheet: float, wanted: float) -> None:
    """One sheet strength, 60 ksi, gives all 18 entries of Table 4-10 to their last digit (its notes say 55).

    It holds the shear of four rivet sizes against each other and the formula; bearing that never decides stands in.
    """
    row = fasteners()[f"MS20470AD{size}"]
    each = rivet.strength(row.shear, row.diameter, sheet * IN, 1e12)
    assert_allclose(rivet.per_metre(sheet * IN, 60e3 * PSI, each) * IN, wanted, rtol=0, atol=0.07)


def test_rivets_in_soft_sheet() -> None:
    """5052, Table 4-11, 3/32 in: 7.1, 7.9, 10.1 in 0.036, 0.040, 0.051: their ratios are those of the sheets."""
    shear = fasteners()["MS20470AD3"].shear
    ours = rivet.per_metre(np.array([0.036, 0.040, 0.051]), 1.0, shear)
    assert_allclose(ours / ours[0], np.array([7.1, 7.9, 10.1]) / 7.1, rtol=0.008)  # 0.05 of 7.1


@pytest.mark.parametrize(
    ("two", "close"), [(251, 194), (285, 231), (88, 67), (129, 104)], ids=("HT-125", "HT-150", "6061", "2024")
)
def test_edge_distance(two: float, close: float) -> None:
    """At e/D 1.5, what stands in for metals with no value there is below every published one."""
    assert plate.bearing_strength(1.5, two) < close
    assert_allclose(plate.bearing_strength(1.5, two) / two, 0.75)
    assert_allclose(plate.bearing_strength(1.5, two, close), close)
    assert 0.76 < close / two < 0.82


@pytest.mark.parametrize(("density", "wanted"), [(340, 23.42), (320, 22.04)])
def test_embedment_of_a_bolt(density: float, wanted: float) -> None:
    """C22 and C18 in one worked example; the diameter was not in the part read: 16 mm gives both."""
    assert_allclose(wood.embedment(0.016, density, 0.0) / 1e6, wanted, rtol=0, atol=0.005)


def test_hankinson() -> None:
    """N = P Q/(P sin^2 + Q cos^2) with P along and Q across the grain, the trade's old formula."""
    along, across = wood.embedment(0.008, 400, 0.0), wood.embedment(0.008, 400, np.pi / 2)
    a = np.radians([20.0, 45.0, 70.0])
    wanted = along * across / (along * np.sin(a) ** 2 + across * np.cos(a) ** 2)
    assert_allclose(wood.embedment(0.008, 400, a), wanted, rtol=1e-12)


def test_moment_in_a_pin() -> None:
    """EN 1993-1-8 prints M = F (b + 4 c + 2 a)/8 for plates a outside, b inside, gap c: our P b/2."""
    a, b, c, F = 0.010, 0.018, 0.002, 12e3
    M = F * pin.arm(a, b, c) / 2
    assert_allclose(M, F * (b + 4 * c + 2 * a) / 8, rtol=1e-12)
    use = pin.bending_use(F, pin.arm(a, b, c), 0.016, 235e6)
    assert_allclose(use, M / (402.124e-9 * 235e6), rtol=2e-6)  # W_el of 16 mm


def test_active_lugs_solve_the_statics() -> None:
    """With P_b on lugs only as wide as they must be, the moment is M_u: put back into P (P k + g)/2."""
    d, F, t_1, t_2, g, P_1, P_2 = 0.00635, 860e6, 0.0023, 0.025, 0.0005, 20e3, 200e3
    P = float(pin.bending_strength(d, F, t_1, t_2, g, P_1, P_2))
    lever = t_1 * P / P_1 / 2 + t_2 * P / P_2 / 4 + g
    assert_allclose(P * lever / 2, pin.moment_strength(d, F), rtol=1e-12)
    assert P > 2 * pin.moment_strength(d, F) / pin.arm(t_1, t_2, g)


def test_a_pressed_gusset_is_eulers_strip() -> None:
    """1 mm of steel, 100 mm free: pi^2 E/(L sqrt(12)/t)^2 = 16.45 MPa, on 30 mm: 493.5 N."""
    assert_allclose(plate.strip_use(493.5, 0.03, 0.001, 0.1, 200e9, 517e6), 1.0, rtol=1e-4)
    assert_allclose(plate.strip_use(1.0, 0.03, 0.001, 0.0, 200e9, 517e6), 1 / (0.03 * 0.001 * 517e6), rtol=1e-9)
    assert plate.strip_use(-1.0, 0.03, 0.001, 0.1, 200e9, 517e6) == 0


def test_seam_of_a_tube_by_summing_short_pieces() -> None:
    for degrees in (20.0, 45.0, 75.0):
        a, v = np.radians(degrees), np.linspace(0, 2 * np.pi, 200_001)
        x, y = 0.5 * np.cos(v), 0.5 / np.sin(a) * np.sin(v)
        assert_allclose(weld.seam_length(1.0, a), np.hypot(np.diff(x), np.diff(y)).sum(), rtol=1e-8)


def test_lug_by_hand() -> None:
    """W 1, D 1/4, e 1/2, t 0.09 in 4130N, each line worked with a pocket calculator to four digits.

    b_e 0.375, 0.6 0.375 1.2667 0.8165 = 0.2327; 2 95000 0.09 0.2327 = 3979... with sqrt(D/b_e) b_e = sqrt(D b_e).
    """
    here = lug.Lug(width=1.0, hole=0.25, pin=0.25, edge=0.5, thickness=0.09, tension=95e3, yields=75e3, shear=57e3,
                   bearing=200e3)  # fmt: skip
    assert_allclose(lug.net_section(here), 2 * 95e3 * 0.09 * 0.6 * 0.375 * (95 / 75) * (0.25 / 0.375) ** 0.5, rtol=1e-9)
    assert_allclose(lug.net_section(here), 3979, rtol=0, atol=1)
    assert_allclose(lug.beyond_hole(here), 95e3 * 0.09 * (1.13 * 0.375 + 0.92 * 0.375 / 2.5), rtol=1e-9)
    assert_allclose(lug.beyond_hole(here), 4803, rtol=0, atol=1)
    assert_allclose(lug.shear_out(here), 4081, rtol=0, atol=1)  # plane sqrt(0.25 - 0.08035^2) - 0.09576 = 0.3977
    assert_allclose(lug.bears(here), 4500, rtol=1e-12)
    assert_allclose(lug.across(here), 95e3 * 0.09 * 0.375**2 / 0.75, rtol=1e-12)
    assert_allclose(lug.use(3979.4, 0.0, here), 1.0, rtol=2e-4)
