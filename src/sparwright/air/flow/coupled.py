"""Boundary layers, wake and outer flow solved together by Newton's method.

A station knows theta, s (n while laminar, root of the stress coefficient after) and m = U delta*. The outer flow
answers every change of m at once: U = U0 + D m, D dense. Walking down each layer, momentum and stress equations give
the changes of theta and s at a station as a row over all changes of m; what the shape equation then says is one dense
system for m alone, as large as there are stations. Every sweep is one such solve: nothing is iterated between layer
and outer flow, so separation is nothing special. Worked out here; the idea of solving both at once is that of
drela-giles-1987.

At the stagnation point theta is that of thwaites-1949, theta^2 = 0.075/(re dU/dx), and H = 2.24.

Symbols as in closure.py, stations as in stations.py.
"""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np

from sparwright.air.flow.closure import layer, quick
from sparwright.air.flow.interval import jacobian, wave_rate_at
from sparwright.air.flow.stations import CALM, FRONT, Layers, Setting, chain_of, joined, outer
from sparwright.air.flow.turn import mark


class System(NamedTuple):
    """Changes of theta and s as rows over all changes of m, and the dense system for those."""

    T: np.ndarray  # (stations, stations)
    S: np.ndarray
    t: np.ndarray  # (stations,) the parts that do not hang on m
    c: np.ndarray
    M: np.ndarray
    rhs: np.ndarray


@quick
def sweep(now: Layers, k: int, D: np.ndarray, at: Setting, before: np.ndarray, firm: float,
          pace: float) -> tuple[Any, ...]:  # fmt: skip
    """One Newton step: (changes (n + w, 4) of theta, delta*, s, U; change of m; greatest scaled residual; places).

    pace: 0, or how slowly the layers follow (`waited`).
    """
    state, m, kinds = now
    size = len(m)
    square, line = (size, size), size
    rows = System(np.zeros(square), np.zeros(square), np.zeros(line), np.zeros(line), np.zeros(square), np.zeros(line))
    e = outer(m, k, at) - state[:, 3]
    firsts = np.zeros(2, np.int64)
    worst = 0.0
    for side in range(2):
        chain = chain_of(side, k, at.n)
        first, trip = mark(now, chain, at, side, before[side], firm)
        firsts[side] = first
        worst = max(worst, begin_layer(rows, state, m, k, chain[0], D, at, e))
        worst = max(worst, down_layer(rows, state, chain, first, trip, D, at, e, pace))
    worst = max(worst, down_wake(rows, state, kinds, D, at, e, pace))
    change, dm = solved(rows, state, D, e)
    return change, dm, worst, firsts


@quick
def begin_layer(rows: System, state: np.ndarray, m: np.ndarray, k: int, i: int, D: np.ndarray, at: Setting,
                e: np.ndarray) -> float:  # fmt: skip
    """The first station of a layer: theta from dU/dx at the stagnation point, m = H theta U. Gives its residual."""
    slope = (state[k, 3] + state[k + 1, 3]) / at.apart[k + 1]
    calm = math.sqrt(CALM / (at.re * slope))
    by_speed = -0.5 * calm / slope / at.apart[k + 1]
    U, theta = state[i, 3], state[i, 0]
    rows.T[i] = by_speed * (D[k] + D[k + 1])
    rows.t[i] = calm - theta + by_speed * (e[k] + e[k + 1])
    rows.M[i] = -FRONT * (U * rows.T[i] + theta * D[i])
    rows.M[i, i] += 1.0
    rows.rhs[i] = -(m[i] - FRONT * theta * U) + FRONT * (U * rows.t[i] + theta * e[i])
    return abs(rows.t[i]) / theta


@quick
def down_layer(rows: System, state: np.ndarray, chain: np.ndarray, first: int, trip: float, D: np.ndarray, at: Setting,
               e: np.ndarray, pace: float) -> float:  # fmt: skip
    """All intervals of one layer, from the stagnation point to the tail. Gives the greatest scaled residual."""
    worst = 0.0
    for p in range(1, len(chain)):
        i, j = chain[p - 1], chain[p]
        held = wave_rate_at(state[chain[p - 2]], at.re) if 1 < p <= first else 0.0
        kind = 0 if p < first else (3 if p == first else 1)
        r, J = jacobian(kind, state[i], state[j], at.apart[max(i, j)], at.re, held, at.critical, trip)
        waited(J, kind, state[j], pace, at.re)
        row, const = carried(rows, J, r, state, i, j, D, e)
        close(rows, J, row, const, j)
        worst = max(worst, abs(r[0]) / (state[j, 0] * state[j, 3] ** 2), abs(r[1]) / (state[j, 0] * state[j, 3]))
    return worst


@quick
def down_wake(rows: System, state: np.ndarray, kinds: np.ndarray, D: np.ndarray, at: Setting, e: np.ndarray,
              pace: float) -> float:  # fmt: skip
    """All intervals of the wake; the first one starts from both layers at the tail. Gives the greatest residual."""
    n, worst = at.n, 0.0
    for j in range(n, len(state)):
        if j == n:
            a = joined(state[0], state[n - 1], kinds[0], kinds[n - 1], at.re)
            r, J = jacobian(2, a, state[j], at.away[0], at.re, 0.0, at.critical, 2.0)
            waited(J, 2, state[j], pace, at.re)
            row, const = from_both(rows, J, r, a, state, kinds, n, D, e)
        else:
            r, J = jacobian(2, state[j - 1], state[j], at.away[j - n], at.re, 0.0, at.critical, 2.0)
            waited(J, 2, state[j], pace, at.re)
            row, const = carried(rows, J, r, state, j - 1, j, D, e)
        close(rows, J, row, const, j)
        worst = max(worst, abs(r[0]) / state[j, 0], abs(r[1]) / state[j, 0])
    return worst


