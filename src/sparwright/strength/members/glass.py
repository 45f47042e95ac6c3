"""Hand-laid woven glass skins: what the laminate is, when a panel buckles, how it holds pressure, how it is glued on.

Symbols: G glass mass fraction, V_f its volume fraction, w_f weight of the cloth per area, t thickness, D_1, D_2, D_3 =
D_12 + 2 D_66 plate stiffnesses, theta = sqrt(D_1 D_2)/D_3, b panel width (rib to rib), p pressure, R radius.

    t = w_f/rho_f + w_f (1 - G)/(G rho_r)                                    cured thickness
    UTS 1278 G^2 - 510 G + 123, compression 150 G + 72, flexure 502 G^2 + 106.8, shear 80 G + 38 MPa
    E 37 G - 4.75, E of flexure 33.4 G^2 + 2.2, shear modulus 1.7 G + 2.24 GPa
    N_x = (2 pi^2/b^2)(sqrt(D_1 D_2) + D_3)                                  long panel pressed along its length
    N_xy = (4/b^2)(D_1 D_2^3)^(1/4) beta(theta), theta >= 1                  long panel in shear (Seydel)
    N_xy = (4/b^2) sqrt(D_2 D_3) beta(theta), theta < 1
    pressure: a strip clamped between ribs, bent and pulled, `pillow`

Rule values are of glass and polyester, a floor for epoxy, 0.3 <= G <= 0.6, NaN outside; their compression was found
optimistic against tests. Coupons of the designer go in as a Laminate of their own. What heat takes off (room-cured
epoxy softens in the sun) has no published value here: `hot` is asked for, NaN where it is not known.
Sources: marine-laminate-rule (memory, high); seydel-1933 by way of lekhnitskii (memory, high); timoshenko-plates
(memory, high); roundness as nasa-sp-8007 and bruhn, with a factor for weak shear (memory, medium).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.strength.members.web import ROUNDEST, Many, margin

GLASS, RESIN = 2540.0, 1150.0  # kg/m3
RULE = (0.3, 0.6)  # G
THETA = np.array([0.0, 0.2, 0.5, 1.0])
UNDER = np.array([11.71, 11.8, 12.2, 13.17])  # beta for theta < 1
ONE_OVER = np.array([0.0, 0.025, 0.05, 0.1, 0.2, 1 / 3, 0.5, 1.0])
OVER = np.array([8.125, 8.25, 8.4, 8.7, 9.25, 9.95, 10.8, 13.17])  # beta for theta >= 1 at 1/theta


@dataclass(frozen=True, kw_only=True)
class Laminate:
    """A skin as it is used: woven cloth at 0 and 90 degrees to the ribs, alike both ways."""

    thickness: float = number("m", "cured")
    tension: float = number("Pa", "ultimate")
    compression: float = number("Pa", "ultimate")
    bending: float = number("Pa", "flexural strength")
    shear: float = number("Pa", "in the plane")
    youngs: float = number("Pa", "in tension")
    youngs_bent: float = number("Pa", "in bending")
    shear_modulus: float = number("Pa", "in the plane")
    poisson: float = number("1", "of the cloth", 0.15)


def volume_fraction(mass_fraction: Many) -> np.ndarray:
    """V_f of glass.

    >>> round(float(volume_fraction(0.5)), 3)
    0.312
    """
    g = np.asarray(mass_fraction, float)
    return np.asarray(g / GLASS / (g / GLASS + (1 - g) / RESIN))


def thickness(cloth: Many, mass_fraction: Many) -> np.ndarray:
    """Cured thickness, m, of cloth kg/m2 (all plies).

    >>> round(float(thickness(0.302, 0.5)) * 1e3, 3)   # 8.9 oz/yd2
    0.382
    """
    w, g = np.asarray(cloth, float), np.asarray(mass_fraction, float)
    return np.asarray(w / GLASS + w * (1 - g) / (g * RESIN))


def rule(mass_fraction: float, thick: float) -> Laminate:
    """A laminate by the marine rule at glass mass fraction G; NaN outside 0.3 to 0.6.

    >>> round(rule(0.5, 0.38e-3).tension / 1e6, 1)
    187.5
    """
    g = mass_fraction if RULE[0] <= mass_fraction <= RULE[1] else math.nan
    return Laminate(
        thickness=thick,
        tension=(1278 * g**2 - 510 * g + 123) * 1e6,
        compression=(150 * g + 72) * 1e6,
        bending=(502 * g**2 + 106.8) * 1e6,
        shear=(80 * g + 38) * 1e6,
        youngs=(37 * g - 4.75) * 1e9,
        youngs_bent=(33.4 * g**2 + 2.2) * 1e9,
        shear_modulus=(1.7 * g + 2.24) * 1e9,
    )


def knocked_down(laminate: Laminate, made: float, hot: float, hot_stiffness: float) -> Laminate:
    """Strengths times made (quality of the laying up) and hot, moduli times hot_stiffness; each 0 to 1, NaN unknown."""
    part = made * hot
    strengths = {k: getattr(laminate, k) * part for k in ("tension", "compression", "bending", "shear")}
    moduli = {k: getattr(laminate, k) * hot_stiffness for k in ("youngs", "youngs_bent", "shear_modulus")}
    return replace(laminate, **strengths, **moduli)


def plate(laminate: Laminate) -> tuple[float, float]:
    """(D_1 = D_2, D_3), N m: E_b t^3/(12 (1 - nu^2)), nu D_1 + 2 G t^3/12."""
    cube = laminate.thickness**3 / 12
    d1 = laminate.youngs_bent * cube / (1 - laminate.poisson**2)
    return d1, laminate.poisson * d1 + 2 * laminate.shear_modulus * cube


def beta(theta: Many) -> np.ndarray:
    """Seydel's coefficient of a long orthotropic panel in shear, edges simply held, straight between his values."""
    th = np.asarray(theta, float)
    with np.errstate(divide="ignore"):
        return np.asarray(np.where(th < 1, np.interp(th, THETA, UNDER), np.interp(1 / th, ONE_OVER, OVER)))


