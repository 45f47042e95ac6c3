"""Welded seams of steel: tubes in clusters, lugs on their foot, rosettes. Ultimate loads in, use out.

Symbols: P along the tube or out of the foot, V along the seam, M in the plate's plane, L length of seam, t thinner
sheet, F_w strength of a seam on L t (data/factors.toml), F_near tension of the tube beside it, D outside, a angle.

    seam       P/(F_w L t), F_w 48 000 psi in 4130, 32 000 psi in low-carbon steel      bruhn D3 (memory, medium)
    round      L = (2 D/sin a) E(cos^2 a), the ellipse of a tube cut at an angle, exact; a saddle is longer
    tube       P/(A F_near): 80 000 psi beside any weld of 4130, 90 000 where it tapers at 30 deg or less   mil-hdbk-5
    lug        q = sqrt((|P|/L + 6 |M|/L^2)^2 + (V/L)^2), q/(F_w t)                      seam as a line, elastic
    rosettes   P/(n F_w pi d^2/4)                                                        common practice

Both the seam and the tube beside it are asked; the worse decides. A cluster's seams share by their tubes: each carries
its own tube's load into the joint. AC 43.13-1B gives shapes of welds, no strengths.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike
from scipy.special import ellipe

from sparwright.base.check import Step
from sparwright.strength.members.margin import finite, first, verdict, within, worst
from sparwright.strength.members.section import area

FLAT = np.radians(15.0)  # less than this between two tubes is no cluster but a lap


def seam_length(outside: ArrayLike, angle: ArrayLike) -> np.ndarray:
    """L, m, round a tube of diameter D that meets a face at angle a, rad: the ellipse with axes D and D/sin a.

    Exact by the complete elliptic integral. Range: 15 to 90 deg, else NaN. On another tube the seam is a little longer.

    >>> round(float(seam_length(1.0, np.pi / 2)), 6), round(float(seam_length(1.0, np.pi / 6)), 4)
    (3.141593, 4.8442)
    """
    D, a = np.asarray(outside, dtype=float), np.asarray(angle, dtype=float)
    long = 1 / np.sin(within((a >= FLAT) & (a <= np.pi / 2 + 1e-9), a))
    return np.asarray(2 * D * long * ellipe(np.maximum(1 - 1 / long**2, 0.0)))


def seam_use(load: ArrayLike, length: ArrayLike, thickness: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """P/(F_w L t). load N, either way; length L of the seam, thickness t of the thinner wall, m; strength F_w, Pa."""
    P, L, t, F = (np.asarray(v, dtype=float) for v in (load, length, thickness, strength))
    return np.asarray(np.abs(P) / (F * within(L > 0, L) * t))


def tube_use(load: ArrayLike, outside: ArrayLike, wall: ArrayLike, angle: ArrayLike, seam: ArrayLike,
             near: ArrayLike) -> np.ndarray:  # fmt: skip
    """The worse of seam and tube beside it for a tube welded all round. seam F_w, near F_near, Pa.

    load N: a pull asks both; a push asks the seam alone, the tube is a column elsewhere.
    """
    P, t = np.asarray(load, dtype=float), np.asarray(wall, dtype=float)
    beside = worst(P, 0.0) / (area(outside, t) * np.asarray(near, dtype=float))
    return worst(seam_use(P, seam_length(outside, angle), t, seam), beside)


def foot_use(pull: ArrayLike, along: ArrayLike, moment: ArrayLike, length: ArrayLike, thickness: ArrayLike,
             strength: ArrayLike) -> np.ndarray:  # fmt: skip
    """q/(F_w t) at the worse end of a lug's foot. pull P and along V, N; moment M, N m; length L, thickness t, m.

    M: V times the pin's height over the foot, with what P adds off the middle.
    """
    P, V, M, L, t, F = (np.abs(np.asarray(v, dtype=float)) for v in (pull, along, moment, length, thickness, strength))
    L = within(L > 0, L)
    return np.asarray(np.hypot(P / L + 6 * M / L**2, V / L) / (F * t))


def rosette_use(load: ArrayLike, count: ArrayLike, diameter: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """P/(n F_w pi d^2/4): plugs of weld through holes of diameter d, m, in a sleeve."""
    P, d = np.abs(np.asarray(load, dtype=float)), np.asarray(diameter, dtype=float)
    return np.asarray(P / (np.asarray(count) * np.asarray(strength, dtype=float) * np.pi * d**2 / 4))


def outside_range(angle: float) -> str:
    """Why a tube's seam is NaN; empty where it is not. angle rad."""
    said = f"angle {np.degrees(angle):.0f} deg is not in 15 to 90"
    return first(finite(angle=angle), "" if FLAT <= angle <= np.pi / 2 + 1e-9 else said)


def working(load: float, outside: float, wall: float, angle: float, seam: float, near: float) -> tuple[Step, ...]:
    """One tube of a cluster, line by line."""
    L, A = float(seam_length(outside, angle)), float(area(outside, wall))
    size = (("D", outside, "m"), ("a", angle, "rad"))
    return (
        Step("length of the seam", "ellipse with axes D and D/sin a", size, L, "m", "geometry"),
        Step("seam", "P/(F_w L t)", (("P", load, "N"), ("F_w", seam, "Pa"), ("L", L, "m"), ("t", wall, "m")),
             float(seam_use(load, L, wall, seam)), "1", "bruhn D3 (memory)"),
        Step("tube beside it", "P/(A F_near)", (("P", load, "N"), ("A", A, "m2"), ("F_near", near, "Pa")),
             max(load, 0.0) / (A * near), "1", "mil-hdbk-5"),
        *verdict(float(tube_use(load, outside, wall, angle, seam, near)), "the worse of both", (("P", load, "N"),),
                 first(outside_range(angle), finite(seam=seam, near=near))),
    )  # fmt: skip
