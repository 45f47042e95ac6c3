"""The controls told as results: `controls.*`."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.base.check import Result, Step
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import Motion, cables, coupled, lost, pull, spring_tension, stiffness, worst
from sparwright.data.controls import RULES
from sparwright.family.controls import ControlCable, Controls
from sparwright.family.model import Model
from sparwright.parts.control_runs import Layout
from sparwright.parts.linkage import Locks

METHOD = "levers, rods and cables turned about their lines (parts/linkage.py)"
REST = "neither friction nor the frame's give is computed; measured on the aeroplane when rigged"
STRETCH = "fales-1917, heisler-1998 (second-hand): modulus of the cable by construction, stainless the softer"
UNKNOWN_CABLE = "no source for the stretch of 7x7 cable at hand"


def control_results(model: Model, controls: Controls, layout: Layout, found: tuple[Motion, ...]) -> Iterator[Result]:
    """Travel, gearing, loops, forces and lengths of every control."""
    for motion in found:
        yield from _travel(motion)
        yield from _gearing(motion)
        if first_of_its_run(motion, found):
            if motion.run.loop:
                yield _loop(motion)
            yield from _pulled(model, controls, motion)
    yield from _coupling(model, controls, found)
    yield from _lengths(controls, layout)


def first_of_its_run(motion: Motion, found: tuple[Motion, ...]) -> bool:
    """Whether no surface before it moves with the same rods and cables; what is said of these is said once."""
    return motion is next(m for m in found if set(m.run.links_by_key) == set(motion.run.links_by_key))


def result(
    id: str,
    title: str,
    band: Band,
    unit: str,
    note: str = "",
    source: str = METHOD,
    why: str = "",
    steps: tuple[Step, ...] = (),
) -> Result:
    """A result; with the reason in place of the note where it is not known."""
    return Result(
        f"controls.{id}",
        title,
        band.value,
        unit,
        band.low,
        band.high,
        source,
        note if band.known else why,
        steps if band.known else (),
    )


def _travel(motion: Motion) -> Iterator[Result]:
    for end in motion.ends:
        band = Band.exact(end.moved)
        at = end.stance.angles[end.lever] if end.stance else math.nan
        yield result(
            f"{motion.name}.hand.{end.word}",
            f"way of the hand to the {motion.name}'s stop, {end.word}: {end.hand}",
            band,
            "m",
            f"of {end.room * 100:.1f} cm room; {REST}",
            why=end.locks,
        )
        yield result(
            f"{motion.name}.lever.{end.word}",
            f"the same as an angle of the {_spoken(end.lever)}",
            Band.exact(abs(at)),
            "rad",
            why=end.locks,
        )


def _spoken(lever: str) -> str:
    return {"pedal-L": "left pedal", "pedal-R": "right pedal", "torque_tube": "torque tube"}.get(lever, lever)


def _gearing(motion: Motion) -> Iterator[Result]:
    known = [g for g in motion.gearing if not math.isnan(g)]
    here = motion.gearing[motion.neutral]
    per = "surface angle for each metre of the hand"
    yield result(
        f"{motion.name}.gearing",
        f"gearing of the {motion.name} in neutral: {per}",
        Band(here, min(known, default=math.nan), max(known, default=math.nan)),
        "rad/m",
        "band: least and greatest from stop to stop; the hand's force is the hinge moment times it, friction left out",
        why="a lever is at its dead centre",
        steps=tuple(
            Step(
                f"surface {math.degrees(s.angles[motion.surface]):+.0f} deg",
                "(d surface/d lever)/r",
                (("r", motion.arm, "m"),),
                g,
                "rad/m",
            )
            for s, g in zip(motion.stances, motion.gearing, strict=True)
        ),
    )


def loop_change(motion: Motion) -> tuple[float, ...]:
    """By how much the cables of a loop are longer than in neutral, all together, at each stance, m."""
    whole = sum(n for k, n in zip(motion.run.links, motion.run.lengths, strict=True) if k in cables(motion))
    return tuple(s.strain * whole for s in motion.stances)


def _loop(motion: Motion) -> Result:
    change = loop_change(motion)
    most = max(change, key=abs)
    return result(
        f"{motion.name}.loop",
        f"by how much the {motion.name}'s loop of cable is too short (positive) or too long, most through the travel",
        Band(most, min(change), max(change)),
        "m",
        "band: least and greatest; the arms' geometry alone, no temperature",
    )


def tensions(model: Model, controls: Controls, motion: Motion) -> dict[str, Band]:
    """Tension of each cable at rest through the travel, N: rigged and by the loop's change, or from the springs."""
    if not motion.run.loop:
        return dict(spring_tension(model, controls, motion))
    found = {}
    strains = [s.strain for s in motion.stances]
    for link in cables(motion):
        assert isinstance(link.made, ControlCable)
        ea, rig = stiffness(link.made), link.made.tension
        at = [rig + k * e for e in strains for k in (ea.low, ea.high)] if ea.known else [math.nan]
        found[link.key] = Band(rig if ea.known else math.nan, min(at), max(at))
    return found


