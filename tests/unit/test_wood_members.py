"""Edges, errors and workings of the wooden members."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.data import wood
from sparwright.strength.members import (
    d_nose,
    glue,
    ply,
    ply_buckling,
    rib_truss,
    scarf,
    wood_block,
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

SPAR = SparShape(depth=0.15, width=0.03, upper=0.02, lower=0.02, web=0.0015)
WOOD = CapStrength(65e6, 30e6, 60e6)
BIRCH = ply.veneer("birch", 12e9)
FLAT = ply.stiffness(BIRCH, ply.crossed(0.0015, 3))[1]


def test_margins() -> None:
    assert_allclose(margin(np.array([0.5, 1.0, 2.0, 0.0])), [1.0, 0.0, -0.5, np.inf])


@pytest.mark.parametrize(
    "steps",
    [
        wood_box.working(SPAR, CapLoads(900.0, 300.0, 20.0), WOOD),
        wood_box.working(SPAR, CapLoads(-900.0, -300.0), WOOD, rupture=False),
        ply.working(5000.0, 0.0015, 9e6, 9000.0),
        ply_buckling.working(3000.0, FLAT, 0.25, 0.11),
        glue.working(5000.0, 0.02, 5e6, 90.0, 2),
        scarf.working(20e6, 12.0, 60e6, 5e6),
        wood_column.working(400.0, 36e-6, 0.00173, 0.1, 9e9, 30e6),
        wood_column.working(40.0, 36e-6, 0.00173, 0.5, 9e9, 30e6),
        wood_bolt.working(2000.0, 30e6, 5e6, 0.5, 0.008, 0.03),
        wood_rib.working(5.0, 60.0, 0.1, 0.06, 0.06, 0.002, SheetStrength(40e6, 30e6, 9e6)),
        rib_truss.working(-50.0, 0.006, 0.006, 0.1, 9e9, 30e6, 60e6),
        rib_truss.working(50.0, 0.006, 0.006, 0.1, 9e9, 30e6, 60e6),
        d_nose.working(50.0, 0.02, 0.001, 9e6, 3000.0),
        wood_block.working(900.0, 4e-4, 5e6),
        wood_block.bar_working(300.0, 0.3, 0.02, 0.012, 60e6, 5e6, through=True),
    ],
)
def test_each_working_ends_in_its_margin(steps: tuple) -> None:
    """The last line is 1/use - 1 of the line's own use; every line says unit and source."""
    last = steps[-1]
    assert last.title == "margin of safety" and last.given[0][0] == "use"
    assert_allclose(last.value, 1 / last.given[0][1] - 1, rtol=1e-12)
    assert all(s.unit and s.source and np.isfinite(s.value) for s in steps), steps


def test_workings_agree_with_uses() -> None:
    args = (SPAR, CapLoads(900.0, 300.0, 20.0), WOOD)
    assert_allclose(wood_box.working(*args)[-1].given[0][1], wood_box.use(*args), rtol=1e-12)
    q = ply_buckling.shear_flow(FLAT, 0.25, 0.11)
    assert_allclose(ply_buckling.working(3000.0, FLAT, 0.25, 0.11)[0].value, q, rtol=1e-12)
    line, web = wood_section.flows(SPAR, 800.0, 30.0)
    assert_allclose([s.value for s in wood_section.flow_working(SPAR, 800.0, 30.0)], [line, web], rtol=1e-12)


@pytest.mark.parametrize("bad", [{"upper": 0.14}, {"upper": 0.0}, {"webs": 3}, {"web": -0.001}, {"width": 0.0}])
def test_sizes_that_are_no_spar(bad: dict) -> None:
    from dataclasses import replace

    shape = replace(SPAR, **bad)
    assert np.isnan(wood_section.values(shape).inertia)
    assert np.isnan(wood_box.use(shape, CapLoads(10.0), WOOD))


