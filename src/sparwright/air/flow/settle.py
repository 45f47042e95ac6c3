"""From any start to a settled flow: walks down the layers, then Newton's method, and again if that fails."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sparwright.air.flow.closure import layer, quick
from sparwright.air.flow.coupled import LESS, MORE, place, response, strengths, sweep
from sparwright.air.flow.march import march

THIN = 0.4  # part of H - 1 that must be left after a sweep
FIRM = (0.5, 1.2)  # parts of an interval by which the turning place may miss and stay: after 6 sweeps, after 13


@quick
def settle(state: np.ndarray, m: np.ndarray, kinds: np.ndarray, k: int, base: np.ndarray, source: np.ndarray,
           x: np.ndarray, apart: np.ndarray, away: np.ndarray, n: int, re: float, critical: float, trips: np.ndarray,
           most: int, enough: float, start: np.ndarray) -> tuple[Any, ...]:  # fmt: skip
    """Sweeps until nothing changes by more than `enough`: (k, sweeps, last change, last residual, first turbulent).

    state, m, kinds are changed in place.
    """
    size = len(m)
    k = place(state, m, kinds, k, apart, n, re)
    D = response(source, k, apart, away, n)
    change, worst = 1e9, 1e9
    firsts = start.copy()
    for count in range(most):
        e = outer(m, k, base, source, apart, away, n) - state[:, 3]
        steps, dm, worst, firsts = sweep(
            state,
            m,
            kinds,
            k,
            D,
            x,
            apart,
            away,
            n,
            re,
            critical,
            trips,
            firsts,
            e,
            0.0 if count < 6 else (FIRM[0] if count < 13 else FIRM[1]),
        )
        part, change = 1.0, 0.0
        for i in range(size):
            for q in range(4):
                if q == 3:
                    rel = steps[i, q]
                    change = max(change, abs(rel))
                    if abs(part * rel) > 0.3:
                        part = 0.3 / abs(rel)
                    continue
                if q == 2:
                    if kinds[i] == 0:
                        continue
                if (i == k or i == k + 1) and q == 1:
                    continue
                rel = steps[i, q] / abs(state[i, q])
                if not math.isfinite(rel):
                    return k, count, 1e9, 1e9, firsts
                change = max(change, abs(rel))
                if part * rel > MORE:
                    part = MORE / rel
                if part * rel < LESS:
                    part = LESS / rel
        for i in range(n):  # a layer does not fill out to half its shape in one sweep
            if i != k and i != k + 1 and state[i, 3] > 0:
                H = state[i, 1] / state[i, 0]
                fuller = (H - 1.0) * THIN + 1.0
                for _ in range(12):
                    if state[i, 1] + part * steps[i, 1] >= fuller * (state[i, 0] + part * steps[i, 0]):
                        break
                    part *= 0.8
        m += part * dm
        state[:, 0] += part * steps[:, 0]
        state[:, 3] += part * steps[:, 3]
        for i in range(size):
            if kinds[i] != 0:
                state[i, 2] = min(max(state[i, 2] + part * steps[i, 2], 1e-4), 0.5)
        old = k
        k = place(state, m, kinds, k, apart, n, re)
        if k != old:
            D = response(source, k, apart, away, n)
        elif change < enough:
            return k, count + 1, change, worst, firsts
    return k, most, change, worst, firsts


@quick
def outer(
    m: np.ndarray, k: int, base: np.ndarray, source: np.ndarray, apart: np.ndarray, away: np.ndarray, n: int
) -> np.ndarray:
    """(n + w,) U of the outer flow with the sources of m, each in its layer's direction."""
    q = base + source @ strengths(m, k, apart, away, n)
    q[: k + 1] = -q[: k + 1]
    return q


@quick
def solve(state: np.ndarray, m: np.ndarray, kinds: np.ndarray, k: int, base: np.ndarray, source: np.ndarray,
          x: np.ndarray, apart: np.ndarray, away: np.ndarray, n: int, re: float, critical: float, trips: np.ndarray,
          fresh: bool, walk: bool, most: int, enough: float) -> tuple[Any, ...]:  # fmt: skip
    """A walk and Newton: (k, sweeps, last change, last residual, first turbulent, stations the walk left open).

    fresh: state holds nothing yet; the walk then follows the outer flow without layers. walk: False to keep the layers
    of the neighbour as they are.
    """
    if fresh:
        k = 0
        while k < n - 2 and base[k + 1] < 0:
            k += 1
        state[:, 3] = np.maximum(np.abs(base), 1e-3)
    else:
        state[:, 3] = outer(m, k, base, source, apart, away, n)
        k = place(state, m, kinds, k, apart, n, re)
    left, firsts = 0, np.zeros(3, np.int64)
    if walk:
        left, firsts = march(state, m, kinds, k, x, apart, away, n, re, critical, trips)
    else:
        firsts[0], firsts[1] = first_of(kinds, np.arange(k, -1, -1)), first_of(kinds, np.arange(k + 1, n))
    k, count, change, worst, firsts = settle(
        state, m, kinds, k, base, source, x, apart, away, n, re, critical, trips, most, enough, firsts
    )
    return k, count, change, worst, firsts, left


@quick
def first_of(kinds: np.ndarray, chain: np.ndarray) -> int:
    """Position of the first turbulent station of a chain."""
    for p in range(1, len(chain)):
        if kinds[chain[p]] == 1:
            return p
    return len(chain)


@quick
def layers(state: np.ndarray, kinds: np.ndarray, re: float) -> np.ndarray:
    """(stations,) friction coefficient of each layer, over its own edge's dynamic pressure."""
    out = np.empty(len(kinds))
    for i in range(len(kinds)):
        out[i] = layer(kinds[i], state[i, 0], state[i, 1], state[i, 3], state[i, 2], re)[2]
    return out
