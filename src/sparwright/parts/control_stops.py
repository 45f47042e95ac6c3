"""Stops at the surface as parts: pins that the bell-crank or horn next to it meets at full travel.

A pin stands where the edge of the turned plate is one radius from the pin's middle, at half the length of an arm or
more from the pivot: on the outline's parallel, cut by a circle. The elevator's pins stand between the plates of its
bell-crank's bracket, the rudder's on a plate on the fin's spar. The ailerons' stand on a bearing of the torque tube,
one on either side of a lug that is welded to it: right and left are mirrors, so they stand where the first surface is
at the end of its travel, and where the others are then is told. Source: geometry, worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from shapely import Point, Polygon
from shapely.affinity import rotate
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number as figure
from sparwright.family.controls import DIRECTIONS, OUT, Controls, Crank, SideStop
from sparwright.family.model import Model
from sparwright.parts.control_bodies import EDGE, bolt, disc, flat, frame_tube, number, plate, round_holes, tube
from sparwright.parts.control_bolts import STAND, between_plates, standing_bolt
from sparwright.parts.control_brackets import crank_shape
from sparwright.parts.control_links import Made
from sparwright.parts.control_runs import Layout, aileron_key, hands, keyed, over, surface
from sparwright.parts.linkage import Locks, Run, run_of, stand
from sparwright.parts.part import Hand
from sparwright.parts.tail_fittings import horn_holes, horn_outline, horn_pose
from sparwright.shape.frame import nodes
from sparwright.shape.solid import Pose, as_place

PINNED = "clamps the pin endwise between the plates"
CLIPS = "clamps the plate on its clips"
AFT = np.array([1.0, 0.0, 0.0])
FILED = "all round; filed to the travel when rigged"
FREE = 2e-3  # m between the rudder's horn and the plate of its stops, and of pins over the horn


def stop_pin(shape: BaseGeometry, arm: tuple[float, float], angle: float, radius: float) -> tuple[float, float]:
    """Where a pin of a radius stops a plate at an angle (rad, anticlockwise) in its own axes about its pivot.

    arm: the hole at the end of the arm that meets it. DesignProblem where the plate has no edge there.
    """
    far = OUT * math.hypot(*arm)
    turned = rotate(shape, angle, origin=(0.0, 0.0), use_radians=True)
    found = turned.buffer(radius, quad_segs=32).exterior.intersection(
        Point(0.0, 0.0).buffer(far, quad_segs=720).exterior
    )
    start, way = math.atan2(arm[1], arm[0]) + angle, 1.0 if angle > 0 else -1.0
    ahead = {}
    for p in (q for g in getattr(found, "geoms", [found]) for q in getattr(g, "coords", ())):
        ahead[(way * (math.atan2(p[1], p[0]) - start)) % (2 * math.pi)] = (float(p[0]), float(p[1]))
    if not ahead:
        raise DesignProblem("a stop pin has no edge to meet: the arm is too short for it")
    return ahead[min(ahead)]


def crank_stops(model: Model, c: Controls, layout: Layout, made: Made) -> Mapping[str, list[tuple[np.ndarray, float]]]:
    """The pins of bell-cranks as parts; gives (place, radius of plate round it) by the bell-crank's key."""
    found: dict[str, list[tuple[np.ndarray, float]]] = {}
    for said, moved, ends in _stopped(model, c):
        crank_name, _, hole = said.partition(".")
        crank = next(k for k in c.cranks if k.name == crank_name)
        for hand in hands(crank.pair):
            key = keyed(crank.name, hand)
            run, lever = _run(model, layout, key), keyed(moved, hand if moved.startswith("aileron") else "")
            shape, pose = crank_shape(c, crank, hand)
            sense = _sense(layout.levers[key].axis, pose)
            arm = flat(pose, np.array(crank.holes[hole]) * over(hand))
            for word, travel in ends:
                angle = sense * _at_end(model, run, lever, travel, key)
                at = np.array(pose.place(*stop_pin(shape, arm, angle, c.stops.pin.outside / 2)))
                found.setdefault(key, []).append((at, max(c.stops.pin.outside, EDGE * bolt(STAND))))
                _pin(model, c, crank, hand, word, at, made)
    return found


def _stopped(model: Model, c: Controls) -> list[tuple[str, str, tuple[tuple[str, float], ...]]]:
    """(bell-crank and hole, lever, (word, travel) at both ends)."""
    t = model.tailplane
    return [(c.stops.elevator, "elevator", (("up", t.up), ("down", -t.down)))]


