"""From any start to a settled flow: a walk down the layers, then Newton's method with its steps held back."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from sparwright.air.flow.closure import layer, quick
from sparwright.air.flow.coupled import sweep
from sparwright.air.flow.march import march
from sparwright.air.flow.stations import Layers, Setting, chain_of, outer, place, response
from sparwright.air.flow.turn import first_of

LESS, MORE = -0.4, 1.0  # greatest relative change of a thickness in one sweep
FAR = (-1.0, 3.0)  # the same for which the whole sweep is shortened, when steps are bold
FAST = 0.3  # greatest change of U in one sweep
THIN = 0.4  # part of H - 1 that must be left after a sweep
FLIPS = (2, 6)  # times the place has turned back
FIRM = (0.5, 1.2)  # parts of an interval by which the turning place may miss and stay
PLAIN, BOLD, IN_TIME, BOLD_IN_TIME, PATIENT = 0, 1, 2, 3, 4  # ways of `solve`
BEGIN, SLOWEST, DONE = 0.5, 10.0, 0.001  # pace: intervals a flow takes to pass in a sweep's time are 1/pace
TOO_FAR, EASY = 0.8, 0.3  # changes for which PATIENT sweeps again, and from which its pace drops
LOST = 1e9  # a change that says there is no answer


@quick
def solve(
    now: Layers, k: int, at: Setting, fresh: bool, walk: bool, way: int, most: int, enough: float
) -> tuple[Any, ...]:
    """A walk and Newton: (k, sweeps, last change, last residual, places where the flow turns (2,)).

    fresh: the layers hold nothing yet; the walk then follows the outer flow without layers. walk: False to keep the
    layers of the neighbour as they are; the first sweep is then the tangent from there. Layers change in place.

    way: PLAIN, or BOLD with longer steps; IN_TIME, each sweep a step in time of the layers (coupled.waited) that
    grows as they come to rest, BOLD_IN_TIME with longer steps, PATIENT with sweeps done again when they go too far.
    """
    if fresh:
        k = 0
        while k < at.n - 2 and at.base[k + 1] < 0:
            k += 1
        now.state[:, 3] = np.maximum(np.abs(at.base), 1e-3)
    elif walk:
        now.state[:, 3] = outer(now.mass, k, at)
        k = place(now, k, at)
    if walk:
        firsts = march(now, k, at)
    else:
        firsts = np.array([first_of(now.kinds, chain_of(side, k, at.n)) for side in range(2)])
    return settle(now, k, at, firsts, way, most, enough)


@quick
def settle(now: Layers, k: int, at: Setting, firsts: np.ndarray, way: int, most: int, enough: float) -> tuple[Any, ...]:
    """Sweeps until nothing changes by more than `enough`: (k, sweeps, last change, last residual, places)."""
    k = place(now, k, at)
    D = response(k, at)
    change, worst, pace = LOST, LOST, 0.0 if way <= BOLD else BEGIN
    moved, turns = np.zeros(2, np.int64), 0
    for count in range(most):
        firm = 0.0 if turns < FLIPS[0] else (FIRM[0] if turns < FLIPS[1] else FIRM[1])
        last = firsts.copy()
        steps, dm, worst, firsts = sweep(now, k, D, at, firsts, firm, pace)
        turns += turned_back(moved, last, firsts)
        change = greatest(now, steps, k)
        if change >= LOST:
            return k, count, LOST, LOST, firsts
        if way == PATIENT and change > TOO_FAR and pace < SLOWEST:
            pace = min(max(4.0 * pace, DONE), SLOWEST)  # the same sweep again, in a shorter time
            continue
        part = part_of(now, steps, k, way == BOLD or way == BOLD_IN_TIME)
        pace = next_pace(pace, way, part, change)
        step(now, steps, dm, k, at.n, part)
        old = k
        k = place(now, k, at)
        if k != old:
            D = response(k, at)
        elif change < enough and pace == 0.0:
            return k, count + 1, change, worst, firsts
    return k, most, change, worst, firsts


@quick
def turned_back(moved: np.ndarray, last: np.ndarray, firsts: np.ndarray) -> int:
    """How many of the two places where the flow turns went back on their last move, which is kept in `moved`."""
    out = 0
    for side in range(2):
        move = firsts[side] - last[side]
        if move * moved[side] < 0:
            out += 1
        if move != 0:
            moved[side] = move
    return out


@quick
def next_pace(pace: float, way: int, part: float, change: float) -> float:
    """The pace of the next sweep: slower after one that had to be shortened, towards nothing (plain Newton) else."""
    if way <= BOLD:
        return 0.0
    if way == PATIENT:
        pace *= min(max(change / EASY, 0.3), 1.0)
    elif part < 0.99:
        return min(max(2.0 * pace, DONE), SLOWEST)
    else:
        pace *= 0.5
    return pace if pace > DONE else 0.0


@quick
def greatest(now: Layers, steps: np.ndarray, k: int) -> float:
    """The greatest relative change a sweep asks for (of U: over flight speed); LOST when one is not finite."""
    out = 0.0
    for i in range(len(steps)):
        if not (math.isfinite(steps[i, 0]) and math.isfinite(steps[i, 1]) and math.isfinite(steps[i, 2])):
            return LOST
        out = max(out, abs(steps[i, 3]), abs(steps[i, 0]) / now.state[i, 0])
        if i != k and i != k + 1:  # there delta* follows from theta
            out = max(out, abs(steps[i, 1]) / now.state[i, 1])
        if now.kinds[i] != 0:
            out = max(out, abs(steps[i, 2]) / now.state[i, 2])
    return min(out, 0.99 * LOST)


@quick
def part_of(now: Layers, steps: np.ndarray, k: int, bold: bool) -> float:
    """How much of a sweep to take, 0 to 1, so that no station changes by more than the limits above."""
    part, low, high = 1.0, FAR[0] if bold else LESS, FAR[1] if bold else MORE
    for i in range(len(steps)):
        part = min(part, FAST / max(abs(steps[i, 3]), 1e-9))
        for q in range(2):
            if q == 1 and (i == k or i == k + 1):
                continue
            rel = steps[i, q] / now.state[i, q]
            if rel > high:
                part = min(part, high / rel)
            elif rel < low:
                part = min(part, low / rel)
        if not bold and now.kinds[i] != 0:
            part = min(part, MORE * now.state[i, 2] / max(abs(steps[i, 2]), 1e-9))
    return part


@quick
def step(now: Layers, steps: np.ndarray, dm: np.ndarray, k: int, n: int, part: float) -> None:
    """Take a part of a sweep, each station held to its own limits besides."""
    state, m, kinds = now
    for i in range(len(m)):
        theta, star, H = state[i, 0], state[i, 1], state[i, 1] / state[i, 0]
        state[i, 0] = min(max(theta + part * steps[i, 0], (1.0 + LESS) * theta), (1.0 + MORE) * theta)
        state[i, 3] += part * steps[i, 3]
        star = min(max(star + part * steps[i, 1], (1.0 + LESS) * star), (1.0 + MORE) * star)
        m[i] = star * state[i, 3]
        if i < n and i != k and i != k + 1 and state[i, 3] > 0:  # not more than part way to no shape at all
            m[i] = max(m[i], ((H - 1.0) * THIN + 1.0) * state[i, 0] * state[i, 3])
        if kinds[i] != 0:
            s = state[i, 2]
            state[i, 2] = min(max(s + part * steps[i, 2], 0.5 * s, 1e-4), 2.0 * s, 0.5)


@quick
def friction(now: Layers, re: float) -> np.ndarray:
    """(stations,) friction coefficient of each layer, over its own edge's dynamic pressure."""
    state, kinds = now.state, now.kinds
    out = np.empty(len(kinds))
    for i in range(len(kinds)):
        out[i] = layer(kinds[i], state[i, 0], state[i, 1], state[i, 3], state[i, 2], re)[2]
    return out
