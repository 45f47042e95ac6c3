"""Nests of flat parts on sheets as sold: kerf and margin kept, quantities for the whole aeroplane.

A nest that was kept with the design (output/nest_file.py) is taken again, as long as it holds every piece once, every
piece as it may lie, clear of its neighbours and of the edges: that is measured and not believed. Else the sheets are
nested anew, which gives the same again for the same parts.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.quantity import inches, millimetres
from sparwright.base.record import number
from sparwright.data.stock import sold_as
from sparwright.family.buying import Buying
from sparwright.maths.nesting import Lying, Way, faults, nest, sheets_at_least
from sparwright.stock.blanks import Blank, blanks
from sparwright.stock.needs import Need, Stock, of_form
from sparwright.stock.splice import TooLarge

MANY = 100  # pieces: of more, finer cells take too long for what they gain
FINER = 2.5  # times smaller cells, where the first nests need more sheets than the bound


@dataclass(frozen=True)
class Placed:
    """A piece on a sheet."""

    blank: Blank
    way: Way
    x: float = number("mm", "left edge of its upright box, from the sheet's lower left corner")
    y: float = number("mm", "lower edge of its upright box")


@dataclass(frozen=True, kw_only=True)
class Nest:
    """All sheets of one stock."""

    stock: Stock
    length: float = number("m", "of a sheet, along its face grain")
    width: float = number("m", "of a sheet")
    sheets: tuple[tuple[Placed, ...], ...]
    bound: int = number("1", "no nest needs fewer sheets")
    origin: str  # where the size as sold comes from
    price: float = number("1", "of a sheet; NaN where it is not said", math.nan)
    kept: bool = False  # taken from the file kept with the design

    @property
    def used(self) -> float:
        """Area within all outlines, m2; holes are not taken off."""
        return sum(p.blank.area for sheet in self.sheets for p in sheet)

    @property
    def bought(self) -> float:
        """Area of all sheets, m2."""
        return len(self.sheets) * self.length * self.width

    @property
    def proof(self) -> str:
        """What is proved of the number of sheets."""
        count = len(self.sheets)
        return "no nest needs fewer" if count == self.bound else f"no nest needs fewer than {self.bound}"


@dataclass(frozen=True)
class Nests:
    """Nests of a whole aeroplane, and what is on none."""

    nests: tuple[Nest, ...]
    told: tuple[TooLarge, ...]


Kept = Mapping[str, tuple[tuple[tuple[str, Way, float, float], ...], ...]]  # stock's words: sheets of (name, way, x, y)


def nests(needs: Sequence[Need], buying: Buying, kept: Kept | None = None) -> Nests:
    """A nest for each sheet stock."""
    made: list[Nest] = []
    told: list[TooLarge] = []
    for stock, here in of_form(needs, "sheet"):
        tried = [_one_size(stock, here, buying, kept or {}, *sold) for sold in _sold(stock, buying)]
        if not tried:
            told += [
                TooLarge(n.part.number, f"{n.part.number}: no size of {stock.words} as sold is on file") for n in here
            ]
            continue
        fewest = min(len(missed) for _, missed in tried)
        best, missed = min((t for t in tried if len(t[1]) == fewest), key=lambda t: _worth(t[0]))
        told += missed
        made += [best] if best else []
    told += [
        TooLarge(n.part.number, f"{n.part.number} ({n.part.stock}): {n.why}")
        for n in needs
        if n.stock.form == "unclear"
    ]
    return Nests(tuple(made), tuple(told))


def _worth(found: Nest | None) -> tuple[float, float]:
    if found is None:
        return (math.inf, math.inf)
    return (len(found.sheets) * found.price if found.price >= 0 else math.inf, found.bought)


def _sold(stock: Stock, buying: Buying) -> tuple[tuple[float, float, float, str], ...]:
    """(length, width, price, where that is said) of every size the sheet is sold in."""
    offers = buying.for_stock("sheet", stock.material, stock.size)
    said = tuple((o.length, o.width, o.price, "the buying file") for o in offers if o.length > 0 and o.width > 0)
    plain = sold_as("sheet", stock.material, stock.size[-1])
    price = next((o.price for o in offers), math.nan)
    return said or (((plain.length, plain.width, price, str(plain.source)),) if plain else ())


def _one_size(
    stock: Stock,
    needs: Sequence[Need],
    buying: Buying,
    kept: Kept,
    length: float,
    width: float,
    price: float,
    origin: str,
) -> tuple[Nest | None, tuple[TooLarge, ...]]:
    pieces, told = blanks(needs, length, width, buying)
    if not pieces:
        return None, told
    copies = [b for b in pieces for _ in range(b.count)]
    shapes = [b.shape for b in copies]
    c = buying.cutting
    size = (length * 1000, width * 1000, c.sheet_gap * 1000, c.sheet_margin * 1000)
    lying = _again(copies, kept.get(stock.words, ()))
    good = lying is not None and not faults(shapes, lying, *size)
    bound = sheets_at_least(shapes, *size)
    if not good or lying is None:
        lying = _best(copies, size, bound)
    count = 1 + max(x.sheet for x in lying)
    sheets = tuple(tuple(Placed(copies[x.shape], x.way, x.x, x.y) for x in lying if x.sheet == s) for s in range(count))
    return Nest(stock=stock, length=length, width=width, sheets=sheets, bound=bound, origin=origin, price=price,
                kept=good), told  # fmt: skip


def _best(copies: Sequence[Blank], size: tuple[float, float, float, float], bound: int) -> tuple[Lying, ...]:
    """The nest with the fewest sheets, the last used least: by falling area, by falling length, both on finer cells.

    The first that needs no more sheets than the bound is taken; finer cells are for no more than MANY pieces.
    """
    shapes = [b.shape for b in copies]
    long = [float(np.ptp(b.ring, axis=0).max()) for b in copies]
    by_length = sorted(range(len(copies)), key=lambda i: (-round(long[i], 3), i))
    best: tuple[Lying, ...] = ()
    finer = ((None, FINER), (by_length, FINER)) if len(copies) <= MANY else ()
    for order, fine in ((None, 1.0), (by_length, 1.0), *finer):
        found = nest(shapes, *size, order=order, fine=fine)
        best = min((n for n in (best, found) if n), key=lambda n: _length_used(n, copies))
        if max(x.sheet for x in best) + 1 <= bound:
            break
    return best


def _length_used(lying: Sequence[Lying], copies: Sequence[Blank]) -> tuple[int, float]:
    from sparwright.maths.nesting import laid

    last = max(x.sheet for x in lying)
    return last, max(x.x + float(laid(copies[x.shape].ring, x.way)[:, 0].max()) for x in lying if x.sheet == last)


def _again(
    copies: Sequence[Blank], kept: Sequence[Sequence[tuple[str, Way, float, float]]]
) -> tuple[Lying, ...] | None:
    """The kept places of these very pieces; None where any is missing or too many."""
    free: dict[str, list[int]] = {}
    for i, b in enumerate(copies):
        free.setdefault(b.name, []).append(i)
    found: list[Lying] = []
    for s, sheet in enumerate(kept):
        for name, way, x, y in sheet:
            if not free.get(name):
                return None
            found.append(Lying(free[name].pop(0), s, way, x, y))
    return tuple(found) if found and not any(free.values()) else None


def size_words(found: Nest) -> str:
    """A sheet's size as it is asked for."""
    a, b = found.width, found.length
    return f"{inches(a, 10**9)} × {inches(b, 10**9)} = {millimetres(a)} × {millimetres(b)}"
