"""Edges of the thin-walled members: what is refused, and where they answer with unknown."""

import math

import numpy as np
import pytest

from sparwright.strength.members import crippling, fabric, glass, metal_box, metal_rib, rivet_pitch, tension_field, web
from sparwright.strength.members.cell import axes, flow, section, shear_flow
from sparwright.strength.members.torsion import Cover, Web, wing_section

SQUARE = [(0, 0), (1, 0), (1, 1), (0, 1)]
ROUND = [(0, 1), (1, 2), (2, 3), (3, 0)]
RIB_METAL = metal_rib.RibMetal(tension=3e8, yield_compression=2.4e8, shear=1.8e8, youngs=7e10)
METAL = metal_box.Metal(tension=3e8, yield_tension=2.5e8, yield_compression=2.4e8, youngs=7e10)


@pytest.mark.parametrize(
    ("args", "words"),
    [
        ((SQUARE, [(0, 1), (2, 3)], [0.01] * 2), "hang together"),
        ((SQUARE, ROUND, [0.01, 0.0, 0.01, 0.01]), "above nought"),
        ((SQUARE, ROUND, [0.01, math.nan, 0.01, 0.01]), "above nought"),
        (([(0, 0), (0, 0), (1, 1), (0, 1)], ROUND, [0.01] * 4), "above nought"),
        ((SQUARE, ROUND, [0.01] * 4, -1.0), "negative"),
    ],
)
def test_a_section_that_is_none_is_refused(args, words):
    with pytest.raises(ValueError, match=words):
        section(*args)


def test_nothing_that_bends_is_refused():
    with pytest.raises(ValueError, match="nothing of the section"):
        axes(section(SQUARE, ROUND, [0.01] * 4, bends=0.0))
    with pytest.raises(ValueError, match="on one line"):
        shear_flow(section([(0, 0), (1, 0)], [(0, 1)], [0.01]), 0.0, 1.0)


def test_torque_on_an_open_section_is_unknown_and_none_is_nothing():
    open_ = section(SQUARE, ROUND[:3], [0.01] * 3)
    q = flow(open_, np.array([0.0, 1.0]), np.zeros(2), np.array([1.0, 1.0]))
    assert np.isfinite(q[..., 0]).all()
    assert np.isnan(q[..., 1]).all()


def test_a_wing_without_cover_and_a_web_outside_are_refused():
    curve = np.array([[1.0, 0.5, 0.0, 0.5, 1.0], [0.0, 0.1, 0.0, -0.1, 0.0]])
    cover = Cover(start=-1.0, end=0.5, thickness=1e-3, shear=1e9)
    with pytest.raises(ValueError, match="nothing covers"):
        wing_section(curve, [], [], 1e9)
    with pytest.raises(ValueError, match="outside"):
        wing_section(curve, [cover], [Web(at=1.5, thickness=1e-3, shear=1e9)], 1e9)
    with pytest.raises(ValueError, match="hang together"):
        wing_section(curve, [cover], [Web(at=0.8, thickness=1e-3, shear=1e9)], 1e9)


@pytest.mark.parametrize(("spacing", "height"), [(0.31, 0.125), (0.01, 0.125), (0.05, 0.08), (0.9, 1.0)])
def test_diagonal_tension_outside_its_range_is_unknown(spacing, height):
    bay = tension_field.Bay(thickness=8e-4 if height < 0.9 else 5e-4, height=height, spacing=spacing, flange=1e-4,
                            flange_inertia=1e-9, upright=3e-5, youngs=7e10)  # fmt: skip
    assert np.isnan(tension_field.use(2e4, 1e6, bay, 3e8, 1.8e8))
    assert math.isnan(tension_field.factor(801.0, 1.0))


