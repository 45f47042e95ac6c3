"""Tail surfaces as frames of tube: tubes fitted to one another, flat gussets on both faces, blind rivets, fabric.

All tubes of a rigid frame have one outside diameter, so that a flat plate lies on all of them along their crowns; the
rivets go through plate and crown. In each tube's arm

    first rivet    s = r/tan(t/2) + edge      t the least angle to another tube there: behind the fillet of the two
    reach of arm   s + (n - 1) pitch + edge

and the plate is the hull of all arms, each an edge distance to either side of its rivets. Edge distance and spacing:
ac-43-13-1b chapter 4 (read second hand); its 4-57 leaves common pulled rivets out of certificated structure, which
the joint says. Fitted ends and plates on both faces of light tube frames are common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import MultiPoint, Polygon
from shapely.geometry.polygon import orient

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.base.record import locked, number
from sparwright.data.loader import fasteners, material
from sparwright.family.model import Model, TailSurface
from sparwright.family.tail_frame import Gusset, TailFrame
from sparwright.parts.frame import tube_section, tube_stock
from sparwright.parts.number import part_number
from sparwright.parts.part import Hand, Joint, Mark, Part, Place, Plate, Skin
from sparwright.parts.wing import polygon_area, sheet_stock
from sparwright.shape.flat_frame import FlatFrame, Member, frames, in_space, pose_of
from sparwright.shape.solid import Pose, as_place, between
from sparwright.shape.tube import Fitted, both_ways, fitted_tube

GROUP = "tail"
FIN, TAILPLANE = ("fin", "rudder"), ("tailplane", "elevator")
CLOTH = 0.1e-3  # m: thickness the fabric is drawn with
NOSE = 9  # corners of its turn round an edge
RIVET_OVER = 3.0  # diameters of rivet over the grip, heads and tail together (common practice, no source)
BOLT_OVER = 5.0  # the same of a bolt with its nut and washers (common practice, no source)


@dataclass(frozen=True)
class Surface:
    """A tail surface with a frame, as its parts are made from it."""

    model: Model
    tail: TailSurface
    frame: TailFrame
    flat: bool  # the tailplane lies flat, the fin stands

    @property
    def pose(self) -> Pose:
        """Where its plane stands."""
        return pose_of(self.tail, self.flat)

    @property
    def frames(self) -> tuple[FlatFrame, ...]:
        """Its rigid frames."""
        return frames(self.tail, self.frame, self.flat)

    def name(self, frame: FlatFrame | str) -> str:
        """What a rigid frame is called: tailplane, elevator, fin, rudder."""
        names = TAILPLANE if self.flat else FIN
        return names[(frame if isinstance(frame, str) else frame.name) == "movable"]

    def number(self, frame: FlatFrame | str, kind: str, key: str = "", hand: str = "") -> str:
        """A part's number."""
        return part_number(self.model.name, self.name(frame), kind, key, hand)

    def member(self, frame: FlatFrame, m: Member) -> str:
        """A tube's number."""
        return self.number(frame, m.name, "", m.hand)


@dataclass(frozen=True)
class Arm:
    """One tube's part of a gusset."""

    member: Member
    along: np.ndarray = number("1", "(2,) direction from the node")
    first: float = number("m", "from the node to the first rivet")
    reach: float = number("m", "from the node to the plate's end")


def surfaces(model: Model) -> tuple[Surface, ...]:
    """The tail surfaces of a model that have a frame."""
    both = ((model.tailplane, True), (model.fin, False))
    return tuple(Surface(model, tail, tail.frame, flat) for tail, flat in both if tail.frame)


def frame_parts(s: Surface) -> Iterator[Part]:
    """Tubes, gussets, rivets and fabric."""
    for f in s.frames:
        for m in f.members:
            yield _tube(s, f, m)
        for node, arms in gussets(s, f):
            yield _gusset(s, f, node, arms)
    yield _rivets(s)
    yield from _fabric(s)