@quick
def waited(J: np.ndarray, kind: int, b: np.ndarray, pace: float, re: float) -> None:
    """Add to an interval's slopes what its end does in time: the sweep is then an implicit step of dt = dx/pace.

    Momentum has (U delta*)_t, shape theta_t + (1 - Hs) delta*_t + (2 theta - Hs delta*) U_t/U, stress
    2 delta s_t/(U s), each with the interval's length: the equations of interval.py before their time terms are
    dropped, from the momentum and energy integrals of a layer in unsteady flow; worked out here. What has settled does
    not hang on them.
    """
    if pace == 0.0:
        return
    theta, star, s, U = b[0], b[1], b[2], b[3]
    _, Hs, _, _, _, _, delta = layer(1 if kind == 3 else kind, theta, star, U, s, re)
    J[0, 5] += pace * U
    J[0, 7] += pace * star
    J[1, 4] += pace
    J[1, 5] += pace * (1.0 - Hs)
    J[1, 7] += pace * (2.0 * theta - Hs * star) / U
    if kind != 0:
        J[2, 6] += pace * 2.0 * delta / (U * s) * (0.5 if kind == 2 else 1.0)


@quick
def carried(rows: System, J: np.ndarray, r: np.ndarray, state: np.ndarray, i: int, j: int, D: np.ndarray,
            e: np.ndarray) -> tuple[Any, ...]:  # fmt: skip
    """(rows (3, stations), constants (3,)) of the interval from i to j, all but theta and s of j."""
    row, const = np.zeros((3, len(state))), np.empty(3)
    for q in range(3):
        row[q] = J[q, 0] * rows.T[i] + J[q, 2] * rows.S[i]
        const[q] = r[q] + J[q, 0] * rows.t[i] + J[q, 2] * rows.c[i]
        const[q] += add(row[q], J[q], 0, state[i], i, D) * e[i] + add(row[q], J[q], 4, state[j], j, D) * e[j]
    return row, const


@quick
def from_both(rows: System, J: np.ndarray, r: np.ndarray, a: np.ndarray, state: np.ndarray, kinds: np.ndarray, n: int,
              D: np.ndarray, e: np.ndarray) -> tuple[Any, ...]:  # fmt: skip
    """The same of the wake's first interval, whose start `a` is the sum of the layers at the tail (see `joined`)."""
    row, const = np.zeros((3, len(state))), r.copy()
    for q in range(3):
        for i in (0, n - 1):
            by_speed = 0.5 * J[q, 3] - J[q, 1] * state[i, 1] / state[i, 3]
            row[q] += J[q, 0] * rows.T[i] + by_speed * D[i]
            row[q, i] += J[q, 1] / state[i, 3]
            const[q] += J[q, 0] * rows.t[i] + by_speed * e[i]
            if kinds[i] == 1:
                share = J[q, 2] * state[i, 0] / a[0]
                row[q] += share * rows.S[i]
                const[q] += share * rows.c[i]
        const[q] += add(row[q], J[q], 4, state[n], n, D) * e[n]
    return row, const


@quick
def solved(rows: System, state: np.ndarray, D: np.ndarray, e: np.ndarray) -> tuple[Any, ...]:
    """(changes (stations, 4), change of m) from the dense system; NaN when it holds what is not finite."""
    change = np.full((len(state), 4), math.nan)
    if not (np.all(np.isfinite(rows.M)) and np.all(np.isfinite(rows.rhs))):
        return change, rows.rhs
    dm = np.linalg.solve(rows.M, rows.rhs)
    change[:, 0] = rows.t + rows.T @ dm
    change[:, 2] = rows.c + rows.S @ dm
    change[:, 3] = D @ dm + e
    change[:, 1] = (dm - state[:, 1] * change[:, 3]) / state[:, 3]
    return change, dm


@quick
def add(row: np.ndarray, J: np.ndarray, at: int, state: np.ndarray, i: int, D: np.ndarray) -> float:
    """Put the slopes of delta* and U at a station into a row over m (delta* = m/U); gives the slope by U alone."""
    by_speed = J[at + 3] - J[at + 1] * state[1] / state[3]
    row += by_speed * D[i]
    row[i] += J[at + 1] / state[3]
    return by_speed


@quick
def close(rows: System, J: np.ndarray, row: np.ndarray, const: np.ndarray, j: int) -> None:
    """Solve momentum and stress for theta and s of station j; the shape equation becomes row j of the dense system."""
    det = J[0, 4] * J[2, 6] - J[0, 6] * J[2, 4]
    aa, ab, ba, bb = -J[2, 6] / det, J[0, 6] / det, J[2, 4] / det, -J[0, 4] / det
    rows.T[j] = aa * row[0] + ab * row[2]
    rows.S[j] = ba * row[0] + bb * row[2]
    rows.t[j] = aa * const[0] + ab * const[2]
    rows.c[j] = ba * const[0] + bb * const[2]
    rows.M[j] = row[1] + J[1, 4] * rows.T[j] + J[1, 6] * rows.S[j]
    rows.rhs[j] = -(const[1] + J[1, 4] * rows.t[j] + J[1, 6] * rows.c[j])
