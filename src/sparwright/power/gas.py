"""What engine and propeller ask of the air."""

from __future__ import annotations

from typing import Protocol

from sparwright.air.atmosphere import KAPPA, R


class Gas(Protocol):
    """Density, kg/m3; viscosity, Pa s; speed of sound, m/s."""

    @property
    def density(self) -> float: ...
    @property
    def viscosity(self) -> float: ...
    @property
    def sound(self) -> float: ...


def temperature(air: Gas) -> float:
    """T = a^2/(kappa R), K. Source: iso-2533."""
    return air.sound**2 / (KAPPA * R)


def pressure(air: Gas) -> float:
    """p = rho R T, Pa. Source: iso-2533."""
    return air.density * R * temperature(air)
