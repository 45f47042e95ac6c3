"""Drag bracing as parts and joints: tubes between a wing's spars, plates on their ends, lugs, crossed wires.

In each bay one wire goes from the front spar at its inner tube to the rear spar at its outer one and pulls when the
air drags the wing aft; the other goes the other way. They lie over and under the tubes' middle, so that they pass one
another. The plates stand on the spars' inner faces, four bolts through each spar, welded to the tube and to the lugs;
a lug lies in the plane of its wire. A wire begins in a fork at its inner end and ends in a turnbuckle. Common practice,
no source; the shapes are worked out here.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from shapely import LineString, box

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, place_key
from sparwright.base.record import locked, number
from sparwright.data.hardware import WireEnd, wire_end
from sparwright.data.loader import fasteners, material
from sparwright.family.drag_bracing import DragBracing
from sparwright.family.model import Model, Spar, Wing
from sparwright.parts.bolts import bolt_for, bolt_mass, heading
from sparwright.parts.ends import CLEAR
from sparwright.parts.frame import cable_mass, tube_section, tube_stock
from sparwright.parts.inside_spar import between_caps, block_joint, inside_names, inside_parts
from sparwright.parts.lugs import STAND, disc, hull, mirrored_places, plate_part
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Formed, Joint, Part
from sparwright.parts.struts import fork_body
from sparwright.parts.wing import web_number
from sparwright.shape.solid import Pose, as_place
from sparwright.shape.spar import SparAxes, panel_of, spar_axes
from sparwright.shape.tube import Tube

EDGE = 2.0  # diameters of a bolt from its middle to the plate's edge (common practice, no source)
WORDS = {1: "DRAG", -1: "ANTIDRAG"}  # by the level of the wire


@dataclass(frozen=True)
class Post:
    """One end of a tube, on the inner face of a spar."""

    spar: Spar
    axes: SparAxes
    buttline: float = number("m", "where it is")
    inward: float = number("1", "1 for the front spar, whose inner face looks aft; -1 for the rear one")

    def at(self, out: float, along: float = 0.0, up: float = 0.0) -> np.ndarray:
        """(3,) m: a place that far off the spar's inner face towards the other spar."""
        return self.axes.at(self.inward * (self.axes.width / 2 + out), along, up)


@dataclass(frozen=True)
class Pull:
    """One end of a wire."""

    post: Post
    piece: WireEnd
    pin: np.ndarray = number("m", "(3,) middle of its pin")
    way: np.ndarray = number("1", "(3,) from the pin along the wire")
    normal: np.ndarray = number("1", "(3,) along the pin")


@dataclass(frozen=True)
class Crossing:
    """One wire of a bay."""

    level: int  # 1 for the one against drag, over the tubes' middle; -1 for the other
    start: float = number("m", "buttline of its inner end")
    ends: tuple[Pull, Pull] = ()  # type: ignore[assignment]  # inner, outer


def bared(model: Model) -> tuple[str, ...]:
    """What of drag bracing is not drawn: wings of two spars covered with fabric that have none."""
    bare = [w.name for w in model.wings if w.drag_bracing is None and len(w.spars) == 2
            and any(material(s.material).kind == "fabric" for s in w.skins)]  # fmt: skip
    return (f"drag bracing ({', '.join(bare)})",) if bare else ()


def posts(model: Model, wing: Wing, buttline: float) -> tuple[Post, Post]:
    """Both ends of the tube at a buttline, front spar first."""
    panel = panel_of(wing, buttline)
    front, rear = sorted(wing.spars, key=lambda s: s.at)
    return (Post(front, spar_axes(model, wing, panel, front, buttline), buttline, 1.0),
            Post(rear, spar_axes(model, wing, panel, rear, buttline), buttline, -1.0))  # fmt: skip


def crossings(model: Model, wing: Wing) -> tuple[Crossing, ...]:
    """Both wires of each bay of a wing, right side. DesignProblem where the ends of a wire leave nothing of it."""
    drag = wing.drag_bracing
    if drag is None:
        return ()
    found = []
    for a, b in pairwise(drag.bays):
        inner, outer = posts(model, wing, a), posts(model, wing, b)
        for level, (i, o) in ((1, (inner[0], outer[1])), (-1, (inner[1], outer[0]))):
            fork, buckle = _ends(wing, drag)
            p, q = _pin(drag, i, fork, 1.0, level), _pin(drag, o, buckle, -1.0, level)
            long, least = float(np.linalg.norm(q - p)), fork.length + buckle.length
            if long <= least:
                raise DesignProblem(f"wing {wing.name}, drag_bracing: a wire is {inches(long)} from pin to pin, less "
                                    "than its ends are long")  # fmt: skip
            way = (q - p) / long
            found.append(Crossing(level, a, (_pull(i, fork, p, way), _pull(o, buckle, q, -way))))
    return tuple(found)


