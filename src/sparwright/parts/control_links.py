"""Rods, cables, bell-cranks, pulleys and fairleads as parts and joints.

A rod end is a flat eye beside its plate with a neck; the tube begins behind it. A cable ends in a shackle over the
plate and is parted by its turnbuckle. Bell-cranks and pulleys turn on a bolt between two plates saddled on a tube.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from shapely import Polygon, box
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.data.loader import material
from sparwright.family.controls import DIRECTIONS, ControlCable, Controls, Crank, Fairlead, Pulley, Rod
from sparwright.family.model import Model
from sparwright.family.stock import RoundTube
from sparwright.parts.control_bodies import (
    EDGE,
    Footing,
    beside,
    bolt,
    bought_disc,
    bought_rod,
    bracket,
    crosses,
    disc,
    flat,
    footing,
    frame_tube,
    in_plane,
    meets,
    number,
    plate,
    round_holes,
    shackle,
    tube,
)
from sparwright.parts.control_runs import Hole, Layout, Link, hands, keyed, over
from sparwright.parts.frame import CABLE_STEEL, FILL
from sparwright.parts.number import part_number
from sparwright.parts.part import Hand, Joint, JointKind, Part
from sparwright.shape.cable import Wheel
from sparwright.shape.frame import Run
from sparwright.shape.solid import Pose, as_place

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
        fastener: str = "",
        note: str = "",
        length: float = 0.0,
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
                fastener=fastener,
                fasteners=1 if kind == "bolt" else 0,
                note=note,
                length=length,
            )
        )


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
        made.join("bolt", (part.number, rod), at + reach * way, "", "threaded in, jam nut, inspection hole covered")
        made.join("bolt", (owner(model, c, hole), part.number), at, end.bolt, f"wide washer over the ball; {COTTER}")


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
    starts = []
    for word, hole, towards in (
        ("FIRST", link.holes[0], way.straights[0]),
        ("LAST", link.holes[1], way.straights[-1][::-1]),
    ):
        part, leaves = shackle(
            model, f"{key}-{word}", hole.place, hole.normal, towards[1] - towards[0], hole.thickness, link.hand
        )
        made.parts.append(replace(part, passes=openings))
        made.join("bolt", (owner(model, c, hole), part.number), hole.place, c.cable_end.pin, COTTER)
        starts.append((part.number, leaves))
    barrel = number(model, "TURNBUCKLE", key, link.hand)
    near, far = (way.at(cable.turnbuckle + s * half)[0] for s in (-1.0, 1.0))
    made.parts.append(
        bought_rod(
            model,
            "TURNBUCKLE",
            key,
            f"turnbuckle of the {key.replace('_', ' ')} cable",
            np.array([near, far]),
            c.cable_end.outside,
            c.cable_end.mass,
            f"{inches(c.cable_end.turnbuckle)} turnbuckle",
            link.hand,
        )
    )
    steps = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(way.line, axis=0), axis=1))])
    first = way.line[1:-1][steps[1:-1] < cable.turnbuckle - half]
    last = way.line[1:-1][steps[1:-1] > cable.turnbuckle + half]
    stock = f"{cable.construction} {cable.metal} steel cable, {inches(cable.diameter)}"
    metal = math.pi / 4 * cable.diameter**2 * FILL[cable.construction] * material(CABLE_STEEL).density
    lengths = (("FIRST", [starts[0][1], *first, near], 0), ("LAST", [far, *last, starts[1][1]], 1))
    for word, points, at in lengths:
        path = np.array(points)
        long = float(np.linalg.norm(np.diff(path, axis=0), axis=1).sum())
        part = bought_rod(
            model,
            f"CABLE-{word}",
            key,
            f"{key.replace('_', ' ')} cable, {word.lower()} length",
            path,
            cable.diameter,
            metal * long,
            stock,
            link.hand,
        )
        part = replace(part, passes=openings)
        made.parts.append(part)
        made.join(
            "wire end", (starts[at][0], part.number), starts[at][1], "", "thimble and pressed sleeve in the shackle"
        )
        made.join(
            "wire end", (barrel, part.number), points[-1 if at == 0 else 0], "", "threads hidden, locked with wire"
        )
        _over(model, link, word, part.number, first if at == 0 else last, made)


def _over(model: Model, link: Link, word: str, number_: str, points: np.ndarray, made: Made) -> None:
    """Each pulley that a length of cable runs over; through a fairlead it runs with play."""
    for name, side, thing in zip(link.names, link.sides, link.over, strict=True):
        if isinstance(thing, Wheel) and len(points):
            if np.linalg.norm(points - thing.centre, axis=1).min() < thing.radius * 1.01:
                pulley = number(model, "PULLEY", name, side)
                made.join("hinge", (pulley, number_), thing.centre, "", "runs over it")


# ------------------------------------------------------------------ pulleys and fairleads


def pulley_parts(model: Model, c: Controls, layout: Layout, pulley: Pulley, made: Made) -> None:
    """A pulley, its bracket, bolt and guard pin. DesignProblem for one that no cable runs over."""
    for hand in hands(pulley.pair):
        found = [(k, i) for k in layout.links for i, n in enumerate(k.names) if (n, k.sides[i]) == (pulley.name, hand)]
        if not found:
            raise DesignProblem(f"{model.name}: no cable runs over pulley {keyed(pulley.name, hand)}")
        link, at = found[0]
        wheel = link.over[at]
        assert isinstance(wheel, Wheel) and isinstance(link.made, ControlCable)
        way = link.way(link.ends)
        right = wheel.normal * over(hand)
        normal = over(hand) * right * np.sign(right[int(np.argmax(np.abs(right)))])
        pose = in_plane(normal, wheel.centre)
        name = pulley.name.replace("_", " ")
        part = bought_disc(
            model,
            "PULLEY",
            pulley.name,
            f"pulley, {name}",
            pose,
            disc((0.0, 0.0), pulley.diameter / 2),
            pulley.width,
            pulley.mass,
            hand,
        )
        pin = bolt(c.cable_end.pin)
        away = _middle(wheel, way.straights[at], way.straights[at + 1])
        guard = wheel.centre + (wheel.radius + link.made.diameter / 2 + pulley.guard + pin / 2) * away
        run = footing(model, made.standing, pulley.on, hand)
        plates = bracket(
            model,
            pulley.name,
            wheel.centre,
            normal,
            pulley.width,
            pulley.bracket,
            run,
            EDGE * bolt(pulley.bolt),
            [(guard, EDGE * pin)],
            hand,
        )
        half = pulley.width / 2 * normal
        pin_part = bought_rod(
            model,
            "GUARD-PIN",
            pulley.name,
            f"guard pin, {name}",
            np.array([guard - half, guard + half]),
            pin,
            math.pi / 4 * pin**2 * pulley.width * material(CABLE_STEEL).density,
            f"{c.cable_end.pin} bolt",
            hand,
            purpose="guard",
        )
        made.parts.extend((part, *plates, pin_part))
        _stands(run, (plates[0].number, plates[1].number), wheel.centre, made)
        for p in plates:
            made.join("bolt", (p.number, part.number), wheel.centre, pulley.bolt, COTTER)
            made.join("bolt", (p.number, pin_part.number), guard, c.cable_end.pin, "through both plates")


def _middle(wheel: Wheel, coming: np.ndarray, going: np.ndarray) -> np.ndarray:
    """(3,) from a wheel's middle to that of the arc the cable lies on."""
    out = (coming[1] - wheel.centre) + (going[0] - wheel.centre)
    return np.asarray(out / np.linalg.norm(out))


