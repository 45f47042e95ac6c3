"""What a router or saw is given for one part: closed paths at 1 : 1, the finished edge, kerf not applied.

    waste W of a cut: the hole, or what lies round the part; a tool of radius r reaches  (W shrunk by r) grown by r

What it does not reach deeper than the tolerance is an inside corner smaller than the tool. Where relief is wanted, the
tool goes on from the nearest place it can stand straight into the corner, until its edge is at the corner's point;
where it is not, or where no place is left to stand in a hole, the part is told and has no file. Rings come out of one
polygon, so that nothing is doubled and every path closes.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sparwright.base.quantity import millimetres
from sparwright.base.record import number
from sparwright.family.buying import Buying
from sparwright.parts.part import Part, Plate
from sparwright.shape.arcs import Vertex, circle_of, path_of
from sparwright.stock.needs import Stock, flat_outline, needs
from sparwright.stock.splice import TooLarge

TOLERANCE = 0.05  # mm: an arc leaves the part's own line by no more
REACH = 0.05  # mm: a corner that the tool misses by less needs no relief
DRILLED = 12.7  # mm: round holes up to this are drilled
SHARPEST = 2.0  # diameters of the tool from where it can stand to a corner's point: of 29 degrees; sharper is told
ROUND = 24  # chords to a quarter of a relief: under 0.005 mm for tools up to 5 mm


@dataclass(frozen=True)
class Drill:
    """A hole to drill."""

    x: float = number("mm", "place")
    y: float = number("mm", "place")
    diameter: float = number("mm", "diameter")


@dataclass(frozen=True)
class Mark:
    """A line to scribe, open."""

    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True, kw_only=True)
class Job:
    """One part for the machine."""

    part: Part
    stock: Stock
    outside: tuple[Vertex, ...]
    inside: tuple[tuple[Vertex, ...], ...]
    drills: tuple[Drill, ...]
    marks: tuple[Mark, ...]
    width: float = number("mm", "along x, over all")
    height: float = number("mm", "along y, over all")
    reliefs: int = number("1", "inside corners opened for the tool")
    smallest: float = number("mm", "diameter of the tool it was looked at for")


def jobs(
    parts: Iterable[Part], buying: Buying, materials: Sequence[str] = ()
) -> tuple[tuple[Job, ...], tuple[TooLarge, ...]]:
    """A job for each plate that is cut from sheet, in the order of the parts, and those that cannot be cut so.

    materials: those whose plates are cut outside, as the family file says; none for every one.
    """
    found: list[Job] = []
    told: list[TooLarge] = []
    for need in needs(p for p in parts if isinstance(p.shape, Plate)):
        if need.stock.form == "sheet" and (not materials or need.stock.material in materials):
            made = job(need.part, need.stock, buying)
            (told if isinstance(made, TooLarge) else found).append(made)  # type: ignore[arg-type]
    return tuple(found), tuple(told)


def job(part: Part, stock: Stock, buying: Buying) -> Job | TooLarge:
    """One plate's paths, or why it has none."""
    plate = part.shape
    assert isinstance(plate, Plate), "a plate is asked for"
    whole = _solid(plate)
    if whole.geom_type != "Polygon":
        return TooLarge(part.number, f"{part.number} falls apart: its holes part its outline")
    drills, rest = _drills(whole)
    tool = buying.cutting.tool * 1000
    cut = _for_tool(rest, tool / 2, buying.cutting.relief)
    if isinstance(cut, str):
        return TooLarge(part.number, f"{part.number}: {cut}")
    shape, reliefs = cut
    x0, y0, x1, y1 = shape.bounds
    return Job(part=part, stock=stock, outside=path_of(_ring(shape.exterior), TOLERANCE),
               inside=tuple(path_of(_ring(r), TOLERANCE) for r in shape.interiors), drills=drills,
               marks=tuple(_marks(plate)), width=x1 - x0, height=y1 - y0, reliefs=reliefs, smallest=tool)  # fmt: skip


def _solid(plate: Plate) -> shapely.Geometry:
    """The flat part with its holes, mm."""
    flat = flat_outline(plate)
    outline = shapely.Polygon((plate.outline if flat is None else flat) * 1000.0).buffer(0)
    return shapely.difference(outline, shapely.union_all([shapely.Polygon(h * 1000.0).buffer(0) for h in plate.holes]))


def _ring(ring: shapely.LinearRing) -> np.ndarray:
    """(n, 2) its points, without the repeated last one and those nearer than a micrometre to the one before."""
    points = np.array(ring.coords)[:-1]
    far = np.hypot(*(points - np.roll(points, 1, axis=0)).T) > 1e-3
    return points[far] if far.sum() >= 3 else points


