"""Whether the engine is turned too fast: at full throttle in the climb, and spun by the air in a dive."""

from __future__ import annotations

import math

from sparwright.base.check import Check, Result, Step, by_hand, check
from sparwright.base.source import Band
from sparwright.flight.propeller_told import METHOD
from sparwright.flight.slow import told
from sparwright.flight.work import Flown
from sparwright.power.engine import greatest_speed
from sparwright.power.overspeed import SPUN, full_throttle_limit, spun_free
from sparwright.power.slipstream import windmilling

RULE = "cfr-23-2014 23.33(b) (memory): a propeller of fixed pitch limits the engine's speed"
FULL, FREE = "power.overspeed.full_throttle", "power.overspeed.closed"
SCREW = "a screw of its pitch without slip: a cambered blade turns slower, its angle without lift lies below the flat"


def overspeed_told(flown: Flown, dive: float) -> tuple[tuple[Result, ...], tuple[Check, ...]]:
    """Whether the engine is turned too fast: at full throttle in the climb, and spun with it closed at VNE.

    dive: speed of the load cases, m/s; VNE is the designer's, or nine tenths of it (cfr-23-2014 23.1505, memory).
    """
    engine, given = flown.model.engine, flown.model.limits.never_exceed
    never = given if given is not None else 0.9 * dive
    whence = "as the file says" if given is not None else "nine tenths of the load cases' dive speed"
    says = "as the file says" if engine.greatest_speed is not None else "the last point of its curve, none is given"
    most = greatest_speed(engine)
    limit = full_throttle_limit(engine, flown.moved.maps, flown.air)
    spun = spun_free(engine, flown.moved.maps, never)
    words = f"greatest permitted speed {most * 60:.0f} rpm, {says}" if engine.curve else "the engine has no power curve"
    title = "speed at which full throttle turns the engine at its greatest speed"
    full = told(limit, FULL, title, "m/s", METHOD, _full_note(limit, never, words), _full_steps(flown, limit))
    title = "engine speed at the speed never exceeded, spun by the air, throttle closed"
    note = f"{never:.1f} m/s, {whence}; an upper end: what the engine's own drag takes off is not known"
    free = told(spun, FREE, title, "rev/s", METHOD, note, _spun_steps(flown, never, spun))
    return (full, free), (_in_climb(flown, full, words), _in_dive(free, SPUN * most, f"{note}; {words}"))


def _in_climb(flown: Flown, full: Result, words: str) -> Check:
    title = "full throttle in the best climb stays below the engine's greatest speed"
    return check("power.overspeed.climb", title, full.band, flown.performance.climb.speed.value, ">=", "m/s",
                 case="climb", rule=f"{RULE}, (1)", method=METHOD, caveat=words, steps=full.steps,
                 parents=(FULL, "flight.climb.speed"))  # fmt: skip


def _in_dive(free: Result, limit: float, note: str) -> Check:
    title = "engine spun by the air at the speed never exceeded, throttle closed"
    return check("power.overspeed.dive", title, free.band, limit, "<=", "rev/s", case="dive",
                 rule=f"{RULE}, (2): 1.10 of the greatest", method=METHOD, caveat=note, steps=free.steps,
                 parents=(FREE,))  # fmt: skip


def _full_note(limit: Band, never: float, words: str) -> str:
    if not math.isfinite(limit.value):
        return f"the propeller's map ends while it still holds the engine, or there is no curve; {words}"
    past = f"below the speed never exceeded, {never:.1f} m/s: throttle back in a dive" if limit.value < never else ""
    return "; ".join(x for x in (past, words) if x)


def _full_steps(flown: Flown, limit: Band) -> tuple[Step, ...]:
    if not limit.known or not limit.value > 0:
        return ()
    engine, D = flown.model.engine, flown.model.propeller.diameter
    n = greatest_speed(engine) / engine.gear
    J = limit.value / (n * D)
    cp = float(flown.moved.maps[0].coefficients(J)[1])
    given = (("CP", cp, "1"), ("rho", flown.air.density, "kg/m3"), ("n", n, "rev/s"), ("D", D, "m"))
    power = cp * flown.air.density * n**3 * D**5
    at = (("J", J, "1"), ("n", n, "rev/s"), ("D", D, "m"))
    return (Step("power taken at the greatest speed", "P = CP(J) rho n^3 D^5", given, power, "W", METHOD),
            Step("speed", "V = J n D", at, limit.value, "m/s", "definition"))  # fmt: skip


def _spun_steps(flown: Flown, never: float, spun: Band) -> tuple[Step, ...]:
    if not spun.known:
        return ()
    prop, engine = flown.model.propeller, flown.model.engine
    J = windmilling(flown.moved.maps[0])[0]
    given = (("g", engine.gear, "1"), ("VNE", never, "m/s"), ("J0", J, "1"), ("D", prop.diameter, "m"))
    step = Step("engine speed", "g VNE/(J0 D), CP(J0) = 0", given, spun.value, "rev/s", METHOD)
    hand = (("g", engine.gear, "1"), ("VNE", never, "m/s"), ("p", prop.pitch, "m"))
    return (step, *by_hand("g VNE/p", hand, engine.gear * never / prop.pitch, spun.value, "rev/s", SCREW))
