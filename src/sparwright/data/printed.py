"""What an edition prints of a material, and which of several editions is taken."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.base.source import Source

BULK = frozenset(("density", "youngs", "shear_modulus", "poisson"))  # the same at every thickness
SAME = 0.005  # values that agree to half a percent are one value, printed in two units
SURE = ("exact", "measured", "read", "computed", "second-hand", "chart")  # the best seen first; any other comes after


@dataclass(frozen=True, kw_only=True)
class Printed:
    """One value of a material as one edition prints it."""

    name: str  # field of a Material
    value: float = number("SI", "the value, in `unit`")
    unit: str
    source: Source
    edition: str  # what a designer chooses it by: key of its source, or a name of its own
    basis: str = ""  # "A", "B", "S", "fifth percentile", "for design", "rule"; empty: not told
    state: str = ""  # moisture or temper
    form: str = ""  # sheet, tube; empty: any
    least: float = number("m", "holds for what is thicker than this", 0.0)
    most: float = number("m", "holds up to this thickness", math.inf)

    def holds(self, thickness: float | None) -> bool:
        """Whether it is printed for that thickness, m; None, or a bulk property: always.

        An end counts to a hundredth of a millimetre, the rounding between inches and millimetres.
        """
        if thickness is None or self.name in BULK:
            return True
        return (
            self.least - 1e-5 <= thickness <= self.most + 1e-5 and not abs(thickness - self.least) < 1e-5 < self.least
        )


def taken(rows: Iterable[Printed]) -> Printed | None:
    """The row that is used: the least strength or stiffness, the greatest density; None of none.

    Of rows within half a percent of it the one that was best seen.
    """
    every = [r for r in rows if math.isfinite(r.value)]
    if not every:
        return None
    heavy = every[0].name == "density"
    worst = max(r.value for r in every) if heavy else min(r.value for r in every)
    return min((r for r in every if abs(r.value - worst) <= SAME * abs(worst)), key=_rank)


def _rank(row: Printed) -> int:
    return SURE.index(row.source.mark) if row.source.mark in SURE else len(SURE)
