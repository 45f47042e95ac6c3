"""Cut lists of bars and tubes: which pieces come out of which stick, kerf kept, proved against the lower bound.

Lengths are rounded up to a tenth of a millimetre, the clear length of a stick is what is left between its trimmed
ends, and a kerf lies between two pieces. Of several lengths that the buying file lists for one stock, one is taken
for all of it: the one that costs least, or the one that buys the least length where a price is missing.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from sparwright.base.quantity import is_metric
from sparwright.base.record import number
from sparwright.data.stock import sold_as
from sparwright.family.buying import Buying
from sparwright.maths.cutting_stock import Cutting, cut_stock
from sparwright.stock.needs import Need, Stock, of_form
from sparwright.stock.splice import Span, Spliced, TooLarge, joints, spans

TENTH = 1e-4  # m


@dataclass(frozen=True)
class Cut:
    """One piece to cut: the part it is, or a piece of it."""

    part: str
    piece: int
    pieces: int
    length: float = number("m", "as cut, rounded up to a tenth of a millimetre")

    @property
    def name(self) -> str:
        """Number of the part, with the piece where it is spliced."""
        return self.part if self.pieces == 1 else f"{self.part} {self.piece}/{self.pieces}"


@dataclass(frozen=True)
class Stick:
    """One stick and what is cut out of it, from one end on."""

    cuts: tuple[Cut, ...]
    left: float = number("m", "left over beyond the last cut, end trim included")


@dataclass(frozen=True, kw_only=True)
class StickList:
    """All sticks of one stock."""

    stock: Stock
    length: float = number("m", "length of a stick as bought")
    sticks: tuple[Stick, ...]
    bound: int = number("1", "no list needs fewer sticks of that length")
    origin: str  # where the length as sold comes from
    price: float = number("1", "of a stick; NaN where it is not said", math.nan)
    spliced: tuple[Spliced, ...] = ()  # parts of several pieces

    @property
    def used(self) -> float:
        """Length of all pieces, m."""
        return sum(c.length for s in self.sticks for c in s.cuts)

    @property
    def bought(self) -> float:
        """Length of all sticks, m."""
        return len(self.sticks) * self.length

    @property
    def proof(self) -> str:
        """What is proved of the number of sticks."""
        count = len(self.sticks)
        return "proved least" if count == self.bound else f"{count} sticks, no less than {self.bound}"


@dataclass(frozen=True)
class Sticks:
    """Cut lists of a whole aeroplane, and what could not be put on one."""

    lists: tuple[StickList, ...]
    told: tuple[TooLarge, ...]


def stick_lists(needs: Sequence[Need], buying: Buying) -> Sticks:
    """A cut list for each bar and tube that is bought in lengths."""
    lists: list[StickList] = []
    told: list[TooLarge] = []
    for form in ("tube", "bar"):
        for stock, here in of_form(needs, "tube" if form == "tube" else "bar"):
            found, faults = _listed(stock, here, buying)
            told += faults
            lists += [found] if found else []
    return Sticks(tuple(lists), tuple(told))


def _sold(stock: Stock, buying: Buying) -> tuple[tuple[float, float, str], ...]:
    """(length, price, where that is said) of every length the stock is sold in."""
    offers = buying.for_stock(stock.form, stock.material, stock.size)
    said = [(o.length, o.price, "the buying file") for o in offers if o.length > 0]
    plain = sold_as(stock.form, stock.material, market="metric" if is_metric(stock.size[0]) else "inch")
    whole = [o.price for o in offers if not o.length > 0]
    if plain and (whole or not said):  # a price without a length is that of the length on file
        said.append((plain.length, whole[0] if whole else math.nan, str(plain.source)))
    return tuple(said)


def _listed(stock: Stock, needs: Sequence[Need], buying: Buying) -> tuple[StickList | None, list[TooLarge]]:
    """The best list over the lengths it is sold in, with what fits into none."""
    tried = [_one_length(stock, needs, buying, *sold) for sold in _sold(stock, buying)]
    if not tried:
        return None, [TooLarge(n.part.number, f"{n.part.number}: no length of {stock.words} as sold is on file")
                      for n in needs]  # fmt: skip
    fewest = min(len(faults) for _, faults in tried)
    possible = [(found, faults) for found, faults in tried if len(faults) == fewest]
    return min(possible, key=lambda f: _worth(f[0]))


def _worth(found: StickList | None) -> tuple[float, float, float]:
    """Fewest joints first, then price, then what is bought."""
    if found is None:
        return (math.inf, math.inf, math.inf)
    price = len(found.sticks) * found.price if found.price >= 0 else math.inf
    return (joints(found.spliced), price, found.bought)


def _one_length(
    stock: Stock, needs: Sequence[Need], buying: Buying, length: float, price: float, origin: str
) -> tuple[StickList | None, list[TooLarge]]:
    room = length - 2 * buying.cutting.end_trim
    found = [(n, spans(n, room, buying, stock.size[-1])) for n in needs]
    told = [s for _, s in found if isinstance(s, TooLarge)]
    cuts = [c for n, s in found if not isinstance(s, TooLarge) for c in _cuts(n, s)]
    if not cuts:
        return None, told
    sticks, cutting = _cut(cuts, length, buying)
    several = tuple(Spliced(n, s) for n, s in found if not isinstance(s, TooLarge) and len(s) > 1)
    return StickList(stock=stock, length=length, sticks=sticks, bound=cutting.bound, origin=origin, price=price,
                     spliced=several), told  # fmt: skip


def _tenths(metres: float) -> int:
    """Whole tenths of a millimetre, up."""
    return math.ceil(metres / TENTH - 1e-6)


def _cuts(need: Need, found: Iterable[Span]) -> list[Cut]:
    return [Cut(need.part.number, s.piece, s.pieces, round(_tenths(s.length) * TENTH, 4))
            for s in found for _ in range(need.count)]  # fmt: skip


def _cut(cuts: Sequence[Cut], length: float, buying: Buying) -> tuple[tuple[Stick, ...], Cutting]:
    """The sticks with their pieces, pieces of one length handed out in order of part number."""
    trim, kerf = buying.cutting.end_trim, _tenths(buying.cutting.saw_kerf)
    pieces: dict[int, list[Cut]] = {}
    for cut in sorted(cuts, key=lambda c: (c.part, c.piece)):
        pieces.setdefault(_tenths(cut.length), []).append(cut)
    lengths = sorted(pieces, reverse=True)
    cutting = cut_stock(
        lengths, [len(pieces[n]) for n in lengths], math.floor((length - 2 * trim) / TENTH + 1e-6), kerf
    )
    sticks: list[Stick] = []
    for pattern, count in cutting.patterns:
        for _ in range(count):
            mine = tuple(pieces[n].pop(0) for n, k in zip(lengths, pattern, strict=True) for _ in range(k))
            used = sum(c.length for c in mine) + (len(mine) - 1) * kerf * TENTH + trim
            sticks.append(Stick(mine, round(length - used, 4)))
    return tuple(sticks), cutting


def again(sticks: Sequence[Stick]) -> tuple[tuple[Stick, tuple[int, ...]], ...]:
    """Sticks that are cut alike by length together: the first of them, and the places of all in the list."""
    alike: dict[tuple[float, ...], list[int]] = {}
    for i, stick in enumerate(sticks):
        alike.setdefault(tuple(c.length for c in stick.cuts), []).append(i)
    return tuple((replace(sticks[where[0]]), tuple(where)) for where in alike.values())
