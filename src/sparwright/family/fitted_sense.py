"""What is put on the frame: sheets that are flat, holders that are there, a mount that meets the fuselage, springs."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import Any

import numpy as np

from sparwright.base.quantity import inches
from sparwright.data.loader import fasteners
from sparwright.family.brakes_sense import check_brakes
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.fitted import EngineMount, FlatSheet, Leaf, Rubber, Undercarriage
from sparwright.family.frame import check_nodes
from sparwright.family.model import Fuselage, Place, Wheel
from sparwright.family.stock import FrameTube
from sparwright.family.tables import BAD

ON_CENTRE = 1e-6  # m
FLAT = 0.5e-3  # m a corner may stand off the plane of the others (common practice, no source)


def check_fitted(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about sheets, items' holders, mount and undercarriage that no single key can tell."""
    fuselage = values["fuselage"]
    ends = set() if fuselage is BAD else set(run_ends(fuselage.tubes, fuselage.nodes))
    sheets = [s for s in values["sheets"] if s is not BAD] if values["sheets"] is not BAD else []
    names = [s.name for s in sheets]
    for sheet in sheets:
        _sheet(sheet, names, ends if fuselage is not BAD else None, whole["sheets"][sheet.name], faults)
    if fuselage is BAD:
        return
    for item in values["items"] if values["items"] is not BAD else ():
        spot = whole["items"][item.name]
        for i, name in enumerate(item.held):
            if name not in names and name not in ends:
                faults.wrong(spot["held"].nearest(i), _holder(name, [*names, *ends]))
        if item.size and item.count > 1:
            faults.wrong(spot["count"], "several in one place would run into each other: each is an item of its own")
    if values["mount"] not in (BAD, None):
        _mount(values["mount"], fuselage, names, whole["mount"], faults)
    if values["undercarriage"] not in (BAD, None):
        _undercarriage(values["undercarriage"], values, ends, whole["undercarriage"], faults)


def run_ends(tubes: Iterable[FrameTube], nodes: Mapping[str, Place]) -> Iterable[str]:
    """How tubes of a frame are called by their ends: as written, and each side of a pair by itself."""
    for tube in tubes:
        a, b = tube.run[0], tube.run[-1]
        yield f"{a}-{b}"
        for side in "RL":
            yield "-".join(f"{n}{side}" if n in nodes and nodes[n][1] > ON_CENTRE else n for n in (a, b))


def _holder(name: str, known: Iterable[str]) -> str:
    return f"names a flat sheet, or a tube of the frame by its first and last node{hint(name, sorted(set(known)))}"


def _bolt(key: str, spot: Entry, faults: Faults) -> None:
    known = [k for k, f in fasteners().items() if f.kind == "bolt"]
    if key not in known:
        faults.wrong(spot, f"is not a bolt we know{hint(key, known)}")


def _sheet(sheet: FlatSheet, names: list[str], ends: set[str] | None, table: Entry, faults: Faults) -> None:
    """Three corners or more in one plane, on the right, from centreline to centreline; holders that are there."""
    corners = list(sheet.corners.items())
    if len(corners) < 3:
        faults.add(table["corners"], "three corners or more are wanted", f"{len(corners)}")
        return
    for name, place in corners:
        if place[1] < -ON_CENTRE:
            faults.wrong(
                table["corners"].nearest(name), "corners are those of the right half: the buttline is positive"
            )
    for name, place in (corners[0], corners[-1]):
        if abs(place[1]) > ON_CENTRE:
            faults.wrong(table["corners"].nearest(name), "the first and last corner lie on the centreline, buttline 0")
    off = _off_plane(np.array([p for _, p in corners]))
    if off > FLAT:
        wanted = f"its corners lie in one plane, the same on both sides; one stands {inches(off)} off it"
        faults.add(table["corners"], wanted)
    _bolt(sheet.bolt, table.nearest("bolt"), faults)
    for i, name in enumerate(sheet.held if ends is not None else ()):
        if ends is not None and name not in ends:
            wanted = f"names a tube of the frame by its first and last node{hint(name, sorted(ends))}"
            faults.wrong(table["held"].nearest(i), wanted)
    for i, name in enumerate(sheet.stands_on):
        if name not in names or name == sheet.name:
            faults.wrong(table["stands_on"].nearest(i), f"names another flat sheet of [sheets]{hint(name, names)}")


def _off_plane(corners: np.ndarray) -> float:
    """How far corners (n, 3) stand off one line seen from the side, m."""
    side = corners[:, [0, 2]] - corners[0, [0, 2]]
    far = side[np.argmax(np.linalg.norm(side, axis=1))]
    length = float(np.linalg.norm(far))
    return float(np.abs(side @ np.array([far[1], -far[0]])).max() / length) if length > 0 else math.inf