def test_forced_crippling_knows_two_alloys():
    known = tension_field.forced_crippling(0.5, 1e-3, 6e-4, "2024-T3-clad", True)
    assert known == pytest.approx(21 * 6.894757e6 * 0.5 ** (2 / 3) * (1e-3 / 6e-4) ** (1 / 3))
    assert math.isnan(tension_field.forced_crippling(0.5, 1e-3, 6e-4, "6061-T6", True))
    assert math.isnan(tension_field.forced_crippling(0.5, 3e-4, 6e-4, "2024-T3", True))


def test_uprights():
    bay = tension_field.Bay(
        thickness=8e-4, height=0.2, spacing=0.1, flange=1e-4, flange_inertia=1e-9, upright=3e-5, youngs=7e10
    )
    assert tension_field.upright_length(0.0, bay) == pytest.approx(0.2)
    assert tension_field.upright_length(0.5, bay) == pytest.approx(0.2 / math.sqrt(1 + 0.25 * 2))
    assert tension_field.upright_peak(1.0, bay) == 1.0
    assert tension_field.upright_peak(0.0, bay) == pytest.approx(1.465)
    assert tension_field.effective_upright(4e-5, 0.0, 0.01) == pytest.approx(4e-5)
    assert tension_field.effective_upright(4e-5, 0.01, 0.01) == pytest.approx(2e-5)
    assert tension_field.upright_rivets(1e-3, 4e8, True) == pytest.approx(6e4)
    assert tension_field.upright_rivets(1e-3, 4e8, False) == pytest.approx(8.8e4)


def test_crippling_outside_its_range_is_unknown_and_never_above_yield():
    assert math.isnan(crippling.needham(0.003, 0.003, 1e-3, 7e10, 2.4e8))
    assert math.isnan(crippling.needham(0.2, 0.2, 1e-3, 7e10, 2.4e8))
    assert math.isnan(crippling.gerard("channel", 2e-4, 2e-4 * 0.2, 0, 7e10, 2.4e8))
    assert crippling.gerard("angle", 1e-3, 1e-3 * 0.01, 2, 7e10, 2.4e8) == pytest.approx(0.7 * 2.4e8)
    assert crippling.needham(0.0041, 0.0041, 1e-3, 7e10, 2.4e8) <= 2.4e8
    assert crippling.together([1e8, 2e8], [1e-4, 3e-4]) == pytest.approx(1.75e8)
    assert crippling.use(-5.0, 1e8) == 0.0


def test_caps_that_meet_or_are_flat_are_unknown():
    meets = metal_box.MetalSpar(width=0.02, cap=0.03, depth=0.05, web=8e-4)
    flat = metal_box.MetalSpar(width=0.05, cap=0.005, depth=0.1, web=8e-4)
    assert math.isnan(metal_box.second_moment(meets))
    assert np.isnan(metal_box.use(10.0, 0.0, flat, METAL)).all()


def test_yield_at_limit_load_decides_where_ultimate_and_yield_are_far_apart():
    """F_tu twice F_ty: pulled cap has 1.5 F_ty at ultimate, still no rupture."""
    soft = metal_box.Metal(tension=5e8, yield_tension=2e8, yield_compression=9e8, youngs=7e10)
    s = metal_box.MetalSpar(width=0.02, cap=0.006, depth=0.14, web=8e-4)
    inertia = float(metal_box.second_moment(s))
    at_ultimate = 1.5 * 2.1e8 * inertia * 2 / 0.14
    uses = metal_box.use(at_ultimate, 0.0, s, soft)
    assert uses[1] == pytest.approx(1.5 * 2.1 / 5)
    assert uses[3] == pytest.approx(1.05)
    holes = metal_box.MetalSpar(width=0.02, cap=0.006, depth=0.14, web=8e-4, hole=0.004)
    assert metal_box.use(at_ultimate, 0.0, holes, soft)[1] == pytest.approx(1.5 * 2.1 / 5 / 0.8)
    webs = metal_box.MetalSpar(width=0.02, cap=0.006, depth=0.14, web=8e-4, share=1.0)
    assert metal_box.second_moment(webs) - inertia == pytest.approx(2 * 8e-4 * 0.128**3 / 12)


