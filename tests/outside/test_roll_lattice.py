"""The lattice with odd loads against lifting-surface values of rolling, and strips where they do not need one.

Damping of flat rectangular wings, Clp for p b/2V, by an independent lifting surface (computed): aspect ratio 4 -0.336,
6 -0.440, 8 -0.517; lifting line says -0.426, -0.523, -0.591, strips -1.047. Outer halves twisted one up and one down by
d, aspect ratio 6: helix angle 1.114 d by lifting surface, 1.120 by lifting line, 1.125 by strips, 1.5 (1 - 0.5^2) d.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from air_wings import FLAT, rectangle
from numpy.testing import assert_allclose

from sparwright.air.mesh import mesh
from sparwright.air.rolling import Odd, odd
from sparwright.air.turned import turned
from sparwright.shape.planform import Planform

SMALL = 1e-3  # rad


def rolled(*wings: Planform, spanwise: int = 20, alpha: float = SMALL) -> Odd:
    return odd(mesh(wings, FLAT, FLAT, spanwise=spanwise), alpha)


def damping(o: Odd, aspect: float, wings: int = 1) -> float:
    return o.damping * 2 / aspect / (wings * aspect * aspect)


@pytest.mark.parametrize("aspect, value", [(4, -0.336), (6, -0.440), (8, -0.517)])
def test_damping_of_a_rectangle(aspect: float, value: float) -> None:
    assert_allclose(damping(rolled(rectangle("wing", aspect)), aspect), value, rtol=0, atol=0.001)


def test_helix_angle_of_twisted_outer_halves() -> None:
    """A flap as deep as the wing is a twist."""
    o = rolled(replace(rectangle("wing", 6.0), hinge=1e-6, hinge_from=1.5, hinge_to=3.0))
    assert_allclose(o.aileron / -o.damping * 3, 1.114, rtol=0.004)


def test_wings_far_apart_damp_as_much_each_and_near_ones_less() -> None:
    alone = damping(rolled(rectangle("a", 6.0)), 6.0)
    far = damping(rolled(rectangle("a", 6.0), rectangle("b", 6.0, 0.0, 400.0)), 6.0, 2)
    near = damping(rolled(rectangle("a", 6.0), rectangle("b", 6.0, 0.0, 1.0)), 6.0, 2)
    assert_allclose(far, alone, rtol=1e-4)
    assert 0.7 * alone > near > alone  # both negative


def test_a_half_twisted_alike_is_the_even_flow() -> None:
    """The half's own flow is the same in both: odd and even of one twist differ only by what the mirror does."""
    wing = replace(rectangle("wing", 60.0), hinge=1e-6, hinge_from=25.0, hinge_to=30.0)
    o = rolled(wing, spanwise=40)
    company = turned((wing,), FLAT, FLAT, [SMALL], spanwise=40)
    lifted = company.state(SMALL, {"wing": SMALL})
    plain = company.state(SMALL)
    m = company.mesh
    even = 4 * float((lifted.circulation - plain.circulation) @ (m.bound[1] * m.segment[1])) / SMALL
    assert_allclose(o.aileron, even, rtol=6e-3)  # at an aspect ratio of 60 the other tip hardly feels it


def test_scale_and_station_make_no_difference() -> None:
    base, moved = rolled(rectangle("w", 5.0)), rolled(rectangle("w", 5.0, 3.0, -2.0))
    big = rolled(rectangle("w", 5.0, chord=2.0))
    assert_allclose(moved.damping, base.damping, rtol=1e-9)
    assert_allclose(big.damping, base.damping * 2**4, rtol=1e-9)
    assert np.isfinite(rolled(rectangle("w", 5.0), alpha=0.2).damping)
