"""Levels of flying qualities, from flying.toml, and what the civil rule asks of them, from slip.toml.

>>> [r.levels for r in rows("roll", "B")]
[(1.4, 3.0, 10.0)]
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from sparwright.base.source import Source
from sparwright.data.files import tables
from sparwright.data.limit import limits

SLIP = limits("slip.toml")


@dataclass(frozen=True, kw_only=True)
class Level:
    """What one number of a mode must be for levels 1, 2 and 3; NaN where none is set."""

    mode: str
    of: str
    category: str
    sense: Literal["<=", ">="]
    unit: str
    levels: tuple[float, float, float]
    source: Source

    def met(self, value: float) -> int:
        """The best level whose limit a number meets, 4 for none; a level without a limit is met."""
        for i, limit in enumerate(self.levels):
            if math.isnan(limit) or (value <= limit if self.sense == "<=" else value >= limit):
                return i + 1
        return 4


def rows(mode: str, category: str) -> tuple[Level, ...]:
    """All that is asked of a mode in a category, B or C."""
    return tuple(r for r in _rows() if r.mode == mode and category in r.category)


@lru_cache(maxsize=1)
def _rows() -> tuple[Level, ...]:
    return tuple(
        Level(mode=r["mode"], of=r["of"], category=r["category"], sense=r["sense"], unit=r["unit"],
              levels=_three(r["levels"]),
              source=Source("mccormick-1995", r["place"], r["mark"]))
        for r in tables("flying.toml")["rows"]
    )  # fmt: skip


def _three(written: list[float | str]) -> tuple[float, float, float]:
    one, two, three = (math.nan if isinstance(v, str) else v for v in written)
    return one, two, three
