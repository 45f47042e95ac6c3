"""Wires, protectors and the numbers of their rules: rows of electrics.toml, each with its source.

>>> WIRES[20].ohms * 304.8, WIRES[20].breaker  # of 1000 ft
(9.88, 7.5)
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Any

from sparwright.base.quantity import to
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import tables
from sparwright.data.fuel import Value, value_of

COPPER = 8890.0  # kg/m3, wires_source.mass
MIL = math.pi / 4 * 25.4e-6**2  # m2, a circular mil: the circle a thousandth of an inch across
INSULATIONS = ("105 C", "150 C", "200 C")


@dataclass(frozen=True, kw_only=True)
class WireKind:
    """A tin-plated copper wire of one gauge."""

    gauge: int = number("1", "American wire gauge")
    ohms: float = number("ohm/m", "greatest resistance at 20 C")
    area: float = number("m2", "copper")
    amps: tuple[float, ...] = number("A", "continuous, in a bundle, for a conductor of 105, 150, 200 C")
    breaker: float = number("A", "greatest breaker that protects it; NaN where the table has none")
    fuse: float = number("A", "greatest fuse that protects it; NaN where the table has none")

    @property
    def copper(self) -> float:
        """Mass of the bare copper, kg/m."""
        return COPPER * self.area


@dataclass(frozen=True, kw_only=True)
class Drop:
    """Volts that a wire may lose."""

    continuous: float = number("V", "of a load that stays on")
    intermittent: float = number("V", "of a load that comes and goes")
    source: Source


def _wire(gauge: str, row: Mapping[str, Any]) -> WireKind:
    thousand = 1000 / to(1.0, "ft")
    return WireKind(
        gauge=int(gauge), ohms=row["ohms"] / thousand, area=row["mils"] * MIL, amps=tuple(map(float, row["amps"])),
        breaker=float(row.get("breaker", math.nan)), fuse=float(row.get("fuse", math.nan)),
    )  # fmt: skip


def _source(row: Mapping[str, Any]) -> Source:
    return Source(row["source"], row["place"], row["mark"])


_ALL = tables("electrics.toml")
WIRES: Mapping[int, WireKind] = MappingProxyType({int(k): _wire(k, v) for k, v in _ALL["wires"].items()})
WIRES_SOURCE: Mapping[str, Source] = MappingProxyType({k: _source(v) for k, v in _ALL["wires_source"].items()})
DROPS: Mapping[int, Drop] = MappingProxyType(
    {int(k): Drop(continuous=v["continuous"], intermittent=v["intermittent"], source=_source(v))
     for k, v in _ALL["drops"].items()}
)  # fmt: skip
RULES: Mapping[str, Value] = MappingProxyType({k: value_of(v) for k, v in _ALL["rules"].items()})
