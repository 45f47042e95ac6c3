"""Climb over height, glide, take-off and landing told as results, at the greatest take-off mass, standard day, no wind.

`flight.climb.*`, `flight.ceiling.*`, `flight.glide.*`, `flight.takeoff.*`, `flight.landing.*`.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.field import FIELD
from sparwright.flight.field import Field, Ways, landing, take_off
from sparwright.flight.heights import SERVICE, Climbs, Glide, climbs, glide, height_of, stopped_area, time_to
from sparwright.flight.performance import CLIMBS, Mover
from sparwright.flight.propeller_told import blade_words
from sparwright.flight.published import NOTE, climbs_as_seen
from sparwright.flight.slow import told
from sparwright.flight.work import Flown
from sparwright.power.matching import full_thrust
from sparwright.power.propeller import blade_of

METHOD = "anderson-flight ch. 6 (flight/heights.py, flight/field.py)"
DAY = "greatest take-off mass, standard day, no wind"
FIRM = "firm level ground, no wind, a new engine and a practised pilot; half as much again is the usual allowance"
SURFACES = {"hard": "dry concrete", "grass": "short dry grass"}
ROLLS = "integral of m V dV/(T - D - mu (W - L))"
FLIES = {"takeoff": "(h + (V2^2 - V1^2)/(2 g)) W/(T - D)", "landing": "h/c + (V2^2 - V1^2)/(2 g) W/D"}
HIGH = 1000.0  # m, to which the time of climb is told


@dataclass(frozen=True)
class At:
    """A day: its air, how its results are called and said."""

    air: Air
    id: str
    words: str
    blade: str = ""  # what its propeller stands on


def field_results(flown: Flown, by_id: Mapping[str, Result]) -> Iterator[Result]:
    """All of them, and those of the field on each day of the file; by_id: those of `flight.ground.*`."""
    stall = flown.cases["max_mass"].stall.speed
    moved = flown.moved
    yield from _climb_results(flown, moved, stall)
    yield from _glide_results(flown, stall)
    standard = At(flown.air, "flight", DAY, blade=blade_words(flown))
    yield from on_field(flown, stall, three_points(by_id), brought(flown, by_id), standard)


def on_field(flown: Flown, stall: Band, slowest: Band, f: Field, here: At) -> Iterator[Result]:
    """Take-off and landing; stall, calibrated, of the mass of `f`; slowest: calibrated, that the ground allows."""
    yield from _take_off_results(flown, flown.moved, stall, f, here)
    yield from _landing_results(flown, stall, slowest, f, here)


def _climb_results(flown: Flown, moved: Mover, stall: Band) -> Iterator[Result]:
    mass = flown.model.limits.max_mass
    found = climbs_as_seen(climbs(moved, flown.performance.drag, mass, stall.value))
    why = "" if found.rates[0].known else "thrust or drag is unknown"
    note = f"{DAY}; {blade_words(flown)}; {NOTE}"
    yield told(found.steepest, "flight.climb.angle", "steepest climb, sea level", "rad", METHOD, why or note)
    yield told(
        Band.exact(found.at), "flight.climb.angle_speed", "speed of the steepest climb", "m/s", METHOD, why or note
    )
    for h, rate in list(zip(found.heights, found.rates, strict=True))[1:3]:
        title = f"best rate of climb at {h:.0f} m"
        yield told(rate, f"flight.climb.rate.{h:.0f}", title, "m/s", METHOD, why or note)
    for key, left, words in (("absolute", 0.0, "where it climbs no more"), ("service", SERVICE, "100 ft/min are left")):
        ends = [height_of(left, found.heights, _end(found, k)) for k in ("value", "low", "high")]
        band = Band(*ends)
        yield told(band, f"flight.ceiling.{key}", f"ceiling, {words}", "m", METHOD, why or _unreached(band, note),
                   (_ceiling_step(found, left, band.value),))  # fmt: skip
    ends = [time_to(HIGH, found.heights, _end(found, k)) for k in ("value", "high", "low")]
    title = f"time from sea level to {HIGH:.0f} m"
    yield told(Band(*ends), "flight.climb.time", title, "s", METHOD, why or note)


def _end(found: Climbs, which: str) -> tuple[float, ...]:
    return tuple(getattr(r, which) for r in found.rates)


def _unreached(band: Band, note: str) -> str:
    return note if band.known else f"not reached within the heights looked at; {note}"


def _ceiling_step(found: Climbs, rate: float, height: float) -> Step:
    rates = tuple((f"RC at {h:.0f} m", r.value, "m/s") for h, r in zip(found.heights, found.rates, strict=True))
    return Step(f"height where RC is {rate:.3f} m/s", "RC straight between heights", rates, height, "m")


def _glide_results(flown: Flown, stall: Band) -> Iterator[Result]:
    drag, mass = flown.performance.drag, flown.model.limits.max_mass
    slowest = CLIMBS * stall.value
    blade = stopped_area(blade_of(flown.model.propeller, flown.model.sections))
    g = glide(drag, mass, flown.air.density, blade, slowest) if math.isfinite(slowest) else Glide(UNKNOWN, math.nan)
    why = "" if g.ratio.known else "drag or stalling speed is unknown"
    note = why or f"{DAY}; propeller stopped, its blades counted as plates; turning without power it drags more"
    D = float(np.interp(g.speed, drag.speed, drag.total[0]))
    given = (("D", D, "N"), ("q A", flown.air.density * g.speed**2 / 2 * g.stopped.value, "N"),
             ("W", mass * GRAVITY, "N"))  # fmt: skip
    step = Step("glide", "W/(D + q A), A of the stopped propeller", given, g.ratio.value, "1")
    yield told(g.ratio, "flight.glide.ratio", "flattest glide, way over height", "1", METHOD, note, (step,))
    yield told(Band.exact(g.speed), "flight.glide.speed", "speed of the flattest glide", "m/s", METHOD, note)
    yield told(g.sink, "flight.glide.sink", "least sink, power off", "m/s", METHOD, note)


# ------------------------------------------------------------------ the field


def three_points(by_id: Mapping[str, Result]) -> Band:
    """The speed of a landing on three points, calibrated, greatest mass; unknown where that is."""
    found = by_id.get("flight.ground.speed")
    return found.band if found else UNKNOWN


def brought(flown: Flown, by_id: Mapping[str, Result]) -> Field:
    """Lift and drag with the thrust line level on the ground; the propeller not pulling."""
    p, line = flown.performance, flown.cases["max_mass"].line
    grid = np.linspace(0.05, 1.2, 47)
    at = line.states(grid)
    known = np.isfinite(at.alpha)
    lift = float(np.interp(0.0, at.alpha[known], grid[known])) if np.any(known) else math.nan
    induced = float(np.interp(lift, grid[known], at.induced[known])) if np.any(known) else math.nan
    V = float(p.drag.speed[-1])
    q = flown.air.density * V**2 / 2
    rest = float(p.drag.total[0][-1] - p.drag.items["induced"][0][-1]) / q
    share = by_id["flight.ground.induced"].value if "flight.ground.induced" in by_id else math.nan
    area = flown.plane.area
    drag_area = rest + (share if math.isfinite(share) else 1.0) * induced * area
    return Field(flown.model.limits.max_mass, flown.air.density, area, lift, drag_area,
                 drag=lambda v: np.interp(v, p.drag.speed, p.drag.total[0]))  # fmt: skip


def _pulled(flown: Flown, moved: Mover, which: int, fastest: float, air: Air) -> Callable[[np.ndarray], np.ndarray]:
    """Full thrust over speed by one of the propeller's maps, N."""
    knots = np.linspace(0.0, fastest, 9)
    thrust = full_thrust(moved.engine, moved.maps[which], knots, air)
    return lambda v: np.interp(v, knots, thrust)


