"""Days other than the standard one at sea level, for which performance is told."""

from __future__ import annotations

from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.family.stock import words


@dataclass(frozen=True, kw_only=True)
class Day:
    """A field's height, by the altimeter set to 1013.25 hPa, how warm it is, and how the aeroplane is loaded."""

    name: str = words("name")
    altitude: float = number("m", "pressure altitude")
    warmer: float = number("K", "than the standard day at that height; colder: negative", 0.0)
    mass: float | None = number("kg", "mass in flight; left out: the greatest take-off mass", None)
    balance: float | None = number(
        "1", "centre of gravity, fraction of the mean chord; left out: that of the heaviest loading", None
    )


RECORDS = (Day,)
