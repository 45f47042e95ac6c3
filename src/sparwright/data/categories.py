"""Licence categories from categories.toml: what it may be registered as, who may fly it, what it is designed to.

Three kinds that are never mixed. Each limit stays in the unit its paragraph is written in; here it is also in SI.

>>> stall = categories()["ca-basic-ultra-light"].limit("stall_landing")
>>> stall.text(1), stall.speed, round(stall.value(1), 3)
('39 kt', 'IAS', 20.063)
>>> categories()["ca-basic-ultra-light"].limit("useful_load").text(2)
'350 lb'
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Literal

from sparwright.base.check import Sense
from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import tables
from sparwright.data.loader import source_of

Kind = Literal["registration", "privilege", "code"]
Speed = Literal["", "IAS", "CAS", "unnamed"]

KINDS: Mapping[str, str] = MappingProxyType(
    {"registration": "Registered as", "privilege": "Flown by", "code": "Designed to"}
)
COUNTRIES: Mapping[str, str] = MappingProxyType(
    {"ca": "Canada", "us": "United States", "uk": "United Kingdom", "eu": "European Union", "de": "Germany",
     "fr": "France"}
)  # fmt: skip
ASK = "Read the paragraph as it stands today where you register and fly, and ask the authority."

DIMENSION_OF: Mapping[str, str] = MappingProxyType(
    {
        "max_mass": "mass",
        "empty_mass": "mass",
        "useful_load": "mass",
        "stall_landing": "speed",
        "stall_clean": "speed",
        "level_speed": "speed",
        "fuel_volume": "volume",
        "wing_loading": "areal",
        "power": "power",
        "seats": "",
        "passenger_seats": "",
    }
)


@dataclass(frozen=True, kw_only=True)
class Limit:
    """One limit of a licence category, in SI and as the paragraph writes it."""

    key: str  # its name within the category
    quantity: str  # a key of DIMENSION_OF
    sense: Sense
    values: tuple[float, ...] = number(
        "SI", "limit for one seat, two seats, ...; one alone holds for any; NaN for none"
    )
    texts: tuple[str, ...]  # the same as the paragraph writes them: "39 kt"
    unit: str  # the paragraph's unit: "kt", empty for a count
    speed: Speed = ""
    per_power: float = number("kg/W", "added to the limit for each watt of rated power", 0.0)
    per_power_text: str = ""
    paragraph: str
    source: Source

    def value(self, seats: int) -> float:
        """The limit in SI for that many seats; NaN where the paragraph has none."""
        i = self._at(seats)
        return math.nan if i is None else self.values[i]

    def text(self, seats: int) -> str:
        """The limit as written for that many seats; empty where the paragraph has none."""
        i = self._at(seats)
        return "" if i is None else self.texts[i]

    def _at(self, seats: int) -> int | None:
        if len(self.texts) == 1:
            return 0
        return seats - 1 if 0 < seats <= len(self.texts) else None


@dataclass(frozen=True, kw_only=True)
class Condition:
    """What a paragraph asks for that is no number."""

    key: str  # its name within the category
    says: str
    answer: str = ""  # what of the family file answers it; empty: the designer confirms it
    paragraph: str
    source: Source


@dataclass(frozen=True, kw_only=True)
class Category:
    """A licence category with its limits and conditions."""

    key: str
    country: str  # a key of COUNTRIES
    kind: Kind
    title: str
    applies: str  # to what kind of aeroplane its limits are on file
    since: str = ""  # in force from: year, month, day as far as known
    until: str = ""  # no longer in force from then on
    dates: str = ""  # where the dates are from
    note: str = ""
    missing: tuple[str, ...] = ()  # what is asked for besides that is not on file
    limits: tuple[Limit, ...]
    conditions: tuple[Condition, ...] = ()

    @property
    def in_force(self) -> str:
        """When it is in force, in words; empty where nothing is known."""
        if self.until:
            return f"no longer in force since {self.until}"
        return f"in force from {self.since}" if self.since else ""

    def limit(self, key: str) -> Limit:
        """The limit of that name; KeyError when there is none."""
        return {x.key: x for x in self.limits}[key]

    @property
    def rows(self) -> Mapping[str, Limit | Condition]:
        """Limits and conditions by their names."""
        every: tuple[Limit | Condition, ...] = (*self.limits, *self.conditions)
        return {x.key: x for x in every}


@lru_cache(maxsize=1)
def categories() -> Mapping[str, Category]:
    """Licence categories by key."""
    return MappingProxyType({k: _category(k, v) for k, v in tables("categories.toml").items()})


def _category(key: str, table: Mapping[str, Any]) -> Category:
    plain = ("country", "kind", "title", "applies", "since", "until", "dates", "note")
    return Category(
        key=key,
        **{k: table[k] for k in plain if k in table},
        missing=tuple(table.get("missing", ())),
        limits=tuple(map(_limit, table["limits"])),
        conditions=tuple(map(_condition, table["conditions"])),
    )


def _limit(row: Mapping[str, Any]) -> Limit:
    dimension = DIMENSION_OF[row["quantity"]]
    written = row["limit"] if isinstance(row["limit"], list) else [row["limit"]]
    units = {str(x).split()[-1] for x in written if x != ""} if dimension else {""}
    (unit,) = units  # one paragraph, one unit
    per_power = row.get("per_power", "")
    return Limit(
        key=row.get("key", row["quantity"]),
        quantity=row["quantity"],
        sense=row["sense"],
        values=tuple(_si(x, dimension) for x in written),
        texts=tuple(map(str, written)),
        unit=unit,
        speed=row.get("speed", ""),
        per_power=parse(per_power, "mass per power") if per_power else 0.0,
        per_power_text=per_power,
        paragraph=row["paragraph"],
        source=source_of(row),
    )


def _condition(row: Mapping[str, Any]) -> Condition:
    return Condition(
        key=row["key"],
        says=row["says"],
        answer=row.get("answer", ""),
        paragraph=row["paragraph"],
        source=source_of(row),
    )


def _si(written: str | float, dimension: str) -> float:
    if written == "":
        return math.nan
    return parse(str(written), dimension) if dimension else float(written)
