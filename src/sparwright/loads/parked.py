"""The aeroplane on jacks and in slings: what each point bears, standing still, by the rule's or the designer's factor.

Symbols: W weight, n load factor, s what a point bears at rest (supports.py).

    jacked      n s up and h s along the ground, h of the rule, all points the same way: ahead, aft, right, left
    hoisted     n s along the sling; with a hook the aeroplane hangs with its centre of gravity under it

Jacks push only, slings pull only. Jacks stand square to the ground in the attitude that the file says. Where the points
are said nowhere, or cannot hold it, the case is unknown. The aeroplane's inertia balances what the rule's factors add,
as 23.507(b) asks of the horizontal loads (memory, fairly sure). Sources: 14 CFR 23.507; marks in data/loads.toml.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.family.model import Model
from sparwright.family.parked import HeldPoint, Parked
from sparwright.loads.besides import ALONG
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.code import asked
from sparwright.loads.ground_forces import standing
from sparwright.loads.places import Taken, node_place, pair, spar_place
from sparwright.loads.supports import borne
from sparwright.loads.together import pushes

WAYS = ("ahead", "aft", "right", "left")


def parked(model: Model, key: str) -> Parked:
    """What holds the model. key: ropes, jacks or slings. ValueError where the file does not say."""
    if model.parked is None or not getattr(model.parked, key):
        said = {"ropes": "tied down", "jacks": "jacked", "slings": "hoisted"}[key]
        raise ValueError(f"the file does not say where it is {said} (parked.{key})")
    return model.parked


def points(model: Model, point: HeldPoint) -> Iterator[Taken]:
    """Names and places of a point, its twin on the left where it stands for a pair. KeyError for one not there."""
    if point.node:
        yield from pair(f"node:{point.node}", node_place(model, point.node), point.node in model.fuselage.nodes)
    elif point.wing:
        at = spar_place(model, point.wing, point.spar, point.buttline)
        on = f"spar:{point.wing}:{point.spar}"
        yield from pair(on, at, joint=":") if at[1] else [(f"{on}:R", at)]
    elif point.place is not None:
        yield from pair("held", point.place, joint=":")


def jacked(case: LoadCase, model: Model, words: Sequence[str]) -> Pushes:
    """On its jacks, pushed one of WAYS. ValueError where the jacks are not known or do not hold it."""
    on = parked(model, "jacks")
    if on.jacked == "level":
        up, aft = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
    else:
        stand = standing(model, case, True)
        up, aft = stand.up, stand.aft
    right = np.array([0.0, 1.0, 0.0])
    along = dict(zip(WAYS, (-aft, aft, right, -right), strict=True))
    way = next((along[w] for w in words if w in along), None)
    if way is None:
        raise ValueError(f"the key {case.key} has none of {', '.join(WAYS)}")
    found = [t for p in on.jacks for t in points(model, p)]
    place = np.array([at for _, at in found])
    still = _weight(case, place, np.tile(up, (len(found), 1)), up, "the jacks")
    force = np.outer(still, case.factor * up + asked(case.steps, ALONG) * way)
    return pushes(place, force, 0 * force, [name for name, _ in found])


def hoisted(case: LoadCase, model: Model) -> Pushes:
    """In its slings. ValueError where slings or factor are not known, or they do not hold it."""
    on = parked(model, "slings")
    if not np.isfinite(case.factor):
        raise ValueError(case.caveat or f"{case.key}: no load factor")
    found = [t for p in on.slings for t in points(model, p)]
    place = np.array([at for _, at in found])
    up = np.array([0.0, 0.0, 1.0])
    way = np.tile(up, (len(found), 1))
    if on.hook is not None:
        if on.hook[2] <= max(place[:, 2].max(), case.waterline):
            raise ValueError("the hook (parked.hook) does not lie above slings and centre of gravity")
        way, up = unit(np.array(on.hook) - place), unit(np.array(on.hook) - _centre(case))
    force = (case.factor * _weight(case, place, way, up, "the slings"))[:, None] * way
    return pushes(place, force, 0 * force, [name for name, _ in found])


def unit(v: np.ndarray) -> np.ndarray:
    """Vectors of length one along the last axis."""
    return np.asarray(v / np.linalg.norm(v, axis=-1, keepdims=True))


def _centre(case: LoadCase) -> np.ndarray:
    return np.array([case.station, 0.0, case.waterline])


def _weight(case: LoadCase, place: np.ndarray, way: np.ndarray, up: np.ndarray, what: str) -> np.ndarray:
    """(k,) N, what each point bears at rest."""
    weight = -case.mass * GRAVITY * up
    return borne(place, way, weight, np.cross(_centre(case), weight), what)