def frame_joints(s: Surface) -> Iterator[Joint]:
    """Each gusset pair with its rivets, and the fabric laced to the frame."""
    for f in s.frames:
        for node, arms in gussets(s, f):
            tubes = dict.fromkeys(s.member(f, a.member) for a in arms)
            plate, number = gusset_number(s, f, node), s.number("fixed", "RIVETS")
            yield Joint(
                number=f"{plate}-JOINT", kind="rivet", parts=(plate, *tubes, number), primary=True,
                place=as_place(in_space(s.pose, [f.nodes[node]])[0]), fastener=s.frame.gusset.rivet,
                fasteners=2 * s.frame.gusset.rivets * len(arms),
                note=f"a plate on each face; {inches(s.frame.gusset.edge)} to every edge{_pulled(s)}",
            )  # fmt: skip
        for hand in _hands(f):
            cloth = s.number(f, "FABRIC", "", hand)
            on = [s.member(f, m) for m in f.members if m.hand in ("", hand)]
            yield Joint(number=f"{cloth}-JOINT", kind="lacing", parts=(cloth, *on), place=_place(s, f, hand),
                        primary=False, note="glued round its edges, laced to the ribs once it is taut")  # fmt: skip


def _pulled(s: Surface) -> str:
    """What is said of pulled rivets."""
    blind = fasteners()[s.frame.gusset.rivet].kind == "blind rivet"
    return "; common pulled rivets are not for certificated structure (AC 43.13-1B 4-57)" if blind else ""


def _hands(f: FlatFrame) -> tuple[Hand, ...]:
    """The sides a rigid frame is covered on."""
    own = {m.hand for m in f.members}
    return ("R", "L") if own >= {"R", "L"} else ("R",) if "R" in own else ("L",) if "L" in own else ("",)


def _hand(text: str) -> Hand:
    return "R" if text == "R" else "L" if text == "L" else ""


# ------------------------------------------------------------------ tubes


def _tube(s: Surface, f: FlatFrame, m: Member) -> Part:
    path = in_space(s.pose, [f.nodes[n] for n in m.nodes])
    ends = [_fits(s, f, m, m.nodes[i]) for i in (0, -1)]
    shape = fitted_tube(path[_bends(path)], m.tube.outside, m.tube.wall, tube_section(m.tube), (ends[0], ends[1]))
    body = shape.solid()
    hand = _hand(m.hand)
    return Part(
        number=s.member(f, m), name=f"{s.name(f)} {m.kind}", form="tube", group=GROUP, purpose="tail frame",
        material=m.tube.material, stock=tube_stock(m.tube), places=(as_place(body.centre),),
        mass=body.volume * material(m.tube.material).density, hand=hand, shape=shape,
        at=" to ".join(n.strip("*") for n in (m.nodes[0], m.nodes[-1])),
    )  # fmt: skip


def _bends(path: np.ndarray) -> list[int]:
    """Its ends and the nodes it is bent at."""
    steps = np.diff(path, axis=0)
    way = steps / np.linalg.norm(steps, axis=1)[:, None]
    turned = np.linalg.norm(np.diff(way, axis=0), axis=1) > 1e-9
    return [0, *(int(i) + 1 for i in np.flatnonzero(turned)), len(path) - 1]


def _fits(s: Surface, f: FlatFrame, m: Member, node: str) -> list[Fitted]:
    """The tubes before it at a node, each one way or both."""
    met, origin = f.at(node), np.array(s.pose.origin)
    return [
        fit
        for other in met[: met.index(m)]
        for fit in both_ways([in_space(s.pose, way[None])[0] - origin for way in _ways(f, other, node)],
                             other.tube.outside / 2)
    ]  # fmt: skip


def _ways(f: FlatFrame, m: Member, node: str) -> list[np.ndarray]:
    """(2,) unit vectors along a tube from a node."""
    i, here = m.nodes.index(node), np.array(f.nodes[node])
    steps = [np.array(f.nodes[m.nodes[j]]) - here for j in (i - 1, i + 1) if 0 <= j < len(m.nodes)]
    return [step / np.linalg.norm(step) for step in steps]


# ------------------------------------------------------------------ gussets


