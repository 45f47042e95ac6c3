"""Tail surfaces as bars: the flat frames of tube, what they are bolted and hinged by, horn, rod and cables.

Assumed, and why:

gussets   A plate lies on both crowns of each tube with two rivets or more in every arm, so a rib's bending out of the
          plane and its twist go over as a couple of both plates, three quarters of an inch apart, in shear of the
          rivets: stiff. In the plane an arm turns on one short row of rivets: where the bays are triangles, ribs,
          roots, tips and diagonals are pinned there; a frame without diagonals is a ladder that only its gussets keep
          square, so there they are stiff and their rivets carry the moment. Leading edge, spar, front tube and
          trailing edge run through.
tabs      A pair of plates welded on the node, tied at their ends by the bolt with what is clamped between them; each
          as wide all along as half way to its bolt. A root rib is a ball on the end of the bolt, a fin's
          foot one on its middle: neither roll nor yaw is held there, so struts and wires carry both.
hinges    A ball on the hinge line at each, the straps as stiff as the spar; of one elevator or rudder the innermost
          hinge holds it along the line, the others have play.
horn      A plate of the width of its end. The rod is a bar pinned at both ends from its hole to the nearest end of the
          tube that its bell-crank stands on; a cable one to that of its first pulley, pulling and pressing (one of a
          pair slackens as the other draws: half each). The crank's own moment and the cables forward are not in it.
          Where no rod or cable is in the file, the nearest node of the fuselage holds the horn.

Common practice, no source, but where a file is named.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import numpy as np
from shapely import LineString, Polygon

from sparwright.base.quantity import place_key
from sparwright.base.record import number
from sparwright.data.loader import fasteners
from sparwright.family.model import Model, Strut, StrutEnd, Wire
from sparwright.family.tail_frame import TailAttach
from sparwright.parts.tail_fittings import HALF_HOLE, Tab, bolt_place, horn_holes, inner_face, sides, tab_outline, tabs
from sparwright.parts.tail_frame import Surface, surfaces
from sparwright.shape.flat_frame import FlatFrame, Line, Member, Point, hinge_line, in_space, lines
from sparwright.structure.bar import BALL, RIGID, Bar, Ends
from sparwright.structure.sections import plate_section, round_section, tube_section
from sparwright.structure.tail_held import held_by

INCH = 0.0254
SAME = 0.2e-3  # m: places on a tube nearer than this are one node
IN_PLANE = (5,)  # of ribs and diagonals, about the surface's normal
THROUGH = ("leading edge", "spar", "front tube", "trailing edge")
ALONG = 1  # force along the hinge line, of a hinge with play
MIDDLE = "*LEmiddle"


@dataclass(frozen=True)
class Laced:
    """A rigid frame with every place on its tubes that something is joined at."""

    s: Surface
    f: FlatFrame
    points: Mapping[str, Point] = number("m", "u and v of every node that bars run between, by its own name")
    on: tuple[tuple[str, ...], ...] = ()  # of each member: its nodes in order

    def name(self, node: str) -> str:
        """The node's name in the whole frame."""
        return f"{self.s.name(self.f)}.{node.strip('*')}"

    def place(self, node: str) -> np.ndarray:
        """(3,) where it is, m."""
        return np.asarray(in_space(self.s.pose, [self.points[node]])[0])

    def at(self, line: str, v: float, hand: str) -> str:
        """Its own name of the node on a line at a v, the one that is there already if there is one."""
        return _near(self.points, line, v, hand) or _key(line, v, hand)


def _key(line: str, v: float, hand: str) -> str:
    return f"{line}@{v / INCH:.3f}{hand}"


def _near(points: Mapping[str, Point], line: str, v: float, hand: str) -> str:
    over = -1.0 if hand == "L" else 1.0
    mine = (n for n, p in points.items() if n.startswith(line) and abs(p[1] - over * v) < SAME)
    return next((n for n in mine if n.endswith(hand) or not hand), "")


def laced(model: Model) -> tuple[Laced, ...]:
    """The rigid frames of the tail with their nodes; none of a surface known by area."""
    return _laced(_Same(model))


class _Same:
    """A model by identity, so that its frames are worked out once."""

    def __init__(self, model: Model):
        self.model = model

    def __hash__(self) -> int:
        return id(self.model)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and other.model is self.model


@lru_cache(maxsize=8)
def _laced(key: _Same) -> tuple[Laced, ...]:
    return tuple(_with_places(key.model, s, f) for s in surfaces(key.model) for f in s.frames)


def _with_places(model: Model, s: Surface, f: FlatFrame) -> Laced:
    """Its own nodes and those between: hinges, bolts, ends of struts and wires, ends of the joining tube."""
    points = {n: p for n, p in f.nodes.items() if not n.startswith("*") or n == MIDDLE}
    along = lines(s.tail, s.frame, s.flat)
    for line, v, hand in _wanted(model, s, f):
        if not _near(points, line, v, hand):
            u, w = along[line].point(v)
            points[_key(line, v, hand)] = (u, -w if hand == "L" else w)
    points |= _bolts_on_ribs(s, f)
    return Laced(s, f, points, tuple(_along(f, m, points) for m in f.members))


