"""Natural modes of a frame, held or wholly free, with its mass lumped at the nodes.

Symbols: K stiffness (the rigging's geometric part in it, wires all pulling), M mass, w^2 M v = K v. Shifted by s and
turned over: L^T (K + s M)^-1 L y = y/(w^2 + s) with M = L L^T, so that nodes without mass are no trouble and a free
frame has no singular matrix; by blocks (Lanczos), as a frame has equal frequencies. First with a small s, then with s
of the size of the highest w^2 asked for.
Source: przemieniecki-1968, ch. 12 (memory, high).
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import block_diag, csr_matrix, diags_array

from sparwright.maths.frame.stiff import Factor, Prepared, factor

FEW = 240  # movements up to which the whole matrix is quicker
RESTARTS = 30
NOUGHT = 1e-8  # of the highest w^2 asked for: no stiffness


def modes(prepared: Prepared, mass: np.ndarray, inertia: np.ndarray, count: int) -> tuple[np.ndarray, np.ndarray]:
    """(omega (count,) rad/s rising, shapes (count, n, 6) with v M v = 1).

    mass: (n,) kg. inertia: (n, 3, 3) kg m2 about the node, in the frame's axes; about a direction in which a node turns
    freely it is not counted. A frequency under 1e-4 of the highest asked for is told as nought: six of a free frame.
    NaN where the rigging alone buckles the frame. Raises ValueError for more modes than masses can have.
    """
    root = _root(prepared, mass, inertia)
    if not 0 < count <= root.shape[1]:
        raise ValueError(f"{count} modes asked for, masses can have {root.shape[1]}")
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
    """L (u, g) on the scaled unknowns, a column for each way in which a mass can move."""
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
    scaled = (diags_array(1 / prepared.scale) @ whole[prepared.open]).tocsc()
    return scaled[:, np.flatnonzero(np.asarray(abs(scaled).sum(axis=0)).ravel() > 0)].tocsr()


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
        order = np.argsort(-value)[:count]
        return value[order], vector[:, order]
    block = np.random.default_rng(1).normal(size=(size, count + 4))
    last = np.zeros(count)
    for _ in range(RESTARTS):
        value, block = _block_step(on, root, block)
        if np.all(np.abs(value[:count] - last) <= 1e-13 * value[0]):
            break
        last = value[:count]
    return value[:count], block[:, :count]


def _block_step(on: Factor, root: csr_matrix, block: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Best values (falling) and vectors, as many as the block has, in the space of the block and its images."""
    wide = block.shape[1]
    basis = np.zeros((block.shape[0], 0))
    images = basis
    for _ in range(max(2, min(6, FEW // wide))):
        for _ in (0, 1):
            block, _ = np.linalg.qr(block - basis @ (basis.T @ block))
        image = root.T @ on.back(root @ block)
        basis, images = np.hstack([basis, block]), np.hstack([images, image])
        block = image
    value, turn = np.linalg.eigh(basis.T @ images)
    best = np.argsort(-value)[:wide]
    return value[best], basis @ turn[:, best]