def _run(model: Model, layout: Layout, lever: str) -> Run:
    try:
        return run_of(layout, lever)
    except ValueError as fault:
        raise DesignProblem(f"{model.name}: controls at {lever}: {fault}") from fault


def _at_end(model: Model, run: Run, lever: str, travel: float, key: str) -> float:
    try:
        return stand(run, lever, travel).angles[key]
    except Locks as fault:
        raise DesignProblem(f"{model.name}: {lever} does not get to its stop: {fault}") from fault


def _sense(axis: np.ndarray, pose: Pose) -> float:
    """1 where a positive angle of the lever is anticlockwise in the pose's axes, else -1."""
    return 1.0 if axis @ np.cross(pose.x, pose.y) > 0 else -1.0


def _pin(model: Model, c: Controls, crank: Crank, hand: Hand, word: str, at: np.ndarray, made: Made) -> None:
    normal = np.array(DIRECTIONS[crank.axis])
    half = crank.width / 2 * normal
    pin = tube(
        model,
        f"STOP-{word.upper()}",
        crank.name,
        f"stop pin, {word}",
        "stop",
        np.array([at - half, at + half]),
        c.stops.pin,
        hand,
    )
    made.parts.append(pin)
    plates = [number(model, f"BRACKET-{which}", crank.name, hand) for which in ("FIRST", "SECOND")]
    held = between_plates(STAND, crank.bracket.thickness, ("stop pin", crank.width), normal, PINNED, turns=False)
    made.through("bolt", plates, pin.number, at, held, "shimmed to the travel when rigged")


def rudder_stops(model: Model, c: Controls, made: Made) -> None:
    """The rudder's two pins, on a plate on the fin's spar below its horn."""
    s = surface(model, "rudder")
    ring, _ = horn_outline(s)
    pose, holes = horn_pose(s), horn_holes(s)[0]
    normal = np.cross(pose.x, pose.y)
    up = normal if normal[2] > 0 else -normal
    axis = -horn_holes(s)[1]
    spar = s.frame.fixed.spar.outside / 2
    back = (-s.frame.gap / 2 - spar, 0.0)
    pins, r = {}, c.stops.pin.outside / 2
    for word, travel in (("LEFT", s.tail.up), ("RIGHT", -s.tail.down)):
        angle = _sense(axis, pose) * travel
        arms = [flat(pose, p) for p in holes]
        meets = [a for a in arms if -a[1] * math.sin(angle) < 0]  # the arm that goes forward
        if not meets:
            raise DesignProblem(f"{model.name}: the rudder's stops want a horn with two arms")
        pins[word] = stop_pin(Polygon(ring), meets[0], angle, r)
    sheet, half = c.stops.rudder, s.frame.horn.sheet.thickness / 2
    low = -(half + FREE + sheet.thickness / 2)
    rounds = [disc(p, 2 * r) for p in pins.values()]
    shape = unary_union([*rounds, disc(back, 1.8 * spar)]).convex_hull.difference(disc(back, spar))
    origin = np.array(pose.origin) + low * up
    part = plate(model, "STOP-PLATE", "rudder", "plate that carries the rudder's stops", "stop",
                 shape.difference(_box_behind(back)), Pose(as_place(origin), pose.x, pose.y), sheet)  # fmt: skip
    made.parts.append(part)
    held = standing_bolt(sheet.thickness, ("clip", sheet.thickness), up, CLIPS)
    clip = "by a clip of the same sheet each side, riveted to the spar"
    made.join("bolt", (s.number("fixed", "SPAR"), part.number), origin, held, clip, fasteners=2)
    for word, at in pins.items():
        base = np.array(pose.place(*at))
        ends = np.array([base + (low + sheet.thickness / 2) * up, base + (half + FREE) * up])
        name = f"rudder's stop pin, {word.lower()}"
        pin = tube(model, f"STOP-{word}", "rudder", name, "stop", ends, c.stops.pin)
        made.parts.append(pin)
        made.join("weld", (part.number, pin.number), base, None, FILED, math.pi * c.stops.pin.outside)


@dataclass(frozen=True)
class Stopping:
    """What stops a surface: a plate of one of its levers, and a pin at either end."""

    lever: str
    plate: str  # part number
    pins: Mapping[str, str]  # part numbers by the end of the travel: "up", "down"; "left", "right"


