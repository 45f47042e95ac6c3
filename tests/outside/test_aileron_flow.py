"""The table of what ailerons do, data/aileron.toml, against the section flow it was worked out with.

4412, hinge at 0.75, Reynolds number 1.5 million, built surface, 0 and 2 deg: lift gained over a thin flap's, mean of up
and down and of both angles, where they settle.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sparwright.air.flow.polar import polar, prepared
from sparwright.air.polars import surfaces
from sparwright.air.thin import flap_line, lift_and_moment
from sparwright.data.aileron import effect, more_drag
from sparwright.family.model import Section

ANGLES = (0.0, math.radians(2.0))


@pytest.mark.long
@pytest.mark.parametrize("turned", [5.0, 15.0])
def test_effect_and_drag(turned: float) -> None:
    surface, section = surfaces()["built"].surface, Section(name="4412", naca="4412")

    def columns(angle: float) -> np.ndarray:
        found = polar(prepared(section, hinge=0.75, deflection=angle), 1.5e6, surface, ANGLES)
        return np.array([found.column("lift"), found.column("drag")])

    d = math.radians(turned)
    (still, _), (down, rubs), (up, slides) = (columns(a) for a in (0.0, d, -d))
    thin = lift_and_moment(flap_line(0.75))[0] * d
    gained = float(np.nanmean([(down - still) / thin, (still - up) / thin]))
    assert abs(gained - effect(d).value) < 0.02
    assert abs(float(np.nanmean(rubs - slides)) - more_drag(d).value) < 0.002
