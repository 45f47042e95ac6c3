"""Engine and propeller told as results: standing, in the climb and in cruise."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.base.check import Result, Step, by_hand
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.performance import Row
from sparwright.flight.slow import told
from sparwright.flight.work import Flown
from sparwright.power.blade import STANDARD
from sparwright.power.disc import ideal_efficiency, static_thrust
from sparwright.power.engine import air_factor
from sparwright.power.matching import Pull, full_pull

METHOD = "glauert-1935 (blade elements); blade sections: drela-giles-1987"
DISC = "glauert-1926 ch. XV (actuator disc): an upper end, no propeller reaches it"
MISSED = (0.94, 1.06)  # standing thrust of two measured propellers over ours, docs/decisions/propeller.md
HIGH = 0.06  # by which an efficiency may be too high, docs/decisions/propeller.md
BEST = (
    "at their best two measured small propellers had 0.01 and 0.02 less, full-size ones with a body behind about 0.05 "
    "less (naca-tr-640, memory)"
)
TURNED = (0.93, 1.02)  # engine speed: their power is up to 1.22 of ours, the cube root of it
CP_STANDING, PITCH_RATIO = 0.0371, 0.631  # nr640 standing at 5927 rpm, uiuc-propeller-2; 0.75 pi tan 15 deg


def blade_words(flown: Flown) -> str:
    """What is known of the blade and what is not in its results."""
    prop = flown.model.propeller
    if prop.blade:
        head = f"blade by its {len(prop.blade)} stations"
    else:
        head = f"propeller known only by diameter and pitch: a standard blade ({STANDARD}, Clark Y) is assumed"
    rest = "cooling drag, interference of propeller and body and the rise of lift with Mach number are not in it"
    return f"{head}, its angle give or take 1 deg; {rest}"


def standing_results(flown: Flown) -> Iterator[Result]:
    """Thrust and engine speed, standing, full throttle."""
    pulls, gear = [full_pull(flown.model.engine, m, 0.0, flown.air) for m in flown.moved.maps], flown.model.engine.gear
    pull, words = flown.performance.standing, blade_words(flown)
    thrust = _over([p.thrust for p in pulls], MISSED)
    crank = _over([p.turning * gear for p in pulls], TURNED)
    step = pull_steps(flown, pull)
    note = pull.reason or f"two measured small propellers stood within 6 % of this method; {words}"
    yield told(thrust, "power.static.thrust", "thrust standing still, full throttle", "N", METHOD, note,
               (*step, *_disc_by_hand(flown, thrust.value)))  # fmt: skip
    held = "throttled, the propeller would not hold the engine down; " if pull.held_by == "engine speed" else ""
    title = "engine speed standing still, full throttle"
    yield told(crank, "power.static.rpm", title, "rev/s", METHOD, pull.reason or f"{held}{words}",
               (*step, *_turning_by_hand(flown, crank.value)))  # fmt: skip


def _over(found: list[float], ends: tuple[float, float]) -> Band:
    if not found or not all(map(math.isfinite, found)):
        return Band(found[0] if found else math.nan, math.nan, math.nan)
    return Band(found[0], min(found) * ends[0], max(found) * ends[1])


def _disc_by_hand(flown: Flown, ours: float) -> tuple[Step, ...]:
    """T = (2 rho A P^2)^(1/3), P the engine's greatest power."""
    area, rho = math.pi * flown.model.propeller.diameter**2 / 4, flown.air.density
    power = _greatest_power(flown)
    given = (("rho", rho, "kg/m3"), ("A", area, "m2"), ("P", power, "W"))
    return by_hand("(2 rho A P^2)^(1/3)", given, static_thrust(power, area, rho), ours, "N", DISC)


