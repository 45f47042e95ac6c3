"""The bill of materials as printed pages: stock, bought things and hardware, then each kit of work with its share."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.base.quantity import to
from sparwright.plans.drawing import Sheet
from sparwright.plans.form import Column, FormTable
from sparwright.plans.form_pages import form_pages
from sparwright.plans.paper import TitleBlock
from sparwright.stock.bill import Bill, BillLine, KitLine

READ = (
    "A dash: not said or not on file; it is not nought. Used: part of what is bought that ends in the aeroplane. A "
    "kit's share of a price goes by what it uses. Hardware is counted from the joints, bolts by their dash numbers."
)
NOT_SAID = "–"
KINDS = {
    "tube": "Tubes", "bar": "Bars", "sheet": "Sheets", "line": "Lines", "cloth": "Cloth",
    "order": "To order: no stock on file is as large", "cable": "Cables and wires",
    "item": "Bought ready", "bolt": "Bolts", "nut": "Nuts", "washer": "Washers", "cotter": "Cotters", "rivet": "Rivets",
}  # fmt: skip
MASS = {"inch": "lb", "millimetre": "kg"}
LENGTH = {"inch": (to(1.0, "ft"), "ft"), "millimetre": (1.0, "m")}
AREA = {"inch": (to(1.0, "ft2"), "ft²"), "millimetre": (1.0, "m²")}


def bill_pages(found: Bill, title: TitleBlock, units: str) -> tuple[Sheet, ...]:
    """The pages, letter for who draws in inches, else A4."""
    tables = [*_lines(found, units), *_kits(found, units)]
    told = "On no list: settle before buying", found.told
    return form_pages(tables, "Bill of materials", _state(found), READ, title, units, told)


def _state(found: Bill) -> tuple[str, ...]:
    priced = len(found.lines) - found.open
    currency = found.currency or "the file's currency"
    return (
        f"Prices said: {priced} of {len(found.lines)} lines, together {found.known:,.0f} {currency}; the rest is not "
        "said, so this is no price of an aeroplane.",
    )


def _figure(value: float, digits: int = 0) -> str:
    return f"{value:,.{digits}f}" if math.isfinite(value) else NOT_SAID


def _small(value: float) -> str:
    """A tenth where it is large enough to mean something, else a hundredth or a thousandth: never 0.0 of a thing."""
    return _figure(value, 1 if abs(value) >= 1 else 2 if abs(value) >= 0.1 else 3)


def _lines(found: Bill, units: str) -> Iterator[FormTable]:
    """A table for each kind of line."""
    for kind, name in KINDS.items():
        own = [x for x in found.lines if x.kind == kind]
        if own and kind in ("tube", "bar", "sheet", "line", "cloth", "order", "cable"):
            yield FormTable(name, _columns(units), tuple(_row(x, units) for x in own), first=4.2)
        elif own:
            columns = (Column("count", share=0.8), Column("price"))
            yield FormTable(
                name, columns, tuple((_what(x), _figure(x.bought), _figure(x.price, 2)) for x in own), first=6.0
            )


def _what(x: BillLine) -> str:
    return f"{x.what} ({x.note})" if x.note and x.kind not in ("tube", "bar", "sheet") else x.what


def _columns(units: str) -> tuple[Column, ...]:
    mass = MASS[units]
    numbers = (Column("buy", share=0.8), Column("used", share=0.9), Column(mass, "used", share=0.9))
    return (Column("sold", share=2.5), *numbers, Column(mass, "left", share=0.9), Column("price", share=1.1))


def _row(x: BillLine, units: str) -> tuple[str, ...]:
    mass = to(1.0, MASS[units])
    used = f"{100 * x.used:.0f} %" if math.isfinite(x.used) else NOT_SAID
    return (_what(x), _sold(x), _figure(x.bought), used, _small(x.mass * mass), _small(x.wasted * mass),
            _figure(x.price, 0))  # fmt: skip


def _sold(x: BillLine) -> str:
    """How it is sold, in one unit, since a column is narrow."""
    return x.sold.partition(" = ")[0]


def _kits(found: Bill, units: str) -> Iterator[FormTable]:
    """A table for each kit of work."""
    mass = MASS[units]
    columns = (
        Column("parts", share=0.8),
        Column("takes", share=1.5),
        Column(mass, share=0.9),
        Column("price", "share of", share=1.1),
    )
    for kit in dict.fromkeys(k.kit for k in found.kits):
        own = [k for k in found.kits if k.kit == kit]
        rows = [
            (k.what, str(k.parts), _takes(k, units), _figure(k.mass * to(1.0, mass), 2), _figure(k.price, 1))
            for k in own
        ]
        yield FormTable(f"Kit: {kit}", columns, tuple(rows), first=4.6)


def _takes(k: KitLine, units: str) -> str:
    if k.unit == "each":
        return _figure(k.quantity)
    factor, name = (LENGTH if k.unit == "m" else AREA)[units]
    return f"{_small(k.quantity * factor)} {name}"
