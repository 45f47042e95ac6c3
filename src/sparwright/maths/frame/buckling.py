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
from scipy.sparse.linalg import ArpackNoConvergence, LinearOperator, eigsh

from sparwright.maths.frame.record import Solved
from sparwright.maths.frame.stiff import Factor, Prepared, factor

FEW = 250  # unknowns up to which the whole matrix is quicker
STEPS = 12  # of `ranked`
NONE = 1e-9  # of the largest axial force: nothing


def buckling(prepared: Prepared, solved: Solved, case: int) -> tuple[float, np.ndarray]:
    """(factor, shape (n, 6) whose largest movement is 1 m); NaN where nothing is pressed, where the
    case is not good, or where the sum does not settle.

    The factor of a frame whose members are divided too little is high: by 22 % with one element between the places
    where it waves (pinned ends), 0.8 % with two, 0.05 % with four.
    """
    none = float("nan"), np.full(prepared.frame.held.shape, np.nan)
    if not solved.good[case]:
        return none
    pull = solved.pull[case]
    pull = np.where(np.abs(pull) > NONE * np.max(np.abs(pull), initial=0.0), pull, 0.0)
    stiff, pushed, grows = _sides(prepared, pull, solved.slack[case])
    if stiff.lu is None or np.all(pushed[prepared.parts.of] * prepared.parts.weight >= 0):
        return none
    inverse, vector = _largest(stiff, -grows)
    if not inverse > 0:
        return none
    moved = np.zeros(prepared.frame.held.size)
    moved[prepared.open] = vector / prepared.scale
    shape = moved.reshape(-1, 6)
    return 1 / inverse, shape / (np.max(np.abs(shape[:, :3])) or np.max(np.abs(shape)))


def ranked(prepared: Prepared, pull: np.ndarray, steps: int = STEPS) -> np.ndarray:
    """(c,) about the factor of each of c cases of axial forces (c, m): which to look at with `buckling`.

    Lanczos' method for all cases at once with one factor, few steps, wires all pulling: with none slack never under the
    true one. Infinite where a case presses nothing that gives way, NaN where its forces are not known or the frame does
    not stand.
    """
    on = prepared.plain if prepared.plain.lu is not None else prepared.rigged
    if on.lu is None:
        return np.full(len(pull), np.nan)
    known = np.isfinite(pull).all(axis=1)
    grows = pull[known] if on is prepared.plain else pull[known] - prepared.frame.tension
    weight = prepared.parts.weight[:, None] * grows.T[prepared.parts.of]
    size, count = prepared.open.size, grows.shape[0]
    v = np.tile(np.random.default_rng(1).normal(size=(size, 1)), (1, count))
    v /= np.sqrt(np.einsum("uc,uc->c", v, on.matrix @ v))
    before, beta = np.zeros_like(v), np.zeros(count)
    whole = np.zeros((count, steps, steps))
    for j in range(steps):
        push = -(prepared.rows_turned @ (weight * (prepared.rows @ v)))
        whole[:, j, j] = alpha = np.einsum("uc,uc->c", v, push)
        w = on.back(push) - alpha * v - beta * before
        beta = np.sqrt(np.maximum(np.einsum("uc,uc->c", w, on.matrix @ w), 0.0))
        if j + 1 < steps:
            whole[:, j, j + 1] = whole[:, j + 1, j] = beta
        before, v = v, w / np.where(beta > 0, beta, 1.0)
    most = np.linalg.eigvalsh(whole)[:, -1] if count else np.zeros(0)
    found = np.full(len(pull), np.nan)
    found[known] = np.where(most > 0, 1 / np.where(most > 0, most, 1.0), np.inf)
    return found


def _sides(prepared: Prepared, pull: np.ndarray, slack: np.ndarray) -> tuple[Factor, np.ndarray, csr_matrix]:
    """K with its factor, the axial forces that grow (m,), and their geometric stiffness, on the scaled unknowns."""
    out = np.flatnonzero(slack)
    wire = prepared.stretch[out]
    lost = (wire.T @ diags_array(prepared.parts.axial[out]) @ wire).tocsr()
    stiff = prepared.plain if not out.size else factor((prepared.plain.matrix - lost).tocsr(), prepared.open)
    if stiff.lu is not None or not np.any(prepared.frame.tension):
        return stiff, pull, prepared.geometric(pull)
    rigging = np.where(slack, 0.0, prepared.frame.tension)
    matrix = (prepared.plain.matrix - lost + prepared.geometric(rigging)).tocsr()
    return factor(matrix, prepared.open), pull - rigging, prepared.geometric(pull - rigging)


def _largest(stiff: Factor, push: csr_matrix) -> tuple[float, np.ndarray]:
    """(x, v) of push v = x K v with the largest x; NaN where it does not settle."""
    size = push.shape[0]
    if size <= FEW:
        value, vector = eigh(push.toarray(), stiff.matrix.toarray(), subset_by_index=(size - 1, size - 1))
        return float(value[0]), vector[:, 0]
    inverse = LinearOperator((size, size), matvec=lambda x: stiff.lu.solve(np.ravel(x)), dtype=float)
    start = np.random.default_rng(1).normal(size=size)
    try:
        value, vector = eigsh(
            push, k=1, M=stiff.matrix, Minv=inverse, which="LA", v0=start, ncv=min(size - 1, 40), tol=1e-9, maxiter=300
        )
    except ArpackNoConvergence:
        return float("nan"), start
    return float(value[0]), vector[:, 0]
