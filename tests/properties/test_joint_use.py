"""What must hold of any joint: use goes with the load; thicker, wider, more fasteners never worse; unknown stays so."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.strength.joints import group, lug, pin, plate, rivet, weld, wood

LUG = lug.Lug(width=0.0254, hole=0.00635, pin=0.00635, edge=0.0127, thickness=0.0023, tension=655e6, yields=517e6,
              shear=393e6, bearing=1379e6)  # fmt: skip
NO_DIGITS = 1e-300  # a float so small loses its digits: an even load may be denormal
LOAD, MORE = st.floats(1.0, 1e5), st.floats(1.001, 3.0)
ANGLE = st.floats(-np.pi, np.pi)
PLACES = st.lists(st.tuples(st.floats(-0.1, 0.1), st.floats(-0.1, 0.1)), min_size=2, max_size=8)


@settings(deadline=None)
@given(LOAD, ANGLE, MORE, st.floats(0.5, 1.0))
def test_lug_loads(load: float, angle: float, more: float, share: float) -> None:
    u = lug.use(load, angle, LUG, share)
    assert u > 0
    assert_allclose(lug.use(more * load, angle, LUG, share), more * u, rtol=1e-9)
    assert_allclose(lug.use(-load, angle, LUG, share), u)
    assert_allclose(lug.use(load, -angle, LUG, share), u)
    assert u <= lug.use(load, angle, LUG) + 1e-12
    along, across = lug.use(load * np.cos(angle), 0.0, LUG, share), lug.use(load * np.sin(angle), np.pi / 2, LUG, share)
    assert max(along, across) * (1 - 1e-9) <= u <= along + across + 1e-12


@settings(deadline=None)
@given(st.sampled_from(["width", "edge", "thickness", "tension", "shear", "bearing"]), st.floats(1.0, 1.2), ANGLE)
def test_a_bigger_lug_is_never_weaker(field: str, more: float, angle: float) -> None:
    bigger = replace(LUG, **{field: getattr(LUG, field) * more})
    assert lug.use(1e3, angle, bigger) <= lug.use(1e3, angle, LUG) * (1 + 1e-12)


@settings(deadline=None)
@given(st.floats(0.8, 1.0))
def test_a_loose_pin_never_helps(ratio: float) -> None:
    assert lug.along(replace(LUG, pin=LUG.pin * ratio)) <= lug.along(LUG) + 1e-9


@settings(deadline=None)
@given(st.floats(0.0, 3.0), st.floats(0.0, 3.0), st.floats(1e-3, 1e3))
def test_bolts_in_shear_and_tension(shear: float, tension: float, grown: float) -> None:
    u = float(pin.shear_and_tension(shear, tension))
    assert max(shear, tension) * (1 - 1e-9) <= u <= shear + tension + 1e-12
    if u > 1e-6:
        assert_allclose((shear / u) ** 3 + (tension / u) ** 2, 1.0, rtol=1e-9)
    assert_allclose(pin.shear_and_tension(grown * shear, grown * tension), grown * u, rtol=1e-9, atol=1e-15)
    assert_allclose(
        pin.shear_and_bending(grown * shear, grown * tension), grown * np.hypot(shear, tension), atol=NO_DIGITS
    )


@settings(deadline=None)
@given(st.floats(0.001, 0.005), st.floats(0.002, 0.05), st.floats(0.0, 0.003), st.floats(5e3, 1e5), st.floats(5e3, 1e5))
def test_pins(outer: float, middle: float, gap: float, first: float, second: float) -> None:
    d, F = 0.00635, 860e6
    P = pin.bending_strength(d, F, outer, middle, gap, first, second)
    assert P >= 2 * pin.moment_strength(d, F) / pin.arm(outer, middle, gap) * (1 - 1e-12)
    assert pin.bending_strength(d, F, outer, middle, gap + 0.001, first, second) < P
    assert pin.bending_use(2e3, pin.arm(outer, middle, gap), 1.1 * d, F) < pin.bending_use(
        2e3, pin.arm(outer, middle, gap), d, F
    )


@settings(deadline=None)
@given(PLACES, st.floats(-1e4, 1e4), st.floats(-1e4, 1e4), st.floats(-500, 500), st.floats(-0.5, 0.5))
def test_groups_balance(places: list[tuple[float, float]], x: float, y: float, M: float, shift: float) -> None:
    r = np.array(places)
    c = group.middle(r)
    assume(((r - c) ** 2).sum() > 1e-6)
    w = np.arange(1, len(r) + 1) / 2.0
    for weights in (None, w):
        f = group.loads(r, (x, y), M, weights)
        arm = r - group.middle(r, weights)
        assert_allclose(f.sum(axis=1), (x, y), atol=1e-6)
        assert_allclose(arm[:, 0] @ f[1] - arm[:, 1] @ f[0], M, atol=1e-6)
    assert_allclose(group.loads(r + shift, (x, y), M), group.loads(r, (x, y), M), rtol=1e-6, atol=1e-4)
    assert_allclose(group.use(r, (2 * x, 2 * y), 2 * M, 1e3), 2 * group.use(r, (x, y), M, 1e3), atol=NO_DIGITS)


def test_groups_of_many_loads() -> None:
    r, F, M = group.square(0.03), np.array([[1.0, 2.0, 0.0], [0.0, 3.0, 4.0]]), np.array([0.0, 1.0, -2.0])
    f = group.loads(r, F, M)
    assert f.shape == (2, 4, 3)
    for i in range(3):
        assert_allclose(f[:, :, i], group.loads(r, F[:, i], M[i]), rtol=1e-12)
    assert group.loads(r, F, 1.0).shape == (2, 4, 3) and group.worst_load(r, F, M).shape == (3,)
    pulls = group.pulls([0.01, 0.01, 0.03, 0.03], 20.0)
    assert_allclose(pulls @ [0.01, 0.01, 0.03, 0.03], 20.0)


@settings(deadline=None)
@given(st.floats(1.0, 4.0), st.floats(1.0, 1.5), st.floats(0.7, 0.9))
def test_edge_distance(edge: float, more: float, ratio: float) -> None:
    for close in (ratio, np.nan):
        F = plate.bearing_strength(edge, 1.0, close)
        assert 0.35 <= F <= 1.0
        assert plate.bearing_strength(edge * more, 1.0, close) >= F - 1e-12
    steps = plate.bearing_strength(np.linspace(1, 3, 4001), 1.0, ratio)
    assert (np.abs(np.diff(steps)) < 5e-4 * 1.01).all()  # slope at most 1: no jump


@settings(deadline=None)
@given(LOAD, st.integers(1, 10), st.floats(0.8e-3, 2e-3), MORE)
def test_rivets(load: float, count: int, sheet: float, more: float) -> None:
    each = rivet.strength(2000.0, 0.004, sheet, 800e6)
    u = rivet.use(load, each, count)
    assert_allclose(rivet.use(more * load, each, count), more * u)
    assert rivet.use(load, each, count + 1) < u and rivet.use(load, each, count, more) > u
    assert rivet.strength(2000.0, 0.004, sheet * more, 800e6) >= each
    assert rivet.between(sheet, 0.02, 70e9, 270e6, 3.0) >= rivet.between(sheet, 0.02 * more, 70e9, 270e6, 3.0)
    assert rivet.between(sheet, 0.02, 70e9, 270e6, 3.0) <= 270e6


@settings(deadline=None)
@given(st.floats(-1e4, 1e4), st.floats(0.27, 1.57), MORE)
def test_welds(load: float, angle: float, more: float) -> None:
    size = (0.0254, 0.000889)
    u = weld.tube_use(load, *size, angle, 331e6, 552e6)
    assert_allclose(weld.tube_use(more * load, *size, angle, 331e6, 552e6), more * u, atol=NO_DIGITS)
    assert weld.seam_length(1.0, angle) >= np.pi * (1 - 1e-12)
    q = weld.foot_use(load, 0.5 * load, 2.0, 0.03, 0.002, 331e6)
    assert q >= weld.foot_use(load, 0.5 * load, 2.0, 0.03 * more, 0.002, 331e6)


@settings(deadline=None)
@given(st.floats(0.006, 0.012), st.floats(0.01, 0.08), st.floats(300, 600), st.floats(0, np.pi / 2), MORE)
def test_wood(d: float, t: float, rho: float, angle: float, more: float) -> None:
    u = wood.use(1e3, angle, d, t, rho, 860e6)
    assert_allclose(wood.use(more * 1e3, angle, d, t, rho, 860e6), more * u)
    assert wood.use(1e3, angle, d, t * more, rho, 860e6) <= u * (1 + 1e-12)
    assert wood.use(1e3, 0.0, d, t, rho, 860e6) <= u * (1 + 1e-12)
    assert wood.use(1e3, angle, d, t, rho, 860e6, hardwood=True) <= u * (1 + 1e-12)
    assert 1 <= wood.effective(4, 0.05, d) <= 4
