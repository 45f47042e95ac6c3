"""The whole aeroplane as one frame: fuselage, mount, axle, wings, tail, bracing. Held at a datum that carries nothing.

The datum is three nodes of the fuselage that hold it just so: one every way, its mirror along and up, one aft of them
up. Every case is balanced by its own inertia, so these reactions are nought but for rounding.
"""

from __future__ import annotations

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Model
from sparwright.shape.frame import ON_CENTRE, nodes
from sparwright.structure.bar import Skeleton, assembled
from sparwright.structure.bracing import bracing_bars
from sparwright.structure.fuselage import fuselage_bars, fuselage_nodes
from sparwright.structure.tail import tail_bars, tail_nodes
from sparwright.structure.wings import wing_bars, wing_nodes

X, Y, Z = 0, 1, 2


def skeleton(model: Model) -> Skeleton:
    """The frame of a model. DesignProblem where the fuselage has no pair of nodes to hold it by."""
    own = fuselage_nodes(model)
    places = own | wing_nodes(model) | tail_nodes(model)
    bars = (*fuselage_bars(model), *wing_bars(model), *tail_bars(model, own), *bracing_bars(model))
    used = {e for b in bars for e in b.ends}
    kept = {name: place for name, place in places.items() if name in used}
    return assembled(kept, bars, datum(model, kept), unknowns=_left_out(model))


def datum(model: Model, places: dict[str, np.ndarray]) -> dict[str, tuple[int, ...]]:
    """The three nodes that hold it and how: the widest pair ahead, and the one furthest aft on the right or middle."""
    own = {n: p for n, p in nodes(model.fuselage).items() if n in places}
    pairs = [n for n, p in own.items() if p[1] > ON_CENTRE and f"{n[:-1]}L" in own and p[2] > 0]
    if not pairs:
        raise DesignProblem(f"{model.name}: the fuselage has no pair of nodes over the thrust line")
    first = max(pairs, key=lambda n: own[n][1])
    last = max(own, key=lambda n: own[n][0])
    return {first: (X, Y, Z), f"{first[:-1]}L": (X, Z), last: (Z,)}


def _left_out(model: Model) -> tuple[str, ...]:
    bare = [n for n, tail in (("tailplane", model.tailplane), ("fin", model.fin)) if tail.frame is None]
    return tuple(f"{n}: without a frame; its loads come in where the other is bolted on, or far aft" for n in bare)
