"""Lugs as plates: on the foot of a spar's fitting, or on a node of the fuselage, cut out to its tubes.

On a foot a lug is the hull of a round about each pin and its stand on the foot. At a node it is the hull of a round
about each pin and one about the node, less what the tubes fill of the plate's thickness and what lies behind the node:
it saddles them. A tube's share of a plate is convex, so it is the hull of the lines along the tube cut off at both
faces. Source: geometry, worked out here; the shapes are common practice.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from shapely import MultiPoint, MultiPolygon, Point, Polygon, box, unary_union
from shapely.geometry.base import BaseGeometry

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.base.record import locked
from sparwright.data.loader import material
from sparwright.family.model import Sheet
from sparwright.parts.part import Mark, Part, Place, Plate
from sparwright.parts.tail_frame import ring_of
from sparwright.parts.wing import sheet_stock
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.solid import CORNERS, Pose, around, as_place, round_radius
from sparwright.shape.tube import Fitted

GROUP = "fittings"
ROUND_NODE = 0.75  # outside diameters of the thickest tube: how far a lug reaches round its node
STAND = 1.5  # edges to either side: the stand on its foot of a lug that lies along the spar
ROUND = 32  # corners of a quarter of a round
LONG = 0.4  # m of a tube that a lug may meet


def hole(place: tuple[float, float], diameter: float) -> np.ndarray:
    """(CORNERS, 2) a round hole, clockwise, of the area of the circle."""
    angle = np.linspace(0, -2 * np.pi, CORNERS, endpoint=False)
    return locked(np.array(place) + round_radius(diameter / 2) * np.array([np.cos(angle), np.sin(angle)]).T)


def disc(place: tuple[float, float], radius: float) -> Polygon:
    """A round, true to a three-thousandth of its radius."""
    return Point(place).buffer(radius, quad_segs=ROUND)


def hull(shapes: Sequence[BaseGeometry]) -> Polygon:
    """The convex hull of several shapes."""
    return unary_union(list(shapes)).convex_hull


def shadow(tube: Fitted, from_: np.ndarray, pose: Pose, thickness: float) -> Polygon | None:
    """What a tube fills of a plate, in the plate's own axes; None where they do not meet.

    tube: begins at `from_` (3,). pose: the middle plane of the plate; thickness: its own, m.
    """
    x, y = np.array(pose.x), np.array(pose.y)
    way, z, half = np.array(tube.along), np.cross(x, y), thickness / 2
    ring = from_ + round_radius(tube.radius) * around(way, CORNERS) - np.array(pose.origin)
    height, speed = ring @ z, float(way @ z)
    if abs(speed) < 1e-9:
        inside = np.abs(height) <= half
        edge = np.sqrt(max(tube.radius**2 - max(abs(float((from_ - np.array(pose.origin)) @ z)) - half, 0) ** 2, 0.0))
        if not inside.any() and edge <= 0:
            return None
        side = np.cross(z, way)
        middle = from_ - np.array(pose.origin)
        points = [middle + s * edge * side + t * way for s in (-1, 1) for t in (0.0, LONG)]
    else:
        spans = np.sort(np.array([(-half - height) / speed, (half - height) / speed]), axis=0)
        low, high = np.clip(spans[0], 0, LONG), np.clip(spans[1], 0, LONG)
        keep = high > low
        points = [p for t in (low, high) for p in (ring + t[:, None] * way)[keep]]
    flat = [(float(p @ x), float(p @ y)) for p in points]
    found = MultiPoint(flat).convex_hull if len(flat) > 2 else None
    return found if isinstance(found, Polygon) else None


def saddle(outline: Polygon, tubes: Sequence[Fitted], node: np.ndarray, pose: Pose, thickness: float,
           pins: Sequence[tuple[float, float]], what: str) -> Polygon:  # fmt: skip
    """The outline of a lug cut out to the tubes of a node: the piece that holds its pins. DesignProblem for none."""
    filled = [s for t in tubes if (s := shadow(t, node, pose, thickness)) is not None]
    left = outline.difference(unary_union(filled)) if filled else outline
    parts = list(left.geoms) if isinstance(left, MultiPolygon) else [left]
    mine = next((g for g in parts if isinstance(g, Polygon) and all(g.contains(Point(p)) for p in pins)), None)
    if mine is None:
        raise DesignProblem(f"{what}: the tubes leave no plate with its pins in one piece")
    return Polygon(mine.exterior)


def behind(node: tuple[float, float]) -> Polygon:
    """All of a plate's plane on the far side of a node, y below it."""
    x, y = node
    return box(x - 1, y - 1, x + 1, y)


def plate_part(number: str, name: str, sheet: Sheet, outline: Polygon, pose: Pose,
               holes: Sequence[tuple[float, float, float]] = (), marks: Sequence[Mark] = (), at: str = "",
               purpose: str = "fitting") -> Part:  # fmt: skip
    """A flat plate of a fitting, right and left, or one where it lies in the plane of symmetry.

    holes: x, y, diameter, m.
    """
    ring, stuff = ring_of(outline), material(sheet.material)
    cut = tuple(hole((x, y), d) for x, y, d in holes)
    solid = Polygon(ring, cut)
    centre = (float(solid.centroid.x), float(solid.centroid.y))
    both = (pose,) if abs(pose.place(*centre)[1]) < ON_CENTRE else (pose, pose.across())
    said = tuple(Mark(label=f"hole {inches(d)}", points=((x, y),)) for x, y, d in holes)
    return Part(
        number=number, name=name, form="plate", group=GROUP, purpose=purpose, material=sheet.material,
        stock=sheet_stock(sheet, stuff), places=tuple(p.place(*centre) for p in both), poses=both, at=at,
        mass=float(solid.area) * sheet.thickness * stuff.density,
        shape=Plate(outline=locked(ring), holes=cut, thickness=sheet.thickness, marks=(*said, *marks)),
    )  # fmt: skip


def mirrored_places(place: np.ndarray) -> tuple[Place, ...]:
    """The place itself, and its mirror where it is off the centreline."""
    here = as_place(place)
    return (here,) if abs(here[1]) < ON_CENTRE else (here, (here[0], -here[1], here[2]))
