"""Sideslip, crosswind, rudder: what the pedals can do with the nose, and what the wind may do.

Symbols as in flight/sides.py; B sideslip, A aileron, R rudder, f bank, rad; k what a real hinge does of the lattice's
(data/aileron.toml).

    steady    Clb B + k ClA A + ClR R = 0,  Cnb B + k CnA A + k CnR R = 0,  CY + CL sin f = 0
    greatest  R at its stop, or less where A comes to its own first
    wind      W = V sin B: the nose along the runway while the air drifts by

Range: straight slip, small angles, attached flow: beyond some 15 deg fins and rudders let go, and these sums know
nothing of it. Power off. Sources: nelson-1998 ch. 2 (memory) for the balance; worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sparwright.base.check import Check, Result, Step, by_hand, check
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.aileron import effect
from sparwright.data.flying import SLIP
from sparwright.flight.lateral import WORDS, Lateral, full_aileron, full_rudder, power_left
from sparwright.flight.sides import DOUBT, Sides
from sparwright.flight.slow import told

METHOD = "lattice with odd loads, fin in it (air/sideways.py); body naca-tr-184; flight/slip.py"
LETS_GO = math.radians(15.0)  # sideslip past which attached flow on the fin is doubtful (common practice, no source)
NOTE = "straight slip, power off, cables stiff; struts, wires and the propeller's side force are not in it"
SPIN = (
    "cannot be computed here: past the stall in yaw no published method foretells a spin or its end for such an "
    "aeroplane. Flight test must show, at height, with a parachute, balance worked from forward to aft: recovery from "
    "one turn or three seconds, whichever is longer, within one more turn after the controls are moved, with any use "
    "of controls and power at entry and in the spin, without passing limit speed or load factor, and no spin that "
    "cannot be ended (14 CFR 23.221(a) of 2014, read; CS-VLA 221, memory); and what it does at the stall, wings level, "
    "turning, with power. Until then no spins are flown, and stalls at height only"
)
PEDALS = "pedals and stick held; the paragraph is flown with them free"


@dataclass(frozen=True)
class Slip:
    """The greatest steady sideslip at one speed."""

    angle: float = number("rad", "sideslip, wind from the right", math.nan)
    aileron: float = number("1", "part of the ailerons' travel it takes", math.nan)
    bank: float = number("rad", "bank, right wing down", math.nan)
    held_by: str = ""  # rudder or aileron


def steady(s: Sides, rudder: float, aileron: float, effects: tuple[float, float], over: Mapping[str, float]) -> Slip:
    """Full left rudder against wind from the right. rudder, aileron: full travel, rad; effects: k of rudder, aileron.

    over: derivatives by name that take the place of the likely ones.
    """
    c = {n: over.get(n, s.value(n)) for n in ("CYb", "Clb", "Cnb", "CYR", "ClR", "CnR")}
    a = {n: s.value(n) * effects[1] for n in ("CYA", "ClA", "CnA")}
    turned = -rudder * effects[0]  # left
    # two by two: rolling and yawing moment in sideslip and aileron
    det = c["Clb"] * a["CnA"] - c["Cnb"] * a["ClA"]
    angle = (-c["ClR"] * turned * a["CnA"] + c["CnR"] * turned * a["ClA"]) / det
    stick = (-c["CnR"] * turned * c["Clb"] + c["ClR"] * turned * c["Cnb"]) / det
    part, held = stick / aileron, "rudder"
    if abs(part) > 1:
        angle, turned, stick, held = angle / abs(part), turned / abs(part), stick / abs(part), "aileron"
        part = math.copysign(1.0, part)
    side = c["CYb"] * angle + a["CYA"] * stick + c["CYR"] * turned
    return Slip(angle, abs(part), math.asin(max(-1.0, min(1.0, -side / s.lift))), held)


def slips(lat: Lateral, key: str) -> tuple[Slip, Band]:
    """(likely, sideslip with its band) at one of the speeds: ends of the rudder's effect with fin and body."""
    s, left = lat.sides(key), power_left(lat, key) if key == "slow" else Band.exact(1.0)
    r, a = full_rudder(lat.flown), full_aileron(lat.flown)
    k, m = effect(r), effect(a)
    likely = steady(s, r, a, (k.value, m.value * left.value), {})
    ends = [
        steady(s, r, a, (k.low, m.low * left.low), _with(s, 1 + DOUBT["fin"], 1 - DOUBT["body"])),
        steady(s, r, a, (k.high, m.high * left.high), _with(s, 1 - DOUBT["fin"], 1 + DOUBT["body"])),
    ]
    angles = [abs(x.angle) for x in (likely, *ends)]
    return likely, Band(angles[0], min(angles), max(angles))


