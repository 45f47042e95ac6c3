"""The bill of materials and cut lists as CSV: UTF-8, an empty cell for what is not said."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable, Sequence
from io import StringIO

from sparwright.base.quantity import to
from sparwright.stock.bill import Bill
from sparwright.stock.sticks import StickList

BILL = (
    "kit", "kind", "what", "how sold", "bought", "used", "unit", "parts", "used of bought", "mass used kg",
    "mass used lb", "mass left kg", "price each", "price", "currency", "note",
)  # fmt: skip
STICKS = ("stock", "stick", "of", "stick mm", "piece", "part", "length mm", "length in", "left over mm", "proof")


def bill_csv(found: Bill) -> bytes:
    """The whole aeroplane's lines first (kit "all"), then what each kit takes of them."""
    rows: list[Sequence[str]] = []
    for x in found.lines:
        masses = _n(x.mass, 4), _n(x.mass * to(1, "lb"), 4), _n(x.wasted, 4)
        prices = _n(x.each, 2), _n(x.price, 2), found.currency
        much = _n(x.bought, 0), _n(x.quantity, 4), x.unit, "", _n(x.used, 4)
        rows.append(("all", x.kind, x.what, x.sold, *much, *masses, *prices, x.note))
    for k in found.kits:
        masses = _n(k.mass, 4), _n(k.mass * to(1, "lb"), 4), ""
        much = "", _n(k.quantity, 4), k.unit, str(k.parts), ""
        rows.append((k.kit, "", k.what, "", *much, *masses, "", _n(k.price, 2), found.currency, ""))
    rows += [("none", *("",) * (len(BILL) - 2), sentence) for sentence in found.told]
    return _written(BILL, rows)


def stick_csv(lists: Iterable[StickList]) -> bytes:
    """Every piece of every stick, a row each, in the order it is cut."""
    rows: list[Sequence[str]] = []
    for x in lists:
        for i, stick in enumerate(x.sticks, 1):
            for n, c in enumerate(stick.cuts, 1):
                sizes = _n(c.length * 1000, 1), _n(c.length / 0.0254, 3), _n(stick.left * 1000, 1)
                whole = str(len(x.sticks)), _n(x.length * 1000, 1)
                rows.append((x.stock.words, str(i), *whole, str(n), c.name, *sizes, x.proof))
    return _written(STICKS, rows)


def _n(value: float, digits: int) -> str:
    return f"{value:.{digits}f}" if math.isfinite(value) else ""


def _written(head: Sequence[str], rows: Iterable[Sequence[str]]) -> bytes:
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(head)
    for row in rows:
        out.writerow([c.replace("″", " in").replace("′", " ft").replace("−", "-") for c in row])
    return buffer.getvalue().encode("utf-8")
