"""Cross-sections of bars: round tube, cable, box spar with what shares its torsion, rib. Stiffness only.

Symbols: D outside, t wall, b cap width, d cap depth, h spar depth, A enclosed area, s along a cell's middle line.

    tube    A = pi (D - t) t,  I = pi (D^4 - (D - 2 t)^4)/64,  J = 2 I
    box     I of both caps about the middle; J = 4 A^2/ (G sum s/(G t)) about cap middles and webs (Bredt)
    cell    J of a skin and the web that closes it, the same way, added to the spar's (on the soft side)

Source: megson (Bredt, closed cells); parts of a spar one E each, transformed to the caps'. A sheet of ply shears by the
angle of its grain (strength/members/ply.turned_shear), of three alike plies where nobody says how many.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np

from sparwright.data.loader import material
from sparwright.data.wood import species_known
from sparwright.family.model import Model, Ribs, RoundTube, Sheet, Skin, Spar, Wing
from sparwright.parts.frame import CABLE_STEEL
from sparwright.parts.stations import bay
from sparwright.shape.lifting import cut
from sparwright.strength.members import ply
from sparwright.strength.members.cable import stiffness
from sparwright.structure.bar import Section

NEAR = 0.02  # of the chord: a skin that ends so near a spar ends on it
SOLID = 5 / 6  # of a rectangle that carries shear


def tube_section(tube: RoundTube) -> Section:
    """A round tube; shear bends thin ones over half their area.

    >>> round(tube_section(RoundTube(material="4130N", outside=0.0254, wall=0.035 * 0.0254)).about_y / 0.0254**4, 6)
    0.012367
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
    """A strand or cable, bedded in: as much steel as stretches like it by the published chart; it does not bend."""
    steel = material(CABLE_STEEL)
    area = float(stiffness(construction, diameter)) / steel.youngs
    return Section(area, 0.0, 0.0, 0.0, steel.youngs, steel.shear_modulus)


def spar_section(model: Model, wing: Wing, spar: Spar, buttline: float, depth: float) -> Section:
    """A spar at a buttline, depth m over its caps; its torsion with the skin that closes a cell on it.

    Bending up and down by the caps, along the chord by caps and webs about the spar's own middle and by a stiff skin
    about its own; shear up and down by the webs. The caps are alike, so the neutral line is in the middle.
    """
    cap, web = material(spar.cap.material), material(spar.web.material)
    b, d, t = spar.cap.width, spar.cap.depth, spar.web.thickness
    ratio = web.youngs / cap.youngs
    out = (b + t) / 2 if spar.webs == 2 else b / 2
    along = 2 * d * b**3 / 12 + spar.webs * ratio * (depth * t**3 / 12 + depth * t * out**2)
    along += skin_along(model, wing, spar, buttline) / cap.youngs
    webs = spar.webs * depth * t * web_shear(spar) / cap.shear_modulus
    own, skin = own_twist(spar, depth, bay(wing, buttline)), skin_twist(model, wing, spar, buttline, depth)
    twist = (own + skin) / cap.shear_modulus
    up = 2 * (b * d**3 / 12 + b * d * (depth - d) ** 2 / 4)
    return Section(2 * b * d, up, along, twist, cap.youngs, cap.shear_modulus, (SOLID * 2 * b * d, webs))


def skin_along(model: Model, wing: Wing, spar: Spar, buttline: float) -> float:
    """E I along the chord, N m2, of the metal or glass skins that end on this spar: 2 E t w^3/12, upper and lower.

    About the skin's own middle, which lies ahead of the spar: on the soft side. Ply is left out: the way its grain runs
    on the nose is not said.
    """
    chord = cut(wing, model.sections, buttline).chord
    found = 0.0
    for skin in stiff_skins(wing, spar):
        stuff = material(skin.material)
        if stuff.kind in ("aluminium", "steel", "glass"):
            found += 2 * stuff.youngs * skin.thickness * ((skin.end - skin.start) * chord) ** 3 / 12
    return found


def stiff_skins(wing: Wing, spar: Spar) -> list[Skin]:
    """Skins from the nose that end on this spar, or go round the whole chord and count with the first."""
    found = []
    for skin in wing.skins:
        stiff = skin.material and skin.thickness > 0 and math.isfinite(material(skin.material).shear_modulus)
        if stiff and skin.start <= 0 and (abs(skin.end - spar.at) < NEAR or (skin.end >= 1 and spar is wing.spars[0])):
            found.append(skin)
    return found


