"""Elevator to trim from stall to top speed, with and without power, what power does to the margin, and pitching.

`flight.trim.<case>.<off, full>.<speed>`, `flight.neutral_point.power.<climb, cruise>`, `flight.static_margin.power.*`,
`flight.pitch.*`. Speeds: slow 1.1, climb 1.4 of the case's stalling speed, cruise and top those of the greatest mass.

    pitching acceleration = q S c CM_e (e_full - e_trim)/I_yy

with the elevator against its stop from a steady flight; damping sets in after that.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Result, Sense, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.estimates import elevator_steps
from sparwright.flight.fast import cruise_speed
from sparwright.flight.performance import Mover
from sparwright.flight.slow import FLAP, TITLES, told
from sparwright.flight.stability import PROPELLER
from sparwright.flight.tail_flow import TailFlow
from sparwright.flight.with_power import NOT_IN_IT, PowerLine, Pulling, power_line
from sparwright.flight.work import Case, Flown, place
from sparwright.power.matching import full_pull

CASES = ("foremost", "aftmost")
SLOW, CLIMB, BETWEEN = 1.1, 1.4, 6
SOURCE = "anderson-flight ch. 7, by the lattice; glauert-1926 ch. XV, naca-wr-l-219 (flight/with_power.py)"
WORDS = {"slow": "1.1 of the stalling speed", "climb": "1.4 of the stalling speed", "cruise": "a cruising speed",
         "top": "the greatest level speed"}  # fmt: skip
PITCHES: tuple[tuple[str, str, Sense], ...] = (
    ("pitch.up", "the nose is raised at the forward end of the balance", ">="),
    ("pitch.down.off", "the nose is lowered from the stall at the aft end, power off", "<="),
    ("pitch.down.full", "the nose is lowered from the stall at the aft end, full throttle", "<="),
)
INDICATION = "an indication: flight test must show the margin with power"


@dataclass(frozen=True)
class Pulls:
    """The cases with power, and the speeds they are told at."""

    lines: Mapping[str, PowerLine]
    speeds: Mapping[str, Mapping[str, float]]  # m/s by case and by name
    why: str = ""


def pulls(flown: Flown, moved: Mover, flows: Mapping[str, TailFlow]) -> Pulls:
    """Both ends of the balance over speed with full throttle."""
    if not moved.maps or moved.blade is None:
        return Pulls({}, {}, "the engine has no power curve")
    hub, top = flown.model.propeller.place, flown.performance.top.speed.value
    pulling = Pulling(
        moved.blade,
        hub,
        lambda v: full_pull(flown.model.engine, moved.maps[0], v, flown.air).thrust,
    )
    lines, speeds = {}, {}
    for name in CASES:
        case = flown.cases[name]
        stall = case.stall.speed.value
        if not math.isfinite(stall) or not top > CLIMB * stall:
            why = case.stall.reason or "the greatest level speed is unknown or too near the stall"
            return Pulls({}, {}, why)
        speeds[name] = {"slow": SLOW * stall, "climb": CLIMB * stall, "cruise": cruise_speed(flown), "top": top}
        knots = _knots(stall, tuple(speeds[name].values()))
        lines[name] = power_line(case.line, place(case.loading), pulling, knots, _wake(flows))
    return Pulls(lines, speeds)


def _knots(stall: float, told: tuple[float, ...]) -> np.ndarray:
    """Rising speeds: those told, and some between them no nearer than 4 % to one."""
    between = [V for V in np.geomspace(1.03 * stall, max(told), BETWEEN) if all(abs(V / t - 1) > 0.04 for t in told)]
    return np.array(sorted({*told, *map(float, between)}))


def _wake(flows: Mapping[str, TailFlow]):  # type: ignore[no-untyped-def]
    """rw over CL, straight between what is known, the nearest beyond; NaN where none is."""
    known = sorted((f.lift, f.pressure.value) for f in flows.values() if f.pressure.known)
    if not known:
        return lambda CL: math.nan
    lifts, values = zip(*known, strict=True)
    return lambda CL: float(np.interp(CL, lifts, values))


def power_on_results(flown: Flown, found: Pulls) -> Iterator[Result]:
    """All of them; unknown with the reason where the stall, the thrust or the way of the wakes is."""
    for name in CASES:
        for power in ("off", "full"):
            for key in WORDS:
                yield _trim(flown, found, name, power, key)
    neutral = {key: _neutral(flown, found, key) for key in ("climb", "cruise")}
    yield from neutral.values()
    for name, case in flown.cases.items():
        yield _margin(flown, name, case, neutral["climb"])
    for power in ("off", "full"):
        yield _down(flown, found, power)
    yield _up(flown, found)


def _trim(flown: Flown, found: Pulls, name: str, power: str, key: str) -> Result:
    """Elevator at one speed, trailing edge down positive, what a real flap loses counted."""
    id = f"flight.trim.{name}.{power}.{key}"
    words = "full throttle" if power == "full" else "power off"
    title = f"elevator to trim at {WORDS[key]}, {words}, {TITLES[name]}"
    if found.why:
        return told(UNKNOWN, id, title, "rad", SOURCE, found.why)
    line, V = found.lines[name], found.speeds[name][key]
    lattice = line.elevator(V) if power == "full" else Band.exact(line.without(V))
    band = in_truth(lattice)
    steps: tuple[Step, ...] = (_steady(line, V, power, band),)
    if power == "off" and key in ("cruise", "top"):  # attached flow, where the textbook's straight lines hold
        h, lattice_e = flown.cases[name].loading, line.without(V)
        steps += elevator_steps(flown.plane, flown.tail_volume, h.fraction, line.lift(V), lattice_e)
    note = f"{FLAP}; {NOT_IN_IT}" if power == "full" else FLAP
    return told(band, id, title, "rad", SOURCE, note, steps, (f"flight.stall.{name}",))


def in_truth(lattice: Band) -> Band:
    """The angle a real elevator is turned by for one of the lattice: least and greatest over what it loses.

    >>> in_truth(Band(-0.17, -0.18, -0.09)).high
    -0.09999999999999999
    """
    ends = [x / f for x in (lattice.low, lattice.high) for f in (EFFECTIVE.low, EFFECTIVE.high)]
    return Band(lattice.value / EFFECTIVE.value, min(ends), max(ends))


def _steady(line: PowerLine, V: float, power: str, band: Band) -> Step:
    """The sum for the elevator, with every number that goes into it."""
    t = min(line.trims, key=lambda t: abs(t.speed - V))
    without = ("e without power, lattice", line.without(V), "rad")
    if power == "off" or t.tail is None:
        few = (("V", V, "m/s"), without, ("f", EFFECTIVE.value, "1"))
        return Step("elevator", "e = e_lattice/f, CM(a, e) = 0", few, band.value, "rad", SOURCE)
    tail = t.tail
    given = (
        ("V", t.speed, "m/s"), without, ("f", EFFECTIVE.value, "1"), ("T", t.thrust, "N"), ("N", t.across, "N"),
        ("A + I + E", tail.carries, "m2"), ("X", t.added, "m2"), ("rw", t.wake, "1"), ("A'", tail.slope, "m2/rad"),
        ("A/A' + b", t.meets, "rad"), ("I", tail.by_setting, "m2"), ("E'", tail.elevator_slope, "m2/rad"),
        ("P", t.part, "1"), ("r", t.pressure, "1"), ("w", t.down, "1"), ("G", t.gained, "m2"), ("l", tail.arm, "m"),
    )  # fmt: skip
    formula = (
        "f e = ((A + I + E + X)/rw - A' ((A/A' + b) f1 - w P sqrt(r)) - I f2)/(E' f2), "
        "f1 = 1 - P + P sqrt(r), f2 = 1 - P + P r"
    )
    return Step("elevator", formula, given, band.value, "rad", SOURCE)


def _neutral(flown: Flown, found: Pulls, key: str) -> Result:
    """The stick-fixed neutral point with full throttle: that without power, moved by what power does at the aft end."""
    id = f"flight.neutral_point.power.{key}"
    title = f"neutral point, stick fixed, full throttle, {WORDS[key]}"
    if found.why:
        return told(UNKNOWN, id, title, "1", SOURCE, found.why, (), ("flight.neutral_point",))
    hn = flown.neutral_point
    by = found.lines["aftmost"].change(found.speeds["aftmost"][key])
    bare = Band(hn.value, hn.low + PROPELLER, hn.high)
    band = Band(bare.value + by.value, bare.value + by.value - math.hypot(bare.value - bare.low, by.value - by.low),
                bare.value + by.value + math.hypot(bare.high - bare.value, by.high - by.value))  # fmt: skip
    given = (("hn power off", hn.value, "1"), ("change", by.value, "1"), ("least change", by.low, "1"),
             ("greatest change", by.high, "1"))  # fmt: skip
    step = Step(
        "neutral point", "hn + CM_e de/dCL with power less without; ends as squares", given, band.value, "1", SOURCE
    )
    return told(band, id, title, "1", SOURCE, f"{INDICATION}; {NOT_IN_IT}", (step,), ("flight.neutral_point",))


def _margin(flown: Flown, name: str, case: Case, neutral: Result) -> Result:
    h, hn = case.loading, neutral.band
    band = Band(hn.value - h.fraction, hn.low - h.fraction_high, hn.high - h.fraction_low)
    step = Step("static margin", "hn - h", (("hn", hn.value, "1"), ("h", h.fraction, "1")), band.value, "1",
                "anderson-flight ch. 7")  # fmt: skip
    title = f"static margin, stick fixed, full throttle, {WORDS['climb']}, {TITLES[name]}"
    note = INDICATION if band.known else neutral.caveat
    return told(band, f"flight.static_margin.power.{name}", title, "1", SOURCE, note, (step,),
                (neutral.id, f"mass.case.{name}"))  # fmt: skip


def _pitch(flown: Flown, line: PowerLine, case: Case, V: float, power: str, stop: float) -> tuple[Band, Step]:
    """Pitching acceleration, rad/s2, nose up, with the elevator on a stop (rad, trailing edge down)."""
    plane, t = flown.plane, min(line.trims, key=lambda t: abs(t.speed - V))
    bare = t.powers[0] if power == "full" else t.powers[0] / (1 + t.part * (t.pressure - 1))
    e = line.elevator(V) if power == "full" else Band.exact(line.without(V))
    q, inertia = flown.air.density * V**2 / 2, float(case.loading.inertia[1, 1])
    scale = q * plane.area * plane.chord * bare / inertia
    each = [scale * (f * stop - x) for f in (EFFECTIVE.value, EFFECTIVE.low, EFFECTIVE.high)
            for x in (e.value, e.low, e.high)]  # fmt: skip
    given = (("q", q, "Pa"), ("S", plane.area, "m2"), ("c", plane.chord, "m"), ("CM_e", bare, "1/rad"),
             ("stop", stop, "rad"), ("f", EFFECTIVE.value, "1"), ("e to trim, lattice", e.value, "rad"),
             ("I_yy", inertia, "kg m2"))  # fmt: skip
    step = Step("pitching acceleration", "q S c CM_e (f stop - e)/I_yy", given, each[0], "rad/s2", SOURCE)
    return Band(each[0], min(each), max(each)), step


def _down(flown: Flown, found: Pulls, power: str) -> Result:
    """How briskly full down elevator lowers the nose near the stall at the aft end of the balance."""
    words = "full throttle" if power == "full" else "power off"
    id, title = (
        f"flight.pitch.down.{power}",
        f"pitching with full down elevator near the stall, {words}, {TITLES['aftmost']}",
    )
    if found.why:
        return told(UNKNOWN, id, title, "rad/s2", SOURCE, found.why)
    case, line = flown.cases["aftmost"], found.lines["aftmost"]
    V = line.trims[0].speed
    band, step = _pitch(flown, line, case, V, power, flown.plane.model.tailplane.down)
    note = f"nose up positive; at {V:.1f} m/s, the wings not yet stalled; past the stall it is not worked out; {FLAP}"
    return told(band, id, title, "rad/s2", SOURCE, note, (step,), ("flight.stall.aftmost",))


def _up(flown: Flown, found: Pulls) -> Result:
    """How briskly full up elevator raises the nose, power off, at the forward end of the balance."""
    id, title = (
        "flight.pitch.up",
        f"pitching with full up elevator at 1.1 of the stalling speed, power off, {TITLES['foremost']}",
    )
    if found.why:
        return told(UNKNOWN, id, title, "rad/s2", SOURCE, found.why)
    case, line, V = flown.cases["foremost"], found.lines["foremost"], found.speeds["foremost"]["slow"]
    band, step = _pitch(flown, line, case, V, "off", -flown.plane.model.tailplane.up)
    return told(band, id, title, "rad/s2", SOURCE, f"nose up positive; {FLAP}", (step,), ("flight.stall.foremost",))


def power_on_checks(flown: Flown, by_id: Mapping[str, Result]) -> Iterator[Check]:
    """The elevator trims all speeds both ways within its travel, raises the nose and lowers it."""
    wanted = [by_id[f"flight.trim.{n}.{p}.{k}"] for n in CASES for p in ("off", "full") for k in WORDS]
    most = max(wanted, key=lambda r: r.high if math.isfinite(r.high) else math.inf)
    unknown = next((r.caveat for r in wanted if not r.band.known), "")
    yield check(
        "flight.elevator.down", "down elevator wanted to trim, slow to top speed, power off and full throttle",
        UNKNOWN if unknown else most.band, flown.plane.model.tailplane.down, "<=", "rad", case=most.title,
        rule="the elevator must trim at every speed (designer's)", method=SOURCE, caveat=most.caveat,
        outside_range=unknown, parents=(most.id,),
    )  # fmt: skip
    for key, words, sense in PITCHES:
        r = by_id[f"flight.{key}"]
        yield check(
            f"flight.pitches.{key.removeprefix('pitch.')}",
            f"{words}: pitching acceleration with full elevator", r.band, 0.0, sense, "rad/s2",
            rule="full elevator must turn the nose the right way (designer's; CS-VLA 145 in sense, memory)",
            method=SOURCE, caveat=r.caveat, outside_range="" if r.band.known else r.caveat, parents=(r.id,),
        )  # fmt: skip
