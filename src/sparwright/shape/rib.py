"""The flat shape of a rib: what is left of the section when skin, edges, spars and holes are taken away.

A rib is drawn in its own axes: x aft along the chord line from the leading edge, y up, metres.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from shapely import MultiPolygon, Polygon, affinity, box
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from sparwright.base.problem import DesignProblem
from sparwright.base.record import locked, number
from sparwright.family.model import Ribs, Skin, Spar, Wing
from sparwright.shape import section as sections
from sparwright.shape.lifting import Station

ROUND = 32  # segments to a quarter circle: 0.015 mm on a 50 mm circle
LEAST_HOLE = 6e-4  # m2: a smaller lightening hole is not worth the sawing
BAY_RATIO = 1.8  # a longer bay than this times its depth gets a post


@dataclass(frozen=True)
class Slot:
    """Where a spar passes through a rib, its box in the rib's own axes."""

    spar: str
    x: float = number("m", "middle, along the chord")
    y: float = number("m", "middle, up")
    width: float = number("m", "spar width, caps and webs, without clearance")
    height: float = number("m", "spar depth, without clearance")
    lean: float = number("rad", "turn of the box in the rib, where the wing is twisted and the spar is not")

    def polygon(self, grown: float = 0.0, taller: float = 0.0) -> Polygon:
        """The box, grown all round, and taller up and down by more."""
        w, h = self.width / 2 + grown, self.height / 2 + grown + taller
        return affinity.rotate(box(self.x - w, self.y - h, self.x + w, self.y + h), self.lean, use_radians=True)


@dataclass(frozen=True)
class Piece:
    """One flat piece of a rib."""

    name: str  # "rib", "nose rib", "middle rib", "tail rib", "aileron rib"
    outline: np.ndarray  # (n, 2), anticlockwise
    holes: tuple[np.ndarray, ...]  # clockwise
    slots: tuple[Slot, ...]
    area: float = number("m2", "area without holes")
    centre: tuple[float, float] = (0.0, 0.0)
    blank: np.ndarray | None = None


def inside(station: Station, skins: Sequence[Skin]) -> Polygon:
    """The section at a station less the skins' thickness where they lie."""
    assert station.points is not None
    whole = Polygon(sections.outline(station.points, station.chord))
    left: BaseGeometry = whole
    for skin in skins:
        if skin.thickness > 0:
            strip = box(
                skin.start * station.chord - (1 if skin.start == 0 else 0),
                -1,
                skin.end * station.chord + (1 if skin.end == 1 else 0),
                1,
            )
            shrunk = whole.buffer(-skin.thickness, join_style="mitre", mitre_limit=5)
            left = left.difference(strip).union(shrunk.intersection(strip))
    return _one(left, "the skin leaves nothing of the rib")


def _one(shape: BaseGeometry, what: str) -> Polygon:
    if isinstance(shape, MultiPolygon):
        shape = max(shape.geoms, key=lambda g: g.area)
    if not isinstance(shape, Polygon) or shape.is_empty:
        raise DesignProblem(what)
    return shape


def spar_width(spar: Spar) -> float:
    """Caps and webs across, m."""
    return spar.cap.width + spar.webs * spar.web.thickness


def slot(station: Station, wing: Wing, spar: Spar) -> Slot:
    """Where the spar passes: as deep as the inside of the skin allows across its width, less the land.

    Raises DesignProblem when nothing is left for the spar.
    """
    body = inside(station, wing.skins)
    x, half = spar.at * station.chord, spar_width(spar) / 2
    ys = [_span(body, x + dx) for dx in (-half, 0.0, half)]
    top, bottom = min(y[1] for y in ys) - spar.land, max(y[0] for y in ys) + spar.land
    if top - bottom <= 2 * spar.cap.depth:
        raise DesignProblem(
            f"wing {wing.name}, spar {spar.name}, buttline {station.buttline / 0.0254:.2f} in: {(top - bottom) * 1000:.1f} mm "
            f"is left for two caps of {spar.cap.depth * 1000:.1f} mm; make the land or the caps thinner, or the section deeper"
        )
    lean = station.angle - wing.incidence  # y up, x aft: a rib turned nose down sees the box turned the other way
    return Slot(spar.name, x, (top + bottom) / 2, 2 * half, top - bottom, lean)


def _span(body: Polygon, x: float) -> tuple[float, float]:
    line = box(x - 1e-7, -1, x + 1e-7, 1).intersection(body)
    if line.is_empty:
        raise DesignProblem(f"a spar lies outside the rib, {x * 1000:.1f} mm behind the leading edge")
    return line.bounds[1], line.bounds[3]


