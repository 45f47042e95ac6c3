"""Hinges, horn, joining tube and tabs of the tail surfaces, as parts and joints.

A hinge is three straps bent from sheet, each riveted on both crowns of its tube and led round the hinge line: one from
the spar round a bush, one on either side of it from the front tube round the pin. The pin clamps the outer two on the
bush, which the middle one turns on. Cut across, with n aft of the hinge line and w over the plane, a strap goes

    (n0 - e, r) to (n0 + e, r), then along the tangent to the circle of its bush, round that, and back below

n0 the middle of its tube, r the tube's radius, e the rivets' edge distance. Tabs are a pair of plates on a node of the
fuselage, welded there, the bolt across. Common practice, no source; the shapes are worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import MultiPolygon, Point, Polygon, unary_union

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, place_key
from sparwright.base.record import locked, number
from sparwright.data.loader import fasteners, material
from sparwright.family.model import Model, RoundTube
from sparwright.family.tail_frame import TailAttach
from sparwright.parts.bolts import bolt_for
from sparwright.parts.frame import at_node, tube_number, tube_section, tube_stock
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Hand, Joint, Mark, Part, Place, Plate, Straight
from sparwright.parts.tail_frame import BOLT_OVER, GROUP, Surface, ring_of, surfaces
from sparwright.parts.wing import polygon_area, sheet_stock
from sparwright.shape.flat_frame import Line, hinge_line, in_space, lines
from sparwright.shape.frame import runs
from sparwright.shape.solid import CORNERS, Pose, as_place, between, round_radius
from sparwright.shape.tube import Tube

ROUND = 32  # corners of a strap's turn
HALF_HOLE = 2.0  # diameters of a bolt or hole from its middle to the edge of a plate (ac-43-13-1b chapter 4, of rivets)


@dataclass(frozen=True)
class Side:
    """One side of a surface: right or left of the tailplane, or the whole fin."""

    hand: Hand
    across: float = number("1", "1 as it is drawn, -1 for its mirror")


def sides(s: Surface) -> tuple[Side, ...]:
    """Right and left, or the fin."""
    return (Side("R", 1.0), Side("L", -1.0)) if s.flat else (Side("", 1.0),)


def axis(s: Surface) -> tuple[np.ndarray, np.ndarray]:
    """(a point of the hinge line, its direction), (3,) each, of the right side or the fin."""
    hinge = hinge_line(s.tail, s.flat)
    a, b = in_space(s.pose, [hinge.point(0.0), hinge.point(1.0)])
    return a, (b - a) / np.linalg.norm(b - a)


def _spot(s: Surface, hinge: Line, v: float, side: Side) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """(3,) each: a point of the hinge line; aft, over the plane and along the hinge there."""
    origin, aft, along = hinge.point(v), hinge.aft, hinge.along
    flip = np.array([1.0, side.across])
    zero = in_space(s.pose, [(0.0, 0.0)])[0]
    place, n, e = (in_space(s.pose, [np.array(p) * flip])[0] for p in (origin, aft, along))
    w = in_space(s.pose, [(0.0, 0.0)], 1.0)[0] - zero
    return place, n - zero, w, e - zero


# ------------------------------------------------------------------ hinges


def strap(away: float, tube: float, inner: float, thickness: float, edge: float) -> np.ndarray:
    """(n, 2) a strap cut across about the hinge line: n aft, w over the plane, m.

    away: from the hinge line to the middle of its tube, positive aft. tube, inner: radii of the tube and of what the
    strap turns about. ValueError where the legs would begin within the turn.
    """
    side = 1.0 if away > 0 else -1.0
    far, near = abs(away) + edge, abs(away) - edge
    if near <= inner + thickness:
        raise ValueError("the rivets' edge distance reaches into the strap's turn")

    start = math.atan2(tube, near) + math.acos(inner / math.hypot(near, tube))
    kink = math.tan((start - math.pi / 2) / 2)

    def way(over: float) -> list[tuple[float, float]]:
        r, leg, x = inner + over, tube + over, near - over * kink
        turn = np.linspace(start, 2 * math.pi - start, ROUND)
        return [(far, leg), (x, leg), *((r * math.cos(t), r * math.sin(t)) for t in turn), (x, -leg), (far, -leg)]

    ring = np.array([*way(thickness), *reversed(way(0.0))])
    return ring * (side, 1.0)


def strap_width(s: Surface) -> float:
    """Width of a strap: its row of rivets and an edge distance at both ends, m."""
    g = s.frame.gusset
    return (g.rivets - 1) * g.pitch + 2 * g.edge


def _hinge_numbers(s: Surface, v: float, hand: str) -> dict[str, str]:
    kinds = {"eye": "fixed", "inner": "movable", "outer": "movable", "bush": "movable", "pin": "movable"}
    return {k: s.number(where, f"HINGE-{k.upper()}", place_key(v), hand) for k, where in kinds.items()}


def _hinge_parts(s: Surface, v: float, side: Side) -> Iterator[Part]:
    h, width = s.frame.hinges, strap_width(s)
    hinge = hinge_line(s.tail, s.flat)
    numbers, pin = _hinge_numbers(s, v, side.hand), fasteners()[h.pin].diameter
    fixed, front, half = s.frame.fixed.spar.outside / 2, s.frame.movable.front.outside / 2, s.frame.gap / 2
    bush = width + 2 * h.play
    step = bush / 2 + width / 2
    straps = (("eye", -half - fixed, fixed, h.bush.outside / 2, 0.0), ("inner", half + front, front, pin / 2, -step),
              ("outer", half + front, front, pin / 2, step))  # fmt: skip
    at, n, w, e = _spot(s, hinge, v, side)
    for name, away, tube, inner, off in straps:
        flat = _strap_or_told(s, away, tube, inner)
        middle = at + flat[:, :1] * n + flat[:, 1:] * w
        rings = np.array([middle + (off - width / 2) * e, middle + (off + width / 2) * e])
        body = between(rings[0], rings[1])
        long = float(np.linalg.norm(np.diff(flat, axis=0), axis=1).sum()) / 2
        stuff = material(h.sheet.material)
        yield Part(
            number=numbers[name], name=f"{s.name('fixed')} hinge strap, {name}", form="bar", group=GROUP,
            purpose="hinge", material=h.sheet.material, hand=side.hand, places=(as_place(body.centre),),
            stock=f"{sheet_stock(h.sheet, stuff)}, {inches(width)} x {inches(long)}, bent",
            mass=body.volume * stuff.density, at=inches(v),
            shape=Straight(start=as_place(rings[0].mean(axis=0)), end=as_place(rings[1].mean(axis=0)),
                           section=f"{inches(width)} strap", rings=locked(rings)),
        )  # fmt: skip
    yield _round(s, numbers["bush"], "hinge bush", at - bush / 2 * e, at + bush / 2 * e, h.bush, side.hand)
    grip, whole = bush + 2 * width, bush / 2 + width + pin
    rod = Tube(path=locked([at - whole * e, at + whole * e]), outside=pin, wall=0.0, section=h.pin)
    yield Part(number=numbers["pin"], name=f"hinge pin {h.pin}, nut and washers", form="tube", group=GROUP,
               purpose="hinge", material="bought", stock=f"{h.pin}, grip {inches(grip)}", band=0.2,
               places=(as_place(at),),
               mass=math.pi / 4 * pin**2 * (grip + BOLT_OVER * pin) * material("4130N").density,
               hand=side.hand, shape=rod, at=inches(v))  # fmt: skip


def _strap_or_told(s: Surface, away: float, tube: float, inner: float) -> np.ndarray:
    h = s.frame.hinges
    try:
        return strap(away, tube, inner, h.sheet.thickness, s.frame.gusset.edge)
    except ValueError as fault:
        raise DesignProblem(f"{s.model.name} {s.name('fixed')} hinges: {fault}; a wider gap is wanted") from fault


def _hinge_joints(s: Surface, v: float, side: Side) -> Iterator[Joint]:
    n, g = _hinge_numbers(s, v, side.hand), s.frame.gusset
    place = as_place(_spot(s, hinge_line(s.tail, s.flat), v, side)[0])
    spar = s.number("fixed", "SPAR")
    front = s.number("movable", "FRONT", "", side.hand)
    for strap_number, tube in ((n["eye"], spar), (n["inner"], front), (n["outer"], front)):
        yield Joint(number=f"{strap_number}-JOINT", kind="rivet", place=place, primary=True, fastener=g.rivet,
                    parts=(strap_number, tube, s.number("fixed", "RIVETS")), fasteners=2 * g.rivets,
                    note="half of them on each crown")  # fmt: skip
    yield Joint(
        number=f"{n['pin']}-JOINT", kind="hinge", place=place, primary=True, fastener=s.frame.hinges.pin, fasteners=1,
        parts=(n["bush"], n["eye"], n["inner"], n["outer"], n["pin"]), bolt=_hinge_bolt(s),
        note="castellated nut and cotter; tight on the bush, the middle strap turns freely",
    )  # fmt: skip


def _hinge_bolt(s: Surface) -> Bolt:
    width = strap_width(s)
    under = [("strap", width), ("bush", width + 2 * s.frame.hinges.play), ("strap", width)]
    head = "outboard" if s.flat else "up"
    return bolt_for(s.frame.hinges.pin, under, head, turns=True, limit="clamps the bush, not the middle strap")


def _round(s: Surface, number: str, name: str, a: np.ndarray, b: np.ndarray, tube: RoundTube, hand: Hand) -> Part:
    """A piece of tube cut square."""
    shape = Tube(path=locked([a, b]), outside=tube.outside, wall=tube.wall, section=tube_section(tube))
    body = shape.solid()
    return Part(number=number, name=name, form="tube", group=GROUP, purpose="tail fitting", material=tube.material,
                stock=tube_stock(tube), places=(as_place(body.centre),), hand=hand, shape=shape,
                mass=body.volume * material(tube.material).density)  # fmt: skip


# ------------------------------------------------------------------ joining tube and horn


def _join_ends(s: Surface) -> tuple[float, float]:
    """Where the joining tube begins and ends along the surface: from lap to lap, or from below the fin's horn."""
    m, horn = s.frame.movable, s.frame.horn
    if s.flat:
        reach = m.root + m.lap
        return (-reach, reach)
    return (min(horn.along, m.root) - m.join.outside, m.root + m.lap)


