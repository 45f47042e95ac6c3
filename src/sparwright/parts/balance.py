"""Weights ahead of hinge lines as parts and joints: slug, arm, bolt; spacers where the arm lies outside a tail's tip.

A slug is a round block with its bolt's hole through it, on the outer face of its arm. An arm is cut from plate, square
to the slug: on a tail surface the hull of a disc round the slug's bolt and one round the rearmost bolt through the tip
tube; on an aileron, from a foot on its spar to an elbow under or over the hinge line and from there forward

    disc        two diameters of its bolt (ac-43-13-1b chapter 4, of rivets, read second hand)
    tip bolts   at `behind` and four diameters ahead of it

The bolts through the tip tube are counted and weighed and have no body of their own. Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from shapely import MultiPoint, Point, Polygon, unary_union

from sparwright.base.quantity import inches
from sparwright.base.record import locked, number
from sparwright.data.loader import fasteners, material
from sparwright.family.balance import AileronWeight, TailWeight
from sparwright.family.balance_sense import ROW
from sparwright.family.model import Model
from sparwright.parts.aileron import Hinged, ailerons
from sparwright.parts.aileron_fittings import across, disc, faces, foot_joint, hinge_axes, on_foot, plate_part
from sparwright.parts.bolts import bolt_for, bolt_mass
from sparwright.parts.frame import tube_section, tube_stock
from sparwright.parts.part import Hand, Joint, Part, Plate
from sparwright.parts.tail_fittings import Side, sides
from sparwright.parts.tail_frame import GROUP, Surface, ring_of, surfaces
from sparwright.parts.wing import polygon_area, sheet_stock
from sparwright.shape.flat_frame import hinge_line, in_space, length_of
from sparwright.shape.solid import CORNERS, Pose, as_place, round_radius
from sparwright.shape.tube import Tube

Weight = TailWeight | AileronWeight
LIMIT = "no tighter than the lead bears; large washers; looked at with the hinges"


@dataclass(frozen=True)
class Stand:
    """Where a weight stands: the slug's inner end, the direction it goes on in, and what its parts are called."""

    hand: Hand
    numbers: dict[str, str]  # by WEIGHT, BOLT, ARM
    group: str
    said: str  # "elevator"
    face: np.ndarray = number("m", "(3,) middle of the slug's end on its arm")
    out: np.ndarray = number("1", "(3,) from the arm along the slug")


def balance_parts(model: Model) -> Iterator[Part]:
    """Every weight with its arm and bolts."""
    for s in surfaces(model):
        if s.frame.weight is not None:
            for side in sides(s):
                yield from _of_tail(s, s.frame.weight, side)
    for h in ailerons(model):
        for w in h.frame.weights:
            yield from _of_aileron(h, w)


def balance_joints(model: Model) -> Iterator[Joint]:
    """How slugs are held on their arms, and the arms on what turns."""
    for s in surfaces(model):
        if s.frame.weight is not None:
            for side in sides(s):
                yield from _tail_joints(s, s.frame.weight, side)
    for h in ailerons(model):
        for w in h.frame.weights:
            yield from _aileron_joints(h, w)


# ------------------------------------------------------------------ slug and bolt


def _slug(w: Weight, at: Stand) -> Iterator[Part]:
    """The slug, and the bolt that holds it on its arm."""
    d, stuff = fasteners()[w.bolt].diameter, material(w.material)
    end = at.face + w.length * at.out
    size = f"{inches(w.diameter)} x {inches(w.length)}"
    shape = Tube(path=locked([at.face, end]), outside=w.diameter, wall=(w.diameter - d) / 2, section=size)
    yield Part(
        number=at.numbers["WEIGHT"], name=f"balance weight, {at.said}", form="item", group=at.group, purpose="balance",
        material=w.material, stock=f"{stuff.title}, round, {size}, hole {inches(d)}", hand=at.hand, shape=shape,
        places=(as_place((at.face + end) / 2),), mass=math.pi / 4 * (w.diameter**2 - d**2) * w.length * stuff.density,
    )  # fmt: skip
    t = w.arm.thickness
    ends = [at.face - (t + d) * at.out, end + d * at.out]
    yield Part(
        number=at.numbers["BOLT"], name=f"bolt of the balance weight, {at.said}, nut and washers", form="item",
        group=at.group, purpose="balance", material="bought", stock=f"{w.bolt}, grip {inches(t + w.length)}",
        hand=at.hand, places=(as_place((at.face - t * at.out + end) / 2),), mass=bolt_mass(w.bolt, t + w.length),
        band=0.2, shape=Tube(path=locked(ends), outside=d, wall=0.0, section=w.bolt),
    )  # fmt: skip


