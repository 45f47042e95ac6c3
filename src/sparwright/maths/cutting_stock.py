"""Lengths out of sticks of one length: the fewest sticks, with a bound that no list can beat.

    minimise sum x_p  with  sum a_ip x_p >= d_i,  x_p whole,  over patterns p with sum a_ip (l_i + k) <= L + k

a_ip: how many of length i the pattern p has; d: how many are wanted; x: sticks cut so; k: kerf; L: clear length of a
stick. Patterns are made as the relaxed problem asks for them: with its prices pi a knapsack gives the pattern of the
greatest worth v. Whatever the prices, pi/v prices every pattern at one or less, so that

    bound = ceil(sum d_i pi_i / max(1, v))

holds by duality without trust in the solver's last digits. The list is the best whole one over the patterns made, and
first fit by falling length where that is no worse; where first fit needs no more than all pieces laid end to end,
nothing is solved. Source: gilmore-gomory-1961, chvatal-1983 chapter 13; the bound in the form of
Farley 1990 (memory, sure of the form). Whole numbers throughout, so lengths are in a small unit.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number

NODES = 20_000  # of the branching: a number and not a time, so that every machine stops at the same place
SURE = 1e-6  # what the sum of prices may be over a whole number by rounding
PASSES = 2000  # patterns made at most; it then still has a list and a bound


@dataclass(frozen=True)
class Cutting:
    """How sticks are cut: each pattern with the number of sticks cut so."""

    patterns: tuple[tuple[tuple[int, ...], int], ...]  # how many of each length, longest patterns first
    bound: int = number("1", "no list needs fewer sticks")
    relaxed: float = number(
        "1", "sticks of the relaxed problem: patterns cut in part, or all pieces end to end where that proves it"
    )

    @property
    def sticks(self) -> int:
        """How many sticks."""
        return sum(n for _, n in self.patterns)

    @property
    def proved(self) -> bool:
        """Whether no list needs fewer."""
        return self.sticks == self.bound


def cut_stock(lengths: Sequence[int], wanted: Sequence[int], stick: int, kerf: int = 0) -> Cutting:
    """The fewest sticks for the lengths wanted.

    lengths (n,), stick, kerf: whole numbers of one unit; wanted (n,) how many of each, one or more. Between two pieces
    lies a kerf, none at the stick's ends. Raises ValueError for a length longer than the stick, or nought.

    >>> cut_stock([45, 36, 31, 14], [97, 610, 395, 211], 100).sticks
    453
    """
    if any(not 0 < length <= stick for length in lengths) or any(n < 1 for n in wanted):
        raise ValueError("every length must be more than nought and no more than the stick, and wanted once or more")
    if not lengths:
        return Cutting((), 0, 0.0)
    sizes, room = [length + kerf for length in lengths], stick + kerf
    plain = first_fit(sizes, wanted, room)
    full = sum(n * size for n, size in zip(wanted, sizes, strict=True)) / room
    if len(plain) == math.ceil(full - SURE):  # no list is shorter than all pieces end to end
        return Cutting(_counted(_trimmed(plain, wanted), sizes), len(plain), full)
    patterns, bound, relaxed = _relaxed(sizes, wanted, room, sorted(set(plain)))
    best = plain
    if len(plain) > bound:
        found = _whole(patterns, wanted)
        best = found if found is not None and len(found) < len(plain) else plain
    return Cutting(_counted(_trimmed(best, wanted), sizes), bound, relaxed)


def first_fit(sizes: Sequence[int], wanted: Sequence[int], room: int) -> list[tuple[int, ...]]:
    """A pattern for each stick: every piece, longest first, into the first stick with room for it."""
    sticks: list[list[int]] = []
    left: list[int] = []
    for i in sorted(range(len(sizes)), key=lambda i: (-sizes[i], i)):
        for _ in range(wanted[i]):
            at = next((s for s, free in enumerate(left) if free >= sizes[i]), len(sticks))
            if at == len(sticks):
                sticks.append([0] * len(sizes))
                left.append(room)
            sticks[at][i] += 1
            left[at] -= sizes[i]
    return [tuple(s) for s in sticks]


def best_pattern(
    worth: Sequence[float], sizes: Sequence[int], wanted: Sequence[int], room: int
) -> tuple[float, tuple[int, ...]]:
    """The greatest worth of one stick, none of a length more often than wanted, and its pattern."""
    best = np.zeros(room + 1)
    takes = []
    for i, size in enumerate(sizes):
        before, take = best.copy(), np.zeros(room + 1, dtype=np.int32)
        for k in range(1, min(wanted[i], room // size) + 1 if worth[i] > 0 else 1):
            value = before[: room + 1 - k * size] + k * worth[i]
            better = value > best[k * size :] + 1e-12
            best[k * size :][better], take[k * size :][better] = value[better], k
        takes.append(take)
    left, pattern = int(np.argmax(best)), [0] * len(sizes)
    top = float(best[left])
    for i in range(len(sizes) - 1, -1, -1):
        pattern[i] = int(takes[i][left])
        left -= pattern[i] * sizes[i]
    return top, tuple(pattern)


def _relaxed(
    sizes: Sequence[int], wanted: Sequence[int], room: int, start: Sequence[tuple[int, ...]]
) -> tuple[list[tuple[int, ...]], int, float]:
    """Patterns, the bound and the relaxed number of sticks."""
    from scipy.optimize import linprog

    patterns, d, bound, relaxed = list(start), np.array(wanted, dtype=float), 0, math.inf
    for _ in range(PASSES):
        answer = linprog(np.ones(len(patterns)), A_ub=-np.array(patterns, dtype=float).T, b_ub=-d, method="highs")
        prices = np.maximum(-answer.ineqlin.marginals, 0.0)
        worth, pattern = best_pattern(prices.tolist(), sizes, wanted, room)
        relaxed = float(answer.fun)
        bound = max(bound, math.ceil(float(d @ prices) / max(1.0, worth) - SURE))
        if worth <= 1 + 1e-9 or pattern in patterns:
            break
        patterns.append(pattern)
    return patterns, max(bound, 1), relaxed


def _whole(patterns: Sequence[tuple[int, ...]], wanted: Sequence[int]) -> list[tuple[int, ...]] | None:
    """The best whole list over these patterns, a pattern for each stick; None where none was found."""
    from scipy.optimize import Bounds, LinearConstraint, milp

    answer = milp(
        np.ones(len(patterns)), integrality=np.ones(len(patterns)), bounds=Bounds(0, np.inf),
        constraints=LinearConstraint(np.array(patterns, dtype=float).T, lb=np.array(wanted, dtype=float)),
        options={"node_limit": NODES, "mip_rel_gap": 0.0},
    )  # fmt: skip
    if answer.x is None:
        return None
    return [p for p, n in zip(patterns, np.rint(answer.x).astype(int), strict=True) for _ in range(n)]


def _trimmed(sticks: Sequence[tuple[int, ...]], wanted: Sequence[int]) -> list[tuple[int, ...]]:
    """The same sticks without what they have more of than is wanted."""
    left, out = list(wanted), []
    for stick in sorted(sticks, key=lambda s: (-sum(s), s)):
        kept = [min(n, free) for n, free in zip(stick, left, strict=True)]
        left = [free - n for n, free in zip(kept, left, strict=True)]
        if any(kept):
            out.append(tuple(kept))
    assert not any(left), "a list leaves out a piece"
    return out


def _counted(sticks: Sequence[tuple[int, ...]], sizes: Sequence[int]) -> tuple[tuple[tuple[int, ...], int], ...]:
    """Each pattern once, with how many sticks have it; fullest first."""
    counts: dict[tuple[int, ...], int] = {}
    for stick in sticks:
        counts[stick] = counts.get(stick, 0) + 1
    full = {p: sum(n * s for n, s in zip(p, sizes, strict=True)) for p in counts}
    return tuple(sorted(counts.items(), key=lambda item: (-full[item[0]], tuple(-n for n in item[0]))))
