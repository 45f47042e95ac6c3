"""The probe's first wing with built-up ribs, for tests of those alone."""

from __future__ import annotations

from functools import cache

from ailerons import HINGED
from families import PROBE, reading

from sparwright.family.model import Model

TRUSS = """
[models.P1.wings.wing.ribs.truss]
stick = { material = "spruce", width = "5/16 in", depth = "1/4 in" }
gusset = { material = "birch-ply", thickness = "1 mm" }
reach = "7/8 in"
"""


def with_truss(text: str = PROBE) -> str:
    """A text of the probe with the table."""
    at = text.index("\n[models.P1.wings.wing.aileron]")
    return text[:at] + TRUSS + text[at:]


@cache
def built(ailerons: bool = False) -> Model:
    """P1 with it; with an aileron that has a frame."""
    return reading(with_truss(HINGED if ailerons else PROBE)).models["P1"]
