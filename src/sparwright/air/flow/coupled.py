"""Boundary layers, wake and outer flow solved together by Newton's method.

A station knows theta, s (n while laminar, root of the stress coefficient after) and m = U delta*. The outer flow
answers every change of m at once: U = U0 + D m, D dense. Walking down each layer, momentum and stress equations give
the changes of theta and s at a station as a row over all changes of m; what the shape equation then says is one dense
system for m alone, as large as there are stations. Every sweep is one such solve: nothing is iterated between layer
and outer flow, so separation is nothing special. Worked out here; the idea of solving both at once is that of
drela-giles-1987.

Stations: middles of the n panels of the section along the walk, then of the w panels of the wake. Two layers start at
the stagnation point between stations k and k + 1: theta there from thwaites-1949, theta^2 = 0.075/(re dU/dx), H = 2.24.

Symbols as in closure.py. re: Reynolds number on chord.
"""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sparwright.air.flow.closure import ONSET, layer, quick
from sparwright.air.flow.interval import across, between, growth, turning, wave_rate_at

FRONT = 2.24  # H at the stagnation point, of the laminar relations with Hs (1 - H) + ... = 0; hiemenz-1911 has 2.216
CALM = 0.075  # theta^2 re dU/dx there, thwaites-1949
LESS, MORE = -0.4, 1.0  # greatest relative change of a thickness in one sweep
NUDGE = 1e-6
STRIDE = 1  # stations by which the flow's turning place may move in one sweep


@quick
def strengths(m: np.ndarray, k: int, apart: np.ndarray, away: np.ndarray, n: int) -> np.ndarray:
    """(n + 1 + w + 1,) sources at the nodes from m (n + w,). apart (n + 1,), away (w + 1,): distances of neighbours."""
    w = len(m) - n
    out = np.zeros(n + w + 2)
    for j in range(1, n):
        if j <= k:
            out[j] = (m[j - 1] - m[j]) / apart[j]
        elif j == k + 1:
            out[j] = (m[j - 1] + m[j]) / apart[j]
        else:
            out[j] = (m[j] - m[j - 1]) / apart[j]
    out[0], out[n] = out[1], out[n - 1]
    out[n + 1] = (m[n] - m[0] - m[n - 1]) / away[0]
    for j in range(1, w):
        out[n + 1 + j] = (m[n + j] - m[n + j - 1]) / away[j]
    out[n + 1 + w] = out[n + w]
    return out


@quick
def response(source: np.ndarray, k: int, apart: np.ndarray, away: np.ndarray, n: int) -> np.ndarray:
    """(n + w, n + w) change of U with m: `strengths` as a matrix, after `source`, each row in its own direction."""
    size = source.shape[0]
    w = size - n
    D = np.zeros((size, size))
    for i in range(size):
        sign = -1.0 if i <= k else 1.0
        row = source[i] * sign
        out = D[i]
        for j in range(1, n):
            c = row[j]
            if j == 1:
                c += row[0]
            if j == n - 1:
                c += row[n]
            c /= apart[j]
            if j <= k:
                out[j - 1] += c
                out[j] -= c
            elif j == k + 1:
                out[j - 1] += c
                out[j] += c
            else:
                out[j] += c
                out[j - 1] -= c
        c = row[n + 1] / away[0]
        out[n] += c
        out[0] -= c
        out[n - 1] -= c
        for j in range(1, w):
            c = row[n + 1 + j]
            if j == w - 1:
                c += row[n + 1 + w]
            c /= away[j]
            out[n + j] += c
            out[n + j - 1] -= c
    return D