def own_twist(spar: Spar, depth: float, bay: float = math.inf) -> float:
    """G J of the spar alone, N m2: Bredt's for two webs; for one the strips' b t^3/3 and what ribs keep from warping.

    One web: between two ribs a bay apart that hold both caps square, each cap bends sideways the other way: with its
    own inertia I_c = d b^3/12 about the upright axis the twist is resisted by 12 E I_c (h - d)^2/2/bay^2 besides.
    Source: warping of an I beam held at both ends (timoshenko-gere, memory, high).
    """
    cap, shear = material(spar.cap.material), web_shear(spar)
    b, d, t = spar.cap.width, spar.cap.depth, spar.web.thickness
    if spar.webs == 1:
        warps = 12 * cap.youngs * d * b**3 / 12 * (depth - d) ** 2 / 2 / bay**2
        return 2 * cap.shear_modulus * b * d**3 / 3 + shear * depth * t**3 / 3 + warps
    wide, high = b + t, depth - d
    round_ = 2 * wide / (cap.shear_modulus * d) + 2 * high / (shear * t)
    return 4 * (wide * high) ** 2 / round_


def skin_twist(model: Model, wing: Wing, spar: Spar, buttline: float, depth: float) -> float:
    """G J, N m2, of each cell that a stiff skin makes with this spar; nought where none ends on it.

    A skin from the nose to the spar is closed by the nearest web; a skin round the whole chord closes on itself.
    """
    station = cut(wing, model.sections, buttline)
    assert station.points is not None
    found = 0.0
    for skin in stiff_skins(wing, spar):
        found += _cell(station.points * station.chord, skin.end * station.chord, skin.thickness,
                       sheet_shear(skin.material, skin.grain), spar, depth if skin.end < 1 else 0.0)  # fmt: skip
    return found


def web_shear(spar: Spar) -> float:
    """G of a spar's web, Pa, by the angle of its grain to the spar."""
    return sheet_shear(spar.web.material, spar.web.grain)


@cache
def sheet_shear(key: str, grain: float) -> float:
    """G of a sheet in its plane, Pa: as printed, or of a ply turned by the angle of its grain, rad.

    As printed too where nothing is on file of how its wood stretches across the grain: on the soft side.
    """
    stuff = material(key)
    if stuff.kind != "plywood" or key.removesuffix("-ply") not in species_known():
        return stuff.shear_modulus
    in_plane = ply.stiffness(ply.veneer_of(key, stuff.youngs), ply.crossed(1.0, ply.PLIES))[0]
    return ply.turned_shear(in_plane, 1.0, grain, stuff.shear_modulus)


def _cell(points: np.ndarray, end: float, thick: float, shear: float, spar: Spar, web: float) -> float:
    """G J of the skin ahead of `end` closed by a web of height `web`: 4 A^2/ sum s/(G t)."""
    ring = points[:, points[0] <= end + 1e-9]
    steps = np.linalg.norm(np.diff(ring, axis=1), axis=0).sum()
    x, y = ring
    area = 0.5 * abs(float(x @ np.roll(y, -1) - y @ np.roll(x, -1)))
    round_ = steps / (shear * thick)
    if web > 0:
        round_ += web / (web_shear(spar) * spar.web.thickness)
    return float(4 * area**2 / round_)


def rib_section(ribs: Ribs, depth: float, sheets: int = 1) -> Section:
    """A rib between two spars where it is weakest: two strips left over and under its hole; no bending along the span.

    Strips as deep as `web_left`, flanges left out; without holes the whole sheet. Shear by both strips. Of two sheets
    back to back each bends by itself.
    """
    stuff, t = material(ribs.sheet.material), ribs.sheet.thickness
    left = min(ribs.web_left or depth / 2, depth / 2)
    area = 2 * left * t * sheets
    inertia = sheets * t * (depth**3 - (depth - 2 * left) ** 3) / 12
    return Section(area, inertia, area * t**2 / 12, area * t**2 / 3, stuff.youngs, stuff.shear_modulus,
                   (SOLID * area, SOLID * area))  # fmt: skip