def _ends(wing: Wing, drag: DragBracing) -> tuple[WireEnd, WireEnd]:
    """What the inner and the outer end of a wire are. DesignProblem where none of them is made for it."""
    fork, buckle = wire_end("fork", drag.wire), wire_end("turnbuckle", drag.wire)
    if fork is None or buckle is None:
        raise DesignProblem(f"wing {wing.name}, drag_bracing.wire: no fork or turnbuckle for a wire of "
                            f"{inches(drag.wire)} is on file")  # fmt: skip
    return fork, buckle


def _pin(drag: DragBracing, post: Post, piece: WireEnd, side: float, level: int) -> np.ndarray:
    """(3,) m: beside the tube, the lug's stand clear of it, the fork clear of the plate."""
    beside = drag.tube.outside / 2 + STAND * drag.edge + CLEAR
    return post.at(drag.foot.thickness + _stands_off(drag, piece), side * beside, level * drag.level)


def _stands_off(drag: DragBracing, piece: WireEnd) -> float:
    return max(drag.edge, piece.half) + CLEAR


def _pull(post: Post, piece: WireEnd, pin: np.ndarray, way: np.ndarray) -> Pull:
    n = post.axes.up - (post.axes.up @ way) * way
    return Pull(post, piece, locked(pin), locked(way), locked(n / np.linalg.norm(n)))


# ------------------------------------------------------------------ parts


def _number(model: Model, wing: Wing, kind: str, buttline: float) -> str:
    return part_number(model.name, wing.name, kind, place_key(buttline))


def _foot_number(model: Model, wing: Wing, post: Post) -> str:
    return _number(model, wing, f"DRAG-FOOT-{post.spar.name}".upper(), post.buttline)


def _end_number(model: Model, wing: Wing, wire: Crossing, which: int, kind: str) -> str:
    return _number(model, wing, f"{WORDS[wire.level]}-{kind}-{('INNER', 'OUTER')[which]}", wire.start)


def drag_parts(model: Model, wing: Wing) -> Iterator[Part]:
    """Tubes, plates, what lies inside the spars, lugs, pins, wires and their ends; none where the file has none."""
    drag = wing.drag_bracing
    for y in drag.bays if drag else ():
        assert drag is not None
        both = posts(model, wing, y)
        yield _tube(model, wing, drag, both)
        for post in both:
            yield _foot(model, wing, drag, post)
            yield from _inside(model, wing, drag, post)
    for wire in crossings(model, wing):
        assert drag is not None
        yield _wire(model, wing, drag, wire)
        for which, pull in enumerate(wire.ends):
            yield _lug(model, wing, drag, wire, which)
            yield from _wire_end(model, wing, drag, wire, which, pull)


def _tube(model: Model, wing: Wing, drag: DragBracing, both: tuple[Post, Post]) -> Part:
    path = locked([p.at(drag.foot.thickness) for p in both])
    shape = Tube(path=path, outside=drag.tube.outside, wall=drag.tube.wall, section=tube_section(drag.tube))
    body, y = shape.solid(), both[0].buttline
    return Part(
        number=_number(model, wing, "DRAG-TUBE", y), name=f"tube between the spars, {wing.name}", form="tube",
        group=f"wing {wing.name}", purpose="drag bracing", material=drag.tube.material, stock=tube_stock(drag.tube),
        places=mirrored_places(body.centre), mass=body.volume * material(drag.tube.material).density, shape=shape,
        at=f"BL {inches(y, 10**6)}",
    )  # fmt: skip


def _reach(drag: DragBracing) -> float:
    """Of a bolt's hole to the plate's edge, m."""
    return EDGE * fasteners()[drag.bolt].diameter


