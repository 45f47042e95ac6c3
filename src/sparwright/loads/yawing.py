"""Fin and rudder: the pedal kicked, the swing past the steady sideslip, the sideslip alone, a gust from the side.

Symbols: b sideslip, wind from the right positive, d rudder, trailing edge left positive, Cn yawing moment by the
lattice with the fin in it, k what a real rudder does of it, l arm from the centre of gravity to a quarter of the fin's
mean chord, K radius of gyration in yaw, ct St at mean geometric chord, area and lift slope of fin and rudder.

    steady sideslip    b = -k CnR d/Cnb                          yawing moments alone
    gust               mut = 2 W/(rho ct g at St) (K/l)^2, Kgt = 0.88 mut/(5.3 + mut), L = rho0 V Kgt U at St/2

The rudder goes to its stop: that the pilot's foot may not get it there is not used (safe side). Range: attached flow.
Sources: cs-vla 441, 443 and 14 CFR 23.441, 23.443; marks in data/loads.toml. 1/498 of 23.443(c) is rho0/2 to 0.1 %.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.data.aileron import effect
from sparwright.family.model import TailSurface
from sparwright.flight.lateral import full_rudder
from sparwright.flight.sides import Sides, sides_at
from sparwright.flight.work import Flown
from sparwright.loads.case import LoadCase
from sparwright.loads.diagram import Bound, Envelope
from sparwright.loads.gust import air_at
from sparwright.loads.laden import SEA_LEVEL
from sparwright.loads.symmetrical import flown_case

LOAD = "load on fin and rudder in the gust"
NO_SIDES = "the lattice knows no sideslip there"


@dataclass(frozen=True, kw_only=True)
class Fin:
    """Fin with rudder as the gust formula sees it."""

    area: float = number("m2", "area of fin and rudder")
    chord: float = number("m", "mean geometric chord")
    slope: float = number("1/rad", "lift slope in place; NaN where unknown")
    station: float = number("m", "quarter of the mean chord")


def fin_of(fin: TailSurface, sides: Sides, wings: float) -> Fin:
    """Fin with rudder; wings: the area the derivatives stand on, m2."""
    area = fin.span * (fin.root_chord + fin.tip_chord) / 2
    slope = -sides.of("CYb", "fin") * wings / area if sides.known else math.nan
    up = (fin.root_chord + 2 * fin.tip_chord) / (3 * (fin.root_chord + fin.tip_chord))
    chord = fin.root_chord + (fin.tip_chord - fin.root_chord) * up
    station = fin.leading_edge[0] + fin.span * up * math.tan(fin.sweep) + chord / 4
    return Fin(area=area, chord=area / fin.span, slope=slope, station=station)


def side_gust(
    mass: float,
    yaw: float,
    arm: float,
    fin: Fin,
    speed: float,
    gust: float,
    relief: tuple[float, float] = (0.88, 5.3),
    density: float = SEA_LEVEL,
) -> tuple[float, float, float]:
    """(mut, Kgt, load N) of a gust from the side. mass kg, yaw inertia kg m2, arm m, speed and gust m/s.

    relief: the two numbers of Kgt; density: air the mass ratio is told for, kg/m3.
    """
    ratio = 2 * mass / (density * fin.chord * fin.slope * fin.area) * yaw / mass / arm**2
    eased = relief[0] * ratio / (relief[1] + ratio)
    return ratio, eased, SEA_LEVEL * speed * eased * gust * fin.slope * fin.area / 2


def yawing_cases(e: Envelope, flown: Flown) -> Iterator[LoadCase]:
    """The three manoeuvres at VA and gusts at VC; none where there is no envelope."""
    if e.why:
        return
    bound, case = e.bounds["max_forward"], flown.cases["max_mass"]
    sides = sides_at(flown, case, bound.laden.lift(1.0, e.speed("A"), e.cell.area))
    for title, key, deflection, rows, steps in manoeuvres(e, flown, sides):
        said = "" if all(map(math.isfinite, deflection.values())) else NO_SIDES
        yield flown_case(
            e,
            bound,
            f"yaw.{key}",
            title,
            "yaw",
            e.speed("A"),
            1.0,
            keys=(*e.speeds["A"].given, *rows),
            steps=steps,
            deflection=deflection,
            caveat=said,
        )
    at_cruise = sides_at(flown, case, bound.laden.lift(1.0, e.speed("C"), e.cell.area))
    fin = fin_of(flown.model.fin, at_cruise, e.cell.area)
    for key in ("max_forward", "max_aft"):
        yield _gust(e, flown, e.bounds[key], fin)


Manoeuvre = tuple[str, str, dict[str, float], tuple[str, ...], tuple[Step, ...]]


def manoeuvres(e: Envelope, flown: Flown, sides: Sides) -> Iterator[Manoeuvre]:
    """(title, key, angles, rows, working) of the three at VA: kick, swing, sideslip alone."""
    full, code = full_rudder(flown), e.code
    k = effect(full).value
    cnr, cnb = (sides.value("CnR"), sides.value("Cnb")) if sides.known else (math.nan, math.nan)
    steady = abs(k * cnr * full / cnb) if cnb > 0 else math.nan
    given = (("k", k, "1"), ("CnR", cnr, "1/rad"), ("d", full, "rad"), ("Cnb", cnb, "1/rad"))
    first = Step("steady sideslip", "k CnR d/Cnb", given, steady, "rad", "lattice with odd loads, fin in it")
    swing = code["overswing"] * steady
    more = code.step(
        "sideslip swung to",
        "factor times the steady one",
        (("factor", code["overswing"], "1"), ("steady", steady, "rad")),
        swing,
        "rad",
        "overswing",
    )
    yield "pedal kicked to the stop, no sideslip yet", "kick", {"rudder": full * code["kick"]}, ("kick",), ()
    yield (
        "pedal held, swung past the steady sideslip",
        "swing",
        {"rudder": full, "sideslip": swing},
        ("overswing",),
        (first, more),
    )
    alone = code.printed("sideslip", "yaw", "rad")
    yield "sideslip, rudder in the middle", "sideslip", {"rudder": 0.0, "sideslip": code["yaw"]}, ("yaw",), (alone,)


def _gust(e: Envelope, flown: Flown, b: Bound, fin: Fin) -> LoadCase:
    loading, speed, code = b.laden.loading, e.speed("C"), e.code
    arm, yaw = fin.station - loading.station, float(loading.inertia[2, 2])
    gust, air = code["gust_cruise"], air_at(flown.model.limits.ceiling)
    ratio, eased, load = side_gust(loading.mass, yaw, arm, fin, speed, gust, (code["relief"], code["relief_half"]), air)
    at = (
        ("m", loading.mass, "kg"),
        ("rho", air, "kg/m3"),
        ("ct", fin.chord, "m"),
        ("at", fin.slope, "1/rad"),
        ("St", fin.area, "m2"),
        ("K", math.sqrt(yaw / loading.mass), "m"),
        ("l", arm, "m"),
        ("g", GRAVITY, "m/s2"),
    )
    given = (
        ("V", speed, "m/s"),
        ("Kgt", eased, "1"),
        ("U", gust, "m/s"),
        ("at", fin.slope, "1/rad"),
        ("St", fin.area, "m2"),
    )
    steps = (
        code.step("mass ratio in yaw", "mut = 2 W/(rho ct g at St) (K/l)^2", at, ratio, "1", "fin_gust"),
        code.step("relief", "Kgt = 0.88 mut/(5.3 + mut)", (("mut", ratio, "1"),), eased, "1", "fin_gust"),
        code.step(LOAD, "rho0 V Kgt U at St/2", given, load, "N", "fin_gust"),
    )
    keys = (*e.speeds["C"].given, "gust_cruise", "fin_gust")
    angle = {"sideslip": eased * gust / speed, "rudder": 0.0}
    return flown_case(
        e,
        b,
        "gust.C.side",
        "gust from the side at VC",
        "gust",
        speed,
        1.0,
        keys=keys,
        steps=steps,
        deflection=angle,
        caveat="" if math.isfinite(load) else NO_SIDES,
    )
