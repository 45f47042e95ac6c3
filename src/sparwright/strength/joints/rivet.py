"""Rows of rivets, solid and blind: shear, bearing in the sheet, pull, buckling between. Ultimate loads in, use out.

Symbols: P load, n rivets, P_s shear strength of one, D its hole, t the thinner sheet, F_br bearing, e edge distance,
p pitch along the load, c end fixity by head (data/factors.toml), E, F_cy.

    one rivet        least of P_s and F_br D t                                    joints/plate.py for F_br by e/D
    rivets an inch   t F_tu over that: as strong as the sheet                     ac-43-13-1b Tables 4-10, 4-11
    between rivets   F = c pi^2 E (t/p)^2/12, above F_cy/2 Johnson's parabola     flabel-1997, bruhn C7 (second-hand)
    rules            e at least 2 D, p at least 3 D                               ac-43-13-1b (read second hand)

Blind rivets: no published strength is on file as read; AC 43.13-1B 4-57 leaves common pulled ones out of certificated
structure. Their strength comes from tests of the joint itself, as a plain number here; NaN, and so unknown, without.
Pull-through is unknown unless tested: no formula was found that could be read.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.strength.joints.plate import SHEET, bearing_strength
from sparwright.strength.members.column import parabola
from sparwright.strength.members.margin import finite, first, verdict, within, worst

EDGE, PITCH = 2.0, 3.0  # diameters


def strength(shear: ArrayLike, hole: ArrayLike, thickness: ArrayLike, bearing: ArrayLike) -> np.ndarray:
    """Load one rivet carries, N: the least of P_s and F_br D t. NaN for t/D below 0.18, where MIL-HDBK-5 ends.

    shear P_s N; hole D, thickness t of the thinner sheet, m; bearing F_br Pa at its edge distance.

    >>> round(float(strength(596.0, 0.156, 0.050, 121e3)))   # lbf and inches: shear decides, bearing gives 944
    596
    """
    D, t = np.asarray(hole, dtype=float), np.asarray(thickness, dtype=float)
    crush = within(t / D >= SHEET, np.asarray(bearing, dtype=float) * D * t)
    return np.asarray(np.minimum(np.asarray(shear, dtype=float), crush))


def use(load: ArrayLike, each: ArrayLike, count: ArrayLike, uneven: ArrayLike = 1.0) -> np.ndarray:
    """P uneven/(n P_1): shear of a row. each P_1 of `strength` or a test, N; uneven: worst share over even one."""
    P = np.abs(np.asarray(load, dtype=float)) * within(np.asarray(uneven) >= 1, uneven)
    return np.asarray(P / (np.asarray(count) * np.asarray(each, dtype=float)))


def pull_use(load: ArrayLike, tested: ArrayLike, count: ArrayLike) -> np.ndarray:
    """P/(n P_t) square to the sheet. tested P_t: pull-through of one rivet from tests, N; NaN, unknown, without."""
    P = worst(np.asarray(load, dtype=float), 0.0)
    return np.asarray(P / (np.asarray(count) * np.asarray(tested, dtype=float)))


def per_metre(thickness: ArrayLike, tension: ArrayLike, each: ArrayLike) -> np.ndarray:
    """t F_tu/P_1, 1/m: rivets in one row across the load that are as strong as the sheet. tension F_tu, Pa."""
    return np.asarray(np.asarray(thickness, dtype=float) * np.asarray(tension, dtype=float) / np.asarray(each))


def between(thickness: ArrayLike, pitch: ArrayLike, youngs: ArrayLike, crush: ArrayLike,
            fixity: ArrayLike) -> np.ndarray:  # fmt: skip
    """Stress at which a pressed sheet buckles between two rivets, Pa. F = c pi^2 E (t/p)^2/12.

    thickness t, pitch p in m; youngs E, crush F_cy in Pa; fixity c 3 for heads that stand out, 1 countersunk.
    """
    t, p, E, F, c = (np.asarray(a, dtype=float) for a in (thickness, pitch, youngs, crush, fixity))
    elastic = within(p > 0, c * np.pi**2 * E * (t / p) ** 2 / 12)
    return parabola(elastic, F)


def rules(edge: float, pitch: float, diameter: float) -> tuple[str, ...]:
    """What an edge distance and a pitch break of the rules; empty where nothing.

    >>> rules(0.006, 0.012, 0.0032)
    ('edge distance 1.9 diameters, 2 are the rule',)
    """
    e, p = edge / diameter, pitch / diameter
    said = (
        f"edge distance {e:.1f} diameters, {EDGE:g} are the rule" if e < EDGE else "",
        f"pitch {p:.1f} diameters, {PITCH:g} are the rule" if p < PITCH else "",
    )
    return tuple(x for x in said if x)


def working(load: float, count: int, shear: float, hole: float, thickness: float, at_two: float, edge: float,
            at_close: float = math.nan) -> tuple[Step, ...]:  # fmt: skip
    """One row of solid rivets, line by line."""
    F = float(bearing_strength(edge / hole, at_two, at_close))
    each = float(strength(shear, hole, thickness, F))
    why = first(
        finite(load=load, shear=shear, bearing=F),
        "" if thickness / hole >= SHEET else f"t/D {thickness / hole:.2f} is below {SHEET}: not in MIL-HDBK-5",
    )
    return (
        Step("bearing of one rivet", "F_br D t", (("F_br", F, "Pa"), ("D", hole, "m"), ("t", thickness, "m")),
             F * hole * thickness, "N", "mil-hdbk-5"),
        Step("one rivet", "least of P_s and F_br D t", (("P_s", shear, "N"),), each, "N", "mil-hdbk-5"),
        *verdict(float(use(load, each, count)), "P/(n P_1)", (("P", load, "N"), ("n", count, "1"), ("P_1", each, "N")),
                 why),
    )  # fmt: skip
