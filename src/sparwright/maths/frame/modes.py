"""Natural modes of a frame, held or wholly free, with its mass lumped at the nodes.

Symbols: K stiffness (the rigging's geometric part in it, wires all pulling), M mass, w^2 M v = K v. Shifted by s and
turned over: L^T (K + s M)^-1 L y = y/(w^2 + s) with M = L L^T, so that nodes without mass are no trouble and a free
frame has no singular matrix. First with a small s, then with s of the size of the highest w^2 asked for.
Source: przemieniecki-1968, ch. 12 (memory, high).
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import block_diag, csr_matrix, diags_array
from scipy.sparse.linalg import LinearOperator, eigsh

from sparwright.maths.frame.stiff import Factor, Prepared, factor

FEW = 240  # movements up to which the whole matrix is quicker
NOUGHT = 1e-8  # of the highest w^2 asked for: no stiffness


def modes(prepared: Prepared, mass: np.ndarray, inertia: np.ndarray, count: int) -> tuple[np.ndarray, np.ndarray]:
    """(omega (count,) rad/s rising, shapes (count, n, 6) with v M v = 1).

    mass: (n,) kg. inertia: (n, 3, 3) kg m2 about the node, in the frame's axes; about a direction in which a node turns
    freely it is not counted. A frequency under 1e-4 of the highest asked for is told as nought: six of a free frame.
    NaN where the rigging alone buckles the frame. Raises ValueError for more modes than masses can have.
    """
    root = _root(prepared, mass, inertia)
    if not 0 < count <= _moving(root):
        raise ValueError(f"{count} modes asked for, masses can have {_moving(root)}")
    weight = (root @ root.T).tocsr()
    shift = 1e-6 / float(np.max(weight.diagonal()))
    found = _shifted(prepared, root, weight, shift, count)
    highest = found[0][-1]
    if highest > NOUGHT * shift:
        again = _shifted(prepared, root, weight, float(highest), count)
        shift, found = (float(highest), again) if np.all(np.isfinite(again[0])) else (shift, found)
    square, shape = found
    square = np.where(np.abs(square) < NOUGHT * shift, 0.0, square)
    with np.errstate(invalid="ignore"):
        omega = np.sqrt(square)
    out = np.zeros((prepared.frame.held.size, count))
    out[prepared.open] = shape / prepared.scale[:, None]
    return omega, out.T.reshape(count, -1, 6).copy()


def _root(prepared: Prepared, mass: np.ndarray, inertia: np.ndarray) -> csr_matrix:
    """L (u, 6 n) on the scaled unknowns."""
    value, vector = np.linalg.eigh(inertia)
    if np.any(mass < 0) or np.any(value < -1e-9 * np.max(np.abs(value), initial=0.0)):
        raise ValueError("a mass or an inertia is negative")
    turn = vector * np.sqrt(np.maximum(value, 0.0))[:, None]
    for node, way in prepared.spun:
        turn[node] -= np.outer(way, way @ turn[node])
    blocks = np.zeros((mass.size, 6, 6))
    blocks[:, [0, 1, 2], [0, 1, 2]] = np.sqrt(mass)[:, None]
    blocks[:, 3:, 3:] = turn
    whole = csr_matrix(block_diag(list(blocks)))
    return (diags_array(1 / prepared.scale) @ whole[prepared.open]).tocsr()


def _moving(root: csr_matrix) -> int:
    """How many ways masses can move: columns of L that are not nought."""
    return int(np.count_nonzero(np.asarray(abs(root).sum(axis=0)).ravel() > 0))


def _shifted(
    prepared: Prepared, root: csr_matrix, weight: csr_matrix, shift: float, count: int
) -> tuple[np.ndarray, np.ndarray]:
    """(w^2 rising, scaled shapes (u, count)); NaN where K + s M is not positive."""
    on = factor((prepared.rigged.matrix + shift * weight).tocsr(), prepared.open)
    if on.lu is None:
        return np.full(count, np.nan), np.full((root.shape[0], count), np.nan)
    value, vector = _largest(on, root, count)
    return 1 / value - shift, on.back(root @ vector) / value


def _largest(on: Factor, root: csr_matrix, count: int) -> tuple[np.ndarray, np.ndarray]:
    """Largest eigenvalues of L^T (K + s M)^-1 L, falling, with their vectors."""
    size = root.shape[1]
    if size <= FEW:
        whole = root.T @ on.back(root.toarray())
        value, vector = np.linalg.eigh((whole + whole.T) / 2)
    else:
        image = LinearOperator(
            (size, size), matvec=lambda y: root.T @ on.lu.solve(root @ np.ravel(y)), dtype=float
        )
        start = np.random.default_rng(1).normal(size=size)
        value, vector = eigsh(image, k=count, which="LA", v0=start, tol=1e-12)
    order = np.argsort(-value)[:count]
    return value[order], vector[:, order]