def _mount(mount: EngineMount, fuselage: Fuselage, sheets: list[str], table: Entry, faults: Faults) -> None:
    check_nodes(mount.nodes, table, faults)
    known = _full(mount.nodes)
    for tube in mount.tubes:
        for name in tube.run:
            if name not in known:
                spot = table["tubes"].nearest(tube.name.split(":")[0], "run")
                faults.add(spot, f"names a node of [mount.nodes]{hint(name, known)}", repr(name))
        if tube.tube.wall >= tube.tube.outside / 2:
            spot = table["tubes"].nearest(tube.name.split(":")[0], "tube", "wall")
            faults.wrong(spot, f"must be less than half the outside diameter, {inches(tube.tube.outside)}")
    used = {n for t in mount.tubes for n in (t.run[0], t.run[-1])}
    for foot in mount.feet:
        spot = table["feet"][foot.name]
        if foot.node not in used:
            faults.wrong(spot["node"], f"names a node of the mount where a tube of it ends{hint(foot.node, used)}")
        body = {n for t in fuselage.tubes for n in (t.run[0], t.run[-1])}
        if foot.to not in body:
            faults.wrong(spot["to"], f"names a node of the fuselage where a tube ends{hint(foot.to, body)}")
    for i, pad in enumerate(mount.pads):
        if pad not in used:
            faults.wrong(table["pads"].nearest(i), f"names a node of the mount where a tube ends{hint(pad, used)}")
    if mount.through not in sheets:
        faults.wrong(table["through"], f"names a flat sheet of [sheets]{hint(mount.through, sheets)}")
    for key in ("bolt", "pad_bolt"):
        _bolt(getattr(mount, key), table.nearest(key), faults)


def _full(nodes: Mapping[str, Place]) -> list[str]:
    return [*nodes, *(f"{n}{side}" for n, p in nodes.items() if p[1] > ON_CENTRE for side in "RL")]


def _undercarriage(gear: Undercarriage, values: dict[str, Any], ends: set[str], table: Entry, faults: Faults) -> None:
    wheels: tuple[Wheel, ...] = values["wheels"] if values["wheels"] is not BAD else ()
    main = next((w for w in wheels if abs(w.place[1]) > ON_CENTRE), None)
    if gear.axle not in ends:
        faults.wrong(
            table["axle"], f"names a tube of the frame by its first and last node{hint(gear.axle, sorted(ends))}"
        )
    elif main:
        _on_the_axle(gear, main, values["fuselage"], table, faults)
    for i, name in enumerate(gear.guide.held if gear.guide else ()):
        if name not in ends:
            wanted = f"names a leg of the frame by its first and last node{hint(name, sorted(ends))}"
            faults.wrong(table["guide"]["held"].nearest(i), wanted)
    if gear.rubber:
        _rubber(gear.rubber, table["rubber"], faults)
    if gear.brakes:
        cranks = values["controls"].cranks if values["controls"] not in (BAD, None) else ()
        names = [s.name for s in values["sheets"]] if values["sheets"] is not BAD else []
        check_brakes(gear.brakes, main, gear.guide is not None, cranks, ends, names, table["brakes"], faults)
    if gear.tail:
        _leaf(gear.tail, ends, table["tail"], faults)


def _on_the_axle(gear: Undercarriage, main: Wheel, fuselage: Fuselage, table: Entry, faults: Faults) -> None:
    """The main wheels' middles lie on the axle's line, within its ends."""
    tube = next((t for t in fuselage.tubes if gear.axle in run_ends([t], fuselage.nodes)), None)
    end = fuselage.nodes.get(tube.run[0].removesuffix("R")) if tube else None
    if end is None:
        return
    off = math.hypot(end[0] - main.place[0], end[2] - main.place[2])
    if off > FLAT:
        faults.wrong(table["axle"], f"the middle of wheel {main.name} lies {inches(off)} off that tube")
    elif end[1] < main.place[1]:
        faults.wrong(table["axle"], f"ends at buttline {inches(end[1])}, inside the wheel's middle")


def _rubber(rubber: Rubber, table: Entry, faults: Faults) -> None:
    """A pull for each stretch, both rising; a strand that is stretched at the bottom of its slot."""
    if len(rubber.stretch) < 2 or len(rubber.stretch) != len(rubber.pull):
        faults.add(table["pull"], "one pull for each stretch, two at least", f"{len(rubber.pull)}")
        return
    for key in ("stretch", "pull"):
        if list(getattr(rubber, key)) != sorted(set(getattr(rubber, key))):
            faults.add(table[key], "must rise from one to the next")
    if rubber.stretched < rubber.strand:
        faults.wrong(table["stretched"], f"must not be less than the slack strand, {inches(rubber.strand)}")


def _leaf(leaf: Leaf, ends: set[str], table: Entry, faults: Faults) -> None:
    """Start, rest and end follow one another aft, on the centreline; two tubes hold it."""
    for key in ("start", "rest", "end"):
        if abs(getattr(leaf, key)[1]) > ON_CENTRE:
            faults.wrong(table[key], "lies on the centreline: buttline 0")
    if not leaf.start[0] < leaf.rest[0] < leaf.end[0]:
        faults.wrong(table["rest"], "start, rest and end follow one another aft")
    if len(leaf.held) != 2:
        faults.add(table["held"], "two tubes, at its front and at its rest", f"{len(leaf.held)}")
    for i, name in enumerate(leaf.held):
        if name not in ends:
            wanted = f"names a tube of the frame by its first and last node{hint(name, sorted(ends))}"
            faults.wrong(table["held"].nearest(i), wanted)
    for key in ("bolt", "axle"):
        _bolt(getattr(leaf, key), table.nearest(key), faults)
