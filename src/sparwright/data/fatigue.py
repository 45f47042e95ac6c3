"""Stress levels that ask for no more proof against fatigue, and how parts are looked at: rows of fatigue.toml.

>>> levels()["steel"].value, looks()["lug"].hours
(0.5, 100.0)
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType

from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import tables
from sparwright.data.loader import source_of


@dataclass(frozen=True, kw_only=True)
class Level:
    """The stress at limit load that is borne for good."""

    title: str
    value: float = number("1", "part of the strength at rupture")
    source: Source


@dataclass(frozen=True, kw_only=True)
class Look:
    """How a kind of part is looked at, and how often."""

    title: str
    how: str
    hours: float = number("1", "hours flown between looks")
    months: float = number("1", "months between looks, where they are over sooner")
    source: Source

    @property
    def said(self) -> str:
        """In one line."""
        return f"every {self.hours:.0f} h or {self.months:.0f} months: {self.how}"


@lru_cache(maxsize=1)
def levels() -> Mapping[str, Level]:
    """By kind of material."""
    rows = tables("fatigue.toml")["level"].items()
    return MappingProxyType({k: Level(title=r["title"], value=r["value"], source=source_of(r)) for k, r in rows})


@lru_cache(maxsize=1)
def looks() -> Mapping[str, Look]:
    """By kind of part: lug, wire, tube, spar."""
    rows = tables("fatigue.toml")["look"].items()
    return MappingProxyType(
        {
            k: Look(title=r["title"], how=r["how"], hours=float(r["hours"]), months=float(r["months"]),
                    source=source_of(r))
            for k, r in rows
        }
    )  # fmt: skip
