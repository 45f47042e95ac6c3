"""What a shear web does after it buckles: incomplete diagonal tension between flanges and uprights.

Symbols: tau = q/t, tau_cr buckling stress, k part of the shear carried by diagonal tension, alpha its angle to the
flanges, h between the flanges' centroids, d between uprights, A_F one flange, A_Ue effective upright, sigma_U and
sigma_F stress in upright and flange by the diagonal tension (pressing negative), omega_d flexibility of the flange.

    k = tanh(0.5 log10(tau/tau_cr))                                          tau > tau_cr, else 0
    sigma_U = -k tau tan alpha/(A_Ue/(d t) + 0.5 (1 - k))
    sigma_F = -k tau cot alpha/(2 A_F/(h t) + 0.5 (1 - k))
    epsilon = tau/E [2 k/sin 2alpha + (1 - k)(1 + nu) sin 2alpha]
    tan^2 alpha = (epsilon - sigma_F/E)/(epsilon - sigma_U/E)
    omega_d = 0.7 d [t/((I_T + I_C) h)]^(1/4)
    tau_max = tau (1 + k^2 C1)(1 + k C2),  C1 = 1/sin 2alpha - 1
    M = C3 k tau t d^2 tan alpha/12                                          flange between uprights
    q_rivet = q (1 + 0.414 k)                                                web to flange

C1, C2, C3 of the report are curves that were not in hand. C1 is the closed form. C2 and C3 are worked out here: the
flange as a beam held at the uprights on the elastic bed of the web's strips (Wagner's picture), see `flange_factors`.
What the web bears at last is not the report's curve either: sigma of Mises in pure shear (1 - k) tau with tension
2 k tau at 45 degrees, tau_max sqrt(3 + k^2) against the tensile strength, and tau_max against the shear strength.

Range: 0.2 <= d/h <= 1.0, 115 <= h/t <= 1500, tau/tau_cr up to 800, t_U/t above 0.6 (memory, high); NaN outside. Ribs
a foot apart on a spar five inches deep are outside (d/h 2.4): such a web must not buckle at ultimate load, or get
uprights. Source: naca-tn-2661 (formulas from memory, high).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.strength.members.web import Many, given, margin

REPORT = "naca-tn-2661"
SPACING = (0.2, 1.0)  # d/h
SLENDER = (115.0, 1500.0)  # h/t
LOADED = 800.0  # tau/tau_cr
TURNS = 80  # of the sum for the angle; it halves its error in each


@dataclass(frozen=True, kw_only=True)
class Bay:
    """A web's bay with its flanges and uprights; floats or arrays of one shape."""

    thickness: Many = number("m", "web")
    height: Many = number("m", "between the flanges' centroids")
    spacing: Many = number("m", "between uprights")
    flange: Many = number("m2", "one flange")
    flange_inertia: Many = number("m4", "both flanges, each about its own middle, in the plane of the web")
    upright: Many = number("m2", "effective upright: A_U double, A_U/(1 + (e/rho)^2) single; ribs' flange counted")
    youngs: Many = number("Pa", "of the web")
    poisson: Many = number("1", "of the web", 0.33)


@dataclass(frozen=True)
class Tense:
    """What a bay does under its shear, arrays of the shear's shape; NaN outside the range."""

    tau: np.ndarray  # Pa
    k: np.ndarray
    angle: np.ndarray  # rad
    upright: np.ndarray  # Pa, mean along it, pressing negative
    flange: np.ndarray  # Pa, pressing negative
    peak: np.ndarray  # Pa, tau_max
    moment: np.ndarray  # N m, flange at the uprights
    rivet: np.ndarray  # N/m, web to flange


def factor(tau: Many, critical: Many) -> np.ndarray:
    """k, from 0 (flat) towards 1 (all diagonal tension).

    >>> float(factor(1.0, 1.0)), round(float(factor(100.0, 1.0)), 4)
    (0.0, 0.7616)
    """
    ratio = np.maximum(np.asarray(tau, float) / np.asarray(critical, float), 1.0)
    return np.asarray(np.where(ratio <= LOADED, np.tanh(0.5 * np.log10(ratio)), np.nan))


