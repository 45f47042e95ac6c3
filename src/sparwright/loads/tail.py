"""Tailplane and elevator: thrown over, checked, in a gust, with less on one half, together with the fin.

Symbols: n1 limit load factor, V speed, Kg relief in the gust, U gust, At lift of the tailplane over q for each radian
that the whole aeroplane turns in the wind, elevator held: a St (1 - de/da), downwash in it, by the lattice.

    thrown       elevator to its stop at once at VA, level flight before
    checked      pitching 39 n1 (n1 - 1.5)/V rad/s2, V kt (20.1, V m/s): nose up at n = 1, nose down at n1
    gust         L = rho0 V Kg U At/2, besides what balances
    one half     other half carries 100 - 10 (n1 - 1) per cent, not over 80
    together     condition A or D with the fin's manoeuvres; 0.75 of both manoeuvres (cs-vla 447)

deflection["elevator"]: trailing edge down positive. That the pilot may be too weak to get it there is not used (safe
side). Balancing loads (421) are in every symmetrical case. Sources: cs-vla and 14 CFR 23, 423 to 447; marks in
data/loads.toml.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from sparwright.air.told import CRUISE_LIFT
from sparwright.base.check import Step
from sparwright.flight.sides import sides_at
from sparwright.flight.work import Flown
from sparwright.loads.case import LoadCase
from sparwright.loads.code import KT, both
from sparwright.loads.diagram import Bound, Envelope
from sparwright.loads.laden import SEA_LEVEL
from sparwright.loads.symmetrical import flown_case
from sparwright.loads.yawing import manoeuvres

PITCHING = "pitching acceleration, nose up"
ADDED = "load that the gust adds to the tailplane, upwards"
OTHER = "load of the tailplane's left half over the right one's"
PART = "part of both manoeuvres' loads"
FIN_SPEED = "speed of the fin's load"


def tail_cases(e: Envelope, flown: Flown) -> Iterator[LoadCase]:
    """All of them at the greatest mass, both ends of the balance; none where there is no envelope."""
    if e.why:
        return
    slope = tail_slope(flown)
    for key in ("max_forward", "max_aft"):
        alone = (*_thrown(e, flown, e.bounds[key]), *_checked(e, e.bounds[key]), *_gusts(e, e.bounds[key], slope))
        yield from alone
        yield from (_one_half(e, c) for c in alone if not c.key.startswith(("tail.checked.A", "tail.checked.D")))
    if e.code.has("combined"):
        yield from _together(e, flown, e.bounds["max_forward"])


def tail_slope(flown: Flown) -> float:
    """Lift of the tailplane over q for each radian of the whole aeroplane, m2, by the lattice, elevator held."""
    company, tail, h = flown.plane.company, flown.plane.tail, math.radians(0.5)
    a = company.angle_of(CRUISE_LIFT)
    return (company.state(a + h).surface_lift(tail) - company.state(a - h).surface_lift(tail)) / (2 * h)


def _thrown(e: Envelope, flown: Flown, b: Bound) -> Iterator[LoadCase]:
    tail = flown.model.tailplane
    for way, angle in (("up", -tail.up), ("down", tail.down)):
        yield flown_case(
            e,
            b,
            f"tail.thrown.{way}",
            f"elevator thrown {way} at VA",
            "tail",
            e.speed("A"),
            1.0,
            keys=(*e.speeds["A"].given, "thrown"),
            deflection={"elevator": angle * e.code["thrown"]},
        )


def _checked(e: Envelope, b: Bound) -> Iterator[LoadCase]:
    code, n = e.code, e.positive
    unit = KT if code.imperial else 1.0
    for at in "ACD":
        speed = e.speed(at)
        pitching = code["checked"] * n * (n - code["checked_less"]) / (speed / unit)
        for way, factor, sign in (("up", 1.0, 1.0), ("down", n, -1.0)):
            given = (("k", code["checked"], "1"), ("n1", n, "1"), ("V", speed, "m/s"))
            step = code.step(PITCHING, "+-k n1 (n1 - 1.5)/V", given, sign * pitching, "rad/s2", "checked")
            yield flown_case(
                e,
                b,
                f"tail.checked.{at}.{way}",
                f"checked manoeuvre at V{at}, nose {way}",
                "tail",
                speed,
                factor,
                keys=(*e.speeds[at].given, "checked", "checked_less"),
                steps=(step,),
            )


def _gusts(e: Envelope, b: Bound, slope: float) -> Iterator[LoadCase]:
    for at, g, row in b.gusts:
        added = SEA_LEVEL * g.speed * g.relief * g.gust * slope / 2
        for way, sign in (("up", 1.0), ("down", -1.0)):
            given = (("V", g.speed, "m/s"), ("Kg", g.relief, "1"), ("U", g.gust, "m/s"), ("At", slope, "m2/rad"))
            step = e.code.step(ADDED, "+-rho0 V Kg U At/2", given, sign * added, "N", "tail_gust")
            yield flown_case(
                e,
                b,
                f"tail.gust.{at}.{way}",
                f"gust from {'below' if way == 'up' else 'above'} on the tail at V{at}",
                "tail",
                g.speed,
                1.0,
                keys=(*e.speeds[at].given, row, "relief", "tail_gust"),
                steps=(step,),
            )


def other_half(e: Envelope) -> float:
    """Load of the tailplane's one half over the other's: 1 - 0.1 (n1 - 1), not over 0.8."""
    return min(e.code["tail_other_most"], 1 - e.code["tail_other"] * (e.positive - 1))


def _one_half(e: Envelope, case: LoadCase) -> LoadCase:
    """The same case with less on the left half."""
    step = e.code.step(
        OTHER,
        "1 - 0.1 (n1 - 1), not over 0.8",
        (("n1", e.positive, "1"),),
        other_half(e),
        "1",
        "tail_other",
        "tail_other_most",
    )
    said = e.code.recalled("tail_other", "tail_other_most")
    name, _, loading = case.key.removeprefix("tail.").rpartition(".")
    return replace(
        case,
        key=f"tail.one_half.{name}.{loading}",
        title=f"{case.title}, less on the left half",
        rule=f"{case.rule}; {e.code.cite('tail_other')}",
        steps=(*case.steps, step),
        caveat=both(case.caveat, said),
    )


def _together(e: Envelope, flown: Flown, b: Bound) -> Iterator[LoadCase]:
    """Condition A and D with each of the fin's manoeuvres, and 0.75 of both surfaces' manoeuvres."""
    va, tail = e.speed("A"), flown.model.tailplane
    sides = sides_at(flown, flown.cases["max_mass"], b.laden.lift(1.0, va, e.cell.area))
    at = Step(FIN_SPEED, "VA", (), va, "m/s", e.code.cite("combined"))
    for title, key, angles, rows, steps in manoeuvres(e, flown, sides):
        for point, speed, keys in (("A", b.top, ("manoeuvring",)), ("D", e.speed("D"), e.speeds["D"].given)):
            yield flown_case(
                e,
                b,
                f"tail.together.{point}.{key}",
                f"condition {point} with {title}",
                "tail",
                speed,
                e.positive,
                keys=(*keys, *rows, "combined"),
                steps=(*steps, at),
                deflection=angles,
            )
        part = e.code.printed(PART, "combined", "1")
        for way, angle in (("up", -tail.up), ("down", tail.down)):
            yield flown_case(
                e,
                b,
                f"tail.together.{way}.{key}",
                f"0.75 of elevator thrown {way} and of {title}",
                "tail",
                va,
                1.0,
                keys=(*e.speeds["A"].given, "thrown", *rows, "combined"),
                steps=(*steps, part),
                deflection={**angles, "elevator": angle},
            )
