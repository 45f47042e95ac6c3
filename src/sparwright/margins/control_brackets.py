"""Brackets of bell-cranks, pulleys and the stick: their plates as cantilevers, the eyes round the bolts, their feet.

    pulley   F = T (u_1 + u_2), each plate half of it;  bell-crank, stick: control_pivots.py
    plate    d from the cut to the bolt: M = d F_b, M_o = d F_n, N = F_a                      members/flat_arm.py
    pressed  N/(w t F) of a strip from foot to bolt, ends free to turn                        joints/plate.py

With the fitting factor; welded plates at their strength beside the weld. The two plates of a bracket are one check, the
worse. Feet and what is under them are in control_feet.py. Sources: statics; strength/joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np
from shapely import Point, Polygon

from sparwright.base.check import Check, Step
from sparwright.controls.motion import Motion, pull
from sparwright.data.loader import fasteners
from sparwright.family.controls import ControlCable, Controls
from sparwright.family.model import Model
from sparwright.margins.braces import WIDEST, Strengths, leaned_on
from sparwright.margins.control_arms import NEAR, Arm, Place, cuts
from sparwright.margins.control_feet import BRACKET_RULE, Bracket, Standing, foot_check, in_axes, tube_check
from sparwright.margins.control_forces import most, tensions
from sparwright.margins.control_pivots import Pivot, pivot_checks, pivots
from sparwright.margins.control_told import special, told_of
from sparwright.parts.control_bodies import Footing, bolt, cut_at, flat, footing
from sparwright.parts.control_bodies import number as part_of
from sparwright.parts.control_runs import Link
from sparwright.parts.part import Part, Plate
from sparwright.shape.cable import Wheel
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.joints import lug, plate
from sparwright.strength.members import flat_arm
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

CLEAR = 1.1  # of a tube's radius from its middle: the saddled plate's first cut that is whole; below it is the seam


def pivot_and_bracket_checks(
    model: Model, answer: Answered, motions: Sequence[Motion], strengths: Strengths, parts: Mapping[str, Part]
) -> Iterator[Check]:
    """Bolt, bush and hub of every bell-crank and the stick; every bracket. parts: of the model, by number."""
    c = model.controls
    if c is None or not motions:
        return
    known = list(pivots(model, c, motions, parts))
    for p in known:
        yield from pivot_checks(answer, p, strengths)
    for b in (*(_of_pivot(model, c, p, parts) for p in known), *_of_pulleys(model, c, motions, parts)):
        yield from bracket_checks(model, answer, b, strengths)
    yield from _unmoved(answer, c, motions, part_numbers(model, c))


def bracket_checks(
    model: Model, answer: Answered, b: Bracket, strengths: Strengths, doubts: Sequence[Allowable] = ()
) -> Iterator[Check]:
    """Plates, eyes and foot of a bracket. doubts: what else keeps them from passing."""
    yield _plates(answer, b, strengths, doubts)
    yield _eyes(answer, b, strengths, doubts)
    yield foot_check(model, answer, b, strengths, doubts)
    if b.on is not None:
        yield tube_check(model, answer, b, b.on, strengths, doubts)


def part_numbers(model: Model, c: Controls) -> dict[str, str]:
    """The number of each bell-crank's plate, by its name."""
    return {k.name: part_of(model, "CRANK", k.name, "R" if k.pair else "") for k in c.cranks}


def _unmoved(answer: Answered, c: Controls, motions: Sequence[Motion], numbers: Mapping[str, str]) -> Iterator[Check]:
    """Levers of trim and brakes: no rule says what the hand does to them."""
    moved = {k.partition("-")[0] for m in motions for k in m.run.levers}
    for crank in c.cranks:
        if crank.name not in moved:
            why = not_known(
                "force of the hand",
                crank.name,
                "no source at hand gives one for a secondary control "
                "(23.405): what the hand likely does is the designer's to say",
            )
            title = f"lever {crank.name.replace('_', ' ')} and its bracket"
            yield told_of(answer, motions[0], f"lever.{crank.name}", title, np.nan, numbers[crank.name], [why], ())


