"""Published column curves of round tube: rows of columns.csv, every edition with its source.

>>> [c.edition for c in curves("HT-125")]
['ANC-5', 'Bruhn']
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import rows
from sparwright.data.loader import source_of


@dataclass(frozen=True, kw_only=True)
class Curve:
    """One edition of one column curve: F_c = top - slope x^power, then euler/x^2, x = L'/rho."""

    key: str  # a material, or its heat treatment
    edition: str
    top: float = number("Pa", "of a column of no length")
    slope: float = number("Pa", "what the short column loses for x^power of one")
    power: float = number("1", "of the slenderness")
    until: float = number("1", "slenderness where the long column begins")
    euler: float = number("Pa", "pi^2 E as the source rounds it")
    free: float = number("1", "D/t below which the source asks for no check of local buckling; 0: always")
    source: Source


@lru_cache(maxsize=1)
def every_curve() -> tuple[Curve, ...]:
    """Every row."""
    return tuple(
        Curve(key=r["key"], edition=r["edition"], top=parse(r["top"], "pressure"), slope=parse(r["slope"], "pressure"),
              power=float(r["power"]), until=float(r["until"]), euler=parse(r["euler"], "pressure"),
              free=float(r["free"]), source=source_of(r))
        for r in rows("columns.csv")
    )  # fmt: skip


def curves(key: str) -> tuple[Curve, ...]:
    """All editions of a material's curve; none where no source gives one."""
    return tuple(c for c in every_curve() if c.key == key)
