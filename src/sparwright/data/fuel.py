"""Fuel, its plumbing and the numbers of its rules: rows of fuel.toml, each with its source.

>>> FITTINGS["elbow"].k1, RULES["gravity"].value
(800.0, 1.5)
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any, Literal

from sparwright.base.record import number
from sparwright.base.source import Band, Source
from sparwright.data.files import tables

Said = Literal["yes", "no", "unknown"]


@dataclass(frozen=True, kw_only=True)
class Value:
    """A value with its band; the ends are the value where the row gives none."""

    value: float = number("SI", "likely value")
    low: float = number("SI", "least")
    high: float = number("SI", "greatest")
    source: Source

    @property
    def band(self) -> Band:
        """Value, low and high."""
        return Band(self.value, self.low, self.high)


@dataclass(frozen=True, kw_only=True)
class Fitting:
    """The two constants of a fitting."""

    k1: float = number("1", "K1, which counts when the flow is slow")
    kinf: float = number("1", "Kinf, which counts when it is fast")
    source: Source


@dataclass(frozen=True, kw_only=True)
class FuelKind:
    """A fuel, and which kinds of material hold it."""

    title: str
    holds: Mapping[str, Said]

    def holds_in(self, kind: str) -> Said:
        """Whether a kind of material holds it: yes, no, unknown."""
        return self.holds.get(kind, "unknown")


def _source(row: Mapping[str, Any]) -> Source:
    return Source(row["source"], row["place"], row["mark"])


def value_of(row: Mapping[str, Any]) -> Value:
    """A row as a value with its band."""
    v = float(row["value"])
    return Value(value=v, low=float(row.get("low", v)), high=float(row.get("high", v)), source=_source(row))


def _fuel(row: Mapping[str, str]) -> FuelKind:
    holds: dict[str, Said] = {k: "yes" if v == "yes" else "no" for k, v in row.items() if k != "title"}
    return FuelKind(title=row["title"], holds=MappingProxyType(holds))


_ALL = tables("fuel.toml")
FLUID: Mapping[str, Value] = MappingProxyType({k: value_of(v) for k, v in _ALL["fluid"].items()})
OPENINGS: Mapping[str, Value] = MappingProxyType({k: value_of(v) for k, v in _ALL["openings"].items()})
RULES: Mapping[str, Value] = MappingProxyType({k: value_of(v) for k, v in _ALL["rules"].items()})
FITTINGS: Mapping[str, Fitting] = MappingProxyType(
    {k: Fitting(k1=float(v["k1"]), kinf=float(v["kinf"]), source=_source(v)) for k, v in _ALL["fittings"].items()}
)
FUELS: Mapping[str, FuelKind] = MappingProxyType({k: _fuel(v) for k, v in _ALL["fuels"].items()})
FUELS_SOURCE: Mapping[str, Source] = MappingProxyType({k: _source(v) for k, v in _ALL["fuels_source"].items()})
assert all(math.isfinite(v.value) for v in (*FLUID.values(), *OPENINGS.values(), *RULES.values()))
