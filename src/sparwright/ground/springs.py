"""How far the wheels give way by what springs them, from the parts; and what their stops come at.

    cord    F(u) = 2 n P(e), e = (l1 + u)/l0 - 1      n turns of two strands, l0 slack, l1 at the bottom of the slot,
                                                      u the axle's rise, P the pull as it was measured
    leaf    u = F a^2 (L + a)/(3 E I), I = k b t^3/12 held at its front, resting at L, loaded at L + a; k leaves

A strand lengthens by as much as the axle rises. Pull between two measured stretches is taken on a straight line; beyond
them it is unknown. Leaves lie loose on one another; the load and rise of a leaf are taken square to it.
Source: overhanging bar with a force at its free end (mecheng-overhang); cord: as its user measured it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Result, Step, check
from sparwright.base.quantity import inches
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.loader import material
from sparwright.family.fitted import Leaf, Rubber
from sparwright.family.ground import Springing
from sparwright.ground.work import OnGround


def cord_pull(rubber: Rubber, rise: float, share: float = 1.0) -> float:
    """Force of the cord on one axle end, N, at a rise of it, m; NaN beyond what was measured. share: of the pull."""
    stretch = (rubber.stretched + rise) / rubber.strand - 1
    pull = np.interp(stretch, rubber.stretch, rubber.pull, left=math.nan, right=math.nan)
    return float(2 * rubber.turns * pull * share)


def cord_rise(rubber: Rubber, load: float, stop: float, share: float = 1.0) -> float:
    """Rise of the axle, m, under a load on one wheel, N: nought below the cord's first pull, the stop past its last."""
    first, last = (cord_pull(rubber, u, share) for u in (0.0, stop))
    if math.isnan(first + last):
        return math.nan
    if load <= first or load >= last:
        return 0.0 if load <= first else stop
    return float(brentq(lambda u: cord_pull(rubber, u, share) - load, 0.0, stop))


def cord_band(rubber: Rubber, load: float, stop: float) -> Band:
    """The axle's rise with the pull's give or take, m; unknown beyond what was measured."""
    found = [cord_rise(rubber, load, stop, 1 + s * rubber.band) for s in (0.0, 1.0, -1.0)]
    return UNKNOWN if any(math.isnan(u) for u in found) else Band(*found)


def leaf_stiffness(leaf: Leaf) -> float:
    """Load at its end over its rise there, N/m; NaN where the material's modulus is unknown."""
    along = [math.dist(leaf.start, p) for p in (leaf.rest, leaf.end)]
    between, over = along[0], along[1] - along[0]
    inertia = leaf.leaves * leaf.width * leaf.thickness**3 / 12
    return 3 * material(leaf.material).youngs * inertia / (over**2 * (between + over))


def leaf_stress(leaf: Leaf, load: float) -> float:
    """Greatest bending stress of a leaf, Pa, over its rest: M/Z."""
    over = math.dist(leaf.rest, leaf.end)
    return load * over * 6 / (leaf.leaves * leaf.width * leaf.thickness**2)


# ------------------------------------------------------------------ told


CORD = "cord as measured (ground/springs.py)"
LEAF = "overhanging bar (mecheng-overhang)"
CLOSE = 3.175e-3  # m the file may be off: 0.05 deg of attitude on a base of 3.8 m (the program's own)
REST = "standing still on three wheels at the greatest mass"


@dataclass(frozen=True)
class Sprung:
    """One wheel's springing worked out from its parts; `why` says why nothing is known."""

    wheel: str
    by: str  # "cord" or "leaf"
    said: float = number("m", "how far it rises at rest, as the file says; NaN where it does not", math.nan)
    load: Band = UNKNOWN  # N on one wheel
    rise: Band = UNKNOWN  # m
    stop: float = number("1", "load at its stop over the load at rest; NaN where unknown", math.nan)
    stress: float = number("Pa", "greatest bending stress of a leaf at rest; NaN for a cord", math.nan)
    why: str = ""


def sprung(on: OnGround) -> tuple[Sprung, ...]:
    """Main and tail wheel of a model with an undercarriage of parts; none without."""
    gear = on.model.undercarriage
    if gear is None:
        return ()
    found = {s.name: s for s in on.model.ground.springing} if on.model.ground else {}
    main = next((w.name for w in on.model.wheels if w.place[1]), "")
    tail = next((w.name for w in on.model.wheels if not w.place[1]), "")
    made = []
    if gear.rubber and main:
        made.append(_by_cord(on, gear.rubber, main, found.get(main)))
    if gear.tail and tail:
        made.append(_by_leaf(on, gear.tail, tail, found.get(tail)))
    return tuple(made)


