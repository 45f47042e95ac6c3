"""Thin-aerofoil theory of one mean line, and the slopes that make a row of lattice panels agree with it.

Symbols of Glauert: theta with x = (1 - cos theta)/2, A0 A1 A2 Fourier coefficients of the mean line's slope.

Source: glauert-1926 ch. VII (mean line) and ch. IX (flap).
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np


def lift_and_moment(line: np.ndarray) -> tuple[float, float]:
    """(lift coefficient at no angle, moment coefficient about the quarter chord) of a mean line.

    A0 = -1/pi Int s dtheta, A1 = 2/pi Int s cos theta dtheta, A2 = 2/pi Int s cos 2theta dtheta with
    s = dz/dx; cl = 2 pi (A0 + A1/2), cm = pi/4 (A2 - A1). line: (2, m), x rising from 0 to 1 and z, in
    chords, straight between its points, for which the integrals are exact. Range: small slopes.
    Source: glauert-1926 ch. VII.
    """
    theta = np.arccos(1 - 2 * np.clip(line[0], 0, 1))
    s = np.diff(line[1]) / np.diff(line[0])
    a0 = -np.sum(s * np.diff(theta)) / np.pi
    a1 = 2 / np.pi * np.sum(s * np.diff(np.sin(theta)))
    a2 = 2 / np.pi * np.sum(s * np.diff(np.sin(2 * theta) / 2))
    return float(2 * np.pi * (a0 + a1 / 2)), float(np.pi / 4 * (a2 - a1))


def flap_line(hinge: float) -> np.ndarray:
    """The mean line of a plain flap turned down by one radian about `hinge`, a fraction of the chord."""
    return np.array([[0.0, hinge, 1.0], [0.0, 0.0, -(1.0 - hinge)]])


def control_slopes(line: np.ndarray, rows: int) -> np.ndarray:
    """Slope to ask for at each of `rows` control points along the chord, (rows,).

    The mean slope over each panel, plus the constant and the ramp in x that give a two-dimensional row
    of panels (vortex at a quarter, control point at three quarters of each) exactly the lift and the
    moment of thin-aerofoil theory. Without them six panels miss the lift of a kinked line (a flap) by
    several per cent. docs/decisions/lattice.md has the figures. line: as for `lift_and_moment`.
    """
    edges, loads, extra, share = _row(rows)
    slopes = np.diff(np.interp(edges, line[0], line[1])) * rows
    missing = np.array(lift_and_moment(line))[: len(extra)] + loads @ slopes
    return np.asarray(slopes - share @ missing @ extra)


@lru_cache(maxsize=16)
def _row(rows: int) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """Panel edges, lift and moment of unit angle on each panel, the shapes added, and how much for what is missing.

    One panel alone can only be given the right lift.
    """
    edges = np.linspace(0, 1, rows + 1)
    vortex, control = edges[:-1] + 0.25 / rows, edges[:-1] + 0.75 / rows
    gamma = np.linalg.inv(1 / (2 * np.pi * (control[:, None] - vortex)))
    loads = 2 * np.array([gamma.sum(axis=0), (0.25 - vortex) @ gamma])
    extra = np.array([np.ones(rows), (edges[:-1] + edges[1:]) / 2 - 0.5])
    used = min(rows, 2)
    loads, extra = loads[:used], extra[:used]
    return edges, loads, extra, np.linalg.inv(loads @ extra.T)


@lru_cache(maxsize=16)
def plate_rows(rows: int) -> np.ndarray:
    """(rows,) the part of a plate's lift each of `rows` vortices carries, in two dimensions. Source: glauert-1926."""
    edges = np.linspace(0, 1, rows + 1)
    vortex, control = edges[:-1] + 0.25 / rows, edges[:-1] + 0.75 / rows
    gamma = np.linalg.solve(1 / (control[:, None] - vortex), np.ones(rows))
    return np.asarray(gamma / gamma.sum())
