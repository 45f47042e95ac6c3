"""Nodes round a section: tail closed, flap turned, spaced for the flow."""

from __future__ import annotations

import math

import numpy as np
from scipy.interpolate import CubicSpline, splev, splprep
from scipy.optimize import minimize_scalar

from sparwright.family.model import Section
from sparwright.shape.section import curve

PANELS = 160
EVEN = 0.10  # part of the spacing that is even at the tail; the rest crowds to nose and tail
STILL = 1e-7  # of the curve's coordinate, 0 to 2: points nearer than that count as one
HALF_BEND = 0.02  # chords: a hinge bends the section over twice this length
OPEN_TAIL = 0.015  # chords: a thicker tail has a base flow this method does not know


def contour(section: Section, panels: int = PANELS, hinge: float = 1.0, deflection: float = 0.0) -> np.ndarray:
    """(panels + 1,) complex nodes, chord 1: upper tail, nose, lower tail, the tail closed.

    hinge: fraction of the chord at which a plain flap turns by `deflection` (rad, trailing edge down), its gap
    sealed and its corner rounded. Raises ValueError for a tail thicker than 1.5 % of the chord.
    """
    points = curve(section) if section.naca else _faired(section)
    at = np.linspace(0, 2, points.shape[1]) if section.naca else _by_angle(points)
    on = at > np.maximum.accumulate(np.concatenate([[-1], at[:-1]])) + STILL  # a point that does not go on is left out
    spline = CubicSpline(at[on], points[:, on], axis=1)
    t = _spacing(panels // 2)
    x, y = spline(np.concatenate([t, 2 - t[-2::-1]]))
    return bent(closed(x + 1j * y), hinge, deflection)


def _faired(section: Section) -> np.ndarray:
    """(2, n) a smooth curve past a table's points, as far off them as their rounding: no more, no less.

    Cubic smoothing spline in chord length whose mean square distance from the points is that of numbers rounded to as
    many places as the table has. Through the points themselves the curvature of a nose wavers by several per cent.
    """
    table = np.array(section.points, dtype=float).T
    places = next((d for d in range(2, 9) if np.all(np.abs(table - table.round(d)) < 1e-12)), 9)
    length = np.concatenate([[0], np.cumsum(np.hypot(*np.diff(table, axis=1)))])
    rounding = 10.0**-places / math.sqrt(12)
    spline, _ = splprep(table, u=length, s=2 * table.shape[1] * rounding**2, k=3)
    nose = float(minimize_scalar(lambda t: splev(t, spline)[0], bounds=_foremost(length, table[0]), method="bounded",
                                 options={"xatol": 1e-9}).x)  # fmt: skip
    part = (1 - np.cos(np.linspace(0, np.pi, 401))) / 2
    return np.array(splev(np.concatenate([nose * part, nose + (length[-1] - nose) * part[1:]]), spline))


def _foremost(length: np.ndarray, x: np.ndarray) -> tuple[float, float]:
    """Between which lengths the foremost point of a table lies."""
    i = int(np.argmin(x))
    return float(length[max(i - 1, 0)]), float(length[min(i + 1, len(x) - 1)])


def _by_angle(points: np.ndarray) -> np.ndarray:
    """(n,) a table's coordinate: the angle whose cosine is x, over pi; 0 upper tail, 1 nose, 2 lower tail.

    The nose is the foremost of the points. On a round nose equal steps of it are equal lengths, as on a NACA curve.
    """
    x = points[0]
    nose = int(np.argmin(x))
    if min(x[0], x[-1]) <= x[nose]:
        raise ValueError("the section's points do not run from a tail round the nose to a tail")
    tail = np.where(np.arange(len(x)) <= nose, x[0], x[-1])
    angle = np.arccos(np.clip(2 * (x - x[nose]) / (tail - x[nose]) - 1, -1, 1)) / np.pi
    angle[nose + 1 :] = 2 - angle[nose + 1 :]
    return angle


def _spacing(n: int) -> np.ndarray:
    """(n + 1,) the curve's own coordinate, 0 at the tail to 1 at the nose; it goes as the angle whose cosine is x."""
    f = np.linspace(0, 1, n + 1)
    x = (1 - EVEN) * (1 + np.cos(np.pi * f)) / 2 + EVEN * (1 - f) ** 2
    return np.arccos(np.clip(2 * x - 1, -1, 1)) / np.pi


def closed(nodes: np.ndarray) -> np.ndarray:
    """The section with its open tail drawn together, each side moved in proportion to its distance from the nose."""
    gap, nose = nodes[0] - nodes[-1], nodes.real.min()
    if abs(gap) > OPEN_TAIL:
        raise ValueError(f"the tail is {abs(gap):.3f} of the chord thick; the section flow is good up to {OPEN_TAIL}")
    half = len(nodes) // 2
    side = np.where(np.arange(len(nodes)) <= half, 0.5, -0.5)
    out = nodes - gap * side * (nodes.real - nose) / (nodes[0].real - nose)
    out[0] = out[-1] = (nodes[0] + nodes[-1]) / 2
    return np.asarray(out)


def bent(nodes: np.ndarray, hinge: float, deflection: float) -> np.ndarray:
    """The section with what lies behind the hinge turned down, over a short bend so that it stays smooth.

    The angle rises over the bend like a smooth step; the mean line is bent and the thickness stands square on it.
    """
    if hinge >= 1 or deflection == 0:
        return nodes
    x = np.linspace(0, 1, 4001)
    t = np.clip((x - hinge) / (2 * HALF_BEND) + 0.5, 0, 1)
    angle = -deflection * t * t * (3 - 2 * t)
    step = np.diff(x)
    line = np.concatenate([[0], np.cumsum(np.exp(1j * (angle[1:] + angle[:-1]) / 2) * step)])
    at, turn = (
        np.interp(nodes.real, x, line.real) + 1j * np.interp(nodes.real, x, line.imag),
        np.interp(nodes.real, x, angle),
    )
    return np.asarray(at + 1j * nodes.imag * np.exp(1j * turn))


def wake_steps(last: float, panels: int = 24, reach: float = 1.2) -> np.ndarray:
    """(panels,) lengths growing by a constant factor from `last` to a sum of `reach` chords."""
    low, high = 1.0001, 2.0
    for _ in range(60):
        ratio = (low + high) / 2
        if last * (ratio**panels - 1) / (ratio - 1) < reach:
            low = ratio
        else:
            high = ratio
    return last * ratio ** np.arange(panels)
