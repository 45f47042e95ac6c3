"""A box spar of wood: two spruce caps 1.25 x 0.75 in, depth 6 in, two 1/16 in webs, M 20,000 lb in, V 600 lb.

Source: the formulas are NACA TR 181 (Newlin and Trayer, 1924) for the form factor (memory, high) and the flexure and
shear formulas of any text; the numbers were worked out by hand from them, printed digits as given there.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.family.model import Bar, Sheet, Spar
from sparwright.strength.beam_box import FACTOR, box, form_factor, shear_flow, use_of_caps

SPAR = Spar(
    name="s",
    at=0.2,
    cap=Bar(material="spruce", width=1.25, depth=0.75),
    web=Sheet(material="birch-ply", thickness=0.0625),
)
M, V, H = 20000.0, 600.0, 6.0


def test_section_values() -> None:
    b = box(SPAR, H)
    assert_allclose(b.inertia, 13.0078, rtol=0, atol=5e-5)
    assert_allclose(b.area, 1.875, rtol=1e-12)


def test_bending_stress() -> None:
    """4612.6 psi: the use of a strength of 1 psi without thrust is 1.5 times that stress."""
    b = box(SPAR, H)
    use = use_of_caps(np.array([M]), np.array([0.0]), b, 1.0, 1.0)
    assert_allclose(use / FACTOR, 4612.6, rtol=0, atol=0.05)


def test_thrust_adds() -> None:
    b = box(SPAR, H)
    use = use_of_caps(np.array([M, M]), np.array([1875.0, -1875.0]), b, 1.0, 1.0)
    assert_allclose(use / FACTOR, [4612.6 + 1000, 4612.6], rtol=0, atol=0.05)


def test_shear_flow_web_and_glue() -> None:
    """q 113.51 lb/in here is VQ/I of the caps; over two 1/16 in webs 908.1 psi, over two 0.75 in faces 75.68 psi."""
    q = float(shear_flow(np.array(V), box(SPAR, H)))
    assert_allclose(q, 113.51, rtol=0, atol=0.005)
    assert_allclose(q / (2 * 0.0625), 908.1, rtol=0, atol=0.05)
    assert_allclose(q / (2 * 0.75), 75.68, rtol=0, atol=0.005)


def test_form_factor() -> None:
    """F_U 0.5813; a solid rectangle (webs as wide as the spar) gives 1."""
    assert_allclose(form_factor(SPAR, H), 0.5813, rtol=0, atol=5e-5)


@pytest.mark.parametrize("depth", [1.4, 0.5])
def test_form_factor_is_unknown_out_of_range(depth: float) -> None:
    assert np.isnan(form_factor(SPAR, depth))


def test_form_factor_of_a_solid_beam() -> None:
    """p = 0.5 is two caps that meet: K = 0.6875 by the formula, rising to 1 as webs take the whole width."""
    solid = Spar(
        name="s", at=0.2, cap=Bar(material="spruce", width=1e-9, depth=0.75), web=Sheet(material="x", thickness=1.0)
    )
    assert_allclose(form_factor(solid, H), 1.0, rtol=0, atol=1e-8)
