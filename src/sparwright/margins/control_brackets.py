"""Brackets of bell-cranks, pulleys and the stick: their plates as cantilevers, the eyes round the bolts, their feet.

    pulley   F = T (u_1 + u_2), each plate half of it;  bell-crank, stick: control_pivots.py
    plate    d from the cut to the bolt: M = d F_b, M_o = d F_n, N = F_a                      members/flat_arm.py
    pressed  N/(w t F) of a strip from foot to bolt, ends free to turn                        joints/plate.py
    weld     q = hypot(F_a/L + 6 F_b d/L^2, F_b/L) + 6 F_n d/(L t), q/(F_w t), L where plate and tube touch
    tube     under a welded one, from node to node:  M = F a b/l,  T = F e the longer part of l, beside the weld
    bolts    of a foot on a wing's part: F/2 across, F_a/2 + F_b d/p along, p the most that its foot lets them be apart

With the fitting factor; welded plates at their strength beside the weld. The two plates of a bracket are one check, the
worse. A foot on a wing's part is held by an angle whose rivets are not said: what would pass is unknown.
Sources: statics; strength/joints.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely import Point, Polygon

from sparwright.base.check import Check, Step
from sparwright.base.record import number
from sparwright.controls.motion import Motion, pull
from sparwright.data.loader import fasteners
from sparwright.family.controls import ControlCable, Controls
from sparwright.family.model import Model
from sparwright.margins.braces import WIDEST, Strengths, leaned_on
from sparwright.margins.control_arms import NEAR, Arm, Place, cuts
from sparwright.margins.control_forces import most, tensions
from sparwright.margins.control_pivots import Pivot, pivot_checks, pivots, seam
from sparwright.margins.control_told import RULE, special, told_of
from sparwright.margins.tubes import rupture
from sparwright.parts.control_bodies import EDGE, WIDE, Footing, bolt, cut_at, flat, footing, tube_of
from sparwright.parts.control_bodies import number as part_of
from sparwright.parts.control_bolts import STAND
from sparwright.parts.control_runs import Link
from sparwright.parts.part import Part, Plate
from sparwright.shape.cable import Wheel
from sparwright.shape.frame import Run, nodes
from sparwright.strength.allowable import Allowable, not_known
from sparwright.strength.joints import lug, pin, plate, weld
from sparwright.strength.members import flat_arm, tube
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

FEET = "the rivets of the angle at its foot, and how far apart its bolts stand, are not said"
BRACKET_RULE = f"{RULE}; 23.625"


@dataclass(frozen=True)
class Standing:
    """One plate of a bracket with what it bears."""

    arm: Arm
    force: np.ndarray = number("N", "(n, 3) at ultimate load, on it")
    touch: float = number("m", "length along which it is welded on; nought where it is bolted")


@dataclass(frozen=True)
class Bracket:
    """Both plates of a bracket."""

    key: str
    words: str
    motion: Motion
    welded: bool
    plates: tuple[Standing, ...]
    on: Run | None = None  # the frame's tube it is welded on


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
    yield _foot(model, answer, b, strengths, doubts)
    if b.on is not None:
        yield _under(model, answer, b, b.on, strengths, doubts)


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
        f"bracket of the {p.words}" if crank else "fork of the stick",
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
        start = wide if stand.body is None else 0.0
        touch = float(body.exterior.intersection(section.buffer(2e-5)).length) if stand.body is None else 0.0
    for mark in part.shape.marks:
        for at in mark.points if mark.label in fasteners() else ():
            if float(np.hypot(*np.subtract(at, tip))) > NEAR:
                body = body.difference(Point(at).buffer(fasteners()[mark.label].diameter / 2))
    arm = Arm(part, pose, body, base, tip, min(start, 0.9 * float(np.hypot(*np.subtract(tip, base)))), bolt(size))
    return Standing(arm, force, touch)


# ------------------------------------------------------------------ checks


def _in_axes(s: Standing, factor: float) -> np.ndarray:
    """(n, 3) N along the plate, across it, out of it."""
    return np.asarray(factor * s.force @ s.arm.axes.T)


def _loads(s: Standing, at: Place, factor: float) -> flat_arm.ArmLoads:
    F, d = _in_axes(s, factor), s.arm.long - at.way
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
        Step("pressed as a strip", "N/(w t F)", (("length", s.arm.long, "m"),), as_strip, "1", "bruhn; joints/plate.py"),
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
        F = _in_axes(s, factor)
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


def _foot(model: Model, answer: Answered, b: Bracket, strengths: Strengths, doubts: Sequence[Allowable]) -> Check:
    factor, first = special("fitting")
    if not b.welded:
        return _bolted(answer, b, strengths, factor, first)
    F_w = seam(model, b.plates[0].arm.part.material)
    rows = []
    for s in b.plates:
        F, d, t = _in_axes(s, factor), s.arm.long - s.arm.start, s.arm.thick
        flat_on = weld.foot_use(F[:, 0], F[:, 1], F[:, 1] * d, s.touch, t, F_w.value)
        bowed = 6 * np.abs(F[:, 2]) * d / (s.touch * t**2 * F_w.value)
        every = flat_on + bowed
        i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
        rows.append((float(every[i]), s, F[i], d, float(flat_on[i]), float(bowed[i])))
    use, s, F, d, in_plane, out = max(rows, key=lambda r: (np.isnan(r[0]), r[0]))
    given = (
        ("F_a", float(F[0]), "N"),
        ("F_b", float(F[1]), "N"),
        ("d", d, "m"),
        ("L", s.touch, "m"),
        ("t", s.arm.thick, "m"),
        ("F_w", F_w.value, "Pa"),
    )
    steps = (
        first,
        Step("in the plate's plane", "hypot(F_a/L + 6 F_b d/L^2, F_b/L)/(F_w t)", given, in_plane, "1", str(F_w.source)),
        Step("out of it", "6 F_n d/(L t^2 F_w)", (("F_n", float(F[2]), "N"),), out, "1", str(F_w.source)),
        *verdict(use, "both together", (("in the plane", in_plane, "1"), ("out of it", out, "1"))),
    )
    return told_of(
        answer,
        b.motion,
        f"foot.{b.key}",
        f"{b.words}: weld of its foot",
        use,
        s.arm.part.number,
        [F_w, *doubts],
        steps,
        "the tube under it is not in it",
        BRACKET_RULE,
    )


def _bolted(answer: Answered, b: Bracket, strengths: Strengths, factor: float, first: Step) -> Check:
    """Two bolts through an angle; as far apart as its foot lets them be."""
    sheared, pulled = (strengths.fastener(STAND, n) for n in ("shear", "tension"))
    apart = 2 * WIDE - 2 * EDGE * bolt(STAND)
    rows = []
    for s in b.plates:
        F, d = _in_axes(s, factor), s.arm.long
        cut, drawn = np.hypot(F[:, 1], F[:, 2]) / 2, np.abs(F[:, 0]) / 2 + np.abs(F[:, 1]) * d / apart
        every = pin.shear_and_tension(cut / sheared.value, drawn / pulled.value)
        i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
        rows.append((float(every[i]), s, float(cut[i]), float(drawn[i])))
    use, s, V, T = max(rows, key=lambda r: (np.isnan(r[0]), r[0]))
    R = (V / sheared.value, T / pulled.value)
    steps = (
        first,
        Step("across one of two", "hypot(F_b, F_n)/2", (), V, "N", "statics"),
        Step("along it", "F_a/2 + F_b d/p", (("d", s.arm.long, "m"), ("p", apart, "m")), T, "N", "statics"),
        *verdict(use, "u of (R_s/u)^3 + (R_t/u)^2 = 1", (("R_s", R[0], "1"), ("R_t", R[1], "1")), source="mil-hdbk-5"),
    )
    doubts: list[Allowable] = [sheared, pulled, not_known("foot", s.arm.part.number, FEET)]
    return told_of(
        answer,
        b.motion,
        f"foot.{b.key}",
        f"{b.words}: bolts {STAND} of its foot",
        use,
        s.arm.part.number,
        doubts,
        steps,
        "the web or rib under it is not in it",
        BRACKET_RULE,
    )


def _under(
    model: Model, answer: Answered, b: Bracket, run: Run, strengths: Strengths, doubts: Sequence[Allowable]
) -> Check:
    """The tube a bracket is welded on, by the control's forces alone."""
    factor, first = special("fitting")
    total = factor * sum((s.force for s in b.plates), np.zeros(3))
    at = np.mean([s.arm.pose.place(*s.arm.tip) for s in b.plates], axis=0)
    foot, (start, end) = _on_tube(model, run, at)
    long, t = float(np.linalg.norm(end - start)), run.tube
    along = (end - start) / long
    near, far = sorted((float(np.linalg.norm(foot - start)), float(np.linalg.norm(end - foot))))
    across = np.linalg.norm(total - np.outer(total @ along, along), axis=1)
    M, T = across * near * far / long, np.abs(np.cross(at - foot, total) @ along) * far / long
    names = ("youngs", "yield_compression", "shear", "tension", "tension_near_weld")
    found = [strengths.material(t.material, n, t.wall) for n in names]
    E, crush, shear, pulled, beside = (a.value for a in found)
    F_b = rupture(t, E, crush) * beside / pulled
    F_s = float(tube.torsion_stress(t.outside, t.wall, E, crush, shear)) * beside / pulled
    R_b, R_s = tube.bending_use(M, t.outside, t.wall, F_b), tube.torsion_use(T, t.outside, t.wall, F_s)
    every = tube.together(0.0, R_b, R_s)
    i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
    steps = (
        first,
        Step("across the tube, with the factor", "F", (), float(across[i]), "N", "statics"),
        Step(
            "bent from node to node",
            "F (a b/l)/(Z F_b)",
            (("a", near, "m"), ("b", far, "m"), ("l", long, "m"), ("F_b", F_b, "Pa")),
            float(R_b[i]),
            "1",
            "aisc-360 F8 (memory)",
        ),
        Step(
            "twisted",
            "F e (b/l) D/(2 J F_s)",
            (("T", float(T[i]), "N m"), ("F_s", F_s, "Pa")),
            float(R_s[i]),
            "1",
            "aisc-360 H3.1 (memory)",
        ),
        *verdict(
            float(every[i]), "(R_b + sqrt(R_b^2 + 4 R_s^2))/2", (("R_b", float(R_b[i]), "1"), ("R_s", float(R_s[i]), "1"))
        ),
    )
    return told_of(
        answer,
        b.motion,
        f"stand.{b.key}",
        f"tube under the {b.words}",
        float(every[i]),
        tube_of(model, run),
        [*found, *doubts],
        steps,
        "what the frame puts on it is not in it; its ends free to turn up and down",
        BRACKET_RULE,
    )


def _on_tube(model: Model, run: Run, place: np.ndarray) -> tuple[np.ndarray, tuple[np.ndarray, np.ndarray]]:
    """((3,) the place of a tube's middle line nearest to a point, the two nodes of the straight part it is on)."""
    known, found = nodes(model.fuselage), []
    for a, b in pairwise(np.array(known[n]) for n in run.nodes):
        part = float(np.clip((place - a) @ (b - a) / ((b - a) @ (b - a)), 0.02, 0.98))
        at = a + part * (b - a)
        found.append((float(np.linalg.norm(at - place)), at, (a, b)))
    _, at, both = min(found, key=lambda x: x[0])
    return at, both
