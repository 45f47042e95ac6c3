"""What the wheels turn on and are sprung by, as parts and joints: guides, cord, the tail wheel's leaf and fork.

A guide is a plate on the outside of the legs, with an upright slot from the axle hanging to its stop. The slot is round
at both ends; the plate is the hull of the slot, widened by its edge, and of a disc about the legs' node. Its flange is
a strip round that hull, on edge towards the middle, from leg to leg past the slot's lower end; it is drawn as a plate
as thick as the strip is wide. A cord's strands run from the axle to the guide. The fork is a crown under the leaf with
a cheek on either side of the wheel; it turns right round on the bolt through the crown's middle, on a washer.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import LineString, MultiPoint, Point, Polygon, contains_xy
from shapely.ops import unary_union

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import gauge, inches
from sparwright.base.record import locked, number
from sparwright.data.loader import fasteners, material
from sparwright.family.brakes import Brakes
from sparwright.family.fitted import AxleGuide, Leaf, Undercarriage
from sparwright.family.model import Model, Wheel
from sparwright.parts.bolts import bolt_for
from sparwright.parts.flat_sheets import tube_numbers, tube_points
from sparwright.parts.number import part_number
from sparwright.parts.part import Hand, Joint, Part, Plate, Straight
from sparwright.parts.wing import sheet_stock
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.solid import CORNERS, Pose, as_place, between
from sparwright.shape.tube import Tube

GROUP = "gear"
ROUND = 16  # segments a quarter turn
BOLT_HEAD = 4.0  # diameters of bolt that weigh as much as its head, nut and washers (common practice, no source)
CHEEK = 1.5  # diameters of the axle bolt from its middle to a cheek's edge (common practice, no source)
GEAR_NOT_DRAWN = (
    "undercarriage: collars and nuts on the axle, the cord's own shape",
    "tail wheel: a damper against shimmy, a lock",
)
NO_BRAKES = ("brakes and their lines",)
BRAKES_NOT_DRAWN = ("brakes: stops of the lines' housings, clips, a parking catch",)


@dataclass(frozen=True)
class Guide:
    """The slotted plate on the right."""

    outline: np.ndarray = number("m", "(n, 2) station and waterline, anticlockwise")
    holes: tuple[np.ndarray, ...] = number("m", "(n, 2) clockwise: the slot, and the hole for a brake's link")
    middle: float = number("m", "buttline of its middle plane")
    flange: np.ndarray | None = number("m", "(n, 2) outline of its flange, anticlockwise; None without", None)


def main_wheel(model: Model) -> Wheel | None:
    """The main wheel, off the centreline; None where there is none."""
    return next((w for w in model.wheels if abs(w.place[1]) > ON_CENTRE), None)


def tail_wheel(model: Model) -> Wheel | None:
    """The wheel on the centreline; None where there is none."""
    return next((w for w in model.wheels if abs(w.place[1]) <= ON_CENTRE), None)


def gear_not_drawn(model: Model) -> tuple[str, ...]:
    """What of it is not drawn."""
    if model.undercarriage is None:
        return ()
    return (*GEAR_NOT_DRAWN, *(BRAKES_NOT_DRAWN if model.undercarriage.brakes else NO_BRAKES))


def gear_parts(model: Model, tubes: Sequence[Part]) -> Iterator[Part]:
    """Guides, cords, leaf and fork; nothing where the file has no undercarriage."""
    gear = model.undercarriage
    if gear is None:
        return
    if gear.guide:
        yield from _guides(model, gear.guide, guide(model, gear, gear.guide, tubes))
    if gear.rubber:
        yield from _cords(model, gear)
    wheel = tail_wheel(model)
    if gear.tail and wheel:
        yield from _tail(model, gear.tail, wheel)


def gear_joints(model: Model, tubes: Sequence[Part]) -> Iterator[Joint]:
    """How they and the wheels are held."""
    gear, main, tail = model.undercarriage, main_wheel(model), tail_wheel(model)
    if gear is None:
        return
    axle, known = tube_numbers(model, gear.axle, {t.number: t for t in tubes}), {t.number: t for t in tubes}
    if not axle:
        raise DesignProblem(f"{model.name} undercarriage.axle: no tube of the frame runs {gear.axle}")
    if main:
        yield Joint(number=gear_number(model, f"WHEEL-{main.name.upper()}-JOINT"), kind="hinge", place=main.place,
                    parts=(axle[0], gear_number(model, f"WHEEL-{main.name.upper()}")), primary=True, fastener="unknown",
                    count=2, note="between a collar and the axle's nut; turns freely, no play along")  # fmt: skip
    for hand in ("R", "L") if gear.guide else ():
        assert gear.guide
        plate = gear_number(model, "GUIDE", hand)
        legs = [n for name in gear.guide.held for n in tube_numbers(model, name, known) if _on(known[n], hand)]
        place = as_place(np.array(_node(known[legs[0]])))
        yield Joint(number=f"{plate}-WELD", kind="weld", parts=(plate, *legs), place=place, primary=True,
                    length=sum(2 * math.pi * _radius(known[n]) for n in legs),
                    note="round the end of each leg")  # fmt: skip
        if gear.guide.flange:
            yield _flange_joint(model, gear, gear.guide, tubes, hand)
        held = (plate, axle[0], *((gear_number(model, "CORD", hand),) if gear.rubber else ()))
        assert main
        x, y, z = main.place
        yield Joint(number=f"{plate}-SLOT", kind="hinge", parts=held, primary=True, fastener="none",
                    place=(x, y if hand == "R" else -y, z),
                    note="the axle rises in the slot; the cord holds it at the bottom")  # fmt: skip
    if gear.tail and tail:
        yield from _tail_joints(model, gear.tail, tail, known)


def _flange_joint(model: Model, gear: Undercarriage, g: AxleGuide, tubes: Sequence[Part], hand: str) -> Joint:
    drawn, plate = guide(model, gear, g, tubes), gear_number(model, "GUIDE", hand)
    assert drawn.flange is not None
    x, z = drawn.flange[int(np.argmin(drawn.flange[:, 1]))]
    place = (float(x), (1.0 if hand == "R" else -1.0) * (drawn.middle - g.sheet.thickness / 2), float(z))
    return Joint(number=f"{plate}-FLANGE-WELD", kind="weld", parts=(plate, gear_number(model, "GUIDE-FLANGE", hand)),
                 place=place, primary=True, length=Polygon(drawn.flange).length / 2,
                 note="on the plate all along, and by its ends on the legs")  # fmt: skip


def gear_number(model: Model, kind: str, hand: str = "") -> str:
    """Number of a part of the undercarriage."""
    return part_number(model.name, GROUP, kind, "", hand)


def _on(tube: Part, hand: str) -> bool:
    return (tube.places[0][1] > 0) == (hand == "R")


def _node(tube: Part) -> tuple[float, float, float]:
    assert isinstance(tube.shape, Tube)
    return tube.shape.end


# ------------------------------------------------------------------ main wheels


def stop(model: Model, wheel: Wheel) -> float:
    """How far an axle can rise, m: what the ground's springing of that wheel says; nought where it does not."""
    found = [s for s in (model.ground.springing if model.ground else ()) if s.name == wheel.name]
    return (found[0].stop or 0.0) if found else 0.0