def _join_parts(s: Surface) -> Iterator[Part]:
    front = lines(s.tail, s.frame, s.flat)["FR"]
    a, b = in_space(s.pose, [front.point(v) for v in _join_ends(s)])
    yield _round(s, s.number("movable", "JOIN"), f"{s.name('movable')} joining tube", a, b, s.frame.movable.join, "")
    ring, hole = horn_outline(s)
    horn, stuff = s.frame.horn, material(s.frame.horn.sheet.material)
    pose = horn_pose(s)
    marks = (Mark(label=f"hole {inches(horn.hole)}", points=tuple((0.0, y) for y in _arm_ends(s))),)
    shape = Plate(outline=locked(ring), holes=(locked(hole),), thickness=horn.sheet.thickness, marks=marks)
    solid = Polygon(ring, [hole])
    yield Part(
        number=s.number("movable", "HORN"), name=f"{s.name('movable')} horn", form="plate", group=GROUP,
        purpose="control", material=horn.sheet.material, stock=sheet_stock(horn.sheet, stuff), poses=(pose,),
        places=(pose.place(solid.centroid.x, solid.centroid.y),),
        mass=solid.area * horn.sheet.thickness * stuff.density, shape=shape,
    )  # fmt: skip


def _arm_ends(s: Surface) -> tuple[float, ...]:
    return (-s.frame.horn.arm,) if s.frame.horn.arms == 1 else (-s.frame.horn.arm, s.frame.horn.arm)


