"""Stick, torque tube and rudder pedals as parts and joints: what hand and foot hold.

The stick turns fore and aft on a bolt in a fork of two plates at the front of the torque tube, which turns in plates
that stand on cross tubes. The pedals turn on one shaft, held in two rails on edge that lie on cross tubes; the rails
have a hole for each setting.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np
from shapely import LineString, Polygon, box
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.family.controls import Controls, Place
from sparwright.family.model import Model
from sparwright.family.stock import Sheet
from sparwright.parts.bolts import bolt_for, heading
from sparwright.parts.control_bodies import (
    EDGE,
    bolt,
    bought_rod,
    disc,
    flat,
    frame_tube,
    in_plane,
    meets,
    number,
    plate,
    round_holes,
    tube,
    tube_of,
)
from sparwright.parts.control_bolts import STAND, between_plates, collar_bolt
from sparwright.parts.control_links import COTTER, Made
from sparwright.parts.control_runs import HANDS, Hole, Layout, hole, over
from sparwright.parts.part import Hand, Part
from sparwright.shape.frame import Run, nodes
from sparwright.shape.solid import Pose, as_place

ACROSS, AFT = np.array([0.0, 1.0, 0.0]), np.array([1.0, 0.0, 0.0])
APART = 3 * 0.0254  # m between the holes of two settings of the pedals (common practice, no source)
WASHER = 0.3e-3  # m between hub and rail, a nylon washer
Pins = Mapping[str, Sequence[tuple[float, float]]]
GRIP = 0.06  # m of the stick above the middle of the grip (common practice, no source)


def hand_parts(model: Model, c: Controls, layout: Layout, made: Made, pins: Pins) -> None:
    """Stick, torque tube, pedals, springs; pins: places of stop pins in the bearings that carry them, by their tube.

    DesignProblem for a file without the grip or the pedals' places.
    """
    if model.seat is None or model.seat.stick is None or model.seat.pedals is None:
        raise DesignProblem(f"{model.name}: [controls] wants the places of [seat.stick] and [seat.pedals]")
    _stick(model, c, np.array(model.seat.stick.place), made)
    _torque_tube(model, c, made, pins)
    for hand in HANDS:
        _pedal(model, c, np.array(model.seat.pedals.place) * over(hand), hand, layout, made)
    _shaft_and_rails(model, c, model.seat.pedals.adjust, made)


def _stick(model: Model, c: Controls, grip: np.ndarray, made: Made) -> None:
    pivot, outside = np.array(c.stick.pivot), c.stick.tube.outside
    along = (grip - pivot) / np.linalg.norm(grip - pivot)
    stick = tube(
        model,
        "STICK",
        "",
        "stick",
        "control",
        np.array([pivot - outside / 2 * along, grip + GRIP * along]),
        c.stick.tube,
    )
    lug = stick_lug(model, c, grip, "STICK-LUG", "lug on the stick for the elevator's rod", c.stick.arm, c.stick.lug)
    made.parts.extend((stick, lug))
    made.join("weld", (stick.number, lug.number), np.array(c.stick.arm), None, "both faces")
    if c.trim is not None:
        name = "lug on the stick for the trim's spring"
        own = stick_lug(model, c, grip, "STICK-TRIM-LUG", name, c.trim.hook, c.trim.lug)
        made.parts.append(own)
        made.join("weld", (stick.number, own.number), np.array(c.trim.hook), None, "both faces")


def stick_lug(model: Model, c: Controls, grip: np.ndarray, kind: str, name: str, hole_: Place, sheet: Sheet) -> Part:
    """A lug in the stick's middle plane with a hole beside it. DesignProblem for a hole in the stick."""
    pivot, outside = np.array(c.stick.pivot), c.stick.tube.outside
    pose = in_plane(ACROSS, pivot)
    edge = EDGE * bolt(c.rod_end.bolt)
    at = flat(pose, np.array(hole_))
    line = LineString([flat(pose, pivot), flat(pose, grip)])
    foot = line.interpolate(line.project(disc(at, 1e-4).centroid))
    shape = disc(at, edge).union(line.intersection(foot.buffer(1.5 * edge)).buffer(outside / 4)).convex_hull
    shape = shape.difference(line.buffer(outside / 2))
    pieces = [p for p in getattr(shape, "geoms", [shape]) if p.contains(disc(at, 1e-4))]
    if not pieces:
        raise DesignProblem(f"{number(model, kind)}: its hole lies in the stick; a place beside it is wanted")
    return plate(model, kind, "", name, "control", pieces[0], pose, sheet, bores=[(at, c.rod_end.bolt)])


