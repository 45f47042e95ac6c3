"""Round tubes pulled, bent, twisted and sheared, and all of it together. Ultimate loads in, use out.

Symbols: P pull, M bending moment, T torque, V shear, A, Z, J of members/section.py, D outside, t wall, L length,
F_tu, F_ty, F_su strengths, F_b modulus of rupture in bending, F_s stress in torsion or shear; R_c, R_b, R_s uses.

    bending  F_b = 0.021 E t/D + F_y, at most F_y times plastic over elastic modulus     D/t to 0.31 E/F_y, AISC 360 F8
    torsion  F_s = 0.60 E/(D/t)^1.5, at most 0.6 F_y                                      AISC 360 H3.1
    shear    F_s = 0.78 E/(D/t)^1.5, at most 0.6 F_y, on half the area                    AISC 360 G5
    all      R = (N + sqrt(N^2 + 4 R_s^2))/2, N = R_axial + R_b: from R_axial + R_b + R_s^2 = 1, so that it goes
             with the load; Bruhn C4 (memory, medium to high)

The charts of MIL-HDBK-5 for moduli of rupture could not be read; these closed forms stand in. They are for steel; other
metals take `rupture_without_plastic`. They leave L out: a short tube is a little stronger than they say.
A moment is the amplified one of a second-order frame: nothing here amplifies it again.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.strength.members.column import THICK, THIN, parabola
from sparwright.strength.members.margin import finite, first, verdict, within, worst
from sparwright.strength.members.section import (
    first_moment,
    inertia,
    modulus,
    net_area,
    net_modulus,
    plastic_modulus,
    polar,
)

SLIM = 0.31  # D/t over E/F_y up to which AISC 360 F8 gives a non-compact section


def tension_use(load: ArrayLike, outside: ArrayLike, wall: ArrayLike, strength: ArrayLike,
                hole: ArrayLike = 0.0) -> np.ndarray:  # fmt: skip
    """P/(A_net F_tu). load P, N, pull positive; a push uses nothing. strength F_tu, or tension near a weld, Pa.

    hole: diameter of a bolt's hole through both walls, m. The hole's stress raiser is left out: the metals are
    ductile (ultimate strength alone; common practice).
    """
    P = worst(np.asarray(load, dtype=float), 0.0)
    return np.asarray(P / (net_area(outside, wall, hole) * np.asarray(strength, dtype=float)))


def rupture(outside: ArrayLike, wall: ArrayLike, youngs: ArrayLike, crush: ArrayLike) -> np.ndarray:
    """F_b of a steel tube, Pa, by D/t. Range: D/t up to 0.31 E/F_y; a thinner wall gives NaN. aisc-360 F8 (memory).

    >>> round(float(rupture(1.0, 0.035, 29e6, 75e3)))   # psi: D/t 28.6
    96315
    """
    D, t, E, F = (np.asarray(a, dtype=float) for a in (outside, wall, youngs, crush))
    most = F * plastic_modulus(D, t) / modulus(D, t)
    return within(D / t <= SLIM * E / F, np.minimum(0.021 * E * t / D + F, most))


def rupture_without_plastic(outside: ArrayLike, wall: ArrayLike, youngs: ArrayLike, crush: ArrayLike,
                            nu: float = 0.33) -> np.ndarray:  # fmt: skip
    """F_b with no more than yield at the outer fibre, Pa: the wall buckles, by Johnson's parabola above F_y/2.

    gamma E t/R/sqrt(3 (1 - nu^2)), gamma = 1 - 0.731 (1 - exp(-sqrt(R/t)/16)); nasa-sp-8007 (memory), R/t to 1500.
    """
    D, t, E, F = (np.asarray(a, dtype=float) for a in (outside, wall, youngs, crush))
    slim = (D - t) / 2 / t
    gamma = 1 - 0.731 * (1 - np.exp(-np.sqrt(slim) / 16))
    shell = parabola(gamma * E / slim / np.sqrt(3 * (1 - nu**2)), F)
    return np.where(slim < THICK, F + 0 * slim, within(slim <= THIN, shell))


def bending_use(moment: ArrayLike, outside: ArrayLike, wall: ArrayLike, strength: ArrayLike,
                hole: ArrayLike = 0.0) -> np.ndarray:  # fmt: skip
    """|M|/(Z_net F_b). moment N m, the resultant of both planes; strength F_b, Pa, of `rupture`.

    Beside a weld take `rupture` times tension near the weld over F_tu. hole: diameter through both walls, m, taken to
    lie where the moment stresses most.
    """
    M = np.abs(np.asarray(moment, dtype=float))
    return np.asarray(M / (net_modulus(outside, wall, hole) * np.asarray(strength, dtype=float)))


def torsion_stress(outside: ArrayLike, wall: ArrayLike, youngs: ArrayLike, crush: ArrayLike,
                   shear: ArrayLike) -> np.ndarray:  # fmt: skip
    """F_s in torsion, Pa: the least of 0.60 E/(D/t)^1.5, 0.6 F_y and F_su. aisc-360 H3.1 (memory, high)."""
    slim = np.asarray(outside, dtype=float) / np.asarray(wall, dtype=float)
    buckles = 0.60 * np.asarray(youngs, dtype=float) / slim**1.5
    return _least(buckles, crush, shear)


def _least(buckles: np.ndarray, crush: ArrayLike, shear: ArrayLike) -> np.ndarray:
    yields = 0.6 * np.asarray(crush, dtype=float)
    return np.asarray(np.minimum(np.minimum(buckles, yields), np.asarray(shear, dtype=float)))


def torsion_use(torque: ArrayLike, outside: ArrayLike, wall: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """|T| D/(2 J F_s). torque N m; strength of `torsion_stress`, Pa."""
    T, D = np.abs(np.asarray(torque, dtype=float)), np.asarray(outside, dtype=float)
    return np.asarray(T * D / (2 * polar(D, wall) * np.asarray(strength, dtype=float)))


def shear_stress(outside: ArrayLike, wall: ArrayLike, youngs: ArrayLike, crush: ArrayLike,
                 shear: ArrayLike) -> np.ndarray:  # fmt: skip
    """F_s across the tube, Pa: the least of 0.78 E/(D/t)^1.5, 0.6 F_y and F_su. aisc-360 G5 (memory, high)."""
    slim = np.asarray(outside, dtype=float) / np.asarray(wall, dtype=float)
    buckles = 0.78 * np.asarray(youngs, dtype=float) / slim**1.5
    return _least(buckles, crush, shear)


def shear_use(load: ArrayLike, outside: ArrayLike, wall: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """|V| Q/(2 t I F_s): the greatest shear, at the tube's middle. Nearly 2 V/(A F_s) for a thin wall."""
    V, t = np.abs(np.asarray(load, dtype=float)), np.asarray(wall, dtype=float)
    most = V * first_moment(outside, t) / (2 * t * inertia(outside, t))
    return np.asarray(most / np.asarray(strength, dtype=float))