def guide(model: Model, gear: Undercarriage, g: AxleGuide, tubes: Sequence[Part]) -> Guide:
    """The right-hand guide. DesignProblem for legs that are not there or do not come to it."""
    known, wheel = {t.number: t for t in tubes}, main_wheel(model)
    if wheel is None:
        raise DesignProblem(f"{model.name} undercarriage.guide: there is no main wheel off the centreline")
    legs = [known[n] for name in g.held for n in tube_numbers(model, name, known) if _on(known[n], "R")]
    axles = [known[n].shape for n in tube_numbers(model, gear.axle, known)]
    if not legs or not axles or not isinstance(axles[0], Tube):
        raise DesignProblem(f"{model.name} undercarriage.guide: its legs and the axle are tubes of the frame")
    x, _, z = wheel.place
    slot = LineString([(x, z), (x, z + stop(model, wheel))]).buffer((axles[0].outside + g.fit) / 2, quad_segs=ROUND)
    ends = [Point(_node(leg)[0], _node(leg)[2]).buffer(_radius(leg) + g.edge / 2, quad_segs=ROUND) for leg in legs]
    whole = slot.buffer(g.edge, quad_segs=ROUND)
    for end in ends:
        whole = whole.union(end)
    hull, cut = whole.convex_hull, [slot]
    if gear.brakes:
        hull = hull.union(_ear(gear.brakes, wheel, ends))
        cut.append(
            Point(_ear_at(gear.brakes, wheel)).buffer(fasteners()[gear.brakes.bolt].diameter / 2, quad_segs=ROUND)
        )
    points = np.vstack([tube_points(leg) for leg in legs])
    under = points[contains_xy(hull, points[:, 0], points[:, 2])]
    if not len(under):
        raise DesignProblem(f"{model.name} undercarriage.guide: the legs do not come to the axle's slot")
    middle = float(under[:, 1].max()) + g.sheet.thickness / 2
    deep = g.flange or 0.0
    flange = ring(_flange(g, deep, whole.convex_hull, middle, _legs_at(legs[0], known)), True) if deep else None
    return Guide(ring(hull, True), tuple(ring(c, False) for c in cut), middle, flange)


