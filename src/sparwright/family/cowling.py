"""The engine's cowling as the file says it: four flat panels and a nose, on angles."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sparwright.base.record import number
from sparwright.family.fitted import Form
from sparwright.family.stock import Sheet, words

Place = tuple[float, float, float]


@dataclass(frozen=True, kw_only=True)
class CowlEnd:
    """One end of the cowling, a rectangle."""

    half: float = number("m", "half its width over the panels")
    top: float = number("m", "waterline of the top")
    bottom: float = number("m", "waterline of the bottom")


@dataclass(frozen=True, kw_only=True)
class CowlOpening:
    """What is cut out of every panel that it meets; off the centreline it stands for a pair."""

    name: str = words("name")
    place: Place = number("m", "middle")
    size: Place = number("m", "length, width and height over all")
    form: Form = words("box, or round about a line along, across or upright", "box")
    air: Literal["", "in", "out"] = words("whether cooling air goes in or out by it", "")
    reason: str = words("what goes through it")


@dataclass(frozen=True, kw_only=True)
class Cowling:
    """Panels between a nose plate and a firewall, screwed to angles in the corners and round both ends."""

    sheet: Sheet = words("sheet of the panels and the nose")
    angle: Sheet = words("sheet of the angles, bent")
    leg: float = number("m", "of an angle, both legs")
    firewall: str = words("flat sheet that its rear end stands on")
    nose: float = number("m", "station of the nose plate's front")
    front: CowlEnd = words("at the nose plate")
    rear: CowlEnd = words("at the firewall")
    short: float = number("m", "by which the angles round the ends stop short of the corners")
    fastener: str = words("fastener of the panels; key of a fastener", "AN3")
    pitch: float = number("m", "fasteners no further apart than this", 0.1016)
    openings: tuple[CowlOpening, ...] = words("what is cut out", ())


RECORDS = (CowlEnd, CowlOpening, Cowling)