def weak_in_shear(laminate: Laminate) -> float:
    """phi = sqrt(2 G (1 + nu)/E), at most 1: what a round sheet loses because woven cloth is soft in shear."""
    return min(1.0, math.sqrt(2 * laminate.shear_modulus * (1 + laminate.poisson) / laminate.youngs_bent))


def shear_buckling(laminate: Laminate, width: Many, radius: Many = np.inf) -> np.ndarray:
    """Shear flow at which a long panel buckles, N/m: flat, or round if that is greater. Short panels bear more.

    Round: 0.1 phi E t^2/R, not counted beyond R/t 1500. width: the shorter side, m; radius m (endless: flat).
    """
    d1, d3 = plate(laminate)
    theta = d1 / d3
    lead = d1 if theta >= 1 else math.sqrt(d1 * d3)
    flat = 4 * lead * beta(theta) / np.asarray(width, float) ** 2
    r = np.asarray(radius, float) / laminate.thickness
    round_ = 0.1 * weak_in_shear(laminate) * laminate.youngs_bent * laminate.thickness / r
    return np.asarray(np.where(r <= ROUNDEST, np.maximum(round_, flat), flat))


def compression_buckling(laminate: Laminate, width: Many, radius: Many = np.inf) -> np.ndarray:
    """Load per width at which a long panel pressed along its length buckles, N/m: flat, or round if that is greater.

    Round: gamma phi E t^2/(sqrt(3 (1 - nu^2)) R), gamma as of cylinders (web.curved_compression); not counted beyond
    R/t 1500, where none was tested. width m, radius m (endless: flat).
    """
    d1, d3 = plate(laminate)
    flat = 2 * math.pi**2 / np.asarray(width, float) ** 2 * (d1 + d3)
    r = np.asarray(radius, float) / laminate.thickness
    gamma = 1 - 0.901 * (1 - np.exp(-np.sqrt(np.minimum(r, ROUNDEST)) / 16))
    stiff = weak_in_shear(laminate) * laminate.youngs_bent * laminate.thickness
    round_ = gamma * stiff / (math.sqrt(3 * (1 - laminate.poisson**2)) * r)
    return np.asarray(np.where(r <= ROUNDEST, np.maximum(round_, flat), flat))


def use(shear: Many, pressed: Many, laminate: Laminate, width: Many, radius: Many = np.inf) -> np.ndarray:
    """(3, n) uses of a skin panel at ultimate load: shear strength, direct strength, buckling together.

    shear N/m and pressed N/m (pulled negative). Buckling: (q/q_cr)^2 + N/N_cr = 1, as a factor on both.
    """
    n, q, t = np.asarray(pressed, float), np.abs(shear), laminate.thickness
    direct = np.where(n > 0, n / (t * laminate.compression), -n / (t * laminate.tension))
    rs = q / shear_buckling(laminate, width, radius)
    rc = np.maximum(n, 0.0) / compression_buckling(laminate, width, radius)
    together = (rc + np.sqrt(rc**2 + 4 * rs**2)) / 2
    return np.array(np.broadcast_arrays(q / (t * laminate.shear), direct, together))


