"""What a spar of two caps and shear webs can carry. Formulas for one section of one spar.

Symbols: b cap width, d cap depth, h spar depth, t one web, n webs, M bending moment, P axial compression,
V shear, q shear flow, A area of both caps, I of both caps about the middle (webs left out: on the safe side).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.data.loader import Material
from sparwright.family.model import Spar

FACTOR = 1.5  # ultimate over limit, 14 CFR 23.303 (read)


@dataclass(frozen=True)
class Box:
    """A spar at one buttline."""

    depth: float = number("m", "depth over the caps")
    width: float = number("m", "width over the webs")
    area: float = number("m2", "both caps")
    inertia: float = number("m4", "both caps about the middle")
    first: float = number("m3", "first moment of one cap about the middle")


def box(spar: Spar, depth: float) -> Box:
    """Section values: I = 2 (b d^3/12 + b d (h - d)^2/4), A = 2 b d, Q = b d (h - d)/2.

    >>> from sparwright.family.model import Bar, Sheet
    >>> wood = Spar(name="s", at=0.2, cap=Bar(material="spruce", width=1.25, depth=0.75),
    ...             web=Sheet(material="birch-ply", thickness=0.0625))
    >>> round(box(wood, 6.0).inertia, 4)   # NACA TR 181 worked section, inches
    13.0078
    """
    b, d, h = spar.cap.width, spar.cap.depth, depth
    width = b + spar.webs * spar.web.thickness
    return Box(h, width, 2 * b * d, float(cap_inertia(spar, np.asarray(h))), b * d * (h - d) / 2)


def cap_inertia(spar: Spar, depth: np.ndarray) -> np.ndarray:
    """I of both caps about the middle at spar depths (n,), m4: 2 (b d^3/12 + b d (h - d)^2/4)."""
    b, d = spar.cap.width, spar.cap.depth
    return np.asarray(2 * (b * d**3 / 12 + b * d * (depth - d) ** 2 / 4))


def form_factor(spar: Spar, depth: float) -> float:
    """F_U = 0.50 + 0.50 X, X = K (1 - q) + q, K = p^2 (6 - 8 p + 3 p^2), of a wooden box or I beam at rupture.

    p cap depth over spar depth, q webs over whole width; 1 for a solid rectangle. Range: 0 < p <= 0.5.
    Source: naca-tr-181 (the formula from memory, high); a shallower beam is outside it and gives NaN.
    """
    p = spar.cap.depth / depth
    q = spar.webs * spar.web.thickness / (spar.cap.width + spar.webs * spar.web.thickness)
    if not 0 < p <= 0.5:
        return math.nan
    k = p**2 * (6 - 8 * p + 3 * p**2)
    return 0.5 + 0.5 * (k * (1 - q) + q)


def use_of_caps(moment: np.ndarray, thrust: np.ndarray, b: Box, bending: float, crushing: float) -> np.ndarray:
    """1.5 (M h/(2 I F_b) + P/(A F_c)): how much of the caps' ultimate strength limit load times 1.5 uses.

    moment N m and thrust N (compression) at limit load, (n,). Straight addition of bending and compression
    is on the safe side of most interaction curves (common practice, no source).
    """
    return FACTOR * np.asarray(
        np.abs(moment) * b.depth / (2 * b.inertia * bending) + np.maximum(thrust, 0.0) / (b.area * crushing)
    )


def shear_flow(shear: np.ndarray, b: Box) -> np.ndarray:
    """q = V Q/I, N/m, carried by all webs together."""
    return np.asarray(np.abs(shear) * b.first / b.inertia)


def bending_strength(material: Material, spar: Spar, depth: float) -> tuple[float, str]:
    """Greatest bending stress at rupture (Pa) and where it comes from.

    Metal: the lower of ultimate tension and compressive yield; NaN where either is unknown.
    """
    if material.kind == "wood":
        return form_factor(spar, depth) * material.bending, f"{_cited(material, 'bending')}; form factor naca-tr-181"
    strength = float(np.minimum(material.tension, material.compression))
    return strength, f"{_cited(material, 'tension')}; {_cited(material, 'compression')}"


def _cited(material: Material, value: str) -> str:
    source = material.sources.get(value)
    return f"{source} for {material.key}" if source else f"{value} of {material.key} unknown"


def shear_buckling(material: Material, thickness: float, height: float, bay: float) -> float:
    """Stress at which a flat metal web between its caps and two ribs buckles, edges simply held, Pa.

    tau = k pi^2 E/(12 (1 - nu^2)) (t/b)^2, k = 5.34 + 4 (b/a)^2, b the shorter and a the longer side.
    Source: timoshenko-gere (memory, high). NaN for wood and plywood: no stiffness across the grain is on file.
    """
    if material.kind not in ("aluminium", "steel"):
        return math.nan
    b, a = min(height, bay), max(height, bay)
    k = 5.34 + 4 * (b / a) ** 2
    return k * math.pi**2 * material.youngs / (12 * (1 - material.poisson**2)) * (thickness / b) ** 2
