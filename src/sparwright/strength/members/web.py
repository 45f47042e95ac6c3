"""When flat and curved sheet buckles, in shear, compression and bending, and what works on beside a buckled one.

Symbols: t thickness, b the shorter or loaded width, a the other side, k coefficient, E, nu, R radius.

    tau_cr = k_s pi^2 E/(12 (1 - nu^2)) (t/b)^2
    k_s = 5.34 + 4 (b/a)^2  edges simply held,  8.98 + 5.6 (b/a)^2  clamped, b the shorter side
    k_c = (b/a + a/b)^2 for a < b, 4 beyond (simply held);  6.97 clamped;  0.425 + (b/a)^2 one edge free
    k_b = 23.9 simply held, 39.6 clamped, bending in the plane of the sheet, b its depth
    (tau/tau_cr)^2 + sigma_c/sigma_cr = 1,  (tau/tau_cr)^2 + (sigma_b/sigma_bcr)^2 = 1

Past half the yield the elastic value is brought down by Johnson's parabola, f = f_y (1 - f_y/(4 f_e)) (common practice
for plates, no source). Sources: timoshenko-gere (memory, high); bruhn for the combinations (memory, high).
"""

from __future__ import annotations

import math
from typing import Literal

import numpy as np

from sparwright.base.check import Step

Held = Literal["simply", "clamped"]
Many = float | np.ndarray  # a number, or many of one shape
SHEAR = {"simply": (5.34, 4.0), "clamped": (8.98, 5.6)}
BENDING = {"simply": 23.9, "clamped": 39.6}
ROUNDNESS = 0.075  # of E t/R in shear; naca-tn-343
ROUNDEST = 1500.0  # R/t up to which cylinders were tested


def bent_plate(youngs: float, poisson: float = 0.33) -> float:
    """pi^2 E/(12 (1 - nu^2)), Pa."""
    return math.pi**2 * youngs / (12 * (1 - poisson**2))


def shear_k(height: Many, bay: Many, held: Held = "simply") -> np.ndarray:
    """k_s of a flat sheet height by bay, m, whichever is the shorter.

    >>> float(shear_k(6.0, 12.0)), round(float(shear_k(6.0, 12.0, "clamped")), 2)
    (6.34, 10.38)
    """
    h, d = np.asarray(height, float), np.asarray(bay, float)
    least, more = SHEAR[held]
    return np.asarray(least + more * (np.minimum(h, d) / np.maximum(h, d)) ** 2)


def bent_down(elastic: Many, yielding: float) -> np.ndarray:
    """The elastic buckling stress where it is under half the yield stress, Johnson's parabola above; Pa."""
    e = np.asarray(elastic, float)
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.where(e <= yielding / 2, e, yielding * (1 - yielding / (4 * e))))


def shear_buckling(
    thickness: Many,
    height: Many,
    bay: Many,
    youngs: float,
    yield_shear: float = math.inf,
    poisson: float = 0.33,
    held: Held = "simply",
) -> np.ndarray:
    """tau_cr of a flat sheet, Pa. yield_shear: yield in shear (tensile yield over sqrt 3); left out: elastic only."""
    short = np.minimum(height, bay)
    e = shear_k(height, bay, held) * bent_plate(youngs, poisson) * (np.asarray(thickness) / short) ** 2
    return bent_down(e, yield_shear) if math.isfinite(yield_shear) else np.asarray(e)


def compression_k(width: Many, length: Many, edges: str = "simply") -> np.ndarray:
    """k_c by the loaded width b and the length a, m: edges simply, clamped, or "free" for one of the long ones."""
    b, a = np.asarray(width, float), np.asarray(length, float)
    if edges == "simply":
        return np.asarray(np.where(a < b, (b / a + a / b) ** 2, 4.0))
    if edges == "clamped":
        return np.asarray(np.where(a >= b, 6.97, np.nan))
    return np.asarray(0.425 + (b / a) ** 2)


