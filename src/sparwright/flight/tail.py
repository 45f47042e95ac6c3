"""The tail as the textbooks write it: a yardstick for the lattice, and the quick look at a tail's size.

Symbols: a lift slope of wing and body, at of the tail, both per rad or both per deg; h, hac, hn centre of gravity,
aerodynamic centre and neutral point as fractions of the mean chord; VH tail volume; de downwash slope d eps/d alpha;
it tail setting, nose down positive here as the source has it; alpha absolute, from zero lift.
Source of all: anderson-flight ch. 7; equation numbers from memory.
"""

from __future__ import annotations


def tail_volume(tail_area: float, arm: float, wing_area: float, mean_chord: float) -> float:
    """VH = lt St/(c S), areas m2, arm and chord m. Source: anderson-flight eq. 7.16."""
    return arm * tail_area / (mean_chord * wing_area)


def moment_at_zero_lift(wing_moment: float, VH: float, at: float, it: float, e0: float = 0.0) -> float:
    """Cm0 = Cm,ac + VH at (it + e0). Source: anderson-flight eq. 7.27.

    >>> round(moment_at_zero_lift(-0.032, 0.34, 0.1, 2.7), 4)
    0.0598
    """
    return wing_moment + VH * at * (it + e0)


def moment_slope(a: float, arm: float, VH: float, at: float, de: float) -> float:
    """dCm/dalpha = a [(h - hac) - VH at/a (1 - de)], `arm` is h - hac. Source: anderson-flight eq. 7.28."""
    return a * (arm - VH * at / a * (1 - de))


def neutral_point(hac: float, a: float, VH: float, at: float, de: float, free: float = 1.0) -> float:
    """hn = hac + F VH at/a (1 - de), F 1 stick fixed. Source: anderson-flight eq. 7.30 and 7.49.

    >>> round(neutral_point(0.24, 0.08, 0.34, 0.1, 0.35), 3)
    0.516
    """
    return hac + free * VH * at / a * (1 - de)


def free_elevator_factor(at: float, lift_per_elevator: float, hinge_alpha: float, hinge_elevator: float) -> float:
    """F = 1 - (1/at)(dCLt/dde)(Ch_alpha/Ch_de). Source: anderson-flight eq. 7.46."""
    return 1 - lift_per_elevator / at * hinge_alpha / hinge_elevator


def elevator_to_trim(Cm0: float, slope: float, alpha: float, VH: float, lift_per_elevator: float) -> float:
    """de = (Cm0 + dCm/dalpha alpha)/(VH dCLt/dde), trailing edge down positive. Source: anderson-flight eq. 7.41."""
    return (Cm0 + slope * alpha) / (VH * lift_per_elevator)