def _take_off_results(flown: Flown, moved: Mover, stall: Band, bare: Field, here: At) -> Iterator[Result]:
    height, true = FIELD["obstacle"].value, math.sqrt(flown.air.density / here.air.density)
    for key, words in SURFACES.items():
        friction = FIELD[f"rolls_{key}"].value
        found: list[Ways] = []
        ends = ((stall.value, 0, 1.0), (stall.low, 1, 0.7), (stall.high, 2, 1.5))
        for speed, which, more in ends if stall.known and moved.maps else ():
            v1, v2 = (FIELD[k].value * speed * true for k in ("lift_off", "over_speed"))
            f = replace(bare, thrust=_pulled(flown, moved, which, v2, here.air))
            found.append(take_off(f, more * friction, v1, v2, height))
        yield from _ways("takeoff", f"take-off %s, {words}", key, found, (stall, friction, bare.mass), here)


def _landing_results(flown: Flown, stall: Band, three: Band, f: Field, here: At) -> Iterator[Result]:
    height, true = FIELD["obstacle"].value, math.sqrt(flown.air.density / here.air.density)
    for key, words in SURFACES.items():
        friction = FIELD[f"brakes_{key}"].value
        found = []
        for end, more in (("value", 1.0), ("low", 1.3), ("high", 0.5)) if stall.known else ():
            vs = getattr(stall, end)
            touch = max(vs, getattr(three, end)) if math.isfinite(three.value) else vs
            over = max(FIELD["over_speed"].value * vs, touch)
            found.append(landing(f, more * friction, touch * true, over * true, height, FIELD["approach"].value))
        yield from _ways("landing", f"landing %s, {words}", key, found, (stall, friction, f.mass), here)


