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
from sparwright.data.loader import sheets, source_of

Form = Literal["tube", "bar", "sheet"]


@dataclass(frozen=True, kw_only=True)
class SoldAs:
    """How stock is sold: sticks of a length, sheets of a width and a length."""

    form: Form
    material: str
    width: float = number("m", "width of a sheet; NaN for a stick")
    length: float = number("m", "length of a stick, or of a sheet along its face grain")
    source: Source


@lru_cache(maxsize=1)
def _listed() -> tuple[SoldAs, ...]:
    return tuple(
        SoldAs(form=_form(r["form"]), material=r["material"], source=source_of(r),
               **{k: parse(r[k], "length") if r[k] else math.nan for k in ("width", "length")})
        for r in rows("stock.csv")
    )  # fmt: skip


def _form(name: str) -> Form:
    forms: tuple[Form, ...] = ("tube", "bar", "sheet")
    return next(f for f in forms if f == name)


def sold_as(form: str, material: str, thickness: float = math.nan) -> SoldAs | None:
    """How it is sold; None where no row says. thickness: of a sheet, m.

    >>> round(sold_as("tube", "4130N").length, 4)
    3.6576
    """
    for s in sheets():
        if form == "sheet" and s.stock == material and abs(s.thickness - thickness) < 1e-6 and s.length > 0:
            return SoldAs(form="sheet", material=material, width=s.width, length=s.length, source=s.source)
    return next((s for s in _listed() if (s.form, s.material) == (form, material)), None)
