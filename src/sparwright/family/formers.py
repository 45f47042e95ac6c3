"""Formers and stringers: what shapes the deck over the frame beneath fabric."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.stock import Bar, Sheet, words


@dataclass(frozen=True, kw_only=True)
class Former:
    """An upright arch of sheet across the frame, clipped to a cross tube: half an ellipse, or a ring of it."""

    name: str = words("name")
    sheet: Sheet = words("stock")
    on: str = words("cross tube it is clipped to, by its end nodes (E1R-E1L)")
    to: Literal["forward", "aft"] = words("to which side of that tube it lies")
    half: float = number("m", "buttline of its feet")
    feet: float = number("m", "waterline of its feet")
    crown: float = number("m", "waterline of its top")
    ring: float = number("m", "width of the ring; as much as it is high or more: it is solid")
    bolt: str = words("bolt of each clip; key of a fastener", "AN3")
    pitch: float = number("m", "clips along the tube no further apart than this", 0.1016)


@dataclass(frozen=True, kw_only=True)
class Stringer:
    """A strip let into the edges of formers, from the first to the last, on either side."""

    name: str = words("name")
    bar: Bar = words("stock: its width lies along the former's edge")
    formers: tuple[str, ...] = words("formers it lies in, from the front aft")
    share: float = number("1", "where it lies on each: 0 at the top, 1 at the foot, of the quarter's angle")


RECORDS = (Former, Stringer)
