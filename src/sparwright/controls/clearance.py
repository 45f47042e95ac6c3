"""What moves with a control, through its travel, against everything that stands still: which parts come how near.

Each part goes with its lever, rod or cable: levers turn about their lines, rods go from bolt to bolt, cables are laid
over their pulleys anew. Gaps are measured between bodies, nought for a part in a part. Left out: parts that a joint
holds together, stops and guard pins, which are to touch or nearly; openings that are cut to fit; fabric; what moves
with the same control; elevator, rudder and ailerons themselves (parts/travel.py has them). The solids are those of a
general-purpose library (manifold3d).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.record import locked, number
from sparwright.base.source import UNKNOWN, Band
from sparwright.controls.motion import Motion
from sparwright.data.controls import RULES
from sparwright.family.controls import ControlCable, Controls
from sparwright.family.model import Model
from sparwright.parts.beside import Boxes, boxes
from sparwright.parts.control_bodies import GROUP
from sparwright.parts.control_bodies import number as named
from sparwright.parts.control_hand import spring_ends
from sparwright.parts.control_runs import Link, hole
from sparwright.parts.linkage import Stance, ends
from sparwright.parts.part import Assembly, Part, Skin
from sparwright.parts.solids import closed, exact, gap, solids
from sparwright.shape.solid import Solid
from sparwright.shape.tube import Tube

LOOK = 0.02  # m: no further is looked
WITH = ("CRANK", "CRANK-HUB")
METHOD = "measured on the bodies of the parts, moved with their levers (controls/clearance.py)"
Follow = Callable[[Part, Stance], list[Solid]]  # a part's bodies at a stance
PEDAL = ("PEDAL-HUB", "PEDAL-UPRIGHT", "PEDAL-BAR", "PEDAL-ARM")


@dataclass(frozen=True)
class Near:
    """Where something that moves comes nearest to something that stands."""

    gap: float = number("m", "least gap; LOOK when nothing was nearer")
    one: str = ""
    other: str = ""
    where: str = ""


@dataclass(frozen=True)
class Still:
    """Everything that has a body, as it stands in neutral."""

    numbers: Sequence[str]
    bodies: Sequence[Solid]
    boxes: Boxes
    joined: Mapping[str, set[str]]  # by part, the parts that a joint holds it to
    stops: frozenset[str] = frozenset()
    open: tuple[str, ...] = ()  # parts whose body is not closed


def still(assembly: Assembly) -> Still:
    """The bodies of a model, all in neutral, and which of them joints hold together."""
    rows: list[tuple[str, Solid]] = []
    not_closed = []
    for part in assembly.parts:
        if isinstance(part.shape, Skin) and part.shape.thickness == 0:
            continue
        for solid in solids(part):
            if not closed(exact(solid)):
                not_closed.append(part.number)
            rows.append((part.number, solid))
    joined: dict[str, set[str]] = {}
    for joint in assembly.joints:
        for name in joint.parts:
            joined.setdefault(name, set()).update(joint.parts)
    stops = frozenset(p.number for p in assembly.parts if p.purpose in ("stop", "guard"))
    bodies = [s for _, s in rows]
    return Still([n for n, _ in rows], bodies, boxes(bodies), joined, stops, tuple(not_closed))


def clearance_checks(
    model: Model, controls: Controls, found: tuple[Motion, ...], assembly: Assembly
) -> Iterator[Check]:
    """Least gap of each control through its travel."""
    around = still(assembly)
    for motion in found:
        near = nearest(model, controls, motion, assembly, around)
        told = near[0] if near else None
        yield check(
            f"controls.{motion.name}.clear",
            f"least gap of what moves with the {motion.name}, through its travel",
            Band.exact(told.gap) if told else UNKNOWN,
            RULES["clear"].value,
            RULES["clear"].sense,
            "m",
            part=told.one if told else "",
            rule=str(RULES["clear"].source),
            method=METHOD,
            caveat=(_said(told) if told else "no body moves") + "; at rest, not under load, without fabric",
            outside_range=f"bodies that are not closed: {', '.join(around.open[:6])}" if around.open else "",
            steps=tuple(Step(_said(n), "least gap", (), n.gap, "m") for n in near[:8]),
        )


def _said(near: Near) -> str:
    return f"{near.one} and {near.other}, {near.where}" if near.other else f"nothing within {LOOK * 1e3:.0f} mm"


def nearest(model: Model, controls: Controls, motion: Motion, assembly: Assembly, around: Still) -> list[Near]:
    """For each part that moves the nearest it comes to anything, nearest first."""
    moving = {p.number: p for p in assembly.parts}
    rows = {n: f for n, f in _followers(model, controls, motion).items() if n in moving}
    own = set(rows) | _surfaces(model, motion, assembly)
    least = {n: Near(LOOK, n) for n in rows}
    keep = np.array([n not in own and n not in around.stops for n in around.numbers])
    beside = {n: around.joined.get(n, set()) for n in rows}
    for key in motion.run.levers:  # what one part of a lever turns in, the others turn beside
        names = [n for n in _on_lever(model, key) if n in rows]
        beside |= dict.fromkeys(names, set().union(*(beside[n] for n in names)))
    for stance in motion.stances:
        where = f"with the {motion.name} at {np.degrees(stance.angles[motion.surface]):+.0f} deg"
        for name, follow in rows.items():
            for body in follow(moving[name], stance):
                least[name] = nearer(least[name], body, around, keep, beside[name], moving[name].passes, where)
    return sorted(least.values(), key=lambda n: n.gap)


def _surfaces(model: Model, motion: Motion, assembly: Assembly) -> set[str]:
    """Numbers of all parts of the surfaces that turn with a motion."""
    starts = []
    for key in motion.run.levers:
        name = key.partition("-")[0]
        wing = name.removeprefix("aileron.")
        starts.append(f"{model.name}-{wing}-AILERON-" if name.startswith("aileron.") else f"{model.name}-{name}-")
    return {p.number for p in assembly.parts if p.number.startswith(tuple(starts))}


def nearer(
    least: Near, body: Solid, around: Still, keep: np.ndarray, beside: set[str], openings: tuple[str, ...], where: str
) -> Near:
    """The nearer of what was found before and what a body comes to; beside: numbers that do not count."""
    for i, floor in around.boxes.near(body, least.gap, keep):
        other = around.numbers[i]
        if floor >= least.gap:
            break
        if other in beside or other.startswith(openings):
            continue
        off = gap(body, around.bodies[i], least.gap, moves=True)
        if off < least.gap:
            least = replace(least, gap=off, other=other, where=where)
    return least


# ------------------------------------------------------------------ how each part goes along


def _followers(model: Model, controls: Controls, motion: Motion) -> dict[str, Follow]:
    """By part number, what gives the part's bodies at a stance."""
    found: dict[str, Follow] = {}
    for key in motion.run.levers:
        for name in _on_lever(model, key):
            found[name] = _turning(motion, key)
    for link in motion.run.links:
        found.update(_on_link(model, controls, motion, link))
        if link.levers[0].startswith("pedal"):
            name = named(model, "PEDAL-SPRING", hand=link.hand)
            found[name] = _drawn(
                motion, link.levers[0], spring_ends(controls, hole(model, controls, "pedal.spring", link.hand))
            )
    return found


