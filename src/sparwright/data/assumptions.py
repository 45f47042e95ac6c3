"""The register of assumptions: rows of assumptions.toml, each with what is used, its range, its source.

>>> row = assumptions()["fixity.welded"]
>>> row.used, row.low, row.high
(2.0, 1.5, 3.0)
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import tables
from sparwright.data.loader import source_of


@dataclass(frozen=True, kw_only=True)
class Assumption:
    """One thing that the proof of strength takes for granted."""

    key: str
    title: str
    enters: str  # where in the proof
    used: float = number("1", "what the proof is made with; NaN where it is no number")
    low: float = number("1", "low end of the range it may lie in; NaN where nothing is varied")
    high: float = number("1", "high end")
    range: str = ""  # what the range leans on; empty: the designer's judgement, no source
    why: str = ""  # why nothing is varied; empty where something is
    source: Source  # of what is used


@lru_cache(maxsize=1)
def assumptions() -> Mapping[str, Assumption]:
    """All rows by key, in the order of the file."""
    return MappingProxyType(
        {
            key: Assumption(
                key=key, title=r["title"], enters=r["enters"], used=float(r.get("used", math.nan)),
                low=float(r.get("low", math.nan)), high=float(r.get("high", math.nan)), range=r.get("range", ""),
                why=r.get("why", ""), source=source_of(r),
            )
            for key, r in tables("assumptions.toml").items()
        }
    )  # fmt: skip