def _ways(
    id: str, title: str, key: str, found: list[Ways], given: tuple[Band, float, float], here: At
) -> Iterator[Result]:
    """Roll, and the way over the height; the first is the likely one, the least and the greatest are its band.

    given: stalling speed, friction, mass.
    """
    stall, friction, mass = given
    why = "" if found else "stalling speed or thrust is unknown"
    for what, said in (("roll", "roll"), ("over", f"over {FIELD['obstacle'].value:.0f} m")):
        ends = [w.roll if what == "roll" else w.whole for w in found]
        band = Band(ends[0], min(ends), max(ends)) if ends and all(map(math.isfinite, ends)) else UNKNOWN
        steps = _steps(id, found[0], stall, friction, mass, here) if found else ()
        note = why or ("the thrust does not do it" if not band.known else f"{FIRM}; {here.blade}")
        yield told(band, f"{here.id}.{id}.{what}.{key}", f"{title % said}, {here.words}", "m", METHOD, note, steps,
                   ("flight.stall.max_mass", "flight.ground.speed"))  # fmt: skip


def _steps(id: str, w: Ways, stall: Band, friction: float, mass: float, here: At) -> tuple[Step, Step]:
    """The way on the ground and the way in the air, with what goes into them."""
    rolls = (("Vs", stall.value, "m/s"), ("V1", w.slow, "m/s"), ("mu", friction, "1"), ("m", mass, "kg"),
             ("rho", here.air.density, "kg/m3"))  # fmt: skip
    force = "T - D" if id == "takeoff" else "D"
    weight, height = mass * GRAVITY, FIELD["obstacle"].value
    flies = [
        ("h", height, "m"),
        ("V1", w.slow, "m/s"),
        ("V2", w.fast, "m/s"),
        ("W", weight, "N"),
        (force, w.force, "N"),
    ]
    if id == "landing":
        flies.append(("c, or the glide's where flatter", FIELD["approach"].value, "1"))
    return (
        Step("rolling, stepped through the speed", ROLLS, rolls, w.roll, "m", METHOD),
        Step("in the air", FLIES[id], tuple(flies), w.air, "m", METHOD),
    )
