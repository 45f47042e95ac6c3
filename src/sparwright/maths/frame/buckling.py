"""How much further a case's axial forces may grow before the frame buckles (linear buckling).

Symbols: K elastic stiffness with the slack wires out, Kg geometric stiffness of the case's axial forces: K v + f Kg v
= 0, the least positive f. As an eigenvalue: -Kg v = (1/f) K v, the largest 1/f. Where the frame stands only by its
rigging (K alone is a mechanism), the rigging stays as it is and what the case adds to it grows.
f = 1.2 means: buckles at 1.2 times these axial forces, if all grow alike and the wires stay as they are. A case past
its load has no second-order forces; its factor (below 1) is had from its first-order ones.
Source: timoshenko-gere, ch. 2; przemieniecki-1968, ch. 15 (memory, high).
"""

from __future__ import annotations

import numpy as np
from scipy.linalg import eigh
from scipy.sparse import csr_matrix, diags_array
from scipy.sparse.linalg import LinearOperator, eigsh

from sparwright.maths.frame.record import Solved
from sparwright.maths.frame.stiff import Factor, Prepared, factor

FEW = 250  # unknowns up to which the whole matrix is quicker
NONE = 1e-9  # of the largest eigenvalue by size: nothing is pressed


def buckling(prepared: Prepared, solved: Solved, case: int) -> tuple[float, np.ndarray]:
    """(factor, shape (n, 6) whose largest movement is 1 m); NaN where nothing buckles or the case is not good.

    The factor of a frame whose members are divided too little is high: by 22 % with one element between the places
    where it waves (pinned ends), 0.8 % with two, 0.05 % with four.
    """
    none = float("nan"), np.full(prepared.frame.held.shape, np.nan)
    if not solved.good[case]:
        return none
    stiff, grows = _sides(prepared, solved.pull[case], solved.slack[case])
    if stiff.lu is None or not grows.nnz:
        return none
    ends = _outermost(stiff, -grows)
    if ends is None or ends[1] <= NONE * max(abs(ends[0]), abs(ends[1])):
        return none
    shape = np.zeros(prepared.frame.held.size)
    shape[prepared.open] = ends[2] / prepared.scale
    shape = shape.reshape(-1, 6)
    return 1 / ends[1], shape / (np.max(np.abs(shape[:, :3])) or np.max(np.abs(shape)))


def _sides(prepared: Prepared, pull: np.ndarray, slack: np.ndarray) -> tuple[Factor, csr_matrix]:
    """K with its factor and the geometric stiffness that grows, on the scaled unknowns."""
    out = np.flatnonzero(slack)
    wire = prepared.stretch[out]
    lost = (wire.T @ diags_array(prepared.parts.axial[out]) @ wire).tocsr()
    stiff = prepared.plain if not out.size else factor((prepared.plain.matrix - lost).tocsr(), prepared.open)
    if stiff.lu is not None or not np.any(prepared.frame.tension):
        return stiff, prepared.geometric(pull)
    rigging = np.where(slack, 0.0, prepared.frame.tension)
    matrix = (prepared.plain.matrix - lost + prepared.geometric(rigging)).tocsr()
    return factor(matrix, prepared.open), prepared.geometric(pull - rigging)


def _outermost(stiff: Factor, push: csr_matrix) -> tuple[float, float, np.ndarray] | None:
    """(least, largest, its vector) of push v = x K v."""
    size = push.shape[0]
    if size <= FEW:
        value, vector = eigh(push.toarray(), stiff.matrix.toarray())
        return float(value[0]), float(value[-1]), vector[:, -1]
    inverse = LinearOperator((size, size), matvec=lambda x: stiff.lu.solve(np.ravel(x)), dtype=float)
    start = np.random.default_rng(1).normal(size=size)
    value, vector = eigsh(push, k=2, M=stiff.matrix, Minv=inverse, which="BE", v0=start, tol=1e-10)
    return float(value[0]), float(value[-1]), vector[:, -1]
