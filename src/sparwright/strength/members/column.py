"""Round tubes pressed: column curves as published, local buckling, the price of a bow. Ultimate loads in, use out.

Symbols as in Bruhn and ANC-5: L length, c end fixity (data/factors.toml), L' = L/sqrt(c), rho radius of gyration,
x = L'/rho, F_c column stress, D outside, t wall, E, F_cy yield in compression, nu; eta, e bow in Perry and Robertson.

    short F_c = top - slope x^power, long F_c = euler/x^2        every edition on file, the lowest is used
    local F_l = gamma E t/R/sqrt(3 (1 - nu^2))               gamma = 1 - 0.901 (1 - exp(-sqrt(R/t)/16)), nasa-sp-8007
          above F_cy/2: F_cy (1 - F_cy/(4 F_l))                   Johnson's parabola (common practice)
          or 0.038 E t/D + 2/3 F_cy where D/t >= 0.11 E/F_cy      aisc-360 E7, the lower is used
    bowed (F_y - f)(F_E - f) = eta F_E f, eta = e (D/2)/rho^2     Perry, robertson-1925

The bow is an alternative to the published curve, which has the trade's usual crookedness in it: the lower is used.
Sources: bruhn, anc-5, affdl-tr-69-42 through data/columns.csv; nasa-sp-8007 and aisc-360 from memory (high).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import ArrayLike
from scipy.optimize import brentq

from sparwright.base.check import Step
from sparwright.data.columns import Curve
from sparwright.strength.members.margin import finite, first, verdict, within, worst
from sparwright.strength.members.section import area, gyration

THIN = 1500.0  # R/t up to which nasa-sp-8007 has tests
NOT_SLIM, SLIM = 0.11, 0.45  # D/t over E/F_cy between which aisc-360 E7 stands
THICK = 5.0  # R/t below which a tube is no shell: local buckling is not asked
NOTHING = 1e-9  # of a span: what stands out less does not
SLENDER = 150.0  # L'/rho beyond which Bruhn asks for the authority's leave


def slenderness(length: ArrayLike, outside: ArrayLike, wall: ArrayLike, fixity: ArrayLike) -> np.ndarray:
    """x = L/(rho sqrt(c)). length, outside, wall in m; fixity c: 1 pinned, 2 welded truss (data/factors.toml)."""
    c = np.asarray(fixity, dtype=float)
    L = np.asarray(length, dtype=float)
    return np.asarray(within(L >= 0, L) / (gyration(outside, wall) * np.sqrt(within(c > 0, c))))


def stress(x: ArrayLike, curve: Curve) -> np.ndarray:
    """F_c of one edition at slenderness x, Pa; below the transition the lower of its short and long formula.

    Where the long formula begins above the short one's end it waits until it has come down to it: never stronger when
    longer.

    >>> from sparwright.data.columns import curves
    >>> round(float(stress(62.14, curves("4130N")[0])) / 6894.757)
    54077
    """
    s = np.asarray(x, dtype=float)
    with np.errstate(divide="ignore"):
        long = curve.euler / s**2
    short = curve.top - curve.slope * np.minimum(np.abs(s), curve.until) ** curve.power
    return within(s >= 0, np.minimum(short, long))


def lowest(x: ArrayLike, curves: Sequence[Curve]) -> np.ndarray:
    """The lowest of several editions at slenderness x, Pa; NaN where there is no edition."""
    s = np.asarray(x, dtype=float)
    return np.min([stress(s, c) for c in curves], axis=0) if curves else np.full(s.shape, np.nan)


def johnson(x: ArrayLike, youngs: ArrayLike, crush: ArrayLike) -> np.ndarray:
    """F_cy (1 - F_cy x^2/(4 pi^2 E)) up to half of F_cy, then pi^2 E/x^2, Pa, where no published curve is on file.

    youngs E and crush F_cy in Pa. The two meet with the same slope at x = pi sqrt(2 E/F_cy).
    """
    s, E, F = (np.asarray(a, dtype=float) for a in (x, youngs, crush))
    with np.errstate(divide="ignore"):
        return within(s >= 0, parabola(np.pi**2 * E / s**2, F))


def parabola(elastic: np.ndarray, crush: np.ndarray) -> np.ndarray:
    """F_cy (1 - F_cy/(4 F)) where the elastic stress F is above F_cy/2, else F: Johnson's parabola, Pa."""
    with np.errstate(divide="ignore", invalid="ignore"):
        return np.asarray(np.where(elastic > crush / 2, crush * (1 - crush / (4 * elastic)), elastic + 0 * crush))