def horn_holes(s: Surface) -> tuple[np.ndarray, np.ndarray]:
    """((k, 3) the holes of a horn in space, the lower or left one first; (3,) unit vector square to its plate)."""
    at, _, w, along = _spot(s, hinge_line(s.tail, s.flat), s.frame.horn.along, Side("", 1.0))
    return np.array([at + y * w for y in _arm_ends(s)]), along / np.linalg.norm(along)


def horn_pose(s: Surface) -> Pose:
    """Where the horn's own axes lie: aft of the hinge line, over the surface."""
    at, n, w, _ = _spot(s, hinge_line(s.tail, s.flat), s.frame.horn.along, Side("", 1.0))
    return Pose(as_place(at), as_place(n), as_place(w))


def horn_outline(s: Surface) -> tuple[np.ndarray, np.ndarray]:
    """(outline, hole) of the horn in its own axes: n aft of the hinge line, w over the plane, m."""
    horn, tube = s.frame.horn, s.frame.movable.join.outside / 2
    middle = (s.frame.gap / 2 + s.frame.movable.front.outside / 2, 0.0)
    round_ = Point(middle).buffer(tube + 2 * horn.hole)
    arms = [round_.union(Point(0.0, y).buffer(HALF_HOLE * horn.hole)).convex_hull for y in _arm_ends(s)]
    angle = np.linspace(0, 2 * np.pi, CORNERS, endpoint=False)
    hole = np.array(middle) + round_radius(tube) * np.array([np.cos(angle), -np.sin(angle)]).T
    return ring_of(unary_union(arms)), hole