def test_rivets_out_of_rule_are_unknown():
    assert math.isnan(rivet_pitch.strength(4e-3, 5e-4, 2e8, 6e8))
    assert math.isnan(rivet_pitch.use(1e3, 0.008, 3.2e-3, 8e-4, 2e8, 6e8))
    one = rivet_pitch.strength(3.2e-3, 8e-4, 2e8, 6e8)
    assert rivet_pitch.use(1e4, rivet_pitch.greatest_pitch(1e4, one, 2), 3.2e-3, 8e-4, 2e8, 6e8, 2) == pytest.approx(
        1.0
    )
    assert rivet_pitch.between(5e-4, 0.02, 7e10, 1e12) == pytest.approx(
        4 * rivet_pitch.between(5e-4, 0.02, 7e10, 1e12, "countersunk")
    )


def test_ribs():
    for wide in (3.0, 0.2):
        assert math.isnan(metal_rib.flanged_holes(0.1, 6e-4, 0.1 * 0.5, 0.1 * 0.5 / wide, RIB_METAL)) == (
            wide > 0.7 or wide < 0.3
        )
    no_room = metal_rib.SheetRib(depth=0.05, thickness=6e-4, flange=0.015, left=0.03, hole=0.04, pitch=0.1)
    assert np.isnan(metal_rib.use_at_hole(10.0, 1.0, no_room, RIB_METAL)).all()
    with pytest.raises(ValueError, match="within"):
        metal_rib.on_two(np.array([0.0, 1.0]), np.array([1.0, 1.0]), 0.5, 1.5)


def test_glass_outside_the_rule_is_unknown():
    assert math.isnan(glass.rule(0.65, 1e-3).tension)
    assert math.isnan(glass.rule(0.25, 1e-3).youngs)
    assert np.isnan(glass.pillow(100.0, glass.rule(0.7, 1e-3), 0.3)).all()
    assert glass.beta(0.999999) == pytest.approx(float(glass.beta(1.000001)), rel=1e-5)
    assert glass.beta(1e9) == pytest.approx(8.125)


def test_bonds_add_shear_and_pull_and_forgive_pressure():
    q = glass.use_bond(1200.0, 1000.0, 0.3, 4e-3, 3e6, 1e6)
    assert q == pytest.approx(0.1 + 0.075)
    assert glass.use_bond(1200.0, -1000.0, 0.3, 4e-3, 3e6, 1e6) == pytest.approx(0.1)


def test_fabric_that_is_not_known():
    assert math.isnan(fabric.tension(1400.0, math.nan, 1e3, 0.3))
    assert math.isnan(fabric.tension(-1.0, 6e4, 1e3, 0.3))
    assert fabric.tension(1400.0, 6e4, 0.0, 0.3) == pytest.approx(1400.0)
    assert math.isnan(fabric.last_rib(1e3, 0.3, 0.0, 1e8))


def test_webs():
    assert math.isnan(web.use(1e3, 1e-3, 1e8, 0.01, 0.01))
    assert web.use(1e3, 1e-3, 1e8, 0.005, 0.01) == pytest.approx(0.02)
    assert web.effective_width(1e-3, 0.0, 7e10, 0.1) == pytest.approx(0.1)
    assert math.isnan(web.compression_k(0.2, 0.1, "clamped"))
    assert web.compression_k(0.2, 0.1) == pytest.approx(6.25)
    assert web.bending_buckling(1e-3, 0.1, 7e10) == pytest.approx(23.9 * web.bent_plate(7e10) * 1e-4)
    assert np.isnan(web.beside_opening(1e3, 0.1, 0.1, (0.1, 0.05))).all()
    assert [s.value for s in web.margin("x", 0.0)] == [0.0, math.inf]
