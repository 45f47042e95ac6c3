"""A tail spring over its rest, against a published formula and against a beam worked out by itself.

Source: mechengcalculations.com, "Simply supported bar with a single overhang and a force at its free end":
D = F a^2 (L + a)/(3 E I) at the tip. The second check integrates the bending moment twice, without that formula.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.data.loader import material
from sparwright.family.fitted import Leaf
from sparwright.family.stock import Sheet
from sparwright.ground.springs import leaf_stiffness, leaf_stress

LEAF = Leaf(
    material="4130N", width=0.05, thickness=0.005, start=(1.0, 0.0, 0.0), rest=(1.3, 0.0, 0.0), end=(1.42, 0.0, 0.0),
    held=("A", "B"), fork=Sheet(material="4130N", thickness=0.003), beside=0.003,
)  # fmt: skip
YOUNGS = material("4130N").youngs
INERTIA = 0.05 * 0.005**3 / 12


def test_by_the_published_formula() -> None:
    over, between = 0.12, 0.3
    assert_allclose(1 / leaf_stiffness(LEAF), over**2 * (between + over) / (3 * YOUNGS * INERTIA), rtol=1e-9)


def test_by_integrating_the_bending_moment() -> None:
    """Moment from nought at the front to F a over the rest, and back to nought at the end; pinned at both supports."""
    over, between, n = 0.12, 0.3, 20001
    x = np.linspace(0, between + over, n)
    moment = np.where(x < between, x / between * over, between + over - x)
    curve = moment / (YOUNGS * INERTIA)
    slope = np.concatenate([[0], np.cumsum((curve[1:] + curve[:-1]) / 2 * np.diff(x))])
    drop = np.concatenate([[0], np.cumsum((slope[1:] + slope[:-1]) / 2 * np.diff(x))])
    tilt = np.interp(between, x, drop) / between  # the support at the rest stays where it is
    assert_allclose(drop[-1] - tilt * x[-1], 1 / leaf_stiffness(LEAF), rtol=1e-5)


@pytest.mark.parametrize("leaves", [1, 2, 3])
def test_leaves_share_the_load(leaves: int) -> None:
    """Loose on one another: stiffness goes with their number, stress against it; M/Z = F a 6/(b t^2)."""
    many = replace(LEAF, leaves=leaves)
    assert_allclose(leaf_stiffness(many), leaves * leaf_stiffness(LEAF), rtol=1e-12)
    assert_allclose(leaf_stress(many, 500.0), 500 * 0.12 / (0.05 * 0.005**2 / 6) / leaves, rtol=1e-12)