def _join_joints(s: Surface) -> Iterator[Joint]:
    join, horn, m = s.number("movable", "JOIN"), s.number("movable", "HORN"), s.frame.movable
    front = lines(s.tail, s.frame, s.flat)["FR"]
    for side in sides(s):
        u, v = front.point(m.root + m.lap / 2)
        place = as_place(in_space(s.pose, [(u, side.across * v)])[0])
        bolt = bolt_for(s.frame.bolt, [("front and joining tube", m.front.outside)], "up" if s.flat else "forward",
                        turns=True, limit="snug only: tighter, it makes the tubes oval")  # fmt: skip
        yield Joint(number=s.number("movable", "JOIN-JOINT", "", side.hand), kind="bolt", primary=True, fasteners=2,
                    bolt=bolt,
                    parts=(join, s.number("movable", "FRONT", "", side.hand)), fastener=s.frame.bolt,
                    place=place, note="one across, one square to it")  # fmt: skip
    yield Joint(number=f"{horn}-JOINT", kind="weld", parts=(join, horn), primary=True,
                length=math.pi * m.join.outside,
                place=as_place(in_space(s.pose, [front.point(s.frame.horn.along)])[0]), note="all round")  # fmt: skip


# ------------------------------------------------------------------ tabs on the fuselage


@dataclass(frozen=True)
class Tab:
    """A pair of tabs at a node, with every bolt across it."""

    node: str
    at: Place
    bolts: tuple[tuple[Surface, TailAttach], ...]


def tabs(model: Model) -> tuple[Tab, ...]:
    """Each node that holds a tail surface, with the bolts of both surfaces."""
    found: dict[str, list[tuple[Surface, TailAttach]]] = {}
    for s in surfaces(model):
        for attach in s.frame.attach:
            found.setdefault(attach.node, []).append((s, attach))
    return tuple(Tab(node, model.fuselage.nodes[node], tuple(bolts)) for node, bolts in found.items())


