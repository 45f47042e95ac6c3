"""A clear place on the part itself for its number, which must stay when the paper round it is cut away."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely

from sparwright.parts.part import Plate
from sparwright.plans.drawing import DRAFTING, Text
from sparwright.plans.lettering import ABOVE, BELOW, em, width
from sparwright.plans.split import Span

STEP = 8.0  # mm along the part between the places tried, a third of it up
UP = "this side up"


def label_inside(name: str, plate: Plate, span: Span, lines: Sequence[shapely.LineString]) -> tuple[Text, ...]:
    """The part number, and "this side up" where it fits, clear of every line; nothing when nowhere is clear.

    Larger before smaller, level before turned, nearest to the middle of the part.
    """
    return label_on(_piece(plate, span), name, lines)


def label_on(
    whole: shapely.Geometry, name: str, lines: Sequence[shapely.LineString], key: str = ""
) -> tuple[Text, ...]:
    """As `label_inside`, on a piece given as a shape in mm; where the number has no room its short key is tried."""
    if whole.is_empty:
        return ()
    short = [((key,), DRAFTING.small, turn) for turn in (0.0, 90.0)] if key else []
    for words, size, turn in (*_choices(name), *short):
        at = _place(whole, lines, words, size, turn)
        if at is not None:
            return tuple(_set(words, size, turn, at))
    return ()


def _piece(plate: Plate, span: Span) -> shapely.Geometry:
    cut_out = shapely.union_all([shapely.Polygon(h * 1000.0) for h in plate.holes])
    whole = shapely.difference(shapely.Polygon(plate.outline * 1000.0), cut_out)
    piece = shapely.intersection(whole, shapely.box(span.left, -1e6, span.right, 1e6))
    shapely.prepare(piece)
    return piece


def _choices(name: str) -> Iterator[tuple[tuple[str, ...], float, float]]:
    cut = name.rfind("-", 0, len(name) * 2 // 3)
    halves = (name[: cut + 1], name[cut + 1 :]) if cut > 0 else (name,)
    for size in (DRAFTING.middle, DRAFTING.small):
        for turn in (0.0, 90.0):
            yield (name, UP), size, turn
    for turn in (0.0, 90.0):
        yield (*halves, UP), DRAFTING.small, turn
        yield (name,), DRAFTING.small, turn
        yield halves, DRAFTING.small, turn


def _size(words: Sequence[str], size: float) -> tuple[float, float]:
    """Length and depth of the lines together, mm."""
    depth = (ABOVE + BELOW) * em(size) + (len(words) - 1) * DRAFTING.pitch * size
    return max(width(w, size, True) for w in words), depth


def _place(
    piece: shapely.Geometry, lines: Sequence[shapely.LineString], words: Sequence[str], size: float, turn: float
) -> tuple[float, float] | None:
    """Middle of the clear rectangle nearest to the middle of the part."""
    long, deep = _size(words, size)
    w, h = (long / 2, deep / 2) if turn == 0.0 else (deep / 2, long / 2)
    w, h = w + DRAFTING.gap, h + DRAFTING.gap
    x0, y0, x1, y1 = piece.bounds
    if x1 - x0 < 2 * w or y1 - y0 < 2 * h:
        return None
    xs, ys = np.meshgrid(np.arange(x0 + w, x1 - w + 1e-9, STEP), np.arange(y0 + h, y1 - h + 1e-9, STEP / 3))
    x, y = xs.ravel(), ys.ravel()
    places = shapely.box(x - w, y - h, x + w, y + h)
    clear = shapely.covers(piece, places)
    if lines:
        clear[shapely.STRtree(places).query(lines, predicate="intersects")[1]] = False
    if not clear.any():
        return None
    far = np.hypot(x - (x0 + x1) / 2, y - (y0 + y1) / 2)
    best = int(np.argmin(np.where(clear, np.round(far, 6), np.inf)))
    return float(x[best]), float(y[best])


def _set(words: Sequence[str], size: float, turn: float, at: tuple[float, float]) -> Iterator[Text]:
    _, deep = _size(words, size)
    for i, word in enumerate(words):
        down = -deep / 2 + ABOVE * em(size) + i * DRAFTING.pitch * size
        anchor = (at[0], at[1] - down) if turn == 0.0 else (at[0] + down, at[1])
        yield Text(word, anchor, size, turn, "middle", True)
