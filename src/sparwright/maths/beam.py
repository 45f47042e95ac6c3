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
from scipy.linalg import solveh_banded

from sparwright.base.record import locked


@dataclass(frozen=True)
class Bent:
    """A solved beam; arrays at its nodes, from the inner end out."""

    y: np.ndarray  # (n,) m
    moment: np.ndarray  # (n,) N m
    shear: np.ndarray  # (n,) N, on the outboard side of each node
    shear_inboard: np.ndarray  # (n,) N, on the inboard side
    reactions: np.ndarray  # (supports,) N, up on the beam positive
    load: np.ndarray  # (n,) N/m at the nodes, straight between

    def outboard(self, i: int) -> tuple[float, float]:
        """(load outboard of node i, N; its arm about the node, m), so that the moment there can be redone by hand."""
        y, w = self.y[i:], self.load[i:]
        dy = np.diff(y)
        total = float(np.sum((w[1:] + w[:-1]) / 2 * dy))
        first = float(np.sum(dy * (w[:-1] * (2 * y[:-1] + y[1:]) + w[1:] * (y[:-1] + 2 * y[1:])) / 6))
        return total, first / total - float(y[0]) if total else 0.0

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
    band, force = _assembled(np.diff(y), stiffness, load)
    held = sorted({2 * s for s in supports} | ({1} if through else set()))
    if len(held) < 2:
        raise ValueError("one support alone does not hold a beam")
    moved = solveh_banded(*_held(band, force, held), lower=True)
    back = _times(band, moved) - force
    return _inner(y, load, np.array([back[2 * s] for s in supports]), list(supports))


def _assembled(length: np.ndarray, ei: np.ndarray, load: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Stiffness as a lower band (4, 2n), up and turn of each node in turn, and the load's forces (2n,)."""
    nodes = length.size + 1
    band, force = np.zeros((4, 2 * nodes)), np.zeros(2 * nodes)
    k, f = _element(length, ei, load[:-1], load[1:])
    first = 2 * np.arange(length.size)
    for row in range(4):
        np.add.at(force, first + row, f[row])
        for column in range(row + 1):
            np.add.at(band[row - column], first + column, k[row][column])
    return band, force


def _element(
    length: np.ndarray, ei: np.ndarray, a: np.ndarray, b: np.ndarray
) -> tuple[list[list[np.ndarray]], np.ndarray]:
    """Stiffness (lower triangle by row) and the forces (4, m) of loads from a to b N/m on m elements."""
    s, l2 = ei / length**3, length**2
    k = [
        [12 * s],
        [6 * length * s, 4 * l2 * s],
        [-12 * s, -6 * length * s, 12 * s],
        [6 * length * s, 2 * l2 * s, -6 * length * s, 4 * l2 * s],
    ]
    f = [
        (7 * a + 3 * b) * length / 20,
        (3 * a + 2 * b) * l2 / 60,
        (3 * a + 7 * b) * length / 20,
        -(2 * a + 3 * b) * l2 / 60,
    ]
    return k, np.array(f)


def _held(band: np.ndarray, force: np.ndarray, held: Sequence[int]) -> tuple[np.ndarray, np.ndarray]:
    """The same with some movements nought: their row and column become those of the unit matrix."""
    band, force = band.copy(), force.copy()
    for i in held:
        force[i] = 0.0
        band[:, i] = 0.0
        for d in range(1, min(3, i) + 1):
            band[d, i - d] = 0.0
        band[0, i] = np.max(band[0])
    return band, force


def _times(band: np.ndarray, moved: np.ndarray) -> np.ndarray:
    """The symmetric matrix of a lower band times a vector."""
    out = band[0] * moved
    for d in range(1, 4):
        out[d:] += band[d, :-d] * moved[:-d]
        out[:-d] += band[d, :-d] * moved[d:]
    return np.asarray(out)


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
    return Bent(locked(y), locked(moment), locked(outboard), locked(inboard), locked(reactions), locked(load))
