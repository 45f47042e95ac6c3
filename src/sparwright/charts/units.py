"""Units of pictures: inch or millimetre drawings, or SI, as the designer draws."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.base.quantity import to
from sparwright.base.record import number


@dataclass(frozen=True)
class Unit:
    """A unit and what SI is times to be in it."""

    name: str
    factor: float = number("1", "shown = SI times this", 1.0)

    def of(self, values: np.ndarray) -> np.ndarray:
        """SI values in this unit."""
        return np.asarray(values, dtype=float) * self.factor


@dataclass(frozen=True)
class Units:
    """What a picture needs."""

    length: Unit
    area: Unit
    speed: Unit
    mass: Unit
    per_length: Unit  # force per length of span
    power: Unit
    climb: Unit
    height: Unit  # of a height or a way along the ground
    fuel: Unit  # mass for each hour, or second


METRIC = Units(Unit("m"), Unit("m²"), Unit("km/h", to(1.0, "km/h")), Unit("kg"), Unit("N/m"),
               Unit("kW", to(1.0, "kW")), Unit("m/s"), Unit("m"), Unit("kg/h", 1 / to(1.0, "h")))  # fmt: skip
UNITS: Mapping[str, Units] = {
    "inch": Units(Unit("in", to(1.0, "in")), Unit("ft²", to(1.0, "ft2")), Unit("kt", to(1.0, "kt")),
                  Unit("lb", to(1.0, "lb")), Unit("lbf/ft", to(1.0, "lbf") / to(1.0, "ft")),
                  Unit("hp", to(1.0, "hp")), Unit("ft/min", to(1.0, "ft/min")), Unit("ft", to(1.0, "ft")),
                  Unit("lb/h", to(1.0, "lb") / to(1.0, "h"))),
    "millimetre": METRIC,
    "si": Units(Unit("m"), Unit("m²"), Unit("m/s"), Unit("kg"), Unit("N/m"), Unit("W"), Unit("m/s"), Unit("m"),
                Unit("kg/s")),
}  # fmt: skip
