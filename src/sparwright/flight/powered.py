"""What a turning propeller does to the stall: which strips lie in its slipstream, and the speed then: an indication.

Symbols: V speed, a angle of attack of the thrust line at the power-off stall, T thrust there, u speed added at a
strip's station x behind the disc, W weight, S area, CL greatest lift power off, L lift of a strip over q, p part of its
width in the slipstream, r dynamic pressure inside over the free stream's; b angle of the flow that the strip meets to
the thrust line, the wash of the wings in it; d by how much less it is inside, k lift coefficient of the strip's section
d short of where it works, over that where it works.

    disc meets V cos a along its axis; across it V sin a stays what it is
    r = ((V cos a + u)^2 + (V sin a)^2)/V^2
    d = b - atan(tan b V cos a/(V cos a + u))
    rise of the slipstream over the thrust line at x    x V sin a/(V cos a + u)
    h = A/(2 + sqrt(A^2 + 4)), A width of the slipstream over the wing by the strip's chord
    W = q (S CL + sum of p h (k r - 1) L) + T sin a     solved for V

The value is that. h is there because a stretch of wing in a stream no wider than its chord cannot hold a load of its
own: what it gains spills sideways as from a wing of that span (Helmbold's slope over that of a section). Without h the
stream would have to be turned by 30 to 45 deg at the stall. The low end is with h = k = 1, the section lift kept at
the higher pressure, and the strongest propeller; the high end has no lift of the slipstream at all, only the weakest
propeller's T sin a. Strips within the body, the tail, the attitude and W are left as they were (in a climb it is W
cos of its angle): an indication, never used in a licence check.
Idling: thrust is -q times the idle propeller's drag area (power/slipstream.py), with its wide band, k = 1; how an
idling engine brakes is not known, so all that can be said is whether the stall stays within its band.
Sources: glauert-1926 ch. XV (slipstream); helmbold-1942 (h; memory); the sum over strips is worked out here. Range:
that of power/slipstream.py.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np
from scipy.optimize import brentq

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.slow import TITLES, told
from sparwright.flight.trim import Line
from sparwright.flight.work import Case, Flown
from sparwright.power.matching import full_pull
from sparwright.power.propeller import PropellerMap
from sparwright.power.slipstream import Slipstream, idle_drag, slipstream

SOURCE = "glauert-1926 ch. XV (slipstream by momentum), strips worked out here"
INDICATION = (
    "an indication, not for a licence check: at the slow end strips in the slipstream keep their section lift at its "
    "pressure, at the fast end they gain nothing; the rest as power off"
)
DROPS = np.radians(np.arange(0.0, 31.0))  # d at which k is kept
How = Literal["turned", "thin", "same", "none"]  # k of the sections' own, of thin ones, h = k = 1, nothing gained
NO_MATCH = "engine and propeller have no thrust on file at such a speed, or the stream behind is out of range"
NEAR = 1e-6  # of the weight
LEAST, MOST = 0.3, 1.3  # of the power-off stalling speed, where the other is looked for
IDS = (
    ("flight.stall.power", f"stalling speed at full power, {TITLES['max_mass']}", "m/s"),
    ("flight.stall.idle", f"stalling speed with the propeller idling, {TITLES['max_mass']}", "m/s"),
    ("flight.slipstream.part", "part of the wings' area outside the body in the slipstream, stall at full power", "1"),
    ("flight.slipstream.pressure", "dynamic pressure there over the free stream's, stall at full power", "1"),
)


@dataclass(frozen=True)
class Wetted:
    """The strips of the wings at the power-off stall, right half, outside the body; n of them."""

    station: np.ndarray  # (n,) m, quarter chord
    inner: np.ndarray  # (n,) m, buttline of the inner edge
    outer: np.ndarray  # (n,) m
    waterline: np.ndarray  # (n,) m
    area: np.ndarray  # (n,) m2
    lift: np.ndarray  # (n,) m2, lift over q
    meets: np.ndarray  # (n,) rad, b
    short: np.ndarray  # (n, drops) k at DROPS; NaN where the section is not known there
    wing: np.ndarray  # (n,) which wing
    alpha: float = number("rad", "angle of attack of the thrust line")
    up: float = number("m2", "lift over q of the whole aeroplane, both halves")

    def parts(self, stream: Slipstream, speed: float) -> np.ndarray:
        """(n,) part of each strip inside a slipstream that bends as far as the stream across it takes it."""
        behind = np.maximum(self.station - stream.station, 0.0)
        rise = behind * speed * math.sin(self.alpha) / stream.velocity(self.station)
        return stream.covers(self.station, self.inner, self.outer, self.waterline - rise)

    def pressure(self, stream: Slipstream, speed: float) -> np.ndarray:
        """(n,) r inside the slipstream at each strip's station."""
        return np.asarray((stream.velocity(self.station) ** 2 + (speed * math.sin(self.alpha)) ** 2) / speed**2)

    def widths(self, parts: np.ndarray) -> np.ndarray:
        """(n,) width of the slipstream over the wing that each strip is of, both halves, m."""
        reach = np.where(parts > 0, self.inner + parts * (self.outer - self.inner), 0.0)
        return np.array([2 * reach[self.wing == w].max() for w in self.wing])

    def gains(self, stream: Slipstream, speed: float, how: How) -> np.ndarray:
        """(n,) lift over q that the slipstream adds to each strip, right half, m2."""
        parts, k, narrow = self.parts(stream, speed), np.ones(self.lift.size), np.ones(self.lift.size)
        if how == "none":
            return 0 * parts
        if how in ("turned", "thin"):
            less = speed * math.cos(self.alpha) / stream.velocity(self.station)
            k = self._kept(self.meets - np.arctan(np.tan(self.meets) * less), how)
            A = self.widths(parts) * (self.outer - self.inner) / self.area
            narrow = A / (2 + np.sqrt(A**2 + 4))
        added = narrow * (k * self.pressure(stream, speed) - 1) * self.lift
        return np.asarray(np.where(parts > 0, parts * added, 0 * parts))

    def _kept(self, drop: np.ndarray, how: How) -> np.ndarray:
        """(n,) k of strips at an angle less by `drop`, rad; of thin ones with the slope 2 pi (glauert-1926 ch. VII)."""
        if how == "thin":
            return np.asarray(1 - 2 * np.pi * drop * self.area / np.maximum(self.lift, 1e-9))
        rows = zip(drop, self.short, strict=True)
        return np.array([np.interp(d, DROPS, row, np.nan, np.nan) for d, row in rows])

    def gain(self, stream: Slipstream, speed: float, how: How) -> float:
        """Lift over q that the slipstream adds, both halves, m2."""
        return float(2 * self.gains(stream, speed, how).sum())


