"""Measured small propellers with their full geometry, blades by the house's own section flow.

Source: J. B. Brandt, R. W. Deters, G. K. Ananda, O. D. Dantsker, M. S. Selig, UIUC Propeller Database, vol. 2:
nr640 (replica of the blade 5868-9, Clark Y, set 15 deg at 0.75 R) and the constant-chord blade DA4002 9 x 6.75, both
9 in diameter, 2 blades (published/uiuc-propeller-2*.csv, every row of it). The DA4002 has a section of its own, whose
ordinates were not seen: the Clark Y stands for it.

Aim: from 0.3 to 0.75 of the advance without thrust, thrust and power within 15 %, greatest efficiency within 0.05.
Held at 4900 rpm and more, Reynolds numbers of 50 to 100 thousand at 0.75 R: below, the polars begin (50 thousand).
Ours over theirs there, CT, CP, greatest efficiency:
    nr640   -8 to +1 %, -10 to -6 %, 0.661 and 0.641;  standing +1 to +4 %, -8 to -5 %
    DA4002  -12 to +4 %, -14 to -3 %, 0.703 and 0.689; standing -4 to -3 %, -18 to -16 %
At 3030 rpm the DA4002 ends 17 % low at 0.75 (missed). Near no thrust what is missed is a few hundredths of the
standing thrust, a large part of what is left.

What was there before, the wing of Clark Y measured at 3 million carried down by two recalled laws, gave the nr640 a
greatest efficiency of 0.721 (missed) and standing thrust 13 and 21 % low (docs/decisions/propeller.md).
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest
from blades import computed

from sparwright.data.blades import planform
from sparwright.power.blade import Blade, clark_y
from sparwright.power.propeller import run

AIR = SimpleNamespace(density=1.225, viscosity=1.78938e-5, sound=340.294)
D = 0.2286
PUBLISHED = Path(__file__).parent / "published"
IDLE = {"nr640": 0.674, "da4002": 0.891}  # advance without thrust, straight between readings at 6068 and 5064 rpm
FAST = 4900.0  # rpm


def _table(name: str) -> list[dict[str, str]]:
    text = (PUBLISHED / name).read_text(encoding="utf-8")
    return list(csv.DictReader(line for line in text.splitlines() if not line.startswith("#")))


@cache
def blade(name: str) -> Blade:
    """A 9 in research blade, Clark Y all along."""
    rows = _table("uiuc-propeller-2-da4002.csv")
    if name == "nr640":
        r, c, beta = planform("5868-9")
    else:
        r, c, beta = np.array([[float(x[k]) for k in ("r_over_R", "c_over_R", "beta_deg")] for x in rows]).T
        beta = np.radians(beta)
    return Blade(r * D / 2, c * D / 2, beta, 2, D, (clark_y(),), np.ones((len(r), 1)))


@cache
def readings(name: str) -> np.ndarray:
    """(rows, 6): advance, rpm, CT, CP and ours, at FAST and above."""
    data, found = computed(blade(name), 20.0, 120.0, AIR), []
    for row in _table("uiuc-propeller-2.csv"):
        J, rpm, ct, cp = (float(row[k]) for k in ("advance", "rpm", "thrust", "power"))
        if row["propeller"] == name and rpm >= FAST:
            p = run(blade(name), J * rpm / 60 * D, rpm / 60, AIR, data)
            found.append((J, rpm, ct, cp, p.thrust_coefficient, p.power_coefficient))
    return np.array(found)


@pytest.mark.parametrize("name", ["nr640", "da4002"])
def test_thrust_and_power_between_0_3_and_0_75(name):
    J, _, ct, cp, ours_t, ours_p = readings(name).T
    middle = (J >= 0.3 * IDLE[name]) & (J <= 0.75 * IDLE[name])
    assert middle.sum() >= 10
    assert np.all(np.abs(ours_t / ct - 1)[middle] < 0.15)
    assert np.all(np.abs(ours_p / cp - 1)[middle] < 0.15)


@pytest.mark.parametrize("name", ["nr640", "da4002"])
def test_greatest_efficiency(name):
    J, _, ct, cp, ours_t, ours_p = readings(name).T
    theirs, ours = (np.max(J * np.clip(t, 0, None) / p) for t, p in ((ct, cp), (ours_t, ours_p)) if np.all(p != 0))
    assert abs(ours - theirs) < 0.05


@pytest.mark.parametrize(("name", "power"), [("nr640", 0.10), ("da4002", 0.19)])
def test_standing(name, power):
    """No aim of ours: thrust within 6 %, power low by what is told above."""
    J, _, ct, cp, ours_t, ours_p = readings(name).T
    still = J == 0
    assert still.sum() >= 4
    assert np.all(np.abs(ours_t / ct - 1)[still] < 0.06)
    assert np.all(np.abs(ours_p / cp - 1)[still] < power)


@pytest.mark.parametrize("name", ["nr640", "da4002"])
def test_near_no_thrust_the_miss_is_small_against_standing_thrust(name):
    J, _, ct, cp, ours_t, ours_p = readings(name).T
    end, still = J > 0.75 * IDLE[name], J == 0
    assert np.all(np.abs(ours_t - ct)[end] < 0.1 * ct[still].mean())
    assert np.all(np.abs(ours_p - cp)[end] < 0.16 * cp[still].mean())