def _on_lever(model: Model, key: str) -> tuple[str, ...]:
    name, _, hand = key.partition("-")
    if name == "stick":
        return tuple(named(model, k) for k in ("STICK", "STICK-LUG", "STICK-TRIM-LUG"))
    if name == "torque_tube":
        return tuple(named(model, k) for k in ("TORQUE-TUBE", "TORQUE-ARM", "TORQUE-STOP"))
    if name == "pedal":
        return tuple(named(model, k, hand=hand) for k in PEDAL)
    if name.startswith("aileron."):
        lugs = model.controls.lugs if model.controls else ()
        return tuple(named(model, "LUG", k.name, hand) for k in lugs if f"aileron.{k.wing}" == name)
    return tuple(named(model, k, name, hand) for k in WITH)


def _turning(motion: Motion, key: str) -> Follow:
    lever = motion.run.levers[key]
    return lambda part, stance: [
        Solid(locked(lever.turned(s.points, stance.angles[key])), s.faces) for s in solids(part)
    ]


def _on_link(model: Model, controls: Controls, motion: Motion, link: Link) -> dict[str, Follow]:
    key, hand = link.name, link.hand
    if not isinstance(link.made, ControlCable):
        names = ("ROD", "ROD-END-FIRST", "ROD-END-LAST")
        return {named(model, k, key, hand): _carried(motion, link) for k in names}
    found = {
        named(model, k, key, hand): _laid(controls, motion, link) for k in ("CABLE-FIRST", "CABLE-LAST", "TURNBUCKLE")
    }
    for i, word in enumerate(("FIRST", "LAST")):
        found[named(model, "SHACKLE", f"{key}-{word}", hand)] = _swivelled(motion, link, i)
    return found