def wetted(line: Line, CL: float, drops: np.ndarray = DROPS) -> Wetted:
    """The wings' strips at a CL of a trimmed line, k at `drops`. ValueError where there is no trim."""
    plane = line.plane
    state, at, rows = line.state(CL), line.states(CL), []
    for i, s in enumerate(plane.company.mesh.surfaces):
        if s.name in plane.wings:
            strips, quarter = plane.strips[s.name], s.chord / 4
            x, z = s.middle[0] + quarter * np.cos(s.angle), s.middle[2] - quarter * np.sin(s.angle)
            lift, works = state.strips[s.name].lift, at.works[0, plane.company.strip_slices[s.name]]
            every = (x, s.edge[1, :-1], s.edge[1, 1:], z, strips.area, lift, works - s.angle)
            re = line.per_metre(CL) * strips.chord
            kept = [strips.place("lift", works - d, re) / strips.place("lift", works, re) for d in drops]
            rows.append(np.vstack([np.array(every), np.full(x.size, i), *kept])[:, strips.outside])
    found = np.concatenate(rows, axis=1)
    return Wetted(*found[:7], found[8:].T, found[7], state.alpha, CL * plane.area)  # type: ignore[call-arg]


@dataclass(frozen=True)
class Powered:
    """The stall with the propeller pulling at the speed found."""

    speed: float = number("m/s", "speed at which lift and the upward part of the thrust hold the weight", math.nan)
    thrust: float = number("N", "thrust there", math.nan)
    gain: float = number("m2", "lift over q that the slipstream adds", math.nan)
    immersed: float = number("1", "part of the wings' area outside the body in the slipstream", math.nan)
    pressure: float = number("1", "dynamic pressure there over the free stream's, mean by area; 1 where none is", 1.0)


def powered(strips: Wetted, weight: float, stalls: float, density: float, diameter: float,
            hub: tuple[float, float, float], thrust: Callable[[float], float], how: How) -> Powered:  # fmt: skip
    """The speed, m/s, at which lift and the upward part of the thrust hold an aeroplane at its power-off stall's angle.

    weight N; stalls: power-off stalling speed, m/s; thrust: N at a speed, m/s. NaN where the thrust is not known, or
    holds the aeroplane up without wings.
    """

    def stream(V: float) -> Slipstream:
        return slipstream(thrust(V), V * math.cos(strips.alpha), diameter, hub, density)

    def short(V: float) -> float:
        lift = density * V**2 / 2 * (strips.up + strips.gain(stream(V), V, how))
        return lift + thrust(V) * math.sin(strips.alpha) - weight

    low, high = LEAST * stalls, MOST * stalls
    ends = short(low), short(high)
    if not (ends[0] < 0 < ends[1]):
        return Powered()
    V = float(brentq(short, low, high, xtol=1e-9))
    if not abs(short(V)) < NEAR * weight:  # something on the way was not known
        return Powered()
    parts, r = strips.parts(stream(V), V), strips.pressure(stream(V), V)
    wet = parts * strips.area
    mean = float(wet @ r / wet.sum()) if wet.sum() > 0 else 1.0
    return Powered(V, thrust(V), strips.gain(stream(V), V, how), float(wet.sum() / strips.area.sum()), mean)


