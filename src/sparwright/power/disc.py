"""The actuator disc: the least power any propeller needs. A yardstick, not a method of ours.

Symbols: T thrust, V speed, A disc area, q = rho V^2/2, P power into the slipstream.
Source: glauert-1926 ch. XV (Rankine and Froude's momentum theory).
"""

from __future__ import annotations

import math

from scipy.optimize import brentq


def ideal_efficiency(thrust: float, speed: float, area: float, density: float) -> float:
    """eta = 2/(1 + sqrt(1 + T/(q A))), thrust N, speed m/s above nought, area m2, density kg/m3."""
    return 2 / (1 + math.sqrt(1 + thrust / (density * speed**2 / 2 * area)))


def static_thrust(power: float, area: float, density: float) -> float:
    """T = (2 rho A P^2)^(1/3), N, standing still.

    >>> round(static_thrust(30e3, math.pi * 1.5**2 / 4, 1.225), 1)
    1573.6
    """
    return float((2 * density * area * power**2) ** (1 / 3))


def thrust_at(power: float, speed: float, area: float, density: float) -> float:
    """The thrust at which T V = eta P, N."""

    def spare(thrust: float) -> float:
        return ideal_efficiency(thrust, speed, area, density) * power - thrust * speed

    return float(brentq(spare, 1e-9, power / speed, xtol=1e-10))
