"""What supports that only push, or ropes that only pull, bear of a load: statics of a stiff body.

Symbols: F force and M moment on the body about the origin, r place of a support, d the way it pushes or pulls, s how
hard.

    sum s d = -F          sum s r x d = -M          s >= 0          sum s^2 least

Where statics alone says what each bears, that is the answer; where there are more supports than it settles, each gives
alike, so that of all ways to stand still the one with the least sum of squares is taken (the least work of equal
springs). Supports that would have to push a rope bear nothing. Range: stiff body, equal springs, no slack, no friction.
Source: statics; lawson-hanson-1974 (least squares with no negative unknowns).
"""

from __future__ import annotations

import numpy as np
from scipy.optimize import nnls

EASE = 1e-6  # weight of the sum of squares against what statics asks
NOTHING = 1e-9  # of the largest: a support that bears less bears nothing
LEFT = 1e-6  # of the load: what may stay unbalanced


def borne(place: np.ndarray, way: np.ndarray, force: np.ndarray, moment: np.ndarray, what: str) -> np.ndarray:
    """(k,) N, how hard each support pushes or pulls.

    place: (k, 3) m; way: (k, 3) unit vectors of the force on the body; force, moment: (3,) N and N m about the origin,
    of all else; what: how the supports are called. ValueError where they cannot hold it.

    >>> feet = np.array([[0.0, 1.0, 0.0], [0.0, -1.0, 0.0], [4.0, 0.0, 0.0]])
    >>> up = np.tile([0.0, 0.0, 1.0], (3, 1))
    >>> borne(feet, up, np.array([0.0, 0.0, -100.0]), np.array([0.0, 100.0, 0.0]), "feet").round(6).tolist()
    [37.5, 37.5, 25.0]
    """
    middle = place.mean(axis=0)
    arms, about = place - middle, moment - np.cross(middle, force)
    reach = max(float(np.linalg.norm(arms, axis=1).max()), 1.0)
    a = np.vstack([way.T, np.cross(arms, way).T / reach])
    b = -np.concatenate([force, about / reach])
    size = float(np.linalg.norm(b))
    if size == 0:
        return np.zeros(len(place))
    s = _least(a, b / size)
    left = (b - a @ s * size) * np.repeat([1.0, reach], 3)
    if np.linalg.norm(a @ s - b / size) > LEFT:
        f, m = (float(np.linalg.norm(v)) for v in (left[:3], left[3:]))
        raise ValueError(f"{what} cannot hold it: at best {f:.0f} N and {m:.0f} N m about their middle are left")
    return s * size


def _least(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """The answer without negative unknowns and with the least sum of squares, to rounding."""
    count = a.shape[1]
    s, _ = nnls(np.vstack([a, EASE * np.eye(count)]), np.concatenate([b, np.zeros(count)]))
    bear = s > NOTHING * s.max(initial=0.0)
    exact, *_ = np.linalg.lstsq(a[:, bear], b, rcond=None)
    if bool((exact >= 0).all()):
        s = np.zeros(count)
        s[bear] = exact
    return np.asarray(s)
