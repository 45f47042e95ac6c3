"""Limits in files of their own: one row a limit, with its sense and where it stands written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from sparwright.base.check import Sense
from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import tables


@dataclass(frozen=True, kw_only=True)
class Limit:
    """A limit, or an allowance where it has no sense, with where it stands written."""

    title: str
    value: float = number("SI", "the limit, in `unit`")
    unit: str = "m"
    sense: Sense = ">="
    source: Source


@lru_cache(maxsize=8)
def limits(file: str) -> Mapping[str, Limit]:
    """Every row of a file of this folder by its key."""
    return MappingProxyType({key: _limit(row) for key, row in tables(file).items()})


def _limit(row: Mapping[str, Any]) -> Limit:
    value, unit = _si(row["value"])
    source = Source(row["source"], row.get("place", ""), row["mark"])
    unit = row.get("unit", unit)  # of a bare number that is no ratio
    return Limit(title=row["title"], value=value, unit=unit, sense=row.get("sense", ">="), source=source)


def _si(written: str | float) -> tuple[float, str]:
    """A bare number is a ratio; else an angle in degrees, a force or a length."""
    if isinstance(written, float):
        return written, "1"
    if written.endswith("lbf"):
        return parse(written, "force"), "N"
    return (parse(written, "angle"), "rad") if written.endswith("deg") else (parse(written, "length"), "m")