def stopping(model: Model, c: Controls, name: str) -> Stopping:
    """What stops a surface by its name: elevator, rudder, or WING_aileron (the right one)."""
    if name == "rudder":
        pins = {w: number(model, f"STOP-{w.upper()}", "rudder") for w in ("left", "right")}
        return Stopping("rudder", f"{model.name}-rudder-HORN", pins)
    if name == "elevator":
        crank = next(k for k in c.cranks if k.name == c.stops.elevator.partition(".")[0])
        hand = hands(crank.pair)[0]
        pins = {w: number(model, f"STOP-{w.upper()}", crank.name, hand) for w in ("up", "down")}
        return Stopping(keyed(crank.name, hand), number(model, "CRANK", crank.name, hand), pins)
    pins = {w: number(model, f"STOP-{to}", "stick") for w, to in (("up", "RIGHT"), ("down", "LEFT"))}
    return Stopping("torque_tube", number(model, "TORQUE-STOP"), pins)


# ------------------------------------------------------------------ the stick to the sides


@dataclass(frozen=True)
class SideStops:
    """The lug on the torque tube and the pins it meets."""

    stop: SideStop
    pose: Pose
    lug: BaseGeometry
    pins: Mapping[str, tuple[float, float]]  # "RIGHT": its middle in the axes of the pose, m
    angle: float = figure("rad", "of the torque tube at either pin")


def side_angle(model: Model, layout: Layout) -> tuple[float, str]:
    """(angle of the torque tube, rad, at which the first aileron is at the end of its travel, and which).

    (NaN, "") where the torque tube drives none. DesignProblem for one that does not get there.
    """
    found = []
    for wing in (w for w in model.wings if w.aileron):
        assert wing.aileron is not None
        key = aileron_key(wing.name, "R")
        run = _run(model, layout, key)
        if "torque_tube" in run.levers:
            for word, travel in (("up", wing.aileron.up), ("down", -wing.aileron.down)):
                at = abs(_at_end(model, run, key, travel, "torque_tube"))
                found.append((at, f"{wing.name}_aileron {word}"))
    return min(found, default=(math.nan, ""))


def side_stops(model: Model, c: Controls, layout: Layout) -> SideStops | None:
    """The stops of the stick's way to the sides; None where the file has none or no aileron is driven."""
    side, t = c.stops.side, c.torque_tube
    if side is None or not t.holes:
        return None
    angle, _ = side_angle(model, layout)
    run = frame_tube(model, side.on)
    x = nodes(model.fuselage)[run.nodes[0]][0]
    ahead = t.bearing.thickness / 2 + FREE + side.sheet.thickness / 2
    pose = Pose((x - ahead, c.stick.pivot[1], c.stick.pivot[2]), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    wide = EDGE * c.stops.pin.outside / 2
    shape = round_holes([((0.0, 0.0), 0.75 * t.tube.outside), ((0.0, side.arm - wide), wide)])
    shape = shape.difference(disc((0.0, 0.0), t.tube.outside / 2))
    sense, r = _sense(layout.levers["torque_tube"].axis, pose), c.stops.pin.outside / 2
    ways = (("RIGHT", sense * angle), ("LEFT", -sense * angle))
    pins = {word: stop_pin(shape, (0.0, side.arm), turn, r) for word, turn in ways}
    return SideStops(side, pose, shape, pins, angle)


def side_stop_parts(model: Model, c: Controls, stops: SideStops, made: Made) -> None:
    """The lug, welded to the torque tube, and its pins, welded to the bearing."""
    lug = plate(
        model, "TORQUE-STOP", "", "lug between the stops of the stick", "control", stops.lug, stops.pose,
        stops.stop.sheet,
    )  # fmt: skip
    made.parts.append(lug)
    origin = np.array(stops.pose.origin)
    made.join("weld", (number(model, "TORQUE-TUBE"), lug.number), origin, None, "all round on both faces")
    half = stops.stop.sheet.thickness / 2
    for word, at in stops.pins.items():
        base = np.array(stops.pose.place(*at))
        ends = np.array([base - (half + FREE) * AFT, base + (half + FREE) * AFT])
        name = f"stick's stop pin, {word.lower()}"
        pin = tube(model, f"STOP-{word}", "stick", name, "stop", ends, c.stops.pin)
        made.parts.append(pin)
        bearing = number(model, "BEARING", stops.stop.on)
        made.join("weld", (bearing, pin.number), ends[1], None, FILED, math.pi * c.stops.pin.outside)


def _box_behind(back: tuple[float, float]) -> Polygon:
    """Everything behind the spar's middle, where the rudder turns."""
    x = back[0]
    return Polygon([(x, -1.0), (1.0, -1.0), (1.0, 1.0), (x, 1.0)])