def test_form_factor_range() -> None:
    assert np.isnan(wood_box.form_factor(np.array([0.0, 0.51, 0.2]), np.array([0.1, 0.1, 1.1]))).all()
    assert_allclose(wood_box.form_factor(0.3, 1.0), 1.0)


def test_axial_load_never_relieves() -> None:
    bent = float(wood_box.use(SPAR, CapLoads(900.0), WOOD))
    assert float(wood_box.use(SPAR, CapLoads(900.0, -1.0), WOOD)) >= bent
    assert float(wood_box.use(SPAR, CapLoads(900.0, 1.0), WOOD)) >= bent


def test_bending_along_the_chord_counts_on_both_edges() -> None:
    """f_z = |M_z| z/I_z over the modulus of rupture where an edge is pressed, over tension where it is pulled."""
    f_z = 40.0 * 0.015 / (0.04 * 0.03**3 / 12)
    for strength, over in ((CapStrength(65e6, 30e6, 1e12), 65e6), (CapStrength(1e12, 30e6, 60e6), 60e6)):
        more, less = (float(wood_box.use(SPAR, CapLoads(900.0, 0.0, c), strength)) for c in (-40.0, 0.0))
        assert_allclose(more - less, f_z / over, rtol=1e-9)


def test_the_pulled_edge_may_decide() -> None:
    """A thick pressed cap over a thin pulled one."""
    shape = SparShape(depth=0.15, width=0.03, upper=0.05, lower=0.008, web=0.0015)
    weak = CapStrength(65e6, 30e6, 20e6)
    v = wood_section.values(shape)
    assert_allclose(wood_box.use(shape, CapLoads(600.0), weak), 600.0 * v.middle / v.inertia / 20e6, rtol=1e-12)


def test_one_web_cannot_take_torque() -> None:
    from dataclasses import replace

    open_ = replace(SPAR, webs=1)
    assert np.isnan(wood_section.flows(open_, 500.0, 1.0)).all()
    assert np.isfinite(wood_section.flows(open_, 500.0)).all()
    assert float(wood_section.torsion(open_, 6e8, 8e8)) < 0.2 * float(wood_section.torsion(SPAR, 6e8, 8e8))
    assert float(wood_section.values(open_).ahead) > 0.0165
    assert float(wood_section.values(SPAR).ahead) == 0


def test_plies() -> None:
    with pytest.raises(ValueError, match="odd"):
        ply.crossed(0.001, 4)
    with pytest.raises(ValueError, match="same above"):
        ply.crossed(0.001, 3, shares=(0.2, 0.3, 0.5))
    with pytest.raises(ValueError, match="mirror"):
        ply.stiffness(BIRCH, [ply.Ply(0.001), ply.Ply(0.001, np.pi / 2)])
    thin = ply.crossed(0.0015, 3, shares=(0.25, 0.5, 0.25))
    assert_allclose([p.thickness for p in thin], [0.000375, 0.00075, 0.000375])


def test_a_buckled_web_is_unknown() -> None:
    assert_allclose(ply.use(np.array([-500.0, 1500.0]), 0.001, 1e6, 1000.0), [0.5, np.nan])
    assert np.isnan(ply.panel_shear(3, 0.0005, 9e6)) and np.isfinite(ply.panel_shear(3, 0.0015, 9e6))


def test_a_sheet_whose_plies_are_not_told() -> None:
    """The least of the layups it may have, and which; grain up the web or along it."""
    for face in (0.0, np.pi / 2):
        found, plies = ply_buckling.least(BIRCH, 0.0015, face, 0.25, 0.1)
        each = [float(ply_buckling.shear_flow(ply.stiffness(BIRCH, ply.crossed(0.0015, len(s), face, s))[1], 0.25, 0.1))
                for s in ply_buckling.LAYUPS]  # fmt: skip
        assert_allclose(found, min(each), rtol=1e-12)
        assert len(plies) == len(ply_buckling.LAYUPS[int(np.argmin(each))])
        assert max(each) > 1.05 * found


