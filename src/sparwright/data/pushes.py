"""How the rules part loads between sides, wheels and straps, from pushes.toml; and what an engine's cylinders do to its
torque.

>>> PARTS["other_wing"].value
0.7
>>> torque_factor(2, 2), torque_factor(4, 4)
(3.0, 2.0)
"""

from __future__ import annotations

import math

from sparwright.data.limit import limits

PARTS = limits("pushes.toml")
FOUR_STROKE = {1: 8.0, 2: 4.0, 3: 3.0, 4: 2.0}  # by cylinders; 1.33 for more
TWO_STROKE = {1: 6.0, 2: 3.0}  # 2 for more


def torque_factor(strokes: int, cylinders: int) -> float:
    """Limit torque of an engine over its mean torque; NaN for an engine that is neither two- nor four-stroke.

    Source: CS 22.361 and 14 CFR 27.361 for four-strokes of two cylinders and more, the Russian code for very light
    rotorcraft, 361, for two-strokes and single cylinders (all read second-hand).
    """
    table, more = {4: (FOUR_STROKE, 1.33), 2: (TWO_STROKE, 2.0)}.get(strokes, ({}, math.nan))
    return table.get(cylinders, more)
