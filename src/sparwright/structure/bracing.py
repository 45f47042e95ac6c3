"""Struts, wires and wing roots as bars: pinned at their pins, which stand off the middle of a spar or a longeron.

A strut's pin lets it turn about one line; it is taken as free to turn about all (on the safe side for the spar, which
is not clamped by it, and for the strut, which gets no fixity). A wire carries tension only. A root is held by its pin,
fore and aft: up, along and sideways, free to turn about the pin; its straps keep it from turning about the others.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sparwright.family.model import Model, Strut, StrutEnd, Wire
from sparwright.parts.ends import middle_of_end
from sparwright.parts.roots import RootSpot, root_spots
from sparwright.parts.struts import Pinned, pinned, strut_number, wire_number
from sparwright.shape.frame import ON_CENTRE, nodes
from sparwright.structure.bar import BALL, PIN, RIGID, Bar, Cable, Section
from sparwright.structure.fuselage import upwards
from sparwright.structure.sections import cable_section, spar_section, tube_section
from sparwright.structure.tail import tail_end_node
from sparwright.structure.wings import SIDES, axes_at, hand, spar_node

TURNS = (BALL, PIN)  # a pinned bar must not spin about its own line


def bracing_bars(model: Model) -> Iterator[Bar]:
    """Every strut, wire and root, both sides."""
    pins = pinned(model)
    for strut in model.struts:
        for side in SIDES:
            yield from _between(model, strut, pins, side)
    for wire in model.wires:
        for side in SIDES:
            yield from _between(model, wire, pins, side)
    for spot in root_spots(model):
        for side in SIDES:
            yield _root(model, spot, side)


def end_node(model: Model, end: StrutEnd, side: str) -> str:
    """Name of the node an end is held at."""
    if end.tail:
        return tail_end_node(model, end, side)
    if end.node:
        return end.node if end.node in nodes(model.fuselage) else f"{end.node}{side}"
    return spar_node(end.wing, end.spar, side, end.buttline)


def _between(model: Model, thing: Strut | Wire, pins: dict[tuple[str, int], Pinned], side: str) -> Iterator[Bar]:
    middles = [middle_of_end(model, e) for e in thing.ends]
    if side == "L" and all(abs(m[1]) < ON_CENTRE for m in middles):
        return
    at = [pins[thing.name, i].pin if (thing.name, i) in pins else m for i, m in enumerate(middles)]
    arms = [hand(p - m, side) for p, m in zip(at, middles, strict=True)]
    ends = (end_node(model, thing.ends[0], side), end_node(model, thing.ends[1], side))
    up, where = upwards(at[1] - at[0]), ("", "", side, 0.0)
    if isinstance(thing, Strut):
        yield Bar(strut_number(model, thing), "strut", ends, tube_section(thing.tube), up, (arms[0], arms[1]), TURNS,
                  at=where, made=thing.tube)  # fmt: skip
    else:
        section = cable_section(thing.construction, thing.diameter)
        yield Bar(wire_number(model, thing), "wire", ends, section, up, (arms[0], arms[1]), (BALL, BALL),
                  thing.tension, where, Cable(thing.construction, thing.diameter))  # fmt: skip


def _root(model: Model, spot: RootSpot, side: str) -> Bar:
    """A short stiff bar from the spar's node at its pin to the fuselage's node, free to turn about the pin."""
    r = spot.root
    node = r.node if r.node in nodes(model.fuselage) else f"{r.node}{side}"
    lugs = _lugs(model, spot)
    arm = hand(spot.pin - axes_at(model, spot.wing, spot.spar, r.buttline).middle, side)
    way = spot.node - spot.pin
    # bar's z along the pin, so that what turns about the pin is its own z
    return Bar(f"{model.name}-{r.wing}-ROOT-{r.spar}".upper(), "link",
               (spar_node(r.wing, r.spar, side, r.buttline), node), lugs,
               _square(hand(spot.axes.aft, side), hand(way, side)), (arm, np.zeros(3)), ((5,), RIGID))  # fmt: skip


def _square(pin: np.ndarray, way: np.ndarray) -> np.ndarray:
    out = pin - (pin @ way) / (way @ way) * way
    return np.asarray(out / np.linalg.norm(out))


def _lugs(model: Model, spot: RootSpot) -> Section:
    """As stiff as the spar it holds: the straps and lugs are short."""
    return spar_section(model, spot.wing, spot.spar, spot.wing.panels[0].root_buttline, spot.axes.depth)


__all__ = ["bracing_bars", "end_node"]
