"""Nests of flat parts on sheets as sold: kerf and margin kept, quantities for the whole aeroplane.

A nest that was kept with the design (output/nest_file.py) is taken again, as long as it holds every piece once, every
piece as it may lie, clear of its neighbours and of the edges: that is measured and not believed. Else the sheets are
nested anew, which gives the same again for the same parts.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.quantity import inches, millimetres
from sparwright.base.record import number
from sparwright.data.stock import sold_as
from sparwright.family.buying import Buying
from sparwright.maths.nesting import Lying, Way, faults, nest, sheets_at_least
from sparwright.stock.blanks import Blank, blanks, spliced
from sparwright.stock.needs import Need, Stock, of_form
from sparwright.stock.splice import Spliced, TooLarge, joints

MANY = 100  # pieces: of more, finer cells take too long for what they gain
FEW = 3  # names in a sentence
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
    anew: str = ""  # why the nest that was kept is not this one; empty where none was kept, or it is

    @property
    def used(self) -> float:
        """Area within all outlines, m2; holes are not taken off."""
        return sum(p.blank.area for sheet in self.sheets for p in sheet)

    @property
    def bought(self) -> float:
        """Area of all sheets, m2."""
        return len(self.sheets) * self.length * self.width

    @property
    def spliced(self) -> tuple[Spliced, ...]:
        """Parts of several pieces."""
        return spliced(p.blank for sheet in self.sheets for p in sheet)

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
    anew: tuple[str, ...] = ()  # kept nests that no longer fit the parts, a sentence each


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
    anew = [f"{n.stock.words}: {n.anew}" for n in made if n.anew]
    idle = sorted(set(kept or {}) - {n.stock.words for n in made})
    anew += [f"{words}: nothing is cut from it now, or nothing that a sheet on file holds" for words in idle]
    return Nests(tuple(made), tuple(told), tuple(anew))


def _worth(found: Nest | None) -> tuple[float, float, float]:
    """Fewest joints first, then price, then what is bought."""
    if found is None:
        return (math.inf, math.inf, math.inf)
    price = len(found.sheets) * found.price if found.price >= 0 else math.inf
    return (joints(found.spliced), price, found.bought)


def _sold(stock: Stock, buying: Buying) -> tuple[tuple[float, float, float, str], ...]:
    """(length, width, price, where that is said) of every size the sheet is sold in."""
    offers = buying.for_stock("sheet", stock.material, stock.size)
    said = [(o.length, o.width, o.price, "the buying file") for o in offers if o.length > 0 and o.width > 0]
    plain = sold_as("sheet", stock.material, stock.size[-1])
    whole = [o.price for o in offers if not (o.length > 0 and o.width > 0)]
    if plain and (whole or not said):  # a price without a size is that of the sheet on file
        said.append((plain.length, plain.width, whole[0] if whole else math.nan, str(plain.source)))
    return tuple(said)


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
    lying, anew = _as_kept(copies, kept.get(stock.words, ()), size)
    bound = sheets_at_least(shapes, *size)
    good = lying is not None
    if lying is None:
        lying = _best(copies, size, bound)
    count = 1 + max(x.sheet for x in lying)
    sheets = tuple(tuple(Placed(copies[x.shape], x.way, x.x, x.y) for x in lying if x.sheet == s) for s in range(count))
    return Nest(stock=stock, length=length, width=width, sheets=sheets, bound=bound, origin=origin, price=price,
                kept=good, anew=anew), told  # fmt: skip


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


KeptSheets = Sequence[Sequence[tuple[str, Way, float, float]]]


def _as_kept(
    copies: Sequence[Blank], kept: KeptSheets, size: tuple[float, float, float, float]
) -> tuple[tuple[Lying, ...] | None, str]:
    """The kept places where they hold for these pieces; else None and why not, nothing where none were kept."""
    if not kept:
        return None, ""
    wanted, there = Counter(b.name for b in copies), Counter(piece[0] for sheet in kept for piece in sheet)
    more, gone = sorted((wanted - there).elements()), sorted((there - wanted).elements())
    if more or gone:
        return None, "; ".join(f"{word} {_some(names)}" for word, names in (("new", more), ("gone", gone)) if names)
    lying = _again(copies, kept)
    if wrong := faults([b.shape for b in copies], lying, *size):
        return None, f"{wrong[0]}" + (f" and {len(wrong) - 1} more" if len(wrong) > 1 else "")
    return lying, ""


def _some(names: Sequence[str]) -> str:
    """The first few names, and how many more."""
    return ", ".join(names[:FEW]) + (f" and {len(names) - FEW} more" if len(names) > FEW else "")


def _again(copies: Sequence[Blank], kept: KeptSheets) -> tuple[Lying, ...]:
    """The kept places of these very pieces."""
    free: dict[str, list[int]] = {}
    for i, b in enumerate(copies):
        free.setdefault(b.name, []).append(i)
    found: list[Lying] = []
    for s, sheet in enumerate(kept):
        for name, way, x, y in sheet:
            found.append(Lying(free[name].pop(0), s, way, x, y))
    return tuple(found)


def size_words(found: Nest) -> str:
    """A sheet's size as it is asked for."""
    a, b = found.width, found.length
    return f"{inches(a, 10**9)} × {inches(b, 10**9)} = {millimetres(a)} × {millimetres(b)}"
