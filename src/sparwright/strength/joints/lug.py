"""Lugs: a plate with a hole, pulled along, across and out of its plane. Ultimate loads in, use out.

Symbols: W width, D hole, D_p pin, e hole's middle to the edge, round end, t thickness, b_e = (W - D)/2 one side,
F_tu, F_ty, F_su, F_br strengths, R_a, R_tr uses along and across, s share of the load one lug of a pair carries.

    net section   2 C_r F_tu t b, b the least of b_e, 4 t, 0.6 b_e (F_tu/F_ty) sqrt(D/b_e)        asme-bth-1, duerr-2006
    beyond hole   C_r F_tu t (1.13 (e - D/2) + 0.92 b_e/(1 + b_e/D))                              asme-bth-1, duerr-2006
    shear-out     2 F_su t (sqrt(e^2 - (D sin 40/2)^2) - D cos 40/2), planes at 40 deg            bruhn D1, round end
    bearing       F_br D_p t                                                                      joints/plate.py
    across        least of F_tu t w^2/(3 D), F_su t w, bearing, w = e - D/2                       statics, no source
    oblique       R_a^1.6 + R_tr^1.6 = 1                                                          bruhn D1, affdl
    out of plane  P cos a/(b t F_tu) + 6 P sin a h/(b t^2 F_tu)                                   elastic, no source

The charts of Bruhn D1 and AFFDL-TR-69-42 could not be read: their net section and shear-bearing factors are replaced by
the fitted equations of Duerr's tests (BTH: design factors left out), which give less net section than the charts do.
Across: one side of the eye as a cantilever from the shank, loaded half a hole out, yielding nowhere: the safe end.
Range: e/D 1 to 4, W/D 1.5 to 5, t/D 0.18 up, D_p/D 0.8 to 1; a metal that stretches 5 % (AFFDL, read).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.strength.joints.plate import LOOSE, SHEET, bearing_strength, loose_hole
from sparwright.strength.members.margin import finite, first, verdict, within, worst

PLANE = np.radians(40.0)
POWER = 1.6


@dataclass(frozen=True, kw_only=True)
class Lug:
    """One plate round a pin, with the strengths of its metal."""

    width: float = number("m", "W across the load, through the hole")
    hole: float = number("m", "D, diameter of the hole, or outside of a bush pressed in")
    pin: float = number("m", "D_p, diameter of what bears in the hole: the pin, or the bush")
    edge: float = number("m", "e from the hole's middle to the edge in the direction of the load")
    thickness: float = number("m", "t")
    tension: float = number("Pa", "F_tu; near a weld the lower one")
    yields: float = number("Pa", "F_ty")
    shear: float = number("Pa", "F_su")
    bearing: float = number("Pa", "F_br at edge distance 2 diameters")
    bearing_close: float = number("Pa", "F_br at 1.5 diameters; NaN where no source gives one", np.nan)


def outside_range(lug: Lug) -> str:
    """Why a lug's strength is NaN; empty where it is not."""
    r, w = lug.edge / lug.hole, lug.width / lug.hole
    return first(
        finite(width=lug.width, hole=lug.hole, pin=lug.pin, edge=lug.edge, thickness=lug.thickness),
        finite(tension=lug.tension, yields=lug.yields, shear=lug.shear, bearing=lug.bearing),
        "" if 1 <= r <= 4 else f"edge distance {r:.2f} diameters is not in 1 to 4",
        "" if 1.5 <= w <= 5 else f"width {w:.2f} diameters is not in 1.5 to 5",
        "" if lug.thickness / lug.pin >= SHEET else f"t/D {lug.thickness / lug.pin:.2f} is below {SHEET}",
        "" if LOOSE <= lug.pin / lug.hole <= 1 + 1e-9 else f"pin over hole {lug.pin / lug.hole:.2f} is not in 0.8 to 1",
    )


def net_section(lug: Lug) -> float:
    """Load, N, that tears it beside the hole."""
    side = (lug.width - lug.hole) / 2
    wide = min(side, 4 * lug.thickness, 0.6 * lug.tension / lug.yields * np.sqrt(lug.hole * max(side, 0.0)))
    return float(2 * loose_hole(lug.pin, lug.hole) * lug.tension * lug.thickness * wide)


def beyond_hole(lug: Lug) -> float:
    """Load, N, that splits it from the hole to the edge."""
    side = (lug.width - lug.hole) / 2
    wide = 1.13 * (lug.edge - lug.hole / 2) + 0.92 * side / (1 + side / lug.hole)
    return float(loose_hole(lug.pin, lug.hole) * lug.tension * lug.thickness * wide)


def shear_out(lug: Lug) -> float:
    """Load, N, that shears the piece before the pin out of a round end."""
    away = lug.hole / 2 * np.sin(PLANE)
    plane = np.sqrt(max(lug.edge**2 - away**2, 0.0)) - lug.hole / 2 * np.cos(PLANE)
    return float(2 * lug.shear * lug.thickness * plane)


def bears(lug: Lug) -> float:
    """Load, N, that crushes the hole's edge."""
    F = bearing_strength(lug.edge / lug.hole, lug.bearing, lug.bearing_close)
    return float(F * lug.pin * lug.thickness)


