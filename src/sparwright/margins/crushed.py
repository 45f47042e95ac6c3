"""A strut with a bolt tightened through it and nothing inside: how near its wall is to yielding. Source: crush.py."""

from __future__ import annotations

import math

import numpy as np

from sparwright.base.check import Check, Result
from sparwright.data.hardware import bolts
from sparwright.data.loader import fasteners
from sparwright.family.model import Model, RoundTube
from sparwright.margins.sources import strengths
from sparwright.strength.members import crush
from sparwright.structure.answered import Answered

BOLT = "AN3"  # the smallest that is put through a strut
WASHER = 2.0  # its washer's outside over the bolt's diameter (common practice, no source)


def crushed(model: Model, answer: Answered, c: Check, bars: np.ndarray) -> Result:
    """Margin of a strut's wall against yield under an AN3 drawn up as far as its table goes; NaN for a thick wall."""
    made = answer.skeleton.bars[int(bars[0])].made
    assert isinstance(made, RoundTube)
    d, yields = fasteners()[BOLT].diameter, strengths(model).material(made.material, "yield_tension", made.wall)
    torque = bolts()[BOLT].torque[1]
    steps = crush.working(torque, d, made.outside, made.wall, WASHER * d, yields.value)
    use = float(crush.use(crush.clamping(torque, d), made.outside, made.wall, WASHER * d, yields.value))
    thick = "the wall is too thick for the formula of a thin ring: unknown" if math.isnan(use) else ""
    why = "nothing inside the tube; what it leaves of the strut's strength is not worked out"
    return Result(f"as_built.{c.id.split('.', 2)[2]}.clamped",
                  f"{c.title}, {BOLT} drawn tight through it without a spacer: margin of its wall against yield",
                  1 - use, "1", source="roark (memory), high", caveat="; ".join(x for x in (why, thick) if x),
                  steps=steps, parents=(c.id,))  # fmt: skip
