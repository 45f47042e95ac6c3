"""The outlines of wings, tailplane and fin in bays, and which lumps of the weight ledger are theirs."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sparwright.base.record import locked
from sparwright.family.model import Model, Wing
from sparwright.loads.case import Pushes
from sparwright.loads.laid_out import SpanLoad
from sparwright.parts.stations import rib_stations
from sparwright.proof.bays import QUARTER, Outline
from sparwright.shape.lifting import tail_planform, wing_planform
from sparwright.shape.planform import Planform
from sparwright.structure.bar import Skeleton
from sparwright.structure.masses import Lumps

EVEN_BAYS = 4  # of half a tail surface whose ribs are not known
WIDE = 0.3  # m: a bay of the tail that is wider is cut in two; ours, no source
NEAR = 0.04  # m: two ribs of a tail nearer than this are one
TAIL, FIN = "tailplane", "fin"


def wing_outline(wing: Wing) -> Outline:
    """A wing in the bays between its whole ribs, right half."""
    edges = np.array([r.buttline for r in rib_stations(wing) if r.kind == "wing"])
    spars = tuple(sorted(s.at for s in wing.spars))
    return _of_planform(wing.name, wing_planform(wing), edges, 1.0, spars)


def tail_outline(model: Model, skeleton: Skeleton) -> Outline:
    """The tailplane with its elevator in the bays between its ribs, or in even ones."""
    plan = tail_planform(model.tailplane)
    edges = _ribs(skeleton, TAIL, 1, 0.0, model.tailplane.span / 2)
    return _of_planform(TAIL, plan, edges, model.tailplane.hinge)


def _of_planform(name: str, plan: Planform, edges: np.ndarray, hinge: float, spars: tuple[float, ...] = ()
                 ) -> Outline:  # fmt: skip
    nose = np.stack([np.interp(edges, plan.leading_edge[1], plan.leading_edge[k]) for k in range(3)], axis=1)
    y = (edges[1:] + edges[:-1]) / 2
    angle = np.interp(y, plan.leading_edge[1], plan.angle)
    zero = 0 * angle
    along = np.stack([np.cos(angle), zero, -np.sin(angle)], axis=1)
    normal = np.stack([np.sin(angle), zero, np.cos(angle)], axis=1)
    chord = np.interp(edges, plan.leading_edge[1], plan.chord)
    return Outline(name, 1, locked(edges), locked(nose), locked(chord), locked(along), locked(normal), hinge,
                   spars)  # fmt: skip


def fin_outline(model: Model, skeleton: Skeleton, span: SpanLoad, pushes: Pushes) -> Outline:
    """The fin with its rudder, from its root up; its chords where the case's strips lie."""
    at = np.array([i for i, on in enumerate(pushes.on) if on == FIN], dtype=int)
    places = pushes.place[at]
    order = np.argsort(places[:, 2])
    low, high = float((span.y - span.width / 2).min()), float((span.y + span.width / 2).max())
    edges = _ribs(skeleton, FIN, 2, low, high)
    chord = np.interp(edges, span.y, span.chord)
    quarter = np.interp(edges, places[order, 2], places[order, 0])
    nose, one = np.stack([quarter - QUARTER * chord, 0 * edges, edges], axis=1), np.ones(len(edges) - 1)
    return Outline(FIN, 2, locked(edges), locked(nose), locked(chord), locked(np.outer(one, [1.0, 0.0, 0.0])),
                   locked(np.outer(one, [0.0, -1.0, 0.0])), model.fin.hinge)  # fmt: skip


def _ribs(skeleton: Skeleton, word: str, across: int, low: float, high: float) -> np.ndarray:
    """Where the ribs of a tail surface stand, both ends with it; even bays where it has no frame."""
    place = np.asarray(skeleton.frame.place)
    at = sorted(
        float(place[i, across]) for n, i in skeleton.node.items() if n.startswith(f"{word}.LE") and "@" not in n
    )
    kept = [low]
    for y in at:
        if y - kept[-1] > NEAR and high - y > NEAR:
            kept.append(y)
    return halved(np.array([*kept, high])) if len(kept) > 1 else np.linspace(low, high, EVEN_BAYS + 1)


def halved(edges: np.ndarray) -> np.ndarray:
    """Bays that are wide cut in the middle, so that bags follow the air within them. edges: (b + 1,) m.

    >>> halved(np.array([0.0, 0.1, 0.5])).tolist()
    [0.0, 0.1, 0.3, 0.5]
    """
    wide = np.flatnonzero(np.diff(edges) > WIDE)
    return np.insert(edges, wide + 1, (edges[wide] + edges[wide + 1]) / 2)


def on_wing(wing: str, lumps: Lumps, weights: np.ndarray, skeleton: Skeleton) -> tuple[np.ndarray, np.ndarray]:
    """(places (p, 3) m, masses (p,) kg) of all that the nodes of a wing carry: its own, and its share of the rest.

    Fittings, struts, wires and what is spread over all wings lie on a wing's nodes as well, and are as heavy there in
    the case as in the shop. weights: (L,) kg.
    """
    own = np.array([g == f"wing {wing}" for g in lumps.group])
    mine = np.array([i for n, i in skeleton.node.items() if n.startswith(f"{wing}.")], dtype=int)
    assert lumps.laid is not None
    down = np.zeros((len(weights), 6))
    down[:, 2] = np.where(own, 0.0, weights)
    rest = np.asarray(lumps.laid @ down.ravel()).reshape(-1, 6)[mine]  # kg, and kg m of what lies beside its nodes
    kg = np.where(np.abs(rest[:, 2]) > LIGHT, rest[:, 2], np.inf)
    beside = np.stack([-rest[:, 4] / kg, rest[:, 3] / kg, np.zeros(len(kg))], axis=1)
    places = np.concatenate([lumps.place[own], skeleton.frame.place[mine] + beside])
    return places, np.concatenate([weights[own], rest[:, 2]])


LIGHT = 0.05  # kg: a node that carries less has no arm of its own


def of_tail(model: Model, lumps: Lumps, weights: np.ndarray, words: Sequence[str]
            ) -> tuple[tuple[np.ndarray, np.ndarray], ...]:  # fmt: skip
    """For each word ("tailplane", "elevator") places (p, 3) m and masses (p,) kg of that part. weights: (L,) kg."""
    start = f"{model.name}-"
    parts = [n.removeprefix(start).split("-")[0] if g == "tail" else ""
             for g, n in zip(lumps.group, lumps.names, strict=True)]  # fmt: skip
    which = [np.array([p == word for p in parts]) for word in words]
    return tuple((lumps.place[i], weights[i]) for i in which)
