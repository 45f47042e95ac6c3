"""Where metal stops each control: the moving plate turned against its pin, on their bodies.

The plate next to the pin (bell-crank, horn, lug on the torque tube) is turned until it is within CONTACT of the pin,
found by halving; the surface then stands where the mechanism puts it. Held against the designer's travel, which loads,
clearance and roll are worked out with. Differential: how far an aileron goes up over how far it goes down, the stick
full over to either side.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.record import locked, number
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import End, Motion
from sparwright.family.model import Model
from sparwright.parts.control_stops import Stopping, stopping
from sparwright.parts.linkage import Locks, stand
from sparwright.parts.part import Assembly
from sparwright.parts.solids import gap, solids
from sparwright.shape.solid import Solid

CONTACT = 0.02e-3  # m: nearer than this they touch
LOOK = 1e-3  # m: no further is looked
STRAIGHT = 20  # looks along a straight line
FIRST, LAST = 0.3, 1.5  # of the angle of the lever at the end of the travel: where contact is looked for
ROUNDS = 24
TRAVEL = math.radians(1.0)  # give or take of a travel where [rigging] says none (common practice, no source)
METHOD = "the plate turned against its pin on their bodies, by halving (controls/stopped.py)"
NO_STOP = "no part stops it; [controls.stops.side] would settle it"


@dataclass(frozen=True)
class Stopped:
    """Where one end of a surface's travel is stopped."""

    end: End
    pin: str  # its part number
    lever: float = number("rad", "of the lever that meets the pin; NaN for no contact where it was looked for")
    surface: float = number("rad", "of the surface then; NaN likewise")


def stopped(model: Model, motion: Motion, assembly: Assembly) -> tuple[Stopped, ...]:
    """Where each end of a motion is stopped; none where no part does."""
    assert model.controls is not None
    known = {p.number for p in assembly.parts}
    by = stopping(model, model.controls, motion.name)
    return tuple(
        _stopped(motion, end, by, assembly) for end in motion.ends if end.stance and by.pins[end.word] in known
    )


def _stopped(motion: Motion, end: End, by: Stopping, assembly: Assembly) -> Stopped:
    pin, (plate,) = solids(assembly.part(by.pins[end.word]))[0], solids(assembly.part(by.plate))
    turn = motion.run.levers[by.lever]
    assert end.stance is not None
    full = end.stance.angles[by.lever]

    def off(share: float) -> float:
        turned = Solid(locked(turn.turned(plate.points, share * full)), plate.faces)
        return gap(turned, pin, LOOK, moves=True)

    share = _contact(off)
    if math.isnan(share):
        return Stopped(end, by.pins[end.word], math.nan, math.nan)
    try:
        there = stand(motion.run, by.lever, share * full, end.stance).angles[motion.surface]
    except Locks:
        there = math.nan
    return Stopped(end, by.pins[end.word], share * full, there)


def _contact(off: Callable[[float], float]) -> float:
    """The first of 2^ROUNDS shares between FIRST and LAST at which they touch; NaN where they do at the first or never.

    What halving finds, in fewer looks: a gap closes almost evenly, so that the last two that are seen open say where
    it comes to CONTACT. After STRAIGHT looks it is halving alone.
    """

    def over(i: int) -> float:
        return off(FIRST + (LAST - FIRST) * i / 2**ROUNDS) - CONTACT

    low, high = 0, 2**ROUNDS
    if over(low) <= 0 or over(high) > 0:
        return math.nan
    seen: list[tuple[int, float]] = []  # where it is open, and by how much
    back, looks = 0, 0
    while high - low > 1:
        i, looks = (low + high) // 2, looks + 1
        if len(seen) > 1 and looks <= STRAIGHT and seen[-2][1] > seen[-1][1]:
            (a, ya), (b, yb) = seen[-2:]
            i = max(min(math.ceil(b + (b - a) * yb / (ya - yb)), high - 2**back), low + 1)
        now = over(i)
        if now > 0:
            low, back = i, 0
            seen += [(i, now)] if now < LOOK - CONTACT else []
        else:
            high, back = i, back + 1
    return float(FIRST + (LAST - FIRST) * high / 2**ROUNDS)


def stop_checks(model: Model, motion: Motion, found: tuple[Stopped, ...]) -> Iterator[Check]:
    """How far off its travel metal stops a surface, at each end."""
    given = model.rigging.travels if model.rigging and model.rigging.travels else None
    rule = "give or take of travels, [rigging]" if given else "give or take of travels; common practice, no source"
    for end in motion.ends:
        s = next((f for f in found if f.end is end), None)
        off = abs(abs(s.surface) - end.travel) if s and math.isfinite(s.surface) else math.nan
        why = NO_STOP if s is None else "no contact from 0.3 to 1.5 of the travel"
        told = f"stopped at {math.degrees(abs(s.surface)):.1f} deg" if s and math.isfinite(off) else ""
        yield check(
            f"controls.{motion.name}.stopped.{end.word}",
            f"how far off its travel metal stops the {motion.name}, {end.word}",
            Band.exact(off),
            given or TRAVEL,
            "<=",
            "rad",
            part=s.pin if s else "",
            rule=rule,
            method=METHOD,
            caveat=told or why,
            outside_range="" if math.isfinite(off) else why,
        )


def differential(motion: Motion, found: tuple[Stopped, ...]) -> Result:
    """How far an aileron goes up over how far it goes down, at the stops."""
    at = {s.end.word: abs(s.surface) for s in found}
    known = len(at) == 2 and all(map(math.isfinite, at.values())) and at["down"] > 0
    ratio = at["up"] / at["down"] if known else math.nan
    given = tuple((w[0], at[w], "rad") for w in ("up", "down")) if known else ()
    band = Band.exact(ratio) if known else UNKNOWN
    return Result(
        f"controls.{motion.name}.differential",
        f"differential of the {motion.name}: up over down with the stick full over",
        band.value,
        "1",
        band.low,
        band.high,
        METHOD,
        "over one: more up than down" if known else NO_STOP,
        (Step("at the stops", "u/d", given, ratio, "1"),) if known else (),
    )