def _stands(run: Footing, plates: tuple[str, ...], place: np.ndarray, made: Made) -> None:
    for p in plates:
        made.join(run.kind, (run.number, p), place, "AN3" if run.kind == "bolt" else "", run.note)


def fairlead_parts(model: Model, layout: Layout, fairlead: Fairlead, made: Made) -> None:
    """A ring round a cable, and the strip that holds it to a frame tube."""
    for hand in hands(fairlead.pair):
        link = next((k for k in layout.links if (fairlead.name, hand) in zip(k.names, k.sides, strict=True)), None)
        if link is None:
            raise DesignProblem(f"{model.name}: no cable runs through fairlead {keyed(fairlead.name, hand)}")
        place = np.array(fairlead.place) * over(hand)
        at = list(zip(link.names, link.sides, strict=True)).index((fairlead.name, hand))
        straight = link.way(link.ends).straights[at]
        along = (straight[1] - straight[0]) / np.linalg.norm(straight[1] - straight[0])
        half = fairlead.length / 2 * along
        stock = RoundTube(material="6061-T6", outside=fairlead.outside, wall=(fairlead.outside - fairlead.bore) / 2)
        ring = tube(
            model, "FAIRLEAD", fairlead.name, "fairlead", "guard", np.array([place - half, place + half]), stock, hand
        )
        run = frame_tube(model, fairlead.on, hand)
        pose = in_plane(along, place)
        arm = _strip(model, run, pose, fairlead.outside)
        strip = plate(
            model,
            "FAIRLEAD-STRIP",
            fairlead.name,
            "strip that holds a fairlead",
            "control bracket",
            arm,
            pose,
            fairlead.strip,
            hand,
        )
        made.parts.extend((ring, strip))
        _stands(footing(model, made.standing, fairlead.on, hand), (strip.number,), place, made)
        made.join("bolt", (strip.number, ring.number), place, "", "pressed in, flanged over")


