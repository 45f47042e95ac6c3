"""Sheets as measured: what is cut follows the measured thickness, strength the lower of it and the nominal one."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, fields, is_dataclass, replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import QuantityError, gauge, parse
from sparwright.base.record import number
from sparwright.data.loader import materials
from sparwright.family.entry import Entry, Faults
from sparwright.family.stock import Sheet, words

if TYPE_CHECKING:
    from sparwright.family.model import Family, Model

MOST = 0.15  # of the nominal thickness: EN 315 lets sanded ply of 4 mm be 0.5 mm thinner, 13 %; more is another sheet
SAME = 1e-6  # m: thicknesses nearer than this are one


@dataclass(frozen=True, kw_only=True)
class MeasuredSheet:
    """One stock of flat sheet, measured."""

    material: str = words("key of a material")
    thickness: float = number("m", "thickness as it is sold and as the rest of the file says it")
    measured: float = number("m", "thickness as measured, the mean over the sheet, within 15 % of the nominal one")
    note: str = words("which sheet, when, with what", "")

    @property
    def differs(self) -> bool:
        """Whether it was measured to be another than the nominal one."""
        return abs(self.measured - self.thickness) > SAME

    @property
    def said(self) -> str:
        """What sheets of the plan set say of it.

        >>> MeasuredSheet(material="okoume-ply", thickness=0.004, measured=0.0038).said
        'cut for a measured 3.8 mm (nominal 4 mm)'
        """
        return f"cut for a measured {thick(self.measured)} (nominal {gauge(self.thickness)})"

    @property
    def least(self) -> float:
        """The thickness that strength counts, m."""
        return min(self.thickness, self.measured)


RECORDS = (MeasuredSheet,)


def thick(metres: float) -> str:
    """A measured thickness: hundredths of a millimetre, without trailing noughts."""
    return f"{metres * 1000:.2f}".rstrip("0").rstrip(".") + " mm"


def check_measured_sheets(sheets: tuple[MeasuredSheet, ...], whole: Entry, faults: Faults) -> None:
    """Each within 15 % of its stock, and none said twice."""
    seen: set[tuple[str, float]] = set()
    for i, one in enumerate(sheets):
        spot = whole.nearest("measured_sheets", i)
        low, high = (one.thickness * (1 + s * MOST) for s in (-1, 1))
        if not within(one):
            reach = f"the nominal {gauge(one.thickness)}, {thick(low)} to {thick(high)}"
            wanted = f"must lie within {MOST:.0%} of {reach}; what is further off is another sheet"
            faults.wrong(spot.nearest("measured"), wanted)
        if (one.material, round(one.thickness, 6)) in seen:
            faults.wrong(spot.nearest("thickness"), "is measured twice; put the mean in one table")
        seen.add((one.material, round(one.thickness, 6)))


def check_used(models: Mapping[str, Model], entries: Mapping[str, Entry], faults: Faults) -> None:
    """Each measured stock is cut by some model, and measured apart from every other stock of it. Models as written."""
    cut: set[str] = set()
    rows: list[tuple[Entry, MeasuredSheet]] = []
    for name, model in models.items():
        used = set(thicknesses(model))
        for i, one in enumerate(model.measured_sheets):
            spot = entries[name].nearest("measured_sheets", i)
            rows.append((spot, one))
            others = {t for k, t in used if k == one.material and abs(t - one.thickness) > SAME}
            others |= {m.measured for m in model.measured_sheets if m.material == one.material and m is not one}
            if any(abs(t - one.measured) <= SAME for t in others):
                wanted = "must differ from every other thickness of that material in the model"
                faults.wrong(spot.nearest("measured"), wanted)
            if any(_is(one, k, t, one.thickness) for k, t in used):
                cut.add(spot.key)
    for spot, one in rows:
        if spot.key not in cut:
            faults.wrong(spot.nearest("thickness"), f"is a thickness of {one.material} that no model is cut from")


def as_measured(model: Model) -> Model:
    """The model with the measured thickness wherever the nominal one is written; itself where none differs."""
    return _changed(model, {(m.material, m.thickness): m.measured for m in model.measured_sheets if m.differs})


def at_strength(model: Model) -> Model:
    """A model as measured with what strength counts: the nominal thickness where a sheet was measured to be thicker."""
    thicker = {
        (m.material, m.measured): m.thickness for m in model.measured_sheets if m.differs and m.least < m.measured
    }
    return _changed(model, thicker)


def measured_as(model: Model, material: str, thickness: float) -> MeasuredSheet | None:
    """The measured stock that a part of that material and thickness, m, is cut from; None where it was not measured."""
    rows = (m for m in model.measured_sheets if m.differs)
    return next((m for m in rows if _is(m, material, thickness, m.measured)), None)


def _is(one: MeasuredSheet, material: str, thickness: float, wanted: float) -> bool:
    return one.material == material and abs(thickness - wanted) <= SAME


def thicknesses(model: Model) -> Iterator[tuple[str, float]]:
    """(material, thickness) of every sheet and skin of a model."""
    found: list[tuple[str, float]] = []

    def look(material: str, thickness: float) -> float:
        found.append((material, thickness))
        return thickness

    _walked(model, look)
    yield from found


def _changed(model: Model, by: Mapping[tuple[str, float], float]) -> Model:
    def change(material: str, thickness: float) -> float:
        return next((new for (k, t), new in by.items() if k == material and abs(t - thickness) <= SAME), thickness)

    found: Model = _walked(model, change) if by else model
    return found


def _walked(value: Any, change: Callable[[str, float], float]) -> Any:
    """A record of a model with the thickness of every sheet and skin in it changed; itself where none is."""
    from sparwright.family.model import Skin

    if isinstance(value, (Sheet, Skin)):
        new = change(value.material, value.thickness)
        return value if new == value.thickness else replace(value, thickness=new)
    if isinstance(value, tuple):
        inner = tuple(_walked(v, change) for v in value)
        return value if all(a is b for a, b in zip(inner, value, strict=True)) else inner
    if isinstance(value, Mapping):
        table = {k: _walked(v, change) for k, v in value.items()}
        return value if all(table[k] is v for k, v in value.items()) else MappingProxyType(table)
    if is_dataclass(value) and not isinstance(value, (type, MeasuredSheet)):
        now = {f.name: getattr(value, f.name) for f in fields(value)}
        changed = {n: w for n, v in now.items() if (w := _walked(v, change)) is not v}
        return replace(value, **changed) if changed else value
    return value


def with_sheets(family: Family, said: Sequence[str]) -> Family:
    """The family with sheets that a builder measured for his plans, each like `okoume-ply 4 mm = 3.8 mm`.

    DesignProblem for one that cannot be read, is out of range, cut by no model, or measured in the file. The digest is
    then of file and sheets together, so that what is kept of the file alone is not taken for it.
    """
    if not said:
        return family
    rows = tuple(_read(words) for words in said)
    models = {}
    for name, model in family.models.items():
        used = set(thicknesses(model))
        mine = tuple(r for r in rows if any(_is(r, k, t, r.thickness) for k, t in used))
        models[name] = as_measured(replace(model, measured_sheets=(*model.measured_sheets, *mine)))
    for row in rows:
        if not any(row in m.measured_sheets for m in models.values()):
            stock = f"{row.material} of {gauge(row.thickness)}"
            raise DesignProblem(f"--sheet: no part is cut from {stock}, or the file says what it measures")
    digest = hashlib.sha256("\n".join((family.sha256, *said)).encode("utf-8")).hexdigest()
    return replace(family, models=MappingProxyType(models), sha256=digest)


def _read(words: str) -> MeasuredSheet:
    example = 'it is said like "okoume-ply 4 mm = 3.8 mm"'
    stock, _, measured = words.partition("=")
    material, _, thickness = stock.strip().partition(" ")
    if material not in materials():
        raise DesignProblem(f"--sheet {words!r}: {material!r} is no material we know; {example}")
    try:
        nominal, true = parse(thickness, "length"), parse(measured, "length")
    except QuantityError as error:
        raise DesignProblem(f"--sheet {words!r}: {error}; {example}") from None
    found = MeasuredSheet(material=material, thickness=nominal, measured=true, note="measured by the builder")
    if not within(found):
        low, high = (thick(nominal * (1 + s * MOST)) for s in (-1, 1))
        reach = f"within {MOST:.0%} of the nominal, {low} to {high}"
        raise DesignProblem(f"--sheet {words!r}: must lie {reach}; what is further off is another sheet")
    return found


def within(one: MeasuredSheet) -> bool:
    """Whether a measured thickness can be that of its stock."""
    return abs(one.measured - one.thickness) <= MOST * one.thickness * (1 + 1e-9)
