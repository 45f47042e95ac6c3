"""A walk down both layers and the wake along a given outer flow: where Newton's method starts.

Each station is solved in turn for theta, delta* and s (n while laminar) at the given U. Where the layer is about to
part, that has no answer; the shape is then given instead and U is found. Where the flow turns turbulent falls out of
the walk.

Symbols as in closure.py and coupled.py. The steps of H in a separated layer only make a start (ours, no source).
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.air.flow.closure import quick
from sparwright.air.flow.interval import jacobian, turning, wave_rate_at
from sparwright.air.flow.stations import CALM, FRONT, Layers, Setting, chain_of, joined
from sparwright.air.flow.turn import forced

ROUNDS = 25
PARTING = (3.7, 2.5, 8.0)  # H from which the shape is given instead of U: laminar, turbulent, wake


@quick
def station(kind: int, a: np.ndarray, b: np.ndarray, dx: float, re: float, held: float, critical: float, trip: float,
            shape: float) -> bool:  # fmt: skip
    """Solve one interval for b in place: at b's U, or at the shape H when that is above 0. True when it closed."""
    free = 3 if shape > 0.0 else 1  # what is found besides theta and s: U, or delta*
    J, worst = np.empty((3, 3)), 1e9
    for _ in range(ROUNDS):
        if shape > 0.0:
            b[1] = shape * b[0]
        r, slopes = jacobian(kind, a, b, dx, re, held, critical, trip)
        J[:, 0], J[:, 1], J[:, 2] = slopes[:, 4], slopes[:, 6], slopes[:, 4 + free]
        if shape > 0.0:
            J[:, 0] += shape * slopes[:, 5]
        if not (np.all(np.isfinite(J)) and np.all(np.isfinite(r))) or np.linalg.det(J / np.abs(J).max()) == 0.0:
            return False
        step = np.linalg.solve(J, -r)
        theta, s, other = step[0] / b[0], step[1] / b[2] if kind != 0 else 0.0, step[2] / b[free]
        worst = max(abs(theta), abs(s), abs(other))
        part = min(1.0, 0.5 / max(theta, s, other, 0.5), 0.3 / max(-theta, -s, -other, 0.3))
        b[0] += part * step[0]
        b[2] += part * step[1]
        b[free] += part * step[2]
        if kind != 0:
            b[2] = min(max(b[2], 1e-4), 0.5)
        b[1] = shape * b[0] if shape > 0.0 else max(b[1], (1.0001 if kind == 2 else 1.05) * b[0])
        if worst < 1e-5:
            return True
    return worst < 1e-3


@quick
def walk(
    kind: int, a: np.ndarray, b: np.ndarray, dx: float, re: float, held: float, critical: float, trip: float, was: float
) -> None:
    """Solve a station at its U, or, where its layer would part, at a shape: `was` if that is parted, or a step on."""
    U, s = b[3], b[2]
    part = PARTING[0] if kind == 0 else (PARTING[1] if kind != 2 else PARTING[2])
    H = a[1] / a[0]
    b[0], b[1] = a[0], min(H, 0.95 * part) * a[0] if kind != 3 else 1.8 * a[0]
    if was < part and H < 1.5 * part or kind == 2:
        good = station(kind, a, b, dx, re, held, critical, trip, 0.0)
        if good and b[1] < part * b[0]:
            return
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
    if not station(kind, a, b, dx, re, held, critical, trip, shape):
        b[0], b[1], b[2], b[3] = a[0], shape * a[0], a[2] if kind != 3 else 0.05, U


@quick
def march(now: Layers, k: int, at: Setting) -> np.ndarray:
    """One walk along the U in the layers, which change in place: (2,) places where the flow turns."""
    firsts = np.zeros(2, np.int64)
    for side in range(2):
        firsts[side] = down(now, k, side, at)
    state, m, kinds = now
    for j in range(at.n, len(m)):
        a = joined(state[0], state[at.n - 1], kinds[0], kinds[at.n - 1], at.re) if j == at.n else state[j - 1]
        state[j, 2] = a[2]
        walk(2, a, state[j], at.away[j - at.n], at.re, 0.0, at.critical, 2.0, 0.0)
        m[j] = state[j, 1] * state[j, 3]
    return firsts


@quick
def down(now: Layers, k: int, side: int, at: Setting) -> int:
    """Walk down one layer; gives the place where it turns, or the layer's length."""
    state, m, kinds = now
    chain = chain_of(side, k, at.n)
    i = chain[0]
    slope = (state[k, 3] + state[k + 1, 3]) / at.apart[k + 1]
    state[i, 0], state[i, 2], kinds[i] = math.sqrt(CALM / (at.re * slope)), 0.0, 0
    state[i, 1] = FRONT * state[i, 0]
    m[i] = state[i, 1] * state[i, 3]
    first = len(chain)
    for p in range(1, len(chain)):
        i, j = chain[p - 1], chain[p]
        a, b, dx = state[i], state[j], at.apart[max(i, j)]
        trip = forced(at.x, chain, p, at.trips[side])
        held = wave_rate_at(state[chain[p - 2]], at.re) if p > 1 else 0.0
        if first > p and turning(a, held, dx, at.re, at.critical, trip) <= 1.0:
            first = p
        kind = 0 if first > p else (3 if first == p else 1)
        known = kinds[j] == 1
        was = b[1] / b[0] if known and kind != 0 else 0.0
        if kind == 0 or (kind == 1 and not known):
            b[2] = a[2]
        elif not known:
            b[2] = 0.05
        walk(kind, a, b, dx, at.re, held, at.critical, trip, was)
        kinds[j] = 0 if kind == 0 else 1
        m[j] = b[1] * b[3]
    return first