def _frame(along: np.ndarray, near: np.ndarray) -> np.ndarray:
    """(3, 3) rows: a direction, one square to it nearest to another, and the third."""
    x = along / np.linalg.norm(along)
    y = near - (near @ x) * x
    y = y / np.linalg.norm(y)
    return np.array([x, y, np.cross(x, y)])


def _shifted(part: Part, before: np.ndarray, after: np.ndarray, old: np.ndarray, new: np.ndarray) -> list[Solid]:
    """Bodies moved from a place and frame to another."""
    turn = new.T @ old
    return [Solid(locked((s.points - before) @ turn.T + after), s.faces) for s in solids(part)]


def _carried(motion: Motion, link: Link) -> Follow:
    normal = link.holes[0].normal

    def at(part: Part, stance: Stance) -> list[Solid]:
        here, there = link.ends, ends(motion.run, link, stance.angles)
        return _shifted(part, here[0], there[0], _frame(here[1] - here[0], normal), _frame(there[1] - there[0], normal))

    return at


def _drawn(motion: Motion, key: str, both: np.ndarray) -> Follow:
    """A spring between an arm's hole and its anchor: its body drawn out along its length."""
    lever = motion.run.levers[key]

    def at(part: Part, stance: Stance) -> list[Solid]:
        hook = lever.turned(both[0], stance.angles[key])
        shape = part.shape
        assert isinstance(shape, Tube)
        return [replace(shape, path=locked([shape.path[0], hook])).solid()]

    return at


def _swivelled(motion: Motion, link: Link, i: int) -> Follow:
    """A shackle on its pin, along the cable."""
    hole_ = link.holes[i]
    lever = motion.run.levers[hole_.lever]

    def towards(points: np.ndarray, normal: np.ndarray) -> np.ndarray:
        way = link.way(points).straights
        line = way[0] if i == 0 else way[-1][::-1]
        out = line[1] - line[0]
        return np.asarray(out - (out @ normal) * normal)

    def at(part: Part, stance: Stance) -> list[Solid]:
        angle = stance.angles[hole_.lever]
        normal = lever.turned(lever.pivot + hole_.normal, angle) - lever.pivot
        points = ends(motion.run, link, stance.angles)
        old = _frame(towards(link.ends, hole_.normal), hole_.normal)
        return _shifted(part, link.ends[i], points[i], old, _frame(towards(points, normal), normal))

    return at


def _laid(controls: Controls, motion: Motion, link: Link) -> Follow:
    """A length of cable, or its turnbuckle, along the cable's way."""
    assert isinstance(link.made, ControlCable)
    half, pin = controls.cable_end.turnbuckle / 2, controls.cable_end.length + controls.cable_end.eye
    middle = link.made.turnbuckle

    def at(part: Part, stance: Stance) -> list[Solid]:
        way = link.way(ends(motion.run, link, stance.angles))
        steps = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(way.line, axis=0), axis=1))])
        low, high = {"CABLE-FIRST": (pin, middle - half), "CABLE-LAST": (middle + half, float(steps[-1]) - pin)}.get(
            _kind(part), (middle - half, middle + half)
        )
        inner = way.line[(steps > low + 1e-6) & (steps < high - 1e-6)]
        path = np.array([way.at(low)[0], *inner, way.at(high)[0]])
        shape = part.shape
        assert isinstance(shape, Tube)
        return [replace(shape, path=locked(path)).solid()]

    return at


def _kind(part: Part) -> str:
    return "-".join(part.number.split(f"-{GROUP}-")[1].split("-")[:2])
