"""Arms of bell-cranks, horns, pedals, torque tube and stick: each as a tapered beam, and the eye at its end as a lug.

    d from the cut to the hole, e how far the link's line lies off the plate's middle; a along the arm, b across it in
    the plate, n out of it:    M = d F_b,  M_o = e F_a - d F_n,  T = e F_b        (members/flat_arm.py)
    eye    joints/lug, pulled where the link pulls;  bearing 2 P/(d t F_br) of a cable's pin, which turns in the eye

Cuts are of the plate as it is drawn, with its bolt holes taken out; where it is welded to its hub the strength beside a
weld counts for all of it. The force is that of control_forces.py with the fitting factor, in the stance where it uses
most. A rod lies beside its plate, so it twists the arm. Of right and left the right one is told. Sources: statics;
23.625, 23.693.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import LineString, Point, Polygon

from sparwright.base.check import Check, Step
from sparwright.base.record import locked, number
from sparwright.controls.motion import Motion
from sparwright.data.loader import fasteners
from sparwright.family.controls import ControlCable, Controls
from sparwright.family.model import Model
from sparwright.margins.braces import WIDEST, Strengths, leaned_on
from sparwright.margins.control_forces import Acting, acting
from sparwright.margins.control_told import RULE, special, told_of
from sparwright.parts.control_bodies import disc, flat
from sparwright.parts.control_links import owner
from sparwright.parts.control_runs import Lever, surface
from sparwright.parts.part import Part, Plate
from sparwright.shape.solid import Pose
from sparwright.strength.allowable import Allowable
from sparwright.strength.joints import lug
from sparwright.strength.members import flat_arm
from sparwright.strength.members.margin import verdict
from sparwright.structure.answered import Answered

FULL = 3.0  # m: a line across any plate
NEAR = 1e-6  # m
CUTS = 8  # along an arm
JOINTS_RULE = f"{RULE}; 23.625, 23.693"


@dataclass(frozen=True)
class Arm:
    """One arm of a plate: from where it is held to a hole."""

    part: Part
    pose: Pose
    body: Polygon
    base: tuple[float, float] = number("m", "where its middle line begins, in the pose's axes")
    tip: tuple[float, float] = number("m", "the hole's middle")
    start: float = number("m", "from the base to the first cut: the edge of its hub")
    hole: float = number("m", "diameter of what is in the hole")
    foot: tuple[float, float] | None = number("1", "along the foot it stands on; None for a round hub", None)

    @property
    def long(self) -> float:
        """From base to hole, m."""
        return float(np.hypot(*np.subtract(self.tip, self.base)))

    @property
    def axes(self) -> np.ndarray:
        """(3, 3) along the arm, across it in the plate, out of the plate."""
        a = np.subtract(self.tip, self.base) / self.long
        x, y = np.array(self.pose.x), np.array(self.pose.y)
        along = a[0] * x + a[1] * y
        out = np.cross(x, y)
        return np.array([along, np.cross(out, along), out])

    @property
    def thick(self) -> float:
        """Of its sheet, m."""
        assert isinstance(self.part.shape, Plate)
        return self.part.shape.thickness


@dataclass(frozen=True)
class OnArm:
    """A link on an arm."""

    motion: Motion
    on: Acting
    arm: Arm


def arm_checks(
    model: Model, answer: Answered, motions: Sequence[Motion], strengths: Strengths, parts: Mapping[str, Part]
) -> Iterator[Check]:
    """The worst arm and the worst eye of every plate that a rod or cable is joined to. parts: of the model."""
    for number_, found in arms(model, motions, parts).items():
        yield _arm(answer, number_, found, strengths)
        yield _eye(answer, number_, found, strengths)


def arms(model: Model, motions: Sequence[Motion], parts: Mapping[str, Part]) -> dict[str, list[OnArm]]:
    """By the number of each plate of the right side, the links on it."""
    found: dict[str, list[OnArm]] = {}
    if model.controls is None:
        return found
    for m in motions:
        for key, lever in m.run.levers.items():
            if key.endswith("-L"):
                continue
            for a in acting(m, key):
                mine = owner(model, model.controls, a.hole)
                if mine in parts:
                    found.setdefault(mine, []).append(OnArm(m, a, arm_of(model, model.controls, parts[mine], lever, a)))
    return found


def arm_of(model: Model, c: Controls, part: Part, lever: Lever, on: Acting) -> Arm:
    """The arm that leads to a link's hole."""
    assert isinstance(part.shape, Plate)
    pose = min(part.poses, key=lambda p: float(np.linalg.norm(np.array(p.origin) - on.hole.place)))
    base, start = _held(model, c, part, lever, on, pose)
    foot = part.shape.foot
    way = (
        None
        if foot is None
        else tuple(np.subtract(foot.end, foot.start) / np.linalg.norm(np.subtract(foot.end, foot.start)))
    )
    key = c.cable_end.pin if isinstance(on.link.made, ControlCable) else c.rod_end.bolt
    body, hub = Polygon(part.shape.outline), Point(base)
    bore = max(fasteners()[k].diameter for k in (c.cable_end.pin, c.rod_end.bolt))  # of a hole named by its link
    for mark in part.shape.marks:
        for at in mark.points if len(mark.points) == 1 or mark.label in fasteners() else ():
            named = mark.label in fasteners()
            if Point(at).within(body) and (named or hub.distance(Point(at)) > start):
                body = body.difference(disc(at, (fasteners()[mark.label].diameter if named else bore) / 2))
    for ring in part.shape.holes:
        gone = Polygon(ring)
        if gone.distance(hub) > start:
            body = body.difference(gone)
    return Arm(part, pose, body, base, flat(pose, on.hole.place), start, fasteners()[key].diameter, way)


