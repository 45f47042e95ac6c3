"""What ends of struts and wires must be beyond single keys: what they name is there, and they lie on it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sparwright.base.quantity import QuantityError, inches, parse
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.frame import node_names
from sparwright.family.model import Wing
from sparwright.family.tables import BAD

NEAR = 1e-4  # m
EXAMPLE = (
    '{ node = "B1" } or { wing = "upper", spar = "front", buttline = "92 in" } '
    'or { tail = "tailplane", tube = "spar", along = "44 in" }'
)


def check_ends(wings: tuple[Wing, ...], tails: Mapping[str, Any], whole: Entry, faults: Faults) -> None:
    """Struts and wires end at nodes, at spars of wings, or at tubes of tail surfaces, that are there.

    tails: tailplane and fin as far as they could be read.
    """
    nodes = node_names(whole)
    for group in ("struts", "wires"):
        for thing in _tables(whole, group):
            ends = thing.nearest("ends")
            for end in ends.value if isinstance(ends.value, list) else ():
                if isinstance(end.value, dict):
                    _end(end, nodes, wings, tails, whole, faults)


def _end(end: Entry, nodes: Iterable[str], wings: tuple[Wing, ...], tails: Mapping[str, Any], whole: Entry,
         faults: Faults) -> None:  # fmt: skip
    keys = ("node", "wing", "spar", "tail", "tube")
    said = {k: str(end.value[k].value) for k in keys if k in end and end.value[k].value != ""}
    kinds = ("node" in said, "wing" in said or "spar" in said, "tail" in said or "tube" in said)
    if sum(kinds) != 1:
        wanted = "an end is either a node, or a wing with spar and buttline, or a tail with tube and along"
        faults.wrong(end, wanted, EXAMPLE)
    elif kinds[2]:
        _tail_end(end, tails, faults)
    elif "node" in said:
        if said["node"] not in nodes:
            faults.wrong(end["node"], f"names a node of [fuselage.nodes]{hint(said['node'], nodes)}")
    else:
        wing_end(end, said, wings, whole, faults)


def wing_end(end: Entry, said: dict[str, str], wings: tuple[Wing, ...], whole: Entry, faults: Faults,
             what: str = "an end") -> None:  # fmt: skip
    """A point on a spar of a wing is on a spar that is there, within the wing's span. what: how it is called."""
    known = whole["wings"] if "wings" in whole else Entry({}, 1, "wings")
    for key in ("wing", "spar", "buttline"):
        if key not in end:
            faults.add(end, f"is missing: {what} on a wing says wing, spar and buttline", key=f"{end.key}.{key}")
            return
    if said.get("wing", "") not in known:
        faults.wrong(end["wing"], f"names a wing{hint(said.get('wing', ''), known)}")
        return
    spars = known[said["wing"]].value.get("spars") if isinstance(known[said["wing"]].value, dict) else None
    if spars is not None and isinstance(spars.value, dict) and said.get("spar", "") not in spars:
        faults.wrong(end["spar"], f"names a spar of wing {said['wing']}{hint(said.get('spar', ''), spars)}")
    wing = next((w for w in wings if w.name == said["wing"] and w.panels), None)
    at = _length(end["buttline"])
    if wing and at is not None and not _span(wing)[0] - NEAR <= at <= _span(wing)[1] + NEAR:
        reach = " to ".join(map(inches, _span(wing)))
        faults.wrong(end["buttline"], f"must lie on wing {wing.name}, buttline {reach}")


def _tail_end(end: Entry, tails: Mapping[str, Any], faults: Faults) -> None:
    """On the fixed frame of a tail surface, between its root rib and its tip."""
    for key in ("tail", "tube", "along"):
        if key not in end or end[key].value == "":
            faults.add(end, "is missing: an end on a tail says tail, tube and along", key=f"{end.key}.{key}")
            return
    name = str(end["tail"].value)
    tail, at = tails.get(name, BAD), _length(end["along"])
    if tail is BAD or at is None:
        return
    if tail.frame is None:
        faults.wrong(end["tail"], f"an end on the {name} wants [{name}.frame], which says where its tubes are")
        return
    tip = tail.span / 2 if name == "tailplane" else tail.span
    low, high = tail.frame.fixed.root, tip - tail.frame.fixed.ends.outside
    if not low + NEAR < at < high - NEAR:
        reach = f"{inches(low)} to {inches(high)}"
        faults.wrong(end["along"], f"must lie on the {name} between its root and its tip, {reach}")


def _length(entry: Entry) -> float | None:
    try:
        return parse(entry.value, "length") if isinstance(entry.value, str) else None
    except QuantityError:
        return None


def _span(wing: Wing) -> tuple[float, float]:
    return wing.panels[0].root_buttline, wing.panels[-1].tip_buttline


def _tables(table: Entry, name: str) -> Iterable[Entry]:
    inner = table.nearest(name)
    return inner.value.values() if inner is not table and isinstance(inner.value, dict) else ()
