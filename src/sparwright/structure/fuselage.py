"""The fuselage's frame, the engine's mount and the axle as bars.

Tubes are welded where they meet, so they are held stiffly to one another, each on its own middle line. The mount's feet
stand tight on the frame's sockets: both are one node, the mount's tubes a small arm away. The axle rises in its guides:
at each leg's node it is held up, fore and aft and sideways, and tilts freely there.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise

import numpy as np

from sparwright.family.model import Model
from sparwright.parts.frame import tube_number
from sparwright.parts.mount import GROUP as MOUNT
from sparwright.shape.frame import Run, nodes, runs
from sparwright.structure.bar import NO_ARM, RIGID, Bar
from sparwright.structure.sections import tube_section

UP, ALONG = np.array([0.0, 0.0, 1.0]), np.array([1.0, 0.0, 0.0])
UPRIGHT = 0.95  # a tube nearer to upright than this has its z along the station
GUIDE = "guide"
SWIVEL = (3, 5)  # what the axle is free to do in its guide; the brakes' links keep it from turning about itself


def fuselage_nodes(model: Model) -> dict[str, np.ndarray]:
    """Every node of the frame and of the mount but its feet, and of the axle over the legs."""
    found = {name: np.array(place) for name, place in nodes(model.fuselage).items()}
    own = nodes(model.mount) if model.mount else {}
    found |= {f"{MOUNT}:{n}": np.array(place) for n, place in own.items() if n not in feet(model)}
    return found | _over_legs(model, found)


def feet(model: Model) -> dict[str, str]:
    """By full name of the mount's node at a foot: the frame's node it stands on."""
    found: dict[str, str] = {}
    for foot in model.mount.feet if model.mount else ():
        for side in ("", "R", "L"):
            found[f"{foot.node}{side}"] = f"{foot.to}{side}"
    return found


def fuselage_bars(model: Model) -> Iterator[Bar]:
    """Frame, mount, axle."""
    axle = _axle(model)
    for run in runs(model.fuselage):
        if run.nodes != axle:
            yield from _run(model, run, "fuselage", {})
    for run in runs(model.mount) if model.mount else ():
        yield from _run(model, run, MOUNT, feet(model))
    yield from _axle_bars(model, axle)


def _run(model: Model, run: Run, group: str, alias: Mapping[str, str]) -> Iterator[Bar]:
    frame = model.mount if group == MOUNT else model.fuselage
    assert frame is not None
    own, base = nodes(frame), nodes(model.fuselage)
    for a, b in pairwise(run.nodes):
        ends, arms = [], []
        for n in (a, b):
            ends.append(alias.get(n, n if group != MOUNT else f"{MOUNT}:{n}"))
            arms.append(np.subtract(own[n], base[alias[n]]) if n in alias else NO_ARM[0])
        yield Bar(tube_number(model, run, group), "mount" if group == MOUNT else "tube", (ends[0], ends[1]),
                  tube_section(run.tube), upwards(np.subtract(own[b], own[a])), (arms[0], arms[1]),
                  made=run.tube)  # fmt: skip


def upwards(way: np.ndarray) -> np.ndarray:
    """(3,) up, or aft for what is nearly upright."""
    return ALONG if abs(way[2]) > UPRIGHT * np.linalg.norm(way) else UP


# ------------------------------------------------------------------ axle


def _axle(model: Model) -> tuple[str, ...]:
    if model.undercarriage is None:
        return ()
    a, b = model.undercarriage.axle.split("-")
    return next((r.nodes for r in runs(model.fuselage) if {a, b} <= set(r.nodes)), ())


def legs(model: Model) -> dict[str, str]:
    """By the axle's node over each leg's foot: that foot, the node of the guide's legs that is off the fuselage."""
    gear, axle = model.undercarriage, _axle(model)
    if gear is None or gear.guide is None or not axle:
        return {}
    ends = [set(h.split("-")) for h in gear.guide.held]
    foot = next(iter(set.intersection(*ends)), "")
    return {f"{GUIDE}{s}": f"{foot}{s}" for s in ("R", "L")} if foot else {}


def _over_legs(model: Model, found: Mapping[str, np.ndarray]) -> dict[str, np.ndarray]:
    axle = _axle(model)
    if not axle:
        return {}
    a = found[axle[0]]
    return {name: np.array([a[0], found[foot][1], a[2]]) for name, foot in legs(model).items()}


def _axle_bars(model: Model, axle: tuple[str, ...]) -> Iterator[Bar]:
    """From end to end through the guides, and a link from each guide's leg that lets it tilt."""
    if not axle:
        return
    run = next(r for r in runs(model.fuselage) if r.nodes == axle)
    right = nodes(model.fuselage)[axle[0]][1] > 0
    through = [f"{GUIDE}R", f"{GUIDE}L"] if right else [f"{GUIDE}L", f"{GUIDE}R"]
    over = legs(model)
    path = [axle[0], *(through if over else ()), axle[-1]]
    for a, b in pairwise(path):
        yield Bar(tube_number(model, run), "axle", (a, b), tube_section(run.tube), UP, made=run.tube)
    for name, foot in over.items():
        yield Bar(f"{model.name}-gear-GUIDE", "link", (foot, name), tube_section(run.tube), ALONG, free=(RIGID, SWIVEL))
