"""Fuselage tubes, struts, wires and bought things as parts, and their ends as joints."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import decimal_inches, inches, place_key
from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.model import Model, Place, RoundTube, Strut, StrutEnd, Wire
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, JointKind, Part
from sparwright.parts.wing import web_number
from sparwright.shape.frame import ON_CENTRE, Run, end_place, mirrored, nodes, runs
from sparwright.shape.lifting import panel_at
from sparwright.shape.solid import as_place
from sparwright.shape.tube import Fitted, Tube, fitted_tube

# metal in the circle of a strand or cable, equal wires laid side by side: 19 of a fifth of the diameter, 7 x 7 of a
# ninth, 7 x 19 of a fifteenth; computed
CABLE_STEEL = "4130N"  # its density stands for that of cable
FILL = {"1x19": 19 / 5**2, "7x7": 49 / 9**2, "7x19": 133 / 15**2}


def tube_area(tube: RoundTube) -> float:
    """Metal area, m2: pi (D - t) t."""
    return float(np.pi * (tube.outside - tube.wall) * tube.wall)


def tube_stock(tube: RoundTube) -> str:
    """How the tube is asked for."""
    return f"{material(tube.material).title} tube, {tube_section(tube)}"


def _middle(a: Place, b: Place) -> Place:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2, (a[2] + b[2]) / 2)


def tube_section(tube: RoundTube) -> str:
    """Outside by wall, in words."""
    return f"{inches(tube.outside)} x {decimal_inches(tube.wall)}"


def tube_number(model: Model, run: Run) -> str:
    """Number of one tube of the fuselage frame: its first and last node."""
    return part_number(model.name, "fuselage", "TUBE", f"{run.nodes[0]}-{run.nodes[-1]}")


def frame_tubes(model: Model) -> tuple[Part, ...]:
    """Every tube of the fuselage frame and undercarriage, bent at the nodes it passes, its ends fitted to others."""
    all_runs = runs(model.fuselage)
    known = {name: np.array(place) for name, place in nodes(model.fuselage).items()}
    met = {name: at_node(all_runs, name) for name in known}
    return tuple(_frame_tube(model, run, known, met) for run in all_runs)


def at_node(all_runs: Sequence[Run], node: str) -> tuple[Run, ...]:
    """The tubes at a node in the order they are fitted: each to all before it.

    First those that pass through, then by outside diameter, then as they stand in the file. Common practice, no source.
    """
    met = [r for r in all_runs if node in r.nodes]
    return tuple(sorted(met, key=lambda r: (node in (r.nodes[0], r.nodes[-1]), -r.tube.outside)))


def _frame_tube(model: Model, run: Run, known: Mapping[str, np.ndarray], met: Mapping[str, Sequence[Run]]) -> Part:
    ends = []
    for node in (run.nodes[0], run.nodes[-1]):
        before = met[node][: met[node].index(run)]
        ends.append([f for other in before for f in _reaches(other, node, known)])
    path = np.array([known[n] for n in run.nodes])
    shape = fitted_tube(path, run.tube.outside, run.tube.wall, tube_section(run.tube), (ends[0], ends[1]))
    body = shape.solid()
    return Part(
        number=tube_number(model, run),
        name=run.name.split(":")[0].replace("_", " "),
        form="tube",
        group="fuselage",
        purpose="frame",
        material=run.tube.material,
        stock=tube_stock(run.tube),
        places=(as_place(body.centre),),
        mass=body.volume * material(run.tube.material).density,
        at=" to ".join(run.nodes),
        shape=shape,
    )


def _reaches(run: Run, node: str, known: Mapping[str, np.ndarray]) -> Iterator[Fitted]:
    """A tube seen from a node: along it one way, or both where it passes."""
    i = run.nodes.index(node)
    for j in (i - 1, i + 1):
        if 0 <= j < len(run.nodes):
            step = known[run.nodes[j]] - known[node]
            yield Fitted(as_place(step / np.linalg.norm(step)), run.tube.outside / 2)


def _distance(a: Place, b: Place) -> float:
    return float(np.linalg.norm(np.subtract(b, a)))


def strut_parts(model: Model) -> tuple[Part, ...]:
    """Every strut and wire, right and left together."""
    return tuple(_strut(model, s) for s in model.struts) + tuple(_wire(model, w) for w in model.wires)


def _ends(model: Model, thing: Strut | Wire) -> tuple[Place, Place]:
    return end_place(model, thing.ends[0]), end_place(model, thing.ends[1])


def _both(a: Place, b: Place) -> tuple[Place, ...]:
    middle = _middle(a, b)
    return (middle,) if max(abs(a[1]), abs(b[1])) < ON_CENTRE else (middle, mirrored(middle))


def strut_number(model: Model, strut: Strut) -> str:
    """Number of a strut."""
    return part_number(model.name, "struts", strut.name.upper())


def wire_number(model: Model, wire: Wire) -> str:
    """Number of a wire."""
    return part_number(model.name, "wires", wire.name.upper())


def _strut(model: Model, strut: Strut) -> Part:
    a, b = _ends(model, strut)
    return Part(
        number=strut_number(model, strut),
        name=strut.name.replace("_", " "),
        form="tube",
        group="struts",
        purpose="strut",
        material=strut.tube.material,
        stock=tube_stock(strut.tube),
        places=_both(a, b),
        at=_at(strut),
        mass=tube_area(strut.tube) * _distance(a, b) * material(strut.tube.material).density,
        shape=Tube(
            path=locked([a, b]), outside=strut.tube.outside, wall=strut.tube.wall, section=tube_section(strut.tube)
        ),
    )


def _wire(model: Model, wire: Wire) -> Part:
    if wire.construction not in FILL:
        known = ", ".join(FILL)
        raise DesignProblem(f"wire {wire.name}: cable {wire.construction!r} is not one we know; {known} are")
    a, b = _ends(model, wire)
    metal = np.pi / 4 * wire.diameter**2 * FILL[wire.construction]
    return Part(
        number=wire_number(model, wire),
        name=f"{wire.name.replace('_', ' ')} wire",
        form="bar",
        group="struts",
        purpose="wire",
        material="bought",
        stock=f"{wire.construction} steel cable, {inches(wire.diameter)}",
        places=_both(a, b),
        at=_at(wire),
        mass=float(metal) * _distance(a, b) * material(CABLE_STEEL).density,
        band=0.1,
        shape=Tube(
            path=locked([a, b]), outside=wire.diameter, wall=0.0, section=f"{inches(wire.diameter)} {wire.construction}"
        ),
    )


def _at(thing: Strut | Wire) -> str:
    return " to ".join(e.node or f"{e.wing} {e.spar} spar BL {inches(e.buttline, 10**6)}" for e in thing.ends)


def weld_clusters(model: Model, tubes: Sequence[Part]) -> Iterator[Joint]:
    """Every node where tubes meet, as one weld; its length is round the fitted end of each tube but the first."""
    all_runs = runs(model.fuselage)
    by_number = {t.number: t for t in tubes}
    for name, place in nodes(model.fuselage).items():
        met = at_node(all_runs, name)
        if len(met) > 1:
            yield Joint(
                number=part_number(model.name, "fuselage", "WELD", name),
                kind="weld",
                parts=tuple(tube_number(model, r) for r in met),
                place=place,
                primary=True,
                length=sum(_round_end(by_number[tube_number(model, r)], r.nodes[0] == name) for r in met[1:]),
                note="cluster; gussets and fittings are not drawn yet",
            )


def _round_end(part: Part, first: bool) -> float:
    """Length round the outside of a tube's cut end, m."""
    assert isinstance(part.shape, Tube)
    ring = part.shape.ends()[0 if first else 1]
    return float(np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1).sum())


