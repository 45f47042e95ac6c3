"""How the aeroplane is held in a test: two trestles across the fuselage, under pairs of its nodes.

Rule: under frames of the fuselage, stations where an upright tube joins an upper node to a lower one, so that a
trestle bends no longeron between two of them. Of these the last ahead of all that the wings' struts and roots come
to, and the first behind it: between the two trestles the wings' forces go into the body as in flight, and the tail
overhangs. For the fin the aeroplane lies on its side, and each trestle carries one upper and one lower node of that
side. Where a wing runs through beneath a pair, two beams fore and aft in the gap carry it, on trestles ahead of and
behind that wing. Every trestle carries the way the bags press; the first also holds from sliding. What would have to
pull is strapped. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.family.model import Model
from sparwright.shape.frame import ON_CENTRE, nodes
from sparwright.shape.lifting import wing_planform
from sparwright.structure.bar import Skeleton

X, Y, Z = 0, 1, 2


@dataclass(frozen=True)
class Trestles:
    """Two trestles, each under two nodes."""

    first: tuple[str, str]
    last: tuple[str, str]
    across: int = number("1", "axis along which they carry: 2 on its wheels or its back, 1 on its side", Z)
    beams: bool = False  # a wing runs through beneath: beams fore and aft

    @property
    def nodes(self) -> tuple[str, ...]:
        """All four."""
        return (*self.first, *self.last)

    def held(self, skeleton: Skeleton) -> np.ndarray:
        """(n, 6) bool: movements of the frame's nodes that they hold."""
        fixed = np.zeros((len(skeleton.names), 6), dtype=bool)
        other = Y if self.across == Z else Z
        for name in self.nodes:
            fixed[skeleton.node[name], self.across] = True
        for name in self.first:
            fixed[skeleton.node[name], X] = True
        for name in (self.first[0], self.last[0]):
            fixed[skeleton.node[name], other] = True
        return fixed


def trestles(model: Model, skeleton: Skeleton, down: np.ndarray) -> Trestles:
    """Where they stand. down: (3,) unit vector.

    Raises DesignProblem where the fuselage has no two pairs of nodes to stand on.
    """
    lying = abs(down[Y]) > abs(down[Z])
    pairs = list(_sides(model, skeleton, float(down[Y])) if lying else _pairs(model, skeleton, float(down[Z])))
    if not pairs:
        raise DesignProblem(f"{model.name}: the fuselage has no pair of nodes for a trestle")
    pairs = [p for p in pairs if _upright(skeleton, p[1][0])] or pairs
    fore, aft = _wing_ends(model, skeleton)
    first = max((p for p in pairs if p[0] < fore + SLIP), default=min(pairs))
    behind = [p for p in pairs if p[0] > first[0] + NEAR]
    last = min((p for p in behind if p[0] > aft - SLIP), default=max(behind, default=None))
    if last is None:
        raise DesignProblem(f"{model.name}: the fuselage has no second pair of nodes for a trestle")
    beams = not lying and any(_over_wing(model, skeleton, p, float(down[Z])) for p in (first, last))
    return Trestles(first[1], last[1], Y if lying else Z, beams)


SLIP = 0.01  # m: a foot this far beyond a frame is at it
NEAR = 0.1  # m: pairs nearer than this along the length are one trestle
SPREAD = 0.25  # m: least depth of the fuselage where it lies on its side


def _upright(skeleton: Skeleton, node: str) -> bool:
    """Whether a tube goes from a node to one over or under it, on the same side."""
    place = skeleton.frame.place
    at = place[skeleton.node[node]]
    for bar in skeleton.bars:
        if bar.what == "tube" and node in bar.ends:
            other = place[skeleton.node[bar.ends[0] if bar.ends[1] == node else bar.ends[1]]]
            if abs(other[X] - at[X]) < NEAR and abs(other[Z] - at[Z]) > SPREAD and other[Y] * at[Y] > 0:
                return True
    return False


def _pairs(model: Model, skeleton: Skeleton, down: float) -> Iterator[tuple[float, tuple[str, str]]]:
    """(station, both nodes) of the outermost pair on the side that is down, at each station of the fuselage."""
    known = _known(model, skeleton)
    all_of = [(p[0], p[2] * np.sign(down), n[:-1]) for n, p in known.items() if n.endswith("R") and p[1] > ON_CENTRE]
    for x, z, name in all_of:
        beside = [b for a, b, _ in all_of if abs(a - x) < NEAR]
        if f"{name}L" in known and z >= max(beside) - 1e-9 and z > float(np.mean([b for _, b, _ in all_of])):
            yield x, (f"{name}R", f"{name}L")


def _over_wing(model: Model, skeleton: Skeleton, pair: tuple[float, tuple[str, str]], down: float) -> bool:
    """Whether a wing that runs through under the fuselage is in the way of a trestle."""
    x, z = pair[0], float(skeleton.frame.place[skeleton.node[pair[1][0]], Z]) * np.sign(down)
    for wing in model.wings:
        plan = wing_planform(wing)
        (nose, _, height), chord = plan.leading_edge[:, 0], float(plan.chord[0])
        through = wing.panels[0].root_buttline < abs(float(skeleton.frame.place[skeleton.node[pair[1][0]], Y]))
        if through and height * np.sign(down) > z and nose - NEAR < x < nose + chord + NEAR:
            return True
    return False


def _sides(model: Model, skeleton: Skeleton, down: float) -> Iterator[tuple[float, tuple[str, str]]]:
    """(station, lowest and highest node) of the side that is down, at each station where it is deep."""
    known = _known(model, skeleton)
    hand = "R" if down > 0 else "L"
    mine = sorted((p[0], p[2], n) for n, p in known.items() if n.endswith(hand) and abs(p[1]) > ON_CENTRE)
    for x, z, name in mine:
        beside = [(b, m) for a, b, m in mine if abs(a - x) < NEAR]
        if name == min(beside)[1] and max(beside)[0] - z > SPREAD:
            yield x, (name, max(beside)[1])


def _known(model: Model, skeleton: Skeleton) -> dict[str, np.ndarray]:
    """Nodes of the fuselage within its body's height: what stands on the gear's legs is not for a trestle."""
    body = model.fuselage.body
    low, high = min((b.bottom for b in body), default=-np.inf), max((b.top for b in body), default=np.inf)
    own = {n: np.array(p) for n, p in nodes(model.fuselage).items() if n in skeleton.node}
    return {n: p for n, p in own.items() if low - NEAR < p[2] < high + NEAR}


def _wing_ends(model: Model, skeleton: Skeleton) -> tuple[float, float]:
    """Stations of the foremost and the aftmost node of the fuselage that a wing's strut or root comes to."""
    at = [skeleton.frame.place[skeleton.node[n], X] for n in _wing_feet(model, skeleton)]
    if not at:
        raise DesignProblem(f"{model.name}: no strut or root of a wing comes to a node of the fuselage")
    return float(min(at)), float(max(at))


def _wing_feet(model: Model, skeleton: Skeleton) -> set[str]:
    own, found = set(_known(model, skeleton)), set[str]()
    spars = tuple(f"{w.name}." for w in model.wings)
    for bar in skeleton.bars:
        a, b = bar.ends
        for one, other in ((a, b), (b, a)):
            if one in own and other.startswith(spars) and bar.what in ("strut", "link"):
                found.add(one)
    return found
