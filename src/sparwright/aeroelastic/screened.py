"""The simplified criteria (screening.py) for a model: results that say how far they reach, never a verdict."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.aeroelastic.screening import balance_limit, flexibility, most_flexible, parallel_parameter
from sparwright.aeroelastic.work import Worked
from sparwright.base.check import Result, Step
from sparwright.family.model import Strut, Wire, spoken
from sparwright.parts.tail_fittings import axis
from sparwright.parts.tail_frame import Surface, surfaces

SOURCE = "caa-report-45 (memory)"
BRACED = "for cantilever wings; this one is braced, its twist by a torque at the tip is not what the criterion means"
ALONE = "for an aeroplane of one cantilever wing"
NO_CURVE = "screening, no verdict: the criterion's curve is not at hand, its letters are memory, medium; paint left out"
BENDS = {"elevator": "fuselage up and down", "rudder": "fuselage sideways"}


def screened(w: Worked) -> Iterator[Result]:
    """F of each wing with an aileron, K/I of the aileron; g and K/I of elevator and rudder."""
    for wing in w.model.wings:
        if wing.aileron is None:
            continue
        things: tuple[Strut | Wire, ...] = (*w.model.struts, *w.model.wires)
        braced = any(e.wing == wing.name for x in things for e in x.ends)
        said = "; ".join(["screening, no verdict", *([BRACED] if braced else []),
                          *([ALONE] if len(w.model.wings) > 1 else [])])  # fmt: skip
        yield _flexible(w, wing.name, said)
        yield from _balanced(w, wing.name, said)
    for s in surfaces(w.model):
        yield from _tail(w, s)


def _flexible(w: Worked, wing: str, said: str) -> Result:
    strips = w.standing.strips
    mine = np.array([n == wing and side == "R" for n, side in zip(strips.surface, strips.side, strict=True)])
    s, out = len(mine), int(np.argmax(np.where(mine, strips.middle[:, 1], -np.inf)))
    part = np.where(mine, w.moving.laced.aileron, 0.0)
    twist = w.give[s : 2 * s, s + out]
    value = flexibility(twist, strips.chord, part * strips.width)
    limit = most_flexible(w.dive)
    steps = (Step("F", "sum th c^2 ds over the aileron, torque at the tip", (), value, "ft3/(lbf ft)", SOURCE),
             Step("criterion", "200/VD^2, VD mph", (("VD", w.dive, "m/s"),), limit, "ft3/(lbf ft)", SOURCE),
             Step("F over the criterion", "F/(200/VD^2)", (), value / limit, "1"))  # fmt: skip
    return Result(f"aeroelastic.screening.{wing}.flexibility",
                  f"{spoken(wing)}: twist over the aileron, of what the simplified criterion allows", value / limit,
                  "1", source=SOURCE, caveat=said, steps=steps)  # fmt: skip


def _balanced(w: Worked, wing: str, said: str) -> Iterator[Result]:
    """K about the hinge and the aeroplane's middle, over I."""
    for a in w.drawn:
        if (a.wing, a.side) != (wing, "R"):
            continue
        mine = np.array([n.startswith(a.start) and y > 0 for n, y in zip(w.lumps.names, w.lumps.place[:, 1],
                                                                         strict=True)])  # fmt: skip
        m, at = w.aboard[mine], w.lumps.place[mine]
        aft = np.cross(a.axis, at - a.place)
        n, y = -aft[:, 2], at[:, 1]  # a turn of the trailing edge down sinks what is aft
        k, inertia = float(m @ (n * y)), float(m @ (aft**2).sum(axis=1))
        ratio, limit = k / inertia if inertia else math.nan, balance_limit(w.dive)
        given = (("K", k, "kg m2"), ("I", inertia, "kg m2"))
        steps = (Step("K/I", "sum m n y/sum m n^2", given, ratio, "1", SOURCE),
                 Step("criterion", "3 - (VD/300)^2, VD mph", (("VD", w.dive, "m/s"),), limit, "1", SOURCE))  # fmt: skip
        yield Result(f"aeroelastic.screening.{wing}.balance", f"{spoken(wing)}: aileron's K/I, axis at the middle of "
                     "the aeroplane", ratio, "1", source=SOURCE, steps=steps,
                     caveat=f"{said}; the axis of a braced wing's swing is not the middle; paint left out")  # fmt: skip


def _tail(w: Worked, s: Surface) -> Iterator[Result]:
    """g about an axis along the hinge, K/I about one square to it through the surface's root."""
    name, (place, along) = s.name("movable"), axis(s)
    mine = np.array([n.startswith(f"{w.model.name}-{name}-") for n in w.lumps.names])
    m, at = w.aboard[mine], w.lumps.place[mine]
    aft = np.array([1.0, 0.0, 0.0]) - along[0] * along
    n = (at - place) @ (aft / np.linalg.norm(aft))
    out = np.abs(at[:, 1]) if s.flat else at[:, 2] - place[2]
    off = np.cross(along, at - place)
    inertia, unbalance, product = float(m @ (off**2).sum(axis=1)), float(m @ n), float(m @ (n * out))
    half = (s.tail.root_chord + s.tail.tip_chord) / 4
    value = parallel_parameter(unbalance, inertia, half)
    bends = next((o for o, x in zip(w.moving.omega, w.names, strict=True)
                  if o > 0 and f"{x.part} {x.way}" == BENDS[name]), math.nan)  # fmt: skip
    given = (("S", unbalance, "kg m"), ("b", half, "m"), ("I", inertia, "kg m2"), ("VD", w.dive, "m/s"),
             ("f", float(bends) / (2 * math.pi), "Hz"))  # fmt: skip
    yield Result(f"aeroelastic.screening.{name}.parallel", f"{name}: S b/I, against the fuselage's bending", value, "1",
                 source=SOURCE, caveat=NO_CURVE, steps=(Step("g", "S b/I", given, value, "1", SOURCE),))  # fmt: skip
    ratio = product / inertia if inertia else math.nan
    of_k = (("K", product, "kg m2"), ("I", inertia, "kg m2"))
    where = "the middle of the aeroplane" if s.flat else "the hinge line's lower end"
    yield Result(f"aeroelastic.screening.{name}.square", f"{name}: K/I, against the fuselage's torsion about {where}",
                 ratio, "1", source=SOURCE, caveat=NO_CURVE,
                 steps=(Step("K/I", "sum m n y/sum m n^2", of_k, ratio, "1", SOURCE),))  # fmt: skip
