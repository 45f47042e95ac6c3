"""Lengths and sheets as sold, where the designer's own file says nothing."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache
from typing import Literal

from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import rows
from sparwright.data.loader import MARKETS, Market, sheets, source_of

Form = Literal["tube", "bar", "sheet"]


@dataclass(frozen=True, kw_only=True)
class SoldAs:
    """How stock is sold: sticks of a length, sheets of a width and a length."""

    form: Form
    material: str
    market: Market
    width: float = number("m", "width of a sheet; NaN for a stick")
    length: float = number("m", "length of a stick, or of a sheet along its face grain")
    source: Source


@lru_cache(maxsize=1)
def _listed() -> tuple[SoldAs, ...]:
    return tuple(
        SoldAs(form=_form(r["form"]), material=r["material"], market=_market(r["market"]), source=source_of(r),
               **{k: parse(r[k], "length") if r[k] else math.nan for k in ("width", "length")})
        for r in rows("stock.csv")
    )  # fmt: skip


def _form(name: str) -> Form:
    forms: tuple[Form, ...] = ("tube", "bar", "sheet")
    return next(f for f in forms if f == name)


def _market(name: str) -> Market:
    return next(m for m in MARKETS if m == name)


def sold_as(form: str, material: str, thickness: float = math.nan, market: str = "inch") -> SoldAs | None:
    """How it is sold; None where no row says. thickness: of a sheet, m. market: whose sticks, inch or metric.

    >>> round(sold_as("tube", "4130N").length, 4)
    3.6576
    """
    flat = (s for s in sheets() if form == "sheet" and s.stock == material and s.length > 0)
    if (s := min(flat, key=lambda s: abs(s.thickness - thickness), default=None)) and abs(
        s.thickness - thickness
    ) < 1e-6:
        return SoldAs(form="sheet", material=material, market=s.market, width=s.width, length=s.length, source=s.source)
    here = [s for s in _listed() if (s.form, s.material) == (form, material)]
    return next((s for s in here if s.market in (market, "both")), here[0] if form == "sheet" and here else None)