def _pulled(model: Model, controls: Controls, motion: Motion) -> Iterator[Result]:
    force = RULES[f"{motion.force}_force"].value
    at_rest = tensions(model, controls, motion)
    for link in cables(motion):
        if link.hand == "L":
            continue
        per = [pull(motion, link, s) for s in motion.stances]
        source = f"virtual work; {RULES[f'{motion.force}_force'].source}"
        name = link.name.replace("_", " ")
        yield result(
            f"cable.{link.name}.rest",
            f"tension of the {name} cable at rest, through the travel",
            at_rest.get(link.key, UNKNOWN),
            "N",
            "rigged in neutral; no temperature",
            why=UNKNOWN_CABLE,
        )
        yield result(
            f"cable.{link.name}.pull",
            f"tension of the {name} cable at the greatest pilot force",
            Band(per[motion.neutral] * force, min(per) * force, max(per) * force),
            "N",
            f"{force:.0f} N at the hand, surface held; band: through the travel; over the rigging tension only "
            "where the other side has gone slack",
            source,
        )
        assert isinstance(link.made, ControlCable)
        tight = link.made.tension if motion.run.loop else at_rest.get(link.key, UNKNOWN).value
        yield result(
            f"cable.{link.name}.lost",
            f"way of the hand lost to stretch of the {name} cable, surface held",
            lost(motion, link, force, tight),
            "m",
            f"at {force:.0f} N; rods and frame taken as stiff",
            STRETCH,
            UNKNOWN_CABLE,
        )


def _coupling(model: Model, controls: Controls, found: tuple[Motion, ...]) -> Iterator[Result]:
    """What the elevator does when the stick goes over to the side."""
    motion = next(m for m in found if m.name == "elevator")
    assert model.seat is not None and model.seat.stick is not None
    height = model.seat.stick.place[2] - controls.stick.pivot[2]
    roll = math.asin(min(1.0, controls.stick.side / height)) if height > 0 else math.nan
    both, why = [], ""
    for side in (roll, -roll):
        try:
            both.append(coupled(model, controls, motion, side))
        except Locks as fault:
            why = str(fault)
    most = worst([-abs(b) for b in both]) if len(both) == 2 else math.nan
    yield result(
        "elevator.coupled",
        "elevator moved by the stick full over to the side, held fore and aft",
        Band.exact(-most),
        "rad",
        "the greater of both sides",
        why=why or "the stick has no height",
    )


def _lengths(controls: Controls, layout: Layout) -> Iterator[Result]:
    for link in layout.links:
        if link.hand == "L":
            continue
        way = link.way(link.ends)
        name = link.name.replace("_", " ")
        pair = "; the left one is the same" if link.hand else ""
        if isinstance(link.made, ControlCable):
            half = controls.cable_end.turnbuckle / 2
            yield result(
                f"cable.{link.name}.length",
                f"{name} cable from pin to pin in neutral",
                Band.exact(way.length),
                "m",
                f"along its way, turnbuckle and shackles included{pair}",
            )
            ends = controls.cable_end.length + controls.cable_end.eye + controls.cable_end.shackle.thickness
            for word, cut in (
                ("first", link.made.turnbuckle - half - ends),
                ("last", way.length - link.made.turnbuckle - half - ends),
            ):
                yield result(
                    f"cable.{link.name}.{word}",
                    f"{name} cable, {word} length, shackle to turnbuckle",
                    Band.exact(cut),
                    "m",
                    f"finished, under tension; what goes round thimbles comes on top{pair}",
                )
        else:
            yield result(
                f"rod.{link.name}.length",
                f"{name} push-pull tube, bolt to bolt",
                Band.exact(way.length),
                "m",
                f"set by its rod ends{pair}",
            )
