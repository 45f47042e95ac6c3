"""What a twist of any strip does to the circulation of every other, on both sides of the aeroplane.

The lattice is solved for loads alike on both sides and for loads that are odd from side to side (air/node.py,
air/rolling.py); E and O, (n, n), circulation for a twist of the right half and the same or the opposite on the left:

    right on right (E + O)/2,    left on right (E - O)/2

A fin stands alone in the stream: neither tailplane nor wings are in its matrix (an end plate would raise its
slope by a tenth or two). Range: air/node.py. Sources: falkner-1943.
"""

from __future__ import annotations

import numpy as np
from scipy.linalg import lu_factor, lu_solve

from sparwright.air.mesh import turned_by
from sparwright.air.node import node
from sparwright.air.rolling import FAR
from sparwright.air.turned import Company
from sparwright.air.upright import Upright

MIRROR = np.array([[1.0], [-1.0], [1.0]])


def both_sides(company: Company, alpha: float) -> tuple[np.ndarray, np.ndarray]:
    """(2 n, 2 n) m twice: circulation over speed for a radian of twist nose up, and of flap trailing edge down.

    Strips of the right first, then their mirrors; alpha: rad, of the thrust line to the stream. A strip that is hinged
    in part of its width has a column for a radian of that part; one without a hinge a column of noughts.
    """
    mesh = company.mesh
    at = node(mesh, alpha)
    own = mesh.strip[:, None] == np.arange(company.chords.size)
    slope = np.sum(list(mesh.hinges.values()), axis=0) if mesh.hinges else np.zeros(mesh.panels)
    found = []
    odd = _odd(company, alpha)
    for asked in (at.tilting[:, None] * own, -(slope * at.tilting)[:, None] * own):
        even_g, odd_g = at.solve(asked), lu_solve(odd, asked, check_finite=False) * mesh.scale
        even, other = mesh.by_strip(even_g.T).T, mesh.by_strip(odd_g.T).T
        same, across = (even + other) / 2, (even - other) / 2
        found.append(np.block([[same, across], [across, same]]))
    return found[0], found[1]


def _odd(company: Company, alpha: float) -> tuple[np.ndarray, np.ndarray]:
    """Factors of the matrix for loads that are odd from side to side (air/rolling.py)."""
    from sparwright.air.inflow import inflow  # loads the compiler

    mesh = company.mesh
    away = np.array([[0.0], [FAR], [0.0]])
    corners = turned_by(mesh.corners, alpha) / mesh.scale + away
    here = turned_by(mesh.control, alpha) / mesh.scale
    points = np.hstack([here + away, here * MIRROR + away])
    n = mesh.panels
    air, _ = inflow(corners, mesh.chordwise, mesh.counts, np.zeros(n), points, np.ones((len(mesh.surfaces), 2 * n)))
    right = air[:, :, :n] - air[:, :, n:] * MIRROR[:, 0][None, :, None]
    met = turned_by(mesh.normal, alpha) + mesh.slope * turned_by(mesh.tilt, alpha)
    factors: tuple[np.ndarray, np.ndarray] = lu_factor(sum(met[i] * right[:, i] for i in range(3)).T,
                                                       check_finite=False)  # fmt: skip
    return factors


def of_fin(fin: Upright) -> tuple[np.ndarray, np.ndarray]:
    """(k, k) m twice: circulation over speed of the strips of a fin alone, for a radian of each, nose to the right.

    The second for a radian of its rudder, trailing edge to the left.
    """
    from sparwright.air.inflow import inflow  # loads the compiler

    rows, k = fin.panels // fin.strips, fin.strips
    scale = fin.span
    away = np.array([[0.0], [FAR], [0.0]])
    points = np.ascontiguousarray(fin.control / scale + away)
    air, _ = inflow(fin.corners / scale + away, rows, np.array([k]), np.zeros(fin.panels), points,
                    np.ones((1, fin.panels)))  # fmt: skip
    own = np.tile(np.arange(k), rows)[:, None] == np.arange(k)
    found = []
    for asked in (own.astype(float), -fin.flap[:, None] * own):
        solved = np.linalg.solve(air[:, 1].T, asked) * scale
        found.append(solved.reshape(rows, k, k).sum(axis=0))
    return found[0], found[1]
