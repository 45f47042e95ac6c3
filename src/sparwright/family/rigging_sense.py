"""The rigging of a family file: levelling points lie on the tubes they name."""

from __future__ import annotations

from typing import Any

import numpy as np

from sparwright.base.quantity import inches
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.model import Fuselage, Place, RoundTube
from sparwright.family.tables import BAD

ON_CENTRE = 1e-6  # m
NEAR = 0.001  # m, past the tube's surface


def check_rigging(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about the rigging that no single key can tell."""
    rigging, fuselage = values["rigging"], values["fuselage"]
    if rigging in (BAD, None) or fuselage is BAD or rigging.points in (BAD, ()):
        return
    table = whole.nearest("rigging", "points")
    tubes = frame_lines(fuselage)
    for point in rigging.points:
        spot = table.nearest(point.name)
        if point.on not in tubes:
            faults.wrong(spot.nearest("on"), f"names a tube by its first and last node{hint(point.on, tubes)}")
            continue
        corners, tube = tubes[point.on]
        off = off_axis(point.place, corners) - tube.outside / 2
        if off > NEAR:
            faults.wrong(spot.nearest("place"), f"lies on its tube; it is {inches(off)} off the surface of {point.on}")
    if len(rigging.points) > 1 and abs(rigging.points[0].place[0] - rigging.points[1].place[0]) < NEAR:
        wanted = f"lies ahead of or behind {rigging.points[0].name}: the first two level it fore and aft"
        faults.wrong(table.nearest(rigging.points[1].name, "place"), wanted)


def frame_lines(fuselage: Fuselage) -> dict[str, tuple[tuple[Place, ...], RoundTube]]:
    """Every tube of the frame, right and left, by its first and last node: the nodes it passes, and its stock."""
    known = {n: p for n, p in fuselage.nodes.items() if abs(p[1]) < ON_CENTRE}
    for n, (x, y, z) in fuselage.nodes.items():
        if n not in known:
            known |= {f"{n}R": (x, y, z), f"{n}L": (x, -y, z)}
    found = {}
    for tube in fuselage.tubes:
        for side in "RL":
            names = [n if n in known else n + side for n in tube.run]
            if all(n in known for n in names):
                found[f"{names[0]}-{names[-1]}"] = (tuple(known[n] for n in names), tube.tube)
    return found


def off_axis(place: Place, corners: tuple[Place, ...]) -> float:
    """How far a place is from a line through corners, m."""
    at, a, along = np.array(place), np.array(corners[:-1]), np.diff(np.array(corners), axis=0)
    part = np.clip(((at - a) * along).sum(axis=1) / (along**2).sum(axis=1), 0.0, 1.0)
    return float(np.min(np.linalg.norm(at - a - part[:, None] * along, axis=1)))
