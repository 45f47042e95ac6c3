"""Struts and wires as parts, their ends, and the pins that hold them.

A strut's tube runs from pin to pin and is cut to the bush welded across its end; a strut that is not welded ends
square and takes a plug with the bush in its bore, held by two bolts. A wire is as long as from pin to pin less what its
ends are, and is cut longer by what goes into their sockets. Where the file does not say what an end is, tube or wire
goes to the bare place and the joint is unknown.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import numpy as np
from shapely import LineString, Point

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, place_key
from sparwright.base.record import locked, number
from sparwright.data.hardware import WireEnd
from sparwright.data.loader import fasteners, material
from sparwright.family.fittings import StrutPiece
from sparwright.family.model import Model, RoundTube, Strut, StrutEnd, Wire
from sparwright.parts.bolts import bolt_for, bolt_mass, heading
from sparwright.parts.ends import CLEAR, Held, Lugs, pin_diameter, spots
from sparwright.parts.frame import FILL, cable_mass, tube_number, tube_section, tube_stock
from sparwright.parts.lugs import hole, hull, mirrored_places
from sparwright.parts.node_lugs import node_lug_numbers
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Formed, Joint, JointKind, Part
from sparwright.parts.spar_fittings import lug_numbers
from sparwright.parts.tail_bracing import clamp_lug_numbers
from sparwright.parts.tail_ends import clamps
from sparwright.parts.tail_frame import GROUP as TAIL
from sparwright.parts.tail_frame import ring_of
from sparwright.parts.wing import web_number
from sparwright.shape.frame import ON_CENTRE, end_place, runs
from sparwright.shape.lifting import panel_at
from sparwright.shape.solid import Pose, Solid, as_place, cylinder, joined, plate
from sparwright.shape.tube import Fitted, Tube, fitted_tube


@dataclass(frozen=True)
class Pinned:
    """One end of a strut or wire on its pin."""

    held: Held
    lugs: Lugs
    pin: np.ndarray = number("m", "(3,) middle of its pin")
    plates: tuple[str, ...] = ()  # numbers of its lugs
    thick: float = number("m", "of a lug", 0.0)
    edge: float = number("m", "from the pin's middle to a lug's edge", 0.0)


def pinned(model: Model) -> dict[tuple[str, int], Pinned]:
    """Every end that is held, by the name of its strut or wire and which end it is."""
    found: dict[tuple[str, int], Pinned] = {}
    on_spars, at_nodes = spots(model)
    sets = [(lugs, lug_numbers(model, s, side, lugs), s.fitting) for s in on_spars for side, lugs in s.lugs]
    sets += [(lugs, node_lug_numbers(model, n, lugs), n.fitting) for n in at_nodes for lugs in n.lugs if n.fitting]
    sets += [(lugs, clamp_lug_numbers(model, c, lugs), c.fitting) for c in clamps(model) for lugs in c.lugs]
    for lugs, plates, fitting in sets:
        for h, pin in zip(lugs.held, lugs.pins, strict=True):
            found[h.thing.name, h.which] = Pinned(h, lugs, pin, tuple(plates), fitting.lug.thickness, fitting.edge)
    return found


def strut_number(model: Model, strut: Strut) -> str:
    """Number of a strut."""
    return part_number(model.name, "struts", strut.name.upper())


def wire_number(model: Model, wire: Wire) -> str:
    """Number of a wire."""
    return part_number(model.name, "wires", wire.name.upper())


def strut_parts(model: Model) -> Iterator[Part]:
    """Every strut and wire with what it ends in and its pins, right and left together."""
    ends = pinned(model)
    things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    for thing in things:
        made = _made(model, thing, [ends.get((thing.name, i)) for i in (0, 1)])
        yield from (replace(p, group=TAIL) for p in made) if any(e.tail for e in thing.ends) else made


def _made(model: Model, thing: Strut | Wire, mine: list[Pinned | None]) -> Iterator[Part]:
    yield _strut(model, thing, mine) if isinstance(thing, Strut) else _wire(model, thing, mine)
    for end in mine:
        if end:
            yield from _strut_end(model, thing, end) if isinstance(thing, Strut) else _wire_end(model, thing, end)


def _points(model: Model, thing: Strut | Wire, mine: list[Pinned | None]) -> tuple[np.ndarray, np.ndarray]:
    a, b = (p.pin if p else np.array(end_place(model, e)) for p, e in zip(mine, thing.ends, strict=True))
    return a, b


def _piece(p: Pinned) -> StrutPiece:
    assert isinstance(p.held.piece, StrutPiece)
    return p.held.piece


def _bare(p: Pinned) -> float:
    """From a pin to where a strut that takes a plug begins, m."""
    return _piece(p).bush.outside / 2 + CLEAR


def _around_bush(p: Pinned) -> tuple[Fitted, Fitted]:
    n, r = p.lugs.normal, _piece(p).bush.outside / 2
    return Fitted(as_place(n), r), Fitted(as_place(-n), r)


def _strut(model: Model, strut: Strut, mine: list[Pinned | None]) -> Part:
    path = np.array(_points(model, strut, mine))
    way = (path[1] - path[0]) / np.linalg.norm(path[1] - path[0])
    fits: list[tuple[Fitted, ...]] = [(), ()]
    for i, p in enumerate(mine):
        if p and _piece(p).plug:
            path[i] = path[i] + (way, -way)[i] * _bare(p)
        elif p:
            fits[i] = _around_bush(p)
    shape = fitted_tube(path, strut.tube.outside, strut.tube.wall, tube_section(strut.tube), (fits[0], fits[1]))
    pins = float(np.linalg.norm(np.subtract(*_points(model, strut, mine))))
    told = f", pin to pin {inches(pins)}" if all(mine) else ""
    return _tube_part(model, strut_number(model, strut), strut.name.replace("_", " "), strut.tube, shape, "strut",
                      "struts", at=_at(strut), told=told)  # fmt: skip


def _tube_part(model: Model, number: str, name: str, tube: RoundTube, shape: Tube, purpose: str, group: str,
               at: str = "", told: str = "") -> Part:  # fmt: skip
    body = shape.solid()
    return Part(
        number=number, name=name, form="tube", group=group, purpose=purpose, material=tube.material,
        stock=tube_stock(tube) + told, places=mirrored_places(body.centre), at=at, shape=shape,
        mass=body.volume * material(tube.material).density,
    )  # fmt: skip


def _end_key(end: StrutEnd) -> str:
    if end.tail:
        return f"{end.tail}-{end.tube}-{place_key(end.along)}"
    return end.node or f"{end.wing}-{end.spar}-{place_key(end.buttline)}"


def _number(model: Model, p: Pinned, kind: str) -> str:
    group = "struts" if isinstance(p.held.thing, Strut) else "wires"
    return part_number(model.name, group, f"{p.held.thing.name}-{kind}".upper(), _end_key(p.held.end))


def _strut_end(model: Model, strut: Strut, p: Pinned) -> Iterator[Part]:
    """Bush, plug, pin."""
    piece, n, at = _piece(p), p.lugs.normal, _at_end(p.held.end)
    half = piece.width / 2
    bush = Tube(path=locked([p.pin - half * n, p.pin + half * n]), outside=piece.bush.outside, wall=piece.bush.wall,
                section=tube_section(piece.bush))  # fmt: skip
    yield _tube_part(model, _number(model, p, "BUSH"), "bush across a strut's end", piece.bush, bush, "strut end",
                     "struts", at)  # fmt: skip
    if piece.plug:
        far = p.pin + p.held.away * (_bare(p) + (piece.lap or 0.0))
        plug = fitted_tube(np.array([p.pin, far]), piece.plug.outside, piece.plug.wall, tube_section(piece.plug),
                           (_around_bush(p), ()))  # fmt: skip
        yield _tube_part(model, _number(model, p, "PLUG"), "plug in a strut's end", piece.plug, plug, "strut end",
                         "struts", at)  # fmt: skip
        grip = strut.tube.outside
        stock = bolt_for(piece.bolt, [("strut and plug", grip)], "forward").stock
        yield Part(number=_number(model, p, "PLUG-BOLTS"), name="two bolts through strut and plug", form="item",
                   group="struts", purpose="bought", material="bought", stock=f"2 {stock}", band=0.2,
                   places=mirrored_places(far), mass=2 * bolt_mass(piece.bolt, grip))  # fmt: skip
    yield _pin_part(model, p)


def _pin_part(model: Model, p: Pinned) -> Part:
    """The pin as a rod with its diameter more at either end, for head and nut."""
    bolt, d = _pin_bolt(p), pin_diameter(p.held)
    long = bolt.grip / 2 + d
    shape = Tube(path=locked([p.pin - long * p.lugs.normal, p.pin + long * p.lugs.normal]), outside=d, wall=0.0,
                 section=p.held.pin)  # fmt: skip
    return Part(
        number=_number(model, p, "PIN"), name=f"bolt {p.held.pin}, nut and washers", form="tube", group="struts",
        purpose="strut end", material="bought", stock=f"{bolt.stock}, {bolt.nut}", places=mirrored_places(p.pin),
        mass=bolt_mass(p.held.pin, bolt.grip), band=0.2, at=_at_end(p.held.end), shape=shape,
    )  # fmt: skip


def _pin_bolt(p: Pinned) -> Bolt:
    """The bolt across a bush and its lugs, or a fork and its lug."""
    piece = p.held.piece
    if isinstance(piece, StrutPiece):
        under = [("lug", p.thick), ("bush", piece.width), ("lug", p.thick)]
        limit = "clamps the bush between the lugs, never the tube; the strut turns by hand"
    else:
        under = [("cheek", piece.cheek), ("lug and washers", piece.jaw), ("cheek", piece.cheek)]
        limit = "must not draw the cheeks together"
    return bolt_for(p.held.pin, under, heading(p.lugs.normal), turns=True, limit=limit)


# ------------------------------------------------------------------ wires


def _wire(model: Model, wire: Wire, mine: list[Pinned | None]) -> Part:
    if wire.construction not in FILL:
        known = ", ".join(FILL)
        raise DesignProblem(f"wire {wire.name}: cable {wire.construction!r} is not one we know; {known} are")
    a, b = _points(model, wire, mine)
    way = (b - a) / np.linalg.norm(b - a)
    ends = [p.held.piece if p else None for p in mine]
    start, stop = (e.length if isinstance(e, WireEnd) else 0.0 for e in ends)
    into = sum(e.socket for e in ends if isinstance(e, WireEnd))
    path = locked([a + start * way, b - stop * way])
    whole, pins = float(np.linalg.norm(path[1] - path[0])) + into, float(np.linalg.norm(b - a))
    if start + stop >= pins:
        raise DesignProblem(
            f"{model.name}: wire {wire.name} is {inches(pins)} from pin to pin, less than its ends are long"
        )
    told = f", cut {inches(whole)}, pin to pin {inches(pins)} under tension" if all(mine) else ""
    return Part(
        number=wire_number(model, wire), name=f"{wire.name.replace('_', ' ')} wire", form="bar", group="struts",
        purpose="wire", material="bought", stock=f"{wire.construction} steel cable, {inches(wire.diameter)}{told}",
        places=mirrored_places((path[0] + path[1]) / 2), at=_at(wire), band=0.1,
        mass=cable_mass(wire.construction, wire.diameter) * whole,
        shape=Tube(path=path, outside=wire.diameter, wall=0.0, section=f"{inches(wire.diameter)} {wire.construction}"),
    )  # fmt: skip


def _wire_end(model: Model, wire: Wire, p: Pinned) -> Iterator[Part]:
    piece = p.held.piece
    assert isinstance(piece, WireEnd)
    body = fork_body(piece, p.pin, p.lugs.normal, p.held.away, p.edge)
    yield Part(
        number=_number(model, p, piece.kind), name=f"{piece.kind} of a wire", form="item", group="struts",
        purpose="wire end", material="bought", stock=f"{piece.kind} for {inches(wire.diameter)} wire, pin {piece.pin}",
        places=mirrored_places(body.centre), mass=piece.mass - bolt_mass(piece.pin, _pin_bolt(p).grip), band=0.3,
        at=_at_end(p.held.end), mark="memory", shape=Formed(body=body, length=piece.length, outside=2 * piece.half),
    )  # fmt: skip
    yield _pin_part(model, p)


def fork_body(end: WireEnd, pin: np.ndarray, normal: np.ndarray, way: np.ndarray, edge: float) -> Solid:
    """Two cheeks round the lug, what joins them behind it, and the shank the wire goes into.

    pin, normal, way: (3,) the pin's middle and direction, and the wire's from it; edge: of the lug, from the pin, m.
    """
    n = normal
    side = np.cross(n, way)
    behind = edge + CLEAR  # from the pin to what joins the cheeks: past the lug's edge
    d = fasteners()[end.pin].diameter
    cheek = hull([Point(0.0, 0.0).buffer(end.half), LineString([(behind, -end.half), (behind, end.half)])])
    holes = [hole((0.0, 0.0), d)]
    bodies = []
    for s in (-1.0, 1.0):
        off = s * (end.jaw + end.cheek) / 2
        pose = Pose(as_place(pin + off * n), as_place(way), as_place(side))
        bodies.append(plate(ring_of(cheek), holes, -end.cheek / 2, end.cheek / 2).placed(pose))
    thick, over = end.jaw / 2 + end.cheek, end.half / 2
    yoke = Pose(as_place(pin + (behind + over / 2) * way), as_place(n), as_place(side))
    ring = np.array([(-thick, -end.half), (thick, -end.half), (thick, end.half), (-thick, end.half)])
    bodies.append(plate(ring, [], -over / 2, over / 2).placed(yoke))
    from_ = behind + over
    bodies.append(
        cylinder(as_place(pin + (from_ + end.length) / 2 * way), as_place(way), end.shank / 2, end.length - from_)
    )
    return joined(bodies)


# ------------------------------------------------------------------ words and joints


def _at(thing: Strut | Wire) -> str:
    return " to ".join(_at_end(e) for e in thing.ends)


def _at_end(end: StrutEnd) -> str:
    if end.tail:
        word = "BL" if end.tail == "tailplane" else "height"
        return f"{end.tail} {end.tube} {word} {inches(end.along, 10**6)}"
    return end.node or f"{end.wing} {end.spar} spar BL {inches(end.buttline, 10**6)}"


def ends_not_drawn(model: Model) -> tuple[str, ...]:
    """Struts and wires with an end whose fitting the file does not say."""
    ends, things = pinned(model), [*(s.name for s in model.struts), *(w.name for w in model.wires)]
    bare = [n for n in things if any((n, i) not in ends for i in (0, 1))]
    return (f"ends of struts and wires: {', '.join(bare)}",) if bare else ()


def strut_joints(model: Model) -> Iterator[Joint]:
    """Both ends of every strut and wire: the pin through lugs and bush or fork, and what holds bush or fork to it."""
    ends = pinned(model)
    things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    for thing in things:
        for which, end in enumerate(thing.ends):
            p = ends.get((thing.name, which))
            yield from _drawn(model, p) if p else (_not_drawn(model, thing, end),)


def _own(model: Model, thing: Strut | Wire) -> str:
    return strut_number(model, thing) if isinstance(thing, Strut) else wire_number(model, thing)


def _drawn(model: Model, p: Pinned) -> Iterator[Joint]:
    h, place, count = p.held, as_place(p.pin), len(mirrored_places(p.pin))
    own, pin = _own(model, h.thing), _number(model, p, "PIN")
    turning = _number(model, p, "BUSH" if isinstance(h.thing, Strut) else h.piece.kind)  # type: ignore[union-attr]
    kind: JointKind = "bolt" if isinstance(h.thing, Strut) else "wire end"
    yield Joint(number=_number(model, p, "END"), kind=kind, parts=(pin, turning, *p.plates), place=place,
                primary=True, fastener=h.pin, fasteners=1, through=p.plates[0], count=count, bolt=_pin_bolt(p),
                note="snug; free to turn on its pin")  # fmt: skip
    if isinstance(h.piece, WireEnd):
        yield Joint(number=f"{turning}-JOINT", kind="wire end", parts=(turning, own), place=place, primary=True,
                    count=count, length=h.piece.socket, note="swaged; gauged and pulled before it goes in")  # fmt: skip
        return
    if h.piece.plug is None:
        yield Joint(number=f"{turning}-WELD", kind="weld", parts=(turning, own), place=place, primary=True, count=count,
                    length=math.pi * h.thing.tube.outside, note="all round")  # type: ignore[union-attr]  # fmt: skip
        return
    plug, tube = _number(model, p, "PLUG"), h.thing.tube  # type: ignore[union-attr]
    yield Joint(number=f"{plug}-WELD", kind="weld", parts=(turning, plug), place=place, primary=True, count=count,
                length=math.pi * h.piece.plug.outside, note="all round")  # fmt: skip
    layers = [("strut and plug", tube.outside)]
    bolt = bolt_for(h.piece.bolt, layers, "forward", turns=True, limit="snug only: tighter, it makes the tube oval")
    yield Joint(number=f"{plug}-JOINT", kind="bolt", parts=(plug, own, _number(model, p, "PLUG-BOLTS")), place=place,
                primary=True, fastener=h.piece.bolt, fasteners=2, count=count, bolt=bolt,
                note="one across, one square to it")  # fmt: skip


def _not_drawn(model: Model, thing: Strut | Wire, end: StrutEnd) -> Joint:
    group, kind = ("struts", "bolt") if isinstance(thing, Strut) else ("wires", "wire end")
    places = [end_place(model, e) for e in thing.ends]
    both = max(abs(p[1]) for p in places) >= ON_CENTRE
    return Joint(
        number=part_number(model.name, group, f"{thing.name}-END".upper(), _end_key(end)),
        kind="bolt" if kind == "bolt" else "wire end", parts=(_joined(model, thing, end), _own(model, thing)),
        place=end_place(model, end), primary=True, fastener="unknown", through="unknown", count=2 if both else 1,
    )  # fmt: skip


def _joined(model: Model, thing: Strut | Wire, end: StrutEnd) -> str:
    """The part a strut or wire ends on: the spar's web, the tail's tube, or the first tube at the node (right one)."""
    if end.tail:
        return part_number(model.name, end.tail, "LEADING-EDGE" if end.tube == "leading" else "SPAR")
    if not end.node:
        wing = model.wing(end.wing)
        spar = next(s for s in wing.spars if s.name == end.spar)
        return web_number(model, wing, panel_at(wing, end.buttline)[0], spar)
    names = {end.node, f"{end.node}R"}
    met = [r for r in runs(model.fuselage) if names & set(r.nodes)]
    if not met:
        raise DesignProblem(f"{thing.name} ends at node {end.node}, where no tube of the fuselage ends")
    return tube_number(model, met[0])
