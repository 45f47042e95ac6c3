"""A frame's stiffness, put together and factorised once; what moves when it is a mechanism.

Only the movements that are not held are unknown; each is scaled by the root of its own stiffness (unit diagonal), so
that metres and radians, tubes and wires weigh alike. The factor is SuperLU's with pivots on the diagonal: the pivots
then have the signs of the eigenvalues (Sylvester), and one below LEAST is a movement that nothing resists. LEAST is
common sense about rounding: a tip of a cantilever of 1000 elements has 1e-10, a true mechanism 1e-15.

A direction about which a node turns freely (all that meets there is pinned) moves nothing else; it is held quietly,
and only a moment about it is an error.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from scipy.sparse import coo_matrix, csc_matrix, csr_matrix, diags_array
from scipy.sparse.linalg import splu

from sparwright.maths.frame.build import Elements, elements
from sparwright.maths.frame.record import Frame

LEAST = 1e-12


@dataclass(frozen=True)
class Factor:
    """A stiffness on the scaled unknowns with its factor; `loose` and `falls` where it has none."""

    matrix: csr_matrix  # (u, u) scaled
    lu: Any  # SuperLU, or None
    loose: tuple[int, ...]  # nodes that move without resistance
    falls: bool  # some movement gives way by itself: rigged beyond its buckling load

    def back(self, right: np.ndarray) -> np.ndarray:
        """(u, c) solved, scaled unknowns by rows."""
        return np.ascontiguousarray(self.lu.solve(right))


@dataclass(frozen=True)
class Prepared:
    """A frame with its matrices. u unknowns, m elements, g rows of geometric stiffness.

    Matrices end in `_all` where they work on all 6 n movements, else on the scaled unknowns.
    """

    frame: Frame
    parts: Elements
    open: np.ndarray  # (u,) which of the 6 n movements are unknown
    scale: np.ndarray  # (u,) scaled = movement scale; load / scale
    spun: tuple[tuple[int, np.ndarray], ...]  # (node, direction) about which it turns freely
    stiff_all: csr_matrix  # (6 n, 6 n) elastic, all wires pulling
    stretch_all: csr_matrix  # (m, 6 n)
    rows_all: csr_matrix  # (g, 6 n)
    stretch: csr_matrix  # (m, u)
    rows: csr_matrix  # (g, u)
    rows_turned: csr_matrix  # (u, g)
    plain: Factor  # elastic stiffness
    rigged: Factor  # with the geometric stiffness of the rigging tension; the same where there is none

    def geometric(self, pull: np.ndarray) -> csr_matrix:
        """(u, u) geometric stiffness of axial forces (m,) on the scaled unknowns."""
        return (self.rows_turned @ diags_array(self.parts.weight * pull[self.parts.of]) @ self.rows).tocsr()


def prepare(frame: Frame) -> Prepared:
    """A frame's stiffness, once for all cases.

    A mechanism is no error here: `plain.loose` (and `rigged.loose`) name the nodes that move, and `solve` gives cases
    that are not good. Raises ValueError for an element without length or with `up` along it.
    """
    parts = elements(frame)
    size = frame.held.size
    at = _places(frame)
    stiff = _square(parts.whole, at, size)
    stretch = _tall(parts.stretch, at, size)
    rows = _tall(parts.rows, at[parts.of], size)
    spun = _spun(frame, parts, stiff)
    quiet = _quiet(spun, stiff, size)
    unknown = np.flatnonzero(~frame.held.ravel())
    inner = (stiff + quiet)[unknown][:, unknown]
    scale = _scale(stiff + quiet)[unknown]
    shrink = diags_array(1 / scale)
    geometric = (rows.T @ diags_array(parts.weight * frame.tension[parts.of]) @ rows).tocsr()
    short, few = (stretch[:, unknown] @ shrink).tocsr(), (rows[:, unknown] @ shrink).tocsr()
    plain = factor((shrink @ inner @ shrink).tocsr(), unknown)
    rigged = plain
    if np.any(frame.tension != 0):
        rigged = factor((shrink @ (inner + geometric[unknown][:, unknown]) @ shrink).tocsr(), unknown)
    return Prepared(
        frame, parts, unknown, scale, spun, stiff, stretch, rows, short, few, few.T.tocsr(), plain, rigged
    )  # fmt: skip


def factor(matrix: csr_matrix, unknown: np.ndarray) -> Factor:
    """Factorise a scaled stiffness, or tell which nodes move. unknown: (u,) movement of each unknown."""
    lu = decomposed(matrix)
    pivots = lu.U.diagonal() if lu is not None else np.zeros(1)
    if pivots.size and np.min(np.abs(pivots)) <= LEAST:
        return Factor(matrix, None, _loose(matrix, unknown), False)
    if pivots.size and np.min(pivots) < 0:
        return Factor(matrix, None, (), True)
    return Factor(matrix, lu, (), False)


def decomposed(matrix: csr_matrix) -> Any:
    """SuperLU with pivots on the diagonal and an order for symmetric matrices; None where it meets a nought."""
    try:
        return splu(
            csc_matrix(matrix), permc_spec="MMD_AT_PLUS_A", diag_pivot_thresh=0.0, options={"SymmetricMode": True}
        )
    except RuntimeError:
        return None


def _scale(stiff: csr_matrix) -> np.ndarray:
    """(6 n,) root of each movement's own stiffness; where that is rounding, of the largest of the node's three."""
    own = stiff.diagonal().reshape(-1, 3)
    most = np.max(own, axis=1, keepdims=True)
    most = np.where(most > 0, most, np.max(own, initial=0.0) or 1.0)
    return np.asarray(np.sqrt(np.where(own > 1e-9 * most, own, most)).ravel())


def _places(frame: Frame) -> np.ndarray:
    """(m, 12) number of each element's movements among the 6 n."""
    return np.asarray((6 * frame.ends[:, :, None] + np.arange(6)).reshape(-1, 12))