def _legs_at(leg: Part, known: dict[str, Part]) -> list[Tube]:
    """Every tube that ends where a leg does."""
    tubes = [p.shape for p in known.values() if isinstance(p.shape, Tube)]
    return [t for t in tubes if min(math.dist(_node(leg), e) for e in (t.start, t.end)) < 1e-6]


def _flange(g: AxleGuide, deep: float, hull: Polygon, middle: float, legs: Sequence[Tube]) -> Polygon:
    """The strip round a plate's edge, cut away where legs go through it as deep as it is."""
    strip, outer = hull.difference(hull.buffer(-g.sheet.thickness)), middle - g.sheet.thickness / 2
    for leg in legs:
        ends = np.array([leg.start, leg.end])
        (low, high), way = (outer - deep, outer), np.diff(ends, axis=0)[0]
        reach = np.array([low - leg.outside / 2, high + leg.outside / 2])
        shares = np.clip((reach - ends[0, 1]) / way[1], 0.0, 1.0) if way[1] else np.array([0.0, 1.0])
        strip = strip.difference(LineString((ends[0] + shares[:, None] * way)[:, [0, 2]]).buffer(leg.outside / 2))
    pieces = list(getattr(strip, "geoms", [strip]))
    return min(pieces, key=lambda q: q.bounds[1])  # the one that goes round the slot's lower end


def _ear(b: Brakes, wheel: Wheel, ends: Sequence[Polygon]) -> Polygon:
    """What the guide has more to hold the brake's link: from round the legs' ends ahead to the bolt."""
    ear = Point(_ear_at(b, wheel)).buffer(2 * fasteners()[b.bolt].diameter, quad_segs=ROUND)
    return unary_union([ear, *ends]).convex_hull


def _ear_at(b: Brakes, wheel: Wheel) -> tuple[float, float]:
    return wheel.place[0] - b.ahead, wheel.place[2] + b.above


def _radius(tube: Part) -> float:
    assert isinstance(tube.shape, Tube)
    return tube.shape.outside / 2


def _turning(ring: np.ndarray, left: bool) -> np.ndarray:
    return ring if Polygon(ring).exterior.is_ccw == left else ring[::-1]


def ring(shape: Polygon, left: bool) -> np.ndarray:
    """(n, 2) the outside of a shape, anticlockwise or clockwise."""
    return _turning(np.array(shape.exterior.coords)[:-1], left)


