"""A metal spar of two bar caps with one or two webs, or with a nose skin on it: its caps under bending and thrust.

Symbols: b cap width, d cap depth, h spar depth over the caps, n webs of thickness t, M bending moment, P thrust,
pressing, A and I of both caps with what the webs carry, D rivet hole, L' length free to bend sideways, rho its radius
of gyration.

    I = 2 [b d^3/12 + b d (h - d)^2/4] + n t (h - 2 d)^3/12 e     webs with the share e that carries bending
    f = M h/(2 I) + P/A           pressed cap, outer fibre;   f_t = (M h/(2 I) - P/A)/(1 - D/b)   pulled cap, holes off
    ultimate: f_t/F_tu, f/F_cy (a metal's compression is its yield: beyond it nothing is counted)
    limit:    f_limit/F_ty, f_limit/F_cy: nothing may yield at limit load
    F_col = F_cy [1 - F_cy (L'/rho)^2/(4 pi^2 E)] up to L'/rho = pi sqrt(2 E/F_cy), pi^2 E/(L'/rho)^2 beyond

The compressed cap is held up and down by the webs; sideways it is held by ribs, by the skin, and by a pair of webs.
Range: h > 2 d; b/d up to 6 (a wider cap's edge may buckle: NaN). No shear lag, no rivet slip, taper small: its share of
the shear, `taper_shear`, goes off the webs. Sources: statics; Johnson and Euler columns in bruhn (memory, high);
no yield at limit load: 14 CFR 23.305 (read).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.strength.members.web import Many, given, margin

FLATTEST = 6.0  # b/d of a cap that yields before it buckles at its edges


@dataclass(frozen=True, kw_only=True)
class MetalSpar:
    """Sizes of a spar at one place; floats or arrays of one shape."""

    width: Many = number("m", "cap width")
    cap: Many = number("m", "cap depth")
    depth: Many = number("m", "spar depth over the caps")
    web: Many = number("m", "one web")
    webs: int = 2
    share: Many = number("1", "share of the webs that carries bending; nought once they buckle", 0.0)
    hole: Many = number("m", "rivet holes across one cap, sum of diameters", 0.0)


@dataclass(frozen=True, kw_only=True)
class Metal:
    """Strengths of the caps."""

    tension: float = number("Pa", "F_tu")
    yield_tension: float = number("Pa", "F_ty")
    yield_compression: float = number("Pa", "F_cy")
    youngs: float = number("Pa", "E")


def second_moment(s: MetalSpar) -> np.ndarray:
    """I, m4, with the webs' share. NaN where the caps meet."""
    b, d, h = s.width, s.cap, np.asarray(s.depth, float)
    caps = 2 * (b * d**3 / 12 + b * d * (h - d) ** 2 / 4)
    return np.asarray(np.where(h > 2 * d, caps + s.webs * s.web * s.share * (h - 2 * d) ** 3 / 12, np.nan))


def area(s: MetalSpar) -> np.ndarray:
    """A, m2, of caps and the webs' share."""
    return np.asarray(2 * s.width * s.cap + s.webs * s.web * s.share * (np.asarray(s.depth) - 2 * s.cap))


def stresses(moment: Many, thrust: Many, s: MetalSpar) -> tuple[np.ndarray, np.ndarray]:
    """(compression, tension) at the outer fibres, Pa, at least nought; moment N m, thrust N (pressing positive)."""
    bent = np.abs(moment) * s.depth / (2 * second_moment(s))
    along = np.asarray(thrust) / area(s)
    return np.maximum(bent + along, 0.0), np.maximum(bent - along, 0.0) / (1 - s.hole / s.width)


def flow(shear: Many, s: MetalSpar) -> np.ndarray:
    """Shear flow of one web beside the caps, N/m: V Q/(n I), Q = b d (h - d)/2."""
    first = s.width * s.cap * (s.depth - s.cap) / 2
    return np.asarray(np.abs(shear) * first / (s.webs * second_moment(s)))


