"""Bolts and rivets in a group: what each carries of a force and a moment. Elastic, the plate rigid.

Symbols: r_i place of a fastener from the group's middle, w_i its share of stiffness (its area, or 1), F force,
M moment.

    in the plane    f_i = w_i (F/sum w + M z x r_i/sum w r^2)         shigley 8-12, the usual elastic way
    out of it       T_i = w_i M y_i/sum w y^2, y from the edge the plate turns about

Rivet groups and bolts in clearance holes share less evenly until they have yielded: then give the worse share yourself.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step
from sparwright.strength.members.margin import finite, verdict, within


def square(pitch: float) -> np.ndarray:
    """(4, 2) places of four fasteners in a square, m, about its middle."""
    return np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)]) * pitch / 2


def middle(places: ArrayLike, weights: ArrayLike | None = None) -> np.ndarray:
    """(2,) the point a force must go through to turn nothing: sum w r/sum w."""
    r, w = _group(places, weights)
    return np.asarray(w @ r / w.sum())


def _group(places: ArrayLike, weights: ArrayLike | None) -> tuple[np.ndarray, np.ndarray]:
    r = np.asarray(places, dtype=float)
    w = np.ones(len(r)) if weights is None else np.asarray(weights, dtype=float)
    return r, w


def loads(places: ArrayLike, force: ArrayLike, moment: ArrayLike, weights: ArrayLike | None = None) -> np.ndarray:
    """(2, n, ...) N on each of n fasteners.

    places (n, 2) m; force (2, ...) N and moment (...) N m about the group's `middle`, counter-clockwise from x to y;
    weights (n,). Fasteners all in one place bear no moment: NaN with one.

    >>> loads(square(0.02), (0.0, 400.0), 0.0)[1].tolist()
    [100.0, 100.0, 100.0, 100.0]
    """
    at, w = _group(places, weights)
    r = at - middle(places, weights)
    F, M = np.asarray(force, dtype=float), np.asarray(moment, dtype=float)
    shape = np.broadcast_shapes(F.shape[1:], M.shape)
    M = np.broadcast_to(M, shape)
    F = np.stack([np.broadcast_to(part, shape) for part in F])
    spread = float(w @ (r**2).sum(axis=1))
    turn = within((spread > 0) | (M == 0), M) / (spread or 1.0)
    turned = np.stack([-np.multiply.outer(w * r[:, 1], turn), np.multiply.outer(w * r[:, 0], turn)])
    shared = np.multiply.outer(w / w.sum(), np.moveaxis(F, 0, -1))
    return np.asarray(np.moveaxis(shared, -1, 0) + turned)


def worst_load(places: ArrayLike, force: ArrayLike, moment: ArrayLike, weights: ArrayLike | None = None) -> np.ndarray:
    """(...) N on the fastener that carries most."""
    f = loads(places, force, moment, weights)
    return np.asarray(np.hypot(f[0], f[1]).max(axis=0))


def use(places: ArrayLike, force: ArrayLike, moment: ArrayLike, strength: ArrayLike) -> np.ndarray:
    """Worst load over what one fastener bears, N: the least of its shear and its bearing in each plate."""
    return np.asarray(worst_load(places, force, moment) / np.asarray(strength, dtype=float))


def pulls(heights: ArrayLike, moment: ArrayLike, weights: ArrayLike | None = None) -> np.ndarray:
    """(n, ...) N of tension in each of n bolts of a plate that a moment turns about its edge; heights y (n,), m.

    Prying by a thin plate is left out: for a plate at least as thick as the bolt (common practice).
    """
    y = np.asarray(heights, dtype=float)
    w = np.ones(len(y)) if weights is None else np.asarray(weights, dtype=float)
    return np.asarray(np.multiply.outer(w * within(y >= 0, y), np.asarray(moment, dtype=float)) / (w @ y**2))


def working(places: ArrayLike, force: tuple[float, float], moment: float, strength: float) -> tuple[Step, ...]:
    """One load on fasteners of equal size, line by line, for the one that carries most."""
    r = np.asarray(places, dtype=float) - middle(places)
    f = loads(places, force, moment)
    i = int(np.argmax(np.hypot(f[0], f[1])))
    far, spread = float(np.hypot(*r[i])), float((r**2).sum())
    P = float(np.hypot(*f[:, i]))
    given = (("F_x", force[0], "N"), ("F_y", force[1], "N"), ("n", len(r), "1"))
    return (
        Step("straight share", "F/n", given, float(np.hypot(*force)) / len(r), "N", "shigley"),
        Step("share of the moment", "M r/sum r^2", (("M", moment, "N m"), ("r", far, "m"), ("sum r^2", spread, "m2")),
             abs(moment) * far / spread if spread else np.nan, "N", "shigley"),
        Step(f"load of fastener {i + 1}, both as vectors", "f = F/n + M z x r/sum r^2",
             (("x", float(r[i, 0]), "m"), ("y", float(r[i, 1]), "m")), P, "N", "shigley"),
        *verdict(float(use(places, force, moment, strength)), "f/P_s", (("f", P, "N"), ("P_s", strength, "N")),
                 finite(strength=strength)),
    )  # fmt: skip