def test_long_panels_are_strips() -> None:
    strip = ply_buckling.strip(FLAT, 0.1, (0.0, 0.0, 1.0))
    assert_allclose(ply_buckling.shear_flow(FLAT, 2.0, 0.1), strip)
    assert_allclose(ply_buckling.shear_flow(ply_buckling.turned(FLAT), 0.1, 2.0), strip, rtol=1e-9)
    assert np.isnan(ply_buckling.panel(FLAT, 0.6, 0.1, (0.0, 0.0, 1.0)))
    assert np.isnan(ply_buckling.shear_flow(FLAT, -1.0, 0.1))
    assert ply_buckling.panel(FLAT, 0.2, 0.1, (-1.0, -1.0, 0.0)) == np.inf
    assert_allclose(ply_buckling.use_at_limit(900.0, 400.0), 1.5)


def test_glue() -> None:
    assert glue.use(1.0, 0.01, 1e6, 90.0, peel=np.array([0.0, 1.0]))[1] == np.inf
    assert np.isnan(glue.use(1.0, 0.01, 1e6, 30.0))
    assert_allclose(glue.area_use(100.0, 2e-4, 1e6, 0.0), 0.5)
    assert_allclose(glue.use(3000.0, 0.01, 1e6, 90.0, faces=2), 0.45)  # 3000/(2 x 0.01) over 1e6/3
    with pytest.raises(KeyError):
        wood.glue_share(30.0)


def test_scarfs() -> None:
    assert_allclose(scarf.apart(np.array([0.5, 0.0]), np.array([0.8, 0.3])), 0.2)
    assert scarf.apart(np.array([0.0, 0.1]), np.array([0.3, 0.2])) < 0
    assert scarf.apart(np.array([0.0]), np.array([0.3])) == np.inf
    assert list(scarf.flat_enough(np.array([11.0, 12.0]), True)) == [False, True]
    assert bool(scarf.flat_enough(11.0, False))
    assert list(scarf.clear_of(np.array([0.0, 0.3]), np.array([0.2, 0.5]), (0.2, 0.4))) == [True, False]
    places = np.array([2.0, 0.0, 0.5]), np.array([2.2, 0.2, 0.7])  # out of order: gaps of 0.3 and 1.3, wanted 0.6
    assert_allclose(scarf.far_apart(*places), [0.5, 1.3 / 0.6])
    assert np.isnan(scarf.left(np.array([1.0, 1.0]), np.array([3.0, np.inf])))


def test_state_ranges() -> None:
    assert np.isnan(wood_state.dried(2.0, 1.0, 25.0, 5.9))
    assert_allclose(wood_state.dried(2.0, 1.0, 25.0, 40.0), 1.0)
    assert np.isnan(wood_state.hankinson(2.0, 1.0, np.array([-0.1, 1.6]))).all()
    assert np.isnan(wood_state.madison(np.array([0.001, 1e10]))).all()
    assert np.isnan(wood_state.heat_factor("bending", np.array([-60.0, 51.0]))).all()
    assert np.isnan(wood_state.heat_factor("hardness", 30.0))
    assert np.isnan(wood_state.slope_factor("shear", 10.0)) and wood_state.slope_factor("shear", 16.0) == 1
    assert_allclose(wood_state.slope_factor("compression", 10.0), 0.99 / 0.995, rtol=1e-9)
    with pytest.raises(KeyError):
        wood_state.moisture_factor("balsa", "bending", 12.0)


def test_knots_have_no_price() -> None:
    factor, steps = wood_state.price("spruce", "bending", wood_state.WoodState(knots=True))
    assert np.isnan(factor) and np.isnan(steps[4].value)


