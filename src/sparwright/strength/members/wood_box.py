"""Caps of a box or I spar of wood under bending about both axes and axial load; and the spar tipping over sideways.

    f_b = |M| c/I      f_z = |M_z| z/I_z      f_c = P/A      c from the centroid to the edge in question
    p = d/h of the pressed cap      q = n t/(b + n t)
    K = p^2 (6 - 8 p + 3 p^2)       X = K (1 - q) + q
    F_U = 0.50 + 0.50 X  at rupture      F_E = 0.58 + 0.42 X  at the proportional limit
    pressed edge   f_b/(F_U F_br) + f_z/F_br + f_c/F_c <= 1
    pulled edge   (f_b + f_z + f_t)/F_t <= 1
    M_cr = (pi/L) sqrt(E I_z GJ)    a deep spar between two places that keep it from tipping, M the same all along

M bending moment, plus where it presses the upper cap; M_z moment along the chord, either way; P axial load, plus where
it presses (f_c), else f_t; F_br modulus of rupture, F_c crushing along the grain, F_t tension along the grain. All
loads ultimate. An axial load is never taken to relieve an edge. The caps bend along the chord as solid rectangles,
which have no form factor.

Source: naca-tr-181 (formulas from memory, high). Straight addition of bending and compression lies on the safe side of
the straight line that naca-tr-188 draws between crushing and rupture (from memory, medium), given here as `line_use`.
timoshenko-gere for M_cr (memory, high): wood taken as elastic, so it says nothing where M_cr is above what breaks.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.strength.members import wood_section
from sparwright.strength.members.wood_margin import Floats, margin_step
from sparwright.strength.members.wood_section import SparShape

PUBLISHED = "naca-tr-181, from memory (high)"


@dataclass(frozen=True)
class CapStrength:
    """What the wood of the caps can do along its grain, all knock-downs taken; NaN where unknown."""

    bending: Floats = number("Pa", "modulus of rupture of a solid rectangle; or the proportional limit")
    crushing: Floats = number("Pa", "compression along the grain; or its proportional limit")
    tension: Floats = number("Pa", "tension along the grain; or its proportional limit")


@dataclass(frozen=True)
class CapLoads:
    """Ultimate loads of a section: numbers or arrays."""

    moment: Floats = number("N m", "plus presses the upper cap")
    axial: Floats = number("N", "plus presses", 0.0)
    chordwise: Floats = number("N m", "about the upright axis, either way", 0.0)


def form_factor(p: Floats, q: Floats, rupture: bool = True) -> np.ndarray:
    """F_U, or F_E where not rupture: the part of a solid rectangle's strength that a box or I beam has.

    p depth of the pressed cap over the spar's, q webs over whole width. Range: 0 < p <= 0.5, 0 <= q <= 1; else NaN.

    >>> form_factor(0.125, 1 / 11).round(4), form_factor(0.125, 1 / 11, rupture=False).round(4)
    (np.float64(0.5813), np.float64(0.6483))
    """
    p, q = np.asarray(p, dtype=float), np.asarray(q, dtype=float)
    k = p**2 * (6 - 8 * p + 3 * p**2)
    x = k * (1 - q) + q
    found = 0.5 + 0.5 * x if rupture else 0.58 + 0.42 * x
    return np.asarray(np.where((p > 0) & (p <= 0.5) & (q >= 0) & (q <= 1), found, np.nan))


def stresses(shape: SparShape, loads: CapLoads) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """(f_b at the pressed edge, f_b at the pulled edge, f_z, f_c), Pa; f_c plus where P presses."""
    v, m = wood_section.values(shape), np.asarray(loads.moment, dtype=float)
    up, down = np.asarray(shape.depth) - v.middle, v.middle
    pressed, pulled = np.where(m >= 0, up, down), np.where(m >= 0, down, up)
    across = np.abs(loads.chordwise) * v.side / v.chordwise
    return np.abs(m) * pressed / v.inertia, np.abs(m) * pulled / v.inertia, across, np.asarray(loads.axial) / v.area


def use(shape: SparShape, loads: CapLoads, strength: CapStrength, rupture: bool = True) -> np.ndarray:
    """How much of the caps' strength is used, the worse of pressed and pulled edge.

    With rupture false the strengths are those of the proportional limit and the loads limit loads. NaN outside the
    ranges of `form_factor` and `wood_section.values`, and where a strength is unknown.
    """
    return np.asarray(np.maximum(*_parts(shape, loads, strength, rupture)))  # NaN wins


def _parts(shape: SparShape, loads: CapLoads, strength: CapStrength, rupture: bool) -> tuple[np.ndarray, np.ndarray]:
    """Use of the pressed and of the pulled edge."""
    pressed, pulled, across, along = stresses(shape, loads)
    factor = _factor(shape, loads, rupture)
    squeezed = pressed / (factor * strength.bending) + across / strength.bending
    squeezed = squeezed + np.maximum(along, 0) / strength.crushing
    return squeezed, (pulled + across + np.maximum(-along, 0)) / np.asarray(strength.tension)


def _factor(shape: SparShape, loads: CapLoads, rupture: bool) -> np.ndarray:
    cap = np.where(np.asarray(loads.moment) >= 0, shape.upper, shape.lower)
    walls = shape.webs * np.asarray(shape.web)
    return form_factor(cap / np.asarray(shape.depth), walls / (np.asarray(shape.width) + walls), rupture)


def line_use(bending: Floats, compression: Floats, rupture: Floats, crushing: Floats) -> np.ndarray:
    """(f_b + f_c)/(F_c + (F_b - F_c) f_b/(f_b + f_c)): the straight line between crushing and rupture.

    bending f_b and compression f_c Pa, rupture F_b (form factor taken), crushing F_c. Never more than the addition of
    f_b/F_b and f_c/F_c, so for comparison only: from memory, medium. Range: both stresses nought or more.

    >>> line_use(np.array([0.0, 20e6, 10e6]), np.array([30e6, 0.0, 15e6]), 40e6, 30e6)
    array([1.        , 0.5       , 0.73529412])
    """
    b, c = np.asarray(bending, dtype=float), np.asarray(compression, dtype=float)
    total = b + c
    share = np.where(total > 0, b / np.where(total > 0, total, 1), 0)
    found = total / (np.asarray(crushing) + (np.asarray(rupture) - crushing) * share)
    return np.where((b >= 0) & (c >= 0), found, np.nan)


def lateral_moment(chordwise: Floats, torsion: Floats, length: Floats, youngs: Floats) -> np.ndarray:
    """M_cr, N m: chordwise I_z m4, torsion GJ N m2, length L between places held upright m, youngs E Pa."""
    return np.asarray(np.pi / np.asarray(length) * np.sqrt(np.asarray(youngs) * chordwise * np.asarray(torsion)))


def lateral_use(moment: Floats, chordwise: Floats, torsion: Floats, length: Floats, youngs: Floats) -> np.ndarray:
    """|M|/M_cr of a spar held upright at both ends of a bay; the moment taken as the same all along it."""
    return np.asarray(np.abs(moment) / lateral_moment(chordwise, torsion, length, youngs))


def working(shape: SparShape, loads: CapLoads, strength: CapStrength, rupture: bool = True) -> tuple[Step, ...]:
    """The lines of one section under one load, from its values to the margin of safety."""
    v = wood_section.values(shape)
    pressed, pulled, across, along = (float(x) for x in stresses(shape, loads))
    factor, m = float(_factor(shape, loads, rupture)), float(loads.moment)
    squeezed, stretched = (float(x) for x in _parts(shape, loads, strength, rupture))
    size = (("b", float(shape.width), "m"), ("d_u", float(shape.upper), "m"), ("d_l", float(shape.lower), "m"),
            ("h", float(shape.depth), "m"), ("t", float(shape.web), "m"), ("n", shape.webs, "1"),
            ("r", float(shape.ratio), "1"))  # fmt: skip
    inertia, mid = float(v.inertia), float(v.middle)
    p_given = (("pressed cap d", float(shape.upper if m >= 0 else shape.lower), "m"), *size)
    worst = max(squeezed, stretched) if math.isfinite(squeezed + stretched) else math.nan
    name = "F_U = 0.50 + 0.50 X" if rupture else "F_E = 0.58 + 0.42 X"
    return (
        Step("centroid above the lower face", "y_0 = sum(E A y)/sum(E A)", size, mid, "m", "timoshenko-gere"),
        Step("inertia", "I = sum b d^3/12 + b d (y - y_0)^2 + r n t (h^3/12 + h (h/2 - y_0)^2)",
             (*size, ("y_0", mid, "m")), inertia, "m4", "timoshenko-gere"),
        Step("inertia across", "I_z", size, float(v.chordwise), "m4", "timoshenko-gere"),
        Step("form factor", f"{name}, X = K (1 - q) + q, K = p^2 (6 - 8 p + 3 p^2)", p_given, factor, "1", PUBLISHED),
        Step("bending stress, pressed edge", "|M| c/I", (("M", m, "N m"), ("I", inertia, "m4")), pressed, "Pa",
             "timoshenko-gere"),
        Step("bending stress, pulled edge", "|M| c/I", (("M", m, "N m"), ("I", inertia, "m4")), pulled, "Pa",
             "timoshenko-gere"),
        Step("bending stress along the chord", "|M_z| z/I_z",
             (("M_z", float(loads.chordwise), "N m"), ("z", float(v.side), "m")), across, "Pa", "timoshenko-gere"),
        Step("axial stress", "P/A", (("P", float(loads.axial), "N"), ("A", float(v.area), "m2")), along, "Pa",
             "common practice: statics"),
        Step("use of the pressed edge", "f_b/(F F_br) + f_z/F_br + f_c/F_c",
             (("F_br", float(strength.bending), "Pa"), ("F_c", float(strength.crushing), "Pa")), squeezed, "1",
             "straight addition, common practice, no source"),
        Step("use of the pulled edge", "(f_b + f_z + f_t)/F_t", (("F_t", float(strength.tension), "Pa"),), stretched,
             "1", "common practice: statics"),
        margin_step(worst),
    )  # fmt: skip
