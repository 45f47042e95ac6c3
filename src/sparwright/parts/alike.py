"""Flat plates that one template serves: the same shape as drawn, or with the template turned over.

Two plates are alike where metal, thickness and what is marked agree, and outline and holes lie within ALIKE once they
are laid over each other, not turned, half turned, or turned over. A bent plate is alike only as it is drawn.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np
import shapely

from sparwright.parts.part import Part, Plate

ALIKE = 0.05e-3  # m, half of what a template may be off
TURNS = ((1.0, 1.0, False), (-1.0, -1.0, False), (-1.0, 1.0, True), (1.0, -1.0, True))  # x, y, and whether it is over


@dataclass(frozen=True)
class Alike:
    """A plate that is drawn and those its template serves besides."""

    part: Part
    plate: Plate
    same: tuple[Part, ...] = ()
    over: tuple[Part, ...] = ()

    @property
    def count(self) -> tuple[int, int]:
        """How many as drawn, and how many with the template turned over."""
        return self.part.count + sum(p.count for p in self.same), sum(p.count for p in self.over)


def flat_parts(parts: Iterable[Part]) -> Iterator[tuple[Part, Plate]]:
    """Plates that are cut from sheet in the workshop, ribs left out: they have sheets of their own."""
    for part in parts:
        if isinstance(part.shape, Plate) and part.material != "bought" and part.purpose != "rib" and part.count > 0:
            yield part, part.shape


def alike(parts: Iterable[tuple[Part, Plate]]) -> tuple[Alike, ...]:
    """The plates grouped, in the order of the first of each group."""
    found: list[Alike] = []
    shapes: list[_Shape] = []
    near: dict[tuple[object, ...], list[int]] = {}
    for part, plate in parts:
        shape = _Shape(plate)
        key = (part.material, round(plate.thickness, 7), len(plate.holes), tuple(sorted(m.label for m in plate.marks)),
               plate.bend, plate.grain)  # fmt: skip
        here = near.setdefault(key, [])
        hit = next(((i, way) for i in here for way in [_way(shapes[i], shape)] if way is not None), None)
        if hit is None:
            here.append(len(found))
            found.append(Alike(part, plate))
            shapes.append(shape)
        else:
            one = found[hit[0]]
            found[hit[0]] = (Alike(one.part, one.plate, one.same, (*one.over, part)) if hit[1]
                             else Alike(one.part, one.plate, (*one.same, part), one.over))  # fmt: skip
    return tuple(found)


class _Shape:
    """A plate about the middle of its box, with what is compared first."""

    def __init__(self, plate: Plate) -> None:
        self.rings = [plate.outline if plate.blank is None else plate.blank, *plate.holes]
        if plate.blank is not None:
            self.rings.append(plate.outline)
        low, high = self.rings[0].min(axis=0), self.rings[0].max(axis=0)
        self.size, middle = high - low, (low + high) / 2
        self.rings = [r - middle for r in self.rings]
        words = sorted({m.label for m in plate.marks})  # marks of different words never lie on each other
        points = [(x - middle[0], y - middle[1], words.index(m.label)) for m in plate.marks for x, y in m.points]
        self.points = np.reshape(np.array(points, dtype=float), (-1, 3))
        self.area = float(shapely.Polygon(self.rings[0]).area)
        self.bent = plate.blank is not None or bool(plate.bend)


def _way(one: _Shape, other: _Shape) -> bool | None:
    """Whether the other is one turned over; None where they are not alike."""
    if np.abs(one.size - other.size).max() > ALIKE or len(one.points) != len(other.points):
        return None
    if abs(one.area - other.area) > ALIKE * float(one.size.sum()) or len(one.rings) != len(other.rings):
        return None
    for x, y, over in TURNS[:1] if one.bent else TURNS:
        if _fits(one, other, np.array([x, y])):
            return over
    return None


def _fits(one: _Shape, other: _Shape, turn: np.ndarray) -> bool:
    """Whether every ring and mark of the other, turned, lies on one of the first."""
    left = list(one.rings)
    for ring in other.rings:
        line = shapely.LinearRing(ring * turn)
        at = next((i for i, r in enumerate(left) if _apart(shapely.LinearRing(r), line) <= ALIKE), None)
        if at is None:
            return False
        left.pop(at)
    if not len(one.points):
        return True
    apart = np.linalg.norm(one.points[:, None] - (other.points * [*turn, 1.0])[None], axis=2)
    return bool(apart.min(axis=0).max() <= ALIKE and apart.min(axis=1).max() <= ALIKE)


def _apart(one: shapely.LinearRing, other: shapely.LinearRing) -> float:
    """How far two rings lie apart at their corners, m."""
    if np.abs(np.subtract(one.bounds, other.bounds)).max() > ALIKE:
        return float("inf")
    return float(shapely.hausdorff_distance(one, other))