def across_eye(lug: Lug) -> float:
    """Load, N, across the lug that bends or shears one side of the eye off."""
    w = lug.edge - lug.hole / 2
    return float(min(lug.tension * lug.thickness * w**2 / (3 * lug.hole), lug.shear * lug.thickness * w))


def along(lug: Lug) -> float:
    """Strength along the lug, N: the least of its ways to fail; NaN outside the range."""
    if outside_range(lug):
        return np.nan
    return min(net_section(lug), beyond_hole(lug), shear_out(lug), bears(lug))


def across(lug: Lug) -> float:
    """Strength across the lug, N, in its plane; NaN outside the range."""
    return np.nan if outside_range(lug) else min(across_eye(lug), bears(lug))


def use(load: ArrayLike, angle: ArrayLike, lug: Lug, share: ArrayLike = 1.0) -> np.ndarray:
    """(R_a^1.6 + R_tr^1.6)^(1/1.6), which goes with the load.

    load P, N, of all the lugs on the pin; a push bears on the eye's other side and counts as a pull. angle, rad, from
    the lug's middle line in its plane. share s: 1 for one lug; 0.5 for a pair that is known to share evenly, more
    where one of two carries more.
    """
    s, a = np.asarray(share, dtype=float), np.asarray(angle, dtype=float)
    P = np.abs(np.asarray(load, dtype=float)) * within((s > 0) & (s <= 1), s)
    R_a, R_tr = P * np.abs(np.cos(a)) / along(lug), P * np.abs(np.sin(a)) / across(lug)
    return np.asarray((R_a**POWER + R_tr**POWER) ** (1 / POWER))


def out_of_plane_use(load: ArrayLike, tilt: ArrayLike, breadth: ArrayLike, thickness: ArrayLike, height: ArrayLike,
                     strength: ArrayLike) -> np.ndarray:  # fmt: skip
    """P cos a/(b t F) + 6 P sin a h/(b t^2 F) at the foot of a lug whose load leans out of its plane by a, rad.

    breadth b of the lug at its foot, height h of the pin above it, m; strength F of the plate, Pa, or that near the
    weld. Elastic: the plate's plastic bending (1.5) is left out. A pair with a bush between braces itself: then a is
    what the pair does not take.
    """
    P, a = np.abs(np.asarray(load, dtype=float)), np.abs(np.asarray(tilt, dtype=float))
    b, t, h, F = (np.asarray(v, dtype=float) for v in (breadth, thickness, height, strength))
    return within(a <= np.pi / 2, P * np.cos(a) / (b * t * F) + 6 * P * np.sin(a) * h / (b * t**2 * F))


def bush_use(load: ArrayLike, pin: ArrayLike, length: ArrayLike, yields: ArrayLike) -> np.ndarray:
    """P/(1.85 F_cy D_p t): a bush pressed in a lug, inside, under the pin; affdl-tr-69-42 9.3.4 (memory, medium).

    pin D_p, length t of the bush that bears, m; yields F_cy of the bush, Pa.
    """
    P = np.abs(np.asarray(load, dtype=float))
    return np.asarray(P / (1.85 * np.asarray(yields, dtype=float) * np.asarray(pin) * np.asarray(length)))


def working(load: float, angle: float, lug: Lug, share: float = 1.0) -> tuple[Step, ...]:
    """One load, line by line."""
    size = (("W", lug.width, "m"), ("D", lug.hole, "m"), ("t", lug.thickness, "m"))
    tip = (("e", lug.edge, "m"), ("D", lug.hole, "m"), ("t", lug.thickness, "m"))
    P = share * abs(load)
    R = (P * abs(np.cos(angle)) / along(lug), P * abs(np.sin(angle)) / across(lug))
    given = (("R_a", float(R[0]), "1"), ("R_tr", float(R[1]), "1"))
    return (
        Step("net section", "2 C_r F_tu t b, b least of b_e, 4 t, 0.6 b_e (F_tu/F_ty) sqrt(D/b_e)",
             (*size, ("F_tu", lug.tension, "Pa"), ("F_ty", lug.yields, "Pa")), net_section(lug), "N", "asme-bth-1"),
        Step("beyond the hole", "C_r F_tu t (1.13 (e - D/2) + 0.92 b_e/(1 + b_e/D))",
             (*tip, ("F_tu", lug.tension, "Pa")), beyond_hole(lug), "N", "asme-bth-1"),
        Step("shear-out", "2 F_su t (sqrt(e^2 - (D sin 40/2)^2) - D cos 40/2)", (*tip, ("F_su", lug.shear, "Pa")),
             shear_out(lug), "N", "bruhn D1 (memory)"),
        Step("bearing", "F_br D_p t", (("D_p", lug.pin, "m"), ("t", lug.thickness, "m")), bears(lug), "N",
             "mil-hdbk-5"),
        Step("across", "least of F_tu t w^2/(3 D), F_su t w, bearing; w = e - D/2", tip, across(lug), "N",
             "statics, no source"),
        Step("load of this lug", "s P", (("s", share, "1"), ("P", load, "N")), P, "N"),
        *verdict(float(worst(use(load, angle, lug, share))), "(R_a^1.6 + R_tr^1.6)^(1/1.6)", given,
                 outside_range(lug), "bruhn D1, affdl-tr-69-42"),
    )  # fmt: skip
