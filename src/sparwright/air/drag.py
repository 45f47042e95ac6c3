"""Drag of everything that is neither wing nor tail, item by item, as drag areas with bands.

An item is D/q in square metres: a coefficient times the area it stands on. Coefficients, their bands, sources and
reach are in data/drag_items.toml, the round cylinder in data/cylinder.csv; struts and wires in air/struts.py. The
slipstream is not in here (power/slipstream.py), and neither is the idle propeller.

What the file does not say is not nought. An open cockpit whose windscreen and opening are not in the file, and an
engine whose exposed parts and cooling outlets are not, are taken as a part of the body's cross-section, with the
wide band of that row. Not in the model at all and so only in the rows for small parts and leaks: tail bracing where the
file has none, axle and brakes, aerials, steps, pitot, exhaust outlets, hinges.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping

import numpy as np

from sparwright.air.atmosphere import Air
from sparwright.air.item import DragItem, coefficient, item, share
from sparwright.air.struts import Shape, StrutForDrag, cylinder_drag, sheltered, strut
from sparwright.base.source import Band
from sparwright.family.model import Body, Engine, Fuselage, Model, Place, TailSurface, Wheel
from sparwright.shape.frame import within_body
from sparwright.shape.lifting import wing_planform
from sparwright.shape.section import thickness_ratio

__all__ = [
    "DragItem",
    "Shape",
    "StrutForDrag",
    "body_sizes",
    "cooling_drag",
    "cylinder_drag",
    "fuselage",
    "junction",
    "outside_tubes",
    "parasite",
    "strut",
    "wheel",
]

CORNER = (0.08, 0.45)  # thickness ratios the corner row is meant for


def parasite(model: Model, air: Air, speed: float, struts: Iterable[StrutForDrag] = ()) -> tuple[DragItem, ...]:
    """Every item of parasite drag of a model at a speed (m/s).

    struts: struts and wires out in the wind, both sides counted in `count`; gear legs are found among
    the fuselage tubes. Range: each item's own; an item outside its table is NaN with a note.
    """
    things = tuple(struts)
    bracing = sheltered(things, [strut(s, air, speed) for s in things])
    parts = [*bracing, *_bracing_joints(things, bracing)]
    legs = outside_tubes(model.fuselage)
    gear = [*(wheel(w) for w in model.wheels),
            *sheltered(legs, [strut(s, air, speed, "gear") for s in legs])]  # fmt: skip
    parts += [*gear, *([share("gear fittings and interference", "gear_joints", gear, "interference")] if gear else [])]
    parts += fuselage(model.fuselage, air, speed)
    parts += [*_engine(model.engine, model.fuselage), *_corners(model), *_gaps(model)]
    rest = [share("leaks", "leaks", parts, "small"),
            share("hinges and small parts", "small_parts", parts, "small")]  # fmt: skip
    return (*parts, *rest)


def _bracing_joints(things: tuple[StrutForDrag, ...], items: list[DragItem]) -> Iterator[DragItem]:
    """Interference and fittings of struts and wires, where there are any."""
    pairs = list(zip(things, items, strict=True))
    on_wings = [i for s, i in pairs if s.shape != "wire" and s.on_wings]
    stiff, wires = [i for s, i in pairs if s.shape != "wire"], [i for s, i in pairs if s.shape == "wire"]
    for name, key, of in (("struts on wings", "strut_on_wing", on_wings), ("strut fittings", "strut_fittings", stiff),
                          ("wire fittings", "wire_fittings", wires)):  # fmt: skip
        if of:
            yield share(name, key, of, "interference")


def wheel(thing: Wheel) -> DragItem:
    """A wheel (a pair when off the centreline), on diameter times width."""
    key = "spatted_wheel" if thing.faired else "wheel"
    count = 2 if thing.place[1] else 1
    return item(f"wheel {thing.name}", key, thing.diameter * thing.width * count, "gear", f"{count} of them")


def fuselage(thing: Fuselage, air: Air, speed: float) -> list[DragItem]:
    """Skin and open cockpit of a fuselage.

    Skin: D/q = Cf (1 + 1.5 (d/l)^1.5 + 7 (d/l)^3) S_wet, Cf = 0.455/(log10 Re)^2.58, turbulent from the nose.
    Source: friction schlichting-bl (Prandtl and Schlichting); form factor for bodies of revolution hoerner-drag
    (memory).
    """
    length, frontal, wetted = body_sizes(thing.body)
    reynolds = speed * length / air.kinematic
    thickness = math.sqrt(4 * frontal / math.pi) / length
    smooth = 0.455 / math.log10(reynolds) ** 2.58 * (1 + 1.5 * thickness**1.5 + 7 * thickness**3)
    per_wetted = Band(*(smooth * getattr(coefficient("skin"), end) for end in ("value", "low", "high")))
    note = f"{wetted:.2f} m2 wetted, Re {reynolds:,.0f}, Cf with form factor {smooth:.5f}"
    skin = item("fuselage skin", "skin", wetted, "body", note, per_wetted)
    return [skin, *(_cockpit(thing, frontal) if thing.open_cockpit else ())]


def _cockpit(thing: Fuselage, frontal: float) -> Iterator[DragItem]:
    """Windscreen and opening, each on its own area; one coarse row when the file leaves either out."""
    if thing.windscreen is None or thing.cockpit_opening is None:
        yield item("open cockpit", "cockpit", frontal, "body", "windscreen and opening are not both in the file")
        return
    yield item("windscreen and head", "windscreen", thing.windscreen, "body")
    yield item("cockpit opening", "cockpit_opening", thing.cockpit_opening, "body")


def _engine(engine: Engine, body: Fuselage) -> Iterator[DragItem]:
    """What of the engine stands in the wind, and its cooling; one coarse row when the file leaves either out."""
    if engine.exposed is None or engine.cooling_outlet is None:
        frontal = body_sizes(body.body)[1]
        note = "exposed parts and cooling outlets are not both in the file"
        yield item("engine and its cooling", "engine", frontal, "body", note)
        return
    yield item("exposed engine", "exposed_engine", engine.exposed, "body")
    yield item("cooling air", "cooling", engine.cooling_outlet, "body")


def cooling_drag(ratio: float, recovered: float = 1.0) -> float:
    """D/q over the outlet area of air taken in at flight speed and let out at `ratio` of it.

    D/q = 2 r (1 - r k) A: momentum theorem, m = rho A r V, D = m (V - k r V). k: part of the outlet's momentum that
    points aft, 1 for an outlet along the stream, 0 for one across it. With k = 1 it is never above a half.
    Range: r from nought to 1, outlet at the pressure of the free stream, heat's own thrust left out.
    Source: meredith-1935 (momentum of ducted cooling; memory), worked out here.

    >>> cooling_drag(0.5), round(cooling_drag(0.2), 2), cooling_drag(0.6, 0.0)
    (0.5, 0.32, 1.2)
    """
    if not (0 <= ratio <= 1 and 0 <= recovered <= 1):
        raise ValueError(f"outlet speed ratio and recovered part lie between 0 and 1, not {ratio:g} and {recovered:g}")
    return 2 * ratio * (1 - ratio * recovered)


def junction(name: str, chord: float, thickness: float, corners: int) -> DragItem:
    """Corners of a surface of a chord (m) and thickness ratio on the body; a corner is one side of its root.

    D/q = n c^2 (0.8 (t/c)^3 - 0.0003). Range: t/c 0.08 to 0.45, NaN outside. Source: hoerner-drag (memory).
    """
    inside = CORNER[0] <= thickness <= CORNER[1]
    area = corners * chord**2 * (0.8 * thickness**3 - 0.0003) if inside else math.nan
    note = f"{corners} corners, chord {chord:.3f} m, t/c {thickness:.3f}"
    return item(name, "junction", area, "interference", note if inside else f"{note}: outside its row")


def _corners(model: Model) -> Iterator[DragItem]:
    """Junctions with the body: two roots of each wing that begins at its side and in its height, tailplane, fin."""
    for wing in model.wings:
        side, (x, _, z) = wing_planform(wing).side, wing.leading_edge
        if side > 0 and within_body(model.fuselage.body, (x + wing.panels[0].root_chord / 2, 0.0, z)):
            section = model.sections[wing.panels[0].root_section]
            yield junction(f"{wing.name} on the body", wing.panels[0].root_chord, thickness_ratio(section), 2)
    for name, tail, corners in (("tailplane", model.tailplane, 2), ("fin", model.fin, 1)):
        yield _tail_corner(model, name, tail, corners)


def _tail_corner(model: Model, name: str, tail: TailSurface, corners: int) -> DragItem:
    return junction(f"{name} on the body", tail.root_chord, thickness_ratio(model.sections[tail.section]), corners)


def _gaps(model: Model) -> Iterator[DragItem]:
    """Aileron gaps, both sides."""
    for wing in model.wings:
        a = wing.aileron
        if a is not None:
            yield item(f"{wing.name} aileron gaps", "control_gap", 2 * a.gap * (a.outboard - a.inboard), "wing gaps")


def body_sizes(body: tuple[Body, ...]) -> tuple[float, float, float]:
    """(length m, greatest cross-section m2, wetted area m2) of ovals in the boxes of `body`, straight between.

    Perimeter of an ellipse by Ramanujan's first formula; ends open. Raises ValueError for fewer than two.
    """
    if len(body) < 2:
        raise ValueError("a fuselage needs two cross-sections at least")
    x = np.array([b.station for b in body])
    a, b = np.array([b.width / 2 for b in body]), np.array([(b.top - b.bottom) / 2 for b in body])
    around = math.pi * (3 * (a + b) - np.sqrt((3 * a + b) * (a + 3 * b)))
    return float(x[-1] - x[0]), float(np.max(math.pi * a * b)), float(np.trapezoid(around, x))


def outside_tubes(thing: Fuselage) -> tuple[StrutForDrag, ...]:
    """Stretches of fuselage tube with an end clear of the body: gear legs. Whole stretches, both sides."""
    found: list[StrutForDrag] = []
    for run in thing.tubes:
        for start, end in zip(run.run[:-1], run.run[1:], strict=True):
            a, b = _node(thing.nodes, start), _node(thing.nodes, end)
            if within_body(thing.body, a) and within_body(thing.body, b):
                continue
            count = 1 if start not in thing.nodes or end not in thing.nodes or a[1] == b[1] == 0 else 2
            name = f"{run.name} {start} to {end}"
            found.append(StrutForDrag(name, math.dist(a, b), run.tube.outside, "round", count, (a, b)))
    return tuple(found)


def _node(nodes: Mapping[str, Place], name: str) -> Place:
    if name in nodes:
        return nodes[name]
    x, y, z = nodes[name[:-1]]
    return (x, -y if name.endswith("L") else y, z)
