"""Bags of sand in place of the air, whole ones and halves: how much, how many, in which steps.

    upside down, air up by n L:   what the structure feels is n (L - W_s), its own inertia against the air
    on the trestles:              B + W_s, its own weight with the bags
    B = n L - n W_s - W_s = n L - (n + 1) W_s

L air load at one g, W_s weight of the structure that is loaded, n load factor, B bags. A part phi of limit load is
reached with B = phi n (L - W_s) - W_s. Source: statics (computed); the rule as it is told in the trade: common
practice, no source. Sand on both or all three wings of a whole cell, each its share: mccook-882 (first page read).
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

TWO_G = 2.0
PARTS = (0.67, 0.90, 1.00)  # of limit load, after one and two g; common practice, no source
EVEN = (0.25, 0.50)  # before them where the load has no load factor
APART = 0.06  # steps nearer than this are one


def bag_weight(factor: float, air: float, structure: float) -> float:
    """Weight of the bags at a load factor, N: n x air - (n + 1) x structure.

    factor: 1, air: N at one g, structure: N, weight of what is loaded. Less than nought: no bags, the weight alone is
    more than the load asks for.

    >>> round(bag_weight(3.8, 1000.0, 200.0), 6)
    2840.0
    """
    return factor * air - (factor + 1) * structure


def step_parts(factor: float) -> tuple[float, ...]:
    """Parts of limit load at which loading pauses, rising to 1: one g, two g, 67, 90, 100 %.

    factor: limit load factor; NaN for a surface that has none, which begins with quarters instead.

    >>> [round(x, 3) for x in step_parts(3.8)], step_parts(float("nan"))
    ([0.263, 0.526, 0.67, 0.9, 1.0], (0.25, 0.5, 0.67, 0.9, 1.0))
    """
    n = abs(factor)
    first = EVEN if not np.isfinite(n) else tuple(k / n for k in (1.0, TWO_G) if n > k)
    before = [x for x in first if PARTS[0] - x > APART]
    return (*before, *PARTS)


def at_part(net: np.ndarray, weight: np.ndarray, part: float) -> np.ndarray:
    """(...) N of bags at a part of limit load: part x net - weight. net: N at limit, air less inertia."""
    return np.asarray(part * net - weight)


def whole_bags(wanted: np.ndarray, bag: float) -> np.ndarray:
    """(b, 2) how many bags lie in each bay on the front and the rear line, so that no station misses by half a bag.

    From the tip inwards the bags that lie outboard of a station are the nearest whole number to what is wanted there,
    and so are those of the front line among them, as far as the bay's own number allows.

    wanted: (b, 2) N from the root out, bag: N. Raises ValueError for a bag without weight.

    >>> whole_bags(np.array([[12.0, 9.0], [7.0, 4.0]]), 10.0).tolist()
    [[1, 1], [1, 0]]
    """
    if not bag > 0:
        raise ValueError("a bag has a weight")
    count = np.zeros(wanted.shape, dtype=int)
    both, front, laid, ahead = 0.0, 0.0, 0, 0
    for i in range(len(wanted) - 1, -1, -1):
        both, front = both + wanted[i].sum() / bag, front + wanted[i, 0] / bag
        here = max(int(np.floor(both + 0.5)) - laid, 0)
        first = int(np.clip(np.floor(front + 0.5) - ahead, 0, here))
        count[i] = first, here - first
        laid, ahead = laid + here, ahead + first
    return count


def in_steps(net: np.ndarray, weight: np.ndarray, parts: Sequence[float], bag: float, hinged: bool = False
             ) -> np.ndarray:  # fmt: skip
    """(s, b, 2) bags at each step, in halves: never fewer than at the step before.

    net, weight: (b, 2) N at limit; parts: (s,) of limit load, rising; bag: N, of a whole one. hinged: the lines lie on
    parts of their own, so each is counted for itself, and one that would have to be lifted takes nothing off the other.
    """

    def counted(part: float) -> np.ndarray:
        wanted = at_part(net, weight, part)
        if not hinged:
            return whole_bags(wanted, bag / 2)
        return sum((whole_bags(np.maximum(wanted, 0.0) * line, bag / 2) for line in np.eye(2)), 0 * wanted)

    found = [counted(parts[-1])]
    for part in reversed(parts[:-1]):
        found.append(np.minimum(counted(part), found[-1]))
    return np.array(found[::-1]) / 2


def beyond(each: np.ndarray, width: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(shear (b,) N, moment (b,) N m) at the inner edge of each bay, of loads in the middle of the bays.

    each: (b,) N from the root out; width: (b,) m.
    """
    inner = np.concatenate([[0.0], np.cumsum(width)[:-1]])
    middle = inner + width / 2
    shear = np.cumsum(each[::-1])[::-1]
    turning = np.cumsum((each * middle)[::-1])[::-1]
    return np.asarray(shear), np.asarray(turning - shear * inner)
