"""Rods, cables, bell-cranks, pulleys and fairleads as parts and joints.

A rod end is a flat eye beside its plate with a neck; the tube begins behind it. A cable ends in a shackle over the
plate and is parted by its turnbuckle. Bell-cranks and pulleys turn on a bolt between two plates saddled on a tube.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from shapely import box
from shapely.ops import unary_union

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.family.controls import ControlCable, Controls, Rod
from sparwright.family.model import Model
from sparwright.parts.control_bodies import (
    bought_disc,
    bought_rod,
    disc,
    in_plane,
    number,
    shackle,
    tube,
)
from sparwright.parts.control_bolts import rod_end_bolt, shackle_bolt
from sparwright.parts.control_runs import Hole, Link
from sparwright.parts.frame import cable_mass
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Joint, JointKind, Part
from sparwright.shape.cable import Way, Wheel
from sparwright.shape.solid import as_place

PLUG = 2e-3  # m of the plug in the tube's end that is seen (common practice, no source)
NECK = 0.3  # eyes: width of a rod end's neck, and half its length beyond the eye (common practice, no source)
COTTER = "castellated nut and cotter; turns freely"


@dataclass(frozen=True)
class Made:
    """Parts and joints as they are made."""

    parts: list[Part] = field(default_factory=list)
    joints: list[Joint] = field(default_factory=list)
    standing: Mapping[str, Part] = field(default_factory=dict)  # by number, the parts that were there before

    def join(
        self,
        kind: JointKind,
        parts: tuple[str, ...],
        place: np.ndarray,
        bolt: Bolt | None = None,
        note: str = "",
        length: float = 0.0,
        fasteners: int = 1,
    ) -> None:
        """A joint of the controls; its number is that of the second part and what it is joined to."""
        end = parts[0].split("-", 1)[1]
        self.joints.append(
            Joint(
                number=f"{parts[1]}-TO-{end}",
                kind=kind,
                parts=parts,
                place=as_place(place),
                primary=True,
                fastener=bolt.size if bolt else "",
                fasteners=fasteners if bolt else 0,
                note=note,
                length=length,
                bolt=bolt,
            )
        )

    def through(
        self,
        kind: JointKind,
        plates: Sequence[str],
        inner: str,
        place: np.ndarray,
        bolt: Bolt,
        note: str = "",
        counted: bool = True,
    ) -> None:
        """One bolt through two plates and what is between them: a joint with each, the bolt counted with the first.

        counted: False where the bolt is a part by itself.
        """
        for i, plate_ in enumerate(plates):
            told = "; ".join(x for x in (note, "the same bolt" if i else "") if x)
            self.join(kind, (plate_, inner), place, bolt, told, fasteners=1 if counted and not i else 0)


def owner(model: Model, c: Controls, hole: Hole) -> str:
    """Number of the plate a hole is in."""
    name, _, hand = hole.lever.partition("-")
    for lug in c.lugs:
        if name == f"aileron.{lug.wing}" and np.allclose(np.abs(hole.place), np.abs(lug.hole), rtol=0, atol=1e-9):
            return number(model, "LUG", lug.name, hand)
    if name in ("elevator", "rudder"):
        return f"{model.name}-{name}-HORN"
    if name.startswith("aileron."):
        return part_number(model.name, name.removeprefix("aileron."), "AILERON-HORN", "", hand)
    if name == "torque_tube":
        return number(model, "TORQUE-ARM")
    if name == "stick":
        return number(model, "STICK-LUG")
    if name == "pedal":
        return number(model, "PEDAL-ARM", hand=hand)
    return number(model, "CRANK", name, hand)


# ------------------------------------------------------------------ rods


def rod_parts(model: Model, c: Controls, link: Link, made: Made) -> None:
    """A push-pull tube, its two rod ends, and how they are held."""
    assert isinstance(link.made, Rod)
    a, b = link.ends
    along, end = (b - a) / np.linalg.norm(b - a), c.rod_end
    reach = end.eye / 2 * (1 + 2 * NECK)
    key, rod = link.name, number(model, "ROD", link.name, link.hand)
    tube_ = tube(
        model,
        "ROD",
        key,
        f"push-pull tube, {key.replace('_', ' ')}",
        "control",
        np.array([a + reach * along, b - reach * along]),
        link.made.tube,
        link.hand,
    )
    made.parts.append(replace(tube_, passes=tuple(f"{model.name}-{p}" for p in link.made.passes)))
    for word, at, way, hole in (("FIRST", a, along, link.holes[0]), ("LAST", b, -along, link.holes[1])):
        across = np.cross(hole.normal, way)
        across = across / np.linalg.norm(across)
        pose = in_plane(np.cross(way, across), at, way)
        eye = unary_union(
            [
                disc((0.0, 0.0), end.eye / 2),
                box(0.0, -NECK * end.eye / 2, reach, NECK * end.eye / 2),
                box(reach - PLUG, -link.made.tube.outside / 2, reach, link.made.tube.outside / 2),
            ]
        )
        part = bought_disc(
            model, f"ROD-END-{word}", key, f"rod end, {word.lower()}", pose, eye, end.width, end.mass, link.hand
        )
        made.parts.append(part)
        made.join("bolt", (part.number, rod), at + reach * way, None, "threaded in, jam nut, inspection hole covered")
        made.join("bolt", (owner(model, c, hole), part.number), at, rod_end_bolt(c, hole), COTTER)


# ------------------------------------------------------------------ cables


def cable_parts(model: Model, c: Controls, link: Link, made: Made) -> None:
    """A cable in two lengths, its shackles and turnbuckle. DesignProblem where the turnbuckle is off the cable."""
    cable = link.made
    assert isinstance(cable, ControlCable)
    way = link.way(link.ends)
    key, half = link.name, c.cable_end.turnbuckle / 2
    openings = tuple(f"{model.name}-{p}" for p in cable.passes)
    if not 2 * c.cable_end.length + half < cable.turnbuckle < way.length - 2 * c.cable_end.length - half:
        raise DesignProblem(
            f"{model.name}: cable {key}: its turnbuckle lies within an end; the way is {inches(way.length)}"
        )
    starts = [_shackled(model, c, link, i, way, openings, made) for i in (0, 1)]
    barrel, (near, far) = _turnbuckle(model, c, link, way, made)
    steps = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(way.line, axis=0), axis=1))])
    first = way.line[1:-1][steps[1:-1] < cable.turnbuckle - half]
    last = way.line[1:-1][steps[1:-1] > cable.turnbuckle + half]
    (one, leaves), (other, arrives) = starts
    _length(model, link, "FIRST", np.array([leaves, *first, near]), (one, barrel), openings, made)
    _length(model, link, "LAST", np.array([far, *last, arrives]), (barrel, other), openings, made)


def _shackled(
    model: Model, c: Controls, link: Link, i: int, way: Way, openings: tuple[str, ...], made: Made
) -> tuple[str, np.ndarray]:
    """(number of the shackle at the first or last end, (3,) where the cable leaves it)."""
    hole, line = link.holes[i], way.straights[0] if i == 0 else way.straights[-1][::-1]
    key = f"{link.name}-{('FIRST', 'LAST')[i]}"
    part, leaves = shackle(model, key, hole.place, hole.normal, line[1] - line[0], hole.thickness, link.hand)
    made.parts.append(replace(part, passes=openings))
    made.join("bolt", (owner(model, c, hole), part.number), hole.place, shackle_bolt(c, hole), COTTER)
    return part.number, leaves


def _turnbuckle(model: Model, c: Controls, link: Link, way: Way, made: Made) -> tuple[str, np.ndarray]:
    """(number of a cable's turnbuckle, (2, 3) its ends)."""
    assert isinstance(link.made, ControlCable)
    e, middle = c.cable_end, link.made.turnbuckle
    ends = np.array([way.at(middle + s * e.turnbuckle / 2)[0] for s in (-1.0, 1.0)])
    name = f"turnbuckle of the {link.name.replace('_', ' ')} cable"
    stock = f"{inches(e.turnbuckle)} turnbuckle"
    made.parts.append(bought_rod(model, "TURNBUCKLE", link.name, name, ends, e.outside, e.mass, stock, link.hand))
    return number(model, "TURNBUCKLE", link.name, link.hand), ends


def _length(
    model: Model,
    link: Link,
    word: str,
    path: np.ndarray,
    ends: tuple[str, str],
    openings: tuple[str, ...],
    made: Made,
) -> None:
    """A length of cable between a shackle and the turnbuckle; ends: numbers of what it begins and ends in."""
    cable = link.made
    assert isinstance(cable, ControlCable)
    metal = cable_mass(cable.construction, cable.diameter)
    mass = metal * float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum())
    name = f"{link.name.replace('_', ' ')} cable, {word.lower()} length"
    stock = f"{cable.construction} {cable.metal} steel cable, {inches(cable.diameter)}"
    part = bought_rod(model, f"CABLE-{word}", link.name, name, path, cable.diameter, mass, stock, link.hand)
    made.parts.append(replace(part, passes=openings))
    for held, place in zip(ends, (path[0], path[-1]), strict=True):
        shackled = "SHACKLE" in held
        note = "thimble and pressed sleeve in the shackle" if shackled else "threads hidden, locked with wire"
        made.join("wire end", (held, part.number), place, None, note)
    _over(model, link, part.number, path[1:-1], made)


def _over(model: Model, link: Link, number_: str, points: np.ndarray, made: Made) -> None:
    """Each pulley that a length of cable runs over; through a fairlead it runs with play."""
    for name, side, thing in zip(link.names, link.sides, link.over, strict=True):
        if isinstance(thing, Wheel) and len(points):
            if np.linalg.norm(points - thing.centre, axis=1).min() < thing.radius * 1.01:
                pulley = number(model, "PULLEY", name, side)
                made.join("hinge", (pulley, number_), thing.centre, None, "runs over it")
