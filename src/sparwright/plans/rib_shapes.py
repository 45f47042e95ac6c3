"""Ribs that one template serves: of one outline and stock, alike but for hand and openings for cables and rods.

A builder makes one pattern and saws many ribs from it, so each shape is drawn once. An opening that not all of them
have is drawn dashed, with a letter, and the notes say which ribs have it; where each stands and which way its flange
goes is in the notes too. A rib has a nose and an upper side, so none is turned over here, and slots must agree to a
hundredth of a micrometre; flat parts that a template serves turned over are told apart in parts/alike.py.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from sparwright.parts.part import Mark, Part, Plate
from sparwright.parts.ribs import OPENING

LETTERS = "abcdefghijkmnpqrstuvwxyz"
SAME = 8  # decimals of metres to which outlines are one


@dataclass(frozen=True)
class Opening:
    """A hole that some of the plates have and others not."""

    letter: str
    what: str  # "opening for balance, 1/2″ round"
    ring: np.ndarray  # (n, 2) m, in the plate's axes
    at: tuple[float, float]  # m, its middle
    numbers: tuple[str, ...]  # of the parts that have it


@dataclass(frozen=True)
class RibShape:
    """Ribs of one template. `plate` is the first one's, with the holes that all of them have."""

    parts: tuple[Part, ...]
    plate: Plate
    openings: tuple[Opening, ...] = ()

    @property
    def part(self) -> Part:
        """The first of them."""
        return self.parts[0]

    @property
    def name(self) -> str:
        """What stands on the template itself."""
        more = len(self.parts) - 1
        return self.part.number if not more else f"{self.part.number} and {more} alike"


def grouped(work: Iterable[tuple[Part, Plate]]) -> tuple[RibShape, ...]:
    """The ribs by template, in order of the first of each."""
    found: dict[tuple[object, ...], list[tuple[Part, Plate]]] = {}
    for part, plate in work:
        found.setdefault(_key(part, plate), []).append((part, plate))
    return tuple(_together(each) for each in found.values())


def _key(part: Part, plate: Plate) -> tuple[object, ...]:
    """What must be alike. An opening is a hole round a mark that says so, so neither counts."""
    holes = sorted(_shape(h) for h in plate.holes if _mark_in(plate, h) is None)
    marks = tuple((m.label, m.points) for m in plate.marks if not m.label.startswith(OPENING))
    blank = None if plate.blank is None else _shape(plate.blank)
    return (part.stock, part.name, part.purpose, _shape(plate.outline), blank, tuple(holes), marks, plate.lengths,
            plate.thickness, abs(plate.flange), plate.grain, plate.foot)  # fmt: skip


def _shape(ring: np.ndarray) -> bytes:
    return (np.round(ring, SAME) + 0.0).tobytes()


def _mark_in(plate: Plate, hole: np.ndarray) -> Mark | None:
    """The mark of an opening in the middle of a hole."""
    area = shapely.Polygon(hole)
    inside = (m for m in plate.marks if m.label.startswith(OPENING) and area.contains(shapely.Point(m.points[0])))
    return next(inside, None)


def _together(each: Sequence[tuple[Part, Plate]]) -> RibShape:
    first = each[0][1]
    having: dict[bytes, tuple[np.ndarray, Mark, list[str]]] = {}
    for part, plate in each:
        for hole in plate.holes:
            mark = _mark_in(plate, hole)
            if mark is not None:
                having.setdefault(_shape(hole) + mark.label.encode(), (hole, mark, []))[2].append(part.number)
    parts = tuple(p for p, _ in each)
    some = [(hole, mark, numbers) for hole, mark, numbers in having.values() if len(numbers) < len(parts)]
    openings = tuple(Opening(_letter(i), mark.label, hole, mark.points[0], tuple(numbers))
                     for i, (hole, mark, numbers) in enumerate(some))  # fmt: skip
    not_all = {_shape(o.ring) for o in openings}, {(o.what, o.at) for o in openings}
    holes = tuple(h for h in first.holes if _shape(h) not in not_all[0])
    marks = tuple(m for m in first.marks if (m.label, m.points[0]) not in not_all[1])
    return RibShape(parts, replace(first, holes=holes, marks=marks), openings)


def _letter(i: int) -> str:
    """a, b, ..., then aa, bb, ...; without l and o, which look like figures."""
    return LETTERS[i % len(LETTERS)] * (i // len(LETTERS) + 1)
