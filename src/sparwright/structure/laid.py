"""Load cases on the frame's nodes: forces from outside, and the inertia of every lump against them.

    m a = sum F,  I w' = sum r x F about the centre of gravity          of the whole, rates of turning left out
    lump: -m_i (a + w' x r_i), -I_i w'

Weight is part of it: what a lump presses with is its weight less what it is accelerated by, and only the difference to
the forces from outside counts. So the sum on the frame is nought in every case, whatever the forces. Source:
d'Alembert's principle. Centrifugal forces of a steady turn or roll are left out (small at these rates).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import product

import numpy as np

from sparwright.base.record import locked, number
from sparwright.family.model import Model
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.laden import WORDS
from sparwright.parts.struts import strut_number
from sparwright.structure.bar import Skeleton
from sparwright.structure.fuselage import legs
from sparwright.structure.masses import Carriers, Lumps
from sparwright.structure.spread import crossed, spread_all
from sparwright.structure.tail import joining

TAILS = ("tailplane", "elevator", "fin", "rudder")
LEAST_SCALE = 0.2  # a lump made lighter than this to reach a centre of gravity: the case is not one that can be loaded


@dataclass(frozen=True)
class Laid:
    """A case on the frame."""

    case: LoadCase
    loads: np.ndarray = number("N and N m", "(n, 6) on the nodes, from outside and inertia together")
    acceleration: np.ndarray = number("m/s2", "(3,) of the centre of gravity, weight left out")
    turning: np.ndarray = number("rad/s2", "(3,) angular acceleration about it")
    left: float = number("1", "what is not balanced, of the largest force: rounding")
    why: str = ""  # why it is not laid out; loads are then NaN


def laid(skeleton: Skeleton, carriers: Carriers, lumps: Lumps, case: LoadCase, pushes: Pushes) -> Laid:
    """One case. NaN with the reason where its pushes are not known, or its mass cannot be loaded."""
    outside, weights, why = on_nodes(skeleton, carriers, pushes), masses_of(carriers.model, lumps, case), ""
    if not np.isfinite(outside).all():
        why = case.caveat or "its forces are not known"
    elif weights is None:
        why = f"no loading reaches {case.mass:.0f} kg with the centre of gravity at {case.station:.2f} m"
    if why or weights is None:
        n = len(skeleton.names)
        return Laid(case, np.full((n, 6), np.nan), np.full(3, np.nan), np.full(3, np.nan), np.nan, why)
    total, centre, inertia = whole(lumps, weights)
    force = outside[:, :3].sum(axis=0)
    arms = skeleton.frame.place - centre
    moment = (np.cross(arms, outside[:, :3]) + outside[:, 3:]).sum(axis=0)
    a, turning = force / total, np.linalg.solve(inertia, moment)
    loads = outside + _inertia(skeleton, lumps, weights, centre, a, turning)
    rest = np.abs(loads[:, :3].sum(axis=0)).max() / max(float(np.abs(outside[:, :3]).sum()), 1e-9)
    return Laid(case, locked(loads), locked(a), locked(turning), float(rest))


def _inertia(skeleton: Skeleton, lumps: Lumps, weights: np.ndarray, centre: np.ndarray, a: np.ndarray,
             turning: np.ndarray) -> np.ndarray:  # fmt: skip
    """(n, 6) of all lumps."""
    assert lumps.laid is not None
    force = -weights[:, None] * (a + np.cross(turning, lumps.place - centre))
    scale = weights / np.where(lumps.mass > 0, lumps.mass, 1.0)
    moment = -scale[:, None] * np.einsum("ijk,k->ij", lumps.inertia, turning)
    return np.asarray((lumps.laid @ np.hstack([force, moment]).ravel()).reshape(-1, 6))


def whole(lumps: Lumps, weights: np.ndarray) -> tuple[float, np.ndarray, np.ndarray]:
    """(mass kg, centre of gravity (3,) m, inertia about it (3, 3) kg m2) of lumps that weigh `weights`."""
    total = float(weights.sum())
    centre = weights @ lumps.place / total
    r = lumps.place - centre
    own = np.einsum("i,ijk->jk", weights / np.where(lumps.mass > 0, lumps.mass, 1.0), lumps.inertia)
    cross = crossed(r)
    return total, centre, own - np.einsum("i,iab,ibc->ac", weights, cross, cross)


# ------------------------------------------------------------------ masses of a case


def masses_of(model: Model, lumps: Lumps, case: LoadCase) -> np.ndarray | None:
    """(L,) kg: the corner of loading nearest to the case, brought to its mass and centre of gravity.

    What is not a wing's is made heavier or lighter along the length, evenly: w (1 + p + q x), so that wings keep their
    weight and relieve no more than they do. None where that would take more than four fifths off any lump.
    """
    bare = case.loading == WORDS["empty"]
    corners = [amounts(lumps, c) for c in ([{x.name: 0.0 for x in model.loads}] if bare else _corners(model))]
    near = min(corners, key=lambda w: _apart(lumps, w, case))
    free = np.array([not g.startswith("wing") for g in lumps.group])
    x = lumps.place[:, 0] - case.station
    w = np.where(free, near, 0.0)
    want = np.array([case.mass - near.sum(), -(near @ x)])
    p, q = np.linalg.solve([[w.sum(), w @ x], [w @ x, w @ x**2]], want)
    scale = 1 + np.where(free, p + q * x, 0.0)
    return near * scale if scale.min() > LEAST_SCALE else None


def _corners(model: Model) -> Iterator[Mapping[str, float]]:
    for row in product(*(((x.name, x.least), (x.name, x.most)) for x in model.loads)):
        yield dict(row)


def amounts(lumps: Lumps, aboard: Mapping[str, float]) -> np.ndarray:
    """(L,) kg of every lump with so much of each load aboard."""
    found = np.array(lumps.mass)
    for name, which in lumps.of_load.items():
        found[which] *= aboard.get(name, 1.0)
    return found


def _apart(lumps: Lumps, weights: np.ndarray, case: LoadCase) -> float:
    total = float(weights.sum())
    station = float(weights @ lumps.place[:, 0]) / total
    return abs(total / case.mass - 1) + abs(station - case.station)


# ------------------------------------------------------------------ forces from outside


def on_nodes(skeleton: Skeleton, carriers: Carriers, pushes: Pushes) -> np.ndarray:
    """(n, 6) what the nodes get of forces from outside. KeyError for one on something that is not there."""
    found = np.zeros((len(skeleton.names), 6))
    by_size: dict[int, list[tuple[int, np.ndarray]]] = {}
    for i, (place, on) in enumerate(zip(pushes.place, pushes.on, strict=True)):
        nodes = takers(skeleton, carriers, on, place)
        by_size.setdefault(len(nodes), []).append((i, nodes))
    wrenches = np.hstack([pushes.force, pushes.moment])
    for rows in by_size.values():
        which, nodes = np.array([i for i, _ in rows]), np.array([n for _, n in rows])
        given = spread_all(np.asarray(skeleton.frame.place[nodes]), pushes.place[which], wrenches[which])
        np.add.at(found, nodes.ravel(), given.reshape(-1, 6))
    return found


def takers(skeleton: Skeleton, carriers: Carriers, on: str, place: np.ndarray) -> np.ndarray:
    """Places of the nodes that take a force on something. KeyError where there is none."""
    kind, *rest = on.split(":")
    if kind in ("wing", "aileron"):
        return carriers.beside(rest[0], place)
    if kind == "horn":
        root = carriers.named([joining(rest[0])])
        return root if root.size else takers(skeleton, carriers, rest[0], place)
    if kind in TAILS:
        found = carriers.on_tail(kind, rest[0] if rest else "", place)
        return found if found.size else carriers.nearest(carriers.frame, place, 4)
    if kind == "spar":
        return _on_spar(skeleton, rest, place)
    if kind == "node":
        return np.array([skeleton.node[rest[0]]])
    if kind == "held":
        return carriers.nearest(carriers.frame, place, 4)
    if kind == "wheel":
        return _wheel(skeleton, carriers, rest)
    direct: Mapping[str, np.ndarray] = {
        "mount": carriers.pads, "engine": carriers.pads, "propeller": carriers.pads, "body": carriers.frame,
        "seat": carriers.seat,
    }  # fmt: skip
    if direct.get(kind, np.array([])).size:
        return direct[kind]
    if kind == "turnover":
        return _turnover(skeleton, carriers, place)
    if kind in ("stick", "pedals", "harness", "seat", "item", *direct):
        return carriers.nearest(carriers.frame, place, 4)
    raise KeyError(on)


def _turnover(skeleton: Skeleton, carriers: Carriers, place: np.ndarray) -> np.ndarray:
    """The upper ends of the struts and tubes that are said to carry the turnover point; else the nearest nodes."""
    model = carriers.model
    said = model.seat.turnover_on if model.seat else ()
    parts = {strut_number(model, s) for s in model.struts if s.name in said}
    ends = {e for b in skeleton.bars if b.part in parts for e in (max(b.ends, key=lambda n: _height(skeleton, n)),)}
    ends |= {n for tube in said for n in tube.split("-") if n in skeleton.node}
    if len(ends) < 3:
        return carriers.nearest(np.arange(len(skeleton.names)), place, 4)
    return carriers.named(sorted(ends))


def _height(skeleton: Skeleton, name: str) -> float:
    return float(skeleton.frame.place[skeleton.node[name], 2])


def _on_spar(skeleton: Skeleton, rest: Sequence[str], place: np.ndarray) -> np.ndarray:
    wing, spar, side = rest
    of = skeleton.beginning
    at = np.array(sorted({*of.get((wing, spar, side), ()), *of.get((wing, spar, ""), ())}))
    y = np.abs(skeleton.frame.place[at, 1])
    order = np.argsort(y)
    k = int(np.clip(np.searchsorted(y[order], abs(place[1])), 1, len(order) - 1))
    return at[order[k - 1 : k + 1]]


def _wheel(skeleton: Skeleton, carriers: Carriers, rest: Sequence[str]) -> np.ndarray:
    """The axle's end on that side for a main wheel; the nodes of the leaf's tubes for the tail wheel."""
    gear = carriers.model.undercarriage
    wheel = next(w for w in carriers.model.wheels if w.name == rest[0])
    if gear and abs(wheel.place[1]) > 0 and legs(carriers.model):
        ends = gear.axle.split("-")
        return carriers.named([n for n in ends if n.endswith(rest[1])])
    if gear and gear.tail:
        names = [n for h in gear.tail.held for n in h.split("-")]
        return carriers.nearest(carriers.named(names), np.array(wheel.place), 3)
    return carriers.nearest(carriers.frame, np.array(wheel.place), 3)
