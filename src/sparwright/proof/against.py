"""The test's inner forces against the case's in the tested members: shear and bending where the bags press.

    V = F . g,  M = M . (g x s)            on every cut between two nodes, g the way down, s along the member
    r = 1 + (test - case)/floor            floor = the case's own, at least half of its greatest along the member

so that r is the plain ratio wherever the case's value is no less than half of the greatest, and further in the tips
and where it passes through nought the difference is held against that half.

A tail surface is a frame of tubes: its cuts go through all of them, by statics.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.record import locked, number
from sparwright.margins.worst import ends_of
from sparwright.proof.bags import beyond
from sparwright.proof.bays import Bays
from sparwright.structure.bar import Skeleton

FLOOR = 0.5


@dataclass(frozen=True)
class Along:
    """One tested member, right side: k cuts from the root out, the ends of its bars."""

    name: str
    at: np.ndarray = number("m", "(k,) buttline, or waterline, of the cut")
    case: np.ndarray = number("N and N m", "(k, 2) shear and moment of the case at limit load")
    test: np.ndarray = number("N and N m", "(k, 2) the same of the last step of the test")

    @property
    def ratio(self) -> np.ndarray:
        """(k, 2) test over case, against the floor."""
        peak = np.abs(self.case).max(axis=0)
        floor = np.maximum(np.abs(self.case), FLOOR * peak)
        off = (self.test - self.case) * np.sign(self.case)
        return np.asarray(1 + off / np.where(floor > 0, floor, 1.0))


def along(skeleton: Skeleton, name: str, bars: np.ndarray, case: np.ndarray, test: np.ndarray, down: np.ndarray,
          across: int) -> Along:  # fmt: skip
    """A member's cuts. bars (b,); case, test (m, 12) forces of the whole frame; down (3,); across: 1 or 2."""
    ends = skeleton.frame.ends[bars]
    place = skeleton.frame.place[ends] + skeleton.frame.arm[bars]
    order = np.argsort(np.abs(place[:, :, across]).mean(axis=1), kind="stable")
    bars, place = bars[order], place[order]
    return Along(name, locked(np.abs(place[:, :, across]).ravel()), locked(_cut(skeleton, bars, place, case, down)),
                 locked(_cut(skeleton, bars, place, test, down)))  # fmt: skip


def _cut(skeleton: Skeleton, bars: np.ndarray, place: np.ndarray, force: np.ndarray, down: np.ndarray) -> np.ndarray:
    """(2 b, 2) N and N m at both ends of each bar."""
    inner = ends_of(force[bars])  # (b, 2, 6)
    way = place[:, 1] - place[:, 0]
    x = way / np.linalg.norm(way, axis=1)[:, None]
    up = skeleton.frame.up[bars]
    z = up - (up * x).sum(1)[:, None] * x
    z = z / np.linalg.norm(z, axis=1)[:, None]
    axes = np.stack([x, np.cross(z, x), z], axis=1)  # (b, 3 own, 3 frame's)
    f = np.einsum("bek,bkj->bej", inner[..., :3], axes)
    m = np.einsum("bek,bkj->bej", inner[..., 3:], axes)
    turn = np.cross(down, x)
    turn = turn / np.linalg.norm(turn, axis=1)[:, None]
    return np.stack([f @ down, np.einsum("bej,bj->be", m, turn)], axis=-1).reshape(-1, 2)


def by_statics(bays: Bays, counts: np.ndarray, bag: float) -> Along:
    """Cuts of a whole surface at its ribs: net load of the case against bags and own weight. counts (b, 2), bag N."""
    o = bays.outline
    both = [np.stack(beyond(x, o.width), axis=1) for x in (bays.net.sum(1), counts.sum(1) * bag + bays.weight.sum(1))]
    return Along(o.name, locked(o.edges[:-1]), locked(both[0]), locked(both[1]))


def spars_of(skeleton: Skeleton, surface: str) -> dict[str, np.ndarray]:
    """Bars of the right side of each spar of a wing."""
    found: dict[str, list[int]] = {}
    for i, bar in enumerate(skeleton.bars):
        if bar.what == "spar" and bar.at[0] == surface and bar.at[2] == "R":
            found.setdefault(bar.at[1], []).append(i)
    return {name: np.array(rows, dtype=int) for name, rows in found.items()}
