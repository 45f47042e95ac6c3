"""Bolts as sold and what they are tightened to; ends of bracing wires."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from types import MappingProxyType
from typing import Literal

from sparwright.base.quantity import parse
from sparwright.base.record import number
from sparwright.base.source import Source
from sparwright.data.files import rows
from sparwright.data.loader import source_of

WireEndKind = Literal["fork", "turnbuckle"]
INCH_POUND = parse("1 lbf", "force") * 0.0254  # N m
LONGEST = 60  # eighths of an inch: no grip of a light aeroplane is looked for beyond this


@dataclass(frozen=True, kw_only=True)
class BoltStock:
    """A bolt size as sold, with its torque."""

    key: str
    thread: str
    less: float = number("m", "grip is the length in the dash number less this")
    first: int  # eighths of an inch of the shortest that follows the rule
    torque: tuple[float, float] = number("N m", "low and high, nut of full height, loaded mainly in shear")
    shear_torque: tuple[float, float] = number("N m", "low and high, shear nut")
    washer: float = number("m", "thickness of a plain washer")
    source: Source

    def stocked(self, grip: float) -> tuple[str, float]:
        """(dash number, its grip, m) of the shortest bolt whose grip is not less than that, m.

        ("", NaN) past the longest that is looked for. A grip is the length of the dash number less a fixed length:
        after 7 eighths comes 10, one inch.

        >>> bolts()["AN4"].stocked(0.0254)[0]
        '14'
        """
        for eighths in range(self.first, LONGEST):
            there = eighths / 8 * 0.0254 - self.less
            if there >= grip - 1e-6:
                whole, rest = divmod(eighths, 8)
                return (f"{whole}{rest}" if whole else f"{rest}"), there
        return "", math.nan


@dataclass(frozen=True, kw_only=True)
class WireEnd:
    """What a wire of one diameter ends in."""

    kind: WireEndKind
    diameter: float = number("m", "of the wire")
    pin: str  # key of a bolt
    jaw: float = number("m", "clear between its cheeks")
    cheek: float = number("m", "thickness of a cheek")
    half: float = number("m", "half its width")
    shank: float = number("m", "outside diameter of shank or barrel")
    length: float = number("m", "from its pin to where the wire comes out")
    socket: float = number("m", "how far the wire goes into it")
    take_up: float = number("m", "how much shorter or longer it can be made")
    mass: float = number("kg", "mass with its pin")
    source: Source


@lru_cache(maxsize=1)
def bolts() -> Mapping[str, BoltStock]:
    """Bolts by size: AN3 and so on. A size without a row has grips that are not on file."""
    return MappingProxyType({r["key"]: _bolt(r) for r in rows("bolts.csv")})


def _bolt(r: Mapping[str, str]) -> BoltStock:
    low, high, shear_low, shear_high = (
        float(r[k]) * INCH_POUND for k in ("low", "high", "shear_low", "shear_high")
    )  # fmt: skip
    return BoltStock(
        key=r["key"], thread=r["thread"], less=parse(r["less"], "length"), first=int(r["first"]), torque=(low, high),
        shear_torque=(shear_low, shear_high), washer=parse(r["washer"], "length"), source=source_of(r),
    )  # fmt: skip


@lru_cache(maxsize=1)
def wire_ends() -> tuple[WireEnd, ...]:
    """Every end of a wire that is on file."""
    lengths = ("diameter", "jaw", "cheek", "half", "shank", "length", "socket", "take_up")
    return tuple(
        WireEnd(kind="fork" if r["kind"] == "fork" else "turnbuckle", pin=r["pin"], mass=parse(r["mass"], "mass"),
                source=source_of(r), **{k: parse(r[k], "length") for k in lengths})
        for r in rows("wire_ends.csv")
    )  # fmt: skip


def wire_end(kind: str, diameter: float) -> WireEnd | None:
    """The end of that kind for a wire of that diameter, m, or None where no row has it."""
    return next((w for w in wire_ends() if w.kind == kind and abs(w.diameter - diameter) < 1e-5), None)
