"""Rules for an aeroplane on the ground, from ground.toml.

>>> rule("propeller_tail_wheel").value
0.23
>>> rule("braking").unit
'1'
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any

from sparwright.base.check import Sense
from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.base.source import Source


@dataclass(frozen=True, kw_only=True)
class GroundRule:
    """A limit with where it stands written."""

    title: str
    value: float = number("SI", "the limit, in `unit`")
    unit: str = "m"
    sense: Sense = ">="
    source: Source


@lru_cache(maxsize=1)
def rules() -> Mapping[str, GroundRule]:
    """Every row by its key."""
    text = files("sparwright.data").joinpath("ground.toml").read_text(encoding="utf-8")
    return MappingProxyType({key: _rule(row) for key, row in tomllib.loads(text).items()})


def rule(key: str) -> GroundRule:
    """The rule of that key; KeyError for another."""
    return rules()[key]


def _rule(row: Mapping[str, Any]) -> GroundRule:
    value, unit = _si(row["value"])
    source = Source(row["source"], row.get("place", ""), row["mark"])
    return GroundRule(title=row["title"], value=value, unit=unit, sense=row["sense"], source=source)


def _si(written: str | float) -> tuple[float, str]:
    """A bare number is a ratio; else an angle in degrees or a length."""
    if isinstance(written, float):
        return written, "1"
    return (parse(written, "angle"), "rad") if written.endswith("deg") else (parse(written, "length"), "m")
