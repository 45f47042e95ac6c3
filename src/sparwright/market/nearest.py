"""Stock of a market, nearest first: outsides by how far they are off, walls and sheets by their ratio."""

from __future__ import annotations

import math

from sparwright.data.loader import sheets_of, tubes_of
from sparwright.market.places import Place

SAME = 1e-7  # m: two hundredths of a hair; 0.063 in and 1.6 mm are two stocks
WIDER = 1.3  # a tube wider or narrower by more asks for other fittings
REACH = 2.0  # stock of more than twice or less than half the section is no stock in place of it


def nearest(place: Place, market: str) -> tuple[tuple[float, ...], ...]:
    """Sizes of that market for a place, nearest first; none where no stock of its material is on file.

    >>> tube = Place("t", "tube", "4130N", (0.0254 * 0.625, 0.0254 * 0.035))
    >>> nearest(tube, "metric")[:2]
    ((0.016, 0.0008), (0.016, 0.001))
    """
    if place.form == "tube":
        outside, wall = place.size
        sizes = [
            (t.outside, t.wall) for t in tubes_of(place.material, market) if 1 / WIDER < t.outside / outside < WIDER
        ]
        order = sorted(sizes, key=lambda s: (round(abs(s[0] - outside), 9), abs(math.log(s[1] / wall)), s))
        return tuple(s for s in order if _near(s, place.size))
    if place.form == "sheet":
        flat = [(t,) for t in sheets_of(place.material, market)]
        order_ = sorted(flat, key=lambda s: (abs(math.log(s[0] / place.size[0])), s))
        return tuple(s for s in order_ if _near(s, place.size))
    return ()


def has(place: Place, market: str) -> bool:
    """Whether a market sells exactly what is written."""
    return any(_same(s, place.size) for s in nearest(place, market))


def section(size: tuple[float, ...]) -> float:
    """What a size goes with in strength and weight: metal of a tube's section, m2, or a sheet's thickness, m."""
    return math.pi * (size[0] - size[1]) * size[1] if len(size) == 2 else size[0]


def _same(a: tuple[float, ...], b: tuple[float, ...]) -> bool:
    return all(abs(x - y) < SAME for x, y in zip(a, b, strict=True))


def _near(size: tuple[float, ...], now: tuple[float, ...]) -> bool:
    return 1 / REACH < section(size) / section(now) < REACH
