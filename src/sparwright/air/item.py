"""One item of drag, and the rows of coefficients the items stand on.

An item is a coefficient times an area: D/q in square metres. The rows are in data/drag_items.toml: likely, low and
high coefficient, the area it stands on in words, source, place, mark and reach.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band, Source
from sparwright.data.files import tables


@dataclass(frozen=True)
class DragItem:
    """One item of drag; area = coefficient x stands_on where both are known."""

    name: str
    area: Band  # m2, D/q; NaN where its table does not reach
    source: Source
    note: str = ""
    coefficient: Band = UNKNOWN  # on `stands_on`
    stands_on: float = number("m2", "area the coefficient stands on", math.nan)
    on: str = ""  # that area in words
    group: str = ""  # bracing, gear, body, tail, interference, small
    reach: str = ""  # where the coefficient holds
    of: tuple[str, ...] = ()  # names of the items it is a fraction of


@lru_cache(maxsize=1)
def rows() -> dict[str, dict[str, Any]]:
    """Every row of data/drag_items.toml by its key."""
    return tables("drag_items.toml")


def coefficient(key: str) -> Band:
    """The coefficient of a row with its band."""
    row = rows()[key]
    return Band(row["value"], row["low"], row["high"])


def source(key: str) -> Source:
    """Where a row's likely value comes from."""
    row = rows()[key]
    return Source(row["source"], row["place"], row["mark"])


def times(band: Band, area: float) -> Band:
    """A band times a number that is not below nought."""
    return Band(band.value * area, band.low * area, band.high * area)


def item(name: str, key: str, area: float, group: str, note: str = "", band: Band | None = None) -> DragItem:
    """An item of the row `key` on an area (m2); `band` takes the place of the row's own coefficient."""
    row, c = rows()[key], band or coefficient(key)
    return DragItem(name, times(c, area), source(key), note, c, area, row["on"], group, row["reach"])


def share(name: str, key: str, of: Sequence[DragItem], group: str) -> DragItem:
    """An item that is a fraction of others: low of their low ends, high of their high ends.

    Its coefficient is told on the sum of their likely drag areas, so its band holds the others' bands too.
    """
    part, row = coefficient(key), rows()[key]
    likely = sum(i.area.value for i in of)
    band = Band(*(sum(getattr(i.area, e) for i in of) * getattr(part, e) for e in ("value", "low", "high")))
    told = times(band, 1 / likely) if likely > 0 else UNKNOWN
    note = f"{part.value:g} ({part.low:g} to {part.high:g}) of {len(of)} items"
    names = tuple(i.name for i in of)
    return DragItem(name, band, source(key), note, told, likely, row["on"], group, row["reach"], names)