def local(outside: ArrayLike, wall: ArrayLike, youngs: ArrayLike, crush: ArrayLike, nu: float = 0.3) -> np.ndarray:
    """F_l, stress at which the wall of a pressed tube buckles, Pa: the lower of the shell's and the building code's.

    R = (D - t)/2. Range: D/t up to 0.45 E/F_cy, 174 for 4130N; a thinner wall gives NaN. R/t below 5 gives F_cy.
    """
    D, t, E, F = (np.asarray(a, dtype=float) for a in (outside, wall, youngs, crush))
    slim = (D - t) / 2 / t
    gamma = 1 - 0.901 * (1 - np.exp(-np.sqrt(slim) / 16))
    shell = parabola(gamma * E / slim / np.sqrt(3 * (1 - nu**2)), F)
    code = np.where(D / t < NOT_SLIM * E / F, F, 0.038 * E * t / D + 2 / 3 * F)
    found = within(D / t <= SLIM * E / F, np.minimum(shell, code))
    return np.where(slim < THICK, F + 0 * slim, found)


def overhung(span: float, beyond: float) -> float:
    """L', m: as long as a pinned bar that buckles at the load of one which is pressed at a free end beyond its pins.

    Pinned at both ends of a span, pressed along itself at the end that stands out beyond one of them; the load keeps
    its direction: tan(u c/l) (1 - u cot u)/u = 1, L' = pi l/u. l if nothing stands out, towards 2 c for a short span.
    Range: span above nought, beyond not below it; NaN outside. Source: statics (beam columns, timoshenko-gere).

    >>> round(overhung(1.0, 0.0), 6), round((3.141592653589793 / overhung(1.0, 1.0)) ** 2, 3)   # 1.359 E I/l^2
    (1.0, 1.359)
    """
    if not (span > 0 and beyond >= 0 and np.isfinite(span + beyond)):
        return float("nan")
    if beyond < NOTHING * span:
        return float(span)
    part = beyond / span
    most = min(np.pi, np.pi / 2 / part)

    def over(u: float) -> float:
        return float(np.tan(u * part) * (1 - u / np.tan(u)) / u - 1)

    return float(np.pi * span / brentq(over, 1e-6 * most, (1 - 1e-12) * most, xtol=1e-14 * most))


def perry(x: ArrayLike, youngs: ArrayLike, crush: ArrayLike, eta: ArrayLike) -> np.ndarray:
    """Stress at which a bowed column begins to yield, Pa: f = B - sqrt(B^2 - F_y F_E), B = (F_y + (1 + eta) F_E)/2.

    >>> round(float(perry(100.0, 29e6, 75e3, 0.3)))   # structures/cases.csv, psi
    24465
    """
    s, E, F, n = (np.asarray(a, dtype=float) for a in (x, youngs, crush, eta))
    with np.errstate(divide="ignore"):
        ratio = F * s**2 / (np.pi**2 * E)  # F_y/F_E
    both = (ratio + 1 + n) / 2
    return within((s >= 0) & (n >= 0), F / (both + np.sqrt(both**2 - ratio)))


def bow(length: ArrayLike, outside: ArrayLike, wall: ArrayLike, part: ArrayLike = 400.0) -> np.ndarray:
    """eta = e (D/2)/rho^2 of a tube bowed by e = L/part in its middle; part 400: common practice, no source."""
    e = np.asarray(length, dtype=float) / np.asarray(part, dtype=float)
    return np.asarray(e * np.asarray(outside, dtype=float) / 2 / gyration(outside, wall) ** 2)


def allowable(x: ArrayLike, outside: ArrayLike, wall: ArrayLike, curves: Sequence[Curve], youngs: ArrayLike,
              crush: ArrayLike, eta: ArrayLike = 0.0) -> np.ndarray:  # fmt: skip
    """The least of column, local buckling and bow, Pa.

    Local buckling is asked where D/t reaches what the editions leave free of it; the bow where eta is above nought.
    """
    n = np.asarray(eta, dtype=float)
    F_c = lowest(x, curves)
    free = min((c.free for c in curves), default=0.0)
    slim = np.asarray(outside, dtype=float) / np.asarray(wall, dtype=float)
    F_l = local(outside, wall, youngs, crush)
    F_c = np.where(slim < free, F_c, np.minimum(F_c, F_l))
    return np.where(n > 0, np.minimum(F_c, perry(x, youngs, crush, n)), np.where(n == 0, F_c, np.nan))


def use(load: ArrayLike, length: ArrayLike, outside: ArrayLike, wall: ArrayLike, fixity: ArrayLike,
        curves: Sequence[Curve], youngs: ArrayLike, crush: ArrayLike, eta: ArrayLike = 0.0) -> np.ndarray:  # fmt: skip
    """P/(A F): how much of its ultimate strength as a column an ultimate compression uses.

    load P, N, compression positive; a pull uses nothing of it. length, outside, wall in m. youngs, crush in Pa.
    NaN outside the ranges of `stress` and `local`; `outside_range` says why.
    """
    x = slenderness(length, outside, wall, fixity)
    F = allowable(x, outside, wall, curves, youngs, crush, eta)
    return np.asarray(worst(np.asarray(load, dtype=float), 0.0) / (area(outside, wall) * F))