def _foot(model: Model, wing: Wing, drag: DragBracing, post: Post) -> Part:
    up = drag.pitch / 2 + _reach(drag)
    wide = max(up, drag.tube.outside / 2 + 2 * STAND * drag.edge + CLEAR)
    room = post.axes.depth / 2
    if up > room:
        raise DesignProblem(f"wing {wing.name}, drag_bracing.pitch: its plate is {inches(2 * up)} high on the spar "
                            f"{post.spar.name}, which is {inches(2 * room)} deep")  # fmt: skip
    pose = post.axes.face(post.inward * (post.axes.width + drag.foot.thickness) / 2)
    square = drag.pitch / 2
    holes = [(x, y, fasteners()[drag.bolt].diameter) for x in (-square, square) for y in (-square, square)]
    part = plate_part(_foot_number(model, wing, post), f"plate under a tube on the {post.spar.name} spar", drag.foot,
                      box(-wide, -up, wide, up), pose, holes, at=f"BL {inches(post.buttline, 10**6)}",
                      purpose="drag bracing")  # fmt: skip
    return replace(part, group=f"wing {wing.name}")


def _inside(model: Model, wing: Wing, drag: DragBracing, post: Post) -> Iterator[Part]:
    between_caps(drag, post.spar, post.axes, f"wing {wing.name}, drag_bracing")
    made = drag if post.spar.webs == 2 else replace(drag, block="", spacer=None)
    number_ = _foot_number(model, wing, post)
    for part in inside_parts(model, wing, post.spar, post.axes, made, number_, _grip(drag, post)):
        yield replace(part, group=f"wing {wing.name}", purpose=part.purpose.replace("fitting", "drag bracing"))


def _grip(drag: DragBracing, post: Post) -> float:
    return sum(t for _, t in _layers(drag, post))


def _layers(drag: DragBracing, post: Post) -> list[tuple[str, float]]:
    two = post.spar.webs == 2
    spar = ("spar", post.axes.width) if two else ("web", post.spar.web.thickness)
    return [("plate", drag.foot.thickness), spar]


def _lug(model: Model, wing: Wing, drag: DragBracing, wire: Crossing, which: int) -> Part:
    """Round the pin, and its stand on the plate; in the plane of its wire."""
    pull = wire.ends[which]
    out = pull.post.inward * pull.post.axes.aft
    out = out - (out @ pull.normal) * pull.normal
    out = out / np.linalg.norm(out)
    pose = Pose(as_place(pull.pin), as_place(np.cross(out, pull.normal)), as_place(out))
    off, half = _stands_off(drag, pull.piece), STAND * drag.edge
    outline = hull([disc((0.0, 0.0), drag.edge), LineString([(-half, -off), (half, -off)])])
    pin = fasteners()[pull.piece.pin].diameter
    number_ = _end_number(model, wing, wire, which, "LUG")
    at, name = f"BL {inches(pull.post.buttline, 10**6)}", f"lug for a drag wire, {wing.name}"
    part = plate_part(number_, name, drag.lug, outline, pose, [(0.0, 0.0, pin)], at=at, purpose="drag bracing")
    return replace(part, group=f"wing {wing.name}")


def _wire(model: Model, wing: Wing, drag: DragBracing, wire: Crossing) -> Part:
    a, b = wire.ends
    path = locked([a.pin + a.piece.length * a.way, b.pin + b.piece.length * b.way])
    whole = float(np.linalg.norm(path[1] - path[0])) + a.piece.socket + b.piece.socket
    pins = float(np.linalg.norm(b.pin - a.pin))
    return Part(
        number=_number(model, wing, f"{WORDS[wire.level]}-WIRE", wire.start),
        name=f"wire against {'drag' if wire.level > 0 else 'the air pulling forward'}, {wing.name}", form="bar",
        group=f"wing {wing.name}", purpose="drag bracing", material="bought",
        stock=f"{drag.construction} steel cable, {inches(drag.wire)}, cut {inches(whole)}, pin to pin {inches(pins)}",
        places=mirrored_places((path[0] + path[1]) / 2), band=0.1,
        mass=cable_mass(drag.construction, drag.wire) * whole,
        shape=Tube(path=path, outside=drag.wire, wall=0.0, section=f"{inches(drag.wire)} {drag.construction}"),
    )  # fmt: skip


def _pin_bolt(pull: Pull) -> Bolt:
    piece = pull.piece
    under = [("cheek", piece.cheek), ("lug and washers", piece.jaw), ("cheek", piece.cheek)]
    return bolt_for(piece.pin, under, heading(pull.normal), turns=True, limit="must not draw the cheeks together")


