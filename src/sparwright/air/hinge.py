"""The moment of a flap about its hinge by thin-aerofoil theory, and the mean line that a row of the lattice stands for.

Symbols of Glauert: x = (1 - cos t)/2 along the chord, A0 A1 ... coefficients of the load, E flap's part of the chord,
th its hinge, a angle of attack, s slope of the mean line.

    load   dCp = 4 (A0 (1 + cos t)/sin t + Sum An sin nt),   A0 = a - 1/pi Int s dt,   An = 2/pi Int s cos nt dt
    Ch     = -1/E^2 Int (x - x_h) dCp dx behind the hinge, on the flap's chord squared, trailing edge down positive

A row of vortices in the lattice is read backwards: which slopes would make it in two dimensions,

    w_r = Sum_j G_j/(2 pi (x_r - x_j))      x_r control points, x_j vortices, G over speed and chord

What is left of w when the flap's and the section's own slopes are taken off is the stream that the rest of the company
makes along the chord: an angle a and a curve b, fitted straight. So the moment has what a finite span and its
neighbours do to the angle (downwash) and to its change along the chord (the lifting surface's part). Friction and
thickness are not in it.

Sources: glauert-1926 ch. VII, IX; reading the row backwards is worked out here.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from sparwright.air import thin
from sparwright.base.record import number

TERMS, FINE = 200, 4000  # of the series: what is left out is 6e-5 of a kinked line's Ch, and 1e-7


@dataclass(frozen=True)
class Slopes:
    """Hinge moment coefficients of a thin section, on the flap's chord squared, trailing edge down positive."""

    angle: float = number("1/rad", "for each radian of angle of attack")
    flap: float = number("1/rad", "for each radian of the flap, trailing edge down")
    curve: float = number("1/rad", "for a stream whose angle grows by a radian from nose to tail, nought at half chord")
    flap_part: float = number("1", "angle of attack that a radian of the flap is worth")


def of_angle(hinge: float) -> float:
    """Ch for each radian of angle of attack, hinge a fraction of the chord.

    -[(pi - th)(cos th - 1/2) + sin th - sin th cos th/2]/E^2. Source: glauert-1926 ch. IX, integrated here.

    >>> round(of_angle(0.75), 4)
    -0.5653
    """
    t = math.acos(1 - 2 * hinge)
    c, s = math.cos(t), math.sin(t)
    return -((math.pi - t) * (c - 0.5) + s - s * c / 2) / (1 - hinge) ** 2


def of_line(line: np.ndarray, hinge: float, terms: int = TERMS) -> float:
    """Ch at no angle of a mean line (2, m) in chords, straight between its points, for a flap behind `hinge`.

    >>> from sparwright.air.thin import flap_line
    >>> round(of_line(flap_line(0.75), 0.75, FINE), 4)
    -0.9436
    """
    at = np.arccos(1 - 2 * np.clip(line[0], 0, 1))
    s = np.diff(line[1]) / np.diff(line[0])
    n = np.arange(1, terms + 1)
    a0 = -float(np.sum(s * np.diff(at))) / math.pi
    an = 2 / math.pi * np.diff(np.sin(np.outer(n, at)), axis=1) @ s / n
    return a0 * of_angle(hinge) - float(an @ _behind(hinge, terms)) / (1 - hinge) ** 2


def slopes(hinge: float) -> Slopes:
    """All coefficients of a hinge. ValueError where it is no hinge."""
    if not 0 < hinge < 1:
        raise ValueError(f"a hinge lies between 0 and 1 of the chord, {hinge:g} does not")
    return _slopes(hinge)


@lru_cache(maxsize=64)
def _slopes(hinge: float) -> Slopes:
    x = np.linspace(0, 1, 201)
    curve = np.array([x, -(x * x - x) / 2])
    flap = thin.flap_line(hinge)
    part = thin.lift_and_moment(flap)[0] / (2 * math.pi)
    return Slopes(of_angle(hinge), of_line(flap, hinge, FINE), of_line(curve, hinge), part)


@lru_cache(maxsize=64)
def _behind(hinge: float, terms: int) -> np.ndarray:
    """(terms,) Int sin nt sin t (cos th - cos t) dt from the hinge to the tail."""
    th, n = math.acos(1 - 2 * hinge), np.arange(1, terms + 1)

    def cosines(k: np.ndarray) -> np.ndarray:  # Int cos kt
        safe = np.where(k == 0, 1, k)
        return np.where(k == 0, math.pi - th, -np.sin(safe * th) / safe)

    def product(k: np.ndarray) -> np.ndarray:  # Int cos kt cos t
        return np.asarray((cosines(k - 1) + cosines(k + 1)) / 2)

    c = math.cos(th)
    return np.asarray((c * (cosines(n - 1) - cosines(n + 1)) - (product(n - 1) - product(n + 1))) / 2)


def stream_of(rows: np.ndarray, flap: np.ndarray, hinge: float, own: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """(angle, curve) (m,), rad, of the stream along the chord that a lattice's rows stand for, in each of m strips.

    rows: (r, m) circulation over local speed and chord, from the nose. flap: (m,) rad, what the flap is turned by in
    the lattice. own: (r, m) slopes of the section's own mean line, as the lattice asks for them (thin.control_slopes).
    """
    back, asked, fit = _row(rows.shape[0], hinge)
    angle, curve = np.asarray(fit @ (back @ rows + own + asked[:, None] * flap))
    return angle, curve


@lru_cache(maxsize=64)
def _row(r: int, hinge: float) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """(r, r) slopes of unit circulations, (r,) slopes asked for a radian of the flap, (2, r) the straight fit."""
    edges = np.arange(r) / r
    vortex, control = edges + 0.25 / r, edges + 0.75 / r
    asked = thin.control_slopes(thin.flap_line(hinge), r) if hinge < 1 else np.zeros(r)
    x = control - control.mean()
    curve = x / (x @ x)
    return (
        1 / (2 * math.pi * (control[:, None] - vortex)),
        asked,
        np.array([1 / r + curve * (0.5 - control.mean()), curve]),
    )