def _with(s: Sides, fin: float, body: float) -> dict[str, float]:
    """Yawing moments with the fin's part and the body's times so much: the same fin carries Cnb and CnR."""
    turned = s.value("CnR") + (fin - 1) * s.of("CnR", "fin")
    steady_part = s.value("Cnb") + (fin - 1) * s.of("Cnb", "fin") + (body - 1) * s.of("Cnb", "body")
    return {"Cnb": max(steady_part, 1e-6), "CnR": turned}


def slip_results(lat: Lateral) -> Iterator[Result]:
    """`flight.sideslip.*`, `flight.crosswind`, `flight.torque.aileron`, `flight.spin`."""
    why = lat.reason or ("" if math.isfinite(full_aileron(lat.flown)) else "no wing has ailerons")
    yield from _greatest(lat, why)
    yield from _crosswind(lat, why)
    yield _torque(lat, why)
    yield spin_result()


def _greatest(lat: Lateral, why: str) -> Iterator[Result]:
    """The greatest straight sideslip on approach, with the aileron and the bank it takes."""
    likely, angle = slips(lat, "approach") if not why else (Slip(), UNKNOWN)
    steps = (_balance(lat, "approach", angle.value), *_simple(lat, angle.value)) if not why else ()
    note = why or f"held by the {likely.held_by}; {NOTE}{_far(angle)}"
    id = "flight.sideslip.greatest"
    yield told(angle, id, f"greatest steady sideslip, {WORDS['approach']}", "rad", METHOD, note, steps)
    for key, title, unit in (("aileron", "part of the ailerons' travel it takes", "1"),
                             ("bank", "bank it takes, wing into the wind", "rad")):  # fmt: skip
        value = Band.exact(getattr(likely, key))
        yield told(value, f"flight.sideslip.{key}", title, unit, METHOD, why or NOTE, steps[:1], (id,))


def _simple(lat: Lateral, value: float) -> tuple[Step, ...]:
    """By hand: rudder and weathercock alone."""
    s, r = lat.sides("approach"), full_rudder(lat.flown)
    power, fin, body = s.of("CnR", "fin"), s.of("Cnb", "fin"), s.of("Cnb", "body")
    given = (("k", effect(r).value, "1"), ("R", r, "rad"), ("CnR", power, "1/rad"), ("Cnb fin", fin, "1/rad"),
             ("Cnb body", body, "1/rad"))  # fmt: skip
    source = "balance of the yawing moment alone, no ailerons"
    simple = effect(r).value * power * r / (fin + body)
    return by_hand("k CnR R/(Cnb of fin and body)", given, simple, value, "rad", source)


def _far(angle: Band) -> str:
    """What is to be said of a sideslip past LETS_GO."""
    limit = math.degrees(LETS_GO)
    return f"; past {limit:.0f} deg of sideslip the fin's flow may let go" if angle.high > LETS_GO else ""


def _balance(lat: Lateral, key: str, value: float) -> Step:
    """The two equations of a straight slip with their numbers."""
    s, r, a = lat.sides(key), full_rudder(lat.flown), full_aileron(lat.flown)
    names = ("Clb", "Cnb", "ClA", "CnA", "ClR", "CnR")
    left = power_left(lat, key).value if key == "slow" else 1.0
    given = (
        *((n, s.value(n), "1/rad") for n in names),
        ("R", r, "rad"),
        ("k of the rudder", effect(r).value, "1"),
        ("A at most", a, "rad"),
        ("k of the ailerons", effect(a).value * left, "1"),
    )
    formula = "Clb B + k ClA A + k ClR R = 0, Cnb B + k CnA A + k CnR R = 0"
    return Step("sideslip", formula, given, value, "rad", METHOD)