def compression_buckling(
    thickness: Many,
    width: Many,
    length: Many,
    youngs: float,
    yielding: float = math.inf,
    poisson: float = 0.33,
    edges: str = "simply",
) -> np.ndarray:
    """sigma_cr of a flat sheet pressed along its length, Pa."""
    ratio = (np.asarray(thickness) / np.asarray(width)) ** 2
    e = compression_k(width, length, edges) * bent_plate(youngs, poisson) * ratio
    return bent_down(e, yielding) if math.isfinite(yielding) else np.asarray(e)


def bending_buckling(
    thickness: Many, height: Many, youngs: float, poisson: float = 0.33, held: Held = "simply"
) -> np.ndarray:
    """Stress at the edge of a web bent in its plane at which it buckles, Pa; for bays longer than 2/3 of the height."""
    return np.asarray(BENDING[held] * bent_plate(youngs, poisson) * (np.asarray(thickness) / np.asarray(height)) ** 2)


def curved_compression(
    thickness: Many, radius: Many, width: Many, length: Many, youngs: float, poisson: float = 0.33
) -> np.ndarray:
    """sigma_cr of a curved sheet pressed along its straight lines, Pa: the flat sheet's, or the cylinder's if greater.

    gamma E/sqrt(3 (1 - nu^2)) t/R with gamma = 1 - 0.901 (1 - exp(-sqrt(R/t)/16)).
    Beyond R/t 1500 the roundness is not counted, and the flat sheet's stands. Source: nasa-sp-8007 (memory, high).
    """
    r = np.asarray(radius, float) / np.asarray(thickness)
    gamma = 1 - 0.901 * (1 - np.exp(-np.sqrt(r) / 16))
    round_ = gamma * youngs / math.sqrt(3 * (1 - poisson**2)) / r
    flat = compression_buckling(thickness, width, length, youngs, poisson=poisson)
    return np.asarray(np.where(r <= ROUNDEST, np.maximum(round_, flat), flat))


def curved_shear(
    thickness: Many, radius: Many, width: Many, length: Many, youngs: float, poisson: float = 0.33
) -> np.ndarray:
    """tau_cr of a curved sheet, Pa: the flat sheet's in shear, or 0.075 E t/R by its roundness alone if greater.

    0.075 is what tests of curved sheet of Alclad gave (naca-tn-343, its abstract read). Adding both would be nearer;
    the greater one is on the safe side of it. Beyond R/t 1500 the flat sheet's stands.
    """
    r = np.asarray(radius, float) / np.asarray(thickness)
    flat = shear_buckling(thickness, width, length, youngs, poisson=poisson)
    return np.asarray(np.where(r <= ROUNDEST, np.maximum(ROUNDNESS * youngs / r, flat), flat))


def effective_width(thickness: Many, stress: Many, youngs: float, width: Many, edges: int = 2) -> np.ndarray:
    """Width of a buckled sheet that goes on carrying the stress of its edges, m; never more than there is.

    1.9 t sqrt(E/sigma) between two held edges, 0.62 t sqrt(E/sigma) beside one. Source: bruhn C7 (memory, high).

    >>> round(float(effective_width(0.02, 20e3, 9.9e6, 6.0)), 3)
    0.845
    """
    factor = 1.9 if edges == 2 else 0.62
    with np.errstate(divide="ignore"):
        found = factor * np.asarray(thickness) * np.sqrt(youngs / np.asarray(stress, float))
    return np.asarray(np.minimum(found, width))


def beside_opening(flow: Many, length: Many, height: Many, opening: tuple[Many, Many]) -> np.ndarray:
    """(3, ...) shear flow of a framed panel around a framed opening in its middle, N/m.

    Above and below the opening q l/l_1, ahead of and behind it q d/d_1, at the four corners q (1 - d_w l_w/(d_1 l_1));
    panel l by d, opening l_w by d_w, l_1 = l - l_w, d_1 = d - d_w, m. NaN where the opening leaves nothing. The frame's
    members take what the flows give along them, and must run on over the whole panel. Source: megson, eq. 21.3 to 21.5
    (read where another quotes it; which flow lies where from statics).

    >>> [round(float(v), 2) for v in beside_opening(10.0, 0.4, 0.2, (0.1, 0.05))]
    [13.33, 13.33, 8.89]
    """
    (lw, dw), q = (np.asarray(v, float) for v in opening), np.asarray(flow, float)
    l1, d1 = np.asarray(length) - lw, np.asarray(height) - dw
    with np.errstate(divide="ignore", invalid="ignore"):
        found = np.array(np.broadcast_arrays(q * length / l1, q * height / d1, q * (1 - dw * lw / (d1 * l1))))
    return np.asarray(np.where((l1 > 0) & (d1 > 0), found, np.nan))


