"""Where each layer turns turbulent: by its waves, or at a trip.

Symbols as in closure.py. A place is a position in a layer's chain of stations: the interval that ends there turns.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from sparwright.air.flow.closure import quick
from sparwright.air.flow.interval import growth, turning, wave_rate_at
from sparwright.air.flow.stations import Layers, Setting

STRIDE = 1  # stations by which the place may move in one sweep


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
def mark(now: Layers, chain: np.ndarray, at: Setting, side: int, before: int, firm: float) -> tuple[Any, ...]:
    """Work out n down a chain and say at which position of it the flow is first turbulent (its length: nowhere).

    before: the answer of the last sweep, 0 for none; the place moves by no more than STRIDE from there, and stays where
    n at its end misses the critical value by no more than the part `firm` of what an interval adds: else it could swing
    for ever between two intervals, each the other's consequence. Also gives the trip's place there (2: none).
    kinds of the stations are set, and s where a station has changed.
    """
    state, m, kinds = now
    state[chain[0], 2] = 0.0
    kinds[chain[0]] = 0
    first, trip = len(chain), 2.0
    least = max(before - STRIDE, 1) if before > 0 else 1
    most = min(before + STRIDE, len(chain)) if before > 0 else len(chain)
    for p in range(1, len(chain)):
        a, b = state[chain[p - 1]], state[chain[p]]
        trip = forced(at.x, chain, p, at.trips[side])
        held = wave_rate_at(state[chain[p - 2]], at.re) if p > 1 else 0.0
        gap = at.apart[max(chain[p], chain[p - 1])]
        more = growth(a, held, at.re) * gap
        n, spare = a[2] + more, firm * max(more, 0.24 * at.critical)
        if p >= least and turning(a, held, gap, at.re, at.critical, trip) <= 1.0:
            if not (p == before - 1 and p + 1 < len(chain) and trip > 1.0 and n < at.critical + spare):
                first = p
        elif p >= most or (p == before and n > at.critical - spare):
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
def first_of(kinds: np.ndarray, chain: np.ndarray) -> int:
    """Position of the first turbulent station of a chain."""
    for p in range(1, len(chain)):
        if kinds[chain[p]] == 1:
            return p
    return len(chain)