def gussets(s: Surface, f: FlatFrame) -> Iterator[tuple[str, tuple[Arm, ...]]]:
    """Each node where tubes meet, and the arms of its plate, one at least on each tube.

    DesignProblem for a tube too short for its rivets.
    """
    for node in f.nodes:
        if len(f.at(node)) > 1:
            arms = tuple(_arms(s, f, node))
            for m in f.at(node):
                if all(a.member is not m for a in arms):
                    raise DesignProblem(
                        f"{s.member(f, m)}: its gusset at {node} has no room on it either way; tubes further apart, "
                        "or fewer rivets"
                    )
            yield node, arms


def _arms(s: Surface, f: FlatFrame, node: str) -> Iterator[Arm]:
    g, met = s.frame.gusset, f.at(node)
    for m in met:
        ends = node in (m.nodes[0], m.nodes[-1])
        for way in _ways(f, m, node):
            others = [v for other in met if other is not m for v in _ways(f, other, node)]
            least = min(math.acos(float(np.clip(way @ v, -1, 1))) for v in others)
            first = m.tube.outside / 2 / math.tan(least / 2) + g.edge
            reach = first + (g.rivets - 1) * g.pitch + g.edge
            room = _room(f, m, node, way)
            if reach <= room:
                yield Arm(m, way, first, reach)
            elif ends:
                raise DesignProblem(
                    f"{s.member(f, m)}: its gusset at {node} wants {inches(reach)} of it and there are "
                    f"{inches(room)}; fewer rivets, or tubes further apart or at a wider angle"
                )


def _room(f: FlatFrame, m: Member, node: str, way: np.ndarray) -> float:
    """Half way to the next node, or the whole way to a free end, m."""
    i, here = m.nodes.index(node), np.array(f.nodes[node])
    for j in (i - 1, i + 1):
        if 0 <= j < len(m.nodes):
            step = np.array(f.nodes[m.nodes[j]]) - here
            if step @ way > 0:
                return float(np.linalg.norm(step)) * (1.0 if m.nodes[j].startswith("*") else 0.5)
    return 0.0


def gusset_number(s: Surface, f: FlatFrame, node: str) -> str:
    """Number of the plates at a node."""
    hand = node[-1] if node[-1] in "RL" else ""
    return s.number(f, "GUSSET", node.removesuffix(hand) if hand else node, hand)


def outline(arms: Sequence[Arm], gusset: Gusset) -> np.ndarray:
    """(n, 2) the plate about its node: the hull of its arms, anticlockwise."""
    points = []
    for a in arms:
        side = gusset.edge * np.array([-a.along[1], a.along[0]])
        points += [q + d for q in (0 * a.along, a.reach * a.along) for d in (side, -side)]
    return ring_of(MultiPoint(points).convex_hull)


def ring_of(shape: Polygon) -> np.ndarray:
    """(n, 2) its outline, anticlockwise, without the repeated last point."""
    return np.array(orient(shape).exterior.coords)[:-1]


def rivet_places(arms: Sequence[Arm], gusset: Gusset) -> np.ndarray:
    """(k, 2) every rivet of one face about its node."""
    return np.array([(a.first + i * gusset.pitch) * a.along for a in arms for i in range(gusset.rivets)])


def _gusset(s: Surface, f: FlatFrame, node: str, arms: Sequence[Arm]) -> Part:
    g = s.frame.gusset
    ring, (u, v) = outline(arms, g), f.nodes[node]
    area, centre = polygon_area(ring)
    over = arms[0].member.tube.outside / 2 + g.sheet.thickness / 2
    poses = tuple(
        Pose(as_place(in_space(s.pose, [(u, v)], side * over)[0]), s.pose.x, s.pose.y) for side in (1.0, -1.0)
    )
    rivets = Mark(label=g.rivet, points=tuple((float(x), float(y)) for x, y in rivet_places(arms, g)))
    stuff = material(g.sheet.material)
    hand = _hand(node[-1])
    return Part(
        number=gusset_number(s, f, node), name=f"{s.name(f)} gusset {node.removesuffix(hand)}", form="plate",
        group=GROUP, purpose="tail gusset", material=g.sheet.material, stock=sheet_stock(g.sheet, stuff),
        places=tuple(p.place(*centre) for p in poses), poses=poses, mass=area * g.sheet.thickness * stuff.density,
        hand=hand, shape=Plate(outline=locked(ring), holes=(), thickness=g.sheet.thickness, marks=(rivets,)), at=node,
    )  # fmt: skip