def price(x: ArrayLike, outside: ArrayLike, wall: ArrayLike, curves: Sequence[Curve], youngs: ArrayLike,
          crush: ArrayLike, eta: ArrayLike) -> np.ndarray:  # fmt: skip
    """What a bow costs: how many times the use of the straight tube; 1 where it costs nothing.

    x slenderness, eta of `bow`; the rest as in `use`.

    >>> from sparwright.data.columns import curves
    >>> round(float(price(65.2, 0.0254, 0.000889, curves("4130N"), 200e9, 517e6, bow(0.8, 0.0254, 0.000889))), 2)
    1.29
    """
    straight = allowable(x, outside, wall, curves, youngs, crush)
    return np.asarray(straight / allowable(x, outside, wall, curves, youngs, crush, eta))


def outside_range(length: float, outside: float, wall: float, fixity: float, curves: Sequence[Curve], youngs: float,
                  crush: float) -> str:  # fmt: skip
    """Why `use` is NaN for a tube; empty where it is not."""
    slim, most = (outside / wall if wall > 0 else np.inf), SLIM * youngs / crush
    return first(
        finite(length=length, outside=outside, wall=wall, fixity=fixity, youngs=youngs, crush=crush),
        "" if curves else "no column curve of this material is on file",
        "" if 0 < 2 * wall <= outside else "the wall is not between nought and half the diameter",
        "" if fixity > 0 and length >= 0 else "length and end fixity must be positive",
        "" if slim <= most else f"D/t {slim:.0f} is above {most:.0f}, where the formula for local buckling ends",
    )


def caveat(x: float) -> str:
    """What the published curves ask for a very slender tube; empty where they ask nothing.

    >>> caveat(160.0)
    "L'/rho 160 is above 150: by Bruhn only with the authority's leave"
    """
    return f"L'/rho {x:.0f} is above {SLENDER:.0f}: by Bruhn only with the authority's leave" if x > SLENDER else ""


def working(load: float, length: float, outside: float, wall: float, fixity: float, curves: Sequence[Curve],
            youngs: float, crush: float, eta: float = 0.0) -> tuple[Step, ...]:  # fmt: skip
    """The same for one load, line by line."""
    x = float(slenderness(length, outside, wall, fixity))
    A, rho = float(area(outside, wall)), float(gyration(outside, wall))
    F = float(allowable(x, outside, wall, curves, youngs, crush, eta))
    lines = [
        Step("area", "A = pi t (D - t)", (("D", outside, "m"), ("t", wall, "m")), A, "m2", "geometry"),
        Step("radius of gyration", "rho = sqrt(D^2 + d^2)/4", (("D", outside, "m"), ("t", wall, "m")), rho, "m",
             "geometry"),
        Step("slenderness", "L'/rho = L/(rho sqrt(c))", (("L", length, "m"), ("rho", rho, "m"), ("c", fixity, "1")), x,
             "1", "bruhn"),
    ]  # fmt: skip
    lines += [_by_edition(x, c) for c in curves]
    wide = (("D", outside, "m"), ("t", wall, "m"), ("E", youngs, "Pa"), ("F_cy", crush, "Pa"))
    formula = "least of gamma E t/R/sqrt(3 (1 - nu^2)) by Johnson's parabola and 0.038 E t/D + 2/3 F_cy"
    lines.append(Step("local buckling", formula, wide, float(local(outside, wall, youngs, crush)), "Pa",
                      "nasa-sp-8007, aisc-360"))  # fmt: skip
    if eta:
        lines.append(Step("yield of the bowed tube", "(F_y - f)(F_E - f) = eta F_E f", (("eta", eta, "1"),),
                          float(perry(x, youngs, crush, eta)), "Pa", "robertson-1925"))  # fmt: skip
    lines.append(Step("stress that is used", "the least that is asked", (("L'/rho", x, "1"),), F, "Pa"))
    u = float(use(load, length, outside, wall, fixity, curves, youngs, crush, eta))
    given = (("P", load, "N"), ("A", A, "m2"), ("F", F, "Pa"))
    return (*lines, *verdict(u, "P/(A F)", given, outside_range(length, outside, wall, fixity, curves, youngs, crush)))


def _by_edition(x: float, c: Curve) -> Step:
    short = f"F_c = top - slope (L'/rho)^{c.power:g}"
    given = (("L'/rho", x, "1"), ("top", c.top, "Pa"), ("slope", c.slope, "Pa"), ("euler", c.euler, "Pa"))
    formula = short if x <= c.until else "F_c = euler/(L'/rho)^2"
    return Step(f"column stress, {c.edition}", formula, given, float(stress(x, c)), "Pa", str(c.source))
