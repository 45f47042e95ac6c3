"""A sharp-edged gust with its relief: the load factor it makes.

Symbols: W/S wing loading, rho0 air density at sea level, rho at height, C mean geometric chord, a lift slope of the
whole aeroplane, V equivalent airspeed, U gust, mu mass ratio, Kg relief, 1 - cosine gust of 25 chords folded in.

    mu = 2 (W/S)/(rho C a g)      Kg = 0.88 mu/(5.3 + mu)      n = 1 +- rho0 V a Kg U/(2 W/S)

Range: mu above nought; one stiff aeroplane, rising without pitching. Several wings are taken as one of their whole area
and mean geometric chord: that the gust meets them one after another is not in it (23.341(b) asks for a rational
analysis of tandems). Sources: cfr-23-2014 23.341(c) (read), cs-vla 341 alike; the constant 498 of 23.341(c) is 2/rho0
in kt, ft/s and lb/ft2 to 0.1 %.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sparwright.air.atmosphere import atmosphere
from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.loads.code import Code
from sparwright.loads.laden import SEA_LEVEL


@dataclass(frozen=True, kw_only=True)
class Cell:
    """What a gust meets."""

    area: float = number("m2", "area of all wings")
    chord: float = number("m", "mean geometric chord")
    slope: float = number("1/rad", "lift slope of the whole aeroplane")
    density: float = number("kg/m3", "air the mass ratio is told for: at the greatest height flown at", SEA_LEVEL)


@dataclass(frozen=True, kw_only=True)
class Gust:
    """One gust at one speed and mass."""

    speed: float = number("m/s", "equivalent airspeed")
    gust: float = number("m/s", "gust, up or down")
    mass: float = number("kg", "mass")
    ratio: float = number("1", "mass ratio mu")
    relief: float = number("1", "Kg")
    rise: float = number("1", "what the gust adds to or takes from the load factor")
    loading: float = number("Pa", "wing loading")

    @property
    def up(self) -> float:
        """Load factor in the gust from below."""
        return 1 + self.rise

    @property
    def down(self) -> float:
        """Load factor in the gust from above."""
        return 1 - self.rise


def in_gust(code: Code, cell: Cell, mass: float, speed: float, gust: float) -> Gust:
    """The load factor in a gust. mass kg, speed m/s equivalent, gust m/s. NaN for a mass ratio not above nought."""
    loading = mass * GRAVITY / cell.area
    mu = 2 * loading / (cell.density * cell.chord * cell.slope * GRAVITY)
    relief = code["relief"] * mu / (code["relief_half"] + mu) if mu > 0 else math.nan
    rise = SEA_LEVEL * speed * cell.slope * relief * gust / (2 * loading)
    return Gust(speed=speed, gust=gust, mass=mass, ratio=mu, relief=relief, rise=rise, loading=loading)


def gust_steps(code: Code, cell: Cell, g: Gust) -> tuple[Step, ...]:
    """How the relief and the load factor come about."""
    at = (("W/S", g.loading, "Pa"), ("rho", cell.density, "kg/m3"), ("C", cell.chord, "m"), ("a", cell.slope, "1/rad"))
    given = (
        ("V", g.speed, "m/s"),
        ("a", cell.slope, "1/rad"),
        ("Kg", g.relief, "1"),
        ("U", g.gust, "m/s"),
        ("W/S", g.loading, "Pa"),
    )
    return (
        code.step("mass ratio", "mu = 2 (W/S)/(rho C a g)", at, g.ratio, "1", "relief"),
        code.step("relief", "Kg = 0.88 mu/(5.3 + mu)", (("mu", g.ratio, "1"),), g.relief, "1", "relief"),
        code.step("rise of the load factor in the gust", "rho0 V a Kg U/(2 W/S)", given, g.rise, "1", "relief"),
    )


def air_at(height: float | None) -> float:
    """Density at a height, m, on the standard day; at sea level where none is told."""
    return atmosphere(height).density if height is not None else SEA_LEVEL