def pieces(station: Station, wing: Wing, cut_aileron: bool) -> tuple[Piece, ...]:
    """Every flat piece of the rib at a station, from the nose aft; `cut_aileron` parts it at the hinge."""
    ribs, chord = wing.ribs, station.chord
    body = inside(station, wing.skins)
    body = _one(
        body.intersection(box(ribs.nose_cut, -1, chord - ribs.tail_cut, 1)), "the edge bars leave nothing of the rib"
    )
    slots = tuple(slot(station, wing, s) for s in wing.spars)
    tail: Polygon | None = None
    if cut_aileron and wing.aileron:
        hinge = wing.aileron.hinge * chord
        tail = _one(body.intersection(box(hinge, -1, chord, 1)), "the aileron has no depth")
        body = _one(body.intersection(box(0, -1, hinge - wing.aileron.gap, 1)), "the aileron leaves no rib")
    lands = {s.name: s.land for s in wing.spars}
    shape: BaseGeometry = body
    for s in slots:
        shape = shape.difference(s.polygon(ribs.fit, taller=1.0 if lands[s.spar] == 0 else 0.0))
    parts = sorted(_solid(shape), key=lambda g: g.bounds[0])
    made = [_piece(name, g, slots, ribs) for name, g in zip(_names(len(parts)), parts, strict=True)]
    if tail is not None:
        made.append(_piece("aileron rib", tail, (), ribs))
    return tuple(made)


def _solid(shape: BaseGeometry) -> list[Polygon]:
    found = list(shape.geoms) if isinstance(shape, MultiPolygon) else [shape]
    return [g for g in found if isinstance(g, Polygon) and g.area > 1e-5]


def _names(count: int) -> list[str]:
    if count == 1:
        return ["rib"]
    middle = ["middle rib"] if count == 3 else [f"middle rib {i}" for i in range(1, count - 1)]
    return ["nose rib", *middle, "tail rib"]


def _piece(name: str, body: Polygon, slots: tuple[Slot, ...], ribs: Ribs) -> Piece:
    shell = Polygon(body.exterior)
    kept = tuple(s for s in slots if shell.contains(s.polygon()))
    cuts = [Polygon(ring) for ring in body.interiors]
    light = list(_lightening(shell, kept, ribs)) if ribs.web_left > 0 else []
    whole = orient(Polygon(shell.exterior, [g.exterior for g in (*cuts, *light)]))
    blank = None
    if ribs.flange > 0:
        grown = shell.buffer(flange_reach(ribs), join_style="mitre", mitre_limit=2.5)
        blank = _ring(orient(grown))
    centre = whole.centroid
    return Piece(name, _ring(whole), tuple(_ring_of(r.coords) for r in whole.interiors), kept, whole.area,
                 (centre.x, centre.y), blank)  # fmt: skip


def flange_reach(ribs: Ribs) -> float:
    """How far the flat blank of a 90 degree flange goes beyond the mould line, m.

    reach = w - 2 (R + T) + BA, BA = (0.01743 R + 0.0078 T) 90. Source: bend allowance, AC 43.13-1B ch. 4
    and Navy Aviation Structural Mechanic manual (0.01743 R + 0.0078 T) N, read.
    """
    allowance = (0.01743 * ribs.bend_radius + 0.0078 * ribs.sheet.thickness) * 90
    return ribs.flange - 2 * (ribs.bend_radius + ribs.sheet.thickness) + allowance


def _lightening(shell: Polygon, slots: Sequence[Slot], ribs: Ribs) -> Iterator[Polygon]:
    """Holes that leave `web_left` at every edge, round every spar, and posts in long bays."""
    open_ = shell.buffer(-ribs.web_left, join_style="mitre", mitre_limit=2)
    for s in slots:
        open_ = open_.difference(s.polygon(ribs.web_left, taller=1.0))
    for bay in _solid(open_):
        x0, y0, x1, y1 = bay.bounds
        count = max(1, int(np.ceil((x1 - x0) / (BAY_RATIO * (y1 - y0) + ribs.web_left))))
        width = (x1 - x0 - (count - 1) * ribs.web_left) / count
        for i in range(count):
            left = x0 + i * (width + ribs.web_left)
            yield from _rounded(bay.intersection(box(left, -1, left + width, 1)), ribs.hole_radius)


def _rounded(shape: BaseGeometry, radius: float) -> Iterator[Polygon]:
    soft = shape.buffer(-radius, quad_segs=ROUND).buffer(radius, quad_segs=ROUND) if radius > 0 else shape
    yield from (g for g in _solid(soft) if g.area > LEAST_HOLE)


def _ring(shape: Polygon) -> np.ndarray:
    return _ring_of(shape.exterior.coords)


def _ring_of(coords: object) -> np.ndarray:
    return locked(np.asarray(coords)[:-1])  # type: ignore[index]
