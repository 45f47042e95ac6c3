"""A walk down both layers and the wake along a given outer flow: where Newton's method starts.

Each station is solved in turn for theta, delta* and s (n while laminar) at the given U. Where the layer is about to
part, that has no answer; the shape is then given instead and U is found. Where the flow turns turbulent falls out of
the walk.

Symbols as in closure.py and coupled.py. The steps of H in a separated layer only make a start (ours, no source).
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sparwright.air.flow.closure import quick
from sparwright.air.flow.coupled import CALM, FRONT, forced, joined, residual
from sparwright.air.flow.interval import turning, wave_rate_at

ROUNDS = 25
PARTING = (3.7, 2.5, 8.0)  # H from which the shape is given instead of U: laminar, turbulent, wake


@quick
def station(
    kind: int,
    a: np.ndarray,
    b: np.ndarray,
    dx: float,
    re: float,
    held: float,
    critical: float,
    trip: float,
    shape: float,
) -> bool:
    """Solve one interval for b in place: at b's U, or at the shape H when that is above 0. True when it closed."""
    r, J = np.empty(3), np.empty((3, 3))
    worst = 1e9
    for _ in range(ROUNDS):
        if shape > 0.0:
            b[1] = shape * b[0]
        r[0], r[1], r[2] = residual(kind, a, b, dx, re, held, critical, trip)
        for i in range(3):
            t, d, s, u = b[0], b[1], b[2], b[3]
            if i == 0:
                h = 1e-6 * t
                b[0] = t + h
                if shape > 0.0:
                    b[1] = shape * b[0]
            elif i == 1:
                h = 1e-6 * max(abs(s), 1e-3)
                b[2] = s + h
            elif shape > 0.0:
                h = 1e-6 * u
                b[3] = u + h
            else:
                h = 1e-6 * d
                b[1] = d + h
            x, y, z = residual(kind, a, b, dx, re, held, critical, trip)
            b[0], b[1], b[2], b[3] = t, d, s, u
            J[0, i], J[1, i], J[2, i] = (x - r[0]) / h, (y - r[1]) / h, (z - r[2]) / h
        if not (np.all(np.isfinite(J)) and np.all(np.isfinite(r))):
            return False
        det = np.linalg.det(J / np.abs(J).max())
        if det == 0.0:
            return False
        step = np.linalg.solve(J, -r)
        part, worst = 1.0, 0.0
        for i in range(3):
            if i == 1 and kind == 0:
                continue
            old = b[0] if i == 0 else (b[2] if i == 1 else (b[3] if shape > 0.0 else b[1]))
            rel = step[i] / max(abs(old), 1e-12)
            worst = max(worst, abs(rel))
            if part * rel > 0.5:
                part = 0.5 / rel
            if part * rel < -0.3:
                part = -0.3 / rel
        b[0] += part * step[0]
        b[2] += part * step[1]
        if kind != 0:
            b[2] = min(max(b[2], 1e-4), 0.5)
        if shape > 0.0:
            b[3] += part * step[2]
            b[1] = shape * b[0]
        else:
            b[1] = max(b[1] + part * step[2], (1.0001 if kind == 2 else 1.05) * b[0])
        if worst < 1e-5:
            return True
    return worst < 1e-3


@quick
def walk(
    kind: int, a: np.ndarray, b: np.ndarray, dx: float, re: float, held: float, critical: float, trip: float, was: float
) -> bool:
    """Solve a station at its U, or, where its layer would part, at a shape: `was` if that is parted, or a step on."""
    U, s = b[3], b[2]
    part = PARTING[0] if kind == 0 else (PARTING[1] if kind != 2 else PARTING[2])
    H = a[1] / a[0]
    b[0], b[1] = a[0], min(H, 0.95 * part) * a[0] if kind != 3 else 1.8 * a[0]
    if was < part and H < 1.5 * part or kind == 2:
        good = station(kind, a, b, dx, re, held, critical, trip, 0.0)
        if good and b[1] < part * b[0]:
            return True
    if kind == 0:
        shape = H + 0.03 * dx / a[0]
        shape = min(max(shape, part), 12.0)
    elif kind == 2:
        shape = 1.0 + (H - 1.0) * math.exp(-dx / (10.0 * a[0]))
    elif was >= part:
        shape = min(was, 20.0)
    else:
        shape = max(H - 0.15 * dx / a[0], part)
    b[0], b[2], b[3] = a[0], s, U
    good = station(kind, a, b, dx, re, held, critical, trip, shape)
    if not good:
        b[0], b[1], b[2], b[3] = a[0], shape * a[0], a[2] if kind != 3 else 0.05, U
    return good


@quick
def march(state: np.ndarray, m: np.ndarray, kinds: np.ndarray, k: int, x: np.ndarray, apart: np.ndarray,
          away: np.ndarray, n: int, re: float, critical: float, trips: np.ndarray) -> tuple[Any, ...]:  # fmt: skip
    """One walk along the U in state; state, m, kinds change in place: (stations left open, first turbulent (3,))."""
    size, left = len(m), 0
    firsts = np.zeros(3, np.int64)
    for side in range(2):
        chain = np.arange(k, -1, -1) if side == 0 else np.arange(k + 1, n)
        i = chain[0]
        slope = (state[k, 3] + state[k + 1, 3]) / apart[k + 1]
        state[i, 0], state[i, 2], kinds[i] = math.sqrt(CALM / (re * slope)), 0.0, 0
        state[i, 1] = FRONT * state[i, 0]
        m[i] = state[i, 1] * state[i, 3]
        first = len(chain)
        for p in range(1, len(chain)):
            i, j = chain[p - 1], chain[p]
            dx = apart[max(i, j)]
            trip = forced(x, chain, p, trips[side])
            a, b = state[i], state[j]
            was = b[1] / b[0] if kinds[j] == 1 else 0.0
            held = wave_rate_at(state[chain[p - 2]], re) if p > 1 else 0.0
            U, s = b[3], b[2]
            good = False
            if first > p:
                b[2] = a[2]
                good = walk(0, a, b, dx, re, held, critical, trip, 0.0)
                if turning(a, held, dx, re, critical, trip) <= 1.0:
                    first = p
                    b[3], b[2] = U, s if kinds[j] == 1 else 0.05
                    good = walk(3, a, b, dx, re, held, critical, trip, was)
                    kinds[j] = 1
                else:
                    kinds[j] = 0
            else:
                if kinds[j] != 1:
                    b[2] = a[2]
                good = walk(1, a, b, dx, re, held, critical, trip, was)
                kinds[j] = 1
            if not good:
                left += 1
            m[j] = b[1] * b[3]
        firsts[side] = first
    for p in range(size - n):
        j = n + p
        a = joined(state[0], state[n - 1], kinds[0], kinds[n - 1], re) if p == 0 else state[j - 1]
        state[j, 2] = a[2]
        if not walk(2, a, state[j], away[p], re, 0.0, critical, 2.0, 0.0):
            left += 1
        m[j] = state[j, 1] * state[j, 3]
    return left, firsts