def _held(
    model: Model, c: Controls, part: Part, lever: Lever, on: Acting, pose: Pose
) -> tuple[tuple[float, float], float]:
    """(where an arm's middle line begins, in the pose's axes; how far from there its first cut is), m."""
    name = lever.key.partition("-")[0]
    pivot = flat(pose, lever.pivot)
    crank = next((k for k in c.cranks if k.name == name), None)
    if crank is not None:
        return pivot, crank.hub.outside / 2
    if name == "torque_tube":
        return pivot, c.torque_tube.tube.outside / 2
    if name == "pedal":
        return pivot, c.pedals.hub.outside / 2
    if name == "stick":
        return _on_stick(model, c, pose, flat(pose, on.hole.place)), c.stick.tube.outside / 2
    if name in ("elevator", "rudder"):
        return pivot, surface(model, name).frame.movable.join.outside / 2
    lugs = [k for k in c.lugs if part.number.split("-controls-LUG-")[-1].startswith(k.name.upper())]
    if lugs:
        side = np.array([1.0, np.sign(on.hole.place[1]), 1.0])
        return flat(pose, np.array(lugs[0].foot) * side), 0.0
    assert isinstance(part.shape, Plate) and part.shape.foot is not None
    foot = np.add(part.shape.foot.start, part.shape.foot.end) / 2
    return (float(foot[0]), float(foot[1])), 0.0


def _on_stick(model: Model, c: Controls, pose: Pose, hole: tuple[float, float]) -> tuple[float, float]:
    assert model.seat is not None and model.seat.stick is not None
    line = LineString([flat(pose, np.array(c.stick.pivot)), flat(pose, np.array(model.seat.stick.place))])
    at = line.interpolate(line.project(Point(hole)))
    return float(at.x), float(at.y)


# ------------------------------------------------------------------ cuts


@dataclass(frozen=True)
class Place:
    """A cut through an arm and where it lies."""

    cut: flat_arm.FlatCut
    way: float = number("m", "from the base to the cut along the arm's middle line")
    middle: np.ndarray = number("m", "(2,) of its pieces' area, in the pose's axes")
    normal: np.ndarray = number("1", "(2,) square to it, towards the hole")


