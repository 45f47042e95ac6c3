"""Pulleys, fairleads and bell-cranks as parts and joints, and the brackets they stand in.

Bell-cranks and pulleys turn on a bolt between two plates, saddled on a tube of the frame or held on a part of a wing.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

import numpy as np
from shapely import Polygon
from shapely.geometry.base import BaseGeometry

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.family.controls import DIRECTIONS, ControlCable, Controls, Crank, Fairlead, Pulley
from sparwright.family.model import Model
from sparwright.family.stock import RoundTube, Sheet
from sparwright.parts.bolts import bolt_mass
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
    plate,
    round_holes,
    tube,
)
from sparwright.parts.control_bolts import STAND, between_plates, standing_bolt, web_at
from sparwright.parts.control_links import COTTER, Made
from sparwright.parts.control_runs import Layout, Lever, Link, hands, keyed, over
from sparwright.parts.part import Hand, Part
from sparwright.shape.cable import Wheel
from sparwright.shape.frame import Run
from sparwright.shape.solid import Pose

SPINS = "must not draw the plates on the pulley, which spins by hand"
TURNS = "clamps the bush between the plates, not the hub, which turns by hand"
WEB = "wide washers on wood; the plate behind takes the clamping"


# ------------------------------------------------------------------ pulleys and fairleads


def pulley_parts(model: Model, c: Controls, layout: Layout, pulley: Pulley, made: Made) -> None:
    """A pulley, its bracket, bolt and guard pin. DesignProblem for one that no cable runs over."""
    for hand in hands(pulley.pair):
        found = [(k, i) for k in layout.links for i, n in enumerate(k.names) if (n, k.sides[i]) == (pulley.name, hand)]
        if not found:
            raise DesignProblem(f"{model.name}: no cable runs over pulley {keyed(pulley.name, hand)}")
        link, at = found[0]
        wheel = link.over[at]
        assert isinstance(wheel, Wheel)
        right = wheel.normal * over(hand)
        normal = over(hand) * right * np.sign(right[int(np.argmax(np.abs(right)))])
        name = f"pulley, {pulley.name.replace('_', ' ')}"
        rim = disc((0.0, 0.0), pulley.diameter / 2)
        part = bought_disc(
            model, "PULLEY", pulley.name, name, in_plane(normal, wheel.centre), rim, pulley.width, pulley.mass, hand
        )
        made.parts.append(part)
        guard, also = _guard(model, c, link, at, pulley, normal, hand)
        plates = _standing(
            model,
            pulley,
            wheel.centre,
            normal,
            pulley.width,
            [also],
            footing(model, made.standing, pulley.on, hand),
            hand,
            made,
            c.cable_end.pin,
        )
        made.parts.append(guard)
        axle = between_plates(pulley.bolt, pulley.bracket.thickness, ("pulley", pulley.width), normal, SPINS)
        made.through("bolt", plates, part.number, wheel.centre, axle, COTTER)
        pin = between_plates(c.cable_end.pin, pulley.bracket.thickness, ("room", pulley.width), normal, SPINS)
        made.through("bolt", plates, guard.number, also[0], pin, "the guard is the bolt; cotter", counted=False)


def _guard(
    model: Model, c: Controls, link: Link, at: int, pulley: Pulley, normal: np.ndarray, hand: Hand
) -> tuple[Part, tuple[np.ndarray, float]]:
    """(the guard pin of a link's pulley, (its place, radius of the plates round it))."""
    wheel, way, pin = link.over[at], link.way(link.ends), bolt(c.cable_end.pin)
    assert isinstance(wheel, Wheel) and isinstance(link.made, ControlCable)
    away = _middle(wheel, way.straights[at], way.straights[at + 1])
    place = wheel.centre + (wheel.radius + link.made.diameter / 2 + pulley.guard + pin / 2) * away
    half = pulley.width / 2 * normal
    part = bought_rod(
        model,
        "GUARD-PIN",
        pulley.name,
        f"guard pin, {pulley.name.replace('_', ' ')}",
        np.array([place - half, place + half]),
        pin,
        bolt_mass(c.cable_end.pin, pulley.width + 2 * pulley.bracket.thickness),
        f"{c.cable_end.pin} bolt",
        hand,
        purpose="guard",
    )
    return part, (place, EDGE * pin)


def _standing(
    model: Model,
    thing: Pulley | Crank,
    centre: np.ndarray,
    normal: np.ndarray,
    gap: float,
    also: Sequence[tuple[np.ndarray, float]],
    stand: Footing,
    hand: Hand,
    made: Made,
    inner: str,
) -> list[str]:
    """Numbers of a bracket's two plates, made and held on what they stand on; inner: bolt of what else they hold."""
    edge, bores = EDGE * bolt(thing.bolt), [(centre, thing.bolt), *((p, inner) for p, _ in also)]
    plates = bracket(model, thing.name, centre, normal, gap, thing.bracket, stand, edge, also, hand, bores)
    made.parts.extend(plates)
    _stands(model, stand, plates, centre, thing.bracket, made)
    return [p.number for p in plates]


def _middle(wheel: Wheel, coming: np.ndarray, going: np.ndarray) -> np.ndarray:
    """(3,) from a wheel's middle to that of the arc the cable lies on."""
    out = (coming[1] - wheel.centre) + (going[0] - wheel.centre)
    return np.asarray(out / np.linalg.norm(out))


def _stands(model: Model, stand: Footing, plates: Sequence[Part], place: np.ndarray, sheet: Sheet, made: Made) -> None:
    """Plates welded to a tube of the frame, or held on a part of a wing by an angle and two bolts each."""
    for p in plates:
        held, foot = None, place
        if stand.body is not None:
            foot, way, through = web_at(model, stand, p.poses[0])
            held = standing_bolt(sheet.thickness, ("web", through), way, WEB)
        made.join(stand.kind, (stand.number, p.number), foot, held, stand.note, fasteners=2)


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
        along = along if fairlead.strip is not None else np.array([0.0, 1.0, 0.0])
        half = fairlead.length / 2 * along
        stock = RoundTube(material="6061-T6", outside=fairlead.outside, wall=(fairlead.outside - fairlead.bore) / 2)
        ring = tube(
            model, "FAIRLEAD", fairlead.name, "fairlead", "guard", np.array([place - half, place + half]), stock, hand
        )
        made.parts.append(ring)
        if fairlead.strip is None:
            rib = footing(model, made.standing, fairlead.on, hand, place)
            made.join("bond", (rib.number, ring.number), place, None, "bonded in the rib's hole, flanged each side")
            continue
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
        made.parts.append(strip)
        _stands(model, footing(model, made.standing, fairlead.on, hand), (strip,), place, fairlead.strip, made)
        made.join("bolt", (strip.number, ring.number), place, None, "pressed in, flanged over")


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
        lever, normal = layout.levers[key], np.array(DIRECTIONS[crank.axis]) * over(hand)
        arms, hub = _crank(model, c, crank, lever, hand)
        made.parts.extend((arms, hub))
        around = 2 * math.pi * crank.hub.outside
        made.join("weld", (hub.number, arms.number), lever.pivot, None, "all round on both faces", around)
        plates = _standing(
            model,
            crank,
            lever.pivot,
            normal,
            crank.width,
            also.get(key, ()),
            footing(model, made.standing, crank.on, hand),
            hand,
            made,
            STAND,
        )
        axle = between_plates(crank.bolt, crank.bracket.thickness, ("bush in the hub", crank.width), normal, TURNS)
        made.through("hinge", plates, hub.number, lever.pivot, axle, COTTER)


def _crank(model: Model, c: Controls, crank: Crank, lever: Lever, hand: Hand) -> tuple[Part, Part]:
    """The plate with its arms, and the hub."""
    shape, pose = crank_shape(c, crank, hand)
    name = f"bell-crank, {crank.name.replace('_', ' ')}"
    bores = [(flat(pose, np.array(p) * over(hand)), n) for n, p in crank.holes.items()]
    arms = plate(model, "CRANK", crank.name, name, "control", shape, pose, crank.sheet, hand, bores)
    half = crank.width / 2 * np.array(DIRECTIONS[crank.axis]) * over(hand)
    path = np.array([lever.pivot - half, lever.pivot + half])
    return arms, tube(model, "CRANK-HUB", crank.name, "hub of a bell-crank", "control", path, crank.hub, hand)


def crank_shape(c: Controls, crank: Crank, hand: Hand) -> tuple[BaseGeometry, Pose]:
    """(its outline with the hub's hole, the pose it is drawn in)."""
    pivot = np.array(crank.pivot) * over(hand)
    pose = in_plane(np.array(DIRECTIONS[crank.axis]), pivot)
    edge = EDGE * bolt(c.rod_end.bolt)
    rounds = [((0.0, 0.0), crank.hub.outside)]
    rounds += [(flat(pose, np.array(p) * over(hand)), edge) for p in crank.holes.values()]
    return round_holes(rounds).difference(disc((0.0, 0.0), crank.hub.outside / 2)), pose
