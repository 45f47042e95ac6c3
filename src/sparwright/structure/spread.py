"""A force with a moment laid on a few nodes, as a stiff body on equal springs: the resultant is kept to the last digit.

    F_i = d + t x r_i,  M_i = L^2 t;   sum F_i = F,  sum (r_i x F_i + M_i) = M about the place

r_i from the nodes' middle; d and t are the body's movements in units of the springs. L, small, lets a node or two in a
line take what forces alone cannot. Source: statics, worked out here.
"""

from __future__ import annotations

import numpy as np

SMALL = 0.02  # m: springs that turn are this weak against those that move


def crossed(v: np.ndarray) -> np.ndarray:
    """(..., 3, 3) that takes w to v x w."""
    out = np.zeros((*v.shape[:-1], 3, 3))
    out[..., 0, 1], out[..., 0, 2], out[..., 1, 2] = -v[..., 2], v[..., 1], -v[..., 0]
    return out - np.swapaxes(out, -1, -2)


def spread(nodes: np.ndarray, place: np.ndarray) -> np.ndarray:
    """(k, 6, 6): what each of k nodes gets of a unit force and moment at a place. nodes (k, 3) m, place (3,) m.

    >>> laid = spread(np.array([[0.0, 1.0, 0.0], [0.0, -1.0, 0.0]]), np.array([0.0, 0.5, 0.0]))
    >>> [round(float(x), 3) for x in laid[:, 2, 2]]
    [0.75, 0.25]
    """
    middle = nodes.mean(axis=0)
    r, k = nodes - middle, len(nodes)
    cross = crossed(r)
    turn = np.linalg.solve(_stiff(cross), np.hstack([crossed(place - middle), np.eye(3)]))  # (3, 6): t of (F, M)
    laid = np.zeros((k, 6, 6))
    laid[:, :3, :] = -cross @ turn
    laid[:, :3, :3] += np.eye(3) / k
    laid[:, 3:, :] = SMALL**2 * turn
    return laid


def spread_all(nodes: np.ndarray, places: np.ndarray, wrenches: np.ndarray) -> np.ndarray:
    """(b, k, 6): many at once: what the k nodes of each of b places get of its force and moment.

    nodes (b, k, 3) m, places (b, 3) m, wrenches (b, 6) N and N m.
    """
    middle = nodes.mean(axis=1)
    cross = crossed(nodes - middle[:, None])
    force, moment = wrenches[:, :3], wrenches[:, 3:]
    about = moment + np.cross(places - middle, force)
    turn = np.linalg.solve(_stiff(cross), about[..., None])[..., 0]
    on_each = force[:, None] / nodes.shape[1] - np.einsum("bkij,bj->bki", cross, turn)
    return np.concatenate([on_each, np.broadcast_to(SMALL**2 * turn[:, None], on_each.shape)], axis=2)


def _stiff(cross: np.ndarray) -> np.ndarray:
    """(..., 3, 3) what turning the body takes of the springs; cross (..., k, 3, 3)."""
    turned = -np.einsum("...nij,...njk->...ik", cross, cross)
    return np.asarray(turned + cross.shape[-3] * SMALL**2 * np.eye(3))
