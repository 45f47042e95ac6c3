"""Which bodies may lie within a length of another, without measuring them: by boxes along axes of their own.

A long thin body that runs askew fills little of a box along the aeroplane's axes, but nearly all of one along its
own: the principal directions of its corners. The gap between two boxes along any direction is never more than that
between the bodies, so the widest of them, over the directions of both, is a floor for the gap.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from sparwright.base.record import number
from sparwright.shape.solid import Solid


@dataclass(frozen=True)
class Boxes:
    """Boxes round bodies: along the aeroplane's axes, and each along its own."""

    plain: np.ndarray = number("m", "(n, 2, 3) least and greatest")
    centres: np.ndarray = number("m", "(n, 3) middles of the boxes along their own axes")
    axes: np.ndarray = number("1", "(n, 3, 3) rows: unit directions of their own")
    halves: np.ndarray = number("m", "(n, 3) half as long as the box along each")

    @cached_property
    def _across(self) -> np.ndarray:
        """(2, n) least and greatest x."""
        return np.ascontiguousarray(self.plain[:, :, 0].T)

    def near(self, solid: Solid, reach: float, among: np.ndarray | None = None) -> list[tuple[int, float]]:
        """(which, floor of its gap in m) for those that may lie within a reach of a body, nearest floor first.

        among: (n,) truth, those that are looked at.
        """
        low, high = solid.box
        first, last = self._across
        close = (first <= high[0] + reach) & (last >= low[0] - reach)  # along x first, which leaves few
        rows = np.flatnonzero(close if among is None else close & among)
        if len(rows):
            both = self.plain[rows]
            rows = rows[((both[:, 0] <= high + reach) & (both[:, 1] >= low - reach)).all(axis=1)]
        if not len(rows):
            return []
        box = solid.long_box
        apart = self.centres[rows] - box.centre
        other, halves = self.axes[rows], self.halves[rows]
        lean = np.abs(box.axes @ other.transpose(0, 2, 1))  # (k, 3 of this, 3 of the other)
        mine = np.abs(apart @ box.axes.T) - box.half - np.einsum("kij,kj->ki", lean, halves)
        theirs = np.abs(np.einsum("kij,kj->ki", other, apart)) - halves - np.einsum("kij,i->kj", lean, box.half)
        plain = np.maximum(0.0, np.maximum(self.plain[rows, 0] - high, low - self.plain[rows, 1]))
        floor = np.maximum(np.linalg.norm(plain, axis=1), np.maximum(mine.max(axis=1), theirs.max(axis=1)))
        order = np.argsort(floor, kind="stable")
        return [(int(rows[i]), float(floor[i])) for i in order if floor[i] <= reach]


def boxes(solids: Sequence[Solid]) -> Boxes:
    """The boxes of some bodies."""
    own = [s.long_box for s in solids]
    return Boxes(
        np.array([s.box for s in solids]).reshape(-1, 2, 3),
        np.array([b.centre for b in own]).reshape(-1, 3),
        np.array([b.axes for b in own]).reshape(-1, 3, 3),
        np.array([b.half for b in own]).reshape(-1, 3),
    )
