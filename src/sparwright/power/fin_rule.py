"""The force across a propeller's axis when the air meets it at an angle, by the rule of the fin.

Symbols: B blades, c chord, beta blade angle, r radius, V speed, v speed added at the disc, k = v/V, q = rho V^2/2, a
angle of the air to the axis, N force square to the axis.

    N = q f(k) F s a,   F = B/2 Int c sin(beta) dr,   s = 2 pi A/(A + 2), A = 8
    f(k) = (1 + k) ((1 + k) + (1 + 2 k)^2)/(1 + (1 + 2 k)^2)

A propeller at an angle acts as a fin: of the area of its blades seen from the side (F, the mean over a turn of
sin^2), an aspect ratio of about 8, and about the dynamic pressure at the disc. Sources: naca-wr-l-219, conclusions
(read), f (memory); the mean over a turn and the slope by lifting line are ours. Blade elements whose flow through the
disc stays as it is, with the slope of that aspect ratio, give 0.96 to 1.08 of it from 0.2 to 0.9 of the advance of the
pitch (tests/properties/test_fin_rule.py); no measured one was read. Range: small angles, a propeller that pulls or
turns free. Band: a quarter either way.
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.base.source import Band
from sparwright.power.propeller import Blade

ASPECT = 8.0
SLOPE = 2 * math.pi * ASPECT / (ASPECT + 2)  # 1/rad, glauert-1926 ch. XI, elliptic load
GIVE = 0.25


def side_area(blade: Blade) -> float:
    """F, m2: the blades' area seen square to the axis, mean over a turn."""
    return blade.blades / 2 * float(np.trapezoid(blade.chord * np.sin(blade.angle), blade.r))


def inflow_factor(k: float) -> float:
    """f(k), what the flow through the disc makes of the force; 1 for a propeller that adds nothing.

    >>> inflow_factor(0.5)
    1.65
    """
    return (1 + k) * ((1 + k) + (1 + 2 * k) ** 2) / (1 + (1 + 2 * k) ** 2)


def fin_slope(blade: Blade, speed: float, added: float) -> Band:
    """N/q for each radian, m2, at a speed and an added speed at the disc, m/s; NaN standing still.

    >>> blade = Blade(np.array([0.2, 0.8]), np.array([0.1, 0.1]), np.array([0.4, 0.4]), 2, 1.6)
    >>> round(fin_slope(blade, 30.0, 3.0).value, 4)
    0.1345
    """
    return Band.relative(inflow_factor(added / speed if speed > 0 else math.nan) * side_area(blade) * SLOPE, GIVE)
