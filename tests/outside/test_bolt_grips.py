"""Grips and torques of bolts against printed tables.

Grips: NASM 3 to 20 as a parts handbook prints it (dash number, grip, three decimals, read), and three bolts that
another maker's page works out in words (read). Torque: AC 43.13-1B table 7-1, fine threads (read). Printed to 0.001 in,
so half of that and a rounding is allowed; torque is printed in whole inch-pounds.
"""

from __future__ import annotations

import pytest

from sparwright.data.hardware import INCH_POUND, bolts

INCH = 0.0254
PRINTED = {
    "AN3": {"4": 0.125, "5": 0.250, "6": 0.375, "7": 0.500, "10": 0.625, "11": 0.750, "12": 0.875, "13": 1.000,
            "14": 1.125},
    "AN4": {"4": 0.063, "5": 0.188, "6": 0.313, "7": 0.438, "10": 0.563, "11": 0.688, "12": 0.813, "13": 0.938,
            "14": 1.063, "15": 1.1875},
    "AN5": {"4": 0.063, "5": 0.188, "6": 0.313, "7": 0.438, "10": 0.563, "11": 0.688, "12": 0.813, "13": 0.938,
            "14": 1.063, "27": 2.4375},
    "AN6": {"5": 0.063, "6": 0.188, "7": 0.313, "10": 0.438, "11": 0.563, "12": 0.688, "13": 0.813, "14": 0.938,
            "20": 1.4375},
}  # fmt: skip
TORQUE = {"AN3": (20, 25, 12, 15), "AN4": (50, 70, 30, 40), "AN5": (100, 140, 60, 85), "AN6": (160, 190, 95, 110)}


@pytest.mark.parametrize(("size", "dash", "grip"), [(s, d, g) for s, rows in PRINTED.items() for d, g in rows.items()])
def test_the_shortest_bolt_for_a_printed_grip_is_that_bolt(size: str, dash: str, grip: float) -> None:
    found, there = bolts()[size].stocked((grip - 0.0006) * INCH)
    assert found == dash
    assert there == pytest.approx(grip * INCH, rel=0, abs=0.0006 * INCH)


@pytest.mark.parametrize("size", TORQUE)
def test_torque_as_printed(size: str) -> None:
    bolt = bolts()[size]
    found = [t / INCH_POUND for t in (*bolt.torque, *bolt.shear_torque)]
    assert found == pytest.approx(TORQUE[size], rel=1e-9)


def test_an_inch_pound() -> None:
    assert INCH_POUND == pytest.approx(0.112985, rel=1e-5)  # NIST SP 811 B.8
