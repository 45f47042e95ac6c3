"""The stick to the side: force with the ailerons held while the wings stay level, and in the steady roll that follows.

Symbols: s way of the stick to the right; u the right aileron's angle, trailing edge up, v the left one's, trailing edge
down; g surface over hand of each; H moment about a hinge of one side, trailing edge down positive (flap.py);
d = (u + v)/2, the odd part; f, ka, ke as in pitch.py; p rate of roll, V speed.

    P = Sum over wings [H_right g(u) - H_left g(v)]                             virtual work, right positive
    p/V = f Sum l_d d/(-l_p)                                                     steady roll (air/rolling.py)

At each aileron the stream is the trimmed one, what both ailerons together do to it (their drooping part too), and what
rolling adds: the wing that goes down meets the air from below, its aileron floats up, and the force is less than with
the wings held level. With both ailerons alike the section's own camber and the trimmed angle push the two ends of the
run against each other; only a differential lets some of it through to the hand.

Range: attached flow, small rates, rigid cables and wings, no friction. Sources: glauert-1926 ch. IX, XI; naca-arr-l5f23
(rolling unloads the aileron); worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.air.odd_rows import OddRows, odd_rows, rolling_moment
from sparwright.base.axes import GRAVITY
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.work import Case
from sparwright.handling.flap import Flap, Here, Parts
from sparwright.handling.gear import Gear
from sparwright.handling.spread import Sure, spread


@dataclass(frozen=True)
class Aileron:
    """The ailerons of one wing with their gearing."""

    flap: Flap
    gear: Gear

    def angles(self, way: float) -> tuple[float, float]:
        """(right up, left down), rad, for a way of the stick to the right."""
        return self.gear.surface_of(way), -self.gear.surface_of(-way)


@dataclass(frozen=True)
class Stream:
    """Level flight at one speed, ready for any stick to the side."""

    case: Case
    odd: OddRows
    here: Mapping[str, Here]  # by wing
    still: np.ndarray  # (b,) amounts of level flight
    power: Mapping[str, float]  # m3/rad, L/q for each radian of a wing's ailerons
    speed: float = number("m/s", "true speed", math.nan)
    density: float = number("kg/m3", "of the air", math.nan)
    damping: float = number("m4", "L/q for each radian a metre of p/V, negative", math.nan)

    @property
    def pressure(self) -> float:
        """Dynamic pressure, Pa."""
        return self.density * self.speed**2 / 2


def stream(case: Case, ailerons: tuple[Aileron, ...], speed: float, density: float, odd: OddRows | None = None,
           ) -> Stream | None:  # fmt: skip
    """A case in level flight at a speed, m/s; None where there is no trim.

    odd: odd loads already solved at another angle; between 0 and 10 degrees l_p and l_d of the demo move by up to 6 %,
    and the force, most of which is the ailerons' own angle, by less than 1 (tests/properties/test_handling.py).
    """
    line, plane = case.line, case.line.plane
    at = line.states(line.mass * GRAVITY / (density * speed**2 / 2 * plane.area))
    alpha = float(at.alpha[0])
    if not math.isfinite(alpha) or not ailerons:
        return None
    rows, mesh = odd or odd_rows(plane.company, alpha), plane.company.mesh
    still = line.fitted.stances.at(alpha).amounts({plane.tail: float(at.elevator[0])}, at.twist[0])
    power = {a.flap.name: rolling_moment(mesh, rows.ailerons[a.flap.name]) for a in ailerons}
    here = {a.flap.name: a.flap.at(alpha) for a in ailerons}
    return Stream(case, rows, here, still, power, speed, density, rolling_moment(mesh, rows.rolling))


def rate(s: Stream, ailerons: tuple[Aileron, ...], way: float, effect: float) -> float:
    """p/V in a steady roll, rad/m."""
    turning = 0.0
    for a in ailerons:
        u, v = a.angles(way)
        turning += effect * (u + v) / 2 * s.power[a.flap.name]
    return turning / -s.damping


@dataclass(frozen=True)
class Side:
    """One wing's ailerons at a way of the stick: H/q before ka and ke, and how the hand is geared to them."""

    right: Parts
    left: Parts
    up: float = number("rad", "right aileron, trailing edge up")
    down: float = number("rad", "left aileron, trailing edge down")
    gear_right: float = number("rad/m", "right aileron over the hand's way")
    gear_left: float = number("rad/m", "left aileron over the hand's way")

    def force(self, pressure: float, sure: Sure) -> float:
        """N at the hand."""
        ka, ke = sure.real.angle, sure.real.flap
        right = ka * self.right.angle - ke * self.right.flap * self.up
        left = ka * self.left.angle + ke * self.left.flap * self.down
        return pressure * (right * self.gear_right - left * self.gear_left)


def sides(s: Stream, ailerons: tuple[Aileron, ...], way: float, effect: float, rolls: bool) -> tuple[Side, ...]:
    """Every wing's ailerons at a way of the stick to the right, wings held level or rolling as fast as they come."""
    turning = rate(s, ailerons, way, effect) if rolls else 0.0
    c, added = s.still.copy(), turning * s.odd.rolling
    for a in ailerons:
        u, v = a.angles(way)
        c[a.flap.place] += effect * (v - u) / 2
        added = added + effect * (u + v) / 2 * s.odd.ailerons[a.flap.name]
    return tuple(_side(s, a, way, effect, c, added) for a in ailerons)


def _side(s: Stream, a: Aileron, way: float, effect: float, c: np.ndarray, added: np.ndarray) -> Side:
    company, (u, v) = a.flap.company, a.angles(way)
    here = company.mesh.blocks()[company.place_of(a.flap.name)]
    odd, at = effect * (u + v) / 2, s.here[a.flap.name]
    return Side(
        at.parts(c, added=added[here], turned=-odd), at.parts(c, added=-added[here], turned=odd), u, v,
        float(a.gear.at(u)), float(a.gear.at(-v)),
    )  # fmt: skip


def full(ailerons: tuple[Aileron, ...]) -> float:
    """The way of the stick to the right at which the first aileron is at its stop, m; NaN where there is none."""
    return min((min(float(a.gear.way[-1]), -float(a.gear.way[0])) for a in ailerons), default=math.nan)


def way_for(s: Stream, ailerons: tuple[Aileron, ...], helix: float, span: float) -> float:
    """The way of the stick, m, for a helix angle p b/2V; NaN where full aileron gives less."""
    ways = np.linspace(0, full(ailerons), 9)
    reached = np.array([rate(s, ailerons, w, EFFECTIVE.value) * span / 2 for w in ways])
    return float(np.interp(helix, reached, ways, right=math.nan)) if np.isfinite(reached).all() else math.nan


def side_force(s: Stream | None, ailerons: tuple[Aileron, ...], way: float, rolls: bool) -> Band:
    """N, the stick's force to the right for a way of it, with its band; unknown without a stream or a way."""
    if s is None or not math.isfinite(way):
        return UNKNOWN
    found: dict[float, tuple[Side, ...]] = {}

    def of(x: Sure) -> float:
        if x.effect not in found:
            found[x.effect] = sides(s, ailerons, way, x.effect, rolls)
        return sum(side.force(s.pressure, x) for side in found[x.effect])

    return spread(of, ailerons[0].flap.real)