@quick
def jacobian(kind: int, a: np.ndarray, b: np.ndarray, dx: float, re: float, held: float, critical: float,
             trip: float) -> tuple[Any, ...]:  # fmt: skip
    """(residuals (3,), their slopes (3, 8)) of an interval; kind 3 is the one that turns turbulent."""
    r = np.empty(3)
    J = np.empty((3, 8))
    r[0], r[1], r[2] = residual(kind, a, b, dx, re, held, critical, trip)
    for i in range(8):
        end = a if i < 4 else b
        j = i % 4
        old = end[j]
        h = NUDGE * max(abs(old), 1e-9)
        if j == 2 and kind in (0, 3) and i < 4 or j == 2 and kind == 0:
            h = NUDGE
        end[j] = old + h
        x, y, z = residual(kind, a, b, dx, re, held, critical, trip)
        end[j] = old
        J[0, i], J[1, i], J[2, i] = (x - r[0]) / h, (y - r[1]) / h, (z - r[2]) / h
    return r, J


@quick
def residual(kind: int, a: np.ndarray, b: np.ndarray, dx: float, re: float, held: float, critical: float,
             trip: float) -> tuple[Any, ...]:  # fmt: skip
    """The three residuals of an interval of any kind."""
    if kind == 3:
        return across(a, b, dx, re, held, critical, trip)
    return between(kind, a, b, dx, re, held)


@quick
def forced(x: np.ndarray, chain: np.ndarray, p: int, at: float) -> float:
    """Where in the interval from station p - 1 to p of a chain the trip at x = `at` lies; 2 when not in it."""
    if at >= 1.0:
        return 2.0
    xa, xb = x[chain[p - 1]], x[chain[p]]
    if p == 1 and xa > at:
        return 0.0
    if xa <= at < xb:
        return (at - xa) / (xb - xa)
    return 2.0


@quick
def mark(chain: np.ndarray, kinds: np.ndarray, state: np.ndarray, m: np.ndarray, x: np.ndarray, gaps: np.ndarray,
         re: float, critical: float, at: float, before: int, firm: float) -> tuple[Any, ...]:  # fmt: skip
    """Work out n down a chain and say at which position of it the flow is first turbulent (its length: nowhere).

    before: the answer of the last sweep, 0 for none; the place moves by no more than STRIDE from there, and stays where
    n at its end misses the critical value by no more than the part `firm` of what an interval adds: else it could swing
    for ever between two intervals, each the other's consequence. Also gives the trip's place there (2: none).
    kinds of the stations are set, and s where a station has changed.
    """
    state[chain[0], 2] = 0.0
    kinds[chain[0]] = 0
    first, trip = len(chain), 2.0
    least = max(before - STRIDE, 1) if before > 0 else 1
    most = min(before + STRIDE, len(chain)) if before > 0 else len(chain)
    for p in range(1, len(chain)):
        a, b = state[chain[p - 1]], state[chain[p]]
        trip = forced(x, chain, p, at)
        held = wave_rate_at(state[chain[p - 2]], re) if p > 1 else 0.0
        more = growth(a, held, re) * gaps[p]
        n, spare = a[2] + more, firm * max(more, 0.24 * critical)
        if p >= least and turning(a, held, gaps[p], re, critical, trip) <= 1.0:
            if not (p == before - 1 and p + 1 < len(chain) and trip > 1.0 and n < critical + spare):
                first = p
        elif p >= most or (p == before and n > critical - spare):
            first, trip = p, 1.0
        if first == p:
            break
        b[2] = n
        if kinds[chain[p]] == 1:  # a layer that is laminar again starts from the one before it
            b[0], b[1], kinds[chain[p]] = a[0], a[1], 0
            m[chain[p]] = b[1] * b[3]
    near = 0.05
    for p in range(first, len(chain)):
        if kinds[chain[p]] == 1:
            near = state[chain[p], 2]
            break
    for p in range(first, len(chain)):
        i = chain[p]
        if kinds[i] != 1:
            kinds[i] = 1
            state[i, 2] = near
    return first, trip