def _held(w: Weight, at: Stand) -> Joint:
    under = [("arm", w.arm.thickness), ("weight", w.length)]
    return Joint(
        number=f"{at.numbers['WEIGHT']}-JOINT", kind="bolt", place=as_place(at.face), primary=True, fastener=w.bolt,
        parts=(at.numbers["ARM"], at.numbers["WEIGHT"], at.numbers["BOLT"]), fasteners=1,
        bolt=bolt_for(w.bolt, under, "outboard" if abs(at.out[1]) > 0.5 else "up", limit=LIMIT),
        note="head on the arm's inner face",
    )  # fmt: skip


def _hole(middle: tuple[float, float], diameter: float) -> np.ndarray:
    angle = np.linspace(0, 2 * np.pi, CORNERS, endpoint=False)
    ring = round_radius(diameter / 2) * np.array([np.cos(angle), -np.sin(angle)]).T
    return locked(np.array(middle) + ring)


# ------------------------------------------------------------------ tail


def arm_bolts(s: Surface, w: TailWeight) -> tuple[float, float, float]:
    """Where the bolts of a tail's arm are along the tip, m aft of the hinge line: the slug's, the two that hold it."""
    slant = float(hinge_line(s.tail, s.flat).aft[0])  # of a step aft along the tip, what is square to the hinge line
    first = w.behind - ROW * fasteners()[w.bolt].diameter
    return -w.ahead / slant, first / slant, w.behind / slant


def _stand(s: Surface, w: TailWeight, side: Side) -> tuple[Stand, Pose, tuple[float, ...]]:
    """Where a weight of a tail stands; the arm's pose, x aft along the tip; x of its bolts, the slug's first."""
    hinge, tip = hinge_line(s.tail, s.flat), length_of(s.tail, s.flat)
    flip = np.array([1.0, side.across])
    at, zero, n, v = in_space(s.pose, np.array([hinge.point(tip) * flip, (0.0, 0.0), (1.0, 0.0), (0.0, side.across)]))
    aft, out, over = n - zero, v - zero, in_space(s.pose, [(0.0, 0.0)], 1.0)[0] - zero
    middle = at + (w.off + w.arm.thickness / 2) * out
    xs = arm_bolts(s, w)
    numbers = {k: s.number("movable", f"BALANCE-{k}", "", side.hand)
               for k in ("WEIGHT", "BOLT", "ARM", "SPACERS", "ARM-BOLTS")}  # fmt: skip
    face = middle + w.arm.thickness / 2 * out + xs[0] * aft
    return (Stand(side.hand, numbers, GROUP, s.name("movable"), face, out),
            Pose(as_place(middle), as_place(aft), as_place(over)), xs)  # fmt: skip


def _of_tail(s: Surface, w: TailWeight, side: Side) -> Iterator[Part]:
    at, pose, xs = _stand(s, w, side)
    yield from _slug(w, at)
    yield _strip(w, at, pose, xs)
    bush = s.frame.hinges.bush
    starts = [np.array(pose.place(x, 0.0)) - w.arm.thickness / 2 * at.out for x in xs[1:]]
    for i, a in enumerate(starts, 1):
        shape = Tube(path=locked([a - w.off * at.out, a]), outside=bush.outside, wall=bush.wall,
                     section=tube_section(bush))  # fmt: skip
        yield Part(number=f"{at.numbers['SPACERS']}-{i}", name=f"spacer of the balance arm, {at.said}", form="tube",
                   group=GROUP, purpose="balance", material=bush.material, stock=tube_stock(bush), hand=at.hand,
                   places=(as_place(a - w.off / 2 * at.out),), shape=shape,
                   mass=shape.solid().volume * material(bush.material).density)  # fmt: skip
    grip = _grip(s, w)
    middle = np.mean(starts, axis=0) - (grip / 2 - w.arm.thickness) * at.out
    yield Part(number=at.numbers["ARM-BOLTS"], name=f"2 {w.bolt} of the balance arm, {at.said}", form="item",
               group=GROUP, purpose="balance", material="bought", stock=f"2 {w.bolt}, grip {inches(grip)}",
               hand=at.hand, places=(as_place(middle),), mass=2 * bolt_mass(w.bolt, grip), band=0.2)  # fmt: skip


def _grip(s: Surface, w: TailWeight) -> float:
    return w.arm.thickness + w.off + s.frame.movable.ends.outside


