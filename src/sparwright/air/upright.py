"""A fin in the plane of symmetry, cut into panels for the lattice with odd loads (air/sideways.py).

Strips lie one above the other, closed up towards foot and tip, z = foot + h (1 - cos pi t)/2, control points at the
middle t; rows of bound vortices at a quarter of each panel, control points at three quarters, as in mesh.py. The edges
of the strips run along the tailplane's chord, so that the tailplane's own trailing vortex in the plane of symmetry lies
on an edge and never between a bound vortex and its control point: a foot within NEAR of the span is set on that chord,
a tailplane further up is an edge of the strips. Taper and sweep are the real fin's.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.air import thin
from sparwright.base.record import number

NEAR = 0.1  # of the span
STRIPS = 10


@dataclass(frozen=True)
class Upright:
    """n panels of a fin, row by row from the nose, strip by strip from the foot; body axes."""

    corners: np.ndarray  # (3, (rows + 1)(strips + 1)) m, ends of the bound vortices row by row, then trailing edge
    bound: np.ndarray  # (3, n) m, a point on each
    control: np.ndarray  # (3, n) m
    segment: np.ndarray  # (3, n) m, from the lower end to the upper
    flap: np.ndarray  # (n,) slope that one radian of rudder adds, negative
    strips: int = number("1", "strips from foot to tip")
    area: float = number("m2", "plan area")
    span: float = number("m", "foot to tip")

    @property
    def panels(self) -> int:
        """Unknowns."""
        return int(self.flap.size)


@dataclass(frozen=True)
class Chord:
    """The chord line of the tailplane in the plane of symmetry."""

    station: float = number("m", "of its nose")
    waterline: float = number("m", "of its nose")
    angle: float = number("rad", "to the thrust line, nose up")

    def height(self, station: float) -> float:
        """Waterline at a station, m."""
        return self.waterline - float(np.tan(self.angle)) * (station - self.station)


def upright(foot: tuple[float, float, float], span: float, chords: tuple[float, float], sweep: float, hinge: float,
            beside: Chord | None, rows: int) -> Upright:  # fmt: skip
    """A fin with rudder laid in panels.

    foot: leading edge of the root, m; chords: root and tip, m; sweep of the leading edge, rad; hinge: fraction of the
    chord; beside: the tailplane's chord, if there is one. rows: along the chord, the lattice's.
    """
    x0, _, z0 = foot
    slant = float(np.tan(beside.angle)) if beside else 0.0
    at, middle = _cut(z0, span, beside.height(x0) if beside else None)

    def place(up: np.ndarray, part: float) -> np.ndarray:
        t = (up - z0) / span
        chord = chords[0] + (chords[1] - chords[0]) * t
        aft = part * chord
        return np.array([x0 + (up - z0) * np.tan(sweep) + aft, 0 * up, up - slant * aft])

    edges = [place(at, (r + 0.25) / rows) for r in range(rows)]
    bound = np.concatenate([place(middle, (r + 0.25) / rows) for r in range(rows)], axis=1)
    control = np.concatenate([place(middle, (r + 0.75) / rows) for r in range(rows)], axis=1)
    segment = np.concatenate([np.diff(e, axis=1) for e in edges], axis=1)
    flap = np.repeat(thin.control_slopes(thin.flap_line(hinge), rows), middle.size) if hinge < 1 else 0 * bound[0]
    corners = np.concatenate([*edges, place(at, 1.0)], axis=1)
    area = float(np.diff(at) @ (chords[0] + (chords[1] - chords[0]) * ((at[1:] + at[:-1]) / 2 - z0) / span))
    return Upright(corners, bound, control, segment, flap, middle.size, area, float(at[-1] - at[0]))


def _cut(foot: float, span: float, beside: float | None) -> tuple[np.ndarray, np.ndarray]:
    """(edges, control stations) of the strips: waterlines at the nose."""
    tip = foot + span
    if beside is not None and abs(beside - foot) <= NEAR * span:
        foot = beside
    if beside is None or not foot + NEAR * span < beside < tip - NEAR * span:
        return _closed_up(foot, tip, STRIPS)
    below = max(2, round(STRIPS * (beside - foot) / span))
    (low, one), (high, two) = _closed_up(foot, beside, below), _closed_up(beside, tip, max(2, STRIPS - below))
    return np.concatenate([low[:-1], high]), np.concatenate([one, two])


def _closed_up(a: float, b: float, strips: int) -> tuple[np.ndarray, np.ndarray]:
    """(edges, middles) between two waterlines, close at both ends."""
    t = np.linspace(0, np.pi, 2 * strips + 1)
    at = a + (b - a) * (1 - np.cos(t)) / 2
    return at[::2], at[1::2]
