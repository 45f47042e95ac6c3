"""Where forces are taken that are not the air's on a lifting surface: struts, wires, legs, wheels, fin, body, spars.

What takes a force is named as in loads/case.py; a thing off the centreline is there on both sides. Geometry only.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from sparwright.air.drag import outside_tubes
from sparwright.family.model import Model, Place, Strut, StrutEnd, Wing, Wire
from sparwright.shape.frame import end_place
from sparwright.shape.lifting import cut

HAND = 0.1  # m outside a root, where a foot is put (common practice, no source)
Taken = tuple[str, Place]  # name of what takes it, place m


def drag_places(model: Model) -> dict[str, tuple[Taken, ...]]:
    """By item of drag (flight/drag.py): where it is taken, in equal parts; items that are spread out are not there.

    A strut or wire gives half of its drag to either end, a gear leg too; a wheel takes its own.
    """
    f = model.fin
    found: dict[str, tuple[Taken, ...]] = {}
    half = f.span / 2
    at = f.leading_edge[0] + half * math.tan(f.sweep) + (f.root_chord + f.tip_chord) / 8, 0.0, f.leading_edge[2] + half
    found["fin"] = (("fin", at),)
    braces: list[Strut | Wire] = [*model.struts, *model.wires]
    for thing in braces:
        ends = [tuple(taken_at(model, end)) for end in thing.ends]
        both = max(len(e) for e in ends)
        found[thing.name] = tuple(t for e in ends for t in e * (both // len(e)))
    for leg in outside_tubes(model.fuselage):
        pairs = zip(leg.name.split()[-3::2], leg.ends or (), strict=True)
        found[leg.name] = tuple(t for n, p in pairs for t in pair(f"node:{n}", p, n in model.fuselage.nodes))
    for wheel in model.wheels:
        found[f"wheel {wheel.name}"] = tuple(pair(f"wheel:{wheel.name}", wheel.place, True, ":"))
    return found


def pair(on: str, at: Place, both: bool = True, joint: str = "") -> Iterator[Taken]:
    """A thing at its right place, and its twin on the left where it stands off the centreline.

    >>> [name for name, _ in pair("wheel:main", (0.5, 0.8, -0.9), joint=":")]
    ['wheel:main:R', 'wheel:main:L']
    """
    if at[1] == 0 or not both:
        yield on, at
        return
    yield f"{on}{joint}R", at
    yield f"{on}{joint}L", (at[0], -at[1], at[2])


def node_place(model: Model, name: str) -> Place:
    """A node of the fuselage, its R or L where it is one of a pair. KeyError for a node that is not there."""
    nodes = model.fuselage.nodes
    if name in nodes:
        return nodes[name]
    x, y, z = nodes[name[:-1]]
    return x, -y if name.endswith("L") else y, z


def taken_at(model: Model, end: StrutEnd) -> Iterator[Taken]:
    """What an end of a strut or wire is held by, right and left."""
    if end.node:
        yield from pair(f"node:{end.node}", node_place(model, end.node), end.node in model.fuselage.nodes)
        return
    if end.tail:
        yield from pair(end.tail, end_place(model, end), True, ":")
        return
    yield from pair(f"spar:{end.wing}:{end.spar}", spar_place(model, end.wing, end.spar, end.buttline), True, ":")


def spar_place(model: Model, wing: str, spar: str, buttline: float) -> Place:
    """A point of a spar on the chord line, right side. KeyError for a wing or spar that is not there."""
    w = next((x for x in model.wings if x.name == wing), None)
    if w is None or all(s.name != spar for s in w.spars):
        raise KeyError(f"{wing} {spar}")
    station = cut(w, model.sections, buttline)
    at = next(s.at for s in w.spars if s.name == spar)
    return station.place(at * station.chord, 0.0)


def stepped_on(model: Model) -> Wing | None:
    """The lowest wing, where it begins at the fuselage's side, so that a foot can be put on its root."""
    wing = min(model.wings, key=lambda w: w.leading_edge[2])
    return wing if wing.leading_edge[1] >= HAND else None


def body_middle(model: Model) -> Place:
    """Middle of the fuselage's greatest cross-section."""
    b = max(model.fuselage.body, key=lambda s: s.width * (s.top - s.bottom))
    return b.station, 0.0, (b.top + b.bottom) / 2
