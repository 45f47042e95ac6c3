"""Loads of the tailplane: elevator thrown, checked manoeuvres, a gust on the tail alone, one half with less.

    thrown        level flight, the elevator at once at an angle: not balanced (air_forces.py)
    checked       balanced, then the elevator that pitches the aeroplane with an acceleration:  CM q S c = I p
    gust          a load that a rule adds to the tailplane, parted as a change of its angle parts it
    one half      the left half of tailplane and elevator carries a part of what it otherwise would

I inertia in pitch, p pitching acceleration. At the same angle the elevator's lift is not made up for by the wings.
Sources: cs-vla 423, 425, 427; statics.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from sparwright.base.record import locked
from sparwright.data.pushes import PARTS
from sparwright.loads.air_forces import cg, flown, level_lift, pressure
from sparwright.loads.case import LoadCase
from sparwright.loads.halves import Half, even
from sparwright.loads.laid_out import LaidOut, SpanLoad
from sparwright.loads.ready import Poised, Ready, balanced, pitched

TURN = 0.01  # rad, of the tailplane's strips, by which its share of an added load is found
LEFT = ("tailplane:L", "elevator:L")


def checked(ready: Ready, case: LoadCase, acceleration: float, inertia: float, thrust: float = 0.0) -> LaidOut:
    """Pitching with an acceleration, rad/s2, nose up, at the case's lift. inertia: kg m2, in pitch. ValueError where
    either is not known or no elevator does it.
    """
    if not np.isfinite([acceleration, inertia]).all():
        raise ValueError("pitching acceleration or inertia in pitch is not known")
    scale = pressure(case) * ready.plane.area * ready.plane.chord
    at = pitched(ready, balanced(ready, case.lift, cg(case)), acceleration * inertia / scale, cg(case))
    return flown(ready, case, at, thrust)


def gust_on_tail(ready: Ready, case: LoadCase, added: float, thrust: float = 0.0) -> LaidOut:
    """Level flight with a load (N, upwards) that a gust adds to the tailplane."""
    if not np.isfinite(added):
        raise ValueError("the load that the gust adds is not known")
    at = balanced(ready, level_lift(case, ready.plane.area), cg(case))
    unit, lift = _turned(at)
    more = unit.times(added / (pressure(case) * lift))
    return flown(ready, case, at, thrust, both={ready.plane.tail: more})


def _turned(at: Poised) -> tuple[Half, float]:
    """(what the tailplane's half carries more when it is turned a little, over q; lift of both halves of that, m2)."""
    company, here = at.state.company, at.state.company.strip_slices[at.tail]
    twist = np.zeros(company.chords.size)
    twist[here] = TURN
    more = company.state(at.alpha, at.turned, twist)
    halves = [even(s, at.lattice.cut, at.turned)[at.tail] for s in (more, at.state)]
    return halves[0] + halves[1].times(-1.0), more.surface_lift(at.tail) - at.state.surface_lift(at.tail)


def other_tail(factor: float) -> float:
    """Part of the load that the other half of the tailplane carries, of the positive limit load factor.

    >>> round(other_tail(3.8), 3), other_tail(2.0)
    (0.72, 0.8)
    """
    return min(PARTS["tail_most"].value, 1 - PARTS["tail_per_g"].value * (factor - 1))


def left_half_less(found: LaidOut, tail: str, part: float) -> LaidOut:
    """The same with the left half of the tailplane carrying a part of its load."""
    p = found.pushes
    k = np.array([part if name in LEFT else 1.0 for name in p.on])[:, None]
    less = replace(p, force=locked(p.force * k), moment=locked(p.moment * k))
    spans = tuple(_times(s, part) if s.surface == tail and s.side == "L" else s for s in found.spans)
    said = f"left half of the tailplane at {part:.3g} of the right"
    return replace(found, pushes=less, spans=spans, notes=(*found.notes, said))


def _times(s: SpanLoad, k: float) -> SpanLoad:
    return replace(
        s,
        normal=locked(s.normal * k),
        chordwise=locked(s.chordwise * k),
        torsion=locked(s.torsion * k),
        hinged=locked(s.hinged * k),
        hinge=locked(s.hinge * k),
    )