def effective_upright(area: Many, off: Many, gyration: Many) -> np.ndarray:
    """A_Ue, m2, of an upright on one side only, its middle `off` the web, m: A_U/(1 + (e/rho)^2)."""
    return np.asarray(area / (1 + (np.asarray(off) / gyration) ** 2))


def flexibility(bay: Bay) -> np.ndarray:
    """omega_d = 0.7 d [t/((I_T + I_C) h)]^(1/4)."""
    return np.asarray(0.7 * bay.spacing * (bay.thickness / (bay.flange_inertia * np.asarray(bay.height))) ** 0.25)


def flange_factors(omega: Many) -> tuple[np.ndarray, np.ndarray]:
    """(C2, C3): by how much a flange that gives way raises the web's peak, and lowers its own moment.

    A beam of length d clamped at both ends, on a bed, drawn by w0 phi: phi = A cosh lx cos lx + B sinh lx sin lx about
    the middle, phi = 1 and phi' = 0 at the ends, l d = omega_d. 1 + C2 = 1/mean phi; C3 = 12 M_end/(w_mean d^2).
    Source: computed; the elastic bed is Wagner's. Stiff flange: C2 = 0, C3 = 1.

    >>> [round(float(v), 3) for v in flange_factors(2.0)]
    [0.086, 0.976]
    """
    u = np.maximum(np.asarray(omega, float), 0.05) / 2  # under 0.05 both are 0 and 1 to 1e-8
    sh, ch, s, c = np.sinh(u), np.cosh(u), np.sin(u), np.cos(u)
    a = (sh * c + ch * s) / (sh * ch + s * c)
    b = (ch * s - sh * c) / (sh * ch + s * c)
    mean = (a * (sh * c + ch * s) + b * (ch * s - sh * c)) / (2 * u)
    bent = 2 * u**2 * (b * ch * c - a * sh * s)  # (d/2)^2 phi'' at the end; w phi'' = -4 l^4 M/w0 of the beam
    return np.asarray(1 / mean - 1), np.asarray(-3 * bent / (4 * u**4) / mean)


def _angle(k: np.ndarray, upright: Many, flange: Many, poisson: Many) -> np.ndarray:
    """alpha by bisection: upright and flange are A_Ue/(d t) and 2 A_F/(h t)."""
    low, high = np.full_like(k, 0.05), np.full_like(k, np.pi / 2 - 0.05)
    for _ in range(TURNS):
        a = (low + high) / 2
        up, along = _stresses(k, a, upright, flange)
        strain = 2 * k / np.sin(2 * a) + (1 - k) * (1 + poisson) * np.sin(2 * a)
        steep = np.tan(a) ** 2 * (strain - up) > strain - along
        low, high = np.where(steep, low, a), np.where(steep, a, high)
    return np.asarray((low + high) / 2)


def _stresses(k: Many, a: Many, upright: Many, flange: Many) -> tuple[np.ndarray, np.ndarray]:
    """(sigma_U, sigma_F) over tau."""
    up = -k * np.tan(a) / (upright + 0.5 * (1 - k))
    return up, -k / np.tan(a) / (flange + 0.5 * (1 - k))


def in_range(bay: Bay) -> np.ndarray:
    """Whether a bay is one the method was tried on."""
    ratio, slender = bay.spacing / np.asarray(bay.height), bay.height / np.asarray(bay.thickness)
    near = (ratio >= SPACING[0] - 1e-9) & (ratio <= SPACING[1] + 1e-9)
    return np.asarray(near & (slender >= SLENDER[0]) & (slender <= SLENDER[1]))