def use(shear: Many, thickness: Many, strength: float, hole: Many = 0.0, pitch: Many = np.inf) -> np.ndarray:
    """Use of a web that does not buckle by a shear flow at ultimate load: q/(t F_su), holes in a row taken off.

    shear N/m; hole diameter and pitch of the row, m: F_su (1 - D/p). NaN where holes touch.
    """
    left = 1 - np.asarray(hole, float) / np.asarray(pitch, float)
    return np.asarray(np.abs(shear) / (np.asarray(thickness) * strength * np.where(left > 0, left, np.nan)))


def use_together(
    shear: Many, shear_cr: Many, pressed: Many = 0.0, pressed_cr: Many = 1.0, bent: Many = 0.0, bent_cr: Many = 1.0
) -> np.ndarray:
    """Part of the buckling load used by stresses together, Pa: the factor by which all may not grow, inverted.

    R_c + sqrt of the squares: 1/lambda with lambda^2 (R_s^2 + R_b^2) + lambda R_c = 1. Tension (pressed < 0) is
    taken as nought. use = (R_c + sqrt(R_c^2 + 4 (R_s^2 + R_b^2)))/2.
    """
    rc = np.maximum(pressed, 0.0) / np.asarray(pressed_cr)
    rs, rb = np.asarray(shear) / np.asarray(shear_cr), np.asarray(bent) / np.asarray(bent_cr)
    return np.asarray((rc + np.sqrt(rc**2 + 4 * (rs**2 + rb**2))) / 2)


def working(
    shear: float,
    thickness: float,
    height: float,
    bay: float,
    youngs: float,
    strength: float,
    yield_shear: float = math.inf,
    poisson: float = 0.33,
    held: Held = "simply",
) -> tuple[Step, ...]:
    """One web under a shear flow at ultimate load, N/m: stress, buckling stress, uses and margins."""
    tau, k = abs(shear) / thickness, float(shear_k(height, bay, held))
    critical = float(shear_buckling(thickness, height, bay, youngs, yield_shear, poisson, held))
    size = (("t", thickness, "m"), ("h", height, "m"), ("d", bay, "m"))
    formula = "k_s = {} + {} (b/a)^2".format(*SHEAR[held])
    given = (("k_s", k, "1"), ("E", youngs, "Pa"), ("nu", poisson, "1"), *size)
    return (
        Step("shear stress", "tau = q/t", (("q", shear, "N/m"), size[0]), tau, "Pa", "statics"),
        Step("coefficient", formula, size[1:], k, "1", f"timoshenko-gere, {held} held"),
        Step(
            "buckling stress",
            "tau_cr = k_s pi^2 E/(12 (1 - nu^2)) (t/b)^2; Johnson past half the yield",
            given,
            critical,
            "Pa",
            "timoshenko-gere",
        ),
        *margin("buckling", tau / critical),
        *margin("shear strength", tau / strength),
    )


def given(*rows: tuple[str, Many, str]) -> tuple[tuple[str, float, str], ...]:
    """What goes into a step, as plain numbers."""
    return tuple((name, float(value), unit) for name, value, unit in rows)


def margin(of: str, use: float) -> tuple[Step, Step]:
    """Two lines that end a working: the use and the margin of safety 1/use - 1."""
    left = 1 / use - 1 if use > 0 else (math.inf if use == 0 else math.nan)
    return (
        Step(f"use, {of}", "there/strength", (), use, "1"),
        Step(f"margin of safety, {of}", "1/use - 1", (("use", use, "1"),), left, "1"),
    )