def _turning_by_hand(flown: Flown, ours: float) -> tuple[Step, ...]:
    """g (P/(CP rho D^5))^(1/3), CP of one measured propeller in proportion to pitch and blades; the standard blade."""
    prop, rho = flown.model.propeller, flown.air.density
    if prop.blade:
        return ()
    cp = CP_STANDING * prop.pitch / prop.diameter / PITCH_RATIO * prop.blades / 2
    power = _greatest_power(flown)
    value = flown.model.engine.gear * (power / (cp * rho * prop.diameter**5)) ** (1 / 3)
    given = (("CP", cp, "1"), ("P", power, "W"), ("rho", rho, "kg/m3"), ("D", prop.diameter, "m"),
             ("g", flown.model.engine.gear, "1"))  # fmt: skip
    source = "uiuc-propeller-2: CP 0.0371 at pitch 0.631 D, two blades, taken to go with pitch and blades"
    return by_hand("g (P/(CP rho D^5))^(1/3)", given, value, ours, "rev/s", source)


def _greatest_power(flown: Flown) -> float:
    return max((p.power for p in flown.model.engine.curve), default=math.nan) * air_factor(flown.air)


def flying_results(flown: Flown, row: Row | None) -> Iterator[Result]:
    """Engine speed in the best climb; efficiency in cruise: `row`, level flight nearest to three quarters power."""
    climb, engine = flown.performance.climb, flown.model.engine
    turned = [full_pull(engine, m, climb.speed.value, flown.air).turning * engine.gear for m in flown.moved.maps]
    title, note = "engine speed in the best climb, full throttle", climb.reason or blade_words(flown)
    yield told(_over(turned, TURNED), "power.climb.rpm", title, "rev/s", METHOD, note, pull_steps(flown, climb.pull),
               ("flight.climb.speed",))  # fmt: skip
    yield _efficiency(flown, row)


def _efficiency(flown: Flown, row: Row | None) -> Result:
    id, title = "power.cruise.efficiency", "efficiency of the propeller in cruise, nearest to three quarters power"
    if row is None or not flown.moved.maps:
        return told(UNKNOWN, id, title, "1", METHOD, "no level flight at a round engine speed is known")
    V, n, air = row.speed.value, row.crank / flown.model.engine.gear, flown.air
    points = [chart.at(V, n, air) for chart in flown.moved.maps]
    p, area = points[0], math.pi * flown.model.propeller.diameter**2 / 4
    found = [x.efficiency for x in points]
    spread = max(abs(x - p.efficiency) for x in found) if all(map(math.isfinite, found)) else math.nan
    band = Band(p.efficiency, p.efficiency - max(spread, HIGH), p.efficiency + max(spread, 0.02))
    given = (("T", p.thrust, "N"), ("V", V, "m/s"), ("P", p.power, "W"))
    step = Step("efficiency", "T V/P", given, p.efficiency, "1", "definition")
    q = air.density * V**2 / 2
    drag = (("T, drag in level flight", p.thrust, "N"), ("q", q, "Pa"), ("A", area, "m2"))
    ideal = ideal_efficiency(p.thrust, V, area, air.density)
    hand = by_hand("2/(1 + sqrt(1 + T/(q A)))", drag, ideal, p.efficiency, "1", DISC)
    note = f"at {row.crank * 60:.0f} rpm; {BEST}; {blade_words(flown)}"
    return told(band, id, title, "1", METHOD, note, (step, *hand), (f"flight.speed.at_rpm.{row.crank * 60:.0f}",))


def pull_steps(flown: Flown, pull: Pull | None) -> tuple[Step, ...]:
    """What the propeller takes and gives at the speed the pair turns at."""
    if pull is None or pull.point is None:
        return ()
    D, p = flown.model.propeller.diameter, pull.point
    rest = (("rho", flown.air.density, "kg/m3"), ("n", pull.turning, "rev/s"), ("D", D, "m"))
    takes, gives = (("CP", p.power_coefficient, "1"), *rest), (("CT", p.thrust_coefficient, "1"), *rest)
    return (Step("power the propeller takes", "P = CP rho n^3 D^5", takes, p.power, "W", METHOD),
            Step("thrust of the propeller", "T = CT rho n^2 D^4", gives, p.thrust, "N", METHOD))  # fmt: skip
