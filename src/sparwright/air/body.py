"""Pitching moment of the fuselage in the flow of the wings.

Symbols of Multhopp: w local width, x station, beta angle of the local flow to the body's axis.

    (dM/dalpha)/q = (k2 - k1) pi/2 Int w^2 dbeta/dalpha dx        nose up, unstable where positive

Multhopp reads dbeta/dalpha from curves for one wing. Here the lattice that carries all the wings gives the
flow along the body's axis: beta = alpha less the downwash of the wings (upwash ahead). Over the chord of a
wing that passes through the body beta is taken as nought, as Multhopp does. k2 - k1 is Munk's apparent-mass
factor for a body of finite length, from Lamb's closed form for a spheroid.

Source: naca-tm-1036 (Multhopp), naca-tr-184 (Munk), lamb-1932 art. 114.
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.air.drag import body_sizes
from sparwright.air.lattice import Cell
from sparwright.air.wash import matrix
from sparwright.base.source import Band
from sparwright.family.model import Body

STEPS = 200  # along the body
DOUBT = 0.25  # give or take; common practice for this method, no source


def apparent_mass(fineness: float) -> float:
    """k2 - k1 of a prolate spheroid of a fineness (length over diameter) above 1.

    e^2 = 1 - 1/f^2; a = 2 (1-e^2)/e^3 (ln((1+e)/(1-e))/2 - e); b = 1/e^2 - (1-e^2)/(2 e^3) ln((1+e)/(1-e));
    k1 = a/(2-a), k2 = b/(2-b). Raises ValueError at 1 or below. Source: lamb-1932 art. 114; naca-tr-184.

    >>> round(apparent_mass(6.01), 3)
    0.872
    """
    if not fineness > 1:
        raise ValueError(f"a body must be longer than it is thick, fineness {fineness:g} is not")
    e = math.sqrt(1 - 1 / fineness**2)
    log = math.log((1 + e) / (1 - e))
    a = 2 * (1 - e * e) / e**3 * (log / 2 - e)
    b = 1 / e**2 - (1 - e * e) / (2 * e**3) * log
    return b / (2 - b) - a / (2 - a)


def body_moment_slope(body: tuple[Body, ...], cell: Cell) -> Band:
    """(dM/dalpha)/q of a fuselage among the wings of a laid cell, m3 per rad, nose up positive.

    The tail's own flow is left out, and so are propeller and slipstream. Band: 25 % of the slope either
    way, of half the lone body's slope where that is more. Raises ValueError for fewer than two sections.
    """
    length, frontal, _ = body_sizes(body)
    factor = apparent_mass(length / math.sqrt(4 * frontal / math.pi)) * math.pi / 2
    x = _stations(body)
    width = np.interp(x, [b.station for b in body], [b.width for b in body])
    middle = np.interp(x, [b.station for b in body], [(b.top + b.bottom) / 2 for b in body])
    slope = factor * float(np.trapezoid(width**2 * flow_slope(cell, x, middle, body), x))
    doubt = DOUBT * max(abs(slope), 0.5 * factor * float(np.trapezoid(width**2, x)))
    return Band(slope, slope - doubt, slope + doubt)


def flow_slope(cell: Cell, x: np.ndarray, z: np.ndarray, body: tuple[Body, ...]) -> np.ndarray:
    """dbeta/dalpha at points of the body's axis, (n,): one less the wings' downwash per rad."""
    wings = [s for s in cell.grid.surfaces if not s.is_tail]
    scale = max(float(s.edge_chord.max()) for s in cell.grid.surfaces)
    points = np.array([x, np.zeros_like(x), z]) / scale
    m = matrix(cell.grid.corners / scale, cell.grid.rows, points, np.array([np.zeros_like(x), np.ones_like(x)])) / scale
    gamma = cell.circulation[cell.basis.index("alpha")] * cell.of_wings
    beta = 1 - gamma @ m
    for s in wings:
        at, edge = float(s.edge[2, 0]), float(s.edge[0, 0])
        top, low = (
            np.interp(edge, [b.station for b in body], [getattr(b, end) for b in body]) for end in ("top", "bottom")
        )
        if low <= at <= top:
            beta = np.where((x >= edge) & (x <= edge + s.edge_chord[0]), 0.0, beta)
    return np.asarray(beta)


def _stations(body: tuple[Body, ...]) -> np.ndarray:
    """Evenly along the body, with every section among them."""
    given = np.array([b.station for b in body])
    return np.unique(np.concatenate([given, np.linspace(given[0], given[-1], STEPS)]))
