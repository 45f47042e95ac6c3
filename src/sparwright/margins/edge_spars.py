"""The spars at the parting of wing and aileron across: planks, bent channels, webs with strips, and what they bear.

    up and down    strips alone: I = 2 (w d^3/12 + w d ((H - d)/2)^2);  channel and plank whole
    fore and aft   strips alone, or whole
    edge           strips by the lower of pull and press; a plank of wood in bending; a channel's pressed flange against
                   crippling, F_cc of an angle with one edge free                             members/crippling.py
    web            q/(t F_s), 1.5 times in a plank or channel;  q/q_cr from rib to rib        members/web, ply_buckling

Sources: timoshenko-gere; needham-1954 by way of bruhn C7 (memory, high).
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from shapely import Polygon

from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.aileron import EdgeSpar
from sparwright.margins.spar_run import Strengths
from sparwright.margins.wood_spars import ply_bending
from sparwright.parts.aileron import Hinged
from sparwright.shape.lifting import Station
from sparwright.shape.parted import aileron_inside, spar_rings
from sparwright.shape.rib import inside
from sparwright.strength.allowable import Allowable
from sparwright.strength.members import crippling, ply_buckling, web

METALS = ("aluminium", "steel")


@dataclass(frozen=True)
class EdgeSection:
    """An edge spar across, at n stations."""

    spar: EdgeSpar
    depth: np.ndarray = number("m", "(n,) H, of its front face")
    inertia: np.ndarray = number("m4", "(n,) up and down")
    apart: np.ndarray = number("m", "(n,) d, from the middle of one edge to that of the other")
    edge: float = number("m3", "section modulus of one strip or flange, fore and aft")
    aft: np.ndarray = number("m3", "(n,) section modulus of all of it, fore and aft")


def between_ends(h: Hinged, y: np.ndarray, values: tuple[float, float]) -> np.ndarray:
    """(n,) straight from an aileron's inner end to its outer."""
    return np.asarray(np.interp(y, [h.root, h.tip], values))


def section_of(h: Hinged, spar: EdgeSpar, y: np.ndarray, aileron: bool) -> EdgeSection:
    """The aileron's spar, or the wing's false spar, straight from end to end."""
    deep = []
    for v in (h.root, h.tip):
        s, p = h.at(v)
        body = aileron_inside(s, h.wing, p) if aileron else _wing_inside(h, s)
        ring = spar_rings(body, p.face if aileron else p.wing_end, spar, h.wing.name)[""]
        deep.append(float(np.ptp(ring[:, 1])))
    H, t = between_ends(h, y, (deep[0], deep[1])), spar.thickness
    if spar.flange > 0:
        f = spar.flange
        inertia = t * H**3 / 12 + 2 * (f - t) * t * ((H - t) / 2) ** 2
        area, first = H * t + 2 * (f - t) * t, H * t * t / 2 + 2 * (f - t) * t * (f + t) / 2
        middle = first / area
        aft = (
            H * t**3 / 12
            + H * t * (middle - t / 2) ** 2
            + 2 * (t * (f - t) ** 3 / 12 + t * (f - t) * ((f + t) / 2 - middle) ** 2)
        )
        return EdgeSection(spar, H, inertia, H - t, t * f**2 / 6, aft / (f - middle))
    if spar.strip is not None:
        w, d = spar.strip.width, spar.strip.depth
        inertia = 2 * (w * d**3 / 12 + w * d * ((H - d) / 2) ** 2)
        return EdgeSection(spar, H, inertia, H - d, d * w**2 / 6, np.full(len(y), 2 * d * w**2 / 6))
    return EdgeSection(spar, H, t * H**3 / 12, H / 2, t**2 * float(H.mean()) / 2 / 6, H * t**2 / 6)


def _wing_inside(h: Hinged, s: Station) -> Polygon:
    return inside(s, h.wing.skins)


def edge_strength(spar: EdgeSpar, section: EdgeSection, grained: Strengths) -> tuple[float, list[Allowable], str]:
    """(Pa that its edge bears, the strengths, how): strips by the lower of pull and press, planks in bending."""
    if spar.flange > 0:
        names = ("tension", "yield_compression", "youngs")
        found = [grained(spar.material, n, spar.thickness, 0.0) for n in names]
        F, crush, E = (a.value for a in found)
        f, t = spar.flange, spar.thickness
        F_cc = float(crippling.needham(f, f, t, E, crush, "one free"))
        return float(np.minimum(F, F_cc)), found, "F_cc = 0.342 sqrt(F_cy E)/(b'/t)^0.75, or F_tu"
    key, thick = (spar.strip.material, spar.strip.depth) if spar.strip else (spar.material, spar.thickness)
    if spar.strip is None and material(key).kind == "wood":
        found = [grained(key, "bending", thick, 0.0)]
        return found[0].value, found, "modulus of rupture"
    found = [grained(key, n, thick, 0.0) for n in ("tension", "compression")]
    return float(np.minimum(found[0].value, found[1].value)), found, "the lower of pull and press"


def web_uses(
    look_shear: np.ndarray, torque_flow: np.ndarray, s: EdgeSection, ribs: float, grained: Strengths
) -> tuple[np.ndarray, np.ndarray, list[Allowable]]:
    """((r, n) flow over what breaks it, over what buckles it, strengths) of an edge spar's web."""
    q = np.abs(look_shear) / s.depth + torque_flow
    t, kind = s.spar.thickness, material(s.spar.material).kind
    shear = grained(s.spar.material, "shear", t, 0.0)
    if kind in METALS:
        youngs, yields = (grained(s.spar.material, n, t, 0.0) for n in ("youngs", "yield_tension"))
        tau = web.shear_buckling(t, float(s.depth.min()), ribs, youngs.value, yields.value / math.sqrt(3))
        return 1.5 * q / (t * shear.value), q / (float(tau) * t), [shear, youngs, yields]
    if kind == "plywood":
        youngs = grained(s.spar.material, "youngs", t, 0.0)
        D = ply_bending(s.spar.material, youngs.value, t, 0.0)
        critical = float(ply_buckling.shear_flow(D, round(ribs, 3), round(float(s.depth.min()), 3)))
        return q / (t * shear.value), q / critical, [shear, youngs]
    return 1.5 * q / (t * shear.value), np.zeros_like(q), [shear]
