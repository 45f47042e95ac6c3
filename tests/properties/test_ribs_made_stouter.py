"""A thicker rib never uses more (one of wider flange may: it cripples sooner); the nose hands all of a torque over."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.base.source import Source
from sparwright.family.model import Ribs, Sheet, StouterRib, stouter_made
from sparwright.margins.rib_torque import handed_over
from sparwright.margins.ribs import Cut, use_of
from sparwright.strength.allowable import Allowable

METAL = {"tension": 290e6, "yield_compression": 240e6, "shear": 186e6, "youngs": 68e9}
BENT = Ribs(pitch=0.3, sheet=Sheet(material="6061-T6", thickness=0.0008), flange=0.016, bend_radius=0.0024,
            web_left=0.03)  # fmt: skip


def known(key: str, name: str, thickness: float, grain: float) -> Allowable:
    return Allowable(name=name, material=key, value=METAL[name], source=Source("common practice", "", "invented"))


def used(ribs: Ribs, depth: float, left: float, hole: float) -> float:
    """Use under 300 N and 100 N m."""
    cut = Cut(np.array([0.5]), np.array([depth]), np.array([left]), np.array([hole]))
    return float(use_of(ribs, cut, np.array([300.0]), np.array([100.0]), known)[0])


@settings(max_examples=60, deadline=None)
@given(st.floats(0.08, 0.2), st.floats(0.0, 0.1), st.floats(1.0, 2.5))
def test_a_stouter_rib_uses_no_more(depth: float, hole: float, thicker: float) -> None:
    s = StouterRib(name="s", at=(1.0,), sheet=replace(BENT.sheet, thickness=0.0008 * thicker))
    left = 0.03 if hole > 0 else depth / 2
    assert used(stouter_made(BENT, s), depth, left, hole) <= used(BENT, depth, left, hole) * (1 + 1e-9)


@settings(max_examples=60, deadline=None)
@given(st.floats(0.05, 0.5), st.floats(0.02, 0.2), st.floats(0.1, 2.0))
def test_the_nose_hands_all_of_the_torque_to_the_spar(long: float, deep: float, blunt: float) -> None:
    """M at the spar is the torque; dM/dx = 2 V, as of a flow round a nose; both the same whatever the size's unit."""
    x = (np.arange(4000) + 0.5) * long / 4000
    h = deep * (x / long) ** blunt
    V, M = handed_over(x, h, long)
    assert_allclose(M[-1], 1.0, atol=2e-3)
    assert (np.diff(M) >= 0).all() and (V >= 0).all()
    assert_allclose(np.diff(M), (V[1:] + V[:-1]) * np.diff(x), atol=1e-12 + 1e-3 * float(V.max()) * long / 4000)
    V2, M2 = handed_over(2 * x, 2 * h, 2 * long)
    assert_allclose(M2, M, atol=1e-12)
    assert_allclose(V2, V / 2, rtol=1e-9, atol=1e-12)


def test_nothing_behind_the_spar_and_nothing_without_a_nose() -> None:
    x = np.linspace(0.005, 0.995, 100)
    V, M = handed_over(x, np.full(100, 0.1), 0.3)
    assert (V[x > 0.3] == 0).all() and (M[x > 0.3] == 0).all()
    assert not np.any(handed_over(x, np.full(100, 0.1), 0.0))
