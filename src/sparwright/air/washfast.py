"""The compiled twin of wash.plain: same operations, same order, same bits. Imported only when wanted.

One thread on purpose. A parallel loop halves the time of the matrix, but its threads go on spinning for a while and
take the cores from the solver's own threads: matrix and solve together came out three times slower.
"""

from __future__ import annotations

import math

import numba
import numpy as np

from sparwright.air.wash import CORE, FOUR_PI, TOUCH


@numba.njit(cache=True, error_model="numpy", nogil=True)
def matrix(corners, rows, points, normal):  # type: ignore[no-untyped-def]
    """See wash.plain. No fast-math: contraction or reordering would change the last bits."""
    n = points.shape[1]
    out = np.empty((rows[-1, 1] + rows[-1, 2], n))
    for row in range(rows.shape[0]):
        first, panel, strips = rows[row]
        cx, cy, cz = points[0], points[1], points[2]
        ny, nz = normal[0], normal[1]
        ra, la, rm, lm = np.empty(n), np.empty(n), np.empty(n), np.empty(n)
        for j in range(strips + 1):
            xb, yb, zb = corners[0, first + j], corners[1, first + j], corners[2, first + j]
            if j == 0:
                for i in range(n):
                    bx, bz = cx[i] - xb, cz[i] - zb
                    by, gy = cy[i] - yb, -cy[i] - yb
                    p = by * by + bz * bz + CORE
                    r = math.sqrt(bx * bx + p)
                    q = gy * gy + bz * bz + CORE
                    s = math.sqrt(bx * bx + q)
                    ra[i], rm[i] = r, s
                    la[i] = (nz[i] * by - ny[i] * bz) * (r + bx) / (r * p)
                    lm[i] = (nz[i] * gy - -ny[i] * bz) * (s + bx) / (s * q)
                continue
            xa, ya, za = corners[0, first + j - 1], corners[1, first + j - 1], corners[2, first + j - 1]
            dx, dy, dz = xb - xa, yb - ya, zb - za
            line = out[panel + j - 1]
            for i in range(n):
                ax, az = cx[i] - xa, cz[i] - za
                ay, fy = cy[i] - ya, -cy[i] - ya
                bx, bz = cx[i] - xb, cz[i] - zb
                by, gy = cy[i] - yb, -cy[i] - yb
                p = by * by + bz * bz + CORE
                r = math.sqrt(bx * bx + p)
                q = gy * gy + bz * bz + CORE
                s = math.sqrt(bx * bx + q)
                leg = (nz[i] * by - ny[i] * bz) * (r + bx) / (r * p)
                far = (nz[i] * gy - -ny[i] * bz) * (s + bx) / (s * q)
                rr, ss = ra[i] * r, rm[i] * s
                dot = ax * bx + ay * by + az * bz
                dim = ax * bx + fy * gy + az * bz
                lift, side = dz * ax - dx * az, dy * ax
                cross = ny[i] * lift + nz[i] * (dx * ay - side)
                anti = -ny[i] * lift + nz[i] * (dx * fy - side)
                near = cross * (ra[i] + r) / (rr * (rr + dot + TOUCH)) + (leg - la[i])
                away = anti * (rm[i] + s) / (ss * (ss + dim + TOUCH)) + (far - lm[i])
                line[i] = (near + away) / -FOUR_PI
                ra[i], rm[i], la[i], lm[i] = r, s, leg, far
    return out