def power_results(flown: Flown) -> Iterator[Result]:
    """`flight.stall.power`, `flight.stall.idle`, `flight.slipstream.part` and `.pressure`; greatest mass."""
    case, maps = flown.cases["max_mass"], flown.moved.maps
    why = case.stall.reason or ("" if maps else "the engine has no power curve")
    if why:
        for id, title, unit in IDS:
            yield told(UNKNOWN, id, title, unit, SOURCE, why)
        return
    strips = wetted(case.line, case.stall.lift.value)
    full = [_full(flown, case, strips, m, "turned") for m in maps]
    yield _power(flown, case, strips, full)
    yield _idle(flown, case, strips, maps[0])
    parts, ratios = [f.immersed for f in full], [f.pressure for f in full]
    for (id, title, unit), ends in zip(IDS[2:], (parts, ratios), strict=True):
        known = all(map(math.isfinite, ends))
        band = Band(ends[0], min(ends), max(ends)) if known else UNKNOWN
        yield told(band, id, title, unit, SOURCE, INDICATION if known else NO_MATCH, (), ("flight.stall.power",))


def _at(flown: Flown, case: Case, strips: Wetted, thrust: Callable[[float], float], how: How) -> Powered:
    prop, stalls = flown.model.propeller, case.stall.speed.value
    weight = case.loading.mass * GRAVITY
    return powered(strips, weight, stalls, flown.air.density, prop.diameter, prop.place, thrust, how)


def _full(flown: Flown, case: Case, strips: Wetted, chart: PropellerMap, how: How) -> Powered:
    def thrust(V: float) -> float:
        return full_pull(flown.model.engine, chart, V, flown.air).thrust

    return _at(flown, case, strips, thrust, how)


def _power(flown: Flown, case: Case, strips: Wetted, full: list[Powered]) -> Result:
    """The stall at full power: value and low end by the slipstream, high end by the thrust alone."""
    off, maps = case.stall.speed, flown.moved.maps
    bare, same = ([_full(flown, case, strips, m, how).speed for m in maps] for how in ("none", "same"))
    (id, title, unit), now = IDS[0], full[0]
    if not all(map(math.isfinite, (*bare, *same, now.speed))):
        return told(UNKNOWN, id, title, unit, SOURCE, NO_MATCH)
    least, most = min(*same, now.speed), max(*bare, now.speed)
    band = Band(now.speed, least * off.low / off.value, most * off.high / off.value)
    q = flown.air.density * now.speed**2 / 2
    steps = (
        Step(
            "lift that the slipstream adds", "q sum of p h (k r - 1) L",
            (("p, mean by area", now.immersed, "1"), ("r", now.pressure, "1"), ("q", q, "Pa")),
            q * now.gain, "N", SOURCE,
        ),
        Step(
            "upward part of the thrust", "T sin a", (("T", now.thrust, "N"), ("a", strips.alpha, "rad")),
            now.thrust * math.sin(strips.alpha), "N", "geometry",
        ),
        Step(
            "speed", "W = q (S CL + sum of p h (k r - 1) L) + T sin a",
            (("W", case.loading.mass * GRAVITY, "N"), ("S CL", strips.up, "m2"), ("power off", off.value, "m/s")),
            now.speed, "m/s", "lift and thrust hold the weight",
        ),
    )  # fmt: skip
    return told(band, id, title, unit, SOURCE, INDICATION, steps, ("flight.stall.max_mass",))


def _idle(flown: Flown, case: Case, strips: Wetted, chart: PropellerMap) -> Result:
    """The stall with the propeller idling: what the strips behind it lose."""
    assert flown.moved.blade is not None
    off, drag = case.stall.speed, idle_drag(flown.moved.blade, chart).area
    ends = [_dragged(flown, case, strips, area) for area in (drag.value, drag.low, drag.high)]
    id, title, unit = IDS[1]
    if not all(math.isfinite(e.speed) for e in ends):
        return told(UNKNOWN, id, title, unit, SOURCE, "the idle propeller's drag is not known")
    band = Band(ends[0].speed, off.low, max(e.speed for e in ends) * off.high / off.value)
    neutral = off.low <= min(e.speed for e in ends) and max(e.speed for e in ends) <= off.high
    said = "neutral within the band of the power-off stall" if neutral else "slower air behind it raises the stall"
    note = f"{said}; how an idling engine brakes is not known, so spun free to stopped; {INDICATION}"
    given = (
        ("D/q", drag.value, "m2"),
        ("r", ends[0].pressure, "1"),
        ("p", ends[0].immersed, "1"),
        ("a", strips.alpha, "rad"),
    )
    step = Step("speed", "W = q (S CL + sum of p (r - 1) L) - q D/q sin a", given, band.value, "m/s", SOURCE)
    return told(band, id, title, unit, SOURCE, note, (step,), ("flight.stall.max_mass",))


def _dragged(flown: Flown, case: Case, strips: Wetted, area: float) -> Powered:
    """With a propeller that holds back with a drag area, m2."""

    def thrust(V: float) -> float:
        return -flown.air.density * V**2 / 2 * area

    return _at(flown, case, strips, thrust, "same")