def bolt_place(s: Surface, attach: TailAttach) -> Place:
    """Where a bolt crosses the plane of symmetry."""
    if attach.tube == "rib":
        return as_place(in_space(s.pose, [(attach.along, 0.0)])[0])
    line = lines(s.tail, s.frame, s.flat)["LE" if attach.tube == "leading" else "SP"]
    return as_place(in_space(s.pose, [line.point(attach.along)])[0])


def inner_face(tab: Tab) -> float:
    """Half the room between a pair of tabs, m: what the fin's foot fills, or what is left between the root ribs."""
    for s, attach in tab.bolts:
        if attach.tube != "rib":
            return (s.frame.fixed.leading if attach.tube == "leading" else s.frame.fixed.spar).outside / 2
    s, _ = tab.bolts[0]
    return s.frame.fixed.root - s.frame.fixed.ends.outside / 2 - s.frame.tab.thickness


def _tab_number(model: Model, tab: Tab, hand: str) -> str:
    return part_number(model.name, "tail", "TAB", tab.node, hand)


def tab_outline(model: Model, tab: Tab) -> np.ndarray:
    """(n, 2) the plate about its node, x aft, y up: round every bolt and the node, cut out for tubes across."""
    x, _, z = tab.at
    met = at_node(runs(model.fuselage), tab.node)
    across = [r for r in met if _crosses(model, r.nodes)]
    around = max(r.tube.outside for r in met) * (1.0 if across else 0.5)
    discs = [Point(0.0, 0.0).buffer(around)]
    for s, attach in tab.bolts:
        bx, _, bz = bolt_place(s, attach)
        discs.append(Point(bx - x, bz - z).buffer(HALF_HOLE * fasteners()[s.frame.bolt].diameter))
    whole = unary_union(discs).convex_hull
    for r in across:
        cut = Point(0.0, 0.0).buffer(r.tube.outside / 2, quad_segs=CORNERS // 4)
        whole = whole.difference(cut.union(Polygon([(-around, 0), (around, 0), (around, -9), (-around, -9)])))
    if isinstance(whole, MultiPolygon) or whole.is_empty:
        raise DesignProblem(f"{model.name}: the tab at node {tab.node} comes out in pieces; its bolts lie too low")
    return ring_of(whole)


def _crosses(model: Model, names: Sequence[str]) -> bool:
    """Whether a tube runs from side to side: between the nodes of a pair."""
    first, last = names[0], names[-1]
    paired = first not in model.fuselage.nodes and last not in model.fuselage.nodes
    return paired and first[:-1] == last[:-1] and first[-1] != last[-1]


def _tab_parts(model: Model) -> Iterator[Part]:
    for tab in tabs(model):
        s, _ = tab.bolts[0]
        sheet, stuff = s.frame.tab, material(s.frame.tab.material)
        ring, over = tab_outline(model, tab), inner_face(tab) + s.frame.tab.thickness / 2
        area, centre = polygon_area(ring)
        marks = tuple(
            Mark(label=sf.frame.bolt, points=((float(p[0] - tab.at[0]), float(p[2] - tab.at[2])),))
            for sf, attach in tab.bolts
            for p in (bolt_place(sf, attach),)
        )
        shape = Plate(outline=locked(ring), holes=(), thickness=sheet.thickness, marks=marks)
        hands: tuple[tuple[Hand, float], ...] = (("R", 1.0), ("L", -1.0))
        for hand, side in hands:
            pose = Pose((tab.at[0], side * over, tab.at[2]), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
            yield Part(number=_tab_number(model, tab, hand), name=f"tail tab at {tab.node}", form="plate", group=GROUP,
                       purpose="tail fitting", material=sheet.material, stock=sheet_stock(sheet, stuff), hand=hand,
                       places=(pose.place(*centre),), poses=(pose,), mass=area * sheet.thickness * stuff.density,
                       shape=shape, at=tab.node)  # fmt: skip
        for sf, attach in tab.bolts:
            if attach.tube == "rib":
                place, half = np.array(bolt_place(sf, attach)), np.array([0.0, inner_face(tab), 0.0])
                yield _round(sf, _spacer(sf, attach), "spacer between tabs", place - half, place + half,
                             sf.frame.spacer, "")  # fmt: skip


def _spacer(s: Surface, attach: TailAttach) -> str:
    return s.number("fixed", "SPACER", attach.name.upper().replace("_", "-"))


def _tab_joints(model: Model) -> Iterator[Joint]:
    for tab in tabs(model):
        pair = [_tab_number(model, tab, hand) for hand in "RL"]
        met = at_node(runs(model.fuselage), tab.node)
        yield Joint(number=part_number(model.name, "tail", "TAB-WELD", tab.node), kind="weld", place=tab.at,
                    primary=True, parts=(*(tube_number(model, r) for r in met), *pair),
                    length=2 * math.pi * max(r.tube.outside for r in met),
                    note="half round the tube on both faces of each of the two tabs")  # fmt: skip
        for s, attach in tab.bolts:
            yield from _bolted(s, attach, pair, 2 * inner_face(tab))


def _tab_bolt(s: Surface, attach: TailAttach, room: float) -> Bolt:
    """The bolt across a pair of tabs, `room` apart, m: what lies under it from one side to the other."""
    tab, rib = ("tab", s.frame.tab.thickness), ("root rib, bushed", s.frame.fixed.ends.outside)
    between = (tab, ("spacer" if attach.tube == "rib" else "foot, bushed", room), tab)
    under = (rib, *between, rib) if attach.tube == "rib" else between
    return bolt_for(s.frame.bolt, under, "outboard", turns=True, limit="clamps spacer and bushes, not a hollow tube")


def _bolted(s: Surface, attach: TailAttach, pair: Sequence[str], room: float) -> Iterator[Joint]:
    """The bolt across: a foot between the tabs, or tabs between the root ribs with a spacer between them."""
    number = s.number("fixed", "BOLT", attach.name.upper().replace("_", "-"))
    note = "snug on the tube, which is bushed; castellated nut and cotter"
    place, bolt = bolt_place(s, attach), _tab_bolt(s, attach, room)
    if attach.tube != "rib":
        tube = s.number("fixed", "LEADING-EDGE" if attach.tube == "leading" else "SPAR")
        yield Joint(number=number, kind="bolt", parts=(tube, *pair), place=place, primary=True,
                    fastener=s.frame.bolt, fasteners=1, note=note, bolt=bolt)  # fmt: skip
        return
    yield Joint(number=number, kind="bolt", parts=(_spacer(s, attach), *pair), place=place, primary=True,
                fastener=s.frame.bolt, fasteners=1, note=note, bolt=bolt)  # fmt: skip
    for hand, tab in zip("RL", pair, strict=True):
        yield Joint(number=f"{number}-{hand}", kind="bolt", parts=(tab, s.number("fixed", "ROOT", "", hand)),
                    place=place, primary=True, fastener=s.frame.bolt, note="the same bolt", bolt=bolt)  # fmt: skip


# ------------------------------------------------------------------ all


def fitting_parts(model: Model) -> Iterator[Part]:
    """Hinges, joining tubes, horns, tabs."""
    for s in surfaces(model):
        for v in s.frame.hinges.places:
            for side in sides(s):
                yield from _hinge_parts(s, v, side)
        yield from _join_parts(s)
    yield from _tab_parts(model)


def fitting_joints(model: Model) -> Iterator[Joint]:
    """How they are held."""
    for s in surfaces(model):
        for v in s.frame.hinges.places:
            for side in sides(s):
                yield from _hinge_joints(s, v, side)
        yield from _join_joints(s)
    yield from _tab_joints(model)
