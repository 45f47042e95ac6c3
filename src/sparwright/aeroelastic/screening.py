"""Simplified criteria for small cantilever aeroplanes: shown as screening where they are past their range, no verdict.

    F = sum th c^2 ds over the aileron <= 200/VD^2        th twist for a torque of 1 lbf ft outboard of it, rad; c, ds
                                                          ft; VD mph: the wing's stiffness against flutter, reversal,
                                                          divergence
    K/I <= 3 - (VD/300)^2                                 K product of inertia of an aileron about its hinge and the
                                                          wing's oscillation axis, I about its hinge; VD mph
    g = S b/I                                             S unbalance of elevator or rudder about its hinge, b half
                                                          the surface's chord at half its span: parallel axes, the
                                                          fuselage's bending; K/I about its line: square axes, torsion
Range: cantilever wings of one spar box or a skin, no large masses in the wing, VD under 260 kt; a braced cell does not
twist by a torque at its tip alone. Source: caa-report-45 (nomenclature and range read; F's limit memory, high, K/I's
medium; g's letters medium, its limits are curves over VD/(b f), f the fuselage's bending frequency, which are not at
hand). The twist is the frame's own; the divergence speed of a uniform cantilever: megson (read).
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

FOOT, POUND_FOOT, MPH = 0.3048, 1.3558179483314004, 0.44704


def flexibility(twist: ArrayLike, chord: ArrayLike, width: ArrayLike) -> float:
    """F, ft^3 rad per lbf ft: twist (k,) rad per N m, chord and width (k,) m of strips over the aileron.

    >>> at = [ (7.0 + 0.01 * (i + 0.5)) * FOOT for i in range(700)]
    >>> gj = 13889.0 * POUND_FOOT * FOOT  # lbf ft2
    >>> round(flexibility([y / gj for y in at], [4.5 * FOOT] * 700, [0.01 * FOOT] * 700), 5)
    0.10716
    """
    th = np.asarray(twist) * POUND_FOOT
    return float(np.sum(th * (np.asarray(chord) / FOOT) ** 2 * np.asarray(width) / FOOT))


def most_flexible(dive: float) -> float:
    """F's limit at a dive speed, m/s: 200/VD^2, VD in mph.

    >>> round(most_flexible(120 * MPH), 5), round(most_flexible(150 * MPH), 5)
    (0.01389, 0.00889)
    """
    return 200 / (dive / MPH) ** 2


def balance_limit(dive: float) -> float:
    """Greatest K/I of an aileron: 3 - (VD/300)^2, VD in mph.

    >>> round(balance_limit(150 * MPH), 2)
    2.75
    """
    return 3 - (dive / MPH / 300) ** 2


def parallel_parameter(unbalance: float, inertia: float, half_chord: float) -> float:
    """g = S b/I of elevator or rudder: unbalance kg m, tail heavy positive; inertia kg m2 about the hinge; b m.

    >>> parallel_parameter(0.5, 0.25, 0.5)
    1.0
    """
    return unbalance * half_chord / inertia if inertia else math.nan


def cantilever_divergence(stiffness: float, chord: float, aft: float, length: float, slope: float, density: float
                          ) -> float:  # fmt: skip
    """Divergence speed of a uniform straight cantilever, m/s: (pi/2)^2 GJ/(c e a s^2) = rho V^2/2.

    stiffness: GJ, N m2; aft: from the aerodynamic centre back to the elastic axis, m; infinite where it is not aft;
    length: root to tip, m; slope: of lift, 1/rad. Source: megson (read).

    >>> round(cantilever_divergence(12e6, 2.8, 1.2, 8.0, 3.1, 1.226), 1)
    269.2
    """
    if aft <= 0:
        return math.inf
    return math.sqrt(2 / density * (math.pi / 2) ** 2 * stiffness / (chord * aft * slope * length**2))
