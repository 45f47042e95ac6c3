"""Natural modes of a frame whose masses are spread over many nodes each, so that its mass matrix is full of couplings.

    w^2 M v = K v,  M = L L^T;   (K + s M)^-1 M v = v/(w^2 + s)

by Lanczos' method on the shifted and factorised stiffness (scipy's ARPACK), first with a small s, then with s of the
size of the highest w^2 of the first: as maths/frame/modes.py, which is for masses lumped at nodes. The rigging's pull
stiffens the frame. Source: przemieniecki-1968 ch. 12 (memory, high).
"""

from __future__ import annotations

import numpy as np
from scipy.sparse import csr_matrix, diags_array
from scipy.sparse.linalg import LinearOperator, eigsh

from sparwright.maths.frame.stiff import Prepared, factor

FIRST = 8  # modes of the first round
NOUGHT = 1e-8  # of the highest w^2: no stiffness


def spread_modes(prepared: Prepared, root: csr_matrix, count: int) -> tuple[np.ndarray, np.ndarray]:
    """(omega (count,) rad/s rising, shapes (count, n, 6) with v M v = 1).

    root: (6 n, g) L, a column for each way in which a mass can move, root of kg. A frequency under 1e-4 of the highest
    is told as nought. NaN where the rigging alone buckles the frame. ValueError for no more unknowns than modes.
    """
    size = prepared.open.size
    if not 0 < count < size - 1:
        raise ValueError(f"{count} modes asked for of {size} unknowns")
    short = (diags_array(1 / prepared.scale) @ root.tocsr()[prepared.open]).tocsr()
    mass = (short @ short.T).tocsr()
    first = _shifted(prepared, mass, 1e-6 / float(mass.diagonal().max()), min(FIRST, count))[0]
    square, shape = _shifted(prepared, mass, float(first.max()), count) if np.isfinite(first).all() else (
        np.full(count, np.nan), np.full((size, count), np.nan))  # fmt: skip
    square = np.where(np.abs(square) < NOUGHT * np.abs(square).max(), 0.0, square)
    with np.errstate(invalid="ignore"):
        omega = np.sqrt(square)
    out = np.zeros((prepared.frame.held.size, count))
    out[prepared.open] = shape / prepared.scale[:, None]
    return omega, out.T.reshape(count, -1, 6).copy()


def _shifted(prepared: Prepared, mass: csr_matrix, shift: float, count: int) -> tuple[np.ndarray, np.ndarray]:
    """(w^2 rising, shapes (u, count)); NaN where K + s M is not positive."""
    stiff = prepared.rigged.matrix
    on = factor((stiff + shift * mass).tocsr(), prepared.open)
    if on.lu is None:
        return np.full(count, np.nan), np.full((stiff.shape[0], count), np.nan)
    back = LinearOperator(stiff.shape, matvec=on.lu.solve, dtype=float)
    start = np.random.default_rng(1).normal(size=stiff.shape[0])
    value, vector = eigsh(stiff, count, M=mass, sigma=-shift, OPinv=back, v0=start, which="LM")
    order = np.argsort(value)
    return value[order], vector[:, order]