def _strip(w: TailWeight, at: Stand, pose: Pose, xs: tuple[float, ...]) -> Part:
    d, stuff = fasteners()[w.bolt].diameter, material(w.arm.material)
    ring = ring_of(unary_union([disc((x, 0.0), d) for x in xs]).convex_hull)
    holes = tuple(_hole((x, 0.0), d) for x in xs)
    area, centre = polygon_area(ring)
    return Part(
        number=at.numbers["ARM"], name=f"arm of the balance weight, {at.said}", form="plate", group=GROUP,
        purpose="balance", material=w.arm.material, stock=sheet_stock(w.arm, stuff), hand=at.hand, poses=(pose,),
        places=(pose.place(*centre),), mass=area * w.arm.thickness * stuff.density,
        shape=Plate(outline=locked(ring), holes=holes, thickness=w.arm.thickness),
    )  # fmt: skip


def _tail_joints(s: Surface, w: TailWeight, side: Side) -> Iterator[Joint]:
    at, pose, xs = _stand(s, w, side)
    n = at.numbers
    yield _held(w, at)
    under = [("arm", w.arm.thickness), ("spacer", w.off), ("tip tube", s.frame.movable.ends.outside)]
    yield Joint(
        number=f"{n['ARM']}-JOINT", kind="bolt", place=pose.place(xs[2], 0.0), primary=True,
        parts=(n["ARM"], f"{n['SPACERS']}-1", f"{n['SPACERS']}-2", n["ARM-BOLTS"]),
        fastener=w.bolt, fasteners=2, note="snug on the tube; castellated nut and cotter",
        bolt=bolt_for(w.bolt, under, "outboard" if s.flat else "up", turns=True,
                      limit="snug only: tighter, it makes the tube oval"),
    )  # fmt: skip
    tip = s.number("movable", "TIP", "", side.hand)
    for i, x in enumerate(xs[1:], 1):
        yield Joint(number=f"{n['SPACERS']}-{i}-JOINT", kind="bolt", place=pose.place(x, 0.0), primary=True,
                    fastener=w.bolt, parts=(tip, f"{n['SPACERS']}-{i}"), note="the same bolts")  # fmt: skip


# ------------------------------------------------------------------ ailerons


def arm_shape(w: AileronWeight, face: float, half: float) -> Polygon:
    """An aileron's arm, x aft of the hinge line, y over it: foot from -half to half at x = face, elbow, slug's bolt."""
    d = fasteners()[w.bolt].diameter
    elbow, end = disc((0.0, -w.below), d), disc((-w.ahead, -w.below), d)
    leg = unary_union([MultiPoint([(face, -half), (face, half)]), Point(0.0, 0.0), elbow]).convex_hull
    return unary_union([leg, unary_union([elbow, end]).convex_hull])


def _stands(h: Hinged, w: AileronWeight) -> Iterator[tuple[Stand, Pose, float]]:
    """Right and left: where a weight of an aileron stands, its arm's pose, the side its foot is bent to."""
    axes = hinge_axes(h)
    middle = axes.at(w.along)
    face = middle - w.ahead * axes.aft - w.below * axes.over + w.arm.thickness / 2 * axes.along
    hands: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))
    key = w.name.upper().replace("_", "-")
    for hand, side in hands:
        origin, x, y, at, out = (v if side > 0 else across(v) for v in (middle, axes.aft, axes.over, face, axes.along))
        numbers = {k: h.number(f"BALANCE-{k}", key, hand) for k in ("WEIGHT", "BOLT", "ARM")}
        yield (Stand(hand, numbers, f"wing {h.wing.name}", f"aileron, {h.wing.name}", at, out),
               Pose(as_place(origin), as_place(x), as_place(y)), side)  # fmt: skip


def _of_aileron(h: Hinged, w: AileronWeight) -> Iterator[Part]:
    _, face = faces(h, w.along)
    shape = arm_shape(w, face, h.frame.hinges.height / 2)
    hole = {(-w.ahead, -w.below): fasteners()[w.bolt].diameter}
    for at, pose, side in _stands(h, w):
        yield from _slug(w, at)
        plate = on_foot(h, w.arm, face, shape, hole, side)
        yield plate_part(h, at.numbers["ARM"], "arm of the balance weight", "balance", w.arm, plate, (pose,), at.hand,
                         w.along)  # fmt: skip


def _aileron_joints(h: Hinged, w: AileronWeight) -> Iterator[Joint]:
    stands = [at for at, _, _ in _stands(h, w)]
    yield from (_held(w, at) for at in stands)
    arms = (stands[0].numbers["ARM"], stands[1].numbers["ARM"])
    key = w.name.upper().replace("_", "-")
    yield foot_joint(h, h.number("BALANCE-ARM-JOINT", key), h.number("SPAR"), arms, h.number("FASTENERS"),
                     as_place(hinge_axes(h).at(w.along)), 1, h.frame.spar)  # fmt: skip
