"""What horseshoe vortices and thickness do to the stream: all three components, at any points.

A horseshoe is a bound segment whose two legs follow the chord to the trailing edge, from corner to corner, and go on
along +x without end. Symbols:

    P        point; A, B ends of a segment; a = P - A, b = P - B, d = B - A, l = |d|; ra, rb lengths of a, b
    p        by^2 + bz^2 of an endless leg's line
    s, h     (a . d)/l, a - s d/l

    segment, unit circulation A to B     d x a (ra + rb) / (4 pi ra rb (ra rb + a . b))     law of Biot and Savart
    endless leg from B                   (0, -bz, by) (rb + bx) / (4 pi rb p)
    line source, unit strength a metre   (h (s/ra + (l - s)/rb)/h^2 + (d/l) (1/rb - 1/ra)) / (4 pi)

The left half is the mirror of the right: it does to P what the right half does to P's mirror, mirrored back; where the
load is odd from side to side, the same with the other sign. The source of a surface does nothing to points of that
surface: there its thickness is the section's own affair.

Source: prandtl-1918; the laws as in glauert-1926 ch. XII; line source lamb-1932 art. 56 (integrated here).
Lengths come in scaled to the greatest chord, so that CORE and TOUCH are pure numbers.
"""

from __future__ import annotations

import math

import numba
import numpy as np

CORE = 1e-12  # square of the least distance from a leg, keeps 0/0 away where a point lies on its line
TOUCH = 1e-10  # keeps 0/0 away for a point on the bound vortex itself, whose own wash there is nought
FOUR_PI = 4 * math.pi

quick = numba.njit(cache=True, error_model="numpy", nogil=True)


@quick
def _far(ra, rm, x, y, z, px, py, pz):  # type: ignore[no-untyped-def]
    """Distances of all points, and of their mirrors, from one corner."""
    for i in range(px.size):
        ax, az, ay, fy = px[i] - x, pz[i] - z, py[i] - y, -py[i] - y
        flat = ax * ax + az * az + CORE
        ra[i], rm[i] = math.sqrt(flat + ay * ay), math.sqrt(flat + fy * fy)


@quick
def _add_segment(ox, oy, oz, x, y, z, dx, dy, dz, ra, rb, ma, mb, px, py, pz, sign):  # type: ignore[no-untyped-def]
    """Add the velocity of a unit vortex from (x, y, z) along d and of its mirror to o, not yet over 4 pi."""
    for i in range(px.size):
        ax, ay, az, fy = px[i] - x, py[i] - y, pz[i] - z, -py[i] - y
        rr, tt = ra[i] * rb[i], ma[i] * mb[i]
        flat = ax * (ax - dx) + az * (az - dz) + TOUCH
        k = (ra[i] + rb[i]) / (rr * (rr + flat + ay * (ay - dy)))
        m = sign * (ma[i] + mb[i]) / (tt * (tt + flat + fy * (fy - dy)))
        ox[i] += (dy * az - dz * ay) * k + (dy * az - dz * fy) * m
        oy[i] += (dz * ax - dx * az) * (k - m)
        oz[i] += (dx * ay - dy * ax) * k + (dx * fy - dy * ax) * m


@quick
def _add_endless(oy, oz, x, y, z, rb, mb, px, py, pz, sign):  # type: ignore[no-untyped-def]
    """Add the velocity of a unit vortex from (x, y, z) along +x without end and of its mirror."""
    for i in range(px.size):
        bx, bz, by, gy = px[i] - x, pz[i] - z, py[i] - y, -py[i] - y
        k, m = (rb[i] + bx) / (rb[i] * (by * by + bz * bz + CORE)), (mb[i] + bx) / (mb[i] * (gy * gy + bz * bz + CORE))
        m *= sign
        oy[i] += bz * (m - k)
        oz[i] += by * k + gy * m


@quick
def _less(o, a, b):  # type: ignore[no-untyped-def]
    """Add b less a to o."""
    for i in range(o.size):
        o[i] += b[i] - a[i]


