"""Where a number comes from, and how sure we are of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

from sparwright.base.record import number

MARKS = ("exact", "measured", "read", "second-hand", "computed", "chart", "memory", "common practice", "invented",
         "designer")  # fmt: skip


@dataclass(frozen=True)
class Source:
    """A key of data/sources.toml, the place in it, and how it was had.

    mark: exact, measured, read (seen in the source), second-hand (seen where another quotes it),
    computed (from a stated closed form), chart (read off a curve), memory (recalled, not seen), common practice
    (no source), invented (demo data), designer (said so in the family file).
    """

    key: str
    place: str = ""
    mark: str = "read"

    def __str__(self) -> str:
        return " ".join(x for x in (self.key, self.place, f"({self.mark})") if x)


@dataclass(frozen=True)
class Band:
    """A value with the range it is believed to lie in; any of the three may be NaN for unknown."""

    value: float = number("SI", "best estimate, SI")
    low: float = number("SI", "lower end, SI")
    high: float = number("SI", "upper end, SI")

    @staticmethod
    def relative(value: float, fraction: float) -> Band:
        """value, give or take a fraction of it."""
        width = abs(value) * fraction
        return Band(value, value - width, value + width)

    @staticmethod
    def exact(value: float) -> Band:
        """A value without a band."""
        return Band(value, value, value)

    @property
    def known(self) -> bool:
        """Whether all three numbers are finite."""
        return all(map(math.isfinite, (self.value, self.low, self.high)))


UNKNOWN = Band.exact(math.nan)
