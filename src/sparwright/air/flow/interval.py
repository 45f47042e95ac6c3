"""The three equations of a boundary layer between two stations, as residuals to be brought to nothing.

    momentum   d(theta U^2) + delta* U dU = U^2 cf/2 dx
    shape      U theta dHs + Hs (1 - H) theta dU = U (2 cd - Hs cf/2) dx
    stress     2 delta ds = s [ K (s_eq - s) + 2 delta ((dU/U dx)_eq - dU/U dx) ] dx      turbulent, wake
    waves      dn = rate dx                                                               laminar

Momentum and shape stand so that both sides stay finite and smooth at the stagnation point, where U = k x. U,
theta and delta* run straight between stations; the shape equation takes the values behind the more, the more H
changes (upwind), which keeps a separating layer from swinging. (delta* dU/U dx)_eq = (cf/2 - ((H - 1)/(A H))^2)/B.

In the interval where the flow turns turbulent the laminar equations hold up to there, the turbulent ones behind;
the place is where n reaches its critical value, or where the trip is.

Sources: drela-giles-1987 (equations, transition inside an interval), green-1977 (lag with the pressure gradient).
Symbols as in closure.py; x along the surface in chords; U over flight speed.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sparwright.air.flow.closure import LAG, LEAST, ONSET, A, B, layer, quick, wave_rate

NUDGE = 1e-6  # relative step for slopes
STATE = 4  # theta, delta*, s, U: what a station knows


@quick
def between(kind: int, a: np.ndarray, b: np.ndarray, dx: float, re: float, held: float) -> tuple[Any, ...]:
    """(momentum, shape, stress or waves) residuals of an interval that is all laminar, turbulent or wake.

    a, b: (4,) theta, delta*, s (n when laminar), U at its two ends.
    """
    ta, da, sa, ua = a[0], a[1], a[2], a[3]
    tb, db, sb, ub = b[0], b[1], b[2], b[3]
    Ha, Ea, fa, ca, _, qa, wa = layer(kind, ta, da, ua, sa, re)
    Hb, Eb, fb, cb, _, qb, wb = layer(kind, tb, db, ub, sb, re)
    du = ub - ua
    turn = math.log((Hb - 1.0) / (Ha - 1.0))
    w = 1.0 - 0.4 * math.exp(-turn * turn * 4.0)
    if kind == 2:
        w = 1.0
    v = 1.0 - w
    friction = ((2 * ua + ub) * ua * fa + (ua + 2 * ub) * ub * fb) / 12.0 * dx
    push = du * ((2 * ua + ub) * da + (ua + 2 * ub) * db) / 6.0
    momentum = tb * ub * ub - ta * ua * ua + push - friction
    shape = (
        (v * ua * ta + w * ub * tb) * (Eb - Ea)
        + (v * Ea * (1.0 - Ha) * ta + w * Eb * (1.0 - Hb) * tb) * du
        - (v * ua * (2.0 * ca - 0.5 * Ea * fa) + w * ub * (2.0 * cb - 0.5 * Eb * fb)) * dx
    )
    if kind == 0:
        return momentum, shape, sb - sa - growth(a, held, re) * dx
    if kind == 2:
        wa, wb = 0.5 * wa, 0.5 * wb
    H, q, f, wide, star, s = (
        0.5 * (Ha + Hb),
        v * qa + w * qb,
        0.5 * (fa + fb),
        0.5 * (wa + wb),
        0.5 * (da + db),
        v * sa + w * sb,
    )
    ease = (0.5 * f - ((H - 1.0) / (A * H)) ** 2) / (B * star) * dx - math.log(ub / ua)
    stress = 2.0 * wide * math.log(sb / sa) - LAG * (q - s) * dx - 2.0 * wide * ease
    return momentum, shape, stress


@quick
def wave_rate_at(a: np.ndarray, re: float) -> float:
    """dn/dx at a station."""
    return wave_rate(max(a[1] / a[0], LEAST), re * a[3] * a[0], a[0])


@quick
def growth(a: np.ndarray, held: float, re: float) -> float:
    """dn/dx over the interval after station a, from a and the station before it, whose own rate is `held`.

    Second order (Adams-Bashforth), kept between nothing and twice the rate at a. It looks upstream only, so the
    place where the flow turns does not depend on what the layer does behind it.
    """
    rate = wave_rate_at(a, re)
    return min(max(1.5 * rate - 0.5 * held, 0.0), 2.0 * rate)


@quick
def turning(a: np.ndarray, held: float, dx: float, re: float, critical: float, trip: float) -> float:
    """Where in the interval after the laminar station a, 0 to 1, the flow turns turbulent; above 1 when it does not.

    trip: the trip's place in parts of the interval; 2 for none.
    """
    rate, left = growth(a, held, re) * dx, critical - a[2]
    natural = 2.0 if left > rate else max(left, 0.0) / max(rate, 1e-12)
    return min(natural, max(trip, 0.0))


@quick
def across(a: np.ndarray, b: np.ndarray, dx: float, re: float, held: float, critical: float,
           trip: float) -> tuple[Any, ...]:  # fmt: skip
    """Residuals of the interval in which the flow turns turbulent: laminar ahead, turbulent behind."""
    f = min(max(turning(a, held, dx, re, critical, trip), 0.0), 1.0)
    m = np.empty(4)
    for k in (0, 1, 3):
        m[k] = a[k] + f * (b[k] - a[k])
    m[2] = 0.0
    start = ONSET * layer(1, m[0], m[1], m[3], 0.03, re)[5]
    one, two, three = 0.0, 0.0, 0.0
    if f > 1e-6:
        ahead = a.copy()
        ahead[2] = 0.0
        one, two, _ = between(0, ahead, m, f * dx, re, 0.0)
    m[2] = start
    r1, r2, three = between(1, m, b, max(1.0 - f, 1e-6) * dx, re, 0.0)
    return one + r1, two + r2, three


@quick
def residual(kind: int, a: np.ndarray, b: np.ndarray, dx: float, re: float, held: float, critical: float,
             trip: float) -> tuple[Any, ...]:  # fmt: skip
    """The three residuals of an interval of any kind."""
    if kind == 3:
        return across(a, b, dx, re, held, critical, trip)
    return between(kind, a, b, dx, re, held)


@quick
def jacobian(kind: int, a: np.ndarray, b: np.ndarray, dx: float, re: float, held: float, critical: float,
             trip: float) -> tuple[Any, ...]:  # fmt: skip
    """(residuals (3,), their slopes (3, 8)) of an interval; kind 3 is the one that turns turbulent."""
    r = np.empty(3)
    J = np.empty((3, 8))
    r[0], r[1], r[2] = residual(kind, a, b, dx, re, held, critical, trip)
    for i in range(8):
        end = a if i < 4 else b
        j = i % 4
        old = end[j]
        h = NUDGE * max(abs(old), 1e-9)
        if j == 2 and kind in (0, 3) and i < 4 or j == 2 and kind == 0:
            h = NUDGE
        end[j] = old + h
        x, y, z = residual(kind, a, b, dx, re, held, critical, trip)
        end[j] = old
        J[0, i], J[1, i], J[2, i] = (x - r[0]) / h, (y - r[1]) / h, (z - r[2]) / h
    return r, J
