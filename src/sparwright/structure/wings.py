"""Wings as bars: spars from rib to rib, ribs between two spars, the tubes and wires of the drag bracing. Both sides.

A spar's nodes lie on the middle of its box at every whole rib, strut, wire, drag tube and hinge end, so that a load
between two of them is shared by lever. A rib is held stiffly to the spars it is glued or riveted to, so that it keeps
them from turning and shares their bending. At a splice the spar runs on. Sources of the sections: sections.py.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

import numpy as np

from sparwright.base.quantity import place_key
from sparwright.family.model import Model, Spar, Strut, Wing, Wire
from sparwright.parts.drag_bracing import Crossing, Pull, crossings, posts
from sparwright.parts.number import part_number
from sparwright.parts.stations import SAME, rib_stations
from sparwright.parts.wing import cap_number
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.spar import SparAxes, panel_of, spar_axes
from sparwright.structure.bar import BALL, PIN, Bar, Cable
from sparwright.structure.sections import cable_section, rib_section, spar_section, tube_section

SIDES = ("R", "L")
INCH = 0.0254
MIRROR = np.array([1.0, -1.0, 1.0])


def spar_node(wing: str, spar: str, side: str, buttline: float) -> str:
    """Name of a node on a spar; on the centreline both sides are one."""
    return f"{wing}.{spar}.{side if buttline > ON_CENTRE else ''}.{buttline / INCH:.3f}"


def hand(vector: np.ndarray, side: str) -> np.ndarray:
    """A place or direction of the right side on that side."""
    return np.asarray(vector * MIRROR if side == "L" else vector)


def axes_at(model: Model, wing: Wing, spar: Spar, buttline: float) -> SparAxes:
    """The spar's own axes at a buttline, right side."""
    return spar_axes(model, wing, panel_of(wing, buttline), spar, buttline)


def stations(model: Model, wing: Wing, spar: Spar) -> tuple[float, ...]:
    """Buttlines of a spar's nodes, from the root out: ribs, ends of struts and wires, drag tubes, roots."""
    at = {wing.panels[0].root_buttline, wing.panels[-1].tip_buttline}
    at |= {r.buttline for r in rib_stations(wing) if r.kind == "wing"}
    things: tuple[Strut | Wire, ...] = (*model.struts, *model.wires)
    for thing in things:
        at |= {e.buttline for e in thing.ends if e.wing == wing.name and e.spar == spar.name}
    at |= set(wing.drag_bracing.bays) if wing.drag_bracing else set()
    at |= {r.buttline for r in model.roots if r.wing == wing.name and r.spar == spar.name}
    kept: list[float] = []
    for y in sorted(at):
        if not kept or y - kept[-1] > 10 * SAME:
            kept.append(y)
    return tuple(kept)


def wing_nodes(model: Model) -> dict[str, np.ndarray]:
    """Every node on every spar, both sides."""
    found: dict[str, np.ndarray] = {}
    for wing in model.wings:
        for spar in wing.spars:
            for y in stations(model, wing, spar):
                middle = axes_at(model, wing, spar, y).middle
                for side in SIDES:
                    found[spar_node(wing.name, spar.name, side, y)] = hand(middle, side)
    return found


def wing_bars(model: Model) -> Iterator[Bar]:
    """Spars, ribs and drag bracing of every wing, both sides."""
    for wing in model.wings:
        for side in SIDES:
            for spar in wing.spars:
                yield from _spar(model, wing, spar, side)
            yield from _ribs(model, wing, side)
            yield from _drag(model, wing, side)


def _spar(model: Model, wing: Wing, spar: Spar, side: str) -> Iterator[Bar]:
    for a, b in pairwise(stations(model, wing, spar)):
        middle = (a + b) / 2
        here, panel = axes_at(model, wing, spar, middle), panel_of(wing, middle)
        ends = (spar_node(wing.name, spar.name, side, a), spar_node(wing.name, spar.name, side, b))
        yield Bar(cap_number(model, wing, panel, spar, "upper"), "spar", ends,
                  spar_section(model, wing, spar, max(middle, wing.panels[0].root_buttline), here.depth),
                  hand(here.up, side), at=(wing.name, spar.name, side, middle))  # fmt: skip


def _ribs(model: Model, wing: Wing, side: str) -> Iterator[Bar]:
    """From each spar to the next behind it, at every whole rib."""
    ordered = sorted(wing.spars, key=lambda s: s.at)
    for r in rib_stations(wing):
        if r.kind != "wing" or (side == "L" and r.buttline < ON_CENTRE):
            continue
        for ahead, behind in pairwise(ordered):
            a, b = (axes_at(model, wing, s, r.buttline) for s in (ahead, behind))
            ends = [spar_node(wing.name, s.name, side, _near(model, wing, s, r.buttline)) for s in (ahead, behind)]
            yield Bar(part_number(model.name, wing.name, "RIB", place_key(r.buttline)), "rib", (ends[0], ends[1]),
                      rib_section(wing.rib_at(r.buttline), (a.depth + b.depth) / 2, wing.rib_sheets(r.buttline)),
                      hand(a.up, side), at=(wing.name, ahead.name, side, r.buttline))  # fmt: skip


def _near(model: Model, wing: Wing, spar: Spar, buttline: float) -> float:
    return min(stations(model, wing, spar), key=lambda y: abs(y - buttline))


def _drag(model: Model, wing: Wing, side: str) -> Iterator[Bar]:
    drag = wing.drag_bracing
    for y in drag.bays if drag else ():
        assert drag is not None
        both = posts(model, wing, y)
        faces = [p.at(drag.foot.thickness) for p in both]
        arms = [hand(face - p.axes.middle, side) for face, p in zip(faces, both, strict=True)]
        ends = [spar_node(wing.name, p.spar.name, side, _near(model, wing, p.spar, y)) for p in both]
        yield Bar(part_number(model.name, wing.name, "DRAG-TUBE", place_key(y)), "drag tube", (ends[0], ends[1]),
                  tube_section(drag.tube), hand(both[0].axes.up, side), (arms[0], arms[1]), (PIN, BALL),
                  at=(wing.name, "", side, y), made=drag.tube)  # fmt: skip
    for wire in crossings(model, wing):
        yield _crossing(model, wing, wire, side)


def _crossing(model: Model, wing: Wing, wire: Crossing, side: str) -> Bar:
    drag = wing.drag_bracing
    assert drag is not None
    ends, arms = zip(*(_pull(model, wing, p, side) for p in wire.ends), strict=True)
    word = "DRAG-WIRE" if wire.level > 0 else "ANTIDRAG-WIRE"
    return Bar(part_number(model.name, wing.name, word, place_key(wire.start)), "wire", (ends[0], ends[1]),
               cable_section(drag.construction, drag.wire), hand(wire.ends[0].post.axes.up, side),
               (arms[0], arms[1]), (BALL, BALL), drag.tension, (wing.name, "", side, wire.start),
               Cable(drag.construction, drag.wire))  # fmt: skip


def _pull(model: Model, wing: Wing, p: Pull, side: str) -> tuple[str, np.ndarray]:
    name = spar_node(wing.name, p.post.spar.name, side, _near(model, wing, p.post.spar, p.post.buttline))
    return name, hand(p.pin - p.post.axes.middle, side)
