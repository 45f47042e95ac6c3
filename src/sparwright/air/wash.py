"""The influence matrix of the lattice: normal wash of every horseshoe vortex at every control point.

Written twice with the same operations in the same order, plain numpy and compiled, so that both give the
same bits. Symbols:

    P      control point, n its unit normal (0, ny, nz)
    A, B   inner and outer end of a bound vortex; a = P - A, b = P - B, d = B - A
    ra, rb lengths of a, b
    p      ay^2 + az^2, square of the distance from the trailing leg's line

    bound vortex  n . (d x a) (ra + rb) / (ra rb (ra rb + a . b))          law of Biot and Savart
    trailing leg  (nz ay - ny az) (ra + ax) / (ra p)                       from A along +x, without end

Wash of unit circulation = (bound + leg at B - leg at A)/(4 pi). Two neighbours share the leg and the
length at the edge between them, so an edge is worked out once. The mirrored left half washes P as the
right half washes P's mirror, so each pair is met twice, at (y, ny) and at (-y, -ny).

Source: prandtl-1918; the two laws as in glauert-1926 ch. XII.
Lengths come in scaled to the greatest chord, so that CORE and TOUCH are pure numbers.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from functools import lru_cache
from typing import Literal

import numpy as np

CORE = 1e-12  # square of the least distance from a leg, keeps 0/0 away where a point lies on its line
TOUCH = 1e-10  # keeps 0/0 away for a point on the bound vortex itself, whose own wash there is nought
FOUR_PI = 4 * np.pi
MANY = 2500  # unknowns from which compiling pays even when it has to be loaded first

Kernel = Literal["auto", "compiled", "plain"]
Matrix = Callable[[np.ndarray, np.ndarray, np.ndarray, np.ndarray], np.ndarray]


def matrix(
    corners: np.ndarray, rows: np.ndarray, points: np.ndarray, normal: np.ndarray, kernel: Kernel = "auto"
) -> np.ndarray:
    """(vortices, points): downward wash along the normals at `points` of unit circulation in each horseshoe.

    corners (3, c), rows (r, 3), points (3, n), normal (2, n) as in grid.Grid, lengths in chords. The
    result is laid out so that its transpose is ready for LAPACK. kernel: "auto" takes the compiled twin
    when the compiler is loaded already or the cell is so large that loading it pays; the bits are the same.
    """
    if kernel == "auto":
        kernel = "compiled" if "numba" in sys.modules or points.shape[1] >= MANY else "plain"
    run = compiled() if kernel == "compiled" else plain
    return run(corners, rows, points, normal)


def plain(corners: np.ndarray, rows: np.ndarray, points: np.ndarray, normal: np.ndarray) -> np.ndarray:
    """The matrix in numpy, one row of horseshoes at a time."""
    cx, cy, cz = points
    ny, nz = normal
    out = np.empty((int(rows[-1, 1] + rows[-1, 2]), cx.size))
    for first, panel, strips in rows:
        x, y, z = corners[:, first : first + strips + 1, None]
        dx, dy, dz = x[1:] - x[:-1], y[1:] - y[:-1], z[1:] - z[:-1]
        ax, az = cx - x, cz - z
        total = np.zeros(())
        for py, my in ((cy, ny), (-cy, -ny)):
            ay = py - y
            p = ay * ay + az * az + CORE
            r = np.sqrt(ax * ax + p)
            leg = (nz * ay - my * az) * (r + ax) / (r * p)
            rr = r[:-1] * r[1:]
            dot = ax[:-1] * ax[1:] + ay[:-1] * ay[1:] + az[:-1] * az[1:]
            cross = my * (dz * ax[:-1] - dx * az[:-1]) + nz * (dx * ay[:-1] - dy * ax[:-1])
            total = total + (cross * (r[:-1] + r[1:]) / (rr * (rr + dot + TOUCH)) + (leg[1:] - leg[:-1]))
        out[panel : panel + strips] = total / -FOUR_PI
    return out


@lru_cache(maxsize=1)
def compiled() -> Matrix:
    """The matrix compiled for this machine; compiled once, kept on disc beside the source."""
    from sparwright.air import washfast

    return washfast.matrix
