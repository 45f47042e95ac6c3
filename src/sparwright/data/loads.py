"""What codes ask of the loads, from loads.toml: one row a number, in the unit of its paragraph; here in SI.

>>> RULES["cfr-23-2014"]["gust_cruise"].value
15.24
>>> str(RULES["cs-vla"]["gust_cruise"])
'cs-vla 333(c)'
>>> "335" in sections("cs-vla"), "371" in sections("cs-vla")
(True, False)
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Any, Literal

from sparwright.base.quantity import UNITS, parse
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import tables

LoadCode = Literal["cs-vla", "cfr-23-2014"]
CODES: tuple[LoadCode, ...] = ("cs-vla", "cfr-23-2014")
PREFIX = {"cfr-23-2014": "23."}  # of a paragraph's number as its code prints it
DIMENSIONS = ("speed", "force", "angle", "mass")


@dataclass(frozen=True, kw_only=True)
class Rule:
    """One number of a code."""

    key: str
    code: str  # "common" for what no code says
    title: str
    value: float = number("SI", "the number; a bare one in the units its place names")
    paragraph: str
    source: Source

    @property
    def section(self) -> str:
        """The paragraph's number without what follows it: "335" of "335(a)"."""
        found = re.match(r"\d+", self.paragraph)
        return found[0] if found else self.paragraph

    @property
    def recalled(self) -> bool:
        """Whether nobody here has seen it in print."""
        return self.source.mark == "memory"

    def __str__(self) -> str:
        return f"{self.source.key} {PREFIX.get(self.source.key, '')}{self.paragraph}"


@lru_cache(maxsize=1)
def _rules() -> Mapping[str, Mapping[str, Rule]]:
    return MappingProxyType(
        {code: MappingProxyType({k: _rule(code, k, row) for k, row in rows.items()})
         for code, rows in tables("loads.toml").items()}
    )  # fmt: skip


def _rule(code: str, key: str, row: Mapping[str, Any]) -> Rule:
    return Rule(
        key=key,
        code=code,
        title=row["title"],
        value=_si(row["value"]),
        paragraph=row["paragraph"],
        source=Source(row["source"], row["place"], row["mark"]),
    )


def _si(written: str | float) -> float:
    """A bare number as it stands; else a speed, force, angle or mass by its unit."""
    if not isinstance(written, str):
        return float(written)
    unit = written.split()[-1]
    return parse(written, next(d for d in DIMENSIONS if unit in UNITS[d]))


def sections(code: str) -> frozenset[str]:
    """The numbers of the paragraphs that a code has rows of; none for what is no code of loads."""
    return frozenset(r.section for r in RULES[code].values()) if code in CODES else frozenset()


RULES = _rules()