def _guides(model: Model, g: AxleGuide, drawn: Guide) -> Iterator[Part]:
    """Both plates; each is drawn flat about station and waterline nought."""
    solid, stuff = Polygon(drawn.outline, drawn.holes), material(g.sheet.material)
    shape = Plate(outline=locked(drawn.outline), holes=tuple(map(locked, drawn.holes)), thickness=g.sheet.thickness)
    hands: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))
    for hand, side in hands:
        pose = Pose((0.0, side * drawn.middle, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
        yield Part(number=gear_number(model, "GUIDE", hand), name="axle guide", form="plate", group=GROUP,
                   purpose="the axle rises in its slot", material=g.sheet.material, stock=sheet_stock(g.sheet, stuff),
                   places=(pose.place(solid.centroid.x, solid.centroid.y),), hand=hand, shape=shape, poses=(pose,),
                   mass=solid.area * g.sheet.thickness * stuff.density)  # fmt: skip
        if drawn.flange is not None:
            yield _flange_part(model, g, drawn, drawn.flange, hand)


def _flange_part(model: Model, g: AxleGuide, drawn: Guide, outline: np.ndarray, hand: Hand) -> Part:
    solid, stuff, deep = Polygon(outline), material(g.sheet.material), g.flange or 0.0
    at = (-1.0 if hand == "L" else 1.0) * (drawn.middle - (g.sheet.thickness + deep) / 2)
    pose = Pose((0.0, at, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
    stock = f"{sheet_stock(g.sheet, stuff)}, strip {inches(deep)} x {inches(solid.length / 2)}, bent to the outline"
    return Part(number=gear_number(model, "GUIDE-FLANGE", hand), name="flange of the axle guide", form="plate",
                group=GROUP, purpose="the axle rises in its slot", material=g.sheet.material, stock=stock, hand=hand,
                places=(pose.place(solid.centroid.x, solid.centroid.y),), poses=(pose,),
                shape=Plate(outline=locked(outline), holes=(), thickness=deep),
                mass=solid.area * deep * stuff.density)  # fmt: skip


def _cords(model: Model, gear: Undercarriage) -> Iterator[Part]:
    rubber, wheel = gear.rubber, main_wheel(model)
    assert rubber and wheel
    long = 2 * rubber.turns * rubber.strand
    hands: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))
    for hand, side in hands:
        x, y, z = wheel.place
        yield Part(number=gear_number(model, "CORD", hand), name="elastic cord", form="item", group=GROUP, hand=hand,
                   purpose="springs the axle", material="bought", places=((x, side * y, z),), band=0.15,
                   stock=f"elastic cord {inches(rubber.cord)}, {rubber.turns} turns, {inches(long)} slack",
                   mass=math.pi / 4 * rubber.cord**2 * long * rubber.density)  # fmt: skip


# ------------------------------------------------------------------ tail wheel


def leaf_line(leaf: Leaf) -> tuple[np.ndarray, np.ndarray]:
    """(3,) twice: along the leaf, and square to it, up."""
    along = np.subtract(leaf.end, leaf.start)
    along = along / np.linalg.norm(along)
    return along, np.cross(along, (0.0, 1.0, 0.0)) * (-1.0 if np.cross(along, (0.0, 1.0, 0.0))[2] < 0 else 1.0)


def _tail(model: Model, leaf: Leaf, wheel: Wheel) -> Iterator[Part]:
    along, up = leaf_line(leaf)
    thick = leaf.leaves * leaf.thickness
    corners = [s * leaf.width / 2 * np.array([0.0, 1.0, 0.0]) + t * thick / 2 * up
               for s, t in ((-1, -1), (1, -1), (1, 1), (-1, 1))]  # fmt: skip
    rings = locked(np.array([np.array(p) + corners for p in (leaf.start, leaf.end)]))
    stuff, body = material(leaf.material), between(rings[0], rings[1])
    many = f"{leaf.leaves} of " if leaf.leaves > 1 else ""
    section = f"{inches(leaf.width)} x {inches(thick)}"
    yield Part(number=gear_number(model, "TAIL-LEAF"), name="tail spring", form="bar", group=GROUP,
               purpose="springs the tail wheel", material=leaf.material, places=(as_place(body.centre),),
               mass=body.volume * stuff.density,
               stock=f"{many}{stuff.title}, {inches(leaf.width)} x {inches(leaf.thickness)}, heat treated",
               shape=Straight(start=leaf.start, end=leaf.end, section=section, rings=rings))  # fmt: skip
    yield from _fork(model, leaf, wheel, along, up)
    yield _tail_axle(model, leaf, wheel)


def pivot(leaf: Leaf) -> tuple[np.ndarray, np.ndarray]:
    """(3,) twice: middle of the crown's upper face, which the fork turns about, and the line it turns about, up."""
    along, up = leaf_line(leaf)
    under = leaf.leaves * leaf.thickness / 2 + (leaf.washer.thickness if leaf.washer else 0.0)
    return np.array(leaf.end) - leaf.width / 2 * along - under * up, up


def fork_numbers(model: Model) -> tuple[str, ...]:
    """Numbers of all that turns with the tail wheel's fork, or how they begin; none where there is no fork."""
    gear, wheel = model.undercarriage, tail_wheel(model)
    if gear is None or gear.tail is None or wheel is None:
        return ()
    return tuple(
        gear_number(model, k) for k in ("TAIL-CROWN", "TAIL-CHEEK", "TAIL-AXLE", f"WHEEL-{wheel.name.upper()}")
    )


def cheek_at(leaf: Leaf, wheel: Wheel) -> float:
    """Buttline of the right cheek's inner face, m."""
    return wheel.width / 2 + leaf.beside


def _fork(model: Model, leaf: Leaf, wheel: Wheel, along: np.ndarray, up: np.ndarray) -> Iterator[Part]:
    """The crown, under the leaf's end and as long as the leaf is wide, and a cheek on either side."""
    sheet, inner = leaf.fork, cheek_at(leaf, wheel)
    half, (top_face, _) = leaf.width / 2, pivot(leaf)
    low = top_face - sheet.thickness / 2 * up
    if leaf.washer:
        thick, round_ = leaf.washer.thickness, Point(0, 0).buffer(half, quad_segs=ROUND)
        bore = _turning(np.array(Point(0, 0).buffer(fasteners()[leaf.bolt].diameter / 2).exterior.coords)[:-1], False)
        yield _plate(model, "TAIL-WASHER", "washer the tail wheel's fork turns on",
                     _turning(np.array(round_.exterior.coords)[:-1], True), (bore,), thick, leaf.washer.material,
                     Pose(as_place(top_face + thick / 2 * up), as_place(along), (0.0, 1.0, 0.0)), "")  # fmt: skip
    crown = np.array([(-half, -inner), (half, -inner), (half, inner), (-half, inner)])
    yield _plate(model, "TAIL-CROWN", "tail wheel fork, crown", crown, (), sheet.thickness, leaf.fork.material,
                 Pose(as_place(low), as_place(along), (0.0, 1.0, 0.0)), "")  # fmt: skip
    reach = CHEEK * fasteners()[leaf.axle].diameter
    top = [low + s * half * along + t * sheet.thickness / 2 * up for s in (-1, 1) for t in (-1, 1)]
    hull = MultiPoint([(p[0], p[2]) for p in top]).convex_hull.union(
        Point(wheel.place[0], wheel.place[2]).buffer(reach, quad_segs=ROUND)).convex_hull  # fmt: skip
    outline = _turning(np.array(hull.exterior.coords)[:-1], True) - (wheel.place[0], wheel.place[2])
    hole = Point(0, 0).buffer(fasteners()[leaf.axle].diameter / 2, quad_segs=CORNERS // 4)
    hands: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))
    for hand, side in hands:
        at = (wheel.place[0], side * (inner + sheet.thickness / 2), wheel.place[2])
        yield _plate(model, "TAIL-CHEEK", "tail wheel fork, cheek", outline,
                     (_turning(np.array(hole.exterior.coords)[:-1], False),), sheet.thickness, leaf.fork.material,
                     Pose(at, (1.0, 0.0, 0.0), (0.0, 0.0, 1.0)), hand)  # fmt: skip


def _plate(model: Model, kind: str, name: str, outline: np.ndarray, holes: tuple[np.ndarray, ...], thick: float,
           key: str, pose: Pose, hand: Hand) -> Part:  # fmt: skip
    solid, stuff = Polygon(outline, holes), material(key)
    shape = Plate(outline=locked(outline), holes=tuple(map(locked, holes)), thickness=thick)
    return Part(number=gear_number(model, kind, hand), name=name, form="plate", group=GROUP,
                purpose="carries the tail wheel", material=key, stock=f"{stuff.title}, {gauge(thick)}",
                hand=hand, shape=shape, poses=(pose,), mass=solid.area * thick * stuff.density,
                places=(pose.place(solid.centroid.x, solid.centroid.y),))  # fmt: skip


def _tail_axle(model: Model, leaf: Leaf, wheel: Wheel) -> Part:
    """The bolt across both cheeks and the wheel; its sleeve beside the wheel is the wheel's."""
    d, half = fasteners()[leaf.axle].diameter, cheek_at(leaf, wheel) + leaf.fork.thickness
    path = locked([np.array(wheel.place) + (0.0, s * (half + d / 2), 0.0) for s in (-1.0, 1.0)])
    return Part(number=gear_number(model, "TAIL-AXLE"), name=f"tail wheel axle {leaf.axle}, nut and washers",
                form="tube", group=GROUP, purpose="carries the tail wheel", material="bought", places=(wheel.place,),
                band=0.2, stock=f"{leaf.axle}, grip {inches(2 * half)}",
                mass=math.pi / 4 * d**2 * (2 * half + BOLT_HEAD * d) * material("4130N").density,
                shape=Tube(path=path, outside=d, wall=0.0, section=leaf.axle))  # fmt: skip


def _tail_joints(model: Model, leaf: Leaf, wheel: Wheel, known: dict[str, Part]) -> Iterator[Joint]:
    own, crown, axle = (gear_number(model, k) for k in ("TAIL-LEAF", "TAIL-CROWN", "TAIL-AXLE"))
    cheeks = [gear_number(model, "TAIL-CHEEK", h) for h in "RL"]
    tubes = [n for name in leaf.held for n in tube_numbers(model, name, known)]
    if len(tubes) != 2:
        raise DesignProblem(f"{model.name} undercarriage.tail.held: two tubes of the frame, at its front and its rest")
    for kind, tube, place in (("FRONT", tubes[0], leaf.start), ("REST", tubes[1], leaf.rest)):
        yield Joint(number=f"{own}-{kind}", kind="bolt", parts=(tube, own), place=place, primary=True,
                    fastener="unknown", fasteners=2,
                    note=f"two {leaf.bolt} beside the leaf, a strap over it; no hole in the leaf")  # fmt: skip
    under, on = [("leaf", leaf.leaves * leaf.thickness), ("crown", leaf.fork.thickness)], own
    if leaf.washer:
        under[1:1] = [("washer", leaf.washer.thickness)]
        on = gear_number(model, "TAIL-WASHER")
        yield Joint(number=f"{on}-JOINT", kind="hinge", parts=(own, on), place=as_place(pivot(leaf)[0]), primary=True,
                    fastener="none", note="on the bolt the fork turns on")  # fmt: skip
    yield Joint(number=f"{crown}-JOINT", kind="hinge", parts=(on, crown), place=as_place(pivot(leaf)[0]), primary=True,
                fastener=leaf.bolt, fasteners=1, note="the fork turns right round on it, a castor: snug, greased",
                bolt=bolt_for(leaf.bolt, under, "up", turns=True, limit="the fork must turn"))  # fmt: skip
    yield Joint(number=f"{crown}-WELD", kind="weld", parts=(crown, *cheeks), place=leaf.end, primary=True,
                length=2 * leaf.width)  # fmt: skip
    wheel_number, cheek = gear_number(model, f"WHEEL-{wheel.name.upper()}"), ("cheek", leaf.fork.thickness)
    yield Joint(number=f"{axle}-JOINT", kind="bolt", parts=(axle, *cheeks, wheel_number), place=wheel.place,
                primary=True, fastener=leaf.axle, fasteners=1, note="the wheel turns freely",
                bolt=bolt_for(leaf.axle, [cheek, ("wheel", 2 * cheek_at(leaf, wheel)), cheek], "right",
                              turns=True, limit="the cheeks must not be drawn in"))  # fmt: skip
