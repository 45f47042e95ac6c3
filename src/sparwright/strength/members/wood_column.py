"""Wooden strips, posts and spars pressed along the grain between places that hold them sideways.

    K = pi sqrt(3 E/(2 F_c))                       slenderness L/rho where both formulas meet, at 2/3 F_c
    F = F_c (1 - (1/3) (L/(rho K))^4)              L/rho <= K
    F = pi^2 E/(L/rho)^2                           beyond (Euler)

F_c crushing along the grain, E along the grain, L length between inflections (c = 1: ends that turn), rho least radius
of gyration. Source: fpl-tb-167 and anc-18-1951 section 2.2 (from memory, high). Range: L/rho > 0; straight members,
load in the middle; sections whose walls do not buckle by themselves.
"""

from __future__ import annotations

import numpy as np

from sparwright.base.check import Step
from sparwright.strength.members.wood_margin import Floats, margin_step

SOURCE = "fpl-tb-167, anc-18-1951 section 2.2, from memory (high)"


def meeting(youngs: Floats, crushing: Floats) -> np.ndarray:
    """K, the slenderness where the short formula meets Euler's."""
    return np.asarray(np.pi * np.sqrt(1.5 * np.asarray(youngs) / crushing))


def stress(slenderness: Floats, youngs: Floats, crushing: Floats) -> np.ndarray:
    """F, Pa, at L/rho; E and F_c Pa. NaN for a slenderness that is not above nought.

    >>> k = meeting(10e9, 30e6)
    >>> (stress(np.array([1e-9, k, 2 * k]), 10e9, 30e6) / 1e6).round(3)
    array([30., 20.,  5.])
    """
    s, k = np.asarray(slenderness, dtype=float), meeting(youngs, crushing)
    safe = np.where(s > 0, s, np.nan)
    short = np.asarray(crushing) * (1 - (safe / k) ** 4 / 3)
    return np.asarray(np.where(safe <= k, short, np.pi**2 * np.asarray(youngs) / safe**2))


def use(load: Floats, area: Floats, radius: Floats, length: Floats, youngs: Floats, crushing: Floats) -> np.ndarray:
    """P/(A F): ultimate compression P N (plus), area m2, least radius of gyration m, length m; pulls use nothing."""
    able = stress(np.asarray(length) / radius, youngs, crushing)
    return np.asarray(np.maximum(load, 0) / (np.asarray(area) * able))


def working(load: float, area: float, radius: float, length: float, youngs: float, crushing: float
            ) -> tuple[Step, ...]:  # fmt: skip
    """The lines of one member."""
    slim, k = length / radius, float(meeting(youngs, crushing))
    able, found = float(stress(slim, youngs, crushing)), float(use(load, area, radius, length, youngs, crushing))
    formula = "F_c (1 - (1/3) (L/(rho K))^4)" if slim <= k else "pi^2 E/(L/rho)^2"
    given = (("L/rho", slim, "1"), ("K", k, "1"), ("E", youngs, "Pa"), ("F_c", crushing, "Pa"))
    return (
        Step("slenderness where the formulas meet", "K = pi sqrt(3 E/(2 F_c))", given[2:], k, "1", SOURCE),
        Step("column stress", formula, given, able, "Pa", SOURCE),
        Step("use", "P/(A F)", (("P", load, "N"), ("A", area, "m2"), ("F", able, "Pa")), found, "1",
             "common practice: statics"),
        margin_step(found),
    )  # fmt: skip
