"""From any start to a settled flow: walks down the layers, then Newton's method, and again if that fails."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sparwright.air.flow.closure import layer, quick
from sparwright.air.flow.coupled import LESS, MORE, place, response, strengths, sweep
from sparwright.air.flow.march import march

FAR = (-1.0, 3.0)  # relative changes of a thickness for which the whole sweep is shortened
THIN = 0.4  # part of H - 1 that must be left after a sweep
FIRM = (0.5, 1.2)  # parts of an interval by which the turning place may miss and stay: after 6 sweeps, after 13


@quick
def settle(state: np.ndarray, m: np.ndarray, kinds: np.ndarray, k: int, base: np.ndarray, source: np.ndarray,
           x: np.ndarray, apart: np.ndarray, away: np.ndarray, n: int, re: float, critical: float, trips: np.ndarray,
           most: int, enough: float, start: np.ndarray, bold: bool) -> tuple[Any, ...]:  # fmt: skip
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
        most_far = FAR if bold else (LESS, MORE)
        for i in range(size):
            if not (math.isfinite(steps[i, 0]) and math.isfinite(steps[i, 1]) and math.isfinite(steps[i, 2])):
                return k, count, 1e9, 1e9, firsts
            change = max(change, abs(steps[i, 3]), abs(steps[i, 0]) / state[i, 0])
            part = min(part, 0.3 / max(abs(steps[i, 3]), 1e-9))
            if i != k and i != k + 1:
                change = max(change, abs(steps[i, 1]) / state[i, 1])
            if kinds[i] != 0:
                change = max(change, abs(steps[i, 2]) / state[i, 2])
            for q in range(2):
                if q == 1 and (i == k or i == k + 1):
                    continue
                rel = steps[i, q] / state[i, q]
                if rel > most_far[1]:
                    part = min(part, most_far[1] / rel)
                elif rel < most_far[0]:
                    part = min(part, most_far[0] / rel)
            if not bold and kinds[i] != 0:
                part = min(part, MORE * state[i, 2] / max(abs(steps[i, 2]), 1e-9))
        for i in range(size):
            theta, mass, H = state[i, 0], m[i], state[i, 1] / state[i, 0]
            state[i, 0] = min(max(theta + part * steps[i, 0], (1.0 + LESS) * theta), (1.0 + MORE) * theta)
            state[i, 3] += part * steps[i, 3]
            m[i] = min(max(mass + part * dm[i], (1.0 + LESS) * mass), (1.0 + MORE) * mass)
            if i < n and i != k and i != k + 1 and state[i, 3] > 0:  # not more than part way to no shape at all
                m[i] = max(m[i], ((H - 1.0) * THIN + 1.0) * state[i, 0] * state[i, 3])
            if kinds[i] != 0:
                s = state[i, 2]
                state[i, 2] = min(max(s + part * steps[i, 2], 0.5 * s, 1e-4), 2.0 * s, 0.5)
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
          fresh: bool, walk: bool, bold: bool, most: int, enough: float) -> tuple[Any, ...]:  # fmt: skip
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
        state, m, kinds, k, base, source, x, apart, away, n, re, critical, trips, most, enough, firsts, bold
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