def cuts(arm: Arm) -> list[Place]:
    """Cuts from the hub's edge, or the foot, to one hole's width before the hole's middle.

    They turn from along a foot to square to the arm; from a round hub they are square all the way.
    """
    a = np.subtract(arm.tip, arm.base) / arm.long
    square, last = np.array([-a[1], a[0]]), max(arm.long - arm.hole, arm.start)
    along = square if arm.foot is None else np.array(arm.foot) * np.sign(square @ np.array(arm.foot))
    places = {float(s) for s in np.linspace(arm.start + 1e-6, last, CUTS)}
    assert isinstance(arm.part.shape, Plate)
    for mark in arm.part.shape.marks:
        for at in mark.points:
            s = float(np.subtract(at, arm.base) @ a)
            if arm.start < s < last:
                places.add(s)
    found = []
    for s in sorted(places):
        part = s / arm.long
        across = (1 - part) * along + part * square
        across = across / np.linalg.norm(across)
        point = np.array(arm.base) + s * a
        spans = pieces(arm.body, point, across)
        if spans:
            cut = flat_arm.flat_cut(spans, arm.thick)
            wide = np.array([y - x for x, y in spans])
            middle = float(sum((x + y) / 2 * w for (x, y), w in zip(spans, wide, strict=True)) / wide.sum())
            found.append(Place(cut, s, locked(point + middle * across), locked(np.array([across[1], -across[0]]))))
    return found


def pieces(body: Polygon, at: np.ndarray, across: np.ndarray) -> list[tuple[float, float]]:
    """[(from, to)] m along a line across a plate: the piece at a place and those that only a bolt's hole parts from it.

    A hole is one that the plate's outside goes round; past the outside another arm may lie, which is not counted.
    """
    line = LineString([at - FULL * across, at + FULL * across])
    outside = _spans(Polygon(body.exterior).intersection(line), at, across)
    mine = [s for s in outside if s[0] <= NEAR and s[1] >= -NEAR] or outside[:1]
    if not mine:
        return []
    low, high = mine[0]
    return [s for s in _spans(body.intersection(line), at, across) if low - NEAR <= s[0] and s[1] <= high + NEAR]


def _spans(met: object, at: np.ndarray, across: np.ndarray) -> list[tuple[float, float]]:
    lines = [g for g in getattr(met, "geoms", [met]) if getattr(g, "length", 0.0) > NEAR]
    ends = [[float((np.array(p) - at) @ across) for p in (g.coords[0], g.coords[-1])] for g in lines]
    return sorted(((min(e), max(e)) for e in ends), key=lambda s: abs(s[0] + s[1]))


def loads_at(x: OnArm, place: Place, factor: float) -> flat_arm.ArmLoads:
    """What acts at a cut, in every stance (n,): the link's force, carried to the middle of the cut."""
    u, v = np.array(x.arm.pose.x), np.array(x.arm.pose.y)
    n = np.cross(u, v)
    a = place.normal[0] * u + place.normal[1] * v
    b = np.cross(n, a)
    F = factor * x.on.force @ np.array([a, b, n]).T
    r = np.subtract(x.arm.tip, place.middle)
    d, side = float(r @ place.normal), float(r @ np.array([-place.normal[1], place.normal[0]]))
    e = float((x.on.link.ends[1 if x.on.comes else 0] - x.on.hole.place) @ n)
    return flat_arm.ArmLoads(
        along=F[:, 0],
        across=F[:, 1],
        out=F[:, 2],
        moment=d * F[:, 1] - side * F[:, 0],
        moment_out=e * F[:, 0] - d * F[:, 2],
        torque=side * F[:, 2] - e * F[:, 1],
    )


def one(loads: flat_arm.ArmLoads, i: int) -> flat_arm.ArmLoads:
    """The loads of one stance."""
    return flat_arm.ArmLoads(**{k: float(np.asarray(v)[i]) for k, v in vars(loads).items()})


# ------------------------------------------------------------------ checks


def _welded(number_: str) -> bool:
    return "AILERON-HORN" not in number_ and "-LUG-" not in number_


def _strong(x: OnArm, number_: str, strengths: Strengths) -> list[Allowable]:
    pull = "tension_near_weld" if _welded(number_) else "tension"
    return [strengths.material(x.arm.part.material, n, x.arm.thick) for n in (pull, "shear")]


