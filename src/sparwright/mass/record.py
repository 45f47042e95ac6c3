"""The weight ledger and the loading cases, as other rooms read them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.base.source import Band


@dataclass(frozen=True, kw_only=True)
class Line:
    """One line of the weight ledger."""

    name: str
    group: str
    mass: Band
    place: tuple[float, float, float]
    kind: str  # "part", "allowance", "replaced"
    source: str = ""


@dataclass(frozen=True, kw_only=True)
class Loading:
    """One loading case: what is aboard, total mass and balance. Band ends are one-at-a-time worst for the mass."""

    name: str
    mass: float = number("kg", "total mass")
    station: float = number("m", "centre of gravity, station")
    waterline: float = number("m", "centre of gravity, waterline")
    fraction: float = number("1", "centre of gravity, fraction of the cell's mean chord from its leading edge")
    fraction_low: float = number("1", "foremost it may be, with the mass bands")
    fraction_high: float = number("1", "aftmost it may be, with the mass bands")
    inertia: np.ndarray  # (3, 3), kg m2, about the centre of gravity


@dataclass(frozen=True, kw_only=True)
class Balance:
    """Ledger, empty weight, cases."""

    lines: tuple[Line, ...]
    empty: Band
    empty_station: float = number("m", "empty centre of gravity, station")
    cases: tuple[Loading, ...] = ()
    mean_chord: float = number("m", "mean chord of the wing cell", 0.0)
    mean_chord_station: float = number("m", "station of its leading edge", 0.0)

    def case(self, name: str) -> Loading:
        """The loading case of that name."""
        return next(c for c in self.cases if c.name == name)
