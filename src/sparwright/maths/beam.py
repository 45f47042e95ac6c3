"""A straight beam on rigid supports: bending, shear and reactions, also where it runs through the middle.

Cubic (Hermite) elements, exact at the nodes for a load that is straight along each element when the
load's own fixed-end forces are used. Sign: load up positive; moment positive when it bends the ends up
(top side in compression); shear positive when it carries an upward load from outboard inwards.
Source: any text on the direct stiffness method; fixed-end forces of a linear load, Przemieniecki 1968 (memory, high).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import locked


@dataclass(frozen=True)
class Bent:
    """A solved beam; arrays at its nodes, from the inner end out."""

    y: np.ndarray  # (n,) m
    moment: np.ndarray  # (n,) N m
    shear: np.ndarray  # (n,) N, on the outboard side of each node
    shear_inboard: np.ndarray  # (n,) N, on the inboard side
    reactions: np.ndarray  # (supports,) N, up on the beam positive

    @property
    def greatest_shear(self) -> np.ndarray:
        """(n,) N, the larger of both sides of a node."""
        return np.asarray(np.maximum(np.abs(self.shear), np.abs(self.shear_inboard)))


def bend(y: np.ndarray, stiffness: np.ndarray, load: np.ndarray, supports: Sequence[int], through: bool) -> Bent:
    """Bend a beam.

    y: (n,) m, rising. stiffness: (n-1,) N m2 of each element. load: (n,) N/m at the nodes, straight between.
    supports: nodes held up and down. through: the beam goes on as its mirror past the first node, so its
    slope there is nought. Raises ValueError when the supports do not hold it.

    >>> y = np.linspace(0, 2, 41)
    >>> held = bend(y, np.full(40, 1.0), np.full(41, 3.0), (0, 40), through=False)
    >>> round(float(held.moment[20]), 6), [round(float(r), 6) for r in held.reactions]
    (-1.5, [-3.0, -3.0])
    """
    n = y.size
    stiff, force = np.zeros((2 * n, 2 * n)), np.zeros(2 * n)
    for i in range(n - 1):
        k, f = _element(y[i + 1] - y[i], stiffness[i], load[i], load[i + 1])
        at = slice(2 * i, 2 * i + 4)
        stiff[at, at] += k
        force[at] += f
    held = sorted({2 * s for s in supports} | ({1} if through else set()))
    free = np.setdiff1d(np.arange(2 * n), held)
    if len(held) < 2:
        raise ValueError("one support alone does not hold a beam")
    moved = np.zeros(2 * n)
    moved[free] = np.linalg.solve(stiff[np.ix_(free, free)], force[free])
    back = stiff @ moved - force
    return _inner(y, load, np.array([back[2 * s] for s in supports]), list(supports))


def _element(length: float, ei: float, a: float, b: float) -> tuple[np.ndarray, np.ndarray]:
    """Stiffness (4, 4) and the forces (4,) of a load from a to b N/m."""
    l2 = length * length
    k = (
        ei
        / length**3
        * np.array(
            [
                [12, 6 * length, -12, 6 * length],
                [6 * length, 4 * l2, -6 * length, 2 * l2],
                [-12, -6 * length, 12, -6 * length],
                [6 * length, 2 * l2, -6 * length, 4 * l2],
            ]
        )
    )
    f = np.array(
        [
            (7 * a + 3 * b) * length / 20,
            (3 * a + 2 * b) * l2 / 60,
            (3 * a + 7 * b) * length / 20,
            -(2 * a + 3 * b) * l2 / 60,
        ]
    )
    return k, f


def _inner(y: np.ndarray, load: np.ndarray, reactions: np.ndarray, supports: list[int]) -> Bent:
    """Shear and moment by statics from the free outer end in: nothing is lost to rounding in the stiffness."""
    dy = np.diff(y)
    piece = (load[1:] + load[:-1]) / 2 * dy
    push = np.zeros(y.size)
    push[supports] += reactions
    outboard, inboard, moment = np.zeros(y.size), np.zeros(y.size), np.zeros(y.size)
    for i in range(y.size - 1, -1, -1):
        if i < y.size - 1:
            outboard[i] = inboard[i + 1] + piece[i]
            first = dy[i] ** 2 * (load[i] + 2 * load[i + 1]) / 6
            moment[i] = moment[i + 1] + inboard[i + 1] * dy[i] + first
        inboard[i] = outboard[i] + push[i]
    return Bent(locked(y), locked(moment), locked(outboard), locked(inboard), locked(reactions))