@quick
def _add_source(ox, oy, oz, strength, acts, x, y, z, dx, dy, dz, ra, rb, ma, mb, px, py, pz):  # type: ignore[no-untyped-def]
    """Add the velocity of a line source of a strength a metre and of its mirror where it acts, over 4 pi already."""
    long = math.sqrt(dx * dx + dy * dy + dz * dz)
    dx, dy, dz = dx / long, dy / long, dz / long
    for i in range(px.size):
        w = acts[i] * strength / FOUR_PI
        ax, ay, az, fy = px[i] - x, py[i] - y, pz[i] - z, -py[i] - y
        s, u = ax * dx + ay * dy + az * dz, ax * dx + fy * dy + az * dz
        hx, hy, hz = ax - s * dx, ay - s * dy, az - s * dz
        kx, ky, kz = ax - u * dx, fy - u * dy, az - u * dz
        g = (s / ra[i] + (long - s) / rb[i]) / (hx * hx + hy * hy + hz * hz + CORE)
        f = (u / ma[i] + (long - u) / mb[i]) / (kx * kx + ky * ky + kz * kz + CORE)
        e, o = 1 / rb[i] - 1 / ra[i], 1 / mb[i] - 1 / ma[i]
        ox[i] += w * (hx * g + dx * e + kx * f + dx * o)
        oy[i] += w * (hy * g + dy * e - ky * f - dy * o)
        oz[i] += w * (hz * g + dz * e + kz * f + dz * o)


@quick
def inflow(corners, rows, strips, source, points, kept, sign=1.0):  # type: ignore[no-untyped-def]
    """(vortices, 3, points) velocity of unit circulation in each horseshoe, and (3, points) of all sources together.

    corners (3, c): surface by surface, `rows` rows of bound vortices from the nose and the trailing edge, each from
    root to tip; strips (surfaces,) of each; source (vortices,) strength a metre of each bound segment; points (3, n);
    kept (surfaces, n) 1 where a surface's thickness acts, 0 on itself. sign: of the left half's circulation over the
    right's, 1 or -1; the sources are even whatever it is.
    """
    px, py, pz = points[0].copy(), points[1].copy(), points[2].copy()
    n = px.size
    out, push = np.zeros((rows * strips.sum(), 3, n)), np.zeros((3, n))
    start = panel = 0
    for surface in range(strips.size):
        m = strips[surface]
        leg = np.zeros((m + 1, 3, n))
        ra, ma, rb, mb = np.empty((m + 1, n)), np.empty((m + 1, n)), np.empty((m + 1, n)), np.empty((m + 1, n))
        for row in range(rows, -1, -1):
            edge = start + row * (m + 1)
            for e in range(m + 1):
                x, y, z = corners[0, edge + e], corners[1, edge + e], corners[2, edge + e]
                _far(ra[e], ma[e], x, y, z, px, py, pz)
                if row == rows:
                    _add_endless(leg[e, 1], leg[e, 2], x, y, z, ra[e], ma[e], px, py, pz, sign)
                else:
                    aft = edge + m + 1 + e
                    dx, dy, dz = corners[0, aft] - x, corners[1, aft] - y, corners[2, aft] - z
                    _add_segment(leg[e, 0], leg[e, 1], leg[e, 2], x, y, z, dx, dy, dz,
                                 ra[e], rb[e], ma[e], mb[e], px, py, pz, sign)  # fmt: skip
            for j in range(m if row < rows else 0):
                v, a, b = panel + row * m + j, edge + j, edge + j + 1
                x, y, z = corners[0, a], corners[1, a], corners[2, a]
                dx, dy, dz = corners[0, b] - x, corners[1, b] - y, corners[2, b] - z
                _add_segment(out[v, 0], out[v, 1], out[v, 2], x, y, z, dx, dy, dz,
                             ra[j], ra[j + 1], ma[j], ma[j + 1], px, py, pz, sign)  # fmt: skip
                for k in range(3):
                    _less(out[v, k], leg[j, k], leg[j + 1, k])
                if source[v] != 0.0:
                    _add_source(push[0], push[1], push[2], source[v], kept[surface], x, y, z, dx, dy, dz,
                                ra[j], ra[j + 1], ma[j], ma[j + 1], px, py, pz)  # fmt: skip
            ra, ma, rb, mb = rb, mb, ra, ma
        start, panel = start + (rows + 1) * (m + 1), panel + rows * m
    return out / FOUR_PI, push