def together(axial: ArrayLike, bending: ArrayLike, twist: ArrayLike = 0.0) -> np.ndarray:
    """The use that R_axial + R_b + R_s^2 = 1 gives when all loads grow together. Each a use of its own, >= 0.

    axial: of `column.use` or `tension_use`; bending: of the amplified moment; twist: torsion and shear added.

    >>> float(together(0.5, 0.25)), float(together(0.0, 0.0, 0.7))
    (0.75, 0.7)
    """
    N = np.asarray(axial, dtype=float) + np.asarray(bending, dtype=float)
    s = np.asarray(twist, dtype=float)
    return np.asarray((N + np.hypot(N, 2 * s)) / 2)


def outside_range(outside: float, wall: float, youngs: float, crush: float) -> str:
    """Why `rupture` is NaN for a tube; empty where it is not."""
    slim, most = (outside / wall if wall > 0 else np.inf), SLIM * youngs / crush
    return first(
        finite(outside=outside, wall=wall, youngs=youngs, crush=crush),
        "" if 0 < 2 * wall <= outside else "the wall is not between nought and half the diameter",
        "" if slim <= most else f"D/t {slim:.0f} is above {most:.0f}, where the formula for bending ends",
    )


def working(axial: float, moment: float, torque: float, outside: float, wall: float, youngs: float, crush: float,
            shear: float, hole: float = 0.0, steel: bool = True) -> tuple[Step, ...]:  # fmt: skip
    """Bending and torsion of a tube with an axial use already known, line by line."""
    size = (("D", outside, "m"), ("t", wall, "m"))
    breaks = _rupture_step(outside, wall, youngs, crush, steel)
    F_b = breaks.value
    F_s = float(torsion_stress(outside, wall, youngs, crush, shear))
    R_b, R_s = (float(bending_use(moment, outside, wall, F_b, hole)), float(torsion_use(torque, outside, wall, F_s)))
    u, Z = float(together(axial, R_b, R_s)), float(net_modulus(outside, wall, hole))
    return (
        breaks,
        Step("bending", "R_b = M/(Z F_b)", (("M", moment, "N m"), ("Z", Z, "m3")), R_b, "1", "bruhn C4"),
        Step("stress in torsion", "least of 0.60 E/(D/t)^1.5, 0.6 F_y, F_su", (*size, ("F_su", shear, "Pa")), F_s,
             "Pa", "aisc-360 H3.1 (memory)"),
        Step("torsion", "R_s = T D/(2 J F_s)", (("T", torque, "N m"), ("J", float(polar(outside, wall)), "m4")), R_s,
             "1", "bruhn C4"),
        *verdict(u, "(N + sqrt(N^2 + 4 R_s^2))/2, N = R_axial + R_b", (("R_axial", axial, "1"), ("R_b", R_b, "1"),
                 ("R_s", R_s, "1")), outside_range(outside, wall, youngs, crush), "bruhn C4 (memory)"),
    )  # fmt: skip


def _rupture_step(outside: float, wall: float, youngs: float, crush: float, steel: bool) -> Step:
    given = (("D", outside, "m"), ("t", wall, "m"), ("E", youngs, "Pa"), ("F_y", crush, "Pa"))
    title = "modulus of rupture in bending"
    if steel:
        return Step(title, "F_b = 0.021 E t/D + F_y, at most F_y (D^3 - d^3)/(6 Z)", given,
                    float(rupture(outside, wall, youngs, crush)), "Pa", "aisc-360 F8 (memory)")  # fmt: skip
    return Step(title, "F_b = F_y, less where the wall buckles: gamma E t/R/sqrt(3 (1 - nu^2)), parabola above F_y/2",
                given, float(rupture_without_plastic(outside, wall, youngs, crush)), "Pa",
                "nasa-sp-8007 (memory)")  # fmt: skip
