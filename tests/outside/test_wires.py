"""Wires against printed values.

ac-43-13-1b table 11-7: four wires checked, 20 A, 107, 90, 88 and 100 ft of no. 6, 4, 12, 14: 0.942, 0.504, 3.60 and
6.12 V. Table 11-8: no. 10 at 20 A, 39, 156 and 273 ft: 0.98, 3.93 and 6.88 V (its second row misprints 0.366).
stranded-wire-chart: 1216, 1900 and 2828 circular mils of copper weigh 3.68, 5.75 and 8.56 lb a thousand feet.
"""

from __future__ import annotations

import math

import pytest
from numpy.testing import assert_allclose

from sparwright.base.quantity import to
from sparwright.data.electrics import COPPER, DROPS, MIL, WIRES
from sparwright.family.electrics import Circuit
from sparwright.systems.electrics import drop, may_drop, nominal

FOOT = 0.3048


def wire(gauge: int, feet: float, amperes: float) -> Circuit:
    return Circuit(
        name="wire", purpose="", current=amperes, demand="continuous", phases=("cruise",), protector="fuse",
        rating=30.0, gauge=gauge, insulation="150 C", run={"a": (0.0, 0.0, 0.0), "b": (feet * FOOT, 0.0, 0.0)}, held=(),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("gauge", "feet", "volts", "digit"),
    [(6, 107, 0.942, 0.0006), (4, 90, 0.504, 0.0005), (12, 88, 3.60, 0.05), (14, 100, 6.12, 0.005),
     (10, 39, 0.98, 0.005), (10, 156, 3.93, 0.005), (10, 273, 6.88, 0.005)],
)  # fmt: skip
def test_voltage_lost(gauge: int, feet: float, volts: float, digit: float) -> None:
    """To the digit printed; the third row prints 3.60 for 0.00202 x 88 x 20 = 3.555."""
    assert_allclose(drop(wire(gauge, feet, 20.0), 14.0), volts, rtol=0, atol=digit)


def test_what_may_be_lost_is_what_the_examples_allow() -> None:
    """Table 11-8 allows 1 V on the 28 V system and half of that on 14 V: no. 10, 20 A, 39 and 19.5 ft just do."""
    for volts, feet in ((28.0, 39.0), (14.0, 19.5)):
        just = drop(wire(10, feet, 20.0), volts)
        assert 0.97 <= just / may_drop(wire(10, feet, 20.0), volts) <= 1.0
    assert {n: d.continuous for n, d in DROPS.items()} == {14: 0.5, 28: 1.0}
    assert nominal(48.0) == 0 and math.isnan(may_drop(wire(10, 1.0, 1.0), 48.0))


@pytest.mark.parametrize(("mils", "pounds"), [(1216, 3.68), (1900, 5.75), (2828, 8.56), (1000, 3.02)])
def test_copper_weighs_what_the_chart_prints(mils: float, pounds: float) -> None:
    assert_allclose(to(COPPER * mils * MIL, "lb/ft") * 1000, pounds, rtol=0, atol=0.012)  # three digits


def test_resistance_is_that_of_copper() -> None:
    """Each row of table 11-9 times its area is a resistivity: copper 1.72e-8 ohm m, more when plated, stranded."""
    for w in WIRES.values():
        assert 1.65e-8 <= w.ohms * w.area <= 2.3e-8, w.gauge