def _strip(model: Model, run: Run, pose: Pose, outside: float) -> BaseGeometry:
    """The outline of a strip from a ring to a tube, square to the cable: saddled on it, or cut straight along it."""
    near = beside(model, run, np.array(pose.origin))
    round_ = disc((0.0, 0.0), outside)
    if crosses(model, run, pose):
        foot, section = meets(model, run, pose, (0.0, 0.0))
        whole = round_.union(disc(foot, run.tube.outside / 2)).convex_hull.difference(section)
    else:
        off = float((near - np.array(pose.origin)) @ np.cross(pose.x, pose.y))
        if abs(off) >= run.tube.outside / 2:
            name = "-".join((run.nodes[0], run.nodes[-1]))
            raise DesignProblem(
                f"{model.name}: a fairlead stands beside its tube {name}; this is {inches(abs(off))} off it"
            )
        at = np.array(flat(pose, near))
        far = float(np.linalg.norm(at))
        way = at / far
        side, end = np.array([-way[1], way[0]]) * outside, (far - math.sqrt((run.tube.outside / 2) ** 2 - off**2)) * way
        whole = round_.union(Polygon([side, end + side, end - side, -side])).convex_hull
        whole = whole.difference(Polygon([end + 9 * side, end - 9 * side, end - 9 * side + way, end + 9 * side + way]))
    piece = max(getattr(whole, "geoms", [whole]), key=lambda g: float(g.area))
    return piece.difference(disc((0.0, 0.0), outside / 2))


# ------------------------------------------------------------------ bell-cranks


def crank_parts(
    model: Model,
    c: Controls,
    layout: Layout,
    crank: Crank,
    made: Made,
    also: Mapping[str, list[tuple[np.ndarray, float]]],
) -> None:
    """A bell-crank with its hub and bracket; also: (place, radius) of stop pins its bracket holds, by its key."""
    for hand in hands(crank.pair):
        key = keyed(crank.name, hand)
        lever = layout.levers[key]
        normal = np.array(DIRECTIONS[crank.axis]) * over(hand)
        shape, pose = crank_shape(c, crank, hand)
        arms = plate(
            model,
            "CRANK",
            crank.name,
            f"bell-crank, {crank.name.replace('_', ' ')}",
            "control",
            shape,
            pose,
            crank.sheet,
            hand,
            [(flat(pose, np.array(p) * over(hand)), n) for n, p in crank.holes.items()],
        )
        half = crank.width / 2 * normal
        hub = tube(
            model,
            "CRANK-HUB",
            crank.name,
            "hub of a bell-crank",
            "control",
            np.array([lever.pivot - half, lever.pivot + half]),
            crank.hub,
            hand,
        )
        run = footing(model, made.standing, crank.on, hand)
        plates = bracket(
            model,
            crank.name,
            lever.pivot,
            normal,
            crank.width,
            crank.bracket,
            run,
            EDGE * bolt(crank.bolt),
            also.get(key, ()),
            hand,
        )
        made.parts.extend((arms, hub, *plates))
        made.join(
            "weld",
            (hub.number, arms.number),
            lever.pivot,
            "",
            "all round on both faces",
            2 * math.pi * crank.hub.outside,
        )
        _stands(run, (plates[0].number, plates[1].number), lever.pivot, made)
        for p in plates:
            made.join(
                "hinge", (p.number, hub.number), lever.pivot, crank.bolt, "tight between the plates; hub turns freely"
            )


def crank_shape(c: Controls, crank: Crank, hand: Hand) -> tuple[BaseGeometry, Pose]:
    """(its outline with the hub's hole, the pose it is drawn in)."""
    pivot = np.array(crank.pivot) * over(hand)
    pose = in_plane(np.array(DIRECTIONS[crank.axis]), pivot)
    edge = EDGE * bolt(c.rod_end.bolt)
    rounds = [((0.0, 0.0), crank.hub.outside)]
    rounds += [(flat(pose, np.array(p) * over(hand)), edge) for p in crank.holes.values()]
    return round_holes(rounds).difference(disc((0.0, 0.0), crank.hub.outside / 2)), pose