def _arm(answer: Answered, number_: str, found: Sequence[OnArm], strengths: Strengths) -> Check:
    factor, first = special("fitting")
    F, F_s = _strong(found[0], number_, strengths)
    rows = []
    for x in found:
        for place in cuts(x.arm):
            loads = loads_at(x, place, factor)
            every = flat_arm.use(loads, place.cut, F.value, F_s.value)
            i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
            rows.append((float(every[i]), x, place, one(loads, i)))
    use, x, place, loads = max(rows, key=lambda r: (np.isnan(r[0]), r[0]))
    P = factor * float(np.linalg.norm(x.on.force, axis=1).max())
    steps = (
        first,
        Step(f"{x.on.link.name} on this arm, at most, with the factor", "1.15 P", (), P, "N", "virtual work"),
        Step("cut, from where the arm begins", "s", (("to the hole", x.arm.long, "m"),), place.way, "m", "geometry"),
        *flat_arm.working(loads, place.cut, F.value, F_s.value),
    )
    caveat = (
        "strength beside the weld for all of it" if _welded(number_) else "its foot and what holds that is not in it"
    )
    return told_of(
        answer,
        x.motion,
        f"arm.{key_of(number_)}",
        f"{words(x)}: arm to {spoken(x)} bent and twisted",
        use,
        number_,
        [F, F_s],
        steps,
        caveat,
        JOINTS_RULE,
    )


def eye_of(x: OnArm, strengths: Strengths) -> tuple[lug.Lug, tuple[Allowable, ...]]:
    """The eye at the end of an arm as a lug, and the strengths it leans on."""
    names = ("tension", "yield_tension", "shear", "bearing", "bearing_close")
    made = [strengths.material(x.arm.part.material, n, x.arm.thick) for n in names]
    values = [a.value for a in made]
    edge = float(x.arm.body.exterior.distance(Point(x.arm.tip)))
    edge = round(edge, 6)
    hole = x.arm.hole
    eye = lug.Lug(
        width=min(2 * edge, WIDEST * hole),
        hole=hole,
        pin=hole,
        edge=edge,
        thickness=x.arm.thick,
        tension=values[0],
        yields=values[1],
        shear=values[2],
        bearing=values[3],
        bearing_close=values[4],
    )
    return eye, leaned_on(eye, made)


def _eye(answer: Answered, number_: str, found: Sequence[OnArm], strengths: Strengths) -> Check:
    factor, first = special("fitting")
    rows = []
    for x in found:
        eye, made = eye_of(x, strengths)
        F = x.on.force @ x.arm.axes.T
        P, angle = np.hypot(F[:, 0], F[:, 1]), np.arctan2(np.abs(F[:, 1]), np.abs(F[:, 0]))
        turns, second = special("cable-joint") if isinstance(x.on.link.made, ControlCable) else (factor, first)
        torn, borne = lug.use(factor * P, angle, eye), turns * P / lug.bears(eye)
        every = np.maximum(torn, borne)
        i = int(np.argmax(np.where(np.isnan(every), np.inf, every)))
        rows.append((float(every[i]), x, eye, made, float(P[i]), float(angle[i]), (turns, second, float(borne[i]))))
    use, x, eye, made, P, angle, (turns, second, borne_on) = max(rows, key=lambda r: (np.isnan(r[0]), r[0]))
    torn_out = float(lug.use(factor * P, angle, eye))
    steps = (
        first,
        *lug.working(factor * P, angle, eye)[:-2],
        Step(
            "eye torn",
            "(R_a^1.6 + R_tr^1.6)^(1/1.6)",
            (("1.15 P", factor * P, "N"), ("angle", angle, "rad")),
            torn_out,
            "1",
            "bruhn D1, affdl-tr-69-42",
        ),
        second,
        Step(
            "borne on",
            "factor P/(d t F_br)",
            (("P", P, "N"), ("factor", turns, "1")),
            borne_on,
            "1",
            "cfr-23-2014 23.693" if turns != factor else "mil-hdbk-5",
        ),
        *verdict(use, "the worse", (("torn", torn_out, "1"), ("borne on", borne_on, "1")), lug.outside_range(eye)),
    )
    return told_of(
        answer,
        x.motion,
        f"eye.{key_of(number_)}",
        f"{words(x)}: eye of {spoken(x)}",
        use,
        number_,
        made,
        steps,
        lug.outside_range(eye),
        JOINTS_RULE,
    )


def key_of(number_: str) -> str:
    """A plate's number as it ends the ids of its checks: without model, room and hand."""
    bare = number_.removesuffix("-R").split("-", 1)[1].removeprefix("controls-")
    return bare.lower().replace("-", "_")


def words(x: OnArm) -> str:
    """What a plate is called."""
    crank = x.arm.part.name
    side = ", right" if x.arm.part.number.endswith("-R") else ""
    return f"{crank}{side}"


def spoken(x: OnArm) -> str:
    """What a link is called."""
    return x.on.link.name.replace("_", " ")
