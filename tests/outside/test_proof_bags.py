"""Bags of a proof-load test against published and hand-worked loads.

Sources:
  - shop rule, W 1000 lb, wings 200 lb, n 3.8: 2,840 lb of bags (common practice; worked here from n x air - (n + 1) x
    structure, computed)
  - graal-wing-test: a page of a builder. A wing of 34 kg, a fuselage of 180 kg on two wings; at one g two bags of 30 kg
    and the wing, "94 kg"; at four g eleven bags and the wing (read)
  - cantilever: V = w L, M = w L^2/2, tip w L^4/(8 E I) (exact, any text)
"""

from __future__ import annotations

import numpy as np
import pytest

from sparwright.maths.frame.record import Frame
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.proof.bags import bag_weight, beyond, whole_bags


def test_the_shop_rule() -> None:
    assert bag_weight(3.8, 1000.0, 200.0) == pytest.approx(2840.0, abs=1e-9), "exact arithmetic"


def test_a_builders_wing_at_one_and_four_g() -> None:
    """Whole bags of 30 kg: the page's own count, which is right to half a bag."""
    wing, half_fuselage, bag = 34.0, 90.0, 30.0
    for n, bags in ((1.0, 2), (4.0, 11)):
        wanted = bag_weight(n, half_fuselage + wing, wing)
        assert wanted == pytest.approx(n * half_fuselage - wing), "the fuselage n times, less the wing"
        assert abs(wanted - bags * bag) <= bag / 2 + 1e-9, n


def cantilever(count: int) -> Frame:
    """Along x, 4 m, clamped at nought; E I = 1000 N m2."""
    place = np.array([[x, 0.0, 0.0] for x in np.linspace(0, 4, count + 1)])
    ends, ones = np.array([[i, i + 1] for i in range(count)]), np.ones(count)
    held = np.zeros((count + 1, 6), bool)
    held[0] = True
    return Frame(
        place,
        ends,
        np.tile([0.0, 0, 1], (count, 1)),
        ones,
        1e-8 * ones,
        1e-8 * ones,
        1e-8 * ones,
        1e11 * ones,
        4e10 * ones,
        np.full((count, 2), np.inf),
        np.zeros((count, 2, 3)),
        np.zeros((count, 12), bool),
        np.zeros(count, bool),
        np.zeros(count),
        held,
    )


def test_a_cantilever_with_bags_bends_as_the_even_load_does() -> None:
    """100 N/m on 4 m in 16 bays of two bags each: V 400 N, M 800 N m, tip 3.2 m/1000 x 1000 by hand."""
    w, long, bays = 100.0, 4.0, 16
    width = np.full(bays, long / bays)
    wanted = np.stack([w * width / 2, w * width / 2], axis=1)
    count = whole_bags(wanted, w * long / bays / 2)
    assert (count == 1).all()
    shear, moment = beyond(count.sum(1) * w * long / bays / 2, width)
    assert shear[0] == pytest.approx(400.0) and moment[0] == pytest.approx(800.0)
    loads = np.zeros((1, 2 * bays + 1, 6))
    loads[0, 1::2, 2] = count.sum(1) * w * long / bays / 2  # in the middle of each bay
    tip = solve(prepare(cantilever(2 * bays)), loads, second_order=False).moved[0, -1, 2]
    by_hand = w * long**4 / (8 * 1000.0)
    assert tip == pytest.approx(by_hand, rel=2e-3), "sixteen lumps for an even load: a part of 1/(2 x 16^2) is missed"
