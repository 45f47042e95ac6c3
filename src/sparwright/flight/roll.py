"""Roll at full aileron: how fast, how long it takes to begin, from bank to bank, what of it is left near the stall, and
the yaw it makes.

Symbols: p rate of roll, V speed, q = rho V^2/2, S area of all wings, b greatest span, I inertia about the stream,
d aileron, half the sum of travel up and down; k what a real hinge does of the lattice's (data/aileron.toml: falls with
the travel). Clp, ClA, CnA, Cnp by the lattice with odd loads, fin in it (flight/sides.py).

    steady        p = k d ClA 2 V/(b (-Clp))
    helix angle   p b/(2 V), nearly the same at every speed
    lag           t = 2 I V/(q S b^2 (-Clp))        the time in which two thirds of the rate are there
    bank          f(s) = p (s - t (1 - exp(-s/t)))  from level wings held still, full aileron at once
    yaw           Cn = k d CnA + dcd Int c y dy/(S b), and Cnp p b/2V: dcd section drag of the half going down less up

Range: attached flow, small rates; cable stretch is not in it. Sources: glauert-1926 ch. XI (rolling); naca-tr-715
(helix angle); the equation of roll alone, worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np
from scipy.optimize import brentq

from sparwright.air.mesh import turned_by
from sparwright.base.check import Check, Result, Step, by_hand, check
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.aileron import effect, more_drag, source
from sparwright.data.roll import ROLL
from sparwright.flight.lateral import (
    CASE,
    WORDS,
    Lateral,
    coefficient,
    full_aileron,
    full_rudder,
    power_left,
    real_aileron,
)
from sparwright.flight.sides import Sides, between
from sparwright.flight.slow import told

METHOD = "lattice with odd loads, fin in it (air/sideways.py); glauert-1926 ch. XI"
NOTE = "attached flow; the cables' stretch is not in it"
BANK = math.radians(60.0)  # from 30 deg one way to 30 deg the other
PARENT = (f"flight.stall.{CASE}",)


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


def rolling(s: Sides, deflection: float, inertia: float, force: float, speed: float, span: float) -> Rolling:
    """Rate, lag and helix angle at an aileron, rad; inertia in kg m2, force q S in N, speed m/s, span m."""
    damping = s.value("Clp")
    helix = coefficient(s.value("ClA") / -damping, deflection, effect(deflection))
    rate = Band(*(x * 2 * speed / span for x in (helix.value, helix.low, helix.high)))
    return Rolling(rate, 2 * inertia * speed / (force * span**2 * -damping), helix, speed)


def rolls(lat: Lateral) -> dict[str, Rolling]:
    """The aeroplane in roll at full aileron, at every speed looked at; empty where it is not known."""
    deflection = full_aileron(lat.flown)
    if lat.reason or not math.isfinite(deflection):
        return {}
    return {k: roll_at(lat, v, deflection) for k, v in lat.speeds.items()}


def over_speeds(lat: Lateral, count: int = 25) -> tuple[Rolling, ...]:
    """Rate, lag and helix angle at full aileron from 1.1 of the stalling speed to the cruising speed, for a picture."""
    deflection = full_aileron(lat.flown)
    if lat.reason or not math.isfinite(deflection):
        return ()
    ends = lat.speeds["slow"], max(lat.speeds["cruise"], lat.speeds["approach"])
    return tuple(roll_at(lat, float(v), deflection) for v in np.linspace(*ends, count))


def roll_at(lat: Lateral, speed: float, deflection: float) -> Rolling:
    """In roll at any speed, m/s, within those worked out or a little past them: one point of rate over speed."""
    s = between(lat.known, lat.lift(speed))
    force = lat.flown.air.density * speed**2 / 2 * lat.flown.plane.area
    inertia = float(turned_inertia(lat.case.loading.inertia, s.alpha)[0, 0])
    return rolling(s, deflection, inertia, force, speed, lat.span)


def turned_inertia(inertia: np.ndarray, alpha: float) -> np.ndarray:
    """(3, 3) inertia in stream axes, x along the stream, of one in body axes."""
    turn = np.stack([turned_by(e, alpha) for e in np.eye(3)], axis=1)
    return np.asarray(turn @ inertia @ turn.T)


def roll_results(lat: Lateral) -> Iterator[Result]:
    """`flight.roll.*`: damping, ailerons, helix angle, rates, lag, times from bank to bank, yaw, what is left slow."""
    deflection = full_aileron(lat.flown)
    why = lat.reason or ("" if math.isfinite(deflection) else "no wing has ailerons")
    found = rolls(lat)
    if not lat.reason:
        yield from _derivatives(lat)
    yield from _told(lat, found, why, deflection)
    yield from _yaw(lat, found, why, deflection)
    yield from _left(lat, why)


def _derivatives(lat: Lateral) -> Iterator[Result]:
    s, plane, CL = lat.sides("approach"), lat.flown.plane, lat.lift(lat.speeds["approach"])
    aspect = lat.span**2 / plane.area
    hand = by_hand(
        "-(pi/4) A/(A + 4), A = b^2/S",
        (("A", aspect, "1"),),
        -math.pi / 4 * aspect / (aspect + 4),
        s.value("Clp"),
        "1",
        "glauert-1926 ch. XI: an elliptic wing rolling, all wings as one of their area",
    )
    step = Step(
        "damping",
        "Clp by the lattice",
        (("CL", CL, "1"), ("S", plane.area, "m2"), ("b", lat.span, "m")),
        s.value("Clp"),
        "1",
        METHOD,
    )
    note = "wings, tailplane and fin together, over the area of all wings and the greatest span"
    yield told(
        s.band("Clp"), "flight.roll.damping", "damping in roll, Clp for p b/2V", "1", METHOD, note, (step, *hand)
    )
    if "ClA" in s.pieces:
        k = real_aileron(lat)
        power = coefficient(s.value("ClA"), 1.0, k)
        step = Step(
            "aileron",
            "k ClA",
            (("k", k.value, "1"), ("ClA by the lattice", s.value("ClA"), "1/rad")),
            power.value,
            "1/rad",
            f"{METHOD}; k {source()}",
        )
        title = "rolling moment coefficient of all ailerons for each radian, at full travel"
        yield told(power, "flight.roll.aileron", title, "1/rad", METHOD, NOTE, (step,))


def _told(lat: Lateral, found: Mapping[str, Rolling], why: str, deflection: float) -> Iterator[Result]:
    none = Rolling(UNKNOWN)
    one, k = found.get("approach", none), effect(deflection)
    given = (("d", deflection, "rad"), ("k", k.value, "1"))
    step = Step("helix angle", "k d ClA/(-Clp)", given, one.helix.value, "1", f"{METHOD}; k {source()}")
    yield told(one.helix, "flight.roll.helix", "helix angle p b/2V at full aileron", "1", METHOD, why or NOTE, (step,))
    for key in ("cruise", "climb", "takeoff", "approach"):
        r = found.get(key, none)
        title = f"rate of roll at full aileron, {WORDS[key]}"
        numbers = (("p b/2V", r.helix.value, "1"), ("V", r.speed, "m/s"), ("b", lat.span, "m"))
        step = Step("rate", "p = (p b/2V) 2 V/b", numbers, r.rate.value, "rad/s", METHOD)
        yield told(r.rate, f"flight.roll.rate.{key}", title, "rad/s", METHOD, why or NOTE, (step,))
    title = f"lag in roll, {WORDS['approach']}: time in which two thirds of the rate are there"
    yield told(Band.exact(one.lag), "flight.roll.lag", title, "s", METHOD, why or NOTE, _lag_steps(lat, one))
    for key in ("takeoff", "approach"):
        r = found.get(key, none)
        time = r.time(BANK) if r.rate.known else UNKNOWN
        numbers = (("p", r.rate.value, "rad/s"), ("t", r.lag, "s"), ("f", BANK, "rad"))
        step = Step("time", "f = p (s - t (1 - exp(-s/t)))", numbers, time.value, "s", METHOD)
        yield told(
            time,
            f"flight.roll.time.{key}",
            f"time from 30 deg to 30 deg of bank, {WORDS[key]}",
            "s",
            METHOD,
            why or f"aileron at once; {NOTE}",
            (step,),
            PARENT,
        )


def _lag_steps(lat: Lateral, one: Rolling) -> tuple[Step, ...]:
    if not math.isfinite(one.lag):
        return ()
    s = lat.sides("approach")
    inertia = float(turned_inertia(lat.case.loading.inertia, s.alpha)[0, 0])
    given = (
        ("I", inertia, "kg m2"),
        ("V", one.speed, "m/s"),
        ("q S", lat.force("approach"), "N"),
        ("b", lat.span, "m"),
        ("Clp", s.value("Clp"), "1"),
    )
    return (Step("lag", "2 I V/(q S b2 (-Clp))", given, one.lag, "s", METHOD),)


@dataclass(frozen=True)
class Yaw:
    """Yawing moment coefficients of a roll to the right at full aileron; nose left is negative, adverse."""

    aileron: Band = UNKNOWN  # of the turned ailerons
    rolling: Band = UNKNOWN  # of the steady roll

    @property
    def both(self) -> Band:
        """Together, their ends added."""
        return Band(*(getattr(self.aileron, e) + getattr(self.rolling, e) for e in ("value", "low", "high")))


def adverse_yaw(lat: Lateral, key: str, helix: Band, deflection: float) -> Yaw:
    """What a roll at full aileron does to the nose at one of the speeds."""
    s, plane = lat.sides(key), lat.flown.plane
    induced = coefficient(s.value("CnA"), deflection, effect(deflection))
    first = 0.0
    for wing in (w for w in lat.flown.model.wings if w.aileron):
        strips, surface = plane.strips[wing.name], plane.company.mesh.surfaces[plane.company.place_of(wing.name)]
        first += float((strips.area * strips.y * surface.hinged).sum())
    more = more_drag(deflection)
    drag = sorted(-first * x / (plane.area * lat.span) for x in (more.low, more.high))
    aileron = Band(
        induced.value - first * more.value / (plane.area * lat.span), induced.low + drag[0], induced.high + drag[1]
    )
    turn = s.band("Cnp")
    ends = sorted(a * b for a in (turn.low, turn.high) for b in (helix.low, helix.high))
    return Yaw(aileron, Band(turn.value * helix.value, ends[0], ends[-1]))


def _yaw(lat: Lateral, found: Mapping[str, Rolling], why: str, deflection: float) -> Iterator[Result]:
    """Yaw that the turned ailerons and the roll make, and what of it the pedals must hold."""
    key, roll = "approach", found.get("approach", Rolling(UNKNOWN))
    yaw = adverse_yaw(lat, key, roll.helix, deflection) if not why else Yaw()
    where, note = WORDS[key], why or f"nose away from the roll is negative; {NOTE}"
    title = f"yawing moment of full aileron, coefficient, {where}"
    steps = _yaw_steps(lat, yaw.aileron.value, deflection) if not why else ()
    yield told(yaw.aileron, "flight.roll.yaw.aileron", title, "1", METHOD, note, steps)
    given = (("Cnp", lat.sides(key).value("Cnp") if not why else math.nan, "1"), ("p b/2V", roll.helix.value, "1"))
    step = Step("yaw of the roll", "Cnp p b/2V", given, yaw.rolling.value, "1", METHOD)
    title = f"yawing moment of the steady roll at full aileron, coefficient, {where}"
    yield told(yaw.rolling, "flight.roll.yaw.rolling", title, "1", METHOD, note, (step,))
    yield from _held(lat, yaw, why)


def _yaw_steps(lat: Lateral, value: float, deflection: float) -> tuple[Step, ...]:
    s, k = lat.sides("approach"), effect(deflection).value
    rolled, aspect = deflection * k * s.value("ClA"), lat.span**2 / lat.flown.plane.area
    given = (("k", k, "1"), ("d", deflection, "rad"), ("CnA", s.value("CnA"), "1/rad"),
             ("dcd", more_drag(deflection).value, "1"))  # fmt: skip
    own = Step(
        "yaw of the ailerons", "k d CnA - dcd Int c y dy/(S b)", given, value, "1", f"{METHOD}; dcd {source('drag')}"
    )
    numbers = (("CL", s.lift, "1"), ("Cl", rolled, "1"), ("A", aspect, "1"))
    hand = by_hand("-3 CL Cl/(pi A)", numbers, -3 * s.lift * rolled / (math.pi * aspect), value, "1",
                   "glauert-1926 ch. XI: elliptic, induced alone, all wings as one")  # fmt: skip
    return own, *hand


def _held(lat: Lateral, yaw: Yaw, why: str) -> Iterator[Result]:
    """The rudder that holds the nose, and where it goes without."""
    s, rudder, where = lat.sides("approach") if not why else None, full_rudder(lat.flown), WORDS["approach"]
    power = coefficient(s.value("CnR"), rudder, effect(rudder)) if s else UNKNOWN
    weathercock = s.band("Cnb") if s else UNKNOWN
    both = (("Cn aileron", yaw.aileron.value, "1"), ("Cn rolling", yaw.rolling.value, "1"))
    part, slip = _over(yaw.both, power), _over(yaw.both, weathercock)
    given = (*both, ("k CnR r", power.value, "1"))
    step = Step("rudder", "-(Cn aileron + Cn rolling)/(k CnR r)", given, part.value, "1", METHOD)
    title = f"rudder that keeps the nose in such a roll, part of its travel, {where}"
    yield told(part, "flight.roll.yaw.rudder", title, "1", METHOD, why or NOTE, (step,))
    given = (*both, ("Cnb", weathercock.value, "1/rad"))
    step = Step("sideslip", "-(Cn aileron + Cn rolling)/Cnb", given, slip.value, "rad", METHOD)
    note = why or f"steady roll, dihedral effect left out; wind from the side it rolls to; {NOTE}"
    title = f"sideslip that a roll at full aileron comes to with pedals held, {where}"
    yield told(slip, "flight.roll.yaw.sideslip", title, "rad", METHOD, note, (step,))


def _over(a: Band, b: Band) -> Band:
    """-a/b with the ends of both; unknown where b may be nought."""
    if not (a.known and b.known) or b.low <= 0:
        return UNKNOWN
    ends = sorted(-x / y for x in (a.low, a.high) for y in (b.low, b.high))
    return Band(-a.value / b.value, ends[0], ends[-1])


def _left(lat: Lateral, why: str) -> Iterator[Result]:
    for key in ("slow", "takeoff"):
        part = power_left(lat, key) if not why else UNKNOWN
        note = why or (
            "slope of the sections' lift along the ailerons over that in cruise: an indication; that a "
            "lowered aileron may itself let the flow go is not in it"
        )
        title = f"part of the ailerons' power in cruise that is left {WORDS[key]}"
        yield told(
            part,
            f"flight.roll.left.{key}",
            title,
            "1",
            "section flow (drela-giles-1987) strip by strip",
            note,
            (),
            PARENT,
        )


def roll_checks(by_id: Mapping[str, Result]) -> Iterator[Check]:
    """`flight.rolls.*`: helix angle and times from bank to bank against what is asked of light aeroplanes."""
    for key, id in (("helix", "helix"), ("takeoff", "time.takeoff"), ("approach", "time.approach")):
        r, rule = by_id[f"flight.roll.{id}"], ROLL[key]
        yield check(
            f"flight.rolls.{key}",
            rule.title,
            r.band,
            rule.value,
            rule.sense,
            r.unit,
            rule=str(rule.source),
            method=METHOD,
            caveat=r.caveat,
            outside_range="" if r.band.known else r.caveat,
            parents=(r.id,),
        )
