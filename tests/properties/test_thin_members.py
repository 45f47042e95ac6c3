"""What must hold of webs, caps, rivets, ribs, skins and fabric: growth, limits, and arrays alike to single numbers."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from scipy.integrate import solve_bvp

from sparwright.strength.members import crippling, fabric, glass, metal_box, metal_rib, rivet_pitch, tension_field, web

KSI, INCH = 6.894757e6, 0.0254
E = 9.9e3 * KSI
METAL = metal_box.Metal(tension=42 * KSI, yield_tension=35 * KSI, yield_compression=34 * KSI, youngs=E)
RIB_METAL = metal_rib.RibMetal(tension=42 * KSI, yield_compression=34 * KSI, shear=27 * KSI, youngs=E)
SPAR = metal_box.MetalSpar(width=0.75 * INCH, cap=0.25 * INCH, depth=5.5 * INCH, web=0.032 * INCH)
RIB = metal_rib.SheetRib(depth=4 * INCH, thickness=0.025 * INCH, flange=0.625 * INCH)
HOLED = metal_rib.SheetRib(depth=4 * INCH, thickness=0.025 * INCH, flange=0.625 * INCH, left=1.125 * INCH,
                           hole=2 * INCH, pitch=3.5 * INCH)  # fmt: skip
BAY = tension_field.Bay(thickness=0.025 * INCH, height=5 * INCH, spacing=4 * INCH, flange=0.19 * INCH**2,
                        flange_inertia=2e-3 * INCH**4, upright=0.05 * INCH**2, youngs=E)  # fmt: skip
SKIN = glass.rule(0.5, 0.38e-3)
LOADS = np.array([50.0, 400.0, 1500.0])
USES = [
    lambda q: web.use(q * 50, 0.032 * INCH, 27 * KSI, 0.125 * INCH, 0.75 * INCH),
    lambda q: tension_field.use(q * 20, 10e6, BAY, 42 * KSI, 27 * KSI),
    lambda q: crippling.use(q * 1e5, 17 * KSI),
    lambda q: metal_box.use(q, 2 * q, SPAR, METAL, 0.3),
    lambda q: rivet_pitch.use(q * 10, 0.75 * INCH, 0.125 * INCH, 0.032 * INCH, 30 * KSI, 88 * KSI),
    lambda q: rivet_pitch.use_between(q * 1e5, 0.02 * INCH, 0.75 * INCH, E, 34 * KSI),
    lambda q: metal_rib.use(q, q / 10, RIB, RIB_METAL),
    lambda q: metal_rib.use_at_hole(q, q / 10, HOLED, RIB_METAL),
    lambda q: glass.use(q, q / 3, SKIN, 12 * INCH, 1.0),
    lambda q: glass.use_pillow(q, SKIN, 12 * INCH),
    lambda q: glass.use_bond(q, q, 12 * INCH, 4e-3, 3e6, 1e6),
    lambda q: fabric.use(1400 + q, 8000.0, 0.3, 1e-7, 200e6),
]


@pytest.mark.parametrize("use", USES)
def test_many_at_once_are_each_by_itself_and_grow_with_the_load(use):
    together = use(LOADS)
    assert np.isfinite(together).all()
    assert_allclose(together, np.stack([use(v) for v in LOADS], axis=-1), rtol=1e-12, atol=0)
    assert (np.diff(together, axis=-1) >= -1e-15).all()
    assert (np.diff(together.max(axis=0) if together.ndim > 1 else together) > 0).all()


WORKINGS = [
    (web.working(20e3, 0.8e-3, 0.12, 0.3, E, 27 * KSI, 20 * KSI), web.use(20e3, 0.8e-3, 27 * KSI)),
    (tension_field.working(2e4, 10e6, BAY, 42 * KSI, 27 * KSI), tension_field.use(2e4, 10e6, BAY, 42 * KSI, 27 * KSI)),
    (crippling.working(9e7, 0.015, 0.02, 6e-4, E, 34 * KSI),
     crippling.use(9e7, crippling.needham(0.015, 0.02, 6e-4, E, 34 * KSI))),
    (metal_box.working(900.0, 2e3, SPAR, METAL, 0.3), metal_box.use(900.0, 2e3, SPAR, METAL, 0.3)[-1]),
    (rivet_pitch.working(9e3, 0.02, 3.2e-3, 8e-4, 30 * KSI, 88 * KSI),
     rivet_pitch.use(9e3, 0.02, 3.2e-3, 8e-4, 30 * KSI, 88 * KSI)),
    (metal_rib.working(100.0, 10.0, RIB, RIB_METAL), metal_rib.use(100.0, 10.0, RIB, RIB_METAL)[-1]),
    (metal_rib.working(100.0, 10.0, HOLED, RIB_METAL), metal_rib.use_at_hole(100.0, 10.0, HOLED, RIB_METAL)[-1]),
    (glass.working(400.0, 200.0, SKIN, 0.3), glass.use(400.0, 200.0, SKIN, 0.3)[-1]),
    (fabric.working(1400.0, 6e4, 1500.0, 0.3, 8000.0, 0.3, 1e-7, 2e8),
     fabric.use(fabric.tension(1400.0, 6e4, 1500.0, 0.3), 8000.0, 0.3, 1e-7, 2e8)[-1]),
]  # fmt: skip


@pytest.mark.parametrize(("steps", "use"), WORKINGS)
def test_a_working_ends_in_the_use_and_the_margin_that_the_arrays_give(steps, use):
    assert_allclose([steps[-2].value, steps[-1].value], [use, 1 / use - 1], rtol=1e-9, atol=0)
    assert all(s.title and s.formula and s.unit and math.isfinite(s.value) for s in steps)


@settings(max_examples=50, deadline=None)
@given(st.floats(3e-4, 2e-3), st.floats(0.05, 0.4), st.floats(0.05, 0.4), st.floats(0.5, 3.0))
def test_buckling_goes_with_shape_alone(t, h, d, grown):
    small = web.shear_buckling(t, h, d, E)
    assert_allclose(web.shear_buckling(t * grown, h * grown, d * grown, E), small, rtol=1e-9, atol=0)
    assert_allclose(web.shear_buckling(2 * t, h, d, E), 4 * small, rtol=1e-12, atol=0)
    assert web.shear_buckling(t, h, d, E, held="clamped") > small
    bent = web.shear_buckling(t, h, d, E, yield_shear=20 * KSI)
    assert bent <= min(float(small), 20 * KSI) * (1 + 1e-12)


def test_johnsons_parabola_meets_the_elastic_curve():
    y = 100.0
    below, above = web.bent_down(50 - 1e-6, y), web.bent_down(50 + 1e-6, y)
    assert_allclose(above - below, 2e-6, rtol=1e-3, atol=0)
    assert web.bent_down(1e12, y) == pytest.approx(y)


@given(st.floats(0, 3), st.floats(0, 3), st.floats(0, 3))
def test_stresses_together_reach_one_on_the_curve(rs, rc, rb):
    used = float(web.use_together(rs, 1.0, rc, 1.0, rb, 1.0))
    if used > 1e-6:
        s, c, b = rs / used, rc / used, rb / used
        assert_allclose(s**2 + b**2 + c, 1.0, rtol=1e-9, atol=0)
    assert web.use_together(rs, 1.0, -5.0, 1.0) == pytest.approx(rs)


@pytest.mark.parametrize("omega", [0.3, 1.0, 2.5, 4.0])
def test_the_flange_on_its_bed(omega):
    """C2 and C3 against the beam's own equation, v'''' + 4 w^4 v = 1, clamped."""

    def slope(x, y):
        return np.array([y[1], y[2], y[3], 1 - 4 * omega**4 * y[0]])

    def ends(a, b):
        return np.array([a[0], a[1], b[0], b[1]])

    found = solve_bvp(slope, ends, np.linspace(0, 1, 200), np.zeros((4, 200)), tol=1e-8)
    x = np.linspace(0, 1, 4001)
    mean = np.trapezoid(1 - 4 * omega**4 * found.sol(x)[0], x)
    c2, c3 = tension_field.flange_factors(omega)
    assert_allclose((c2, c3), (1 / mean - 1, 12 * found.sol(0.0)[2] / mean), rtol=2e-4, atol=2e-6)


def test_a_web_that_does_not_buckle_pulls_nothing():
    t = tension_field.tense(np.array([1e3]), np.array([1e9]), BAY)
    assert t.k[0] == 0 and t.upright[0] == 0 and t.flange[0] == 0 and t.moment[0] == 0
    assert_allclose(t.peak, t.tau, rtol=1e-12, atol=0)
    assert_allclose(t.rivet, 1e3, rtol=1e-12, atol=0)
    assert_allclose(
        tension_field.use(1e3, 1e9, BAY, 42 * KSI, 1e15), math.sqrt(3) * t.tau / (42 * KSI), rtol=1e-9, atol=0
    )


@settings(max_examples=40, deadline=None)
@given(st.floats(1.01, 700.0), st.floats(0.02, 2.0), st.floats(0.02, 2.0))
def test_the_angle_solves_its_equation(ratio, flange, upright):
    """Rewritten as printed, strains in the web and both members."""
    bay = tension_field.Bay(thickness=1e-3, height=0.2, spacing=0.15, flange=flange * 1e-4, upright=upright * 1e-4,
                            flange_inertia=1e-8, youngs=70e9)  # fmt: skip
    tau = 50e6
    t = tension_field.tense(np.array(tau * 1e-3), np.array(tau / ratio), bay)
    k, a = float(t.k), float(t.angle)
    strain = tau / 70e9 * (2 * k / math.sin(2 * a) + (1 - k) * 1.33 * math.sin(2 * a))
    assert_allclose(math.tan(a) ** 2, (strain - t.flange / 70e9) / (strain - t.upright / 70e9), rtol=1e-8, atol=0)
    force_up = k * tau * 1e-3 * 0.15 * math.tan(a)
    assert_allclose(-t.upright * (upright * 1e-4 + 0.5 * (1 - k) * 0.15 * 1e-3), force_up, rtol=1e-9, atol=0)


def test_softened_webs():
    k = np.array([0.0, 0.4, 1.0])
    g = tension_field.shear_modulus(k, 26e9, 70e9)
    assert_allclose(g[[0, 2]], [26e9, 17.5e9], rtol=1e-12, atol=0)
    assert 17.5e9 < g[1] < 26e9


@settings(max_examples=40, deadline=None)
@given(st.floats(-2e3, 2e3), st.floats(-2e4, 2e4))
def test_caps_balance_moment_and_thrust(moment, thrust):
    """Stress over both caps adds up to N and M when each cap's is taken straight through its depth."""
    s = metal_box.MetalSpar(width=0.02, cap=0.006, depth=0.14, web=8e-4)
    inertia, a = float(metal_box.second_moment(s)), float(metal_box.area(s))
    y = np.linspace(0.064, 0.07, 201)
    f = thrust / a + np.outer([1, -1], moment * y / inertia)
    assert_allclose(np.trapezoid(f, y, axis=1).sum() * 0.02, thrust, rtol=1e-6, atol=1e-6)
    assert_allclose((np.trapezoid(f * y, y, axis=1) * [1, -1]).sum() * 0.02, moment, rtol=1e-4, atol=1e-6)
    pressed, pulled = metal_box.stresses(moment, thrust, s)
    assert_allclose([pressed, pulled], [max(f.max(), 0), max(-f.min(), 0)], rtol=1e-9, atol=1e-6)


def test_a_webs_flow_adds_up_to_the_shear():
    """Flow between the caps' middles is V/(n h') to the part of V that the caps' own depth carries (under 1 %)."""
    q = float(metal_box.flow(1e4, SPAR))
    assert_allclose(q * 2 * (5.25 * INCH), 1e4, rtol=0.01, atol=0)
    tapered = metal_box.taper_shear(1000.0, 0.1, 0.05)
    assert_allclose(tapered, 500.0, rtol=1e-12, atol=0)


def test_columns_meet_where_euler_takes_over():
    lean = math.pi * math.sqrt(2 * METAL.youngs / METAL.yield_compression)
    f = metal_box.column(np.array([lean * (1 - 1e-9), lean * (1 + 1e-9)]), METAL)
    assert_allclose(f, METAL.yield_compression / 2, rtol=1e-6, atol=0)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.floats(-500, 500), min_size=5, max_size=5), st.floats(0.1, 0.4), st.floats(0.5, 0.9))
def test_a_rib_on_two_spars_balances(load, front, rear):
    """Shear and moment vanish behind the tail, and are nought at the nose."""
    x = np.linspace(0.0, 1.0, 5)
    shear, moment = metal_rib.on_two(x, np.array(load), front, rear)
    assert_allclose([shear[0], moment[0]], 0.0, rtol=0, atol=1e-9)
    assert_allclose([shear[-1], moment[-1]], 0.0, rtol=0, atol=1e-9)


def test_a_rib_under_even_load():
    """w 100 N/m over 1 m, spars at its ends: V w/2, M -w/8 in the middle."""
    x = np.linspace(0, 1, 11)
    shear, moment = metal_rib.on_two(x, np.full(11, 100.0), 0.0, 1.0)
    assert_allclose(moment[5], -100 / 8, rtol=1e-12, atol=0)
    assert_allclose(shear[[1, 9]], [-40.0, 40.0], rtol=1e-12, atol=0)


def test_holes_bear_no_more_than_what_they_leave():
    d = np.array([0.32, 0.4, 0.5, 0.6, 0.67]) * 4 * INCH
    q = metal_rib.flanged_holes(4 * INCH, 0.025 * INCH, d, 3.9 * INCH, RIB_METAL)
    assert np.isfinite(q).all()
    net = RIB_METAL.shear * 0.025 * INCH * (1 - d / (4 * INCH))
    assert (q <= net).all() and (q > 0).all()
    more_left = metal_rib.use_at_hole(100.0, 5.0, HOLED, RIB_METAL)
    longer = metal_rib.SheetRib(**{**HOLED.__dict__, "hole": 2.5 * INCH})
    assert (metal_rib.use_at_hole(100.0, 5.0, longer, RIB_METAL)[[0, 2]] > more_left[[0, 2]]).all()


def test_a_chord_is_its_two_rectangles():
    """An angle 16 x 28 x 0.6, by little squares."""
    rib = metal_rib.SheetRib(depth=0.1, thickness=6e-4, flange=16e-3, left=28e-3, hole=0.05)
    a, own, low, far = (float(v) for v in metal_rib.chord(rib))
    y = (np.arange(28_000) + 0.5) * 1e-6
    wide = np.where(y < 6e-4, 16e-3, 6e-4)
    area = (wide * 1e-6).sum()
    middle = (wide * y * 1e-6).sum() / area
    inertia = (wide * (y - middle) ** 2 * 1e-6).sum()
    assert_allclose([a, low, own, far], [area, middle, inertia, 28e-3 - middle], rtol=1e-3, atol=0)


def test_glass_that_is_better_or_hotter():
    hot = glass.knocked_down(SKIN, 0.9, 0.6, 0.7)
    assert_allclose([hot.tension / SKIN.tension, hot.youngs / SKIN.youngs], [0.54, 0.7], rtol=1e-12, atol=0)
    assert glass.shear_buckling(hot, 0.3) == pytest.approx(0.7 * glass.shear_buckling(SKIN, 0.3))
    assert math.isnan(glass.knocked_down(SKIN, 0.9, math.nan, 1.0).shear)


def test_round_panels_bear_more_pressed_and_flat_ones_come_back():
    flat = glass.compression_buckling(SKIN, 0.3)
    assert glass.compression_buckling(SKIN, 0.3, 0.3) > 3 * flat
    assert glass.compression_buckling(SKIN, 0.3, 100.0) == pytest.approx(float(flat))
    assert glass.shear_buckling(SKIN, 0.3, 0.3) > 3 * glass.shear_buckling(SKIN, 0.3)
    assert glass.shear_buckling(SKIN, 0.3, 100.0) == glass.shear_buckling(SKIN, 0.3)
    assert glass.shear_buckling(SKIN, 0.3, 0.2) == pytest.approx(1.5 * float(glass.shear_buckling(SKIN, 0.3, 0.3)))
    assert 0.6 < glass.weak_in_shear(SKIN) < 0.9
    assert web.curved_compression(5e-4, 0.3, 0.3, 0.6, E) > web.compression_buckling(5e-4, 0.3, 0.6, E)
    assert web.curved_shear(5e-4, 1e3, 0.3, 0.6, E) == pytest.approx(float(web.shear_buckling(5e-4, 0.3, 0.6, E)))


def test_a_strip_under_little_pressure_only_bends():
    """Clamped: sag p b^4/(384 D), stress p b^2/(2 t^2), no pull; four times the thickness stays straight in load."""
    made = glass.rule(0.5, 3e-3)
    e = (made.youngs + made.youngs_bent) / 2
    d = e * 3e-3**3 / 12 / (1 - made.poisson**2)
    sag, _, stress = (float(v) for v in glass.pillow(50.0, made, 0.3))
    assert_allclose(sag, 50 * 0.3**4 / 384 / d, rtol=1e-3, atol=0)
    assert_allclose(stress, 50 * 0.3**2 / 2 / 3e-3**2, rtol=5e-3, atol=0)


@settings(max_examples=60, deadline=None)
@given(st.floats(0, 4e3), st.floats(1e4, 2e5), st.floats(1.0, 5e3), st.floats(0.1, 0.5))
def test_fabric_hangs_in_balance(t0, k, p, b):
    """The parabola's strain (8/3)(w/b)^2 times K is what tension rose by."""
    t = float(fabric.tension(t0, k, p, b))
    w = float(fabric.sag(t, p, b))
    assert_allclose(t - t0, k * 8 / 3 * (w / b) ** 2, rtol=1e-6, atol=1e-6 * t)


def test_edges_and_lacing():
    assert_allclose(fabric.edge_moment(1000.0, 0.3, bays=4), 2 * 1000 * 0.09 / 12, rtol=1e-12, atol=0)
    assert_allclose(fabric.edge_moment(1000.0, 0.3, bays=1), 2 * 1000 * 0.09 / 8, rtol=1e-12, atol=0)
    assert_allclose(fabric.edge_bow(1000.0, 0.3, 50.0, bays=1), 5 * 2000 * 0.3**4 / 384 / 50, rtol=1e-12, atol=0)
    assert_allclose(fabric.lacing(1000.0, 0.3) * 300, 40 * 4.4482216, rtol=1e-6, atol=0)
    assert fabric.lacing(-10.0, 0.3) == math.inf
    assert_allclose(fabric.last_rib(1000.0, 0.3, 1e-6, 1e8), 2 * 1000 * 0.09 / 8 / 100, rtol=1e-12, atol=0)


@settings(max_examples=40, deadline=None)
@given(st.floats(0.1, 0.9), st.floats(0.1, 0.9))
def test_flow_beside_an_opening_carries_what_the_panel_did(part, share):
    """Any cut right across, level or upright, with or without the opening, still carries q times its length."""
    length, height, q = 0.5, 0.2, 700.0
    lw, dw = part * length, share * height
    level, upright, corner = web.beside_opening(q, length, height, (lw, dw))
    assert_allclose(level * (length - lw), q * length, rtol=1e-9, atol=0)
    assert_allclose(upright * (height - dw), q * height, rtol=1e-9, atol=0)
    assert_allclose(corner * (length - lw) + upright * lw, q * length, rtol=1e-9, atol=1e-9)
    assert_allclose(corner * (height - dw) + level * dw, q * height, rtol=1e-9, atol=1e-9)


def test_sizes_may_be_arrays_too():
    """A spar's stations at once, each as by itself."""
    depths = np.array([4.5, 5.0, 5.5]) * INCH
    bays = tension_field.Bay(**{**BAY.__dict__, "height": depths})
    spars = metal_box.MetalSpar(**{**SPAR.__dict__, "depth": depths})
    ribs = metal_rib.SheetRib(**{**HOLED.__dict__, "depth": depths})
    webs = tension_field.use(LOADS * 20, 10e6, bays, 42 * KSI, 27 * KSI)
    caps = metal_box.use(LOADS, LOADS, spars, METAL, 0.1)
    holes = metal_rib.use_at_hole(LOADS, LOADS / 10, ribs, RIB_METAL)
    for i, (d, v) in enumerate(zip(depths, LOADS, strict=True)):
        bay = tension_field.Bay(**{**BAY.__dict__, "height": d})
        spar = metal_box.MetalSpar(**{**SPAR.__dict__, "depth": d})
        rib = metal_rib.SheetRib(**{**HOLED.__dict__, "depth": d})
        assert_allclose(webs[i], tension_field.use(v * 20, 10e6, bay, 42 * KSI, 27 * KSI), rtol=1e-12, atol=0)
        assert_allclose(caps[:, i], metal_box.use(v, v, spar, METAL, 0.1), rtol=1e-12, atol=0)
        assert_allclose(holes[:, i], metal_rib.use_at_hole(v, v / 10, rib, RIB_METAL), rtol=1e-12, atol=0)