def _crosswind(lat: Lateral, why: str) -> Iterator[Result]:
    likely, angle = slips(lat, "slow") if not why else (Slip(), UNKNOWN)
    V = lat.speeds.get("slow", math.nan)
    wind = Band(*(V * math.sin(min(x, math.pi / 2)) for x in (angle.value, angle.low, angle.high)))
    step = Step("crosswind", "W = V sin B", (("V", V, "m/s"), ("B", angle.value, "rad")), wind.value, "m/s", "geometry")
    note = why or f"{WORDS['slow']}, held by the {likely.held_by}, ailerons with what is left; {NOTE}{_far(angle)}"
    yield told(
        wind,
        "flight.crosswind",
        "crosswind that can be held in a straight slip at touchdown",
        "m/s",
        METHOD,
        note,
        (_balance(lat, "slow", angle.value), step) if not why else (),
        ("flight.stall.heaviest",),
    )
    stall = lat.case.stall.speed.value
    part = Band(*(x / stall for x in (wind.value, wind.low, wind.high)))
    step = Step("part", "W/VS0", (("W", wind.value, "m/s"), ("VS0", stall, "m/s")), part.value, "1", "definition")
    yield told(
        part,
        "flight.crosswind.part",
        "the same over the stalling speed",
        "1",
        METHOD,
        note,
        (step,),
        ("flight.crosswind",),
    )


def _torque(lat: Lateral, why: str) -> Result:
    """Aileron against the propeller's torque at full throttle, where the climb is."""
    id, title = (
        "flight.torque.aileron",
        "aileron that holds the propeller's torque at full throttle, part of its travel",
    )
    best = lat.flown.performance.climb
    if why or best.pull is None or best.pull.point is None or "climb" not in lat.speeds:
        return told(UNKNOWN, id, title, "1", METHOD, why or best.reason or "no climb is known")
    s, full = lat.sides("climb"), full_aileron(lat.flown)
    torque = best.pull.point.power / (2 * math.pi * best.pull.turning)
    k = effect(0.0)  # little is turned
    moment = lat.force("climb") * lat.span * s.value("ClA") * full
    ends = sorted(torque / (moment * x) for x in (k.low, k.high))
    part = Band(torque / (moment * k.value), ends[0], ends[1])
    given = (
        ("P", best.pull.point.power, "W"),
        ("n", best.pull.turning, "rev/s"),
        ("k ClA d q S b", moment * k.value, "N m"),
    )
    step = Step("aileron", "P/(2 pi n)/(k ClA d q S b)", given, part.value, "1", METHOD)
    note = (
        "the twist of the slipstream takes some of the torque back on wings and fin and turns the nose; neither it nor "
        "the propeller's own side force is worked out: the rudder it wants in a climb is for the flight test"
    )
    return told(part, id, title, "1", METHOD, note, (step,), ("flight.climb.speed",))


def spin_result() -> Result:
    """What cannot be worked out here, and what must be flown instead."""
    return told(UNKNOWN, "flight.spin", "spin and its recovery", "1", "cfr-23-2014 23.221(a) (read)", SPIN)


def slip_checks(lat: Lateral, by_id: Mapping[str, Result]) -> Iterator[Check]:
    """`flight.slips.*`: crosswind, weathercock stability and dihedral effect against the civil rule."""
    s = lat.sides("approach") if not lat.reason else None
    for key, name, parent in (
        ("directional", "Cnb", "flight.derivative.Cnb"),
        ("lateral", "Clb", "flight.derivative.Clb"),
    ):
        rule, band = SLIP[key], s.band(name) if s else UNKNOWN
        yield check(
            f"flight.slips.{key}",
            f"{rule.title}, {WORDS['approach']}",
            band,
            rule.value,
            rule.sense,
            "1/rad",
            rule=str(rule.source),
            method=METHOD,
            caveat=PEDALS,
            outside_range=lat.reason,
            parents=(parent,),
        )
    r, rule = by_id["flight.crosswind.part"], SLIP["crosswind"]
    yield check(
        "flight.slips.crosswind",
        rule.title,
        r.band,
        rule.value,
        rule.sense,
        "1",
        rule=str(rule.source),
        method=METHOD,
        caveat=r.caveat,
        outside_range="" if r.band.known else r.caveat,
        parents=(r.id,),
    )
