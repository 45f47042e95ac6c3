"""Lugs that the seat's straps are bolted to, welded on tubes of the frame.

A lug lies in the plane through its tube's middle line and its hole: the hull of a round about the hole and a foot along
the tube, cut off where the tube's face is. Each side is a part of its own; its bolt is weighed with it. Common
practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely import LineString, Polygon, box

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.base.record import locked
from sparwright.data.loader import fasteners, material
from sparwright.family.model import Model
from sparwright.family.occupant import Harness, StrapLug
from sparwright.parts.bolts import bolt_for, bolt_mass, heading
from sparwright.parts.bought import item_number
from sparwright.parts.flat_sheets import tube_numbers
from sparwright.parts.lugs import disc, hole
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Hand, Joint, Part, Place, Plate
from sparwright.parts.tail_frame import ring_of
from sparwright.parts.wing import sheet_stock
from sparwright.shape.frame import mirrored
from sparwright.shape.solid import Pose, as_place
from sparwright.shape.tube import Tube

GROUP = "seat"
FOOT = 1.5  # edges to either side: the foot along the tube (common practice, no source)
FAR = 4.0  # edges from the tube's face to the hole: further off a lug would bend
HANDS: tuple[Hand, ...] = ("R", "L")


@dataclass(frozen=True)
class StrapAnchor:
    """Where a strap is held: its lug's hole and the tube it stands on."""

    strap: str  # "shoulder", "lap"
    hand: Hand
    place: Place
    tube: Part


def harness(model: Model) -> Harness | None:
    """The harness whose anchors are drawn; None for none."""
    found = model.seat.harness if model.seat else None
    return found if found and found.lug else None


def strap_anchors(model: Model, tubes: Sequence[Part]) -> Iterator[StrapAnchor]:
    """Each anchor, right and left, on the nearer of the tubes that its key names. DesignProblem for no such tube."""
    straps, known = harness(model), {t.number: t for t in tubes}
    for word in ("shoulder", "lap") if straps else ():
        place, on = getattr(straps, word), getattr(straps, f"{word}_on")
        if place is None:
            continue
        held = [known[n] for n in tube_numbers(model, on, known)]
        if not held:
            raise DesignProblem(f"{model.name} seat.harness.{word}_on: no tube of the frame runs {on}")
        for hand in HANDS:
            at = place if hand == "R" else mirrored(place)
            yield StrapAnchor(word, hand, at, min(held, key=lambda t, p=at: _beside(t, p)[2]))  # type: ignore[misc]


def _beside(tube: Part, place: Sequence[float]) -> tuple[np.ndarray, np.ndarray, float]:
    """((3,) nearest place of a tube's middle line, (3,) unit along it there, how far off it is, m)."""
    assert isinstance(tube.shape, Tube)
    point, found = np.array(place), []
    for a, b in pairwise(tube.shape.path):
        share = float(np.clip((point - a) @ (b - a) / ((b - a) @ (b - a)), 0.0, 1.0))
        near = a + share * (b - a)
        found.append((near, (b - a) / np.linalg.norm(b - a), float(np.linalg.norm(point - near))))
    return min(found, key=lambda f: f[2])


def _number(model: Model, anchor: StrapAnchor) -> str:
    return part_number(model.name, GROUP, "STRAP-LUG", anchor.strap.upper(), anchor.hand)


def _pin_number(model: Model, anchor: StrapAnchor) -> str:
    return part_number(model.name, GROUP, "STRAP-PIN", anchor.strap.upper(), anchor.hand)


def strap_lug_parts(model: Model, tubes: Sequence[Part]) -> Iterator[Part]:
    """Every lug, and its bolt. DesignProblem where its hole lies in its tube, or too far off it."""
    straps = harness(model)
    for anchor in strap_anchors(model, tubes):
        assert straps and straps.lug
        yield _lug(model, straps.lug, anchor)
        if straps.item:
            yield _bolt_part(model, straps.lug, anchor)


def _swings(lug: StrapLug, way: np.ndarray) -> Bolt:
    """The bolt through a strap's own end and its lug; way: (3,) square to the lug."""
    under = [("strap's end", lug.tang), ("lug", lug.sheet.thickness)]
    return bolt_for(lug.bolt, under, heading(way), turns=True, limit="the strap's end must swing freely")


