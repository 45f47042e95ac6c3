"""Portals: fixed at the feet under a side load, buckling four ways, and one of steel tube in second order.

Sources: Kleinlogel's closed forms for the fixed portal (memory, high): with k = Ib h/(Ic L), base M = H h/2 (3k + 1)/
(6k + 1), corner H h/2 3k/(6k + 1), drift H h^3/(12 E I) (2 + 3k)/(1 + 6k). Buckling of a square portal with one EI,
P h^2/EI, transcendental equations of Timoshenko and Gere, Theory of Elastic Stability (timoshenko-gere; computed):
pinned, swaying 1.82129; fixed, swaying 7.37915; pinned, braced 12.89443; fixed, braced 25.18219.
Tube 1.25 x 0.049 in, h 30, L 24 in, E 29e6 psi, H 50 lb, 2000 lb a column (computed, a frame program of ours written
apart): drift of the pushed corner 0.07882 first, 0.10346 in second order, base 419.7 and 527.7 lb in.
Tolerance: the printed digits. Elements a member for them: 16 for buckling (4 give 0.3 %), 4 for
second order, 1 for first.
"""

from __future__ import annotations

import numpy as np
import pytest
from frames import point, portal
from numpy.testing import assert_allclose

from sparwright.maths.frame.buckling import buckling
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare


def test_fixed_portal() -> None:
    """No stretch in the closed form: the members are very stiff along."""
    f = portal(3, 4, 1, (0, 2, 4), area=1e7)
    s = solve(prepare(f), point(f, (1, 0, 1.0)), False)
    assert_allclose([abs(s.force[0, 0, 4]), abs(s.force[0, 0, 10])], [0.886364, 0.613636], rtol=0, atol=6e-7)
    assert_allclose(s.moved[0, 1, 0], 1.738636, rtol=0, atol=2e-6)


@pytest.mark.parametrize(
    ("foot", "braced", "wanted"),
    [
        ((0, 2), False, 1.82129),
        ((0, 2, 4), False, 7.37915),
        ((0, 2), True, 12.89443),
        ((0, 2, 4), True, 25.18219),
    ],
)
def test_buckling(foot: tuple[int, ...], braced: bool, wanted: float) -> None:
    f = portal(1, 1, 16, foot, area=1e7)
    if braced:
        f.held[16, 0] = True
    p = prepare(f)
    s = solve(p, point(f, (16, 2, -1.0), (32, 2, -1.0)), False)
    factor, shape = buckling(p, s, 0)
    assert_allclose(factor, wanted, rtol=2e-5)
    sways = abs(shape[16, 0]) > 0.5
    assert sways != braced


def test_buckling_load_is_where_second_order_ends() -> None:
    f = portal(1, 1, 8, (0, 2), area=1e7)
    p = prepare(f)
    loads = np.concatenate([point(f, (8, 2, -x), (16, 2, -x)) for x in (1.8, 1.83)])
    s = solve(p, loads)
    assert s.good.tolist() == [True, False] and "buckling" in s.why[1]


@pytest.mark.parametrize(("second", "drift", "base"), [(False, 0.07882, 419.7), (True, 0.10346, 527.7)])
def test_tube(second: bool, drift: float, base: float) -> None:
    d, t = 1.25, 0.049
    area, second_moment = np.pi * (d - t) * t, np.pi / 64 * (d**4 - (d - 2 * t) ** 4)
    f = portal(30, 24, 4, (0, 2, 4), area=area, about_y=second_moment, youngs=29e6)
    s = solve(prepare(f), point(f, (4, 0, 50.0), (4, 2, -2000.0), (8, 2, -2000.0)), second)
    assert_allclose(s.moved[0, 4, 0], drift, rtol=0, atol=6e-6)
    assert_allclose(abs(s.reaction[0, 0, 4]), base, rtol=0, atol=0.06)
    amplified = {False: 1.0, True: 1.3126}[second]
    first = solve(prepare(f), point(f, (4, 0, 50.0), (4, 2, -2000.0), (8, 2, -2000.0)), False)
    assert_allclose(s.moved[0, 4, 0] / first.moved[0, 4, 0], amplified, rtol=0, atol=6e-5)
