"""What steady flight at one g puts into the frame: of pull-ups at limit load the part 1/n, the greatest of them.

Lift, weight and inertia go with n; drag, thrust and rigging tension do not, so this is an estimate: what the wires are
rigged with counts too little where they do not go slack (common practice, no source).
"""

from __future__ import annotations

import numpy as np

from sparwright.structure.answered import Answered

LEAST = 1.5  # load factor from which a pull-up tells of one g


def pull_ups(answer: Answered) -> tuple[np.ndarray, np.ndarray]:
    """((k,) places of cases that pull up, (k,) their load factors); both empty where none is worked out."""
    found = [
        (i, x.case.factor)
        for i, x in enumerate(answer.laid)
        if x.case.kind == "manoeuvre" and x.case.factor >= LEAST and not x.why
    ]
    return np.array([i for i, _ in found], dtype=int), np.array([n for _, n in found], dtype=float)


def at_one_g(answer: Answered, values: np.ndarray) -> np.ndarray:
    """Of values at limit load (v, c, ...) those at one g, (v, k, ...): each pull-up's over its load factor."""
    which, factors = pull_ups(answer)
    shape = (1, len(factors)) + (1,) * (np.ndim(values) - 2)
    return np.asarray(values[:, which] / factors.reshape(shape))