def _wire_end(model: Model, wing: Wing, drag: DragBracing, wire: Crossing, which: int, pull: Pull) -> Iterator[Part]:
    """Fork or turnbuckle, and the pin as a rod with its diameter more at either end, for head and nut."""
    piece, bolt = pull.piece, _pin_bolt(pull)
    body = fork_body(piece, pull.pin, pull.normal, pull.way, drag.edge)
    group, d = f"wing {wing.name}", fasteners()[piece.pin].diameter
    yield Part(
        number=_end_number(model, wing, wire, which, piece.kind.upper()), name=f"{piece.kind} of a drag wire",
        form="item", group=group, purpose="drag bracing", material="bought", mark="memory", band=0.3,
        stock=f"{piece.kind} for {inches(drag.wire)} wire, pin {piece.pin}", places=mirrored_places(body.centre),
        mass=piece.mass - bolt_mass(piece.pin, bolt.grip),
        shape=Formed(body=body, length=piece.length, outside=2 * piece.half),
    )  # fmt: skip
    half = bolt.grip / 2 + d
    rod = Tube(path=locked([pull.pin - half * pull.normal, pull.pin + half * pull.normal]), outside=d, wall=0.0,
               section=piece.pin)  # fmt: skip
    yield Part(
        number=_end_number(model, wing, wire, which, "PIN"), name=f"bolt {piece.pin}, nut and washers", form="tube",
        group=group, purpose="drag bracing", material="bought", stock=f"{bolt.stock}, {bolt.nut}", band=0.2,
        places=mirrored_places(pull.pin), mass=bolt_mass(piece.pin, bolt.grip), shape=rod,
    )  # fmt: skip


# ------------------------------------------------------------------ joints


def drag_joints(model: Model, wing: Wing) -> Iterator[Joint]:
    """Plates through the spars, tubes and lugs welded to plates, pins through forks and lugs, wires in their ends."""
    drag = wing.drag_bracing
    for y in drag.bays if drag else ():
        assert drag is not None
        tube = _number(model, wing, "DRAG-TUBE", y)
        for post in posts(model, wing, y):
            yield from _foot_joints(model, wing, drag, post)
            yield Joint(number=f"{_foot_number(model, wing, post)}-WELD", kind="weld", primary=True, count=2,
                        parts=(_foot_number(model, wing, post), tube), place=as_place(post.at(drag.foot.thickness)),
                        length=math.pi * drag.tube.outside, note="all round")  # fmt: skip
    for wire in crossings(model, wing):
        assert drag is not None
        for which, pull in enumerate(wire.ends):
            lug, end, pin = (_end_number(model, wing, wire, which, k) for k in ("LUG", pull.piece.kind.upper(), "PIN"))
            place, foot = as_place(pull.pin), _foot_number(model, wing, pull.post)
            yield Joint(number=f"{lug}-WELD", kind="weld", parts=(foot, lug), place=place, primary=True, count=2,
                        length=4 * STAND * drag.edge, note="both faces")  # fmt: skip
            yield Joint(number=f"{pin}-JOINT", kind="wire end", parts=(pin, end, lug), place=place, primary=True,
                        fastener=pull.piece.pin, fasteners=1, through=lug, count=2, bolt=_pin_bolt(pull),
                        note="snug; free to turn on its pin")  # fmt: skip
            own = _number(model, wing, f"{WORDS[wire.level]}-WIRE", wire.start)
            yield Joint(number=f"{end}-JOINT", kind="wire end", parts=(end, own), place=place, primary=True, count=2,
                        length=pull.piece.socket, note="swaged; gauged and pulled before it goes in")  # fmt: skip


def _foot_joints(model: Model, wing: Wing, drag: DragBracing, post: Post) -> Iterator[Joint]:
    number_, panel = _foot_number(model, wing, post), panel_of(wing, post.buttline)
    inside = inside_names(number_, drag) if post.spar.webs == 2 else ()
    limit = "large washers under the nuts; the block or the tubes on the bolts take the clamping" if inside else (
        "large washers under the nuts, on the web")  # fmt: skip
    bolt = bolt_for(drag.bolt, _layers(drag, post), "aft" if post.inward > 0 else "forward", limit=limit)
    parts = (web_number(model, wing, panel, post.spar), number_, *inside, f"{number_}-BOLTS")
    yield Joint(number=f"{number_}-BOLTS-JOINT", kind="bolt", parts=parts, place=as_place(post.at(0.0)), primary=True,
                fastener=drag.bolt, fasteners=4, count=2, bolt=bolt, note="between the caps")  # fmt: skip
    if inside and drag.block:
        yield block_joint(model, wing, post.spar, post.axes, drag, number_)
