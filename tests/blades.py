"""Section data for tests of propellers: out of kept polars, or a plain table that knows no Reynolds number."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from shelf import shelf

from sparwright.power.blade import Blade
from sparwright.power.blade_section import LiftDrag, SectionData, sections_along
from sparwright.power.gas import Gas


@dataclass(frozen=True)
class Plain:
    """Lift and drag over angle, whatever the Reynolds number."""

    alpha: np.ndarray
    lift: np.ndarray
    drag: np.ndarray

    def at(self, reynolds: np.ndarray) -> LiftDrag:
        """(cl, cd) at angles."""
        return lambda a: (np.interp(a, self.alpha, self.lift), np.interp(a, self.alpha, self.drag))


def computed(blade: Blade, slow: float, fast: float, air: Gas) -> SectionData:
    """The blade's sections out of kept polars, between two turning rates, rev/s."""
    return sections_along(blade, (slow, fast), air, shelf)