def _of_pivot(model: Model, c: Controls, p: Pivot, parts: Mapping[str, Part]) -> Bracket:
    crank = next((k for k in c.cranks if f"crank_{k.name}" == p.key), None)
    stand = footing(model, parts, crank.on, "R" if crank.pair else "") if crank else None
    front = np.array([c.torque_tube.front, *c.stick.pivot[1:]])
    made = tuple(
        standing(model, stand, part, p.place, p.bolt, force, front)
        for part, force in zip(p.plates, p.on_plates, strict=True)
    )
    return Bracket(
        p.key,
        f"bracket of the {p.words}" if crank else f"fork of the {p.words}",
        p.motion,
        stand is None or stand.body is None,
        made,
        stand.run if stand else None,
    )


def _of_pulleys(model: Model, c: Controls, motions: Sequence[Motion], parts: Mapping[str, Part]) -> Iterator[Bracket]:
    """Every pulley of the right side that a moved cable runs over."""
    seen: set[str] = set()
    for m in motions:
        for link in m.run.links:
            for i, (name, side) in enumerate(zip(link.names, link.sides, strict=True)):
                pulley = next((p for p in c.pulleys if p.name == name), None)
                if pulley is None or name in seen or side == "L":
                    continue
                plates = [parts.get(part_of(model, f"BRACKET-{w}", name, side)) for w in ("FIRST", "SECOND")]
                wheel = link.over[i]
                if plates[0] is None or plates[1] is None or not isinstance(wheel, Wheel):
                    continue
                seen.add(name)
                force = on_pulley(m, link, i)[None]
                stand = footing(model, parts, pulley.on, side)
                both = tuple(
                    standing(model, stand, q, wheel.centre, pulley.bolt, force / 2, wheel.centre)
                    for q in (plates[0], plates[1])
                )
                yield Bracket(
                    f"pulley_{name}",
                    f"bracket of the pulley {name.replace('_', ' ')}",
                    m,
                    stand.body is None,
                    both,
                    stand.run,
                )


def on_pulley(motion: Motion, link: Link, i: int) -> np.ndarray:
    """(3,) N of a cable on the i-th thing it runs over: its greatest tension, ultimate, as it lies in neutral."""
    assert isinstance(link.made, ControlCable)
    P = float(np.max([most(motion) * pull(motion, link, s) for s in motion.stances]))
    T, _ = tensions(motion, link, P)
    before, after = link.way(link.ends).straights[i : i + 2]
    units = [(a - b) / np.linalg.norm(a - b) for a, b in ((before[0], before[1]), (after[1], after[0]))]
    return np.asarray(T * (units[0] + units[1]))


def standing(
    model: Model, stand: Footing | None, part: Part, place: np.ndarray, size: str, force: np.ndarray, front: np.ndarray
) -> Standing:
    """A plate from its foot to its bolt; stand: None for the stick's fork, welded along the torque tube's front."""
    assert isinstance(part.shape, Plate)
    pose, body = part.poses[0], Polygon(part.shape.outline)
    tip, start, touch = flat(pose, place), 0.0, 0.0
    if stand is None:
        base = flat(pose, front)
        touch = 2 * (float(np.max(part.shape.outline[:, 0])) - base[0])
    else:
        base, section, wide = cut_at(model, stand, pose)
        start = CLEAR * wide if stand.body is None else 0.0
        touch = float(body.exterior.intersection(section.buffer(2e-5)).length) if stand.body is None else 0.0
    for mark in part.shape.marks:
        for at in mark.points if mark.label in fasteners() else ():
            if float(np.hypot(*np.subtract(at, tip))) > NEAR:
                body = body.difference(Point(at).buffer(fasteners()[mark.label].diameter / 2))
    arm = Arm(part, pose, body, base, tip, min(start, 0.9 * float(np.hypot(*np.subtract(tip, base)))), bolt(size))
    return Standing(arm, force, touch)


# ------------------------------------------------------------------ checks


