"""Openings to look and reach into a wing, as the file says them: each with its reason."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.stock import Sheet, words


@dataclass(frozen=True, kw_only=True)
class Opening:
    """A round hole in a wing's skin, on both sides of the aeroplane."""

    buttline: float = number("m", "buttline of its middle")
    at: float = number("1", "where its middle is, fraction of the chord")
    side: Literal["lower", "upper"] = words("surface it is in", "lower")
    diameter: float = number("m", "diameter of the hole")
    reason: str = words("what is seen or reached through it")


@dataclass(frozen=True, kw_only=True)
class Inspection:
    """Rings glued in under the skin, and covers over their holes."""

    ring: Sheet = words("sheet of the rings")
    cover: Sheet = words("sheet of the covers")
    rim: float = number("m", "how far ring and cover reach beyond the hole, and the ring into it")
    openings: tuple[Opening, ...] = words("where they are", ())


RECORDS = (Opening, Inspection)
