"""A tail wheel aeroplane weighed: FAA-H-8083-1 (faa-h-8083-1), example of the datum ahead of the main wheels.

Recalled, not seen: level, main wheels 7.5 in behind the datum, tail wheel 222 in behind them, 67 lb on it of 1,218 lb;
the centre of gravity lies at 7.5 + 222 x 67/1218 = 19.7 in. Here the other way round: from 19.7 in to 67 lb. The
printed place has three digits: 0.05 in of 222 in and 1,218 lb are 0.28 lb.
"""

from __future__ import annotations

from numpy.testing import assert_allclose

from sparwright.base.quantity import parse
from sparwright.family.model import Wheel
from sparwright.ground.balance import lever
from sparwright.ground.pose import Feet, level


def inch(value: float) -> float:
    return parse(f"{value} in", "length")


def test_tail_load_of_the_handbook() -> None:
    main = Wheel(name="main", diameter=inch(16), width=inch(6), mass=4, place=(inch(7.5), inch(36), inch(-40)))
    left = Wheel(name="main", diameter=inch(16), width=inch(6), mass=4, place=(inch(7.5), inch(-36), inch(-40)))
    tail = Wheel(name="tail", diameter=inch(8), width=inch(3), mass=2, place=(inch(229.5), 0.0, inch(-44)))
    feet = Feet(main, left, tail)
    found = lever(level(feet), feet, inch(19.7), inch(0), 0.0)
    assert_allclose(1218 * found.tail_share, 67, rtol=0, atol=0.28)