def _torque_tube(model: Model, c: Controls, made: Made, pins: Pins) -> None:
    t, pivot = c.torque_tube, np.array(c.stick.pivot)
    ends = np.array([[t.front, pivot[1], pivot[2]], [t.aft, pivot[1], pivot[2]]])
    if not pivot[0] + c.stick.tube.outside / 2 < t.front < t.aft:
        raise DesignProblem(f"{model.name}: the torque tube begins behind the stick, past {inches(pivot[0])}")
    part = tube(model, "TORQUE-TUBE", "", "torque tube", "control", ends, t.tube)
    made.parts.append(part)
    wide, lap = t.tube.outside / 2, 1.5 * t.tube.outside
    reach = t.front - pivot[0]
    shape = disc((0.0, 0.0), wide).union(box(0.0, -wide, reach + lap, wide))
    forks: tuple[tuple[float, Hand], ...] = ((1.0, "R"), (-1.0, "L"))
    for side, word in forks:
        off = max(c.stick.tube.outside, t.tube.outside) / 2 + t.fork.thickness / 2
        pose = in_plane(ACROSS, pivot + side * off * ACROSS)
        fork = plate(
            model, "FORK", "", "fork that holds the stick", "control", shape, pose, t.fork, word, [((0.0, 0.0), "AN4")]
        )
        made.parts.append(fork)
        made.join("weld", (part.number, fork.number), ends[0], None, "along both edges", 2 * lap)
    room = ("bush in the stick", max(c.stick.tube.outside, t.tube.outside))
    limit = "clamps the bush in the stick, which turns by hand"
    plates = [number(model, "FORK", hand=word) for _, word in forks]
    axle = between_plates("AN4", t.fork.thickness, room, ACROSS, limit)
    made.through("bolt", plates, number(model, "STICK"), pivot, axle, COTTER)
    for on in t.on:
        _bearing(model, c, on, part.number, made, pins.get(on, ()))
    if t.arm is not None and t.holes:
        _torque_arm(model, c, part.number, made)


