"""Parts longer than their stock: into how many pieces, where they meet, and where they may not.

A part is spliced only where it says so: its note names where no scarf may lie, which lets one lie elsewhere, or the
designer's buying file names it. Metal is spliced only by the buying file, edge to edge. The scarf goes S/2 to either
side of its middle, S = run times thickness. From the first end on each piece is as long as it can be: no fewer pieces
do, and long ones nest best. Only a last piece that would be a sliver is made longer, at the cost of the one before.
"""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from sparwright.base.quantity import inches, millimetres, parse
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.buying import Buying
from sparwright.stock.needs import FACED, Need

ZONE = re.compile(r"no scarf from BL (?P<a>[^(;]+?) to (?P<b>[^(;]+?) \(")
RANGE = re.compile(r"^BL (?P<a>.+?) to (?P<b>.+?)(?:,|$)")


@dataclass(frozen=True)
class Span:
    """A piece of a part from place to place along it."""

    piece: int
    pieces: int
    start: float = number("m", "along the part, scarf included")
    end: float = number("m", "along the part, scarf included")

    @property
    def length(self) -> float:
        """How long it is cut, m."""
        return self.end - self.start


@dataclass(frozen=True)
class Spliced:
    """A part of several pieces."""

    need: Need
    spans: tuple[Span, ...]

    @property
    def scarf(self) -> float:
        """Length of each scarf along the part, m; nought where pieces meet edge to edge."""
        return self.spans[0].end - self.spans[1].start

    @property
    def from_end(self) -> str:
        """What the end is called that places along the part are measured from."""
        said = RANGE.match(self.need.part.at)
        if said is None:
            return "its left end"
        first, last = (parse(said[k], "length") for k in "ab")
        return "its left end" if _over(self.need.length, last - first) else f"its end at BL {said['a']}"

    @property
    def middles(self) -> tuple[float, ...]:
        """Middle of each joint from the part's first end, m."""
        return tuple((a.end + b.start) / 2 for a, b in pairwise(self.spans))


def joints(found: Sequence[Spliced]) -> int:
    """How many joints these parts have, every copy counted."""
    return sum((len(s.spans) - 1) * s.need.count for s in found)


@dataclass(frozen=True)
class TooLarge:
    """A part that no stock on file holds, in a sentence."""

    part: str
    sentence: str


def may_splice(need: Need, buying: Buying) -> bool:
    """Whether the part, or the buying file for it, says that it may be spliced."""
    named = any(need.part.number.startswith(begins) for begins in buying.spliced)
    return named or (material(need.stock.material).kind in FACED and "no scarf from" in need.part.note)


def forbidden(need: Need) -> tuple[tuple[float, float], ...]:
    """Where along the part, m, no scarf may lie, out of its note; both halves of a part over the middle."""
    found = RANGE.match(need.part.at)
    if found is None:
        return ()
    first, last = (parse(found[k], "length") for k in "ab")
    whole = max(last - first, 1e-9)
    over = _over(need.length, whole)
    scale = need.length / (2 * whole if over else whole)
    zones: list[tuple[float, float]] = []
    for said in ZONE.finditer(need.part.note):
        a, b = ((parse(said[k], "length") - first) * scale for k in "ab")
        zones += (
            [(need.length / 2 - b, need.length / 2 - a), (need.length / 2 + a, need.length / 2 + b)]
            if over
            else [(a, b)]
        )
    return tuple(zones)


def _over(length: float, half: float) -> bool:
    """Whether a part is both sides in one: longer than its range on one side says."""
    return length > 1.5 * half


def spans(need: Need, room: float, buying: Buying, thickness: float) -> tuple[Span, ...] | TooLarge:
    """The pieces of a part that are each no longer than `room`, m; one where it fits.

    thickness: of what is scarfed, m. TooLarge where it may not be spliced, or no place for a scarf is left.
    """
    if need.length <= room + 1e-9:
        return (Span(1, 1, 0.0, need.length),)
    what = (f"{need.part.number} is {_both(need.length)} long; the longest piece of {need.stock.words} on file "
            f"is {_both(room)} clear")  # fmt: skip
    if not may_splice(need, buying):
        return TooLarge(need.part.number, f"{what}, and nothing says that it may be spliced: {ORDER}")
    scarf = buying.cutting.scarf * thickness if material(need.stock.material).kind in FACED else 0.0
    middles = _middles(need.length, room, scarf, forbidden(need))
    if middles is None:
        return TooLarge(need.part.number, f"{what}, and no place for a scarf of {_both(scarf)} is left")
    middles = _no_sliver(middles, need.length, room, scarf, forbidden(need))
    starts, ends = [0.0, *(m - scarf / 2 for m in middles)], [*(m + scarf / 2 for m in middles), need.length]
    return tuple(Span(i, len(ends), a, b) for i, (a, b) in enumerate(zip(starts, ends, strict=True), 1))


SHORTEST = 0.2  # m, of a last piece: a hand and a clamp find room (a choice of ours)
ORDER = "order it in one piece, or ask the designer for a splice"


def _both(metres: float) -> str:
    return f"{inches(metres)} ({millimetres(metres)})"


def _middles(length: float, room: float, scarf: float, zones: Sequence[tuple[float, float]]) -> list[float] | None:
    """Where scarfs have their middles, each as far out as it can be; None where there is no way."""
    shut = _shut(scarf, zones)
    middles: list[float] = []
    start = 0.0
    while length - start > room + 1e-9:
        middle = start + room - scarf / 2
        for a, b in reversed(shut):
            if a < middle < b:
                middle = a
        if middle - scarf / 2 <= start + 1e-6 or not math.isfinite(middle):
            return None
        middles.append(middle)
        start = middle - scarf / 2
    return middles


def _shut(scarf: float, zones: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Where no middle of a scarf may lie: zones half a scarf wider, those that touch together as one."""
    found: list[tuple[float, float]] = []
    for a, b in sorted((a - scarf / 2, b + scarf / 2) for a, b in zones):
        if found and a <= found[-1][1]:
            found[-1] = (found[-1][0], max(found[-1][1], b))
        else:
            found.append((a, b))
    return found


def _no_sliver(
    greedy: Sequence[float], length: float, room: float, scarf: float, zones: Sequence[tuple[float, float]]
) -> list[float]:
    """The same middles, the last one further in where the last piece would be a sliver and a place for it is free."""
    least = max(SHORTEST, 3 * scarf)
    last = min(greedy[-1], length - least + scarf / 2)
    last = next((a for a, b in _shut(scarf, zones) if a < last < b), last)
    before = greedy[-2] + scarf if len(greedy) > 1 else scarf / 2
    fits = last >= before + least - 1e-9 and length - (last - scarf / 2) <= room + 1e-9
    return [*greedy[:-1], last] if fits else list(greedy)
