"""Ground roll, by stepping through the speed.

Symbols: T thrust, W weight, mu rolling friction, D and L drag and lift on the ground, V speed, s way, t time.
    m dV/dt = T(V) - D(V) - mu (W - L(V))
Source: anderson-flight ch. 6.15 (the equation of motion along the ground).
"""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np

Force = Callable[[np.ndarray], np.ndarray]


def ground_roll(mass: float, force: Force, lift_off: float, steps: int = 200) -> tuple[float, float]:
    """(way m, time s) from standing to `lift_off` m/s; `force` gives the net force along the ground, N, at speeds m/s.

    s = Integral m V/F dV, t = Integral m/F dV, Simpson's rule. NaN when the force does not stay above nought:
    it would never get there.

    >>> way, time = ground_roll(300.0, lambda v: 900.0 - 0 * v, 15.0)
    >>> round(way, 2), round(time, 2)
    (37.5, 5.0)
    """
    v = np.linspace(0.0, lift_off, 2 * (steps // 2) + 1)
    push = force(v)
    if not np.all(push > 0):
        return math.nan, math.nan
    weight = np.ones_like(v)
    weight[1:-1:2], weight[2:-1:2] = 4, 2
    weight *= (v[1] - v[0]) / 3
    return float(np.sum(weight * mass * v / push)), float(np.sum(weight * mass / push))
