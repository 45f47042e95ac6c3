"""The gearing of a control as a table: surface, hand and lever against each other, from stop to stop.

Symbols: u the surface's angle as its file has it (elevator and aileron up, rudder left positive), s the hand's way,
rad and m, both rising together; g = du/ds. A hinge moment H asks H g of the hand (virtual work).
Source: controls/motion.py.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace

import numpy as np

from sparwright.base.record import locked
from sparwright.controls.motion import Motion


@dataclass(frozen=True)
class Gear:
    """One control's gearing, n places from stop to stop."""

    name: str
    surface: np.ndarray = field(repr=False)  # (n,) rad, rising
    way: np.ndarray = field(repr=False)  # (n,) m of the hand, rising with the surface, nought in neutral
    per: np.ndarray = field(repr=False)  # (n,) rad/m
    lever: np.ndarray = field(repr=False)  # (n,) rad of the hand's lever

    def at(self, u: np.ndarray | float) -> np.ndarray:
        """Surface over way at surface angles, rad/m; NaN outside the travel."""
        return np.asarray(np.interp(u, self.surface, self.per, left=math.nan, right=math.nan))

    def way_of(self, u: np.ndarray | float) -> np.ndarray:
        """The hand's way, m."""
        return np.asarray(np.interp(u, self.surface, self.way, left=math.nan, right=math.nan))

    def lever_of(self, u: float) -> float:
        """The lever's angle, rad."""
        return float(np.interp(u, self.surface, self.lever, left=math.nan, right=math.nan))

    def surface_of(self, way: float) -> float:
        """The surface's angle at a way of the hand, rad."""
        return float(np.interp(way, self.way, self.surface, left=math.nan, right=math.nan))


def gear_of(motion: Motion) -> Gear:
    """The gearing of a motion."""
    order = sorted(range(len(motion.stances)), key=lambda i: motion.stances[i].angles[motion.surface])
    surface = np.array([motion.stances[i].angles[motion.surface] for i in order])
    lever = np.array([motion.stances[i].angles[motion.lever] for i in order])
    sign = 1.0 if lever[-1] >= lever[0] else -1.0
    per = np.array([motion.gearing[i] for i in order])
    return Gear(motion.name, locked(surface), locked(sign * lever * motion.arm), locked(per), locked(lever))


def geared(g: Gear, factor: float) -> Gear:
    """The same with the surface moving by a factor less for the same way: its horn's arm longer by that factor."""
    return replace(g, surface=locked(g.surface / factor), per=locked(g.per / factor))
