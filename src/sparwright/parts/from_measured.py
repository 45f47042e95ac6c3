"""Parts that are cut from a sheet that was measured: they say so, and are bought by the nominal thickness."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sparwright.base.check import Check, Result, Step
from sparwright.base.quantity import gauge, millimetres
from sparwright.family.measured_sheets import MeasuredSheet, measured_as
from sparwright.family.model import Model
from sparwright.parts.part import Part, Plate, Skin

TOLD = "sheet as measured, not as sold"


def from_measured(model: Model, parts: Iterable[Part]) -> tuple[Part, ...]:
    """The parts, those of a measured sheet with the nominal thickness in their stock; all as they are without one."""
    if not any(m.differs for m in model.measured_sheets):
        return tuple(parts)
    return tuple(_said(p, m) if (m := _sheet_of(model, p)) else p for p in parts)


def _sheet_of(model: Model, part: Part) -> MeasuredSheet | None:
    if isinstance(part.shape, (Plate, Skin)):
        return measured_as(model, part.material, part.shape.thickness)
    mine = (m for m in model.measured_sheets if m.differs and m.material == part.material)
    return next((m for m in mine if any(_stands(w, part.stock) for w in _words(m.measured))), None)


def _words(thickness: float) -> tuple[str, ...]:
    return tuple(dict.fromkeys((gauge(thickness), millimetres(thickness))))


def _stands(words: str, stock: str) -> bool:
    return f", {words}" in stock


def _said(part: Part, sheet: MeasuredSheet) -> Part:
    stock = part.stock
    for words in _words(sheet.measured):
        stock = stock.replace(f", {words}", f", {gauge(sheet.thickness)}")
    return replace(part, stock=stock, measured=sheet, note="; ".join(x for x in (part.note, sheet.said) if x))


def measured_results(model: Model) -> tuple[Result, ...]:
    """What was measured of each stock, and which thickness strength counts."""
    return tuple(
        Result(f"parts.measured.{m.material}.{thick_key(m)}", f"{m.material}, {m.said}", m.measured, "m", m.measured,
               m.measured, source=m.note or TOLD, steps=(counted(m),))
        for m in model.measured_sheets if m.differs
    )  # fmt: skip


def thick_key(sheet: MeasuredSheet) -> str:
    """A nominal thickness in an id: hundredths of a millimetre."""
    return f"{round(sheet.thickness * 1e5)}"


def counted(sheet: MeasuredSheet) -> Step:
    """The line of working that tells which thickness strength counts."""
    given = (("nominal", sheet.thickness, "m"), ("measured", sheet.measured, "m"))
    return Step(
        "thickness that strength counts", "the lower of nominal and measured", given, sheet.least, "m", sheet.note
    )


def counted_in(checks: Iterable[Check], parts: Iterable[Part]) -> tuple[Check, ...]:
    """The checks, those of a part of a measured sheet with the thickness that was counted in their working."""
    sheets = {p.number: p.measured for p in parts if p.measured is not None}
    return tuple(replace(c, steps=(*c.steps, counted(sheets[c.part]))) if c.part in sheets else c for c in checks)