def _loads(on: OnGround) -> tuple[Band, Band]:
    """(load on one main wheel, load on the tail wheel) at the greatest mass, N."""
    s = on.corners["heaviest"]
    weight = s.loading.mass * GRAVITY
    return s.band(lambda x: (1 - x.tail_share) * weight / 2), s.band(lambda x: x.tail_share * weight)


def _by_cord(on: OnGround, rubber: Rubber, wheel: str, said: Springing | None) -> Sprung:
    if said is None or said.stop is None or said.leg is None or on.why:
        return Sprung(wheel, "cord", why=on.why or f"the file does not say ground.springing.{wheel}: leg, stop")
    load, _ = _loads(on)
    ends = [cord_band(rubber, x, said.stop) for x in (load.value, load.low, load.high)]
    why = "" if all(e.known for e in ends) else "the cord was not pulled as far as it is stretched"
    rise = Band(ends[0].value, min(e.low for e in ends), max(e.high for e in ends)) if not why else UNKNOWN
    return Sprung(wheel, "cord", said.leg, load, rise, cord_pull(rubber, said.stop) / load.value, why=why)


def _by_leaf(on: OnGround, leaf: Leaf, wheel: str, said: Springing | None) -> Sprung:
    if said is None or said.leg is None or said.stop is None or on.why:
        return Sprung(wheel, "leaf", why=on.why or f"the file does not say ground.springing.{wheel}: leg, stop")
    _, load = _loads(on)
    k = leaf_stiffness(leaf)
    why = "" if math.isfinite(k) else f"the modulus of {leaf.material} is not on file"
    rise = Band(load.value / k, load.low / k, load.high / k) if not why else UNKNOWN
    stop = said.stop * k / load.value
    return Sprung(wheel, "leaf", said.leg, load, rise, stop, leaf_stress(leaf, load.value), why)


def spring_results(on: OnGround) -> Iterator[Result]:
    """How far each sprung axle rises at rest, and at what load it comes to its stop."""
    for s in sprung(on):
        source = CORD if s.by == "cord" else LEAF
        note = s.why or f"the file says {inches(s.said)}; load {s.load.value:.0f} N on the wheel"
        formula = "2 n P(e) = F" if s.by == "cord" else "F a^2 (L + a)/(3 E I)"
        step = Step("rise", formula, (("F", s.load.value, "N"),), s.rise.value, "m", source)
        yield Result(f"ground.spring.{s.wheel}.rise", f"axle of the {s.wheel} wheel risen by its {s.by}, {REST}",
                     s.rise.value, "m", s.rise.low, s.rise.high, source, note, () if s.why else (step,),
                     ("mass.cg.heaviest",))  # fmt: skip
        title = f"load on the {s.wheel} wheel that brings its axle to the stop, of the load at rest"
        over = Band.exact(s.stop) if not s.why else UNKNOWN
        yield Result(f"ground.spring.{s.wheel}.stop", title, over.value, "1", over.low, over.high, source,
                     s.why or "the tyre's own give is not in it; a landing is a matter of strength")  # fmt: skip


def spring_checks(on: OnGround) -> Iterator[Check]:
    """What the parts give against what the file says, on which every clearance rests."""
    for s in sprung(on):
        known = s.rise.known and math.isfinite(s.said)
        said = f"parts {inches(s.rise.low)} to {inches(s.rise.high)}, the file {inches(s.said)}" if known else s.why
        off = max(s.rise.low - s.said, s.said - s.rise.high, 0.0)
        yield check(f"ground.spring.{s.wheel}", f"rise of the {s.wheel} wheel in the file beside what its {s.by} gives",
                    Band.exact(off) if known else UNKNOWN, CLOSE, "<=", "m",
                    rule=f"ground.springing.{s.wheel}.leg, off the parts' band (the program's own)",
                    method=CORD if s.by == "cord" else LEAF, parents=(f"ground.spring.{s.wheel}.rise",),
                    caveat=said)  # fmt: skip
