"""Flat arms: a tapered cantilever and strips in torsion out of books, beams on several hinges against their tables.

J. M. Gere, Mechanics of Materials, problem 5.7-3 (its solution was read): a cantilever 1 in thick whose height goes
from 2 in at its end to 3 in at its root 20 in away, 50 lb and 800 lb-in at the end; the printed stress is
120000 (16 + x)/(40 + x)^2 psi, so the greatest 1250 psi at 8 in, 1200 at the root, 1.042 of it.
T. H. G. Megson, Introduction to Aircraft Structural Analysis, problem 3.5 (read): narrow strips a, a, b long, t thick,
have 3 T/((2 a + b) t^2).
S. Timoshenko, Strength of Materials (recalled, high): a rectangle's greatest shear T/(alpha w t^2), alpha 0.208, 0.246,
0.267, 0.291, 0.312 for w/t 1, 2, 3, 5, 10.
AISC's table of continuous beams (recalled, high): two equal spans q l^2/8, reactions 3/8, 5/4; three: q l^2/10, 0.4,
1.1.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.strength.members import flat_arm, hinged_beam
from sparwright.strength.members.flat_arm import ArmLoads, flat_cut

INCH, LBF, PSI = 0.0254, 4.4482216152605, 6894.757293168


def stress(x: float) -> float:
    """psi at x in from the loaded end of Gere's beam, by the arm's own kernel against 1 psi."""
    high = (2 + x / 20) * INCH
    cut = flat_cut([(-high / 2, high / 2)], 1.0 * INCH)
    moment = (50 * x + 800) * LBF * INCH
    return float(flat_arm.uses(ArmLoads(moment=moment), cut, PSI, PSI)[1])


def test_gere_tapered_cantilever() -> None:
    """Three printed digits; its formula at every place to rounding."""
    xs = np.linspace(0.0, 20.0, 401)
    found = np.array([stress(x) for x in xs])
    assert_allclose(found, 120000 * (16 + xs) / (40 + xs) ** 2, rtol=1e-9)
    assert float(xs[found.argmax()]) == pytest.approx(8.0, abs=0.05)  # the grid
    assert found.max() == pytest.approx(1250, rel=1e-6)
    assert found.max() / found[-1] == pytest.approx(1.042, abs=5e-4)


def test_megson_strips() -> None:
    """Strips beside each other share a torque as one of their whole length: thin, so within 0.63 t/w of it."""
    a, b, t = 0.10, 0.16, 0.001
    cut = flat_cut([(0.0, a), (0.2, 0.2 + a), (0.4, 0.4 + b)], t)
    assert float(flat_arm.twist_stress(1.0, cut)) == pytest.approx(3 / ((2 * a + b) * t**2), rel=0.01)


@pytest.mark.parametrize(("ratio", "alpha"), [(1, 0.208), (2, 0.246), (3, 0.267), (5, 0.291), (10, 0.312)])
def test_torsion_of_a_rectangle(ratio: float, alpha: float) -> None:
    """Within 4.5 %: Shigley's closed form, as he says, and the table's third digit."""
    w, t = 0.003 * ratio, 0.003
    assert float(flat_arm.twist_stress(1.0, flat_cut([(0, w)], t))) == pytest.approx(1 / (alpha * w * t**2), rel=0.045)


def test_beams_on_hinges() -> None:
    """To rounding: the elements are exact for an even load."""
    y = np.linspace(0, 3.0, 31)
    M, _, R = hinged_beam.bent(y, np.full((1, 30), 2.0), np.array([0, 10, 20, 30]), np.zeros((1, 4)), 5.0)
    assert_allclose(M[0, [10, 20]], 2.0 / 10, rtol=1e-8)
    assert_allclose(-R[0], 2.0 * np.array([0.4, 1.1, 1.1, 0.4]), rtol=1e-8)
    two = np.linspace(0, 2.0, 21)
    M, V, R = hinged_beam.bent(two, np.full((1, 20), 1.0), np.array([0, 10, 20]), np.zeros((1, 3)), 7.0)
    assert float(M[0, 10]) == pytest.approx(1 / 8)
    assert_allclose(-R[0], [3 / 8, 5 / 4, 3 / 8], rtol=1e-8)
    assert abs(float(V[0, 0])) == pytest.approx(3 / 8)


def test_a_hinge_that_is_moved() -> None:
    """Two spans l, the middle hinge d up: 3 E I d/l^2 over it, by a force 48 E I d/(2 l)^3 there."""
    y, d, EI, l = np.linspace(0, 1.6, 17), 0.004, 900.0, 0.8
    M, _, R = hinged_beam.bent(y, np.zeros((1, 16)), np.array([0, 8, 16]), np.array([[0.0, d, 0.0]]), EI)
    assert abs(float(M[0, 8])) == pytest.approx(3 * EI * d / l**2)
    assert float(R[0, 1]) == pytest.approx(48 * EI * d / (2 * l) ** 3)
