"""Flat pieces to nest: outline in millimetres, the ways it may lie on a sheet with its face grain along it.

Wood lies with its face grain along the sheet, either way round; metal and the rest lie as they like, in quarter turns.
All may be turned over: a piece drawn in the mirror is cut with the grain in the mirror too and turned back. Ways that
give the same outline are one. Holes are not nested into.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
import shapely

from sparwright.base.quantity import inches, millimetres
from sparwright.base.record import locked, number
from sparwright.family.buying import Buying
from sparwright.maths.nesting import Shape, Way, laid
from sparwright.stock.needs import Need
from sparwright.stock.splice import ORDER, Span, Spliced, TooLarge, spans

ALIKE = 1e-4  # part of the area by which two ways may differ and still be one


@dataclass(frozen=True)
class Blank:
    """One flat piece, `count` times."""

    need: Need
    span: Span
    count: int
    ring: np.ndarray = number("mm", "(n, 2) outline, in the part's own axes")
    ways: tuple[Way, ...] = (Way(0.0),)

    @property
    def name(self) -> str:
        """Number of its part, with the piece where it is spliced."""
        part = self.need.part.number
        return part if self.span.pieces == 1 else f"{part} {self.span.piece}/{self.span.pieces}"

    @property
    def shape(self) -> Shape:
        """As it is nested."""
        return Shape(self.name, self.ring, self.ways)

    @property
    def area(self) -> float:
        """Within its outline, holes counted, m2."""
        return float(shapely.Polygon(self.ring).area) * 1e-6


def ways_of(ring: np.ndarray, grain: float | None) -> tuple[Way, ...]:
    """The ways an outline may lie: grain along the sheet or, where it is free (None), in quarter turns; each once."""
    if grain is None:
        tried = [Way(float(t), over) for over in (False, True) for t in (0, 90, 180, 270)]
    else:
        g = round(math.degrees(grain), 6)
        tried = [Way((sign * g + t) % 360.0, over) for over, sign in ((False, -1), (True, 1)) for t in (0, 180)]
    found: list[tuple[Way, shapely.Polygon]] = []
    for way in tried:
        outline = shapely.Polygon(laid(ring, way)).buffer(0)
        if not any(_alike(outline, o) for _, o in found):
            found.append((way, outline))
    return tuple(way for way, _ in found)


def _alike(a: shapely.Polygon, b: shapely.Polygon) -> bool:
    """Whether two outlines in the corner are one; boxes and middles tell most that are not."""
    if not np.allclose(a.bounds, b.bounds, atol=1e-2):
        return False
    if a.centroid.distance(b.centroid) > 1e-2 * max(a.bounds):
        return False
    return float(a.symmetric_difference(b).area) <= ALIKE * float(a.area)


def blanks(needs: Iterable[Need], length: float, width: float, buying: Buying
           ) -> tuple[tuple[Blank, ...], tuple[TooLarge, ...]]:  # fmt: skip
    """The pieces of parts for a sheet of that size, m, and what fits on none."""
    found: list[Blank] = []
    told: list[TooLarge] = []
    clear = tuple(side - 2 * buying.cutting.sheet_margin for side in (length, width))
    for need in needs:
        pieces = _pieces(need, clear[0], clear[1], buying)
        if isinstance(pieces, TooLarge):
            told.append(pieces)
        else:
            found += pieces
    return tuple(found), tuple(told)


def _outline(need: Need) -> np.ndarray:
    """The whole outline, mm."""
    if need.outline is not None:
        return np.asarray(need.outline * 1000.0)
    a, b = need.length * 1000, need.width * 1000
    return np.array([(0.0, 0.0), (a, 0.0), (a, b), (0.0, b)])


def _pieces(need: Need, long: float, wide: float, buying: Buying) -> list[Blank] | TooLarge:
    ring = _outline(need)
    ways = ways_of(ring, need.grain)
    if _fits(ring, ways, long, wide):
        return [Blank(need, Span(1, 1, 0.0, need.length), need.count, locked(ring), ways)]
    room = _room(need, long, wide)
    if room <= 0 or need.length <= room + 1e-9:
        said = (
            f"{need.part.number} is {_size(need.length, need.width)}; the largest sheet of {need.stock.words} on file"
        )
        return TooLarge(need.part.number, f"{said} is {_size(long, wide)} clear, and it does not fit as its grain lies")
    found = spans(need, room, buying, need.stock.size[-1])
    if isinstance(found, TooLarge):
        return found
    pieces = [_piece(need, span, ring) for span in found]
    apart = [str(s.piece) for s, p in zip(found, pieces, strict=True) if p is None]
    if apart:
        return TooLarge(need.part.number, f"{need.part.number}: cut into {len(found)} pieces for {need.stock.words}, "
                        f"piece {', '.join(apart)} falls apart where its outline turns back: {ORDER}")  # fmt: skip
    return [p for p in pieces if p is not None]


def _size(a: float, b: float) -> str:
    return f"{inches(a)} × {inches(b)} ({millimetres(a)} × {millimetres(b)})"


def _fits(ring: np.ndarray, ways: Iterable[Way], long: float, wide: float) -> bool:
    return any(np.all(np.ptp(laid(ring, way), axis=0) <= (long * 1000 + 1e-6, wide * 1000 + 1e-6)) for way in ways)


def _room(need: Need, long: float, wide: float) -> float:
    """The longest piece, m, as wide as this part: l c + w s <= L, l s + w c <= W, over the turns it may take."""
    turns = (0.0, math.pi / 2) if need.grain is None else (need.grain,)
    return max(_longest(need.width, t, long, wide) for t in turns)


def _longest(w: float, turn: float, long: float, wide: float) -> float:
    c, s = abs(math.cos(turn)), abs(math.sin(turn))
    return min((long - w * s) / c if c > 1e-9 else math.inf if w <= long else 0.0,
               (wide - w * c) / s if s > 1e-9 else math.inf if w <= wide else 0.0)  # fmt: skip


def _piece(need: Need, span: Span, ring: np.ndarray) -> Blank | None:
    """The part between two places along it; None where that is not one piece."""
    x0 = float(ring[:, 0].min())
    cut = shapely.box(x0 + span.start * 1000, -1e6, x0 + span.end * 1000, 1e6)
    whole = shapely.Polygon(ring).intersection(cut)
    if whole.geom_type != "Polygon":
        return None
    own = np.array(whole.exterior.coords[:-1])
    return Blank(need, span, need.count, locked(own), ways_of(own, need.grain))


def spliced(found: Iterable[Blank]) -> tuple[Spliced, ...]:
    """The parts among these pieces that are of several, in order of number."""
    parts: dict[str, dict[int, Blank]] = {}
    for b in found:
        if b.span.pieces > 1:
            parts.setdefault(b.need.part.number, {})[b.span.piece] = b
    return tuple(Spliced(own[1].need, tuple(own[i].span for i in sorted(own))) for _, own in sorted(parts.items()))
