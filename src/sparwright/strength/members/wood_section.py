"""Section values of a spar of two caps and one or two webs of ply, about both axes, and its torsion.

Everything is turned into wood of the caps by the ratio r = E web/E cap along the spar. y up from the lower face, z
ahead of the caps' middle; one web stands on the front face, two on both, each from the lower to the upper face.

    A   = b (d_u + d_l) + r n t h
    y_0 = sum(E A y)/sum(E A)
    I   = sum b d^3/12 + b d (y - y_0)^2  +  r n t (h^3/12 + h (h/2 - y_0)^2)
    I_z likewise across
    Q   = b d_u |y_u - y_0|                        what a cap hands to its webs
    GJ  = 4 A_m^2/sum(s/(G t))                     two webs: a closed box (Bredt)
        = sum G beta b d^3 + G_w h t^3/3           one web: open
    e   = c^2 (d_u y_u^2 + d_l y_l^2)/(2 I)        shear centre ahead of the one web; c web to free edge

b cap width, d_u, d_l cap depths, h spar depth, t one web, n webs, A_m area between web middles and cap middles.
Source: timoshenko-gere for I and Bredt's formula (memory, high); the shear centre is that of a thin channel (memory,
high), so thick caps make it rough. Blocks between the caps are left out of everything: they end. Solid and laminated
caps are the same here; a lamination that does not run through a station is not in its depth.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import locked, number
from sparwright.strength.members.wood_margin import Floats


@dataclass(frozen=True)
class SparShape:
    """Sizes of a spar at one section or at many: single numbers, or arrays that go together."""

    depth: Floats = number("m", "over the caps")
    width: Floats = number("m", "of both caps, without webs")
    upper: Floats = number("m", "depth of the upper cap, laminations there counted")
    lower: Floats = number("m", "depth of the lower cap")
    web: Floats = number("m", "thickness of one web")
    webs: int = 2
    ratio: Floats = number("1", "E of a web along the spar over E of the caps; nought leaves the webs out", 0.0)


@dataclass(frozen=True)
class SparValues:
    """Section values, each shaped like the sizes; NaN where the sizes are no spar."""

    area: np.ndarray = number("m2", "as wood of the caps")
    middle: np.ndarray = number("m", "centroid above the lower face")
    inertia: np.ndarray = number("m4", "about the axis along the chord, as wood of the caps")
    chordwise: np.ndarray = number("m4", "about the upright axis, as wood of the caps")
    side: np.ndarray = number("m", "from the upright axis to the farthest edge of a cap")
    first_upper: np.ndarray = number("m3", "first moment of the upper cap alone")
    first_lower: np.ndarray = number("m3", "first moment of the lower cap alone")
    first_middle: np.ndarray = number("m3", "first moment of all above the centroid, as wood of the caps")
    cell: np.ndarray = number("m2", "area the box encloses, nought with one web")
    ahead: np.ndarray = number("m", "shear centre ahead of the caps' middle")
    shear_area: np.ndarray = number("m2", "webs between the middles of the caps")


def values(shape: SparShape) -> SparValues:
    """Section values of a spar.

    Range: both caps and clear web between them, d_u + d_l < h; one or two webs; else NaN.

    >>> v = values(SparShape(6.0, 1.25, 0.75, 0.75, 0.0625))   # inches; NACA TR 181's worked section
    >>> round(float(v.inertia), 4), round(float(v.middle), 3), round(float(v.chordwise), 4)
    (13.0078, 3.0, 0.2441)
    """
    h, b, u, low, t = (np.asarray(x, dtype=float) for x in _sizes(shape))
    r, n = np.asarray(shape.ratio, dtype=float), shape.webs
    h = np.where((u > 0) & (low > 0) & (u + low < h) & (b > 0) & (t > 0) & (n in (1, 2)) & (r >= 0), h, np.nan)
    wall = r * n * t
    area = b * (u + low) + wall * h
    y_u, y_l = h - u / 2, low / 2
    mid = (b * u * y_u + b * low * y_l + wall * h * h / 2) / area
    caps = b * (u**3 + low**3) / 12 + b * u * (y_u - mid) ** 2 + b * low * (y_l - mid) ** 2
    inertia = caps + wall * (h**3 / 12 + h * (h / 2 - mid) ** 2)
    chordwise, side = _across(b, u + low, r * t * h, t, n)
    above = b * u * (y_u - mid) + wall * (h - mid) ** 2 / 2
    deep = h - (u + low) / 2
    reach = (b + t / 2) ** 2 * (u * (y_u - mid) ** 2 + low * (y_l - mid) ** 2) / (2 * inertia)
    ahead = np.where(n == 2, 0.0 * h, b / 2 + t / 2 + reach)
    cell = np.where(n == 2, (b + t) * deep, 0.0 * h)
    found = (area, mid, inertia, chordwise, side, b * u * (y_u - mid), b * low * (mid - y_l), above, cell, ahead,
             n * t * deep)  # fmt: skip
    return SparValues(*(locked(x) for x in found))


def _sizes(shape: SparShape) -> tuple[Floats, Floats, Floats, Floats, Floats]:
    return shape.depth, shape.width, shape.upper, shape.lower, shape.web


def _across(b: np.ndarray, caps: np.ndarray, wall: np.ndarray, t: np.ndarray, n: int
            ) -> tuple[np.ndarray, np.ndarray]:  # fmt: skip
    """(I_z, distance to the farthest cap edge): caps as one rectangle b by d_u + d_l, webs at (b + t)/2."""
    at = (b + t) / 2
    if n == 2:
        return caps * b**3 / 12 + 2 * wall * (at**2 + t**2 / 12), b / 2 + 0 * wall
    z = wall * at / (b * caps + wall)
    own = caps * b**3 / 12 + b * caps * z**2 + wall * ((at - z) ** 2 + t**2 / 12)
    return own, b / 2 + z


def torsion(shape: SparShape, cap_shear: Floats, web_shear: Floats) -> np.ndarray:
    """GJ, N m2, of a spar; cap_shear and web_shear: G of cap and web in the planes that twist, Pa.

    Source: Bredt for two webs; Saint-Venant's beta = 1/3 - 0.21 d/b (1 - (d/b)^4/12), d the less, for one
    (timoshenko-gere, memory, high).

    >>> print(f"{float(torsion(SparShape(0.11, 0.04, 0.01, 0.01, 0.001), 1e12, 1.0)):.4g}")   # stiff caps
    3.362e-07
    """
    h, b, u, low, t = (np.asarray(x, dtype=float) for x in _sizes(shape))
    g, gw = np.asarray(cap_shear, dtype=float), np.asarray(web_shear, dtype=float)
    cell = values(shape).cell
    if shape.webs == 2:
        deep = h - (u + low) / 2
        return np.asarray(4 * cell**2 / (2 * deep / (gw * t) + (b + t) / (g * u) + (b + t) / (g * low)))
    return np.asarray(g * (_bar(b, u) + _bar(b, low)) + gw * h * t**3 / 3 + 0 * cell)


def _bar(b: np.ndarray, d: np.ndarray) -> np.ndarray:
    long, less = np.maximum(b, d), np.minimum(b, d)
    slim = less / long
    return np.asarray((1 / 3 - 0.21 * slim * (1 - slim**4 / 12)) * long * less**3)


def torsion_flow(torque: Floats, shape: SparShape) -> np.ndarray:
    """q = T/(2 A_m), N/m in the walls of a box of two webs; NaN with one web, which is not closed."""
    cell = values(shape).cell
    return np.asarray(np.abs(torque) / (2 * np.where(cell > 0, cell, np.nan)))


def flows(shape: SparShape, shear: Floats, torque: Floats = 0.0) -> tuple[np.ndarray, np.ndarray]:
    """(flow in the glue of a cap to one web, flow in one web at the centroid), N/m, ultimate shear N and torque N m.

    V Q/(n I), the larger Q of both caps for the glue, and T/(2 A_m) added as if both went the same way, as they do in
    one of the two webs. T about the shear centre. One web cannot take torque: NaN where there is some.

    >>> glue, web = flows(SparShape(6.0, 1.25, 0.75, 0.75, 0.0625), 600.0)      # pounds and inches
    >>> round(float(2 * glue), 2), round(float(2 * web), 2)
    (113.51, 113.51)
    """
    v = values(shape)
    round_ = np.where(np.asarray(torque) == 0, 0.0, torsion_flow(torque, shape))
    per_web = np.abs(shear) / (shape.webs * v.inertia)
    glue = per_web * np.maximum(v.first_upper, v.first_lower) + round_
    return np.asarray(glue), np.asarray(per_web * v.first_middle + round_)


def flow_working(shape: SparShape, shear: float, torque: float = 0.0) -> tuple[Step, ...]:
    """The lines of both flows at one section."""
    v, (glue, web) = values(shape), flows(shape, shear, torque)
    given = (("V", shear, "N"), ("I", float(v.inertia), "m4"), ("n", shape.webs, "1"), ("T", torque, "N m"),
             ("A_m", float(v.cell), "m2"))  # fmt: skip
    first = float(np.maximum(v.first_upper, v.first_lower))
    return (
        Step("flow of a cap's glue to one web", "V Q/(n I) + T/(2 A_m)", (*given, ("Q of a cap", first, "m3")),
             float(glue), "N/m", "timoshenko-gere"),
        Step("flow in one web", "V Q/(n I) + T/(2 A_m)", (*given, ("Q at the centroid", float(v.first_middle), "m3")),
             float(web), "N/m", "timoshenko-gere"),
    )  # fmt: skip