def _rivets(s: Surface) -> Part:
    """All blind rivets of a surface, gussets and hinge straps, as one lot; their holes are drawn as marks only."""
    g = s.frame.gusset
    rivet = fasteners()[g.rivet]
    in_gussets = sum(2 * g.rivets * len(arms) for f in s.frames for _, arms in gussets(s, f))
    count = in_gussets + 3 * 2 * g.rivets * len(s.frame.hinges.places) * (2 if s.flat else 1)
    long = g.sheet.thickness + s.frame.fixed.rib.wall + RIVET_OVER * rivet.diameter
    metal = "6061-T6" if "aluminium" in g.rivet or rivet.kind == "solid rivet" else "4130N"
    mass = count * math.pi / 4 * rivet.diameter**2 * long * material(metal).density
    middle = in_space(s.pose, [np.mean([p for f in s.frames for p in f.nodes.values()], axis=0)])[0]
    return Part(number=s.number("fixed", "RIVETS"), name=f"{count} rivets {g.rivet}", form="item", group=GROUP,
                purpose="bought", material="bought", stock=f"{count} {g.rivet}", places=(as_place(middle),),
                mass=mass, band=0.5)  # fmt: skip


# ------------------------------------------------------------------ fabric


def _edges(f: FlatFrame, hand: Hand) -> list[tuple[np.ndarray, np.ndarray]]:
    """Root and tip: the point at the hinge and the point at the outer edge, (2,) each."""
    mine = [m for m in f.members if m.kind in ("root", "tip") and m.hand == hand]
    ends = [(np.array(f.nodes[m.nodes[0]]), np.array(f.nodes[m.nodes[1]])) for m in mine]
    return [(b, a) if f.name == "fixed" else (a, b) for a, b in ends]


def _fabric(s: Surface) -> Iterator[Part]:
    """One piece on each frame and side, from the hinge round the edge and back on the other face."""
    for f in s.frames:
        over = f.members[0].tube.outside / 2 + s.frame.gusset.sheet.thickness
        for hand in _hands(f):
            rings = [_band(s, p, q, over) for p, q in _edges(f, hand)]
            (p0, q0), (p1, q1) = _edges(f, hand)
            area, _ = polygon_area(np.array([p0, q0, q1, p1]))
            girth = np.pi * over * float(np.linalg.norm(q1 - q0))
            body = between(rings[0], rings[1])
            yield Part(
                number=s.number(f, "FABRIC", "", hand), name=f"{s.name(f)} fabric", form="skin", group=GROUP,
                purpose="skin", material="fabric", stock=material("fabric").title, places=(as_place(body.centre),),
                mass=(2 * area + girth) * s.frame.covering, band=s.frame.covering_band, hand=hand,
                shape=Skin(length=float(np.linalg.norm(q1 - q0)), thickness=0.0, rings=(locked(rings),),
                           width=(2 * area + girth) / float(np.linalg.norm(q1 - q0))),
            )  # fmt: skip


def _band(s: Surface, hinge: np.ndarray, edge: np.ndarray, over: float) -> np.ndarray:
    """(n, 3) the fabric cut across: out on one face, round the edge tube, back on the other."""
    along = (edge - hinge) / np.linalg.norm(edge - hinge)
    turn = np.linspace(np.pi / 2, -np.pi / 2, NOSE)

    def path(r: float) -> list[np.ndarray]:
        round_ = [np.append(edge + r * math.cos(t) * along, r * math.sin(t)) for t in turn]
        return [np.append(hinge, r), *round_, np.append(hinge, -r)]

    return s.pose.at(np.array([*path(over + CLOTH), *reversed(path(over))]))


def _place(s: Surface, f: FlatFrame, hand: Hand) -> Place:
    points = np.array([p for pair in _edges(f, hand) for p in pair])
    return as_place(in_space(s.pose, [points.mean(axis=0)])[0])
