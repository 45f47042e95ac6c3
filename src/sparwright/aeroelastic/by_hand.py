"""The wing's first bending by hand: Rayleigh's quotient of uniform spars on rigid supports, with an overhang.

    inside   w = x (x^2 - a^2),   outside   w = 2 a^2 s + 3 a s^2 - a s^3/l       a from support to support, l overhang
    w1^2 = E I Int w''^2/(m Int w^2),   E I of all spars, m of the wing, a metre

An upper bound of a spar on stiff struts: what struts, cabane and fuselage give is left out. Source: rayleigh-1877
(memory, high), worked out here.
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.base.check import Step, by_hand
from sparwright.family.model import Model, Strut, Wing, Wire
from sparwright.structure.bar import Skeleton
from sparwright.structure.masses import Lumps

SOURCE = "rayleigh-1877 (memory)"


def overhung(stiffness: float, mass: float, inside: float, overhang: float) -> float:
    """First circular frequency, rad/s: stiffness E I, N m2; mass kg/m; from support to support and overhang, m.

    Without an overhang it is that of a beam on two supports (9.87 is pi^2, exact):

    >>> round(overhung(1.0, 1.0, 1.0, 1e-9), 2)
    12.55
    """
    a, out = inside, overhang
    s = np.polynomial.Polynomial([0.0, 2 * a**2, 3 * a, -a / out])
    square = (s * s).integ()
    moved = 8 * a**7 / 105 + float(square(out) - square(0.0))
    return math.sqrt(stiffness * 12 * a**2 * (a + out) / (mass * moved))


def first_bending(model: Model, wing: Wing, skeleton: Skeleton, lumps: Lumps, ours: float) -> tuple[Step, ...]:
    """Lines of working beside ours, rad/s; none where the wing has no two supports a side."""
    things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    ends = [e.buttline for x in things for e in x.ends if e.wing == wing.name]
    if len(set(ends)) < 2:
        return ()
    a, out = max(ends) - min(ends), wing.panels[-1].tip_buttline - max(ends)
    if out <= 0:
        return ()
    bars = [b for b in skeleton.bars if b.what == "spar" and b.at[0] == wing.name and b.at[2] == "R"]
    outermost = {b.at[1]: b for b in sorted(bars, key=lambda b: b.at[3]) if b.at[3] < max(ends) + out / 2}
    stiff = float(sum(b.section.youngs * b.section.about_y for b in outermost.values()))
    own = float(sum(m for m, g in zip(lumps.mass, lumps.group, strict=True) if g == f"wing {wing.name}"))
    per = own / (2 * wing.panels[-1].tip_buttline)
    given = (("E I", stiff, "N m2"), ("m", per, "kg/m"), ("a", a, "m"), ("l", out, "m"))
    return by_hand("sqrt(E I Int w''^2/(m Int w^2))/(2 pi)", given, overhung(stiff, per, a, out) / (2 * math.pi),
                   ours / (2 * math.pi), "Hz", SOURCE)  # fmt: skip
