"""Fuselage tubes as parts, and the welds where they meet."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sparwright.base.quantity import gauge, stock_size
from sparwright.data.loader import material
from sparwright.family.model import Model, Place, RoundTube
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part
from sparwright.shape.frame import Run, Welded, nodes, runs
from sparwright.shape.solid import as_place
from sparwright.shape.tube import Fitted, Tube, both_ways, fitted_tube

# metal in the circle of a strand or cable, equal wires laid side by side: 19 of a fifth of the diameter, 7 x 7 of a
# ninth, 7 x 19 of a fifteenth; computed
CABLE_STEEL = "4130N"  # its density stands for that of cable
FILL = {"1x19": 19 / 5**2, "7x7": 49 / 9**2, "7x19": 133 / 15**2}
LAID = (
    1.14  # cable is thicker than its nominal size and its wires are longer: printed weights over that metal, their mean
)


def cable_mass(construction: str, diameter: float) -> float:
    """Mass of a metre of cable, kg; within 10 % of the weights printed with MIL-W-83420 (memory)."""
    return float(np.pi / 4 * diameter**2 * FILL[construction] * LAID * material(CABLE_STEEL).density)


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
    return f"{stock_size(tube.outside)} x {gauge(tube.wall)}"


def tube_number(model: Model, run: Run, group: str = "fuselage") -> str:
    """Number of one tube of a welded frame: its first and last node."""
    return part_number(model.name, group, "TUBE", f"{run.nodes[0]}-{run.nodes[-1]}")


def frame_tubes(model: Model) -> tuple[Part, ...]:
    """Every tube of the fuselage frame and undercarriage, bent at the nodes it passes, its ends fitted to others."""
    return welded_tubes(model, model.fuselage, "fuselage")


def welded_tubes(model: Model, frame: Welded, group: str) -> tuple[Part, ...]:
    """Every tube of a welded frame."""
    all_runs = runs(frame)
    known = {name: np.array(place) for name, place in nodes(frame).items()}
    met = {name: at_node(all_runs, name) for name in known}
    return tuple(_frame_tube(model, run, known, met, group) for run in all_runs)


def at_node(all_runs: Sequence[Run], node: str) -> tuple[Run, ...]:
    """The tubes at a node in the order they are fitted: each to all before it.

    First those that pass through, then by outside diameter, then as they stand in the file. Common practice, no source.
    """
    met = [r for r in all_runs if node in r.nodes]
    return tuple(sorted(met, key=lambda r: (node in (r.nodes[0], r.nodes[-1]), -r.tube.outside)))


def _frame_tube(
    model: Model, run: Run, known: Mapping[str, np.ndarray], met: Mapping[str, Sequence[Run]], group: str
) -> Part:
    ends = []
    for node in (run.nodes[0], run.nodes[-1]):
        before = met[node][: met[node].index(run)]
        ends.append([f for other in before for f in reaches(other, node, known)])
    path = np.array([known[n] for n in run.nodes])
    shape = fitted_tube(path, run.tube.outside, run.tube.wall, tube_section(run.tube), (ends[0], ends[1]))
    body = shape.solid()
    return Part(
        number=tube_number(model, run, group),
        name=run.name.split(":")[0].replace("_", " "),
        form="tube",
        group=group,
        purpose="frame",
        material=run.tube.material,
        stock=tube_stock(run.tube),
        places=(as_place(body.centre),),
        mass=body.volume * material(run.tube.material).density,
        at=" to ".join(run.nodes),
        shape=shape,
    )


def reaches(run: Run, node: str, known: Mapping[str, np.ndarray]) -> Iterator[Fitted]:
    """A tube seen from a node: along it one way, or both where it passes."""
    i = run.nodes.index(node)
    steps = [known[run.nodes[j]] - known[node] for j in (i - 1, i + 1) if 0 <= j < len(run.nodes)]
    yield from both_ways([step / np.linalg.norm(step) for step in steps], run.tube.outside / 2)


def weld_clusters(model: Model, tubes: Sequence[Part]) -> Iterator[Joint]:
    """Every weld of the fuselage frame and undercarriage."""
    return welds(model, model.fuselage, "fuselage", tubes)


def welds(model: Model, frame: Welded, group: str, tubes: Sequence[Part]) -> Iterator[Joint]:
    """Every node where tubes meet, as one weld; its length is round the fitted end of each tube but the first."""
    all_runs = runs(frame)
    by_number = {t.number: t for t in tubes}
    for name, place in nodes(frame).items():
        met = at_node(all_runs, name)
        if len(met) > 1:
            yield Joint(
                number=part_number(model.name, group, "WELD", name),
                kind="weld",
                parts=tuple(tube_number(model, r, group) for r in met),
                place=place,
                primary=True,
                length=sum(_round_end(by_number[tube_number(model, r, group)], r.nodes[0] == name) for r in met[1:]),
                note="cluster; gussets and fittings are not drawn yet",
            )


def _round_end(part: Part, first: bool) -> float:
    """Length round the outside of a tube's cut end, m."""
    assert isinstance(part.shape, Tube)
    ring = part.shape.ends()[0 if first else 1]
    return float(np.linalg.norm(ring - np.roll(ring, 1, axis=0), axis=1).sum())
