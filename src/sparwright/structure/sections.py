"""Cross-sections of bars: round tube, cable, box spar with what shares its torsion, rib. Stiffness only.

Symbols: D outside, t wall, b cap width, d cap depth, h spar depth, A enclosed area, s along a cell's middle line.

    tube    A = pi (D - t) t,  I = pi (D^4 - (D - 2 t)^4)/64,  J = 2 I
    box     I of both caps about the middle; J = 4 A^2/ (G sum s/(G t)) about cap middles and webs (Bredt)
    cell    J of a skin and the web that closes it, the same way, added to the spar's (on the soft side)

Source: megson-2010 (Bredt, closed cells); parts of a spar one E each, transformed to the caps'.
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.data.loader import material
from sparwright.family.model import Model, Ribs, RoundTube, Sheet, Spar, Wing
from sparwright.parts.frame import CABLE_STEEL, FILL
from sparwright.shape.lifting import cut
from sparwright.strength.beam_box import cap_inertia
from sparwright.structure.bar import Section

SOLID = 5 / 6  # of a rectangle that carries shear


def tube_section(tube: RoundTube) -> Section:
    """A round tube; shear bends thin ones over half their area.

    >>> round(tube_section(RoundTube(material="4130N", outside=0.0254, wall=0.035 * 0.0254)).about_y / 0.0254**4, 6)
    0.012368
    """
    stuff, inner = material(tube.material), tube.outside - 2 * tube.wall
    area = math.pi / 4 * (tube.outside**2 - inner**2)
    inertia = math.pi / 64 * (tube.outside**4 - inner**4)
    return Section(area, inertia, inertia, 2 * inertia, stuff.youngs, stuff.shear_modulus, (area / 2, area / 2))


def round_section(diameter: float) -> Section:
    """A round rod of steel: a bolt, or what stands for a cable that does not go slack."""
    steel, inertia = material(CABLE_STEEL), math.pi / 64 * diameter**4
    area = math.pi / 4 * diameter**2
    return Section(area, inertia, inertia, 2 * inertia, steel.youngs, steel.shear_modulus)


def plate_section(sheet: Sheet, width: float, count: int = 1) -> Section:
    """Flat plates side by side, each bending by itself; z across the width."""
    stuff, t = material(sheet.material), sheet.thickness
    area = width * t
    return Section(count * area, count * t * width**3 / 12, count * width * t**3 / 12, count * width * t**3 / 3,
                   stuff.youngs, stuff.shear_modulus)  # fmt: skip


def cable_section(construction: str, diameter: float) -> Section:
    """The metal of a strand or cable; its bending is nothing.

    Strands stretch more than the metal would: their effective modulus is not known here (see the register).
    """
    steel = material(CABLE_STEEL)
    area = math.pi / 4 * diameter**2 * FILL[construction]
    return Section(area, 0.0, 0.0, 0.0, steel.youngs, steel.shear_modulus)


def spar_section(model: Model, wing: Wing, spar: Spar, buttline: float, depth: float) -> Section:
    """A spar at a buttline, depth m over its caps; its torsion with the skin that closes a cell on it.

    Bending up and down by the caps, along the chord by caps and webs about the spar's own middle; shear up and down by
    the webs. The neutral line of one cap against the other is in the middle: caps are alike.
    """
    cap, web = material(spar.cap.material), material(spar.web.material)
    b, d, t = spar.cap.width, spar.cap.depth, spar.web.thickness
    ratio = web.youngs / cap.youngs
    out = (b + t) / 2 if spar.webs == 2 else b / 2
    along = 2 * d * b**3 / 12 + spar.webs * ratio * (depth * t**3 / 12 + depth * t * out**2)
    webs = spar.webs * depth * t * web.shear_modulus / cap.shear_modulus
    twist = (own_twist(spar, depth) + _skin_twist(model, wing, spar, buttline, depth)) / cap.shear_modulus
    up = float(cap_inertia(spar, np.asarray(depth)))
    return Section(2 * b * d, up, along, twist, cap.youngs, cap.shear_modulus, (SOLID * 2 * b * d, webs))


def own_twist(spar: Spar, depth: float) -> float:
    """G J of the spar alone, N m2: Bredt's for two webs, the strips' b t^3/3 for one."""
    cap, web = material(spar.cap.material), material(spar.web.material)
    b, d, t = spar.cap.width, spar.cap.depth, spar.web.thickness
    if spar.webs == 1:
        return 2 * cap.shear_modulus * b * d**3 / 3 + web.shear_modulus * depth * t**3 / 3
    wide, high = b + t, depth - d
    round_ = 2 * wide / (cap.shear_modulus * d) + 2 * high / (web.shear_modulus * t)
    return 4 * (wide * high) ** 2 / round_


def _skin_twist(model: Model, wing: Wing, spar: Spar, buttline: float, depth: float) -> float:
    """G J, N m2, of each cell that a stiff skin makes with this spar; nought where none ends on it.

    A skin from the nose to the spar is closed by the nearest web; a skin round the whole chord closes on itself.
    """
    station = cut(wing, model.sections, buttline)
    assert station.points is not None
    found = 0.0
    for skin in wing.skins:
        stuff = material(skin.material) if skin.material else None
        if stuff is None or skin.thickness <= 0 or not math.isfinite(stuff.shear_modulus):
            continue
        ends = skin.start <= 0 and (abs(skin.end - spar.at) < 0.02 or skin.end >= 1)
        if ends and (skin.end < 1 or spar is wing.spars[0]):
            found += _cell(station.points * station.chord, skin.end * station.chord, skin.thickness,
                           stuff.shear_modulus, spar, depth if skin.end < 1 else 0.0)  # fmt: skip
    return found


def _cell(points: np.ndarray, end: float, thick: float, shear: float, spar: Spar, web: float) -> float:
    """G J of the skin ahead of `end` closed by a web of height `web`: 4 A^2/ sum s/(G t)."""
    ring = points[:, points[0] <= end + 1e-9]
    steps = np.linalg.norm(np.diff(ring, axis=1), axis=0).sum()
    x, y = ring
    area = 0.5 * abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))
    round_ = steps / (shear * thick)
    if web > 0:
        round_ += web / (material(spar.web.material).shear_modulus * spar.web.thickness)
    return float(4 * area**2 / round_)


def rib_section(ribs: Ribs, depth: float) -> Section:
    """A rib between two spars where it is weakest: two strips left over and under its hole; no bending along the span.

    Strips as deep as `web_left`, flanges left out; without holes the whole sheet. Shear by both strips.
    """
    stuff, t = material(ribs.sheet.material), ribs.sheet.thickness
    left = min(ribs.web_left or depth / 2, depth / 2)
    area = 2 * left * t
    inertia = t * (depth**3 - (depth - 2 * left) ** 3) / 12
    return Section(area, inertia, area * t**2 / 12, area * t**2 / 3, stuff.youngs, stuff.shear_modulus,
                   (SOLID * area, SOLID * area))  # fmt: skip
