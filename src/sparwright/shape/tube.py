"""Tubes in space: bent at the nodes they pass, cut at their ends to the tubes they are welded to.

A tube is a bundle of lines along it, one at each angle round it. Where it passes a node the lines bend in the plane
that halves the angle, so that the tube stays round on both sides. At an end each line stops where it comes out of
the tubes it is fitted to (its cope), or at the plane through the node square to the tube where it meets none.

    a line q + t d leaves a cylinder of radius R along m from p where |w + t v| = R,
    w, v the parts of q - p and d square to m; a tube that ends at the node reaches from there along m only,
    one that is bent there begins either way at the plane that halves its angle

Cope over the developed circumference is the pattern to wrap round the tube's end. Source: geometry, worked out here.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sparwright.base.record import locked, number
from sparwright.base.remembered import remembered
from sparwright.shape.solid import CORNERS, Solid, around, as_place, round_radius

Place = tuple[float, float, float]


@dataclass(frozen=True)
class Fitted:
    """A tube that another is fitted to: from the node along a direction, a unit vector."""

    along: tuple[float, float, float] = number("1", "direction from the node")
    radius: float = number("m", "outside radius")
    begins: tuple[float, float, float] | None = number(
        "1", "square to the plane through the node where it begins, where that is not square to it: a bend", None
    )


def both_ways(ways: Sequence[np.ndarray], radius: float) -> tuple[Fitted, ...]:
    """A tube of a radius seen from a node, along one unit vector (3,), or along two where it passes the node.

    One that passes begins either way at the plane that halves its angle, so that nothing is open on a bend's outside.
    """
    if len(ways) < 2:
        return tuple(Fitted(as_place(w), radius) for w in ways)
    apart = ways[0] - ways[1]
    plane = apart / np.linalg.norm(apart)
    return Fitted(as_place(ways[0]), radius, as_place(plane)), Fitted(as_place(ways[1]), radius, as_place(-plane))


def directions(path: np.ndarray) -> np.ndarray:
    """(k - 1, 3) unit vectors along the stretches of a path (k, 3)."""
    steps = np.diff(path, axis=0)
    return np.asarray(steps / np.linalg.norm(steps, axis=1)[:, None])


def lines(path: np.ndarray, radius: float, corners: int = CORNERS) -> np.ndarray:
    """(k, corners, 3) the lines of a tube of a radius at each node of its path (k, 3), before its ends are cut."""
    along = directions(path)
    ring = path[0] + radius * around(along[0], corners)
    found = [ring]
    for i in range(1, len(path) - 1):
        square = along[i - 1] + along[i]
        far = (path[i] - ring) @ square / (along[i - 1] @ square)
        ring = ring + far[:, None] * along[i - 1]
        found.append(ring)
    far = (path[-1] - ring) @ along[-1]
    return np.array([*found, ring + far[:, None] * along[-1]])


def cope(ring: np.ndarray, node: np.ndarray, away: np.ndarray, fitted: Sequence[Fitted]) -> np.ndarray:
    """(n,) how much of each line is cut away at a node, m: lines begin at `ring` (n, 3) and run along `away`."""
    found = np.zeros(len(ring))
    from_node = ring - node
    for other in fitted:
        m = np.array(other.along)
        w, v = from_node - np.outer(from_node @ m, m), away - float(away @ m) * m
        plane = m if other.begins is None else np.array(other.begins)
        ahead, speed = from_node @ plane, float(away @ plane)
        a, b, c = v @ v, w @ v, np.einsum("ij,ij->i", w, w) - other.radius**2
        if a < 1e-9:  # alongside
            continue
        root = b * b - a * c
        half = np.sqrt(np.where(root > 0, root, 0.0))
        first, last = (-b - half) / a, (-b + half) / a
        if abs(speed) > 1e-9:  # the part of the line beside the tube and not before its beginning
            first, last = (
                (np.maximum(first, -ahead / speed), last) if speed > 0 else (first, np.minimum(last, -ahead / speed))
            )
        else:
            last = np.where(ahead >= -1e-9, last, -1.0)  # a line in the plane of the end is beside the tube
        found = np.where((root > 0) & (last > first) & (last > found), last, found)
    return locked(found)


@dataclass(frozen=True, kw_only=True)
class Tube:
    """A round tube, or a rod or wire where the wall is nought, with its ends cut."""

    path: np.ndarray = number("m", "(k, 3) nodes it begins at, passes and ends at")
    outside: float = number("m", "outside diameter")
    wall: float = number("m", "wall; nought for a rod")
    section: str = ""
    cuts: np.ndarray | None = None  # (2, 2, n) m taken off at start and end, outside and inside; None for square ends
    fits: tuple[tuple[Fitted, ...], tuple[Fitted, ...]] = ((), ())  # what its start and its end are fitted to

    @property
    def start(self) -> Place:
        """The first node."""
        return as_place(self.path[0])

    @property
    def end(self) -> Place:
        """The last node."""
        return as_place(self.path[-1])

    @property
    def length(self) -> float:
        """Length as cut from stock, over its longest line, m."""
        whole = float(np.linalg.norm(np.diff(self.path, axis=0), axis=1).sum())
        return whole if self.cuts is None else whole - float(self.cuts.min(axis=2).min(axis=1).sum())

    def ends(self) -> tuple[np.ndarray, np.ndarray]:
        """(n, 3) twice: the outside line of the cut at its start and at its end."""
        rings = self._rings(0, round_radius(self.outside / 2))
        return rings[0], rings[-1]

    def solid(self) -> Solid:
        """The tube as a body."""
        return self._body

    @cached_property
    def _body(self) -> Solid:
        outer = self._rings(0, round_radius(self.outside / 2))
        k, n = outer.shape[:2]
        if self.wall <= 0:
            return _rod(outer)
        inner = self._rings(1, round_radius(self.outside / 2 - self.wall))
        points = np.concatenate([outer, inner]).reshape(-1, 3)
        i, j = np.arange(n), (np.arange(n) + 1) % n
        faces = []
        for s in range(k - 1):
            a, b = s * n, (s + 1) * n
            faces += [_quads(a + i, a + j, b + j, b + i), _quads(*(k * n + q for q in (b + i, b + j, a + j, a + i)))]
        last = (k - 1) * n
        faces += [_quads(k * n + i, k * n + j, j, i), _quads(last + i, last + j, k * n + last + j, k * n + last + i)]
        return Solid(locked(points), np.vstack(faces))

    def _rings(self, which: int, radius: float) -> np.ndarray:
        """(k, n, 3) its lines at each node, cut at both ends; which: 0 outside, 1 inside."""
        found, along = lines(self.path, radius), directions(self.path)
        if self.cuts is not None:
            found[0] = found[0] + self.cuts[0, which][:, None] * along[0]
            found[-1] = found[-1] - self.cuts[1, which][:, None] * along[-1]
        return found


def _rod(rings: np.ndarray) -> Solid:
    k, n = rings.shape[:2]
    points = np.vstack([rings.reshape(-1, 3), rings[0].mean(axis=0), rings[-1].mean(axis=0)])
    i, j = np.arange(n), (np.arange(n) + 1) % n
    faces = [_quads(s * n + i, s * n + j, (s + 1) * n + j, (s + 1) * n + i) for s in range(k - 1)]
    first, last = np.full(n, k * n), np.full(n, k * n + 1)
    faces += [np.array([j, i, first]).T, np.array([(k - 1) * n + i, (k - 1) * n + j, last]).T]
    return Solid(locked(points), np.vstack(faces))


def _quads(a: np.ndarray, b: np.ndarray, c: np.ndarray, d: np.ndarray) -> np.ndarray:
    return np.vstack([np.array([a, b, c]).T, np.array([a, c, d]).T])


@remembered(1000)
def fitted_tube(path: np.ndarray, outside: float, wall: float, section: str,
                at: tuple[Sequence[Fitted], Sequence[Fitted]]) -> Tube:  # fmt: skip
    """A tube along a path (k, 3) with its two ends cut to the tubes it is fitted to there."""
    along = directions(path)
    bundles = [lines(path, round_radius(r)) for r in (outside / 2, max(outside / 2 - wall, 0.0))]
    ends = ((0, along[0]), (-1, -along[-1]))
    cuts = [[cope(rings[end], path[end], away, at[end]) for rings in bundles] for end, away in ends]
    return Tube(path=locked(path), outside=outside, wall=wall, section=section, cuts=locked(cuts),
                fits=(tuple(at[0]), tuple(at[1])))  # fmt: skip
