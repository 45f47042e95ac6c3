"""What a boundary layer of two thicknesses is taken to do: shape, friction, dissipation, growth of waves.

The relations are those of drela-giles-1987 for incompressible flow (laminar ones fitted there to Falkner-Skan
profiles, turbulent friction and profile of swafford-1983), except the equilibrium layer, which is Green's:

    G^2 = A^2 (1 + B beta),  A = 6.432, B = 0.8            (green-1977)

put into the equation for the kinetic-energy shape gives, for slip and equilibrium stress,

    Us = H*/2 (1 - (H - 1)/(B H)),   Ceq = H* (H - 1)^3 / (2 A^2 B (1 - Us) H^3)

as drela-giles-1987 does with its own constants; worked out here.

Symbols: H shape factor delta*/theta, R Reynolds number on theta, Hs kinetic-energy shape factor theta*/theta,
cf friction over dynamic pressure at the edge, cd dissipation over rho U^3, C greatest shear stress coefficient,
s its square root, Us slip speed over U, n growth exponent of the most amplified wave.
Range: incompressible, H above 1.02, R above 1; turbulent fits from R 200 up, below it they are taken at 200. Bounds
that keep a sweep finite on its way: delta at most 12 theta, Us at most 0.98 on a wall, log10 R in the friction at least
1.3. Settled layers meet the first where H is above 8.6 or, in a wake, below 1.23 (ours, no source).
"""

from __future__ import annotations

import math
from typing import Any

import numba

A, B = 6.432, 0.8
LAG = 5.6  # of the stress behind its equilibrium; green-1977: 2.8 (H + H1) on both sides
ONSET = 0.7  # stress just behind transition, of its equilibrium; drela-giles-1987
LEAST = 1.02  # of H: below it there is no layer
LAMINAR, TURBULENT, WAKE = 0, 1, 2

quick = numba.njit(cache=True, error_model="numpy", inline="never")


@quick
def laminar_energy(H: float) -> float:
    """Hs(H), laminar. Source: drela-giles-1987, eq. for H*."""
    rate = 0.076 if H < 4.0 else 0.040
    return 1.515 + rate * (H - 4.0) ** 2 / H


@quick
def laminar_friction(H: float, R: float) -> float:
    """cf, laminar. Source: drela-giles-1987."""
    if H < 7.4:
        return 2.0 * (-0.067 + 0.01977 * (7.4 - H) ** 2 / (H - 1.0)) / R
    return 2.0 * (-0.067 + 0.022 * (1.0 - 1.4 / (H - 6.0)) ** 2) / R


@quick
def laminar_dissipation(H: float, R: float) -> float:
    """cd, laminar. Source: drela-giles-1987."""
    if H < 4.0:
        f = 0.207 + 0.00205 * (4.0 - H) ** 5.5
    else:
        f = 0.207 - 0.003 * (H - 4.0) ** 2 / (1.0 + 0.02 * (H - 4.0) ** 2)
    return 0.5 * laminar_energy(H) * f / R


@quick
def turbulent_energy(H: float, R: float) -> float:
    """Hs(H, R), turbulent. Source: drela-giles-1987."""
    R = max(R, 200.0)
    least = 4.0 if R < 400.0 else 3.0 + 400.0 / R
    start = 1.505 + 4.0 / R
    if H < least:
        return start + (0.165 - 1.6 / math.sqrt(R)) * (least - H) ** 1.6 / H
    log = math.log(R)
    return start + (H - least) ** 2 * (0.04 / H + 0.007 * log / (H - least + 4.0 / log) ** 2)


@quick
def turbulent_friction(H: float, R: float) -> float:
    """cf, turbulent. Source: swafford-1983, as in drela-giles-1987."""
    log = max(math.log10(max(R, 1.0)), 1.3)
    return 0.3 * math.exp(-1.33 * H) * log ** (-1.74 - 0.31 * H) + 0.00011 * (math.tanh(4.0 - H / 0.875) - 1.0)


@quick
def wave_rate(H: float, R: float, theta: float) -> float:
    """dn/dx of the envelope of all waves, n of a layer that is still calm is 0; per unit of theta's length.

    dn/dR [(m + 1)/2] l / theta above the critical R, raised from nothing over a tenth of a decade below and above
    it. Source: drela-giles-1987; the ramp is ours.
    """
    if H < 1.05:
        return 0.0
    k = 1.0 / (H - 1.0)
    critical = (1.415 * k - 0.489) * math.tanh(20.0 * k - 12.9) + 3.295 * k + 0.44
    over = (math.log10(max(R, 1.0)) - critical) / 0.1
    if over <= -1.0:
        return 0.0
    ramp = 1.0
    if over < 1.0:
        t = (over + 1.0) / 2.0
        ramp = t * t * (3.0 - 2.0 * t)
    slope = 0.01 * math.sqrt((2.4 * H - 3.7 + 2.5 * math.tanh(1.5 * H - 4.65)) ** 2 + 0.25)
    length = (6.54 * H - 14.07) / (H * H)
    power = (0.058 * (H - 4.0) ** 2 / (H - 1.0) - 0.068) / length
    return ramp * slope * (power + 1.0) / 2.0 * length / theta


@quick
def layer(kind: int, theta: float, star: float, U: float, s: float, re: float) -> tuple[Any, ...]:
    """(H, Hs, cf, cd, Us, s_eq, delta) of a layer; lengths in chords, U over flight speed, re on the chord.

    kind: LAMINAR, TURBULENT or WAKE. In the wake there is no friction, and both halves dissipate.
    """
    H = max(star / theta, LEAST)
    R = max(re * U * theta, 1.0)
    delta = min(theta * (3.15 + 1.72 / (H - 1.0)) + star, 12.0 * theta)
    if kind == 0:
        return H, laminar_energy(H), laminar_friction(H, R), laminar_dissipation(H, R), 0.0, 0.0, delta
    Hs = turbulent_energy(H, R)
    Us = 0.5 * Hs * (1.0 - (H - 1.0) / (B * H))
    Us = min(max(Us, -1.0), 0.98 if kind == 1 else 0.99995)
    equal = math.sqrt(max(Hs * (H - 1.0) ** 3 / (2.0 * A * A * B * (1.0 - Us) * H**3), 1e-12))
    cf = turbulent_friction(H, R) if kind == 1 else 0.0
    cd = 0.5 * cf * Us + s * s * (1.0 - Us) if kind == 1 else 2.0 * s * s * (1.0 - Us)
    return H, Hs, cf, cd, Us, equal, delta