def _bolt_part(model: Model, lug: StrapLug, anchor: StrapAnchor) -> Part:
    near, along, _ = _beside(anchor.tube, anchor.place)
    bolt = _swings(lug, np.cross(along, np.array(anchor.place) - near))
    return Part(
        number=_pin_number(model, anchor), name=f"bolt of the {anchor.strap} strap, nut and washers", form="item",
        group=GROUP, purpose="bought", material="bought", stock=f"{bolt.stock}, {bolt.nut}", hand=anchor.hand,
        places=(anchor.place,), mass=bolt_mass(lug.bolt, bolt.grip), band=0.2,
    )  # fmt: skip


def _lug(model: Model, lug: StrapLug, anchor: StrapAnchor) -> Part:
    near, along, off = _beside(anchor.tube, anchor.place)
    assert isinstance(anchor.tube.shape, Tube)
    face, word = anchor.tube.shape.outside / 2, f"{model.name} seat.harness.{anchor.strap}"
    if off < face + lug.edge:
        raise DesignProblem(f"{word}: its hole lies {inches(off)} from the middle of {anchor.tube.number}; "
                            f"{inches(face + lug.edge)} at least leave its edge outside the tube")  # fmt: skip
    if off > face + FAR * lug.edge:
        most = face + FAR * lug.edge
        raise DesignProblem(f"{word}: its hole lies {inches(off)} from the middle of {anchor.tube.number}, on no tube; "
                            f"{inches(most)} at most for a lug with an edge of {inches(lug.edge)}")  # fmt: skip
    out = (np.array(anchor.place) - near) / off
    if abs(float(out @ along)) > 0.05:
        raise DesignProblem(f"{word}: its hole lies past the end of {anchor.tube.number}, on no tube")
    pose = Pose(as_place(near), as_place(along), as_place(out))
    outline = _outline(face, off, lug.edge)
    ring, stuff, d = ring_of(outline), material(lug.sheet.material), fasteners()[lug.bolt].diameter
    bore = hole((0.0, off), d)
    whole = Polygon(ring, (bore,))
    x, y = float(whole.centroid.x), float(whole.centroid.y)
    return Part(
        number=_number(model, anchor), name=f"lug of the {anchor.strap} strap", form="plate",
        group=GROUP, purpose="holds a strap", material=lug.sheet.material, stock=sheet_stock(lug.sheet, stuff),
        hand=anchor.hand, places=(pose.place(x, y),), poses=(pose,), at=anchor.tube.at,
        mass=whole.area * lug.sheet.thickness * stuff.density,
        shape=Plate(outline=locked(ring), holes=(bore,), thickness=lug.sheet.thickness),
    )  # fmt: skip


def _outline(face: float, off: float, edge: float) -> Polygon:
    """Outline in the plane of tube and hole: x along the tube, y from its middle line to the hole, m."""
    foot = LineString([(-FOOT * edge, face), (FOOT * edge, face)])
    whole = disc((0.0, off), edge).union(foot).convex_hull
    above = whole.difference(box(-1.0, -1.0, 1.0, face))
    assert isinstance(above, Polygon)
    return above


def strap_lug_joints(model: Model, tubes: Sequence[Part]) -> Iterator[Joint]:
    """Each lug welded to its tube, and the strap bolted to it."""
    straps = harness(model)
    for anchor in strap_anchors(model, tubes):
        assert straps and straps.lug
        lug, own = straps.lug, _number(model, anchor)
        near, along, _ = _beside(anchor.tube, anchor.place)
        yield Joint(number=f"{own}-WELD", kind="weld", parts=(anchor.tube.number, own), place=as_place(near),
                    primary=True, length=4 * FOOT * lug.edge, note="both faces, the whole foot")  # fmt: skip
        if not straps.item:
            continue
        out = np.array(anchor.place) - near
        pin = _pin_number(model, anchor)
        yield Joint(number=f"{own}-BOLT", kind="bolt", parts=(own, item_number(model, straps.item), pin),
                    place=anchor.place, primary=True, fastener=lug.bolt, fasteners=1,
                    bolt=_swings(lug, np.cross(along, out)),
                    note="the strap's own end fitting")  # fmt: skip
