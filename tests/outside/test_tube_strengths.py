"""Bending, torsion, shear and squeezing of round tubes, stretch of cable: against closed forms and other figures.

Sources: AISC 360 F8, H3.1, G5 (memory, high) worked for one tube; Timoshenko's ring under two loads, integrated here;
Roark 0.3183 F R and 0.149 F R^3/(E I) (memory, high); E. N. Fales 1917, a 7x19 cable stretches 1.75 times a solid wire
(read) against a wire maker's sheet (read). Tolerances: the printed digits; 8 % between the two cables of 1917 and now.
"""

from __future__ import annotations

import numpy as np
from numpy.testing import assert_allclose

from sparwright.strength.members import cable, crush, tube
from sparwright.strength.members.section import area, inertia, modulus


def test_bending_of_a_tube() -> None:
    """1 x 0.035 in, F_y 75 ksi: 0.021 29000 0.035 + 75 = 96.32 ksi; thick 1 x 0.120: F_y (D^3 - d^3)/(6 Z) = 102.1."""
    assert_allclose(tube.rupture(1.0, 0.035, 29e3, 75.0), 96.315, rtol=0, atol=5e-4)
    d = 0.76
    shape = (1 - d**3) / 6 / (np.pi * (1 - d**4) / 32)
    assert_allclose(tube.rupture(1.0, 0.120, 29e3, 75.0), min(75 * shape, 0.021 * 29e3 * 0.12 + 75), rtol=1e-9)


def test_plastic_moment_by_integration() -> None:
    """The whole ring at yield, cut in strips."""
    y = (np.arange(200_000) + 0.5) / 200_000 * 0.5
    wide = np.sqrt(0.25 - y**2) - np.sqrt(np.maximum(0.38**2 - y**2, 0))
    assert_allclose(tube.plastic_modulus(1.0, 0.120), 4 * (wide * y).mean() * 0.5, rtol=1e-5)


def test_torsion_and_shear_by_thin_wall() -> None:
    """A thin tube: tau = T/(2 A_m t) by Bredt, 2 V/A at the middle. 1 % for D/t 100."""
    D, t = 1.0, 0.01
    middle = np.pi * (D - t) ** 2 / 4
    assert_allclose(tube.torsion_use(10.0, D, t, 1.0), 10 / (2 * middle * t), rtol=0.011)
    assert_allclose(tube.shear_use(10.0, D, t, 1.0), 2 * 10 / area(D, t), rtol=0.001)


def test_torsion_stress_of_a_thin_tube() -> None:
    """D/t 60: 0.60 29000/464.8 = 37.44 ksi; D/t 28.6: 0.6 75 = 45."""
    assert_allclose(tube.torsion_stress(60.0, 1.0, 29e3, 75.0, 57.0), 37.44, rtol=0, atol=0.006)
    assert_allclose(tube.torsion_stress(1.0, 0.035, 29e3, 75.0, 57.0), 45.0, rtol=1e-12)
    assert_allclose(tube.shear_stress(80.0, 1.0, 29e3, 75.0, 57.0), 0.78 * 29e3 / 80**1.5, rtol=1e-12)


def test_bolt_hole_in_a_tube_by_strips() -> None:
    """What a 1/4 in hole leaves of 1 x 0.035 in: by angle along the middle of the wall."""
    lost = 2 * np.arcsin(0.25 / 0.965) * 0.965 * 0.035
    use = tube.tension_use(1.0, 1.0, 0.035, 1.0, 0.25)
    assert_allclose(1 / use, area(1.0, 0.035) - lost, rtol=1e-12)
    assert_allclose(1 / use, area(1.0, 0.035) - 2 * 0.25 * 0.035, rtol=0.003)  # the hand's 2 d t


def test_ring_under_two_loads() -> None:
    """Quarter ring, M = F R (cos a/2 - 1/pi): 0.3183 F R beneath the load; the work of M gives 0.149 F R^3/(E I)."""
    F, D, t, b, E = 100.0, 0.041, 0.001, 0.012, 200e9
    R, stiff = 0.02, E * b * t**3 / 12
    a = (np.arange(100_000) + 0.5) / 100_000 * np.pi / 2
    M = F * R * (np.sin(a) / 2 - 1 / np.pi)  # a from the load: nought at the side
    flat = 4 * (M * R * np.sin(a) / 2 * R / stiff).mean() * np.pi / 2
    assert_allclose(crush.flattened(F, D, t, b, E), flat, rtol=1e-6)
    assert_allclose(np.pi / 4 - 2 / np.pi, 0.1488, atol=5e-5)
    at_load = 6 * 0.3183 * F * R / (b * t**2)
    assert_allclose(crush.use(F, D, t, b, at_load), 1.0, rtol=1e-4)
    folds = crush.collapse_force(D, t, b, 1.0) * R / 2
    assert_allclose(folds, 4 * (b * t**2 / 4) / 2, rtol=1e-9)  # F R/2 = 2 M_p on each half


def test_cable_of_1917_and_of_a_makers_sheet() -> None:
    """200 GPa/1.75 on the metal of a 7x19 against the sheet: the sheet gives 7 % less."""
    D = 0.0254 / 8
    old = 200e9 / 1.75 * cable.metal("7x19") * np.pi * D**2 / 4
    assert_allclose(cable.stiffness("7x19", D), old, rtol=0.08)


def test_stretch_of_the_sheets_own_formula() -> None:
    """500 lbf on 1/8 in 7x19 stainless: 500 1.62e-5/0.015625 = 0.5184 %."""
    D = 0.125 * 0.0254
    stretch = 500 * 4.4482216152605 / cable.stiffness("7x19-stainless", D)
    assert_allclose(stretch * 100, 0.5184, rtol=1e-6)


def test_together_by_hand() -> None:
    """R_b 0.6 with R_s 0.5: u where 0.6/u + 0.25/u^2 = 1: (0.6 + sqrt(0.36 + 1))/2 = 0.88310."""
    u = tube.together(0.0, 0.6, 0.5)
    assert_allclose(u, 0.88310, rtol=0, atol=5e-6)
    assert_allclose(0.6 / u + 0.25 / u**2, 1.0, rtol=1e-12)
    assert_allclose(tube.bending_use(50.0, 0.0254, 0.000889, 1e6), 50 / (modulus(0.0254, 0.000889) * 1e6), rtol=1e-12)
    assert inertia(1.0, 0.5) == np.pi / 64