def tense(shear: Many, critical: Many, bay: Bay) -> Tense:
    """A bay under a shear flow q (n,), N/m, of one web that buckles at tau_cr, Pa."""
    q = np.abs(np.asarray(shear, float))
    tau = q / bay.thickness
    k = np.where(in_range(bay), factor(tau, critical), np.nan)
    stiff = (
        bay.upright / (bay.spacing * np.asarray(bay.thickness)),
        2 * bay.flange / (bay.height * np.asarray(bay.thickness)),
    )
    angle = _angle(k, *stiff, bay.poisson)
    angle = np.where(np.isfinite(k), angle, np.nan)
    up, along = _stresses(k, angle, *stiff)
    c2, c3 = flange_factors(flexibility(bay))
    peak = tau * (1 + k**2 * (1 / np.sin(2 * angle) - 1)) * (1 + k * c2)
    moment = c3 * k * q * bay.spacing**2 * np.tan(angle) / 12
    return Tense(tau, k, angle, up * tau, along * tau, peak, moment, q * (1 + 0.414 * k))


def use(
    shear: Many, critical: Many, bay: Bay, tension: float, strength: float, hole: float = 0.0, pitch: float = np.inf
) -> np.ndarray:
    """Use of the web by a shear flow at ultimate load, N/m: the greater of tau_max/F_su and tau_max sqrt(3 + k^2)/F_tu.

    tension F_tu and strength F_su, Pa; a row of rivets takes 1 - D/p of both.
    """
    t = tense(shear, critical, bay)
    left = 1 - hole / pitch
    return np.asarray(np.maximum(t.peak / strength, t.peak * np.sqrt(3 + t.k**2) / tension) / left)


def upright_length(k: Many, bay: Bay) -> np.ndarray:
    """L_e of an upright as a column, m: h/sqrt(1 + k^2 (3 - 2 d/h)) for d/h < 1.5."""
    h = np.asarray(bay.height)
    inside = np.maximum(3 - 2 * bay.spacing / h, 0.0)
    return np.asarray(h / np.sqrt(1 + np.asarray(k) ** 2 * inside))


def upright_peak(k: Many, bay: Bay) -> np.ndarray:
    """Greatest over mean stress of an upright: 1 + 0.775 (1 - k)(1 - 0.8 d/h).

    A line through the report's curves (memory, medium).
    """
    return np.asarray(1 + 0.775 * (1 - np.asarray(k)) * (1 - 0.8 * bay.spacing / np.asarray(bay.height)))


def forced_crippling(k: Many, upright: Many, web: Many, alloy: str, both_sides: bool) -> np.ndarray:
    """Greatest stress an upright's leg bears, Pa: C k^(2/3) (t_U/t)^(1/3), C in ksi.

    24S-T (2024-T3) 21 double, 26 single; 75S-T 26 and 32.5. NaN for every other alloy, which the
    report did not try, and for t_U/t up to 0.6.
    """
    found = {("2024-T3", True): 21.0, ("2024-T3", False): 26.0, ("7075-T6", True): 26.0, ("7075-T6", False): 32.5}
    c = found.get((alloy.removesuffix("-clad"), both_sides), np.nan) * 6.894757e6
    ratio = np.asarray(upright, float) / web
    return np.asarray(np.where(ratio > 0.6, c * np.asarray(k, float) ** (2 / 3) * ratio ** (1 / 3), np.nan))


def upright_rivets(web: Many, tension: float, both_sides: bool) -> np.ndarray:
    """Pull that the rivets of upright to web must bear, N/m: 0.15 t F_tu double, 0.22 t F_tu single."""
    return np.asarray((0.15 if both_sides else 0.22) * np.asarray(web) * tension)


def shear_modulus(k: Many, shear: float, youngs: float) -> np.ndarray:
    """G of a buckled web, Pa: 1/G_k = (1 - k)/G + k/G_PDT, G_PDT = E/4 (45 degrees, flanges that do not give way)."""
    k = np.asarray(k, float)
    return np.asarray(1 / ((1 - k) / shear + 4 * k / youngs))


def working(shear: float, critical: float, bay: Bay, tension: float, strength: float) -> tuple[Step, ...]:
    """One bay under a shear flow at ultimate load, N/m."""
    t = tense(np.asarray(shear), np.asarray(critical), bay)
    used = float(use(np.asarray(shear), np.asarray(critical), bay, tension, strength))
    return (*_of_web(critical, bay, t), *_of_edges(shear, bay, t), *margin("web in diagonal tension", used))


