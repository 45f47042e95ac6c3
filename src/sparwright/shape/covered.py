"""Which stretch of an edge a face hides: the compiled inner loop of shape/seen.py.

For each pair of an edge and a face: what lies inside the face's three sides and behind its plane, four conditions that
are linear along the edge. Source: worked out here, no source.
"""

from __future__ import annotations

import numba
import numpy as np

LEAST = 1e-9  # of an edge: shorter stretches are rounding

quick = numba.njit(cache=True, error_model="numpy", nogil=True)


@quick
def covered(edge: np.ndarray, face: np.ndarray, edges: np.ndarray, faces: np.ndarray, near: float) -> np.ndarray:
    """(n, 2) from and to, as parts of the edge, of what each face hides of the edge beside it; the same if nothing.

    edge, face: (n,) places in `edges` (e, 2, 3) and `faces` (f, 3, 3), picture and towards the eye, m. near: m, by
    which a face must be nearer.
    """
    found = np.zeros((len(edge), 2))
    inside = np.empty((4, 2))
    for i in range(len(edge)):
        e, f = edges[edge[i]], faces[face[i]]
        area = twice(f[0, 0], f[0, 1], f[1, 0], f[1, 1], f[2, 0], f[2, 1])
        start, end = 0.0, 1.0
        for end_of in range(2):
            inside[3, end_of] = -near - e[end_of, 2]
        for k in range(4):
            if k < 3:
                m, n = (k + 1) % 3, (k + 2) % 3
                for j in range(2):
                    inside[k, j] = twice(e[j, 0], e[j, 1], f[m, 0], f[m, 1], f[n, 0], f[n, 1]) / area
                    inside[3, j] += inside[k, j] * f[k, 2]
            a, b = inside[k, 0], inside[k, 1]
            start = max(start, 0.0 if a >= 0 else (a / (a - b) if b >= 0 else 2.0))
            end = min(end, 1.0 if b >= 0 else (a / (a - b) if a >= 0 else -1.0))
            if not end - start > LEAST:
                break
        if end - start > LEAST:
            found[i, 0], found[i, 1] = start, end
    return found


@quick
def twice(px: float, py: float, qx: float, qy: float, rx: float, ry: float) -> float:
    """Twice the area of a triangle in the picture, anticlockwise positive."""
    return (qx - px) * (ry - py) - (rx - px) * (qy - py)
