"""Fuselage tubes, struts, wires and bought things as parts, and their ends as joints."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sparwright.base.quantity import inches
from sparwright.data.loader import material
from sparwright.family.model import Model, Place, RoundTube, Strut, StrutEnd, Wire
from sparwright.parts.number import part_number, place_key
from sparwright.parts.part import Joint, Part, Straight
from sparwright.shape.frame import ON_CENTRE, end_place, mirrored, nodes, stretches

STRAND_FILL = 0.76  # metal in the circle of a 1x19 strand: 19 wires of a fifth of its diameter, computed


def tube_area(tube: RoundTube) -> float:
    """Metal area, m2: pi (D - t) t."""
    return float(np.pi * (tube.outside - tube.wall) * tube.wall)


def tube_stock(tube: RoundTube) -> str:
    """How the tube is asked for."""
    return f"{material(tube.material).title} tube, {inches(tube.outside)} x {tube.wall / 0.0254:.3f} in"


def _middle(a: Place, b: Place) -> Place:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def frame_tubes(model: Model) -> tuple[Part, ...]:
    """Every tube of the fuselage frame and undercarriage; length between node centres, so coping is not yet taken off."""
    known, found = nodes(model.fuselage), []
    for s in stretches(model.fuselage):
        a, b = known[s.start], known[s.end]
        length = float(np.linalg.norm(np.subtract(b, a)))
        found.append(
            Part(
                number=part_number(model.name, "fuselage", "TUBE", f"{s.start}-{s.end}"),
                name=f"{s.name.split(':')[0].replace('_', ' ')}",
                form="tube",
                group="fuselage",
                purpose="frame",
                material=s.tube.material,
                stock=tube_stock(s.tube),
                places=(_middle(a, b),),
                mass=tube_area(s.tube) * length * material(s.tube.material).density,
                at=f"{s.start} to {s.end}",
                shape=Straight(start=a, end=b, section=f"{inches(s.tube.outside)} x {s.tube.wall / 0.0254:.3f} in"),
            )
        )
    return tuple(found)


def strut_parts(model: Model) -> tuple[Part, ...]:
    """Every strut and wire, right and left together."""
    return tuple(_strut(model, s) for s in model.struts) + tuple(_wire(model, w) for w in model.wires)


def _ends(model: Model, thing: Strut | Wire) -> tuple[Place, Place]:
    return end_place(model, thing.ends[0]), end_place(model, thing.ends[1])


def _both(a: Place, b: Place) -> tuple[Place, ...]:
    middle = _middle(a, b)
    return (middle,) if max(abs(a[1]), abs(b[1])) < ON_CENTRE else (middle, mirrored(middle))


def _strut(model: Model, strut: Strut) -> Part:
    a, b = _ends(model, strut)
    length = float(np.linalg.norm(np.subtract(b, a)))
    return Part(
        number=part_number(model.name, "struts", strut.name.upper()),
        name=strut.name.replace("_", " "),
        form="tube",
        group="struts",
        purpose="strut",
        material=strut.tube.material,
        stock=tube_stock(strut.tube),
        places=_both(a, b),
        at=_at(strut),
        mass=tube_area(strut.tube) * length * material(strut.tube.material).density,
        shape=Straight(start=a, end=b, section=f"{inches(strut.tube.outside)} x {strut.tube.wall / 0.0254:.3f} in"),
    )


def _wire(model: Model, wire: Wire) -> Part:
    a, b = _ends(model, wire)
    length = float(np.linalg.norm(np.subtract(b, a)))
    return Part(
        number=part_number(model.name, "wires", wire.name.upper()),
        name=f"{wire.name.replace('_', ' ')} wire",
        form="bar",
        group="struts",
        purpose="wire",
        material="4130N",
        stock=f"{wire.construction} steel cable, {inches(wire.diameter)}",
        places=_both(a, b),
        at=_at(wire),
        mass=np.pi / 4 * wire.diameter**2 * STRAND_FILL * length * material("4130N").density,
        band=0.1,
        shape=Straight(start=a, end=b, section=f"{inches(wire.diameter)} {wire.construction}"),
    )


def _at(thing: Strut | Wire) -> str:
    return " to ".join(e.node or f"{e.wing} {e.spar} spar BL {inches(e.buttline, 10**6)}" for e in thing.ends)


def weld_clusters(model: Model, tubes: tuple[Part, ...]) -> Iterator[Joint]:
    """Every node where tubes meet, as one weld: the length is the sum of the tubes' circumferences."""
    by_number = {p.number: p for p in tubes}
    for name, place in nodes(model.fuselage).items():
        met = [s for s in stretches(model.fuselage) if name in (s.start, s.end)]
        numbers = tuple(part_number(model.name, "fuselage", "TUBE", f"{s.start}-{s.end}") for s in met)
        if len(numbers) > 1:
            assert all(n in by_number for n in numbers)
            length = sum(np.pi * s.tube.outside for s in met)
            yield Joint(
                number=part_number(model.name, "fuselage", "WELD", name),
                kind="weld",
                parts=numbers,
                place=place,
                primary=True,
                length=length,
                note="cluster; the continuous longeron, gussets and copes are not drawn yet",
            )


def strut_joints(model: Model, parts: tuple[Part, ...]) -> Iterator[Joint]:
    """Both ends of every strut and wire; the fitting and its bolt are unknown until drawn."""
    numbers = {p.number for p in parts}
    for thing in (*model.struts, *model.wires):
        group, kind = ("struts", "bolt") if isinstance(thing, Strut) else ("wires", "wire end")
        own = part_number(model.name, group, thing.name.upper())
        assert own in numbers
        a, b = _ends(model, thing)
        for end, place in zip(thing.ends, (a, b), strict=True):
            yield Joint(
                number=part_number(
                    model.name,
                    group,
                    f"{thing.name}-END".upper(),
                    end.node or f"{end.wing}-{end.spar}-{place_key(end.buttline)}",
                ),
                kind=kind,
                parts=(_joined(model, end, numbers), own),
                place=place,
                primary=True,
                fastener="unknown",  # type: ignore[arg-type]
                through="unknown",
                count=1 if max(abs(a[1]), abs(b[1])) < ON_CENTRE else 2,
            )


def _joined(model: Model, end: StrutEnd, numbers: set[str]) -> str:
    if not end.node:
        wing = model.wing(end.wing)
        panel = next(p for p in wing.panels if end.buttline <= p.tip_buttline + 1e-9)
        return part_number(model.name, end.wing, f"{end.spar}-WEB".upper(), panel.name)
    names = (end.node, f"{end.node}R")
    return next(n for n in sorted(numbers) if "-TUBE-" in n and set(n.split("-")[-2:]) & set(names))
