"""What a laid out case is: its forces, what each wing carries along its span, and what is to be said of it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import locked, number
from sparwright.loads.case import LoadCase, Pushes
from sparwright.loads.halves import Half
from sparwright.loads.together import push


@dataclass(frozen=True)
class SpanLoad:
    """The air on one half of a surface in one case, m strips from the root out; whole strips, hinged part included."""

    surface: str
    side: str  # R or L
    case: str  # key
    y: np.ndarray  # (m,) m, a fin: waterline
    width: np.ndarray  # (m,) m
    chord: np.ndarray  # (m,) m
    normal: np.ndarray  # (m,) N/m, along the chord's normal
    chordwise: np.ndarray  # (m,) N/m, along the chord, aft positive
    torsion: np.ndarray  # (m,) N m/m, about the quarter chord, nose up
    hinged: np.ndarray  # (m,) N/m, of the normal force what is behind the hinge
    hinge: np.ndarray  # (m,) N m/m, moment about the hinge, trailing edge down
    outside: str = ""

    def about(self, at: float | np.ndarray) -> np.ndarray:
        """(m,) N m/m, torsion about a line at a fraction of the chord, nose up: t + n (at - 1/4) c."""
        return np.asarray(self.torsion + self.normal * (at - 0.25) * self.chord)

    def summed(self, running: np.ndarray) -> np.ndarray:
        """(m,) what of a running load (m,) lies outboard of each strip's middle: a cantilever's shear, N or N m."""
        whole = running * self.width
        return np.asarray(np.cumsum(whole[::-1])[::-1] - whole / 2)


@dataclass(frozen=True)
class LaidOut:
    """A case with its forces."""

    case: LoadCase
    pushes: Pushes
    spans: tuple[SpanLoad, ...] = ()
    notes: tuple[str, ...] = ()  # what is not in it
    outside: str = ""  # how a method left its range; checks of this case are then unknown
    alpha: float = number("rad", "angle of the thrust line to the stream; NaN where it does not fly", math.nan)
    elevator: float = number("rad", "by the lattice, trailing edge down", math.nan)


def span_load(half: Half, side: str, pressure: float, case: str, outside: str = "") -> SpanLoad:
    """A half's load along its span at a dynamic pressure, Pa."""
    c, h = half.cut, half.times(pressure)
    running = (locked(v / c.width) for v in (h.normal, h.chordwise, h.torsion, h.behind, h.hinge))
    normal, chordwise, torsion, hinged, hinge = running
    return SpanLoad(
        surface=c.name,
        side=side,
        case=case,
        y=locked(c.y if side else c.quarter[2]),
        width=locked(c.width),
        chord=locked(c.chord),
        normal=normal,
        chordwise=chordwise,
        torsion=torsion,
        hinged=hinged,
        hinge=hinge,
        outside=outside,
    )


def unknown(case: LoadCase, why: str) -> LaidOut:
    """A case whose forces are not known: one that is not a number, so that nothing passes for nought."""
    none = (math.nan,) * 3
    return LaidOut(case, push("body", none, none, none), outside=why)