@quick
def sweep(state: np.ndarray, m: np.ndarray, kinds: np.ndarray, k: int, D: np.ndarray, x: np.ndarray, apart: np.ndarray,
          away: np.ndarray, n: int, re: float, critical: float, trips: np.ndarray, before: np.ndarray,
          e: np.ndarray, firm: float) -> tuple[Any, ...]:  # fmt: skip
    """One Newton step: (changes (n + w, 4) of theta, delta*, s, U; change of m; greatest scaled residual)."""
    size = len(m)
    w = size - n
    T, S = np.zeros((size, size)), np.zeros((size, size))
    t, c = np.zeros(size), np.zeros(size)
    M, rhs = np.zeros((size, size)), np.zeros(size)
    worst = 0.0
    slope = (state[k, 3] + state[k + 1, 3]) / apart[k + 1]
    calm = math.sqrt(CALM / (re * slope))
    firsts = np.zeros(3, np.int64)
    for side in range(2):
        chain = np.arange(k, -1, -1) if side == 0 else np.arange(k + 1, n)
        gaps = np.zeros(len(chain))
        for p in range(1, len(chain)):
            gaps[p] = apart[max(chain[p], chain[p - 1])]
        first, trip = mark(chain, kinds, state, m, x, gaps, re, critical, trips[side], before[side], firm)
        firsts[side] = first
        i = chain[0]
        T[i] = -0.5 * calm / slope / apart[k + 1] * (D[k] + D[k + 1])
        t[i] = calm - state[i, 0] - 0.5 * calm / slope / apart[k + 1] * (e[k] + e[k + 1])
        U, theta = state[i, 3], state[i, 0]
        M[i] = -FRONT * (U * T[i] + theta * D[i])
        M[i, i] += 1.0
        rhs[i] = -(m[i] - FRONT * theta * U) + FRONT * (U * t[i] + theta * e[i])
        worst = max(worst, abs(t[i]) / theta)
        for p in range(1, len(chain)):
            i, j = chain[p - 1], chain[p]
            held = wave_rate_at(state[chain[p - 2]], re) if 1 < p <= first else 0.0
            kind = 0 if p < first else (3 if p == first else 1)
            r, J = jacobian(kind, state[i], state[j], gaps[p], re, held, critical, trip)
            if kind == 3:
                J[2, 2] *= 1.0
            row = np.zeros((3, size))
            const = np.zeros(3)
            for q in range(3):
                row[q] += J[q, 0] * T[i] + J[q, 2] * S[i]
                const[q] = r[q] + J[q, 0] * t[i] + J[q, 2] * c[i]
                const[q] += add(row[q], J[q], 0, state[i], i, D) * e[i] + add(row[q], J[q], 4, state[j], j, D) * e[j]
            close(J, row, const, j, T, S, t, c, M, rhs)
            worst = max(worst, abs(r[0]) / (state[j, 0] * state[j, 3] ** 2), abs(r[1]) / (state[j, 0] * state[j, 3]))
    up, low = 0, n - 1
    for p in range(w):
        j = n + p
        row = np.zeros((3, size))
        const = np.zeros(3)
        if p == 0:
            a = joined(state[up], state[low], kinds[up], kinds[low], re)
            r, J = jacobian(2, a, state[j], away[0], re, 0.0, critical, 2.0)
            for q in range(3):
                for i in (up, low):
                    share = 0.5
                    row[q] += J[q, 0] * T[i] + J[q, 3] * share * D[i]
                    row[q] += J[q, 1] * (-state[i, 1] / state[i, 3]) * D[i]
                    const[q] += (J[q, 3] * share - J[q, 1] * state[i, 1] / state[i, 3]) * e[i]
                    row[q, i] += J[q, 1] / state[i, 3]
                    if kinds[i] == 1:
                        row[q] += J[q, 2] * state[i, 0] / a[0] * S[i]
            const += r + J[:, 0] * (t[up] + t[low])
            for i in (up, low):
                if kinds[i] == 1:
                    const += J[:, 2] * state[i, 0] / a[0] * c[i]
        else:
            i = j - 1
            r, J = jacobian(2, state[i], state[j], away[p], re, 0.0, critical, 2.0)
            for q in range(3):
                row[q] += J[q, 0] * T[i] + J[q, 2] * S[i]
                const[q] = r[q] + J[q, 0] * t[i] + J[q, 2] * c[i] + add(row[q], J[q], 0, state[i], i, D) * e[i]
        for q in range(3):
            const[q] += add(row[q], J[q], 4, state[j], j, D) * e[j]
        close(J, row, const, j, T, S, t, c, M, rhs)
        worst = max(worst, abs(r[0]) / state[j, 0], abs(r[1]) / state[j, 0])
    change = np.zeros((size, 4))
    if not (np.all(np.isfinite(M)) and np.all(np.isfinite(rhs))):
        change[0, 0] = math.nan
        return change, rhs, 1e9, firsts
    dm = np.linalg.solve(M, rhs)
    change[:, 0] = t + T @ dm
    change[:, 2] = c + S @ dm
    change[:, 3] = D @ dm + e
    for i in range(size):
        change[i, 1] = (dm[i] - state[i, 1] * change[i, 3]) / state[i, 3]
    return change, dm, worst, firsts