def _wanted(model: Model, s: Surface, f: FlatFrame) -> Iterator[tuple[str, float, str]]:
    """(line, v, hand) of every place on the tubes that run through."""
    hands = ("R", "L") if s.flat and f.name == "fixed" else (f.hand,)
    for hand in hands:
        for v in s.frame.hinges.places:
            yield ("SP" if f.name == "fixed" else "FR"), v, hand
        if f.name == "movable":
            yield "FR", s.frame.movable.root + s.frame.movable.lap / 2, hand
            continue
        things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
        for end in (e for t in things for e in t.ends if e.tail == s.name("fixed")):
            yield _LINE[end.tube], end.along, hand
        for a in s.frame.attach:
            if a.tube != "rib":
                yield _LINE[a.tube], a.along, hand


_LINE = {"spar": "SP", "leading": "LE"}


def _bolts_on_ribs(s: Surface, f: FlatFrame) -> dict[str, Point]:
    if f.name != "fixed":
        return {}
    root = s.frame.fixed.root
    return {_key("ROOT", a.along, h): (a.along, root * over) for a in s.frame.attach if a.tube == "rib"
            for h, over in (("R", 1.0), ("L", -1.0))}  # fmt: skip


def _along(f: FlatFrame, m: Member, points: Mapping[str, Point]) -> tuple[str, ...]:
    """The nodes on a tube from its beginning to its end; those at its own free ends are left out."""
    path = np.array([f.nodes[n] for n in m.nodes])
    far = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(path, axis=0), axis=1))])
    found: dict[str, float] = {n: float(d) for n, d in zip(m.nodes, far, strict=True)}
    for n in points:
        if "@" in n:
            where, off = _projected(np.array(points[n]), path, far)
            if off < SAME:
                found[n] = where
    return tuple(n for n in sorted(found, key=lambda n: found[n]) if n in points)


def _projected(p: np.ndarray, path: np.ndarray, far: np.ndarray) -> tuple[float, float]:
    """(how far along the path a point lies, how far off it, m)."""
    a, step = path[:-1], np.diff(path, axis=0)
    t = np.clip(((p - a) * step).sum(axis=1) / (step**2).sum(axis=1), 0.0, 1.0)
    off = np.linalg.norm(p - a - t[:, None] * step, axis=1)
    i = int(np.argmin(off))
    return float(far[i] + t[i] * (far[i + 1] - far[i])), float(off[i])


# ------------------------------------------------------------------ nodes and bars


def tail_nodes(model: Model) -> dict[str, np.ndarray]:
    """Every node of the tail surfaces, their joining tubes and horns."""
    found = {one.name(n): one.place(n) for one in laced(model) for n in one.points}
    for s in surfaces(model):
        found |= _horn_places(s)
        found |= {f"{s.name('fixed')}.BOLT-{a.name}": np.array(bolt_place(s, a)) for a in s.frame.attach
                  if a.tube == "rib"}  # fmt: skip
    return found


def tail_end_node(model: Model, end: StrutEnd, side: str) -> str:
    """Name of the node where a strut or wire ends on a tail surface."""
    one = next(x for x in laced(model) if x.f.name == "fixed" and x.s.name("fixed") == end.tail)
    return one.name(one.at(_LINE[end.tube], end.along, side if one.s.flat else ""))


def tail_bars(model: Model, places: Mapping[str, np.ndarray]) -> Iterator[Bar]:
    """Every bar of the tail. places: the fuselage's nodes."""
    every = laced(model)
    for one in every:
        for m, nodes in zip(one.f.members, one.on, strict=True):
            yield from _member(one, m, nodes)
    for s in surfaces(model):
        mine = [x for x in every if x.s.name("fixed") == s.name("fixed")]
        yield from _tabs(model, mine[0], places)
        for one in mine[1:]:
            yield from _hinges(mine[0], one)
        yield from _join(s, mine[1:])
        yield from _horn(s)
        yield from held_by(model, s, horn_nodes(s), places)


def _over(s: Surface) -> np.ndarray:
    """(3,) square to the surface's plane."""
    return np.cross(np.array(s.pose.x), np.array(s.pose.y))


def _member(one: Laced, m: Member, nodes: Sequence[str]) -> Iterator[Bar]:
    part = one.s.frame.fixed if one.f.name == "fixed" else one.s.frame.movable
    through = m.kind in THROUGH or part.diagonal is None
    feet = {one.at(_LINE[x.tube], x.along, "") for x in one.s.frame.attach if x.tube != "rib"}
    last, ends = len(nodes) - 2, RIGID if through else IN_PLANE
    bolted = bool(feet & set(nodes)) or m.kind in ("front tube", "root")
    hole = fasteners()[one.s.frame.bolt if bolted else one.s.frame.gusset.rivet].diameter
    for i, (a, b) in enumerate(pairwise(nodes)):
        free = (BALL if a in feet else RIGID if i else ends, RIGID if i < last else ends)
        yield Bar(one.s.member(one.f, m), "tail tube", (one.name(a), one.name(b)), tube_section(m.tube), _over(one.s),
                  free=free, made=m.tube, hole=hole)  # fmt: skip


