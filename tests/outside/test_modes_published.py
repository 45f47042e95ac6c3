"""Modes of published light aeroplanes from their printed derivatives.

Navion (R. C. Nelson, Flight Stability and Automatic Control, ch. 4 and 5): 2750 lb at 176 ft/s, sea level; derivatives
and inertia read second-hand in a public file that carries the book's table. Roots from memory: -2.51 +- 2.59 i, -0.0171 +- 0.213 i; -0.487 +- 2.335 i, -8.435, -0.00877.
Piper Cherokee PA-28-180 at 50 m/s (H. Smith, Aircraft Flight Mechanics, "Final Examples", read): dimensional
derivatives printed; roots here from the quartics expanded by hand, which our own way with coefficients must give back.
Dutch roll of McCormick ch. 10 (read): -0.601 +- 3.03 i is a damping ratio of 0.194 and 3.09 rad/s.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY
from sparwright.flight.motion import ACROSS, Body, across, along, modes, pair

FOOT, SLUG = 0.3048, 14.59390
NAVION = Body(2750 / 32.174 * SLUG, 176 * FOOT, 0.002377 * SLUG / FOOT**3, 184 * FOOT**2, 33.4 * FOOT, 5.7 * FOOT,
              1048 * SLUG * FOOT**2, 3000 * SLUG * FOOT**2, 3530 * SLUG * FOOT**2)  # fmt: skip
NAVION_C = {
    "CL": 0.41, "CD": 0.05, "CLa": 4.44, "CDa": 0.33, "Cma": -0.683, "CLq": 0.0, "Cmq": -9.96, "Cmadot": -4.36, "TV": 0.0,
    "CYb": -0.564, "Clb": -0.074, "Cnb": 0.071, "CYp": 0.0, "Clp": -0.410, "Cnp": -0.0575, "CYr": 0.0, "Clr": 0.107,
    "Cnr": -0.125,
}  # fmt: skip


def test_navion() -> None:
    """To the printed digits, with what rounding of the printed inputs (three digits) does to the two slow roots."""
    m = modes(NAVION, NAVION_C)
    assert_allclose(
        [m.short_period.frequency, m.short_period.damping], [math.hypot(2.51, 2.59), 2.51 / 3.607], rtol=2e-3
    )
    assert_allclose([m.phugoid.frequency, m.phugoid.damping], [math.hypot(0.0171, 0.213), 0.0171 / 0.2137], rtol=2e-3)
    assert_allclose(
        [m.dutch_roll.frequency, m.dutch_roll.damping], [math.hypot(0.487, 2.335), 0.487 / 2.3852], rtol=6e-3
    )
    assert_allclose(m.roll, -8.435, rtol=1e-3)
    assert_allclose(m.spiral, -0.00877, rtol=0, atol=8e-4)


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
    Yv, Lv, Nv, Lp, Np, Lr, Nr = d.values()
    quartic = [
        1.0,
        -(Yv + Lp + Nr),
        Yv * Lp + Yv * Nr + Lp * Nr - Lr * Np + V * Nv,
        -Yv * (Lp * Nr - Lr * Np) - V * (Nv * Lp - Lv * Np) - GRAVITY * Lv,
        GRAVITY * (Lv * Nr - Nv * Lr),
    ]
    assert_allclose(np.sort_complex(np.linalg.eigvals(across(b, c))), np.sort_complex(np.roots(quartic)), atol=1e-9)
    assert modes(b, _with(c)).spiral > 0  # the page: unstable


def test_cherokee_along() -> None:
    d, b, V = LONG, CHEROKEE, CHEROKEE.speed
    k, arm, turn = b.force / (b.mass * V), b.chord / (2 * V), b.force * b.chord / b.pitching
    c = {"CL": -d["Zu"] / (2 * k), "CD": 0.0615, "CLq": 0.0, "Cma": d["Mw"] * V / turn, "Cmq": d["Mq"] / (arm * turn),
         "Cmadot": d["Mdw"] * V / (arm * turn)}  # fmt: skip
    c |= {"CLa": -d["Zw"] / k - c["CD"], "CDa": c["CL"] - d["Xw"] / k, "TV": (d["Xu"] + 2 * c["CD"] * k) * b.mass}
    Xu, Zu, Xw, Zw, Mw, Mq, Md = d.values()
    quartic = [
        1.0,
        -(Mq + Xu + Zw + Md * V),
        Xu * Zw - Zu * Xw + Mq * (Xu + Zw) - Mw * V + Md * V * Xu,
        -Mq * (Xu * Zw - Zu * Xw) + Mw * V * Xu + Md * Zu * GRAVITY,
        GRAVITY * (Zu * Mw),
    ]
    assert_allclose(np.sort_complex(np.linalg.eigvals(along(b, c))), np.sort_complex(np.roots(quartic)), atol=1e-9)


def test_a_pair() -> None:
    found = pair(np.array([-0.601 + 3.03j, -0.601 - 3.03j]))
    assert_allclose(found.damping, 0.194, atol=6e-4)
    assert_allclose(found.frequency, 3.09, atol=5e-3)


def _with(c: dict[str, float]) -> dict[str, float]:
    return NAVION_C | c
