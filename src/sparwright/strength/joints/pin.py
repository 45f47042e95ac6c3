"""Bolts and pins: shear, pull, bending between lugs, and all of it together. Ultimate loads in, use out.

Symbols: P load, n shear planes, P_s single shear strength, P_t strength in tension, R_s, R_t, R_b uses in shear,
tension, bending; t_1 each outer lug, t_2 the lug or bush in the middle, g gap on each side, b arm, d pin, F_b its
strength in bending, M_u = pi d^3 F_b/32, P_1 strength of both outer lugs, P_2 of the middle one.

    shear and pull   R_s^3 + R_t^2 = 1                                   mil-hdbk-5 chapter 8 (memory, high)
    arm              b = t_1/2 + t_2/4 + g                                bruhn D1.14, affdl-tr-69-42, en-1993-1-8 3.13
    bending          M = P b/2, R_b = M/M_u
    active lugs      P k + g in place of b, k = t_1/(2 P_1) + t_2/(4 P_2): only so much of each lug bears as is needed
                     P_b = (sqrt(g^2 + 8 k M_u) - g)/(2 k)                the same statics; affdl-tr-69-42 (memory)
    shear and bend   R_s^2 + R_b^2 = 1                                   en-1993-1-8 Table 3.10 (read)

The arm b is the safe end; a middle lug as long as a bush makes it far too long, and the active lugs are then taken.
Threads bear nothing: shear strengths hold with the threads out of the shear plane, and no thread may lie in a hole.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.strength.members.margin import finite, verdict, within, worst


def shear_use(load: ArrayLike, strength: ArrayLike, planes: ArrayLike = 1) -> np.ndarray:
    """P/(n P_s). load N; strength P_s of one plane, N (data/fasteners.csv); planes n: 2 between two lugs."""
    P = np.abs(np.asarray(load, dtype=float))
    return np.asarray(P / (np.asarray(planes) * np.asarray(strength, dtype=float)))


def tension_use(load: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """P/P_t; a push uses nothing. load N, the clamping of a tightened bolt not added (common practice)."""
    return np.asarray(worst(np.asarray(load, dtype=float), 0.0) / np.asarray(strength, dtype=float))


def shear_and_tension(shear: ArrayLike, tension: ArrayLike) -> np.ndarray:
    """The u for which (R_s/u)^3 + (R_t/u)^2 = 1: the use, which goes with the load. Each a use of its own, >= 0.

    The largest root of u^3 - R_t^2 u - R_s^3, by Newton from R_s + R_t, which lies above it.

    >>> shear_and_tension([0.5, 0.0, 0.0], [0.0, 0.8, 0.0]).round(12).tolist()
    [0.5, 0.8, 0.0]
    """
    s, t = np.broadcast_arrays(np.asarray(shear, dtype=float), np.asarray(tension, dtype=float))
    s, t = within(s >= 0, s), within(t >= 0, t)
    whole = s + t
    with np.errstate(divide="ignore", invalid="ignore"):
        a, b = s / whole, t / whole  # of one, so that tiny loads do as well as great ones
        u = np.ones_like(whole)
        for _ in range(60):
            u = u - (u**3 - b**2 * u - a**3) / (3 * u**2 - b**2)
    return np.where(whole == 0, 0.0, u * whole)


def arm(outer: ArrayLike, middle: ArrayLike, gap: ArrayLike = 0.0) -> np.ndarray:
    """b = t_1/2 + t_2/4 + g, m: outer t_1 each outer lug, middle t_2, gap g on each side."""
    t_1, t_2, g = (np.asarray(v, dtype=float) for v in (outer, middle, gap))
    return np.asarray(t_1 / 2 + t_2 / 4 + within(g >= 0, g))


def moment_strength(diameter: ArrayLike, bending: ArrayLike) -> np.ndarray:
    """M_u = pi d^3 F_b/32, N m. F_b, Pa, is at least the tension strength: 1.5 F_y in en-1993-1-8."""
    return np.asarray(np.pi * np.asarray(diameter, dtype=float) ** 3 * np.asarray(bending, dtype=float) / 32)


def bending_use(load: ArrayLike, lever: ArrayLike, diameter: ArrayLike, bending: ArrayLike) -> np.ndarray:
    """R_b = P b/(2 M_u). load P, N, of the middle lug; lever b of `arm`, m."""
    P = np.abs(np.asarray(load, dtype=float))
    return np.asarray(P * np.asarray(lever, dtype=float) / (2 * moment_strength(diameter, bending)))


def bending_strength(diameter: ArrayLike, bending: ArrayLike, outer: ArrayLike, middle: ArrayLike, gap: ArrayLike,
                     outer_strength: ArrayLike, middle_strength: ArrayLike) -> np.ndarray:  # fmt: skip
    """P_b, N, with active lugs: no more of each bears than its strength asks. Never less than the arm's 2 M_u/b gives.

    outer_strength P_1 of both outer lugs, middle_strength P_2, N; both must be at least P_b, else the lug fails first
    and the value is no longer asked for.
    """
    M, g = moment_strength(diameter, bending), np.asarray(gap, dtype=float)
    k = np.asarray(outer, dtype=float) / (2 * np.asarray(outer_strength, dtype=float)) + np.asarray(
        middle, dtype=float
    ) / (4 * np.asarray(middle_strength, dtype=float))
    active = 4 * M / (np.sqrt(g**2 + 8 * k * M) + g)
    return np.asarray(np.maximum(active, 2 * M / arm(outer, middle, gap)))


def shear_and_bending(shear: ArrayLike, bending: ArrayLike) -> np.ndarray:
    """sqrt(R_s^2 + R_b^2), the use. Each a use of its own."""
    return np.asarray(np.hypot(np.asarray(shear, dtype=float), np.asarray(bending, dtype=float)))


def working(load: float, planes: int, strength: float, diameter: float, bending: float, outer: float, middle: float,
            gap: float = 0.0) -> tuple[Step, ...]:  # fmt: skip
    """One pin between lugs by its arm, line by line."""
    b, M = float(arm(outer, middle, gap)), float(moment_strength(diameter, bending))
    R_s, R_b = float(shear_use(load, strength, planes)), float(bending_use(load, b, diameter, bending))
    return (
        Step("shear", "R_s = P/(n P_s)", (("P", load, "N"), ("n", planes, "1"), ("P_s", strength, "N")), R_s, "1",
             "mil-hdbk-5"),
        Step("arm", "b = t_1/2 + t_2/4 + g", (("t_1", outer, "m"), ("t_2", middle, "m"), ("g", gap, "m")), b, "m",
             "bruhn D1.14"),
        Step("moment it bears", "M_u = pi d^3 F_b/32", (("d", diameter, "m"), ("F_b", bending, "Pa")), M, "N m",
             "geometry"),
        Step("bending", "R_b = P b/(2 M_u)", (("P", load, "N"), ("b", b, "m"), ("M_u", M, "N m")), R_b, "1",
             "bruhn D1.14"),
        *verdict(float(shear_and_bending(R_s, R_b)), "sqrt(R_s^2 + R_b^2)", (("R_s", R_s, "1"), ("R_b", R_b, "1")),
                 finite(load=load, strength=strength, bending=bending), "en-1993-1-8 Table 3.10"),
    )  # fmt: skip