def test_price_multiplies() -> None:
    state = wood_state.WoodState(moisture=20.0, grain_run=10.0, duration=3600.0, temperature=40.0)
    factor, steps = wood_state.price("spruce", "bending", state)
    assert_allclose(factor, np.prod([s.value for s in steps[:-1]]), rtol=1e-12)
    assert_allclose(steps[0].value, (10200 / 5700) ** (-5 / 15), rtol=1e-9)
    stiff, _ = wood_state.price("spruce", "youngs", wood_state.WoodState(duration=3.0e8))
    assert stiff == 1  # time under load is creep, not E


def test_bolts() -> None:
    assert wood_bolt.short_of(0.01, 0.07, 0.04, 0.04, np.pi / 2, True) == ()
    found = wood_bolt.short_of(0.01, 0.06, 0.014, 0.03, 0.0, True)
    assert wood_bolt.short_of(0.01, 0.07, 0.03, 0.04, np.pi / 2, True) == ("edge: 3.0 diameters, 4 wanted",)
    assert [f.split(":")[0] for f in found] == ["end", "edge", "pitch"]
    assert_allclose(wood_bolt.use(300.0, 30e6, 5e6, 0.0, 0.01, 0.02), 300 / (2e-4 * 30e6))


def test_ribs() -> None:
    x = np.linspace(0, 1, 11)
    for spars in ((), (0.2, 0.5, 0.8), (-0.1,), (1.1,)):
        with pytest.raises(ValueError, match="spar"):
            wood_rib.beam(x, x, spars)
    assert np.isnan(wood_rib.hole_use(1.0, 1.0, 0.1, 0.1, 0.1, 0.001, SheetStrength(1e6, 1e6, 1e6)))
    with pytest.raises(ValueError, match="joints want"):
        rib_truss.forces(np.zeros((3, 2)), [(0, 1)], [], np.zeros((3, 2)))
    square = np.array([[0, 0], [1, 0], [1, 1], [0, 1]], dtype=float)
    with pytest.raises(ValueError, match="falls over"):  # nothing across the square, one support too many
        rib_truss.forces(square, [(0, 1), (1, 2), (2, 3), (3, 0)],
                         [(0, 0.0), (0, np.pi / 2), (1, 0.0), (1, np.pi / 2)], np.zeros((4, 2)))  # fmt: skip


def test_a_cap_bent_between_joints() -> None:
    """w L^2/8 grows by 1/(1 - P/P_E) where the cap is pressed, and is unknown past Euler's load."""
    args = (0.006, 0.006, 0.2, 9e9, 30e6, 60e6)
    plain = float(rib_truss.strip_use(0.0, *args, 100.0, 60e6))
    assert_allclose(plain, 6 * (100 * 0.04 / 8) / (0.006**3) / 60e6, rtol=1e-12)
    euler = np.pi**2 * 9e9 * 0.006**4 / 12 / 0.04
    half = float(rib_truss.strip_use(-euler / 2, *args, 100.0, 60e6)) - float(rib_truss.strip_use(-euler / 2, *args))
    assert_allclose(half, 2 * plain, rtol=1e-9)
    assert np.isnan(rib_truss.strip_use(-1.01 * euler, *args, 100.0, 60e6))
    assert_allclose(rib_truss.gusset_use(100.0, 1e-4, 6e6), 100 / (2e-4 * 2e6))


def test_nose() -> None:
    half = np.linspace(-np.pi / 2, np.pi / 2, 2001)
    arc = np.stack([-0.1 * np.cos(half), 0.1 * np.sin(half)], axis=1)
    assert_allclose(d_nose.girth(arc), np.pi * 0.1, rtol=1e-6)
    assert_allclose(d_nose.enclosed(arc), np.pi * 0.01 / 2, rtol=1e-5)
    assert_allclose(d_nose.skin_flow(FLAT, 0.2, 0.3), ply_buckling.shear_flow(FLAT, 0.2, 0.3))
    assert_allclose(wood_block.split_use(100.0, 0.02, 0.05, 1e5), 1.0)