def _loads(s: Standing, at: Place, factor: float) -> flat_arm.ArmLoads:
    F, d = in_axes(s, factor), s.arm.long - at.way
    return flat_arm.ArmLoads(along=F[:, 0], across=F[:, 1], out=F[:, 2], moment=d * F[:, 1], moment_out=d * F[:, 2])


def _plates(answer: Answered, b: Bracket, strengths: Strengths, doubts: Sequence[Allowable]) -> Check:
    factor, first = special("fitting")
    sheet = b.plates[0].arm
    pull = "tension_near_weld" if b.welded else "tension"
    found = [
        strengths.material(sheet.part.material, n, sheet.thick) for n in (pull, "shear", "youngs", "yield_compression")
    ]
    F, F_s, E, crush = (a.value for a in found)
    rows = []
    for s in b.plates:
        for at in cuts(s.arm):
            loads = _loads(s, at, factor)
            every = flat_arm.use(loads, at.cut, F, F_s)
            strip = plate.strip_use(-np.asarray(loads.along), sum(at.cut.pieces), s.arm.thick, s.arm.long, E, crush)
            every = every + np.maximum(strip - np.abs(np.asarray(loads.along)) / (at.cut.area * F), 0.0)
            i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
            rows.append((float(every[i]), s, at, i, float(strip[i])))
    use, s, at, i, as_strip = max(rows, key=lambda r: (np.isnan(r[0]), r[0]))
    loads = _loads(s, at, factor)
    here = flat_arm.ArmLoads(**{k: float(np.asarray(v)[i]) if np.ndim(v) else 0.0 for k, v in vars(loads).items()})
    lines = flat_arm.working(here, at.cut, F, F_s)
    steps = (
        first,
        Step(
            "on this plate, with the factor", "1.15 F", (), factor * float(np.linalg.norm(s.force[i])), "N", "statics"
        ),
        Step("cut, from the foot's middle", "s", (("to the bolt", s.arm.long, "m"),), at.way, "m", "geometry"),
        *lines[:-2],
        Step("pressed as a strip", "N/(w t F)", (("l", s.arm.long, "m"),), as_strip, "1", "bruhn; joints/plate.py"),
        *verdict(use, "the bar's use, with the strip's in place of N/(A F) where it is more", ()),
    )
    caveat = "strength beside the weld for all of it" if b.welded else "its foot is held square"
    return told_of(
        answer,
        b.motion,
        f"bracket.{b.key}",
        f"{b.words}: plates",
        use,
        s.arm.part.number,
        [*found, *doubts],
        steps,
        caveat,
        BRACKET_RULE,
    )


def _eyes(answer: Answered, b: Bracket, strengths: Strengths, doubts: Sequence[Allowable]) -> Check:
    factor, first = special("fitting")
    rows = []
    for s in b.plates:
        names = ("tension", "yield_tension", "shear", "bearing", "bearing_close")
        made = [strengths.material(s.arm.part.material, n, s.arm.thick) for n in names]
        v, edge, d = (
            [a.value for a in made],
            round(float(s.arm.body.exterior.distance(Point(s.arm.tip))), 6),
            s.arm.hole,
        )
        eye = lug.Lug(
            width=min(2 * edge, WIDEST * d),
            hole=d,
            pin=d,
            edge=edge,
            thickness=s.arm.thick,
            tension=v[0],
            yields=v[1],
            shear=v[2],
            bearing=v[3],
            bearing_close=v[4],
        )
        F = in_axes(s, factor)
        P, angle = np.hypot(F[:, 0], F[:, 1]), np.arctan2(np.abs(F[:, 1]), np.abs(F[:, 0]))
        every = lug.use(P, angle, eye)
        i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
        rows.append((float(every[i]), s, eye, leaned_on(eye, made), float(P[i]), float(angle[i])))
    use, s, eye, asked_for, load, lean = max(rows, key=lambda r: (np.isnan(r[0]), r[0]))
    return told_of(
        answer,
        b.motion,
        f"bracket_eye.{b.key}",
        f"{b.words}: eye round the bolt",
        use,
        s.arm.part.number,
        [*asked_for, *doubts],
        (first, *lug.working(load, lean, eye)),
        lug.outside_range(eye),
        BRACKET_RULE,
    )
