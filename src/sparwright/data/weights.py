"""What groups of parts weigh by statistics of built aeroplanes, from weights.toml.

>>> equations()["controls-cessna"].formula
'0.0168 * W'
>>> sorted({e.group for e in equations().values()})
['controls', 'electrics', 'fuel', 'furnishing', 'fuselage', 'gear', 'power', 'tail', 'wings']
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Literal

from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import tables

When = Literal["", "braced", "cantilever", "high", "low"]


@dataclass(frozen=True, kw_only=True)
class Equation:
    """One statistical equation of a group's weight, in lb, from numbers in the units its book prints."""

    key: str
    group: str
    method: str
    formula: str
    source: Source
    each_wing: bool = False
    when: When = ""
    wings: int = 0  # how many wings it was made for; nought where it does not matter
    wheel: str = ""  # "nose": made for nose wheels
    least: float = number("kg", "greatest mass of the lightest aeroplane its book shows", 0.0)
    speed: float = number("m/s", "fastest it is good for", math.inf)


@lru_cache(maxsize=1)
def equations() -> Mapping[str, Equation]:
    """Every equation by its key, in the order of the file."""
    return MappingProxyType({key: _equation(key, row) for key, row in tables("weights.toml").items()})


def _equation(key: str, row: Mapping[str, Any]) -> Equation:
    return Equation(
        key=key, group=row["group"], method=row["method"], formula=row["formula"],
        source=Source(row["source"], row["place"], row["mark"]), each_wing=row.get("each") == "wing",
        when=row.get("when", ""), wings=row.get("wings", 0), wheel=row.get("wheel", ""),
        least=parse(row["least"], "mass"), speed=parse(row["speed"], "speed") if "speed" in row else math.inf,
    )  # fmt: skip
