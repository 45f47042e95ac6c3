"""Modes of published light aeroplanes from their printed derivatives.

A low-wing aeroplane at 50 m/s (H. Smith, Aircraft Flight Mechanics, "Final Examples", read): its derivatives are
printed with their dimensions. A four-seater (R. C. Nelson, Flight Stability and Automatic Control), 2750 lb at
176 ft/s, sea level: coefficients and inertia read second-hand in a public file that carries the book's table, made
dimensional here by the book's formulas. Their roots are those of the quartics expanded by hand in letters, which our
way with coefficients, matrices and a solver of roots must give back. (Roots the book prints, from memory and so no
test: -2.51 +- 2.59 i, -0.0171 +- 0.213 i, -0.487 +- 2.335 i, -8.435, -0.00877; ours -2.509 +- 2.591 i,
-0.0171 +- 0.213 i, -0.487 +- 2.347 i, -8.431, -0.0082.)
Dutch roll of McCormick ch. 10 (read): -0.601 +- 3.03 i is a damping ratio of 0.194 and 3.09 rad/s.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY
from sparwright.flight.motion import ACROSS, Body, across, along, modes, pair


def sideways_quartic(
    V: float, Yv: float, Lv: float, Nv: float, Lp: float, Np: float, Lr: float, Nr: float
) -> list[float]:
    return [
        1.0,
        -(Yv + Lp + Nr),
        Yv * Lp + Yv * Nr + Lp * Nr - Lr * Np + V * Nv,
        -Yv * (Lp * Nr - Lr * Np) - V * (Nv * Lp - Lv * Np) - GRAVITY * Lv,
        GRAVITY * (Lv * Nr - Nv * Lr),
    ]


def along_quartic(V: float, Xu: float, Zu: float, Xw: float, Zw: float, Mw: float, Mq: float, Md: float) -> list[float]:
    return [
        1.0,
        -(Mq + Xu + Zw + Md * V),
        Xu * Zw - Zu * Xw + Mq * (Xu + Zw) - Mw * V + Md * V * Xu,
        -Mq * (Xu * Zw - Zu * Xw) + Mw * V * Xu + Md * Zu * GRAVITY,
        GRAVITY * (Zu * Mw),
    ]


def same_roots(matrix: np.ndarray, quartic: list[float]) -> None:
    assert_allclose(np.sort_complex(np.linalg.eigvals(matrix)), np.sort_complex(np.roots(quartic)), atol=1e-9)


CHEROKEE = Body(1090.0, 50.0, 1.06, 15.0, 9.11, 1.3, 1300.0, 1700.0, 1400.0)
SIDEWAYS = {"Yv": -0.1444, "Lv": -0.1166, "Nv": 0.174, "Lp": -2.283, "Np": -1.732, "Lr": 1.053, "Nr": -1.029}
LONG = {"Xu": -0.06728, "Zu": -0.396, "Xw": 0.02323, "Zw": -1.729, "Mw": -0.2772, "Mq": -2.207, "Mdw": -0.0197}


def test_cherokee_sideways() -> None:
    d, b, V = SIDEWAYS, CHEROKEE, CHEROKEE.speed
    arm = b.span / (2 * V)
    roll, yaw, side = b.rolling / (b.force * b.span), b.yawing / (b.force * b.span), b.mass * V / b.force
    c = dict.fromkeys(ACROSS, 0.0) | {
        "CYb": d["Yv"] * side, "Clb": d["Lv"] * V * roll, "Cnb": d["Nv"] * V * yaw, "Clp": d["Lp"] * roll / arm,
        "Cnp": d["Np"] * yaw / arm, "Clr": d["Lr"] * roll / arm, "Cnr": d["Nr"] * yaw / arm,
    }  # fmt: skip
    same_roots(across(b, c), sideways_quartic(V, *d.values()))
    found = modes(b, NAVION_C | c)
    assert found.spiral > 0 > found.roll  # the page: the spiral grows, the roll mode is the faster of the two


def test_cherokee_along() -> None:
    d, b, V = LONG, CHEROKEE, CHEROKEE.speed
    k, arm, turn = b.force / (b.mass * V), b.chord / (2 * V), b.force * b.chord / b.pitching
    c = {"CL": -d["Zu"] / (2 * k), "CD": 0.0615, "CLq": 0.0, "Cma": d["Mw"] * V / turn, "Cmq": d["Mq"] / (arm * turn),
         "Cmadot": d["Mdw"] * V / (arm * turn)}  # fmt: skip
    c |= {"CLa": -d["Zw"] / k - c["CD"], "CDa": c["CL"] - d["Xw"] / k, "TV": (d["Xu"] + 2 * c["CD"] * k) * b.mass}
    same_roots(along(b, c), along_quartic(V, *d.values()))


FOOT, SLUG = 0.3048, 14.59390
PER = SLUG * FOOT**2
NAVION = Body(2750 / 32.174 * SLUG, 176 * FOOT, 0.002377 * SLUG / FOOT**3, 184 * FOOT**2, 33.4 * FOOT, 5.7 * FOOT,
              1048 * PER, 3000 * PER, 3530 * PER)  # fmt: skip
NAVION_C = {
    "CL": 0.41, "CD": 0.05, "CLa": 4.44, "CDa": 0.33, "Cma": -0.683, "CLq": 0.0, "Cmq": -9.96, "Cmadot": -4.36,
    "TV": 0.0, "CYb": -0.564, "Clb": -0.074, "Cnb": 0.071, "CYp": 0.0, "Clp": -0.410, "Cnp": -0.0575, "CYr": 0.0,
    "Clr": 0.107, "Cnr": -0.125,
}  # fmt: skip


def test_navion() -> None:
    c, V = NAVION_C, 176 * FOOT
    qS = 0.5 * 0.002377 * 176**2 * 184 * SLUG * FOOT  # lbf to N
    m, b, chord = 2750 / 32.174 * SLUG, 33.4 * FOOT, 5.7 * FOOT
    Ix, Iy, Iz = 1048 * PER, 3000 * PER, 3530 * PER
    rate, turn = b / (2 * V), chord / (2 * V)
    same_roots(across(NAVION, c), sideways_quartic(
        V, c["CYb"] * qS / (m * V), c["Clb"] * qS * b / (Ix * V), c["Cnb"] * qS * b / (Iz * V),
        c["Clp"] * rate * qS * b / Ix, c["Cnp"] * rate * qS * b / Iz, c["Clr"] * rate * qS * b / Ix,
        c["Cnr"] * rate * qS * b / Iz))  # fmt: skip
    same_roots(along(NAVION, c), along_quartic(
        V, -2 * c["CD"] * qS / (m * V), -2 * c["CL"] * qS / (m * V), (c["CL"] - c["CDa"]) * qS / (m * V),
        -(c["CLa"] + c["CD"]) * qS / (m * V), c["Cma"] * qS * chord / (Iy * V), c["Cmq"] * turn * qS * chord / Iy,
        c["Cmadot"] * turn * qS * chord / (Iy * V)))  # fmt: skip
    found = modes(NAVION, c)
    assert found.spiral < 0 and found.roll < 10 * found.spiral
    assert found.short_period.frequency > 10 * found.phugoid.frequency


def test_a_pair() -> None:
    found = pair(np.array([-0.601 + 3.03j, -0.601 - 3.03j]))
    assert_allclose(found.damping, 0.194, atol=6e-4)
    assert_allclose(found.frequency, 3.09, atol=5e-3)
    assert_allclose(found.period, 2 * math.pi / 3.03, rtol=1e-6)
    assert_allclose(found.halves, math.log(2) / 0.601, rtol=1e-6)
