"""A beam-column under an even load, with and without bending by shear: the second-order benchmark of the steel code.

Source: AISC 360-10, Commentary on chapter C, benchmark case 1: a pinned column of 28 ft, E 29,000 ksi, I 484 in4, 0.2
kip/ft across, P 0, 150, 300, 450 kip. Published (memory, high): moment 235, 269, 313, 375 kip in and 0.197, 0.224,
0.261, 0.311 in; with shear area 4.692 in2 and G 11,200 ksi 235, 270, 316, 380 and 0.202, 0.230, 0.269, 0.322.
Closed forms, worked again here: M = w EI/P (sec(k L/2) - 1), k^2 = P/(EI (1 - P/(G As))) (Engesser).
Tolerance: of the published figures half of their last digit, but for 0.322, which is 0.3230 by the closed form (the
code itself allows 3 % of moments and 5 % of deflections). Elements: four give all printed digits, two the moments.
"""

from __future__ import annotations

import numpy as np
import pytest
from frames import even, flat, line, point
from numpy.testing import assert_allclose

from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare

LENGTH, E, I, G, W = 336.0, 29000.0, 484.0, 11200.0, 0.2 / 12
LOADS = (0, 150, 300, 450)


def middle(shear_area: float, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Moments and deflections at the middle, all loads at once."""
    f = line(
        LENGTH, count, flat(count + 1, {0: (0, 2), count: (2,)}), youngs=E, shear=G, area=14.1, about_y=I,
        shear_area=shear_area,
    )  # fmt: skip
    loads = np.concatenate([point(f, (count, 0, -p)) for p in LOADS])
    s = solve(prepare(f), loads, spread=np.repeat(even(f, (0, 0, -W)), 4, axis=0))
    return s.force[:, count // 2, 4], -s.moved[:, count // 2, 2]


def closed(p: float, shear_area: float) -> tuple[float, float]:
    first = W * LENGTH**2 / 8
    if not p:
        return first, 5 * W * LENGTH**4 / (384 * E * I) + first / (G * shear_area)
    k = np.sqrt(p / (E * I * (1 - p / (G * shear_area))))
    moment = W * E * I / p * (1 / np.cos(k * LENGTH / 2) - 1)
    return moment, (moment - first) / p


@pytest.mark.parametrize(("shear_area", "order"), [(np.inf, 4), (4.692, 2)])
def test_closed_forms_and_the_order_of_the_error(shear_area: float, order: int) -> None:
    """The error falls with the fourth power of an element's length, with bending by shear with the second."""
    wanted = np.array([closed(p, shear_area) for p in LOADS]).T[:, 1:]
    eight, sixteen = (np.array(middle(shear_area, n))[:, 1:] / wanted - 1 for n in (8, 16))
    assert_allclose(eight, 0, rtol=0, atol=2e-5 if order == 4 else 2e-4)
    assert_allclose(np.log2(eight / sixteen), order, rtol=0, atol=0.2)


def test_published_without_shear() -> None:
    moment, deflection = middle(np.inf, 4)
    assert_allclose(moment, [235, 269, 313, 375], rtol=0, atol=0.51)
    assert_allclose(deflection, [0.197, 0.224, 0.261, 0.311], rtol=0, atol=0.0006)


def test_published_with_shear() -> None:
    moment, deflection = middle(4.692, 4)
    assert_allclose(moment, [235, 270, 316, 380], rtol=0, atol=0.51)
    assert_allclose(deflection, [0.202, 0.230, 0.269, 0.322], rtol=0, atol=0.0011)


def test_two_elements_give_the_printed_moments() -> None:
    assert_allclose(middle(np.inf, 2)[0], [235, 269, 313, 375], rtol=0, atol=0.51)
