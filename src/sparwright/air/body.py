"""Pitching moment of the fuselage in the flow of the wings.

Symbols of Multhopp: w local width, x station, beta angle of the local flow to the body's axis.

    (dM/dalpha)/q = (k2 - k1) pi/2 Int w^2 dbeta/dalpha dx        nose up, unstable where positive

Multhopp reads dbeta/dalpha from curves for one wing. Here the lattice of all surfaces gives the flow of the wings along
the body's axis, turned into the stream at two angles between which an aeroplane flies most (common practice, no
source); the slope is the difference. Over the chord of a wing that passes through the body beta is taken as nought, as
Multhopp does. k2 - k1 is Munk's apparent-mass factor for a body of finite length, from Lamb's closed form for a
spheroid.

Source: naca-tm-1036 (Multhopp), naca-tr-184 (Munk), lamb-1932 art. 114.
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.air.drag import body_sizes
from sparwright.air.mesh import turned_by
from sparwright.air.turned import Company
from sparwright.base.source import Band
from sparwright.family.model import Body

STEPS = 200  # along the body
BETWEEN = (0.0, math.radians(8.0))  # rad, angles of attack that the slope is taken over
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


def body_moment_slope(body: tuple[Body, ...], company: Company) -> Band:
    """(dM/dalpha)/q of a fuselage among the wings of a company, m3 per rad, nose up positive.

    The tail's own flow is left out, and so are propeller and slipstream. Band: 25 % of the slope either
    way, of half the lone body's slope where that is more. Raises ValueError for fewer than two sections, or where the
    company's angles do not hold `BETWEEN`.
    """
    length, frontal, _ = body_sizes(body)
    factor = apparent_mass(length / math.sqrt(4 * frontal / math.pi)) * math.pi / 2
    x = _stations(body)
    width = np.interp(x, [b.station for b in body], [b.width for b in body])
    middle = np.interp(x, [b.station for b in body], [(b.top + b.bottom) / 2 for b in body])
    slope = factor * float(np.trapezoid(width**2 * flow_slope(company, x, middle, body), x))
    doubt = DOUBT * max(abs(slope), 0.5 * factor * float(np.trapezoid(width**2, x)))
    return Band(slope, slope - doubt, slope + doubt)


def flow_slope(company: Company, x: np.ndarray, z: np.ndarray, body: tuple[Body, ...]) -> np.ndarray:
    """dbeta/dalpha at points of the body's axis, (n,): how fast the flow past the wings turns with the angle."""
    low, high = (_beta(company, alpha, x, z) for alpha in BETWEEN)
    slope = (high - low) / (BETWEEN[1] - BETWEEN[0])
    for s in (s for s in company.mesh.surfaces if not s.is_tail):
        at, edge = float(s.edge[2, 0]), float(s.edge[0, 0])
        top, bottom = (
            np.interp(edge, [b.station for b in body], [getattr(b, end) for b in body]) for end in ("top", "bottom")
        )
        if bottom <= at <= top:
            slope = np.where((x >= edge) & (x <= edge + s.edge_chord[0]), 0.0, slope)
    return np.asarray(slope)


def _beta(company: Company, alpha: float, x: np.ndarray, z: np.ndarray) -> np.ndarray:
    """(n,) rad, angle of the flow past the wings to the body's axis, upwards positive."""
    points = turned_by(np.array([x, np.zeros_like(x), z]), alpha)
    u, _, w = turned_by(company.state(alpha).past_wings(points), -alpha)
    return np.asarray(np.arctan2(w, u))


def _stations(body: tuple[Body, ...]) -> np.ndarray:
    """Evenly along the body, with every section among them."""
    given = np.array([b.station for b in body])
    return np.unique(np.concatenate([given, np.linspace(given[0], given[-1], STEPS)]))
