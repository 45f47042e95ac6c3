"""The standard atmosphere up to 11 km, with a temperature offset for hot and cold days.

Symbols of ISO 2533: H geopotential altitude, T temperature, p pressure, rho density, a speed of sound,
mu dynamic viscosity, beta temperature gradient, R specific gas constant of air, S Sutherland's constant.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from sparwright.base.axes import GRAVITY
from sparwright.base.record import number

P0 = 101325.0  # Pa, sea level; ISO 2533 table 1
T0 = 288.15  # K, sea level; ISO 2533 table 1
BETA = -0.0065  # K/m, gradient up to 11 km; ISO 2533 table 4
R = 287.05287  # J/(kg K); ISO 2533 table 1
KAPPA = 1.4  # ratio of specific heats; ISO 2533 table 1
BETA_S = 1.458e-6  # kg/(m s sqrt K), Sutherland's coefficient; ISO 2533 table 1
S = 110.4  # K, Sutherland's constant; ISO 2533 table 1
LOWEST, HIGHEST = -1000.0, 11000.0  # m, the range we use of the layer


@dataclass(frozen=True)
class Air:
    """The state of the air at one height."""

    temperature: float = number("K", "temperature")
    pressure: float = number("Pa", "static pressure")
    density: float = number("kg/m3", "density")
    sound: float = number("m/s", "speed of sound")
    viscosity: float = number("Pa s", "dynamic viscosity")

    @property
    def kinematic(self) -> float:
        """Kinematic viscosity, m2/s."""
        return self.viscosity / self.density


def atmosphere(altitude: float, offset: float = 0.0) -> Air:
    """The standard atmosphere at a height.

    T = T0 + beta H, p = p0 (T/T0)^(-g/(beta R)), rho = p/(R T), a = sqrt(kappa R T),
    mu = beta_s T^1.5/(T + S). With an offset the pressure stays that of the standard day at the same
    pressure altitude, and the warmer or colder temperature enters rho, a and mu.

    altitude: geopotential (pressure) altitude, m. offset: K, warmer than standard positive.
    Raises ValueError outside -1000 to 11000 m, or where the temperature is not above nought.
    Source: iso-2533, eq. 2 to 9 and table 1.

    >>> round(atmosphere(3000.0).density, 5)
    0.90912
    """
    if not LOWEST <= altitude <= HIGHEST:
        raise ValueError(
            f"the standard atmosphere here reaches from {LOWEST:g} m to {HIGHEST:g} m, not to {altitude:g} m"
        )
    standard = T0 + BETA * altitude
    T = standard + offset
    if not T > 0:
        raise ValueError(f"a temperature offset of {offset:g} K leaves {T:g} K at {altitude:g} m")
    p = P0 * (standard / T0) ** (-GRAVITY / (BETA * R))
    return Air(T, p, p / (R * T), math.sqrt(KAPPA * R * T), BETA_S * T**1.5 / (T + S))