def _bolt_node(one: Laced, a: TailAttach) -> str:
    """A node of its own between root ribs; on a fin's foot the foot's."""
    return one.name(f"BOLT-{a.name}" if a.tube == "rib" else one.at(_LINE[a.tube], a.along, ""))


def _tabs(model: Model, one: Laced, places: Mapping[str, np.ndarray]) -> Iterator[Bar]:
    """Two plates from the node they are welded on to the bolt, which ties them; from it to the root ribs, or the foot.

    A fin's foot is on the bolt itself: its tube begins there.
    """
    s = one.s
    tab = {t.node: t for t in tabs(model)}
    pin = round_section(fasteners()[s.frame.bolt].diameter)
    for a in s.frame.attach:
        bolt, node = np.array(bolt_place(s, a)), _bolt_node(one, a)
        way, off = bolt - places[a.node], inner_face(tab[a.node]) + s.frame.tab.thickness / 2
        width = _half_way(model, tab[a.node], way)
        for hand, side in (("R", 1.0), ("L", -1.0)):
            arm = np.array([0.0, side * off, 0.0])
            yield Bar(f"{model.name}-tail-TAB-{a.node}-{hand}", "link", (a.node, node),
                      plate_section(s.frame.tab, width), np.array([way[2], 0.0, -way[0]]), (arm, arm))  # fmt: skip
            if a.tube == "rib":
                yield Bar(s.number("fixed", "BOLT", a.name.upper()), "link",
                          (node, one.name(_key("ROOT", a.along, hand))), pin,
                          np.array([0.0, 0.0, 1.0]), (arm, np.zeros(3)), (RIGID, BALL))  # fmt: skip


def _half_way(model: Model, tab: Tab, way: np.ndarray) -> float:
    """Width of a tab square to its way from node to bolt, half way along, m."""
    middle, across = way[[0, 2]] / 2, np.array([way[2], -way[0]]) / float(np.linalg.norm(way[[0, 2]]))
    line = LineString([middle - across, middle + across])
    return float(Polygon(tab_outline(model, tab)).intersection(line).length)


def _hinges(fixed: Laced, one: Laced) -> Iterator[Bar]:
    """From the spar to the hinge line, where the front tube's own arm begins."""
    s, hand = one.s, one.f.hand
    hinge: Line = hinge_line(s.tail, s.flat)
    over = _over(s)
    for i, v in enumerate(sorted(s.frame.hinges.places)):
        u, w = hinge.point(v)
        at = in_space(s.pose, [(u, -w if hand == "L" else w)])[0]
        a, b = fixed.at("SP", v, hand), one.at("FR", v, hand)
        free = BALL if i == 0 else (ALONG, *BALL)
        yield Bar(s.number("fixed", "HINGE-EYE", place_key(v), hand), "link", (fixed.name(a), one.name(b)),
                  tube_section(s.frame.fixed.spar), over, (np.zeros(3), at - one.place(b)), (RIGID, free))  # fmt: skip


# ------------------------------------------------------------------ joining tube and horn


def joining(surface: str) -> str:
    """The node of a movable surface's joining tube where its horn is welded on."""
    return f"{surface}.JOIN"


def _horn_node(s: Surface) -> str:
    return joining(s.name("movable"))


def horn_nodes(s: Surface) -> dict[str, np.ndarray]:
    """(3,) each hole of the horn, by name; of two the lower or left one first."""
    holes, _ = horn_holes(s)
    return {f"{s.name('movable')}.HORN{i}": np.asarray(p) for i, p in enumerate(holes)}


def _horn_places(s: Surface) -> dict[str, np.ndarray]:
    front = lines(s.tail, s.frame, s.flat)["FR"]
    return {_horn_node(s): np.asarray(in_space(s.pose, [front.point(s.frame.horn.along)])[0]), **horn_nodes(s)}


def _join(s: Surface, movable: Sequence[Laced]) -> Iterator[Bar]:
    """From bolt to bolt of the front tubes by way of the horn; a rudder's from its bolts to the horn."""
    m, part, hole = s.frame.movable, s.number("movable", "JOIN"), fasteners()[s.frame.bolt].diameter
    for one, side in zip(movable, sides(s), strict=True):
        node = one.name(one.at("FR", m.root + m.lap / 2, side.hand))
        yield Bar(part, "tail tube", (_horn_node(s), node), tube_section(m.join), _over(s), made=m.join,
                  hole=hole)  # fmt: skip


def _horn(s: Surface) -> Iterator[Bar]:
    """A plate in the plane square to the hinge line, as wide all along as at its end."""
    horn = s.frame.horn
    section = plate_section(horn.sheet, 2 * HALF_HOLE * horn.hole)
    fore = np.array(s.pose.x)
    for node in horn_nodes(s):
        ends: Ends = (_horn_node(s), node)
        yield Bar(s.number("movable", "HORN"), "link", ends, section, fore)
