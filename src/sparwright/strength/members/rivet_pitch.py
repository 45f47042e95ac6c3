"""Rows of rivets along caps and ribs: what each carries, what it bears, and sheet that buckles between them.

Symbols: q shear flow, p pitch, r rows, D diameter of the hole, t sheet, e edge distance, c end fixity of the sheet.

    P = q p/r                        load of one rivet
    P_s = F_su pi D^2/4 n            shear, n cuts;   P_br = F_bru D t   bearing, e/D 2 or as F_bru was found
    F_ir = c pi^2 E/(12 (1 - nu^2)) (t/p)^2      sheet between two rivets, pressed along the row
        c 4 universal and round heads, 3 brazier heads, 1 countersunk

Rules of the shop: p >= 3 D, e >= 2 D (e is the caller's). Bearing strengths hold for t/D >= 0.18 (mil-hdbk-5, read).
Past half the yield stress F_ir comes down by Johnson's parabola. Sources: bruhn C7 (memory, high) for F_ir and c;
AC 43.13-1B chapter 4 for pitch and edge (read second-hand).
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.base.check import Step
from sparwright.strength.members.web import Many, bent_down, bent_plate, margin

FIXITY = {"universal": 4.0, "brazier": 3.0, "countersunk": 1.0}
THINNEST = 0.18  # t/D under which bearing strengths do not hold
CLOSEST = 3.0  # p/D


def load(flow: Many, pitch: Many, rows: int = 1) -> np.ndarray:
    """Load of one rivet, N, of a shear flow N/m at a pitch, m."""
    return np.asarray(np.abs(flow) * pitch / rows)


def strength(hole: Many, sheet: Many, shear: float, bearing: float, cuts: int = 1) -> np.ndarray:
    """Least of shear and bearing of one rivet, N; NaN where t/D is under 0.18 and bearing could decide unseen.

    sheet: the thinnest that pulls one way, m. shear F_su of the rivet, bearing F_bru of the sheet, Pa.

    >>> round(float(strength(0.159, 0.050, 30e3, 121e3)))   # 5/32 AD in its hole; lb
    596
    """
    d, t = np.asarray(hole, float), np.asarray(sheet, float)
    least = np.minimum(cuts * shear * math.pi * d**2 / 4, bearing * d * t)
    return np.asarray(np.where(t / d >= THINNEST - 1e-9, least, np.nan))


def between(
    sheet: Many, pitch: Many, youngs: float, yielding: float, head: str = "universal", poisson: float = 0.33
) -> np.ndarray:
    """F_ir, Pa: stress along the row at which the sheet buckles between two rivets.

    >>> round(float(between(0.020, 0.75, 9.9e6, 34e3)))
    22881
    """
    e = FIXITY[head] * bent_plate(youngs, poisson) * (np.asarray(sheet, float) / np.asarray(pitch)) ** 2
    return bent_down(e, yielding)


def greatest_pitch(flow: Many, one: Many, rows: int = 1) -> np.ndarray:
    """Pitch at which each rivet carries just its strength `one`, N; m."""
    with np.errstate(divide="ignore"):
        return np.asarray(rows * np.asarray(one) / np.abs(flow))


def use(
    flow: Many, pitch: Many, hole: Many, sheet: Many, shear: float, bearing: float, rows: int = 1, cuts: int = 1
) -> np.ndarray:
    """Use of a row of rivets by a shear flow at ultimate load; NaN for a pitch under 3 D."""
    found = load(flow, pitch, rows) / strength(hole, sheet, shear, bearing, cuts)
    return np.asarray(np.where(np.asarray(pitch) >= CLOSEST * np.asarray(hole) - 1e-9, found, np.nan))


def use_between(
    pressed: Many, sheet: Many, pitch: Many, youngs: float, yielding: float, head: str = "universal"
) -> np.ndarray:
    """Use of the sheet between rivets by a compressive stress along the row, Pa; tension uses nothing."""
    return np.asarray(np.maximum(pressed, 0.0) / between(sheet, pitch, youngs, yielding, head))


def working(
    flow: float, pitch: float, hole: float, sheet: float, shear: float, bearing: float, rows: int = 1, cuts: int = 1
) -> tuple[Step, ...]:
    """One row under a shear flow at ultimate load, N/m."""
    d = ("D", hole, "m")
    by_shear, by_bearing = cuts * shear * math.pi * hole**2 / 4, bearing * hole * sheet
    used = float(use(flow, pitch, hole, sheet, shear, bearing, rows, cuts))
    return (
        Step(
            "load of a rivet",
            "P = q p/r",
            (("q", flow, "N/m"), ("p", pitch, "m"), ("r", float(rows), "1")),
            abs(flow) * pitch / rows,
            "N",
            "statics",
        ),
        Step(
            "shear of a rivet",
            "P_s = n F_su pi D^2/4",
            (("n", float(cuts), "1"), ("F_su", shear, "Pa"), d),
            by_shear,
            "N",
            "statics",
        ),
        Step(
            "bearing",
            "P_br = F_bru D t",
            (("F_bru", bearing, "Pa"), d, ("t", sheet, "m")),
            by_bearing,
            "N",
            "statics; t/D >= 0.18",
        ),
        *margin("rivets", used),
    )