def _of_web(critical: float, bay: Bay, t: Tense) -> tuple[Step, ...]:
    """How much of the shear is pulled, at what angle, and what the web feels of it."""
    k, omega = float(t.k), flexibility(bay)
    sizes = given(("t", bay.thickness, "m"), ("h", bay.height, "m"), ("d", bay.spacing, "m"))
    kk, ta, c2 = ("k", k, "1"), ("tau", float(t.tau), "Pa"), ("C2", float(flange_factors(omega)[0]), "1")
    bends = given(("I_T + I_C", bay.flange_inertia, "m4"))
    return (
        Step("diagonal tension factor", "k = tanh(0.5 log10(tau/tau_cr))", (ta, ("tau_cr", critical, "Pa")), k, "1",
             REPORT),
        Step("angle of the tension", "tan^2 alpha = (e - e_F)/(e - e_U)", (kk, *sizes), float(t.angle), "rad", REPORT),
        Step("flexibility of the flange", "omega_d = 0.7 d [t/((I_T + I_C) h)]^(1/4)", (*sizes, *bends), float(omega),
             "1", REPORT),
        Step("greatest web stress", "tau_max = tau (1 + k^2 C1)(1 + k C2)", (ta, kk, c2), float(t.peak), "Pa",
             f"{REPORT}; C2 computed"),
    )  # fmt: skip


def _of_edges(shear: float, bay: Bay, t: Tense) -> tuple[Step, ...]:
    """What the tension asks of the upright, of the flanges and of the rivets between."""
    kk, ta, q = ("k", float(t.k), "1"), ("tau", float(t.tau), "Pa"), ("q", abs(shear), "N/m")
    c3 = ("C3", float(flange_factors(flexibility(bay))[1]), "1")
    return (
        Step("upright", "sigma_U = -k tau tan alpha/(A_Ue/(d t) + 0.5 (1 - k))",
             (ta, kk, *given(("A_Ue", bay.upright, "m2"))), float(t.upright), "Pa", REPORT),
        Step("flange, along", "sigma_F = -k tau cot alpha/(2 A_F/(h t) + 0.5 (1 - k))",
             (ta, kk, *given(("A_F", bay.flange, "m2"))), float(t.flange), "Pa", REPORT),
        Step("flange, bending at an upright", "M = C3 k q d^2 tan alpha/12", (q, kk, c3), float(t.moment), "N m",
             f"{REPORT}; C3 computed"),
        Step("rivets of web to flange", "q (1 + 0.414 k)", (q, kk), float(t.rivet), "N/m", REPORT),
    )  # fmt: skip


@dataclass(frozen=True)
class Wagner:
    """A cantilever beam whose web does nothing but pull, at one place."""

    angle: float = number("rad", "of the tension to the flanges")
    stress: float = number("Pa", "tension in the web")
    pulled: float = number("N", "tension flange at the section")
    pressed: float = number("N", "compression flange at the section")
    moment: float = number("N m", "flange at an upright")
    upright: float = number("N", "load of an upright, pressing")
    column: float = number("m", "length of an upright as a column")


def pure(
    shear: float, moment: float, thickness: float, height: float, spacing: float, flange: float, upright: float
) -> Wagner:
    """Pure diagonal tension: tan^4 alpha = (1 + t h/(2 A_F))/(1 + t d/A_S).

    sigma = 2 W/(t h sin 2alpha); flanges M/h +- W/(2 tan alpha); W d^2 tan alpha/(12 h); P = W d tan alpha/h;
    l_e = h/sqrt(4 - 2 d/h) for d < 1.5 h, else h. shear W, N; moment N m; lengths m, areas m2. Source: megson (read).
    """
    tan = ((1 + thickness * height / (2 * flange)) / (1 + thickness * spacing / upright)) ** 0.25
    a, half = float(np.arctan(tan)), shear / (2 * tan)
    column = height / np.sqrt(4 - 2 * spacing / height) if spacing < 1.5 * height else height
    return Wagner(
        a,
        2 * shear / (thickness * height * float(np.sin(2 * a))),
        moment / height - half,
        moment / height + half,
        shear * spacing**2 * tan / (12 * height),
        shear * spacing * tan / height,
        float(column),
    )