def taper_shear(moment: Many, depth: Many, slope: Many) -> np.ndarray:
    """Shear that caps carry because they lean towards each other, N: M/h dh/dy; take it off V where h falls with M."""
    return np.asarray(np.asarray(moment) / depth * slope)


def column(slender: Many, m: Metal) -> np.ndarray:
    """F_col, Pa, at L'/rho, Johnson then Euler.

    >>> m = Metal(tension=42e3, yield_tension=35e3, yield_compression=34e3, youngs=9.9e6)
    >>> [round(float(column(v, m))) for v in (0.0, 50.0, 100.0)]
    [34000, 26606, 9771]
    """
    lean = np.asarray(slender, float)
    johnson = m.yield_compression * (1 - m.yield_compression * lean**2 / (4 * math.pi**2 * m.youngs))
    with np.errstate(divide="ignore"):
        euler = math.pi**2 * m.youngs / lean**2
    return np.asarray(np.where(lean <= math.pi * math.sqrt(2 * m.youngs / m.yield_compression), johnson, euler))


def use(moment: Many, thrust: Many, s: MetalSpar, m: Metal, free: Many = 0.0) -> np.ndarray:
    """(4, n) uses of the caps by ultimate moment and thrust: pressed, pulled, column sideways, yield at limit load.

    free: length of the pressed cap that nothing holds sideways, m; nought where a skin, a rib or two webs do.
    The column is the cap alone, b wide: rho = b/sqrt 12, over its mean stress. Limit is ultimate over 1.5.
    """
    pressed, pulled = stresses(moment, thrust, s)
    mean = np.maximum(np.abs(moment) * (s.depth - s.cap) / (2 * second_moment(s)) + np.asarray(thrust) / area(s), 0.0)
    sideways = mean / column(np.asarray(free) * math.sqrt(12) / s.width, m)
    yields = np.maximum(pressed / m.yield_compression, pulled / m.yield_tension) / 1.5
    found = np.array(np.broadcast_arrays(pressed / m.yield_compression, pulled / m.tension, sideways, yields))
    return np.asarray(np.where(s.width / s.cap <= FLATTEST, found, np.nan))


def working(moment: float, thrust: float, s: MetalSpar, m: Metal, free: float = 0.0) -> tuple[Step, ...]:
    """One place of a spar at ultimate load."""
    inertia, whole = float(second_moment(s)), float(area(s))
    pressed, pulled = (float(v) for v in stresses(np.asarray(moment), np.asarray(thrust), s))
    uses = [float(v) for v in use(np.asarray(moment), np.asarray(thrust), s, m, np.asarray(free))]
    size = given(("b", s.width, "m"), ("d", s.cap, "m"), ("h", s.depth, "m"))
    webs = given(("n", s.webs, "1"), ("t", s.web, "m"), ("e", s.share, "1"))
    load = (("M", moment, "N m"), ("P", thrust, "N"), ("I", inertia, "m4"), ("A", whole, "m2"))
    lean = float(free * math.sqrt(12) / s.width)
    return (
        Step(
            "second moment",
            "I = 2 [b d^3/12 + b d (h - d)^2/4] + n t e (h - 2 d)^3/12",
            (*size, *webs),
            inertia,
            "m4",
            "statics",
        ),
        Step("pressed cap", "f = M h/(2 I) + P/A", load, pressed, "Pa", "statics"),
        Step(
            "pulled cap, holes off",
            "f_t = (M h/(2 I) - P/A)/(1 - D/b)",
            (*load, *given(("D", s.hole, "m"))),
            pulled,
            "Pa",
            "statics",
        ),
        Step(
            "column sideways",
            "F_col, Johnson-Euler at L' sqrt 12/b",
            (("L'", free, "m"), ("L'/rho", lean, "1")),
            float(column(np.asarray(lean), m)),
            "Pa",
            "bruhn",
        ),
        *(
            line
            for of, u in zip(
                (
                    "pressed cap against yield",
                    "pulled cap at rupture",
                    "pressed cap as a column",
                    "yield at limit load",
                ),
                uses,
                strict=True,
            )
            for line in margin(of, u)
        ),
    )
