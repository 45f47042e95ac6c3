"""Inner forces at points along elements, out of the forces at their ends.

Signs, in the element's own axes: what the part beyond a cut (towards end 2) does to the part before it. N pulls
positive; Vy, Vz along y, z; T, My, Mz right-handed about x, y, z. So at end 2 they are the end forces, at end 1 minus
the end forces; Mz = EI v'' bends the element towards +y (its +y side pressed), My = -EI w'' (its -z side pressed).
With an even load q along it:
  N = -Fx1 - qx x        Vy = -Fy1 - qy x        Vz = -Fz1 - qz x        T = -Mx1
  Mz = -Mz1 + x Fy1 + qy x^2/2 - Fx1 (v - v1)    My = -My1 - x Fz1 - qz x^2/2 + Fx1 (w - w1)
where v, w come in in second order only; between the ends they are the cubic of the ends' movements (the stretch that
the load itself bows is left out: more elements catch it).
"""

from __future__ import annotations

import numpy as np

from sparwright.maths.frame.record import Solved
from sparwright.maths.frame.spread import turned
from sparwright.maths.frame.stiff import Prepared


def along(
    prepared: Prepared, solved: Solved, case: int, at: np.ndarray, second_order: bool = True,
    spread: np.ndarray | None = None,
) -> np.ndarray:  # fmt: skip
    """(m, k, 6) N, Vy, Vz, T, My, Mz (N, N m) of one case at parts `at` (k,) of each element's length, 0 to 1.

    second_order and spread (m, 3) N/m as they were given to `solve`. NaN for a case that is not good.
    """
    parts, end = prepared.parts, solved.force[case][:, None]
    x = parts.length[:, None] * at
    q = np.zeros((len(x), 1, 3)) if spread is None else turned(parts, spread)[:, None]
    out = np.zeros((*x.shape, 6))
    out[..., :3] = -end[..., :3] - q * x[..., None]
    out[..., 3:] = -end[..., 3:6]
    out[..., 4] -= x * end[..., 2] + q[..., 2] * x**2 / 2
    out[..., 5] += x * end[..., 1] + q[..., 1] * x**2 / 2
    if second_order:
        aside = _aside(prepared, solved.moved[case], at)
        pull = solved.pull[case][:, None]
        out[..., 4] -= pull * aside[..., 1]
        out[..., 5] += pull * aside[..., 0]
    return out


def _aside(prepared: Prepared, moved: np.ndarray, at: np.ndarray) -> np.ndarray:
    """(m, k, 2) v - v1 and w - w1 of the cubic through the ends' movements."""
    parts = prepared.parts
    nodes = moved[prepared.frame.ends].reshape(-1, 12)
    u = np.einsum("mij,mjk,mk->mi", parts.follow, parts.reach, nodes)
    length = parts.length
    a, b, c = 3 * at**2 - 2 * at**3, at - 2 * at**2 + at**3, at**3 - at**2
    v = np.outer(u[:, 7] - u[:, 1], a) + np.outer(length * u[:, 5], b) + np.outer(length * u[:, 11], c)
    w = np.outer(u[:, 8] - u[:, 2], a) - np.outer(length * u[:, 4], b) - np.outer(length * u[:, 10], c)
    return np.stack([v, w], axis=-1)
