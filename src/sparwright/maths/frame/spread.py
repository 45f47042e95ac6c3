"""Loads spread evenly along elements, as loads on the nodes and as fixed-end forces.

Symbols: q N/m in the element's axes, L length. Fixed ends take q L/2 and q L^2/12, with bending by shear too (even
load: the shear at both ends is the same). Released ends hand on what they cannot take by the elastic stiffness.
Source: przemieniecki-1968, ch. 5 (memory, high).
"""

from __future__ import annotations

import numpy as np

from sparwright.maths.frame.build import Elements, elements
from sparwright.maths.frame.record import Frame


def uniform(frame: Frame, per_metre: np.ndarray, parts: Elements | None = None) -> np.ndarray:
    """(n, 6) loads on the nodes, N and N m in the frame's axes, that work as an even load along the elements.

    per_metre: (m, 3) N/m of each element's length between the ends of its arms, in the frame's axes. parts: the
    frame's elements where they are at hand. Arms and releases are in it.

    >>> from sparwright.maths.frame.record import Frame
    >>> one = np.ones(1)
    >>> beam = Frame(
    ...     np.array([[0.0, 0, 0], [6.0, 0, 0]]), np.array([[0, 1]]), np.array([[0.0, 0, 1]]), one, one, one, one, one,
    ...     one, np.full((1, 2), np.inf), np.zeros((1, 2, 3)), np.zeros((1, 12), bool), np.zeros(1, bool), np.zeros(1),
    ...     np.zeros((2, 6), bool))
    >>> uniform(beam, np.array([[0, 0, 2.0]])).tolist()
    [[0.0, 0.0, 6.0, 0.0, -6.0, 0.0], [0.0, 0.0, 6.0, 0.0, 6.0, 0.0]]
    """
    parts = elements(frame) if parts is None else parts
    nodal = np.einsum("mij,mi->mj", parts.reach, fixed(frame, per_metre, parts))
    out = np.zeros(frame.held.shape)
    np.add.at(out, frame.ends, nodal.reshape(-1, 2, 6))
    return out


def fixed(frame: Frame, per_metre: np.ndarray, parts: Elements | None = None) -> np.ndarray:
    """(m, 12) what the load does to the ends, in the elements' axes: minus the forces that hold them when unmoved."""
    parts = elements(frame) if parts is None else parts
    length = parts.length
    q = turned(parts, per_metre)
    f = np.zeros((length.size, 12))
    f[:, :3] = f[:, 6:9] = q * length[:, None] / 2
    f[:, 4], f[:, 5] = -q[:, 2] * length**2 / 12, q[:, 1] * length**2 / 12
    f[:, 10:] = -f[:, 4:6]
    return np.asarray(np.einsum("mji,mj->mi", parts.follow, f))


def turned(parts: Elements, per_metre: np.ndarray) -> np.ndarray:
    """(m, 3) a load in the frame's axes, in the elements'."""
    return np.asarray(np.einsum("mij,mj->mi", parts.axes, per_metre))
