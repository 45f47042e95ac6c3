"""Thin sections that stall at the nose, at 9 million: datcom-1978 (memory), greatest lift printed to 0.01.

The rule is valarezo-chin-1994, its curve from memory; it was written down before it was held against these, and nothing
was set by them. Aim 8 %. 0006 meets it with some luck (two answers of its flow: 10 asked), its band is unknown.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from section_flow import rows
from shelf import shelf

from sparwright.air.behaviour import GRID, Behaviour, behaviour, column, needed
from sparwright.air.nose_stall import ends
from sparwright.family.model import Section

pytestmark = pytest.mark.long
RE = np.array(9e6)
THEIRS = {r["NACA"]: float(r["cl_max"]) for r in rows("datcom-1978.csv")}


@cache
def section(naca: str) -> Behaviour:
    s = Section(name=naca, naca=naca, surface="smooth")
    return behaviour(s, shelf(needed([(s, float(RE), float(RE))])))


@pytest.mark.parametrize(("naca", "off"), [("0009", 0.08), ("1408", 0.08), ("1410", 0.08), ("0006", 0.10)])
def test_greatest_lift_of_thin_sections(naca: str, off: float) -> None:
    assert abs(float(section(naca).lift_limit(RE).value) / THEIRS[naca] - 1) < off


@pytest.mark.parametrize("naca", ["0009", "1408", "1410"])
def test_their_band_holds_it(naca: str) -> None:
    ours = section(naca).lift_limit(RE)
    assert float(ours.low) < THEIRS[naca] < float(ours.high)


@pytest.mark.parametrize("naca", ["1412", "2412", "2415", "4412", "23012", "23018"])
def test_thicker_sections_do_not_reach_what_their_nose_holds(naca: str) -> None:
    """They are left to the section flow; the rule, were it asked, would take no more than 2 % off their lift."""
    b = section(naca)
    assert np.isnan(b.nose).all()
    s = Section(name=naca, naca=naca, surface="smooth")
    (table,) = (t for a, t in shelf(needed([(s, float(RE), float(RE))])).items() if a.surface == "smooth")
    lift = column(table, "lift")
    end = ends(GRID, lift, column(table, "peak"), float(RE))[1]
    assert math.isnan(end) or np.interp(end, GRID, lift) > 0.98 * float(b.lift_limit(RE).value)