def _torque_arm(model: Model, c: Controls, torque_tube: str, made: Made) -> None:
    """The plate across the torque tube with the ailerons' holes, right and left alike."""
    t, pivot = c.torque_tube, np.array(c.stick.pivot)
    assert t.arm is not None and t.holes is not None
    stations = {p[0] for p in t.holes.values()}
    if len(stations) > 1 or not t.front < min(stations) < t.aft:
        raise DesignProblem(f"{model.name}: the ailerons' holes lie at one station of the torque tube, on one plate")
    x = stations.pop()
    pose = Pose((x, pivot[1], pivot[2]), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    places = [flat(pose, np.array(p) * over(h)) for p in t.holes.values() for h in HANDS]
    edge = EDGE * bolt(c.cable_end.pin)
    shape = round_holes([((0.0, 0.0), 0.75 * t.tube.outside), *((p, edge) for p in places)])
    shape = shape.difference(disc((0.0, 0.0), t.tube.outside / 2))
    bores = [(p, c.cable_end.pin) for p in places]
    arm = plate(model, "TORQUE-ARM", "", "arm of the torque tube", "control", shape, pose, t.arm, bores=bores)
    made.parts.append(arm)
    made.join("weld", (torque_tube, arm.number), np.array(pose.origin), None, "all round on both faces")


def _bearing(
    model: Model, c: Controls, on: str, torque_tube: str, made: Made, pins: Sequence[tuple[float, float]]
) -> None:
    """A plate that stands on a cross tube, with the torque tube in it; pins: what else it holds, in its axes, m."""
    t, pivot = c.torque_tube, np.array(c.stick.pivot)
    run = frame_tube(model, on)
    known = nodes(model.fuselage)
    a, b = np.array(known[run.nodes[0]]), np.array(known[run.nodes[-1]])
    if abs(a[0] - b[0]) > 1e-6 or abs(a[2] - b[2]) > 1e-6:
        raise DesignProblem(
            f"{model.name}: a bearing of the torque tube stands on a tube that runs level across, not {on}"
        )
    pose = Pose((a[0], pivot[1], pivot[2]), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
    under = a[2] + run.tube.outside / 2 - pivot[2]
    if -under <= t.tube.outside / 2:
        raise DesignProblem(f"{model.name}: the torque tube lies in the tube {on}; it must pass over it")
    ring = t.tube.outside / 2 + 0.6 * t.tube.outside / 2
    shape = disc((0.0, 0.0), ring).union(box(-1.5 * ring, under, 1.5 * ring, under + 1e-3)).convex_hull
    reach = EDGE * c.stops.pin.outside / 2
    shape = unary_union([shape, *(shape.union(disc(p, reach)).convex_hull for p in pins)])
    shape = shape.intersection(box(-1.0, under, 1.0, 1.0)).difference(disc((0.0, 0.0), t.tube.outside / 2))
    part = plate(model, "BEARING", on, "bearing of the torque tube", "control bracket", shape, pose, t.bearing)
    made.parts.append(part)
    made.join(
        "weld",
        (tube_of(model, run), part.number),
        np.array([a[0], pivot[1], a[2]]),
        None,
        "both faces, along the tube",
        3 * ring,
    )
    made.join(
        "hinge",
        (part.number, torque_tube),
        np.array([a[0], pivot[1], pivot[2]]),
        None,
        "nylon strip between; a collar each side of one",
    )


# ------------------------------------------------------------------ pedals


def _pedal(model: Model, c: Controls, ball: np.ndarray, hand: Hand, layout: Layout, made: Made) -> None:
    p, h = c.pedals, layout.levers[f"pedal-{hand}"]
    half = p.width / 2 * ACROSS
    hub = tube(
        model, "PEDAL-HUB", "", "hub of a pedal", "control", np.array([h.pivot - half, h.pivot + half]), p.hub, hand
    )
    top = np.array([ball[0], ball[1], ball[2]]) - np.array([p.tube.outside / 2, 0.0, 0.0])
    foot_at = np.array([h.pivot[0], ball[1], h.pivot[2]])
    along = (top - foot_at) / np.linalg.norm(top - foot_at)
    cut = p.tube.outside / 2
    bar = np.array([top - p.foot / 2 * ACROSS, top + p.foot / 2 * ACROSS])
    upright = tube(
        model,
        "PEDAL-UPRIGHT",
        "",
        "upright of a pedal",
        "control",
        np.array([foot_at + p.hub.outside / 2 * along, top - cut * along]),
        p.tube,
        hand,
    )
    foot = tube(model, "PEDAL-BAR", "", "foot bar of a pedal", "control", bar, p.tube, hand)
    cable, spring = (hole(model, c, f"pedal.{w}", hand) for w in ("cable", "spring"))
    arm = _arm(model, c, cable, spring, h.pivot, hand)
    made.parts.extend((hub, upright, foot, arm))
    made.join("weld", (hub.number, upright.number), foot_at, None, "all round", math.pi * p.tube.outside)
    made.join("weld", (foot.number, upright.number), top, None, "all round", math.pi * p.tube.outside)
    made.join("weld", (hub.number, arm.number), h.pivot, None, "all round on both faces", 2 * math.pi * p.hub.outside)
    made.join(
        "hinge", (number(model, "PEDAL-SHAFT"), hub.number), h.pivot, None, "greased; a collar at each end of each hub"
    )
    _spring(model, c, spring, hand, arm.number, made)


def _arm(model: Model, c: Controls, cable: Hole, spring: Hole, pivot: np.ndarray, hand: Hand) -> Part:
    p = c.pedals
    pose = in_plane(ACROSS, np.array([pivot[0], cable.place[1], pivot[2]]))
    edge = EDGE * bolt(c.cable_end.pin)
    shape = round_holes(
        [((0.0, 0.0), 0.7 * p.hub.outside), (flat(pose, cable.place), edge), (flat(pose, spring.place), edge)]
    )
    shape = shape.difference(disc((0.0, 0.0), p.hub.outside / 2))
    return plate(
        model,
        "PEDAL-ARM",
        "",
        "arm of a pedal, for cable and spring",
        "control",
        shape,
        pose,
        p.arm,
        hand,
        bores=[(flat(pose, cable.place), c.cable_end.pin)],
    )


def spring_ends(c: Controls, spring: Hole) -> np.ndarray:
    """(2, 3) the return spring's hooks: inside of the arm's hole, and at its anchor."""
    side = 1.0 if spring.place[1] > 0 else -1.0
    off = np.array([0.0, -side * (c.pedals.arm.thickness + c.spring.outside) / 2, 0.0])
    anchor = np.array(c.spring.anchor) * np.array([1.0, side, 1.0])
    return np.array([spring.place + off, anchor + off])


def _spring(model: Model, c: Controls, spring: Hole, hand: Hand, arm: str, made: Made) -> None:
    run = frame_tube(model, c.spring.on, hand)
    a, b = spring_ends(c, spring)
    along = (a - b) / np.linalg.norm(a - b)
    pose = in_plane(ACROSS, b)
    _, section = meets(model, run, pose, (0.0, 0.0))
    line = LineString([flat(pose, b), flat(pose, a)])
    start = section.exterior.intersection(line)
    off = 0.0 if start.is_empty else max(line.project(g) for g in getattr(start, "geoms", [start]))
    lean = math.asin(min(1.0, abs(float(along @ ACROSS))))  # the flat end touches with its nearer edge
    path = np.array([b + (off / math.cos(lean) + c.spring.outside / 2 * math.tan(lean)) * along, a])
    part = bought_rod(
        model,
        "PEDAL-SPRING",
        "",
        "return spring of a pedal",
        path,
        c.spring.outside,
        c.spring.mass,
        f"extension spring, {inches(c.spring.outside)} outside",
        hand,
    )
    made.parts.append(part)
    made.join("bolt", (arm, part.number), a, None, "hook in the arm")
    made.join("weld", (tube_of(model, run), part.number), path[0], None, "hook in an eye welded to the tube")


def _shaft_and_rails(model: Model, c: Controls, adjust: float, made: Made) -> None:
    """The shaft through both hubs, and the rails it is held in."""
    p = c.pedals
    pivot = np.array(p.pivot)
    out = abs(pivot[1]) + p.width / 2 + p.rail.thickness / 2 + WASHER
    half = np.array([0.0, out + p.rail.thickness / 2 + _past(c), 0.0])
    middle = pivot * np.array([1.0, 0.0, 1.0])
    shaft = tube(
        model, "PEDAL-SHAFT", "", "shaft of the pedals", "control", np.array([middle - half, middle + half]), p.shaft
    )
    made.parts.append(shaft)
    if p.settings > 1 and abs((p.settings - 1) * APART - adjust) > 1e-3:
        raise DesignProblem(
            f"{model.name}: {p.settings} settings {inches(APART)} apart are not seat.pedals.adjust, {inches(adjust)}"
        )
    for hand in HANDS:
        pose = in_plane(ACROSS, middle + np.array([0.0, out, 0.0]) * over(hand))
        shape, met = _rail(model, c, pose, hand)
        rail = plate(
            model, "PEDAL-RAIL", "", f"rail of the pedals, {p.settings} holes", "control", shape, pose, p.rail, hand
        )
        made.parts.append(rail)
        made.join(
            "hinge",
            (rail.number, number(model, "PEDAL-HUB", hand=hand)),
            np.array(pose.origin),
            None,
            "nylon washer between",
        )
        for run, at in met:
            _tab(model, c, rail, run, at, hand, made)
        _collar(model, c, np.array(pose.origin), rail.number, hand, made)


def _tab(model: Model, c: Controls, rail: Part, run: Run, at: tuple[float, float], hand: Hand, made: Made) -> None:
    """A tab welded on a cross tube, outside a rail, which is bolted to it at half its depth."""
    p, sheet = c.pedals, c.pedals.arm
    out = (p.rail.thickness + sheet.thickness) / 2 * ACROSS * over(hand)
    pose = replace(rail.poses[0], origin=as_place(np.array(rail.poses[0].origin) + out))
    hole_ = (at[0], at[1] + (run.tube.outside + p.depth) / 2)
    place, section = meets(model, run, pose, at)
    shape = disc(hole_, EDGE * bolt(STAND)).union(disc(place, run.tube.outside / 2)).convex_hull.difference(section)
    on = "-".join((run.nodes[0], run.nodes[-1]))
    piece = max(getattr(shape, "geoms", [shape]), key=lambda g: float(g.area))
    tab = plate(
        model,
        "PEDAL-TAB",
        on,
        "tab that holds a rail of the pedals",
        "control bracket",
        piece,
        pose,
        sheet,
        hand,
        [(hole_, STAND)],
    )
    made.parts.append(tab)
    made.join("weld", (tube_of(model, run), tab.number), np.array(pose.place(*place)), None, "both faces")
    under = [("rail", p.rail.thickness), ("tab", sheet.thickness)]
    held = bolt_for(STAND, under, heading(ACROSS), limit="clamps the rail on its tab")
    made.join("bolt", (tab.number, rail.number), np.array(pose.place(*hole_)), held)


def _collar(model: Model, c: Controls, rail: np.ndarray, number_: str, hand: Hand, made: Made) -> None:
    """A collar of the hub's tube on the shaft's end, outside a rail, and the bolt across both."""
    p = c.pedals
    start = rail + p.rail.thickness / 2 * ACROSS * over(hand)
    end = start + _past(c) * ACROSS * over(hand)
    collar = tube(
        model, "PEDAL-COLLAR", "", "collar on the pedals' shaft", "control", np.array([start, end]), p.hub, hand
    )
    made.parts.append(collar)
    made.join("hinge", (number_, number(model, "PEDAL-SHAFT")), rail, None, "in the rail's hole, free to turn")
    across = collar_bolt(p.hub.outside)
    made.join("bolt", (number(model, "PEDAL-SHAFT"), collar.number), (start + end) / 2, across)


def _past(c: Controls) -> float:
    """How far the shaft stands out of a rail: a collar with a bolt's edge distance either side, m."""
    return 2 * EDGE * bolt(STAND)


def _rail(
    model: Model, c: Controls, pose: Pose, hand: Hand
) -> tuple[BaseGeometry, list[tuple[Run, tuple[float, float]]]]:
    """(its outline in the pose's axes, [(cross tube, where it lies on it)])."""
    p = c.pedals
    met = []
    for on in p.on:
        run = frame_tube(model, on, hand)
        at, _ = meets(model, run, pose, (0.0, 0.0))
        met.append((run, at))
    (front, a), (rear, b) = met
    slope = math.atan2(b[1] - a[1], b[0] - a[0])
    up = np.array([-math.sin(slope), math.cos(slope)])
    along = np.array([math.cos(slope), math.sin(slope)])
    low = np.array(a) + front.tube.outside / 2 * up
    start = low + (-float((low - np.zeros(2)) @ along) - p.shaft.outside * 1.5) * along
    end = np.array(b) + rear.tube.outside / 2 * up + p.shaft.outside * along
    rise, before = 0.2 * p.depth * up, low - front.tube.outside * along
    ring = Polygon(
        [
            start + rise,
            before + rise,
            low - front.tube.outside / 2 * along,
            end,
            end + p.depth * up,
            start + p.depth * up,
        ]
    )
    sway = float(-low @ up)  # of the shaft over the rail's lower edge
    if not p.shaft.outside / 2 + 1e-3 < sway < p.depth - p.shaft.outside / 2 - 1e-3:
        raise DesignProblem(
            f"{model.name}: the pedals' shaft is {inches(sway)} over the lower edge of rails that are "
            f"{inches(p.depth)} deep"
        )
    hole_ = disc((0.0, 0.0), p.shaft.outside / 2)
    for i in range(p.settings):
        x, y = i * APART * along
        ring = ring.difference(translate(hole_, float(x), float(y)))
    return ring, met
