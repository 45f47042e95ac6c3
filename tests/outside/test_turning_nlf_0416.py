"""Where the flow turns turbulent on the NLF(1)-0416 at Re 1 million, against orifices that heard it.

Source: nasa-tp-1861 (ordinates and brackets beside, 5 % of the chord wide). Two of 24
brackets are missed, by 0.16 and 0.27 chord; panels crowded at the nose once missed six, all turned at the nose.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from section_flow import rows

from sparwright.air.flow.polar import SMOOTH, polar, prepared
from sparwright.family.model import Section

pytestmark = pytest.mark.long


def test_most_brackets_are_met() -> None:
    """Six of seven within 0.05 of the bracket, half within 0.005 of it or inside (measured 0.004)."""
    points = tuple((float(r["x_c"]), float(r["y_c"])) for r in rows("nasa-tp-1861-section.csv"))
    angles = tuple(math.radians(a) for a in range(-4, 12))
    found = polar(prepared(Section(name="NLF(1)-0416", points=points)), 1e6, SMOOTH, angles)
    settled = [p for p in found.points if p.settled]
    lift = np.array([p.lift for p in settled])
    assert np.all(np.diff(lift) > 0)
    missed = []
    for r in rows("nasa-tp-1861-transition.csv"):
        if float(r["re_million"]) != 1 or not lift[0] < float(r["cl"]) < lift[-1]:
            continue
        turns = [p.turns[0 if r["surface"] == "upper" else 1] for p in settled]
        x = float(np.interp(float(r["cl"]), lift, turns))
        missed.append(max(float(r["x_last_laminar"]) - x, x - float(r["x_first_turbulent"]), 0.0))
    assert len(missed) >= 20
    assert np.mean(np.array(missed) <= 0.05) >= 6 / 7, missed
    assert np.median(missed) <= 0.005, missed
