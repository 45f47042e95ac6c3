"""Parts that were weighed: their mass on a scale takes the place of the computed one."""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.family.entry import Entry, Faults


@dataclass(frozen=True, kw_only=True)
class Weighed:
    """One part number, weighed."""

    part: str = number("", "part number as the cut list has it")
    mass: float = number("kg", "mass of one; of several alike, their mean")
    scale: float = number("kg", "give or take of one, by the scale and how it was read")
    note: str = number("", "when, where, finished or bare", "")


RECORDS = (Weighed,)


def check_weighed(weighed: tuple[Weighed, ...], whole: Entry, faults: Faults) -> None:
    """No part is weighed twice, and a scale's doubt is less than what it weighs."""
    seen: set[str] = set()
    for i, one in enumerate(weighed):
        spot = whole.nearest("weighed", i)
        if one.part in seen:
            faults.add(spot.nearest("part"), "is weighed twice; put the mean of them in one table", one.part)
        if one.scale >= one.mass:
            faults.wrong(spot.nearest("scale"), "must be less than the mass it belongs to")
        seen.add(one.part)
