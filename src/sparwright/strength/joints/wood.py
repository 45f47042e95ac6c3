"""Wood under bolts, steel plates on both faces: bolts across a spar or its block. Ultimate loads in, use out.

Symbols as in en-1995-1-1: d bolt, mm, rho_k characteristic density, kg/m3, t_2 wood between the plates, f_u of the
bolt, a angle of load to grain, f_h embedment strength, M_y yield moment, F_v a shear plane.

    f_h0 = 0.082 (1 - 0.01 d) rho_k  N/mm2                              (8.32)
    f_ha = f_h0/(k_90 sin^2 a + cos^2 a)                                (8.31), Hankinson's way
    k_90 = 1.35 + 0.015 d softwood, 0.90 + 0.015 d hardwood            (8.33)
    M_y = 0.3 f_u d^2.6  N mm                                           (8.30)
    F_v = least of 0.5 f_h t_2 d and 1.15 sqrt(2 M_y f_h d)             (8.12), plates up to d/2; rope left out
    n_ef = n^0.9 (a_1/(13 d))^0.25, at most n, in a row along the grain (8.34)

All memory, high. The second line is the loss for a slender bolt (L/D): it bends before the wood is crushed all along.
Trayer's tables (US Department of Agriculture 332, 1932) and ANC-18's charts, the aircraft trade's own, could not be
read; hold these against them before they decide. Short loads, dry wood; no gain for seconds, no loss for years taken.
Range: d 4.5 to 30 mm, below 6 by (8.16) for nails in drilled holes, the same formula; rho_k 290 to 900. Plywood webs
count as nothing.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.strength.members.margin import finite, first, verdict, within

LEAST, MOST = 4.5e-3, 30e-3  # m; AN3 is 4.83 mm
LIGHT, HEAVY = 290.0, 900.0


def embedment(diameter: ArrayLike, density: ArrayLike, angle: ArrayLike, hardwood: bool = False) -> np.ndarray:
    """f_h at an angle to the grain, Pa. diameter m, density rho_k kg/m3, angle rad; NaN outside the range."""
    d, rho, a = np.asarray(diameter, dtype=float) * 1e3, np.asarray(density, dtype=float), np.asarray(angle)
    across = (0.90 if hardwood else 1.35) + 0.015 * d
    ok = (d >= LEAST * 1e3) & (d <= MOST * 1e3) & (rho >= LIGHT) & (rho <= HEAVY)
    grain = 0.082 * (1 - 0.01 * d) * within(ok, rho) * 1e6
    return np.asarray(grain / (across * np.sin(a) ** 2 + np.cos(a) ** 2))


def yield_moment(diameter: ArrayLike, tension: ArrayLike) -> np.ndarray:
    """M_y = 0.3 f_u d^2.6, N m. tension f_u of the bolt, Pa.

    >>> round(float(yield_moment(0.012, 400e6)), 2)
    76.75
    """
    d = np.asarray(diameter, dtype=float) * 1e3
    return np.asarray(0.3 * np.asarray(tension, dtype=float) * 1e-6 * d**2.6 * 1e-3)


def plane_strength(diameter: ArrayLike, thickness: ArrayLike, embedded: ArrayLike, moment: ArrayLike) -> np.ndarray:
    """F_v of one of the two shear planes, N: least of 0.5 f_h t_2 d and 1.15 sqrt(2 M_y f_h d)."""
    d, t, f, M = (np.asarray(v, dtype=float) for v in (diameter, thickness, embedded, moment))
    return np.asarray(np.minimum(0.5 * f * t * d, 1.15 * np.sqrt(2 * M * f * d)))


def effective(count: ArrayLike, pitch: ArrayLike, diameter: ArrayLike) -> np.ndarray:
    """n_ef of n bolts in a row along the grain at pitch a_1: they split the wood before all are at work."""
    n, p, d = (np.asarray(v, dtype=float) for v in (count, pitch, diameter))
    return np.asarray(np.minimum(n, n**0.9 * (p / (13 * d)) ** 0.25))


def use(load: ArrayLike, angle: ArrayLike, diameter: ArrayLike, thickness: ArrayLike, density: ArrayLike,
        tension: ArrayLike, hardwood: bool = False) -> np.ndarray:  # fmt: skip
    """P/(2 F_v): one bolt across wood of thickness t_2 between two steel plates. load N, angle to the grain rad."""
    f = embedment(diameter, density, angle, hardwood)
    F = plane_strength(diameter, thickness, f, yield_moment(diameter, tension))
    return np.asarray(np.abs(np.asarray(load, dtype=float)) / (2 * F))


def rules(edge: float, end: float, pitch: float, diameter: float) -> tuple[str, ...]:
    """What distances break of en-1995-1-1 Table 8.4 (memory, high); m. end: in the grain's direction, pulled side.

    >>> rules(0.030, 0.060, 0.030, 0.00635)
    ('end distance 60 mm, 80 is the rule',)
    """
    least_end = max(7 * diameter, 0.080)
    said = (
        f"edge distance {edge * 1e3:.0f} mm, {4e3 * diameter:.0f} is the rule" if edge < 4 * diameter else "",
        f"end distance {end * 1e3:.0f} mm, {least_end * 1e3:.0f} is the rule" if end < least_end else "",
        f"pitch {pitch * 1e3:.0f} mm, {4e3 * diameter:.0f} is the rule" if pitch < 4 * diameter else "",
    )
    return tuple(x for x in said if x)


def outside_range(diameter: float, density: float) -> str:
    """Why the use is NaN; empty where it is not."""
    return first(
        finite(diameter=diameter, density=density),
        "" if LEAST <= diameter <= MOST else f"bolt {diameter * 1e3:.1f} mm is not in 4.5 to 30",
        "" if LIGHT <= density <= HEAVY else f"density {density:.0f} kg/m3 is not in 290 to 900",
    )


def working(load: float, angle: float, diameter: float, thickness: float, density: float, tension: float,
            hardwood: bool = False) -> tuple[Step, ...]:  # fmt: skip
    """One bolt, line by line."""
    f = float(embedment(diameter, density, angle, hardwood))
    M = float(yield_moment(diameter, tension))
    F = float(plane_strength(diameter, thickness, f, M))
    size = (("d", diameter, "m"), ("rho_k", density, "kg/m3"), ("a", angle, "rad"))
    return (
        Step("embedment strength", "0.082 (1 - 0.01 d) rho_k/(k_90 sin^2 a + cos^2 a), d in mm, N/mm2", size, f, "Pa",
             "en-1995-1-1 (8.31) to (8.33), memory"),
        Step("yield moment of the bolt", "0.3 f_u d^2.6, N and mm", (("f_u", tension, "Pa"), ("d", diameter, "m")), M,
             "N m", "en-1995-1-1 (8.30), memory"),
        Step("one shear plane", "least of 0.5 f_h t_2 d, 1.15 sqrt(2 M_y f_h d)",
             (("t_2", thickness, "m"), ("f_h", f, "Pa"), ("M_y", M, "N m")), F, "N", "en-1995-1-1 (8.12), memory"),
        *verdict(float(use(load, angle, diameter, thickness, density, tension, hardwood)), "P/(2 F_v)",
                 (("P", load, "N"), ("F_v", F, "N")), outside_range(diameter, density)),
    )  # fmt: skip
