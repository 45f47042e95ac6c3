"""How the rules part loads between sides, wheels and straps, and what cylinders do to an engine's torque: pushes.toml.

>>> PARTS["other_wing"].value
0.7
>>> torque_factor(2, 2), torque_factor(4, 6)
(3.0, 1.33)
"""

from __future__ import annotations

import math

from sparwright.data.limit import limits

PARTS = limits("pushes.toml")
MOST = {4: 5, 2: 3}  # cylinders from which on the factor stays, by strokes


def torque_factor(strokes: int, cylinders: int) -> float:
    """Limit torque of an engine over its mean torque; NaN for one that is neither two- nor four-stroke."""
    row = PARTS.get(f"torque_{strokes}_{min(cylinders, MOST.get(strokes, 0))}")
    return row.value if row else math.nan
