"""The stations of both layers and the wake, and what the outer flow answers to their displacement.

Stations: middles of the n panels of the section along the walk, then of the w panels of the wake. Two layers start at
the stagnation point between stations k and k + 1, the upper one going back along the walk. The displacement is told to
the outer flow as sources, the slope of m = U delta* between neighbouring stations: U = U0 + D m.

Symbols as in closure.py.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from sparwright.air.flow.closure import ONSET, layer, quick

FRONT = 2.24  # H at the stagnation point, where the laminar relations stand still; hiemenz-1911 has 2.216
CALM = 0.075  # theta^2 re dU/dx there, thwaites-1949


class Layers(NamedTuple):
    """What the stations know. Changed in place."""

    state: np.ndarray  # (n + w, 4) theta, delta*, s (n while laminar), U
    mass: np.ndarray  # (n + w,) m = U delta*
    kinds: np.ndarray  # (n + w,) LAMINAR, TURBULENT or WAKE


class Setting(NamedTuple):
    """What stays the same while one angle is worked out."""

    n: int  # stations on the section
    x: np.ndarray  # (n + w,) chords
    apart: np.ndarray  # (n + 1,) from station to station along the section
    away: np.ndarray  # (w + 1,) along the wake
    base: np.ndarray  # (n + w,) speeds without sources
    source: np.ndarray  # (n + w, n + w + 2) speeds of unit sources
    re: float  # Reynolds number on the chord
    critical: float  # n at which waves turn the flow
    trips: np.ndarray  # (2,) chords: upper, lower


@quick
def chain_of(side: int, k: int, n: int) -> np.ndarray:
    """Stations of a layer from the stagnation point to the tail; side 0 is the upper one."""
    return np.arange(k, -1, -1) if side == 0 else np.arange(k + 1, n)


@quick
def outer(m: np.ndarray, k: int, at: Setting) -> np.ndarray:
    """(n + w,) U of the outer flow with the sources of m, each in its layer's direction."""
    q = at.base + at.source @ strengths(m, k, at)
    q[: k + 1] = -q[: k + 1]
    return q


@quick
def strengths(m: np.ndarray, k: int, at: Setting) -> np.ndarray:
    """(n + 1 + w + 1,) sources at the nodes from m (n + w,)."""
    n, w = at.n, len(m) - at.n
    out = np.zeros(n + w + 2)
    for j in range(1, n):
        if j <= k:
            out[j] = (m[j - 1] - m[j]) / at.apart[j]
        elif j == k + 1:
            out[j] = (m[j - 1] + m[j]) / at.apart[j]
        else:
            out[j] = (m[j] - m[j - 1]) / at.apart[j]
    out[0], out[n] = out[1], out[n - 1]
    out[n + 1] = (m[n] - m[0] - m[n - 1]) / at.away[0]
    for j in range(1, w):
        out[n + 1 + j] = (m[n + j] - m[n + j - 1]) / at.away[j]
    out[n + 1 + w] = out[n + w]
    return out


@quick
def response(k: int, at: Setting) -> np.ndarray:
    """(n + w, n + w) change of U with m: `strengths` as a matrix, after `source`, each row in its own direction."""
    n, size = at.n, len(at.source)
    w = size - n
    D = np.zeros((size, size))
    for i in range(size):
        sign = -1.0 if i <= k else 1.0
        row = at.source[i] * sign
        out = D[i]
        for j in range(1, n):
            c = row[j]
            if j == 1:
                c += row[0]
            if j == n - 1:
                c += row[n]
            c /= at.apart[j]
            if j <= k:
                out[j - 1] += c
                out[j] -= c
            elif j == k + 1:
                out[j - 1] += c
                out[j] += c
            else:
                out[j] += c
                out[j - 1] -= c
        c = row[n + 1] / at.away[0]
        out[n] += c
        out[0] -= c
        out[n - 1] -= c
        for j in range(1, w):
            c = row[n + 1 + j]
            if j == w - 1:
                c += row[n + 1 + w]
            c /= at.away[j]
            out[n + j] += c
            out[n + j - 1] -= c
    return D


@quick
def place(now: Layers, k: int, at: Setting) -> int:
    """Find the stagnation point again from U and delta* from m; a station that changes sides starts anew."""
    state, m, kinds = now
    while k > 4 and state[k, 3] <= 0.0:
        state[k, 3], kinds[k], state[k, 2] = -state[k, 3], -1, 0.0
        k -= 1
    while k < at.n - 6 and state[k + 1, 3] <= 0.0:
        state[k + 1, 3], kinds[k + 1], state[k + 1, 2] = -state[k + 1, 3], -1, 0.0
        k += 1
    slope = (state[k, 3] + state[k + 1, 3]) / at.apart[k + 1]
    calm = math.sqrt(CALM / (at.re * max(slope, 1e-3)))
    for i in range(len(m)):
        state[i, 3] = max(state[i, 3], 1e-4)
        if kinds[i] == -1:
            state[i, 0], m[i], kinds[i] = calm, FRONT * calm * state[i, 3], 0
        least = 1.05 if i < at.n else 1.00005
        m[i] = max(m[i], least * state[i, 0] * state[i, 3])
        state[i, 1] = m[i] / state[i, 3]
    return k


@quick
def joined(up: np.ndarray, low: np.ndarray, ku: int, kl: int, re: float) -> np.ndarray:
    """(4,) the wake's start from the two layers at the tail: thicknesses add, stress by momentum thickness."""
    out = np.empty(4)
    out[0], out[1], out[3] = up[0] + low[0], up[1] + low[1], 0.5 * (up[3] + low[3])
    su, sl = up[2], low[2]
    if ku != 1:
        su = ONSET * layer(1, up[0], up[1], up[3], 0.05, re)[5]
    if kl != 1:
        sl = ONSET * layer(1, low[0], low[1], low[3], 0.05, re)[5]
    out[2] = (su * up[0] + sl * low[0]) / out[0]
    return out
