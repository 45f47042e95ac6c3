"""A sheet of ply in shear, its grain turned: the formula against plies turned one by one, and what is made of it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.data.loader import material
from sparwright.family.model import Family
from sparwright.strength.members import ply, ply_buckling
from sparwright.structure.sections import own_twist, sheet_shear, skin_twist

ANGLES = st.floats(-math.pi, math.pi)


@given(ANGLES, st.sampled_from(["birch", "spruce", "ash"]), st.sampled_from([3, 5]))
def test_the_formula_is_the_plies_turned_one_by_one(angle: float, species: str, plies: int) -> None:
    """Two ways to the same number: the sheet's compliance turned, and each ply's stiffness turned and added."""
    wood = ply.veneer(species, 15e9)
    flat = ply.stiffness(wood, ply.crossed(0.002, plies))[0]
    turned = ply.stiffness(wood, ply.crossed(0.002, plies, angle))[0]
    straight = ply.moduli(flat, 0.002)[2]
    assert_allclose(ply.turned_shear(flat, 0.002, angle, straight), ply.moduli(turned, 0.002)[2], rtol=1e-9)


@given(ANGLES)
def test_metal_and_wood_of_unknown_stretch_are_as_printed(angle: float) -> None:
    for key in ("6061-T6", "okoume-ply"):
        assert sheet_shear(key, angle) == material(key).shear_modulus


@given(ANGLES)
def test_no_angle_is_softer_than_along_the_grain_nor_stiffer_than_half_way(angle: float) -> None:
    """Birch: 620 MPa as printed, several times that at 45 degrees; the same a quarter turn on and mirrored."""
    least, most = sheet_shear("birch-ply", 0.0), sheet_shear("birch-ply", math.pi / 4)
    found = sheet_shear("birch-ply", angle)
    assert least == pytest.approx(620e6) and 5 < most / least < 8
    assert least * (1 - 1e-9) <= found <= most * (1 + 1e-9)
    assert_allclose([sheet_shear("birch-ply", a) for a in (angle + math.pi / 2, -angle)], found, rtol=1e-9)


def test_a_nose_and_a_web_twist_less_by_it(whinchat: Family) -> None:
    model = whinchat.models["W1"]
    wing = model.wings[0]
    spar = wing.spars[0]
    skins = tuple(replace(s, grain=0.0) for s in wing.skins)
    flat = replace(wing, skins=skins)
    other = replace(wing, skins=tuple(replace(s, grain=math.pi / 4 if s.material else s.grain) for s in skins))
    a, b = (skin_twist(model, w, spar, 1.0, 0.15) for w in (flat, other))
    assert 2 < b / a < sheet_shear("birch-ply", math.pi / 4) / sheet_shear("birch-ply", 0.0), "the web closes the cell"
    turned = replace(spar, web=replace(spar.web, grain=math.pi / 4))
    assert own_twist(turned, 0.15) > own_twist(spar, 0.15) * 1.2
    assert np.isfinite(own_twist(turned, 0.15))


@given(st.floats(-0.4, 0.4), st.floats(-0.4, 0.4), st.floats(0.05, 2.0), st.floats(-1.0, 1.0))
def test_waves_of_a_strip_side_by_side(skew: float, across: float, width: float, push: float) -> None:
    """A strip's wave numbers in one stack give what each gives alone, and the strip is the least of them at most."""
    D = np.diag([1.0, 0.8, 0.35])
    D[0, 1] = D[1, 0] = 0.2
    D[0, 2] = D[2, 0] = 0.5 * skew
    D[1, 2] = D[2, 1] = 0.5 * across
    loads, waves = (push, 0.1, 1.0), np.pi / width * np.geomspace(0.1, 5.0, 7)
    every = ply_buckling._of_waves(D, width, loads, waves, 8)
    alone = [float(ply_buckling._of_waves(D, width, loads, np.array([k]), 8)[0]) for k in waves]
    assert_allclose(every, alone, rtol=1e-12)
    assert ply_buckling.strip(D, width, loads) <= every.min() * (1 + 1e-3)
