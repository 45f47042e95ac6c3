"""Roll at full aileron: how fast, how long it takes to begin, from bank to bank, and what the wings damp of it.

Symbols: L rolling moment, p rate of roll, V speed, q = rho V^2/2, b greatest span, S area of all wings, I inertia about
the stream's axis (about the aeroplane's own, taken alike), d aileron, half the sum of travel up and down; k what a real
hinge does of the lattice's (EFFECTIVE). l_p and l_d: L/q for p/V and for d, by the lattice (air/rolling.py).

    steady        p = k d l_d V/(-l_p)
    helix angle   p b/(2 V), the same at every speed
    lag           t = I V/(q (-l_p))                the time in which two thirds of the rate are there
    bank          f(s) = p (s - t (1 - exp(-s/t)))  from level wings held still, full aileron at once

Range: attached flow, small rates; cable stretch, and yaw that the ailerons make, are not in it. Sources: glauert-1926
ch. XI (rolling); naca-tr-715 (helix angle); the equation of roll alone, worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from scipy.optimize import brentq

from sparwright.air.rolling import Odd, odd
from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Result, Step, check
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.roll import ROLL
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.fast import cruise_speed
from sparwright.flight.slow import told
from sparwright.flight.work import Flown

METHOD = "lattice with odd loads (air/rolling.py); glauert-1926 ch. XI"
NOTE = "attached flow; the ailerons' yaw and the cables' stretch are not in it"
BANK = math.radians(60.0)  # from 30 deg one way to 30 deg the other
CASE = "heaviest"


@dataclass(frozen=True)
class Rolling:
    """An aeroplane in roll at one speed."""

    rate: Band  # rad/s, steady
    lag: float = number("s", "time constant", math.nan)
    helix: Band = UNKNOWN  # 1
    speed: float = number("m/s", "speed", math.nan)

    def time(self, angle: float) -> Band:
        """Seconds through an angle, rad, from rest, aileron at once; least with the fastest rate."""
        ends = [_time(angle, p, self.lag) for p in (self.rate.value, self.rate.high, self.rate.low)]
        return Band(*ends)


def _time(angle: float, rate: float, lag: float) -> float:
    if not (rate > 0 and math.isfinite(lag)):
        return math.nan
    steady = angle / rate
    return float(brentq(lambda s: rate * (s + lag * math.expm1(-s / lag)) - angle, 0.0, steady + 3 * lag + 1.0))


def rolling(o: Odd, deflection: float, inertia: float, speed: float, density: float, span: float) -> Rolling:
    """Rate, lag and helix angle at full aileron, rad; inertia in kg m2, speed m/s, span m."""
    turn = o.aileron * deflection / -o.damping  # rad a metre
    over = Band(*(turn * k for k in (EFFECTIVE.value, EFFECTIVE.low, EFFECTIVE.high)))
    q = density * speed**2 / 2
    return Rolling(
        Band(*(x * speed for x in (over.value, over.low, over.high))),
        inertia * speed / (q * -o.damping),
        Band(*(x * span / 2 for x in (over.value, over.low, over.high))),
        speed,
    )


def full_aileron(flown: Flown) -> float:
    """Half of the travel up and down together, rad, of the wing with the least; NaN without ailerons."""
    return min(((w.aileron.up + w.aileron.down) / 2 for w in flown.model.wings if w.aileron), default=math.nan)


def roll_results(flown: Flown) -> Iterator[Result]:
    """`flight.roll.*`: damping, ailerons, helix angle, rates, lag, times from bank to bank."""
    case, plane = flown.cases[CASE], flown.plane
    stall, area = case.stall.speed, plane.area
    span = max(2 * float(p.leading_edge[1, -1]) for p in plane.company.planforms if not p.is_tail)
    deflection = full_aileron(flown)
    slow = {k: ROLL[f"{k}_speed"].value * stall.value for k in ("takeoff", "approach")}
    speeds = {"cruise": cruise_speed(flown), **slow}
    why = "no wing has ailerons" if not math.isfinite(deflection) else "" if stall.known else "stalling speed unknown"
    found: dict[str, Rolling] = {}
    for key, V in speeds.items() if not why else ():
        lift = case.loading.mass * GRAVITY / (flown.air.density * V**2 / 2 * area)
        alpha = float(case.line.states(lift).alpha[0])
        o = _wings(odd(plane.company.mesh, alpha), flown) if math.isfinite(alpha) else Odd(math.nan)
        found[key] = rolling(o, deflection, float(case.loading.inertia[0, 0]), V, flown.air.density, span)
        if key == "approach":
            yield from _derivatives(o, span, area)
    yield from _told(found, why, deflection)


def _wings(o: Odd, flown: Flown) -> Odd:
    """Without what the elevator would do."""
    names = {w.name for w in flown.model.wings}
    return Odd(o.damping, {k: v for k, v in o.ailerons.items() if k in names})


def _derivatives(o: Odd, span: float, area: float) -> Iterator[Result]:
    damping = o.damping * 2 / span / (area * span)
    step = Step("damping", "Clp = l_p (2/b)/(S b)", (("l_p", o.damping, "m4"), ("b", span, "m"), ("S", area, "m2")),
                damping, "1", METHOD)  # fmt: skip
    note = "all wings and the tailplane together, over the area of all wings and the greatest span"
    title = "damping in roll, Clp for p b/2V"
    yield told(Band.exact(damping), "flight.roll.damping", title, "1", METHOD, note, (step,))
    power = o.aileron / (area * span)
    yield told(Band(*(power * k for k in (EFFECTIVE.value, EFFECTIVE.low, EFFECTIVE.high))), "flight.roll.aileron",
               "rolling moment coefficient of all ailerons for each radian", "1/rad", METHOD, NOTE)  # fmt: skip


def _told(found: Mapping[str, Rolling], why: str, deflection: float) -> Iterator[Result]:
    none = Rolling(UNKNOWN)
    at = {
        "cruise": "at a cruising speed",
        "takeoff": "at 1.2 of the stalling speed",
        "approach": "at 1.3 of the stalling speed",
    }
    one = found.get("approach", none)
    given = (("d", deflection, "rad"), ("k", EFFECTIVE.value, "1"))
    step = Step("helix angle", "k d l_d/(-l_p) b/2", given, one.helix.value, "1", METHOD)
    yield told(one.helix, "flight.roll.helix", "helix angle p b/2V at full aileron", "1", METHOD, why or NOTE, (step,))
    for key, words in at.items():
        r = found.get(key, none)
        title = f"rate of roll at full aileron, {words}"
        yield told(r.rate, f"flight.roll.rate.{key}", title, "rad/s", METHOD, why or NOTE)
    title = f"lag in roll, {at['approach']}: time in which two thirds of the rate are there"
    yield told(Band.exact(one.lag), "flight.roll.lag", title, "s", METHOD, why or NOTE)
    for key in ("takeoff", "approach"):
        r = found.get(key, none)
        time = r.time(BANK) if r.rate.known else UNKNOWN
        numbers = (("p", r.rate.value, "rad/s"), ("t", r.lag, "s"), ("f", BANK, "rad"))
        step = Step("time", "f = p (s - t (1 - exp(-s/t)))", numbers, time.value, "s", METHOD)
        yield told(time, f"flight.roll.time.{key}", f"time from 30 deg to 30 deg of bank, {at[key]}", "s", METHOD,
                   why or f"aileron at once; {NOTE}", (step,), ("flight.stall.heaviest",))  # fmt: skip


def roll_checks(by_id: Mapping[str, Result]) -> Iterator[Check]:
    """`flight.rolls.*`: helix angle and times from bank to bank against what is asked of light aeroplanes."""
    for key, id in (("helix", "helix"), ("takeoff", "time.takeoff"), ("approach", "time.approach")):
        r, rule = by_id[f"flight.roll.{id}"], ROLL[key]
        yield check(
            f"flight.rolls.{key}", rule.title, r.band, rule.value, rule.sense, r.unit, rule=str(rule.source),
            method=METHOD, caveat=r.caveat, outside_range="" if r.band.known else r.caveat, parents=(r.id,),
        )  # fmt: skip
