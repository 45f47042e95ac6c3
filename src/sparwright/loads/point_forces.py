"""Loads at points: the pilot held by the straps, people and ropes on the aeroplane.

    forward       pilot's mass m, factor n: n m g on the straps, a part on the lap straps, the rest on the shoulders',
                  right and left alike; all of it on the lap straps where there are no others (data/pushes.toml)
    up            all on the lap straps
    side, down    on the seat

The forces are those of the pilot on the aeroplane, which stands still by its own inertia. Directions: the way the pilot
is thrown. Straps pull from their anchors towards the pilot; only the given direction is laid, not what a slanting strap
adds (noted by the caller). Source: cs-vla 561, 785.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.data.pushes import PARTS
from sparwright.family.model import Model
from sparwright.loads.case import Pushes
from sparwright.loads.places import node_place, pair, spar_place
from sparwright.loads.together import joined, push

THROWN = {"forward": (-1.0, 0.0, 0.0), "up": (0.0, 0.0, 1.0), "side": (0.0, 1.0, 0.0), "down": (0.0, 0.0, -1.0)}


def pilot_thrown(model: Model, way: str, factor: float, mass: float | None = None) -> Pushes:
    """The pilot thrown a way of THROWN with a load factor, on straps or seat.

    mass: kg, the heaviest pilot's where none is given. KeyError for another way, ValueError where the file has no
    seat, pilot or straps.
    """
    force = factor * GRAVITY * (heaviest(model) if mass is None else mass) * np.array(THROWN[way])
    seat = model.seat
    if seat is None:
        raise ValueError("the file does not say where the pilot sits")
    if way in ("side", "down"):
        return push("seat", seat.place, force)
    straps = seat.harness
    if straps is None:
        raise ValueError("the file does not say where the straps are held")
    lap = 1.0 if way == "up" or straps.shoulder is None else PARTS["strap_lap"].value
    rows = [(on, at, lap / 2) for on, at in pair("harness", straps.lap, joint=":")]
    if straps.shoulder is not None and lap < 1:
        rows += [(on, at, (1 - lap) / 2) for on, at in pair("harness", straps.shoulder, joint=":")]
    return joined([push(on, at, part * force) for on, at, part in rows])


def heaviest(model: Model) -> float:
    """Mass of the heaviest pilot, kg. ValueError where the file has none."""
    found = [load.most for load in model.loads if load.kind == "pilot"]
    if not found:
        raise ValueError("the file has no pilot")
    return max(found)


def at_node(model: Model, node: str, force: Iterable[float]) -> Pushes:
    """A force (3,) N at a node of the fuselage: a rope that ties it down, a sling. KeyError for no node."""
    return push(f"node:{node}", node_place(model, node), list(force))


def at_spar(model: Model, wing: str, spar: str, buttline: float, force: Iterable[float], left: bool = False) -> Pushes:
    """A force (3,) N at a spar, on the chord line: a rope on a wing, a foot on it. KeyError for no such spar."""
    x, y, z = spar_place(model, wing, spar, buttline)
    return push(f"spar:{wing}:{spar}:{'L' if left else 'R'}", (x, -y if left else y, z), list(force))
