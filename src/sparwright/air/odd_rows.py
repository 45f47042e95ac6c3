"""Circulation of every panel when the company rolls and when its ailerons go opposite ways: the loads of air/rolling.py
row by row, for what they do to the ailerons' hinges.

The same equations as there (symbols too), solved again because the moments alone are kept there:

    (n + s m) . v1 = -(n + s m)_z p y            rolling, right wing down
    (n + s m) . v1 = (f d) m . v0                an aileron up on the right by d, down on the left

Range: node.py; small rates and angles. Sources: falkner-1943; glauert-1926 ch. XI.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from sparwright.air.mesh import Mesh, turned_by
from sparwright.air.rolling import FAR
from sparwright.air.turned import Company


@dataclass(frozen=True)
class OddRows:
    """Circulation over speed of each panel of the right half; of the left the same with the other sign."""

    rolling: np.ndarray  # (n,) m2, for each radian a metre of p/V
    ailerons: Mapping[str, np.ndarray] = field(default_factory=dict)  # (n,) m, for each radian, by surface


def odd_rows(company: Company, alpha: float) -> OddRows:
    """What rolling and each hinged surface do at an angle of the thrust line to the stream, rad."""
    from sparwright.air.inflow import inflow  # loads the compiler

    mesh = company.mesh
    scale, n = mesh.scale, mesh.panels
    away, mirror = np.array([[0.0], [FAR], [0.0]]), np.array([[1.0], [-1.0], [1.0]])
    corners = turned_by(mesh.corners, alpha) / scale + away
    here = turned_by(mesh.control, alpha) / scale
    none = np.ones((len(mesh.surfaces), 2 * n))
    points = np.hstack([here + away, here * mirror + away])
    air, _ = inflow(corners, mesh.chordwise, mesh.counts, np.zeros(n), points, none)
    right = air[:, :, :n] - air[:, :, n:] * mirror[:, 0][None, :, None]
    met = turned_by(mesh.normal, alpha) + mesh.slope * turned_by(mesh.tilt, alpha)
    matrix = lu_factor(sum(met[i] * right[:, i] for i in range(3)).T, check_finite=False)
    tilting = np.asarray(sum(w * x.tilting for w, x in company.near(alpha)))
    asked = {"": -met[2] * mesh.control[1], **{k: slope * tilting for k, slope in mesh.hinges.items()}}
    found = {k: np.asarray(lu_solve(matrix, v, check_finite=False) * scale) for k, v in asked.items()}
    return OddRows(found.pop(""), found)


def rolling_moment(mesh: Mesh, circulation: np.ndarray) -> float:
    """L/q, m3 a unit, of odd circulations (n,), both halves, right wing down: -4 Sum G y dy."""
    return -4 * float(circulation @ (mesh.bound[1] * mesh.segment[1]))