def _drills(whole: shapely.Polygon) -> tuple[tuple[Drill, ...], shapely.Polygon]:
    """Round holes small enough to drill, and the part without them."""
    found, kept = [], []
    for ring in whole.interiors:
        circle = circle_of(_ring(ring), TOLERANCE)
        if circle is not None and 2 * circle[2] <= DRILLED + 1e-6:
            found.append(Drill(circle[0], circle[1], 2 * circle[2]))
        else:
            kept.append(ring)
    return tuple(sorted(found, key=lambda d: (round(d.x, 3), round(d.y, 3)))), shapely.Polygon(whole.exterior, kept)


def _for_tool(part: shapely.Polygon, radius: float, relief: bool) -> tuple[shapely.Polygon, int] | str:
    """The part with its inside corners opened, and how many; or a sentence why not."""
    opened: list[shapely.Geometry] = []
    for waste, stands in _wastes(part, radius):
        if stands.is_empty:
            x, y = waste.centroid.x, waste.centroid.y
            return f"the hole at {x:.1f}, {y:.1f} mm is narrower than the tool of {millimetres(radius / 500)}"
        missed = list(_missed(waste, stands, radius))
        if missed and not relief:
            x, y = missed[0].centroid.x, missed[0].centroid.y
            more = f" and {len(missed) - 1} more" if len(missed) > 1 else ""
            return (f"the inside corner at {x:.1f}, {y:.1f} mm{more} is smaller than the tool of "
                    f"{millimetres(radius / 500)}, and no relief is wanted")  # fmt: skip
        for corner in missed:
            near, deepest = _way_in(corner, stands)
            if math.dist(near, deepest) > SHARPEST * 2 * radius:
                (x, y), slot = deepest, math.dist(near, deepest)
                return (f"the inside corner at {x:.1f}, {y:.1f} mm is too sharp: relief for the tool of "
                        f"{millimetres(radius / 500)} would take a slot of {slot:.1f} mm; cut it by hand from its "
                        "template, or say a smaller tool")  # fmt: skip
            opened.append(_relief(near, deepest, radius))
    if not opened:
        return part, 0
    left = part.difference(shapely.union_all(opened))
    return (left, len(opened)) if left.geom_type == "Polygon" else "relief for the tool would part it"


def _wastes(part: shapely.Polygon, radius: float) -> Iterator[tuple[shapely.Geometry, shapely.Geometry]]:
    """Each hole, and what lies round the part, with the places the middle of the tool can stand in it."""
    for ring in part.interiors:
        hole = shapely.Polygon(ring)
        yield hole, hole.buffer(-radius, quad_segs=ROUND)
    outline, sheet = shapely.Polygon(part.exterior), shapely.box(*part.buffer(8 * radius + 1).bounds)
    yield sheet.difference(outline), sheet.difference(outline.buffer(radius, quad_segs=ROUND))


def _missed(waste: shapely.Geometry, stands: shapely.Geometry, radius: float) -> Iterator[shapely.Polygon]:
    """Corners of the waste that the tool does not reach, those deeper than REACH, in a fixed order."""
    reached = stands.buffer(radius, quad_segs=ROUND)
    left = waste.difference(reached.buffer(REACH, quad_segs=4))
    pieces = [g for g in shapely.get_parts(left) if g.geom_type == "Polygon" and not g.is_empty]
    yield from sorted(pieces, key=lambda g: tuple(np.round(g.centroid.coords[0], 3)))


def _way_in(corner: shapely.Polygon, stands: shapely.Geometry) -> tuple[np.ndarray, np.ndarray]:
    """The nearest place the tool can stand to a corner, and the corner's point furthest from where it can stand."""
    points = np.array(corner.exterior.coords)
    far = shapely.distance(stands, shapely.points(points))
    deepest = points[int(np.argmax(np.round(far, 6)))]
    _, near = (np.array(g) for g in shapely.shortest_line(shapely.Point(deepest), stands).coords)
    return near, deepest


def _relief(near: np.ndarray, deepest: np.ndarray, radius: float) -> shapely.Geometry:
    """What the tool takes on its way into a corner, until its edge is at its point."""
    way = (deepest - near) / np.hypot(*(deepest - near))
    centre = deepest - way * radius
    return shapely.LineString([near, centre]).buffer(radius, quad_segs=ROUND)


def _marks(plate: Plate) -> Iterator[Mark]:
    """Lines to scribe: the plate's own marks, and where a foot is bent up."""
    for mark in plate.marks:
        if len(mark.points) > 1:
            yield Mark(tuple((1000.0 * x, 1000.0 * y) for x, y in mark.points))
    if plate.foot is not None:
        yield Mark(tuple((1000.0 * x, 1000.0 * y) for x, y in (plate.foot.start, plate.foot.end)))


def file_name(made: Job) -> str:
    """Number of the part, material, thickness, unit: all that a sheet on a bench must not be without."""
    import re

    thick = made.stock.words.rpartition("sheet ")[2].replace(" ", "")
    plain = re.sub(r"[^A-Za-z0-9_+.-]+", "-", made.part.number)
    return f"{plain}_{made.stock.material}_{thick}_drawn-in-mm.dxf"
