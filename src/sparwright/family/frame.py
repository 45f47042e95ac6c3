"""The fuselage of a family file: nodes that are there, runs that can be built, a body in order."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from sparwright.base.quantity import inches
from sparwright.family.entry import Entry, Faults, hint, shown
from sparwright.family.model import Fuselage, Place
from sparwright.family.tables import BAD

ON_CENTRE = 1e-6  # m: a node nearer to the centreline than this is on it
SAME = 1e-3  # m: two nodes nearer than this are one


def node_names(whole: Entry) -> list[str]:
    """Every name a node can be called by: the written ones, and those of pairs with R and L."""
    nodes = whole.nearest("fuselage", "nodes")
    if not isinstance(nodes.value, dict) or not nodes.key.endswith("nodes"):
        return []
    plain = list(nodes.value)
    return plain + [f"{n}{side}" for n in plain for side in "RL" if not _on_centre(nodes[n])]


def _on_centre(node: Entry) -> bool:
    written = node.value[1].value if isinstance(node.value, list) and len(node.value) > 1 else ""
    digits = [c for c in str(written) if c.isdigit()]
    return bool(digits) and set(digits) == {"0"}


def check_frame(fuselage: Fuselage | Any, whole: Entry, faults: Faults) -> None:
    """Runs name nodes that are there and build no tube twice; the body goes from nose to tail."""
    known = node_names(whole)
    tubes = whole.nearest("fuselage", "tubes")
    if tubes.key.endswith("tubes") and isinstance(tubes.value, dict):
        for tube in tubes.value.values():
            for name in _named(tube.nearest("run")):
                if name.value not in known:
                    faults.wrong(name, f"names a node of [fuselage.nodes]{hint(name.value, known)}")
    if fuselage is BAD:
        return
    table = whole["fuselage"]
    check_nodes(fuselage.nodes, table, faults)
    check_runs(fuselage, known, table, faults)
    check_body(fuselage, table, faults)


def _named(run: Entry) -> list[Entry]:
    """The node names of a run or of several."""
    return [e for e in run.walk() if isinstance(e.value, str) and e is not run]


def check_nodes(nodes: Mapping[str, Place], table: Entry, faults: Faults) -> None:
    """Nodes are on the right or the centreline, and no two are in one place or share a name."""
    seen: dict[str, Place] = {}
    for name, place in nodes.items():
        spot = table.nearest("nodes", name)
        if place[1] < -ON_CENTRE:
            faults.add(
                spot, "a pair of nodes is written by its right one: the buttline is positive", shown(spot.nearest(1))
            )
        same = [n for n, p in seen.items() if max(abs(a - b) for a, b in zip(p, place, strict=True)) < SAME]
        if same:
            faults.add(spot, f"is in the place of node {same[0]}")
        if name[-1] in "RL" and name[:-1] in nodes and nodes[name[:-1]][1] > ON_CENTRE:
            faults.wrong(spot, f"is also one of the pair {name[:-1]}; give it another name")
        seen[name] = place


def check_runs(fuselage: Fuselage, known: list[str], table: Entry, faults: Faults) -> None:
    """Runs are written for both sides or for one, walls leave a bore, and each stretch is built once.

    A run to a node that is not there, or could not be read, is told elsewhere, and nothing more is said of it here.
    """
    built: dict[frozenset[str], str] = {}
    for tube in fuselage.tubes:
        spot = table.nearest("tubes", tube.name.split(":")[0])
        if tube.tube.wall >= tube.tube.outside / 2:
            wall = spot.nearest("tube", "wall")
            faults.wrong(wall, f"must be less than half the outside diameter, {inches(tube.tube.outside)}")
        if not all(name in known and _node(name, fuselage.nodes) for name in tube.run):
            continue
        sides = _sides(tube.run, fuselage.nodes)
        if sides is None:
            wanted = "a run off the centreline names its nodes with R or L throughout, or never"
            faults.add(spot, wanted, "-".join(tube.run), 'run = ["A1R", "B1L"]')
            continue
        for a, b in (pair for run in sides for pair in pairwise(run)):
            if a == b:
                faults.add(spot, f"goes from node {a} to itself")
            elif built.setdefault(frozenset((a, b)), tube.name) != tube.name:
                faults.add(spot, f"the tube from {a} to {b} is already built by {built[frozenset((a, b))]}")


def _node(name: str, nodes: Mapping[str, Place]) -> bool:
    """Whether a node of that name, or the pair it is one of, could be read."""
    return name in nodes or (name[-1:] in ("R", "L") and name[:-1] in nodes)


def _sides(run: tuple[str, ...], nodes: Mapping[str, Place]) -> list[tuple[str, ...]] | None:
    """The run as built: on both sides, or once; None when it mixes the two ways of writing."""
    off = [n for n in run if n not in nodes or nodes[n][1] > ON_CENTRE]
    pairs = [n for n in off if n in nodes]
    if pairs and len(pairs) < len(off):
        return None
    return [tuple(n + side if n in pairs else n for n in run) for side in "RL"] if pairs else [run]


def check_body(fuselage: Fuselage, table: Entry, faults: Faults) -> None:
    """At least two cross-sections, from nose to tail, each with its top above its bottom."""
    spot = table.nearest("body")
    names = list(spot.value) if isinstance(spot.value, dict) else []
    if len(names) < 2:
        faults.add(spot, "at least two cross-sections of the outside are wanted", f"{len(names)}")
    if len(names) != len(fuselage.body):
        return
    for name, body in zip(names, fuselage.body, strict=True):
        if body.top <= body.bottom:
            faults.wrong(spot.nearest(name, "top"), f"must lie above bottom, {inches(body.bottom)}")
    for (_, a), (name, b) in pairwise(zip(names, fuselage.body, strict=True)):
        if b.station <= a.station:
            station = spot.nearest(name, "station")
            faults.wrong(station, f"stations rise from nose to tail; the one before is {inches(a.station)}")
