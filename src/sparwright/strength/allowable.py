"""What a material can do in one way, with where it comes from and whether it may decide."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.base.source import Source


@dataclass(frozen=True, kw_only=True)
class Allowable:
    """A strength or stiffness as it is used, knock-downs taken."""

    name: str  # "tension", "shear along the grain"
    material: str  # key of data/materials.toml
    value: float = number("SI", "what is used, in `unit`; NaN when unknown")
    unit: str = "Pa"
    source: Source
    basis: str = ""  # "A", "B", "S", "fifth percentile", "mean", "coupons of the designer"
    open: str = ""  # why a check that leans on it is unknown: "recalled, not read"; empty where it may decide
    steps: tuple[Step, ...] = ()  # from the printed value to the used one


UNSAID = Source("common practice", "", "common practice")


def not_known(name: str, material: str, why: str, source: Source = UNSAID) -> Allowable:
    """What a check would lean on and cannot: it stands among its strengths and keeps it from passing.

    >>> not_known("bearing", "the webs", "not worked out yet").open
    'not worked out yet'
    """
    return Allowable(name=name, material=material, value=math.nan, source=source, open=why)
