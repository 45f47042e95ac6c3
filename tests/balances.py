"""The probe family with weights ahead of hinges: of framed tail surfaces, of a framed aileron. Not the demo's."""

from __future__ import annotations

from functools import cache

from ailerons import HINGED
from families import reading
from tails import TAILED

from sparwright.family.model import Model
from sparwright.parts.balance import balance_parts
from sparwright.parts.part import Part

TAIL = """
[{name}.frame.weight]
material = "lead"
diameter = "1-1/2 in"
length = "{length} in"
ahead = "{ahead} in"
behind = "4 in"
off = "3/8 in"
bolt = "AN3"

[{name}.frame.weight.arm]
material = "4130N"
thickness = "0.090 in"
"""
AILERON = """
[models.P1.wings.wing.aileron.frame.weights.middle]
material = "lead"
diameter = "1-1/4 in"
length = "2 in"
along = "{along} in"
ahead = "5 in"
below = "4-1/2 in"
bolt = "AN3"
arm = {{ material = "4130N", thickness = "0.090 in" }}
"""


def tail_text(ahead: float = 6.0, length: float = 2.0) -> str:
    """With a weight at each tip of the elevator and on the rudder's."""
    return TAILED + "".join(TAIL.format(name=n, ahead=ahead, length=length) for n in ("tailplane", "fin"))


@cache
def tailed(ahead: float = 6.0, length: float = 2.0) -> Model:
    """P1 with weights on its tail; inches."""
    return reading(tail_text(ahead, length)).models["P1"]


@cache
def winged(along: float = 147.0) -> Model:
    """P1 with a weight on its ailerons; buttline of its arm, inches."""
    return reading(HINGED + AILERON.format(along=along)).models["P1"]


def slugs(model: Model) -> list[Part]:
    """Every slug, right and left."""
    return [p for p in balance_parts(model) if "BALANCE-WEIGHT" in p.number]
