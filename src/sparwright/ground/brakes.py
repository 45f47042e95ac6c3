"""What a hand gives at the tyres: lever, cable, shoes, drum, ground.

    T = P (r/k)(1 - e)     P at the grip, r from grip to bolt, k of the cable's line about it, e lost in the housing
    M = u G T R_d          G of both shoes over T, u friction, R_d where they rub
    F = M/R                R tyre under weight;  a/g = sum F/(m g)
    S = M/h                in the link, h of its line about the axle

Both levers drawn, each by P. Grip of the tyre on the ground, fade, wet linings and stretch of cables are not in it.
Statics; the friction is the file's.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Result, Step, check
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.ground import rule
from sparwright.family.brakes import BrakeLine, Brakes
from sparwright.family.model import Model
from sparwright.flight.fly import Flight
from sparwright.ground.work import OnGround
from sparwright.parts.brakes import brakes_of, lever_hole
from sparwright.parts.undercarriage import main_wheel, stop

METHOD = "statics from hand to tyre (ground/brakes.py)"
TURNED = "most that a brake's plate turns on the axle as it rises to its stop"
STEPS = 40  # of the axle's rise


@dataclass(frozen=True)
class Braked:
    """The brakes with the hand the file states at each lever; forces with their band where one is said."""

    force: Band  # N, of both wheels
    pull: float = number("N", "least of the two cables, at the brake")
    torque: float = number("N m", "one brake's, of the lesser pull")
    share: float = number("1", "deceleration over gravity, greatest mass, likely")
    link: float = number("N", "in the link of the brake with the greater pull, high end of the band")
    turn: float = number("rad", "most that a plate turns on the axle as it rises to its stop; NaN where it cannot")
    lift: Band = UNKNOWN  # N at each grip that lifts a level tail in the worst corner


def ratio(model: Model, line: BrakeLine) -> float:
    """Pull in the cable over pull at the grip, without loss: square to the lever there, along the cable here."""
    name = line.lever.partition(".")[0]
    crank = next(k for k in model.controls.cranks if k.name == name) if model.controls else None
    assert crank is not None
    hole, pivot = lever_hole(model, line), np.array(crank.pivot)
    way = np.array(next(iter(line.run.values()))) - hole
    arm = abs(float(np.cross(hole - pivot, way / np.linalg.norm(way))[1]))
    grip = np.array(crank.holes["grip"]) - pivot
    return math.hypot(grip[0], grip[2]) / arm


def link_arm(b: Brakes) -> float:
    """How far the link's line passes from the axle, m, the axle at the bottom of its slot."""
    way = np.array([-b.ahead, b.above - b.arm])
    return abs(float(b.arm * way[0])) / float(np.linalg.norm(way))


def turn(b: Brakes, rise: float) -> float:
    """How far the plate has turned on the axle when it has risen, rad; NaN where the link does not let it rise so."""
    link, apart = math.hypot(b.ahead, b.above - b.arm), math.hypot(b.ahead, b.above - rise)
    cosine = (b.arm**2 + apart**2 - link**2) / (2 * b.arm * apart)
    if abs(cosine) > 1:
        return math.nan
    return math.atan2(b.above - rise, -b.ahead) - math.acos(cosine) - math.pi / 2


def braked(on: OnGround) -> Braked | None:
    """None for a model without brakes or without wheels that stand."""
    found, wheel = brakes_of(on.model), main_wheel(on.model)
    if found is None or wheel is None or on.stood.rest is None or on.why:
        return None
    b, radius = found[1], on.stood.rest.right.diameter / 2
    pulls = [b.hand * ratio(on.model, line) * (1 - b.loss) for line in b.lines]
    torques = [b.friction * b.gain * t * b.drum / 2 for t in pulls]
    both, heavy = sum(torques) / radius, on.corners["heaviest"].loading.mass * GRAVITY
    force = Band(both, both * (1 - b.band), both * (1 + b.band))
    ends = []
    for s in on.corners.values():
        lifts = s.band(lambda x: x.braking, level=True)
        weight = s.loading.mass * GRAVITY
        ends.append(Band(*(b.hand * k * weight / f for k, f in
                           ((lifts.value, both), (lifts.low, force.high), (lifts.high, force.low)))))  # fmt: skip
    most = float(np.max(np.abs([turn(b, stop(on.model, wheel) * i / STEPS) for i in range(STEPS + 1)])))
    held = max(torques) * (1 + b.band) / link_arm(b)
    return Braked(force, min(pulls), min(torques), both / heavy, held, most, min(ends, key=lambda e: e.low))


