"""The wheels against the centre of gravity: noses over, ground-loops, turns over, weighs on its tail.

Seen along the ground, from the main wheels' contact:

    d   centre of gravity behind it       h   above it       y   contact off the centreline
    B   tail wheel's contact behind it    T   thrust at rest, k its line above the contact, across the thrust line

    angle ahead of the centre of gravity    atan(d/h), against the vertical
    braking that lifts the tail             a/g = d/h
    share of the weight on the tail wheel   d/B
    full power that lifts the tail          T k = m g d; told as m g d/(T k)
    seen from behind, off the vertical      atan(y/h)
    turn-over angle, against the ground     atan(h/e), e = y (B - d)/sqrt(B^2 + y^2) to the line of main and tail wheel

Braking is at the main wheels alone, with no air on the tail; the elevator adds to what holds the tail down at speed and
in the slipstream. The wheels' own spin is left out. Moments about the contacts: geometry and statics.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.family.model import Model
from sparwright.ground.pose import Feet, Pose, contact
from sparwright.mass.record import Balance, Loading
from sparwright.mass.weigh import centre_of


@dataclass(frozen=True)
class Lever:
    """Distances along the ground and up from it, from the main wheels' contact."""

    behind: float = number("m", "d: centre of gravity behind the contact")
    above: float = number("m", "h: centre of gravity above the ground")
    side: float = number("m", "y: contact off the centreline")
    base: float = number("m", "B: tail wheel's lowest point behind the contact")
    thrust: float = number("m", "k: thrust line above the contact, across the line")

    @property
    def ahead(self) -> float:
        """Angle of the contact ahead of the centre of gravity, rad."""
        return math.atan2(self.behind, self.above)

    @property
    def braking(self) -> float:
        """Deceleration that lifts the tail, of that of gravity."""
        return self.behind / self.above

    @property
    def tail_share(self) -> float:
        """Part of the weight on the tail wheel; negative when it stands on its nose."""
        return self.behind / self.base

    @property
    def beside(self) -> float:
        """Angle of the contact beside the centre of gravity, seen from behind, rad."""
        return math.atan2(self.side, self.above)

    @property
    def turn_over(self) -> float:
        """Turn-over angle against the ground, rad."""
        across = self.side * (self.base - self.behind) / math.hypot(self.base, self.side)
        return math.atan2(self.above, across)


def lever(pose: Pose, feet: Feet, station: float, waterline: float, hub: float) -> Lever:
    """The distances of a centre of gravity on wheels in a pose without bank; hub: waterline of the thrust line."""
    up = pose.up
    aft = np.array([math.cos(pose.attitude), 0.0, math.sin(pose.attitude)])
    foot = contact(feet.right, up)
    to_cg = np.array([station, foot[1], waterline]) - foot
    to_tail = contact(feet.tail, up) - foot
    return Lever(float(aft @ to_cg), float(up @ to_cg), float(foot[1]), float(aft @ to_tail), hub - float(foot[2]))


@dataclass(frozen=True)
class Stands:
    """One loading at rest, with the levers at every end of its bands; the first is the likely one."""

    loading: Loading
    level: tuple[Lever, ...]
    down: tuple[Lever, ...]

    def band(self, of: Callable[[Lever], float], level: bool = False) -> Band:
        """A number of the levers with its least and greatest."""
        found = [of(x) for x in (self.level if level else self.down)]
        return Band(found[0], min(found), max(found))


def stands(model: Model, balance: Balance, loading: Loading, poses: tuple[tuple[Feet, Pose, Pose], ...]) -> Stands:
    """A loading in each state of the wheels: (wheels, level, tail down), the likely state first.

    The ends of the centre of gravity's station are those of its band in the mean chord.
    """
    x0, c, hub = balance.mean_chord_station, balance.mean_chord, model.propeller.place[2]
    at = [loading.station, *(x0 + f * c for f in (loading.fraction_low, loading.fraction_high))]
    made = [
        tuple(lever(pose, feet, x, loading.waterline, hub) for feet, *both in poses for x in at for pose in [both[i]])
        for i in (0, 1)
    ]
    return Stands(loading, made[0], made[1])


def parked(model: Model, balance: Balance, foot: float) -> tuple[float, float, float]:
    """(mass, station, waterline) with nobody aboard and all that lies ahead of the station `foot` filled up.

    What lies behind is empty. Source: sum m x/sum m, ac-43-13-1b chapter 10.
    """
    ahead = [x for x in model.loads if x.kind != "pilot" and x.place[0] < foot]
    masses = [*(x.mass.value for x in balance.lines), *(x.most for x in ahead)]
    mass, (x, _, z) = centre_of(masses, [*(x.place for x in balance.lines), *(x.place for x in ahead)])
    return mass, float(x), float(z)
