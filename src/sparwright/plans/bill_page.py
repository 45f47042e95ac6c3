"""The bill of materials as printed pages: stock, bought things and hardware, then each kit of work with its share."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from sparwright.base.quantity import to
from sparwright.plans.drawing import DRAFTING, Sheet, Stroke
from sparwright.plans.form import GAP, MARGIN, PAGES, Column, FormTable, bottom, drawn_table, foot
from sparwright.plans.lettering import paragraph
from sparwright.plans.paper import Paper, TitleBlock
from sparwright.stock.bill import Bill, BillLine, KitLine

READ = (
    "A dash: not said or not on file; it is not nought. Used: part of what is bought that ends in the aeroplane. A "
    "kit's share of a price goes by what it uses. Hardware is counted from the joints, bolts by their dash numbers."
)
NOT_SAID = "–"
KINDS = {
    "tube": "Tubes", "bar": "Bars", "sheet": "Sheets", "line": "Lines", "cloth": "Cloth", "cable": "Cables and wires",
    "item": "Bought ready", "bolt": "Bolts", "nut": "Nuts", "washer": "Washers", "cotter": "Cotters", "rivet": "Rivets",
}  # fmt: skip
MASS = {"inch": "lb", "millimetre": "kg"}
LENGTH = {"inch": (to(1.0, "ft"), "ft"), "millimetre": (1.0, "m")}
AREA = {"inch": (to(1.0, "ft2"), "ft²"), "millimetre": (1.0, "m²")}


def bill_pages(found: Bill, title: TitleBlock, units: str) -> tuple[Sheet, ...]:
    """The pages, letter for who draws in inches, else A4."""
    paper = PAGES[units]
    tables = [*_lines(found, units), *_kits(found, units)]
    pages = list(_paged(tables, paper))
    name = f"Bill of materials, {title.family} {title.model}"
    last = _told(found, paper)
    total = len(pages) + len(last)
    sheets = [
        tuple(_page(page, paper, name, _state(found) if i == 1 else (), title, i, total))
        for i, page in enumerate(pages, 1)
    ]
    sheets += [(*strokes, *foot(paper, READ, title, len(pages) + i, total)) for i, strokes in enumerate(last, 1)]
    return tuple(
        Sheet(i, total, name, paper.name, paper.width, paper.height, strokes) for i, strokes in enumerate(sheets, 1)
    )


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
        if own and kind in ("tube", "bar", "sheet", "line", "cloth", "cable"):
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


def _paged(tables: Sequence[FormTable], paper: Paper) -> Iterator[tuple[FormTable, ...]]:
    """The tables that go on each page, in order, a long one going on where it must."""
    wide, high = paper.width - 2 * MARGIN, _room(paper)
    held: list[FormTable] = []
    left = high
    queue = list(tables)
    while queue:
        table = queue.pop(0)
        fits = _fitting(table, wide, left)
        if fits == len(table.rows):
            held.append(table)
            left -= table.tall(wide)
            continue
        if fits >= LEAST or (not held and fits):
            held.append(_part(table, 0, fits))
            table = _part(table, fits, len(table.rows), " (on)")
        yield tuple(held)
        held, left = [], high
        queue.insert(0, table)
    if held:
        yield tuple(held)


LEAST = 3  # rows of a table at the foot of a page: fewer go to the next


def _part(table: FormTable, first: int, last: int, more: str = "") -> FormTable:
    name = table.name.removesuffix(" (on)") + more
    return FormTable(name, table.columns, table.rows[first:last], table.first)


def _fitting(table: FormTable, wide: float, room: float) -> int:
    """How many of its first rows fit into that height."""
    return max((n for n in range(len(table.rows) + 1) if _part(table, 0, n).tall(wide) - GAP <= room), default=0)


def _room(paper: Paper) -> float:
    return paper.height - MARGIN - HEAD - bottom(paper, READ) - 3.0


HEAD = 26.0  # mm, from the top margin to the first table


def _page(
    tables: Sequence[FormTable],
    paper: Paper,
    name: str,
    state: Sequence[str],
    title: TitleBlock,
    sheet: int,
    total: int,
) -> Iterator[Stroke]:
    d, room = DRAFTING, paper.width - 2 * MARGIN
    head, y = paragraph(name, (MARGIN, paper.height - MARGIN), d.middle, room, d.pitch, bold=True)
    yield from head
    for words in state:
        yield from paragraph(words, (MARGIN, y), d.small, room, d.pitch)[0]
    y = paper.height - MARGIN - HEAD
    for table in tables:
        yield from drawn_table(table, paper, y)
        y -= table.tall(room)
    yield from foot(paper, READ, title, sheet, total)


def _told(found: Bill, paper: Paper) -> list[tuple[Stroke, ...]]:
    """What is on no list, a sentence each, on pages of its own."""
    d, room, low = DRAFTING, paper.width - 2 * MARGIN, bottom(paper, READ) + 4.0
    pages: list[tuple[Stroke, ...]] = []
    strokes: list[Stroke] = []
    y = 0.0
    for sentence in found.told:
        texts, after = paragraph(sentence, (MARGIN, y), d.small, room, d.pitch)
        if not strokes or after < low:
            if strokes:
                pages.append(tuple(strokes))
            top = (MARGIN, paper.height - MARGIN)
            head, y = paragraph("On no list: settle before buying", top, d.middle, room, d.pitch, bold=True)
            strokes = [*head]
            texts, after = paragraph(sentence, (MARGIN, y), d.small, room, d.pitch)
        strokes += texts
        y = after - 1.0
    return [*pages, tuple(strokes)] if strokes else []
