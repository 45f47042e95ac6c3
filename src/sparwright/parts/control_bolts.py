"""The bolts of the controls: what lies under each, and where it may not clamp.

What turns on a bolt, and plates on either side of something that must stay free, have a castellated nut and a cotter,
snug; what stands still is tightened by the table (parts/bolts.py). All bolts of one size and dash number are one part,
as they are bought. Heads forward, outboard or up: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
from shapely import LineString, Point
from shapely.geometry.base import BaseGeometry

from sparwright.data.hardware import bolts
from sparwright.family.controls import Controls
from sparwright.family.model import Model
from sparwright.parts.bolts import bolt_for, bolt_mass, heading
from sparwright.parts.control_bodies import EDGE, GROUP, Footing, bolt, cut_at, number
from sparwright.parts.control_runs import Hole
from sparwright.parts.part import Bolt, Joint, Part
from sparwright.shape.solid import Pose

STAND = "AN3"  # what brackets, lugs, rails and stops are held by
CLOSE, FAR = 1e-5, 0.3  # m: this near is on a face; this far behind it is looked


def rod_end_bolt(c: Controls, hole: Hole) -> Bolt:
    """The bolt through a plate and the ball of a rod end, with a wide washer over the ball."""
    stock = bolts().get(c.rod_end.bolt)
    washer = stock.washer if stock else 0.0
    under = [("wide washer", washer), ("ball of the rod end", c.rod_end.width), ("plate", hole.thickness)]
    limit = "clamps the ball on its plate, not the eye round it, which tilts by hand"
    return bolt_for(c.rod_end.bolt, under, heading(hole.normal), turns=True, limit=limit)


def shackle_bolt(c: Controls, hole: Hole) -> Bolt:
    """The bolt through a shackle over its plate."""
    leg = ("leg of the shackle", c.cable_end.shackle.thickness)
    limit = "must not draw the shackle's legs on the plate; it swings by hand"
    return bolt_for(c.cable_end.pin, [leg, ("plate", hole.thickness), leg], heading(hole.normal), True, limit)


def between_plates(
    size: str, plate: float, inner: tuple[str, float], normal: np.ndarray, limit: str, turns: bool = True
) -> Bolt:
    """The bolt through two plates of a thickness, m, and what is between them: its name and length, m."""
    return bolt_for(size, [("plate", plate), inner, ("plate", plate)], heading(normal), turns, limit)


def collar_bolt(outside: float) -> Bolt:
    """The bolt across a collar, of its outside diameter, m, and the shaft in it."""
    return bolt_for(STAND, [("collar and shaft", outside)], "up", True, "snug only: tighter, it makes the shaft oval")


def standing_bolt(sheet: float, on: tuple[str, float], way: np.ndarray, limit: str) -> Bolt:
    """One of those that hold a foot on a part: foot, part and backing plate; sheet: thickness of the first and last."""
    under = [("foot", sheet), on, ("backing plate of the same sheet", sheet)]
    return bolt_for(STAND, under, heading(way), limit=limit)


def web_at(model: Model, stand: Footing, pose: Pose) -> tuple[np.ndarray, np.ndarray, float]:
    """((3,) where a plate's foot lies on a part of a wing, (3,) the way into it there, its thickness that way, m).

    It is measured in the plate's plane, square to the face, where the foot's bolts stand: a bolt's edge distance from
    the foot towards the face's middle.
    """
    at, section, _ = cut_at(model, stand, pose)
    faces = [LineString(e) for ring in _rings(section) for e in zip(ring[:-1], ring[1:], strict=True)]
    face = max((f for f in faces if f.distance(Point(at)) < CLOSE), key=lambda f: float(f.length))
    middle = face.interpolate(0.5, normalized=True)
    line = LineString([at, middle])
    p = line.interpolate(min(line.length, EDGE * bolt(STAND)))
    a, b = np.array(face.coords)
    n = np.array([a[1] - b[1], b[0] - a[0]]) / face.length
    n = n if section.contains(Point(p.x + CLOSE * n[0], p.y + CLOSE * n[1])) else -n
    met = section.intersection(LineString([(p.x, p.y), (p.x + FAR * n[0], p.y + FAR * n[1])]))
    first = min(getattr(met, "geoms", [met]), key=lambda g: float(g.distance(p)))
    return np.array(pose.place(*at)), n[0] * np.array(pose.x) + n[1] * np.array(pose.y), float(first.length)


def _rings(section: BaseGeometry) -> list[list[tuple[float, ...]]]:
    return [list(g.exterior.coords) for g in getattr(section, "geoms", [section])]


def with_bolts(model: Model, joints: Sequence[Joint]) -> tuple[list[Part], list[Joint]]:
    """(the bolts of all joints, one part for each that is bought; the joints with them among their parts)."""
    found: dict[str, list[Joint]] = {}
    for j in joints:
        if j.bolt is not None and j.fasteners:
            found.setdefault(j.bolt.stock, []).append(j)
    parts = list(_bought(model, found))
    named = {p.stock: p.number for p in parts}
    held = [
        replace(j, parts=(*j.parts, named[j.bolt.stock])) if j.bolt is not None and j.fasteners else j for j in joints
    ]
    return parts, held


def _bought(model: Model, found: dict[str, list[Joint]]) -> Iterator[Part]:
    for stock, joints in sorted(found.items()):
        first = joints[0].bolt
        assert first is not None
        nuts = dict.fromkeys(j.bolt.nut for j in joints if j.bolt is not None)
        key = f"{first.size}-{first.dash}" if first.dash.isdigit() else f"{first.size}-grip"
        yield Part(
            number=number(model, "BOLT", key),
            name=f"bolt {stock}, nut and washers",
            form="item",
            group=GROUP,
            purpose="control",
            material="bought",
            stock=stock,
            places=tuple(j.place for j in joints for _ in range(j.fasteners)),
            mass=bolt_mass(first.size, max(j.bolt.grip for j in joints if j.bolt is not None)),
            band=0.2,
            note="; ".join(nuts),
        )
