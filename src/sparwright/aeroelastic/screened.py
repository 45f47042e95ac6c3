"""The simplified criteria (screening.py) for a model: results that say how far they reach, never a verdict."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.aeroelastic.screening import balance_limit, flexibility, most_flexible
from sparwright.aeroelastic.work import Worked
from sparwright.base.check import Result, Step
from sparwright.family.model import Strut, Wire, spoken

SOURCE = "caa-report-45 (memory)"
BRACED = "for cantilever wings; this one is braced, its twist by a torque at the tip is not what the criterion means"
ALONE = "for an aeroplane of one cantilever wing"


def screened(w: Worked) -> Iterator[Result]:
    """F of each wing with an aileron, and K/I of the aileron."""
    for wing in w.model.wings:
        if wing.aileron is None:
            continue
        things: tuple[Strut | Wire, ...] = (*w.model.struts, *w.model.wires)
        braced = any(e.wing == wing.name for x in things for e in x.ends)
        said = "; ".join(["screening, no verdict", *([BRACED] if braced else []),
                          *([ALONE] if len(w.model.wings) > 1 else [])])  # fmt: skip
        yield _flexible(w, wing.name, said)
        yield from _balanced(w, wing.name, said)


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
