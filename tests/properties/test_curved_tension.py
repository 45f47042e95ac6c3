"""Curved skins past wrinkling: the flat web at one end, Mises in shear at the other, and what grows with what."""

from __future__ import annotations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.strength.members import curved_tension as curved
from sparwright.strength.members import tension_field as flat

E, NU = 70e9, 0.33
lengths, areas = st.floats(0.08, 0.4), st.floats(5e-6, 2e-4)
thick, ratios = st.floats(4e-4, 1.2e-3), st.floats(1.0, 400.0)


def panel(t: float, h: float, d: float, rib: float, edge: float, r: float = np.inf) -> curved.Panel:
    return curved.Panel(thickness=t, radius=r, girth=h, spacing=d, rib=rib, edge=edge, youngs=E, poisson=NU)


@given(thick, lengths, st.floats(0.3, 0.95), areas, areas, ratios)
def test_flat_it_is_the_plane_web(t: float, h: float, part: float, rib: float, edge: float, R: float) -> None:
    """Ribs are its uprights; an edge shared by two panels, the mean of two flanges."""
    h = max(h, 120 * t)
    bay = flat.Bay(thickness=t, height=h, spacing=part * h, flange=edge / 2, flange_inertia=1.0, upright=rib, youngs=E,
                   poisson=NU)  # fmt: skip
    q = np.array([2e4])
    web, skin = flat.tense(q, q / t / R, bay), curved.tense(q, R, panel(t, h, part * h, rib, edge))
    for a, b in ((web.k, skin.k), (web.angle, skin.angle), (web.upright, skin.rib), (web.flange, skin.edge)):
        assert_allclose(b, a, rtol=1e-6, atol=1e-9)


@given(thick, lengths, lengths, areas, areas, st.floats(0.2, 5.0), st.floats(0.0, 1.0))
def test_while_it_is_flat_nothing_is_pulled(t, h, d, rib, edge, r, R):  # type: ignore[no-untyped-def]
    x = curved.tense(np.array([3e3]), R, panel(t, h, d, rib, edge, r))
    assert x.k[0] == 0 and x.rib[0] == 0 and x.thrust[0] == 0
    assert_allclose(x.mises, np.sqrt(3) * 3e3 / t, rtol=1e-12)
    assert_allclose(x.kept, 1.0, rtol=1e-12)


@given(thick, lengths, lengths, areas, areas, st.floats(0.2, 5.0), ratios)
def test_a_wrinkled_skin_is_softer_and_its_edges_are_pressed(t, h, d, rib, edge, r, R):  # type: ignore[no-untyped-def]
    x = curved.tense(np.array([3e3]), R, panel(t, h, d, rib, edge, r))
    assert 0 < x.kept[0] <= 1 + 1e-12 and x.rib[0] <= 0 and x.edge[0] <= 0
    assert 2 * x.k[0] * 3e3 / t <= x.mises[0] * (1 + 1e-9)  # never less than the tension alone
    stiffer = curved.tense(np.array([3e3]), R, panel(t, h, d, 2 * rib, edge, r))
    assert stiffer.kept[0] >= x.kept[0] - 1e-6


@given(thick, lengths, lengths, areas, areas, st.floats(0.2, 5.0), ratios)
def test_rounder_and_further_past_pulls_more(t, h, d, rib, edge, r, R):  # type: ignore[no-untyped-def]
    k = curved.factor(R, panel(t, h, d, rib, edge, r))
    assert curved.factor(R, panel(t, h, d, rib, edge, r / 2)) >= k
    assert curved.factor(min(1.5 * R, 790.0), panel(t, h, d, rib, edge, r)) >= k or R > 520


def test_outside_its_range_nothing_is_known() -> None:
    p = panel(5e-4, 0.3, 0.3, 1e-5, 1e-5, 1.0)
    assert np.isnan(curved.tense(np.array([1e3]), 801.0, p).mises).all()
    wide = panel(1e-4, 0.3, 0.3, 1e-5, 1e-5, 1.0)
    assert np.isnan(curved.tense(np.array([1e3]), 2.0, wide).mises).all()
    assert np.isfinite(curved.tense(np.array([1e3]), 0.5, wide).mises).all()


def test_edges_by_statics() -> None:
    """One edge of 40 mm2 shared with the panel beyond, one of 200 of its own: 2/(1/40 + 1/400)."""
    assert_allclose(curved.like_edges(40e-6, 200e-6), 2 / (1 / 40e-6 + 1 / 400e-6), rtol=1e-12)
    assert curved.like_edges(0.0, 1.0) == 0.0
    p = panel(5e-4, 0.2, 0.2, 1e-5, 3e-5)
    x = curved.tense(np.array([5e3]), 9.0, p)
    assert_allclose(curved.edge_stress(x, 5e3, p, 3e-5), x.edge, rtol=1e-12)
    assert_allclose(curved.rivet_flow(-100.0, 0.5), 120.7, rtol=1e-12)