def brake_results(on: OnGround, flight: Flight) -> Iterator[Result]:
    """What the stated hand gives; none without brakes."""
    found = brakes_of(on.model)
    if found is None:
        return
    b, x = found[1], braked(on)
    given = f"{b.hand:.0f} N at each lever; friction {b.friction:g}, gain {b.gain:g}: {b.source}"
    if x is None:
        yield Result("ground.brakes.force", "braking force of both main wheels, stated hand", math.nan, "N", math.nan,
                     math.nan, METHOD, on.why)  # fmt: skip
        return
    wheel = on.stood.rest
    assert wheel is not None
    each = (("u", b.friction, "1"), ("G", b.gain, "1"), ("T", x.pull, "N"), ("R_d", b.drum / 2, "m"),
            ("R", wheel.right.diameter / 2, "m"))  # fmt: skip
    step = Step("brake of the lesser pull", "u G T R_d/R", each, x.torque / (wheel.right.diameter / 2), "N", METHOD)
    yield _told("pull", "pull in a brake's cable at the brake, stated hand", Band.exact(x.pull), "N", given)
    yield _told("force", "braking force of both main wheels, stated hand", x.force, "N", given, (step,))
    yield _told("deceleration", "deceleration by the brakes over gravity, stated hand, greatest mass", share(x), "1",
                f"{given}; the tyres' grip on the ground is not in it")  # fmt: skip
    yield _told("lift", "pull at each lever that lifts a level tail further, worst corner of balance", x.lift, "N",
                f"statics of ground.brake.*, no air on the tail; the file states {b.hand:.0f} N")  # fmt: skip
    yield _told("link", "force in the link that holds a brake, stated hand, high end", Band.exact(x.link), "N", given)
    why = "geometry of the link" if math.isfinite(x.turn) else "the link does not let the axle rise to its stop"
    yield _told("turned", TURNED, Band.exact(x.turn), "rad", why)
    thrust = next(r for r in flight.results if r.id == "power.static.thrust")
    yield _told("hold", "braking force over full power's pull standing still, stated hand",
                Band(x.force.value / thrust.value, x.force.low / thrust.high, x.force.high / thrust.low), "1",
                "below 1 it moves off at full power against the brakes")  # fmt: skip


def _told(key: str, title: str, band: Band, unit: str, note: str, steps: tuple[Step, ...] = ()) -> Result:
    return Result(f"ground.brakes.{key}", title, band.value, unit, band.low, band.high, METHOD, note, steps)


def share(x: Braked) -> Band:
    """Deceleration over gravity at the greatest mass."""
    return Band(*(x.share * f / x.force.value for f in (x.force.value, x.force.low, x.force.high)))


def brake_checks(on: OnGround) -> Iterator[Check]:
    """They brake no harder than the rule that keeps the tail down reckons with, and let the axle rise; none without."""
    if brakes_of(on.model) is None:
        return
    x, r = braked(on), rule("braking")
    yield check("ground.brakes.tail", "deceleration by the brakes over gravity, stated hand, greatest mass",
                share(x) if x else UNKNOWN, r.value, "<=", "1", rule=f"ground.braking reckons with it: {r.source}",
                method=METHOD, caveat=on.why or "a lighter aeroplane stops harder: ground.brakes.lift", case="heaviest",
                parents=("ground.brakes.deceleration",))  # fmt: skip
    most = math.radians(30)
    why = on.why or ("" if x and math.isfinite(x.turn) else "the link does not let it rise so far")
    rule_ = "30 deg, so that its turning does not draw the cable (the program's own)"
    yield check("ground.brakes.turn", TURNED, Band.exact(x.turn) if x else UNKNOWN, most, "<=", "rad", method=METHOD,
                rule=rule_, caveat=why, parents=("ground.brakes.turned",))  # fmt: skip
