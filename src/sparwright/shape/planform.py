"""What the air sees of a lifting surface: a leading edge, chords and angles at a few buttlines.

Made by shape/lifting.py from a wing or tail surface, read by air/. Arrays are component first.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np

from sparwright.base.record import number


@dataclass(frozen=True)
class Planform:
    """The right half of a surface, straight between k breaks; the left half is its mirror.

    A wing whose innermost panel begins at the fuselage side is carried through to the centreline with
    its root chord and angle (common practice, no source); `side` says where the real wing begins.
    """

    name: str
    leading_edge: np.ndarray  # (3, k), m
    chord: np.ndarray  # (k,), m
    angle: np.ndarray  # (k,), rad, chord line to the thrust line, nose up positive
    sections: tuple[str, ...]  # k names
    side: float = number("m", "buttline where the real surface begins", 0.0)
    hinge: float = number("1", "hinge line, fraction of chord; 1 for none", 1.0)
    hinge_from: float = number("m", "inner end of the hinged part", 0.0)
    hinge_to: float = number("m", "outer end of the hinged part", 0.0)
    is_tail: bool = False

    @property
    def area(self) -> float:
        """Both halves, carried through the fuselage, m2, projected on the xy plane."""
        y = self.leading_edge[1]
        return float(np.sum((self.chord[1:] + self.chord[:-1]) * np.diff(y)))

    @property
    def span(self) -> float:
        """Tip to tip, m."""
        return float(2 * self.leading_edge[1, -1])

    @property
    def mean_chord(self) -> tuple[float, float, float]:
        """(length, station of its leading edge, waterline of its leading edge), m.

        length = 2/S Integral c^2 dy over one half; the place is the c-weighted mean. Exact for straight
        panels. Source: definition of the mean aerodynamic chord, e.g. NACA TR 751.
        """
        y, c, le = self.leading_edge[1], self.chord, self.leading_edge
        dy = np.diff(y)
        a, b = c[:-1], c[1:]
        half = float(np.sum((a + b) * dy) / 2)
        square = float(np.sum((a * a + a * b + b * b) * dy) / 3)

        def mean(v: np.ndarray) -> float:
            p, q = v[:-1], v[1:]
            return float(np.sum((2 * a * p + a * q + b * p + 2 * b * q) * dy) / 6 / half)

        return square / half, mean(le[0]), mean(le[2])


@dataclass(frozen=True)
class Reference:
    """What the coefficients and the balance of a wing cell stand on."""

    area: float = number("m2", "sum of the wings' plan areas, carried through the fuselage, tail left out")
    chord: float = number("m", "mean chord of the whole wing cell, weighted by area")
    station: float = number("m", "station of that chord's leading edge")
    waterline: float = number("m", "waterline of that chord's leading edge")
    span: float = number("m", "largest wing span")

    @property
    def quarter(self) -> tuple[float, float]:
        """Station and waterline of the quarter of the mean chord, m."""
        return self.station + self.chord / 4, self.waterline


def reference(planforms: Sequence[Planform]) -> Reference:
    """The wing cell's area, mean chord and span.

    Each wing's mean aerodynamic chord and its place, weighted by the wing's area (common practice for
    biplanes, no source). Raises ValueError when there is no wing but only a tail.
    """
    wings = [p for p in planforms if not p.is_tail]
    if not wings:
        raise ValueError("a wing cell needs at least one wing")
    area = np.array([p.area for p in wings])
    chord, station, waterline = area @ np.array([p.mean_chord for p in wings]) / area.sum()
    return Reference(float(area.sum()), float(chord), float(station), float(waterline), max(p.span for p in wings))


Camber = MappingProxyType  # section name -> (2, m) mean line: x, z as fractions of the chord
