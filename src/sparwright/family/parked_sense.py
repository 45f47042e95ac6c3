"""Points by which the aeroplane is tied, jacked and hoisted: each is one thing, and that is there."""

from __future__ import annotations

from typing import Any

from sparwright.base.quantity import inches
from sparwright.family.ends_sense import wing_end
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.frame import node_names
from sparwright.family.model import Wing
from sparwright.family.tables import BAD

ON_CENTRE = 1e-6  # m
EXAMPLES = {
    "ropes": '{ wing = "upper", spar = "front", buttline = "92 in", ahead = "2 ft", outwards = "3 ft" }',
    "jacks": '{ node = "B2" }',
    "slings": '{ wing = "upper", spar = "front", buttline = "12 in" }',
}


def check_parked(values: dict[str, Any], wings: tuple[Wing, ...], whole: Entry, faults: Faults) -> None:
    """Everything about ropes, jacks and slings that no single key can tell. wings: as far as they could be read."""
    if values["parked"] is None or "parked" not in whole:
        return
    table = whole["parked"]
    for group, example in EXAMPLES.items():
        points = table.nearest(group)
        for point in points.value if isinstance(points.value, list) else ():
            if isinstance(point.value, dict):
                _point(point, example, wings, whole, faults)
    if values["parked"] is not BAD:
        _hook(values["parked"].hook, values["parked"].slings, table, faults)


def _point(point: Entry, example: str, wings: tuple[Wing, ...], whole: Entry, faults: Faults) -> None:
    said = {k: str(point[k].value) for k in ("node", "wing", "spar") if k in point and point[k].value != ""}
    kinds = ("node" in said, "wing" in said or "spar" in said, "place" in point)
    if sum(kinds) != 1:
        wanted = "a point is either a node, or a wing with spar and buttline, or a place"
        faults.wrong(point, wanted, example)
    elif kinds[0]:
        nodes = node_names(whole)
        if said["node"] not in nodes:
            faults.wrong(point["node"], f"names a node of [fuselage.nodes]{hint(said['node'], nodes)}", example)
    elif kinds[1]:
        wing_end(point, said, wings, whole, faults, "a point")


def _hook(hook: Any, slings: Any, table: Entry, faults: Faults) -> None:
    """On the centreline, above what hangs on it; without slings there is nothing to hook on."""
    if hook is None:
        return
    spot, example = table["hook"], 'hook = ["40 in", "0 in", "80 in"]'
    if abs(hook[1]) > ON_CENTRE:
        faults.wrong(spot.nearest(1), "lies on the centreline, buttline nought", example)
    if not slings:
        faults.wrong(spot, "nothing hangs on it: no slings are said", f"slings = [{EXAMPLES['slings']}]")
    for i, sling in enumerate(slings):
        if sling.place is not None and hook[2] <= sling.place[2]:
            at = table["slings"].nearest(i, "place", 2)
            faults.wrong(at, f"must lie below the hook, {inches(hook[2])}", EXAMPLES["slings"])