def _square(values: np.ndarray, at: np.ndarray, size: int) -> csr_matrix:
    """Sum of (m, 12, 12) at their places (m, 12)."""
    i, j = np.repeat(at, 12, axis=1), np.tile(at, (1, 12))
    return coo_matrix((values.ravel(), (i.ravel(), j.ravel())), (size, size)).tocsr()


def _tall(rows: np.ndarray, at: np.ndarray, size: int) -> csr_matrix:
    """(g, 12) rows at their places (g, 12) as (g, size)."""
    i = np.repeat(np.arange(len(rows)), 12)
    out = coo_matrix((rows.ravel(), (i, at.ravel())), (len(rows), size)).tocsr()
    out.eliminate_zeros()
    return out


def _spun(frame: Frame, parts: Elements, stiff: csr_matrix) -> tuple[tuple[int, np.ndarray], ...]:
    """Directions about which a node turns freely: the null directions of its own block for turns not held."""
    scale = np.zeros(len(frame.place))
    bend = (frame.youngs * np.maximum(np.maximum(frame.about_y, frame.about_z), frame.twist)) / parts.length
    np.maximum.at(scale, frame.ends.ravel(), np.repeat(bend, 2))
    block = _blocks(stiff)
    found = []
    for node in np.flatnonzero(np.linalg.eigvalsh(block)[:, 0] <= 1e-10 * scale):
        turn = np.flatnonzero(~frame.held[node, 3:])
        if not turn.size:
            continue
        value, vector = np.linalg.eigh(block[node][np.ix_(turn, turn)])
        for way in vector.T[value <= 1e-10 * scale[node]]:
            direction = np.zeros(3)
            direction[turn] = way
            found.append((int(node), direction))
    return tuple(found)


def _blocks(stiff: csr_matrix) -> np.ndarray:
    """(n, 3, 3) stiffness of each node's own turns."""
    whole = stiff.tocoo()
    same = (whole.row // 6 == whole.col // 6) & (whole.row % 6 > 2) & (whole.col % 6 > 2)
    block = np.zeros((stiff.shape[0] // 6, 3, 3))
    i, j = whole.row[same], whole.col[same]
    np.add.at(block, (i // 6, i % 6 - 3, j % 6 - 3), whole.data[same])
    return block


def _quiet(spun: tuple[tuple[int, np.ndarray], ...], stiff: csr_matrix, size: int) -> csr_matrix:
    """What holds the free turns: 1 N m/rad times a typical stiffness, about their directions."""
    if not spun:
        return csr_matrix((size, size))
    typical = float(np.max(stiff.diagonal())) or 1.0
    i = np.array([[6 * node + 3 + a for a in (0, 1, 2) for _ in (0, 1, 2)] for node, _ in spun])
    j = np.array([[6 * node + 3 + b for _ in (0, 1, 2) for b in (0, 1, 2)] for node, _ in spun])
    values = typical * np.array([np.outer(way, way).ravel() for _, way in spun])
    return coo_matrix((values.ravel(), (i.ravel(), j.ravel())), (size, size)).tocsr()


def _loose(matrix: csr_matrix, unknown: np.ndarray) -> tuple[int, ...]:
    """Nodes that take part in movements without resistance: inverse iteration on the matrix with a trace added."""
    size = matrix.shape[0]
    lu = decomposed((matrix + diags_array(np.full(size, 1e-9))).tocsr())
    if lu is None:
        return tuple(sorted(set((unknown // 6).tolist())))
    block = np.random.default_rng(1).normal(size=(size, min(size, 8)))
    for _ in range(4):
        block, _ = np.linalg.qr(lu.solve(block))
    value, turn = np.linalg.eigh(block.T @ (matrix @ block))
    null = np.abs((block @ turn)[:, value < 1e-10])
    big = np.any(null > 1e-3 * np.max(null, axis=0, initial=0.0), axis=1)
    return tuple(sorted(set((unknown[big] // 6).tolist())))