def strut_joints(model: Model) -> Iterator[Joint]:
    """Both ends of every strut and wire; the fitting and its bolt are unknown until drawn."""
    for strut in model.struts:
        yield from _end_joints(model, strut, "struts", "bolt", strut_number(model, strut))
    for wire in model.wires:
        yield from _end_joints(model, wire, "wires", "wire end", wire_number(model, wire))


def _end_joints(model: Model, thing: Strut | Wire, group: str, kind: JointKind, own: str) -> Iterator[Joint]:
    places = _ends(model, thing)
    for end, place in zip(thing.ends, places, strict=True):
        key = end.node or f"{end.wing}-{end.spar}-{place_key(end.buttline)}"
        yield Joint(
            number=part_number(model.name, group, f"{thing.name}-END".upper(), key),
            kind=kind,
            parts=(_joined(model, thing, end), own),
            place=place,
            primary=True,
            fastener="unknown",
            through="unknown",
            count=len(_both(*places)),
        )


def _joined(model: Model, thing: Strut | Wire, end: StrutEnd) -> str:
    """The part a strut or wire ends on: the spar's web, or the first tube at the node (its right one of a pair)."""
    if not end.node:
        wing = model.wing(end.wing)
        spar = next(s for s in wing.spars if s.name == end.spar)
        return web_number(model, wing, panel_at(wing, end.buttline)[0], spar)
    names = {end.node, f"{end.node}R"}
    met = [r for r in runs(model.fuselage) if names & set(r.nodes)]
    if not met:
        raise DesignProblem(f"{thing.name} ends at node {end.node}, where no tube of the fuselage ends")
    return tube_number(model, met[0])