def pillow(pressure: Many, laminate: Laminate, width: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(sag m, pull N/m, greatest stress Pa) of a skin between ribs under pressure, Pa, as a strip clamped at both.

    u^2 = S b^2/(4 D):  E^2 t^8/((1 - nu^2)^2 p^2 b^8)
        = -81/(16 u^7 tanh u) - 27/(16 u^6 sinh^2 u) + 27/(4 u^8) + 9/(8 u^6)
    pull S = 4 u^2 D/b^2;  stress S/t + (p/2)(b/t)^2 psi, psi = 3 (u - tanh u)/(u^2 tanh u)
    sag p b^4/(384 D) f, f = (24/u^4)(u^2/2 + u/sinh u - u/tanh u)

    The ribs do not give way towards each other (last ribs do: there the sag is greater). Stiff both ways alike (E the
    mean of tension and bending). Source: timoshenko-plates, built-in edges (memory, high).
    """
    p, t, nu = np.maximum(np.abs(np.asarray(pressure, float)), 1e-9), laminate.thickness, laminate.poisson
    e = (laminate.youngs + laminate.youngs_bent) / 2
    d = e * t**3 / (12 * (1 - nu**2))
    wanted = (e * t**4 / ((1 - nu**2) * p * width**4)) ** 2
    low, high = np.full(p.shape, 0.05), np.full(p.shape, 60.0)
    for _ in range(60):
        u = (low + high) / 2
        soft = _built_in(u) > wanted
        low, high = np.where(soft, u, low), np.where(soft, high, u)
    u = (low + high) / 2
    sag = p * width**4 / (384 * d) * 24 / u**4 * (u**2 / 2 + u / np.sinh(u) - u / np.tanh(u))
    pull = 4 * u**2 * d / width**2
    bent = p / 2 * (width / t) ** 2 * 3 * (u - np.tanh(u)) / (u**2 * np.tanh(u))
    known = np.isfinite(wanted) & (u < 59.9)
    whole = pull / t + bent
    return np.where(known, sag, np.nan), np.where(known, pull, np.nan), np.where(known, whole, np.nan)


def _built_in(u: Many) -> np.ndarray:
    return np.asarray(
        -81 / (16 * u**7 * np.tanh(u)) - 27 / (16 * u**6 * np.sinh(u) ** 2) + 27 / (4 * u**8) + 9 / (8 * u**6)
    )


def use_pillow(pressure: Many, laminate: Laminate, width: float) -> np.ndarray:
    """Use by pressure at ultimate load: the strip's pull and bending against tension and flexure, added."""
    _, pull, stress = pillow(pressure, laminate, width)
    along = pull / laminate.thickness
    return np.asarray(along / laminate.tension + (stress - along) / laminate.bending)


def use_bond(flow: Many, suction: Many, pitch: float, land: float, shear: float, pull: float) -> np.ndarray:
    """Use of the glue of skin to a rib or spar cap at ultimate load: q/(w F_s) + p b/(w F_t), added.

    flow N/m into the rib, suction Pa over a rib pitch b, m, land w the glued width, m; shear and pull what the weaker
    of glue, wood and laminate bears, Pa. Even stress: peel at the land's edges is not worked out, and a land without a
    strip or fillet should not be asked for pull at all (common practice).
    """
    return np.asarray(np.abs(flow) / (land * shear) + np.maximum(suction, 0.0) * pitch / (land * pull))


def working(
    shear: float, pressed: float, laminate: Laminate, width: float, radius: float = math.inf
) -> tuple[Step, ...]:
    """One panel at ultimate load; shear and pressed in N/m."""
    d1, d3 = plate(laminate)
    q_cr = float(shear_buckling(laminate, width, radius))
    n_cr = float(compression_buckling(laminate, width, radius))
    uses = [float(v) for v in use(shear, pressed, laminate, width, radius)]
    size = (("t", laminate.thickness, "m"), ("b", width, "m"))
    stiff = (("D_1", d1, "N m"), ("D_3", d3, "N m"))
    bent = (("R", radius, "m"),) if math.isfinite(radius) else ()
    return (
        Step(
            "stiffness in bending",
            "D_1 = E_b t^3/(12 (1 - nu^2))",
            (("E_b", laminate.youngs_bent, "Pa"), size[0]),
            d1,
            "N m",
            "lekhnitskii",
        ),
        Step(
            "shear flow at buckling",
            "N_xy = (4/b^2)(D_1 D_2^3)^(1/4) beta, or round",
            (*stiff, size[1], ("theta", d1 / d3, "1")),
            q_cr,
            "N/m",
            "seydel-1933",
        ),
        Step(
            "pressing at buckling",
            "N_x = (2 pi^2/b^2)(D_1 + D_3), or round",
            (*stiff, size[1], *bent),
            n_cr,
            "N/m",
            "lekhnitskii",
        ),
        *(
            line
            for of, u in zip(("shear strength", "direct strength", "buckling together"), uses, strict=True)
            for line in margin(of, u)
        ),
    )
