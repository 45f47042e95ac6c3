"""The lattice with loads that are odd from side to side: rolling, and ailerons up on one side and down on the other.

A small odd change about the flow at one angle (node.py): circulation G on a panel of the right and -G on its mirror.
Symbols as there; p rate of roll and L rolling moment, right wing down; d aileron, trailing edge up on the right; V = 1.

    (n + s m) . v1 = -(n + s m)_z p y            rolling: the air comes up at the right wing
    (n + s m) . v1 = (f d) m . v0                ailerons
    L/q = -4 Sum G y dy                          Kutta, the stream alone: what u does to it is left out

The half that is laid out acts on points, and on their mirrors with the other sign. It is had from the kernel for even
flows by moving the half so far out that its mirror is out of sight: FAR spans.

Range: node.py; small rates and angles. Sources: falkner-1943; glauert-1926 ch. XI (odd loads).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from sparwright.air.mesh import Mesh, turned_by
from sparwright.air.node import node
from sparwright.base.record import number

FAR = 1e5  # of the lattice's greatest chord: what a mirror there does is below 1e-10 of what a neighbour does


@dataclass(frozen=True)
class Odd:
    """Rolling moments about the stream's axis at one angle, all surfaces together; areas and spans of the whole."""

    damping: float = number("m4", "L/q for each radian a metre of p/V, negative")
    ailerons: Mapping[str, float] = field(default_factory=dict)  # m3, L/q for each radian, by wing

    @property
    def aileron(self) -> float:
        """L/q for each radian of all ailerons together, m3."""
        return float(sum(self.ailerons.values()))


def odd(mesh: Mesh, alpha: float) -> Odd:
    """What rolling and each wing's ailerons do at an angle of the thrust line to the stream, rad."""
    from sparwright.air.inflow import inflow  # loads the compiler

    scale, n = mesh.scale, mesh.panels
    away = np.array([[0.0], [FAR], [0.0]])
    corners = turned_by(mesh.corners, alpha) / scale + away
    here = turned_by(mesh.control, alpha) / scale
    mirror = np.array([[1.0], [-1.0], [1.0]])
    none = np.ones((len(mesh.surfaces), 2 * n))
    points = np.hstack([here + away, here * mirror + away])
    air, _ = inflow(corners, mesh.chordwise, mesh.counts, np.zeros(n), points, none)
    right = air[:, :, :n] - air[:, :, n:] * mirror[:, 0][None, :, None]
    met = turned_by(mesh.normal, alpha) + mesh.slope * turned_by(mesh.tilt, alpha)
    matrix = lu_factor(sum(met[i] * right[:, i] for i in range(3)).T, check_finite=False)
    y = mesh.control[1]
    tilting = node(mesh, alpha).tilting
    asked = {"": -met[2] * y, **{k: slope * tilting for k, slope in mesh.hinges.items()}}
    out = mesh.bound[1] * mesh.segment[1]
    moments = {k: -4 * float(lu_solve(matrix, v, check_finite=False) * scale @ out) for k, v in asked.items()}
    return Odd(moments.pop(""), moments)
