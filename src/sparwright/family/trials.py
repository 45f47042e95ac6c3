"""Pieces that are glued, welded and laid up to be broken, as the file says them."""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.family.stock import words


@dataclass(frozen=True, kw_only=True)
class Coupon:
    """The size of one kind of test piece; what it is cut from follows from the joints of the model."""

    length: float = number("m", "of each half, or of the panel")
    width: float = number("m", "of sheet; a bar or tube is as wide as it is")
    count: int = words("how many of it; one is kept with the papers")


@dataclass(frozen=True, kw_only=True)
class TestPieces:
    """Kinds of joint that are tried; one left out is not tried, and that is told."""

    __test__ = False  # the name is the trade's, and no test of the program

    glue: Coupon | None = words("wood glued to wood: two halves side by side", None)
    bond: Coupon | None = words("glass bonded to wood or glass: two halves side by side", None)
    weld: Coupon | None = words("tube or sheet welded to another: two halves in a T", None)
    lay_up: Coupon | None = words("a panel of each laminate", None)


RECORDS = (Coupon, TestPieces)
