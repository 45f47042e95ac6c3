"""Where the aeroplane is held when it does not fly: tied down by ropes, put on jacks, hung in slings."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.stock import words

Place = tuple[float, float, float]


@dataclass(frozen=True, kw_only=True)
class HeldPoint:
    """A node of the fuselage, a spar of a wing at a buttline, or a place; off the centreline it stands for a pair."""

    node: str = words("fuselage node", "")
    wing: str = words("wing, instead of a node", "")
    spar: str = words("spar of that wing", "")
    buttline: float = number("m", "buttline on the wing", 0.0)
    place: Place | None = number("m", "place, instead of a node: what it presses on is the frame nearest to it", None)


@dataclass(frozen=True, kw_only=True)
class Rope(HeldPoint):
    """A rope from a point of the aeroplane to a peg in the ground."""

    ahead: float = number("m", "how far its peg lies ahead of the point, along the ground; behind it negative", 0.0)
    outwards: float = number(
        "m", "how far its peg lies further out than the point; on the centreline: two ropes, right and left", 0.0
    )


@dataclass(frozen=True, kw_only=True)
class Parked:
    """What holds the aeroplane that does not fly. What is left out is unknown, and so is its load case."""

    ropes: tuple[Rope, ...] = words("ropes that tie it down in the open", ())
    wind: float | None = number(
        "m/s", "greatest wind it may be tied down in, from any side; left out: the code's, 65 kt", None
    )
    jacks: tuple[HeldPoint, ...] = words("what it is jacked by", ())
    jacked: Literal["three_point", "level"] = words(
        "how it stands on its jacks: as on its three wheels, or thrust line and wings level", "three_point"
    )
    slings: tuple[HeldPoint, ...] = words("what it is hoisted by", ())
    hook: Place | None = number(
        "m", "where its slings meet, on the centreline; left out: each hangs straight down from a spreader", None
    )


RECORDS = (HeldPoint, Rope, Parked)