@quick
def add(row: np.ndarray, J: np.ndarray, at: int, state: np.ndarray, i: int, D: np.ndarray) -> float:
    """Put the slopes of delta* and U at a station into a row over m (delta* = m/U); gives the slope by U alone."""
    by_speed = J[at + 3] - J[at + 1] * state[1] / state[3]
    row += by_speed * D[i]
    row[i] += J[at + 1] / state[3]
    return by_speed


@quick
def close(J: np.ndarray, row: np.ndarray, const: np.ndarray, j: int, T: np.ndarray, S: np.ndarray, t: np.ndarray,
          c: np.ndarray, M: np.ndarray, rhs: np.ndarray) -> None:  # fmt: skip
    """Solve momentum and stress for theta and s of station j; the shape equation becomes row j of the dense system."""
    det = J[0, 4] * J[2, 6] - J[0, 6] * J[2, 4]
    aa, ab, ba, bb = -J[2, 6] / det, J[0, 6] / det, J[2, 4] / det, -J[0, 4] / det
    T[j] = aa * row[0] + ab * row[2]
    S[j] = ba * row[0] + bb * row[2]
    t[j] = aa * const[0] + ab * const[2]
    c[j] = ba * const[0] + bb * const[2]
    scale = 1.0
    M[j] = (row[1] + J[1, 4] * T[j] + J[1, 6] * S[j]) * scale
    rhs[j] = -(const[1] + J[1, 4] * t[j] + J[1, 6] * c[j]) * scale


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


@quick
def place(state: np.ndarray, m: np.ndarray, kinds: np.ndarray, k: int, apart: np.ndarray, n: int, re: float) -> int:
    """Find the stagnation point again from U and delta* from m; a station that changes sides starts anew."""
    while k > 4 and state[k, 3] <= 0.0:
        state[k, 3], kinds[k], state[k, 2] = -state[k, 3], -1, 0.0
        k -= 1
    while k < n - 6 and state[k + 1, 3] <= 0.0:
        state[k + 1, 3], kinds[k + 1], state[k + 1, 2] = -state[k + 1, 3], -1, 0.0
        k += 1
    slope = (state[k, 3] + state[k + 1, 3]) / apart[k + 1]
    calm = math.sqrt(CALM / (re * max(slope, 1e-3)))
    for i in range(len(m)):
        state[i, 3] = max(state[i, 3], 1e-4)
        if kinds[i] == -1:
            state[i, 0], m[i], kinds[i] = calm, FRONT * calm * state[i, 3], 0
        least = 1.05 if i < n else 1.00005
        m[i] = max(m[i], least * state[i, 0] * state[i, 3])
        state[i, 1] = m[i] / state[i, 3]
    return k
