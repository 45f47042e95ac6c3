"""The flat shape of a rib: what is left of the section when skin, edges, spars and holes are taken away.

A rib is drawn in its own axes: x aft along the chord line from the leading edge, y up, metres.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely import MultiPolygon, Polygon, affinity, box, unary_union
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from sparwright.base.problem import DesignProblem
from sparwright.base.record import locked, number
from sparwright.base.remembered import remembered
from sparwright.family.model import Ribs, Skin, Spar, Wing
from sparwright.shape import section as sections
from sparwright.shape.lifting import Station
from sparwright.shape.parted import Parting, aileron_inside, parting, spar_rings

REACH = 10.0  # m, longer than any rib is deep
NOTHING = 1e-9  # m2: less than this is rounding
LEAST_PIECE = 1e-5  # m2: a smaller piece of a rib is a sliver nobody can make
LEAST_LENGTH = 0.003  # m along the chord, the same
ROUND = 32  # segments to a quarter circle: 0.015 mm on a 50 mm circle
LEAST_HOLE = 6e-4  # m2: a smaller lightening hole is not worth the sawing
TAIL = "tail rib"  # the piece behind the last spar, where spars part the rib
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

    def point(self, up: float) -> tuple[float, float]:
        """The point of the box's middle line this far above its middle, m."""
        return self.x - up * float(np.sin(self.lean)), self.y + up * float(np.cos(self.lean))

    def corner(self, along: float, up: float) -> tuple[float, float]:
        """The point this far aft of the box's middle and above it, in the box's own axes, m."""
        c, s = float(np.cos(self.lean)), float(np.sin(self.lean))
        return self.x + along * c - up * s, self.y + along * s + up * c

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


@remembered(2000)
def inside(station: Station, skins: Sequence[Skin]) -> Polygon:
    """The section at a station less the skins' thickness where they lie; skins one over another add up."""
    assert station.points is not None
    whole = Polygon(sections.outline(station.points, station.chord))
    thick = [s for s in skins if s.thickness > 0]
    marks = sorted({0.0, 1.0, *(s.start for s in thick), *(s.end for s in thick)})
    layers = []
    for a, b in pairwise(marks):
        taken = sum(s.thickness for s in thick if s.start <= a and s.end >= b)
        layers.append((_strip(a, b, station.chord), taken))
    if len(layers) == 1 and layers[0][1] == 0:
        return whole
    left = unary_union([_shrunk(whole, taken).intersection(strip) for strip, taken in layers])
    return _one(left, "the skin leaves nothing of the rib")


def _strip(start: float, end: float, chord: float) -> Polygon:
    """All between two fractions of the chord, and beyond at its ends."""
    return box(start * chord - (1 if start <= 0 else 0), -1, end * chord + (1 if end >= 1 else 0), 1)


def _shrunk(whole: Polygon, taken: float) -> BaseGeometry:
    return whole.buffer(-taken, join_style="mitre", mitre_limit=5) if taken > 0 else whole


def _one(shape: BaseGeometry, what: str) -> Polygon:
    if isinstance(shape, MultiPolygon):
        shape = max(shape.geoms, key=lambda g: g.area)
    if not isinstance(shape, Polygon) or shape.is_empty:
        raise DesignProblem(what)
    return shape


def spar_width(spar: Spar) -> float:
    """Caps and webs across, m."""
    return spar.cap.width + spar.webs * spar.web.thickness


@remembered(2000)
def slot(station: Station, wing: Wing, spar: Spar) -> Slot:
    """Where the spar passes: as deep as the inside of the skin allows across its width, less the land.

    The spar stands upright on the wing's innermost chord all along; where the wing is twisted it leans in the rib.
    Raises DesignProblem when nothing is left for the spar.
    """
    lean = station.angle - wing.incidence  # y up, x aft: a rib turned nose down sees the box turned the other way
    x, half = spar.at * station.chord, spar_width(spar) / 2
    body = affinity.rotate(inside(station, wing.skins), -lean, origin=(x, 0), use_radians=True)
    lowest, highest = _room(body, x - half, x + half, f"{_at(station, wing)}: spar {spar.name}")
    top, bottom = highest - spar.land, lowest + spar.land
    if top - bottom <= 2 * spar.cap.depth:
        raise DesignProblem(
            f"wing {wing.name}, spar {spar.name}, buttline {station.buttline / 0.0254:.2f} in: "
            f"{(top - bottom) * 1000:.1f} mm is left for two caps of {spar.cap.depth * 1000:.1f} mm; "
            "make the land or the caps thinner, or the section deeper"
        )
    up = (top + bottom) / 2
    return Slot(spar.name, x - up * float(np.sin(lean)), up * float(np.cos(lean)), 2 * half, top - bottom, lean)


def _room(body: Polygon, start: float, end: float, what: str) -> tuple[float, float]:
    """Lowest and highest y of the tallest upright box of that width that fits into the body, m."""
    missing = box(start, -REACH, end, REACH).difference(body)
    parts = list(missing.geoms) if isinstance(missing, MultiPolygon) else []
    above = [g.bounds[1] for g in parts if g.bounds[3] >= REACH]
    below = [g.bounds[3] for g in parts if g.bounds[1] <= -REACH]
    if not above or not below:
        raise DesignProblem(f"{what} lies outside the rib, {start * 1000:.1f} to {end * 1000:.1f} mm behind its nose")
    return max(below), min(above)


@remembered(500)
def pieces(
    station: Station, wing: Wing, cut_aileron: bool, holed: bool = True, notches: Sequence[Polygon] = ()
) -> tuple[Piece, ...]:
    """Every flat piece of the rib at a station, from the nose aft; `cut_aileron` parts it for the aileron.

    notches: what else is taken out beside its spars, in its own axes.

    A spar without land cuts the rib through: a nose rib ahead of the first, a tail rib behind the last, middle
    ribs between. An aileron with a nose has a piece ahead of its spar. holed: with lightening holes. Raises
    DesignProblem when the cuts leave other pieces than these.
    """
    ribs, chord, at = wing.ribs, station.chord, station.buttline
    body = inside(station, wing.skins)
    nose, end = ribs.nose_cut or -1.0, chord - (ribs.tail_cut or -1.0)
    if nose >= end:
        raise DesignProblem(f"{_at(station, wing)}: the edge bars leave nothing of the rib")
    body = _one(body.intersection(box(nose, -1, end, 1)), f"{_at(station, wing)}: the edge bars leave nothing of it")
    slots = tuple(slot(station, wing, s) for s in wing.spars)
    if not (cut_aileron and wing.aileron):
        return tuple(
            _piece(name, g, slots, wing.rib_at(at, name == TAIL), holed)
            for name, g in _cut_through(station, wing, body, slots, notches)
        )
    p = parting(station, wing)
    _clear_of_aileron(station, wing, slots, p.wing_end)
    body = _one(body.intersection(box(-1, -1, p.wing_end, 1)), f"{_at(station, wing)}: the aileron leaves no rib")
    made = [
        _piece(name, g, slots, wing.rib_at(at, name == TAIL))
        for name, g in _cut_through(station, wing, body, slots, notches)
    ]
    return (*made, *(_piece(name, g, (), ribs) for name, g in _of_aileron(station, wing, p, end)))


def nose_piece(station: Station, wing: Wing) -> Piece:
    """The rib ahead of the first spar alone, up to its front face."""
    where = f"{_at(station, wing)}: nothing is left of it ahead of the first spar"
    body = _one(inside(station, wing.skins).intersection(box(wing.ribs.nose_cut or -1.0, -1, REACH, 1)), where)
    first = min((slot(station, wing, s) for s in wing.spars), key=lambda s: s.x)
    left = body.difference(first.polygon(wing.ribs.fit, taller=REACH))
    ahead = [g for g in _solid(left) if g.centroid.x < first.x]
    if not ahead:
        raise DesignProblem(where)
    return _piece("nose rib", max(ahead, key=lambda g: g.area), (), wing.ribs)


def _of_aileron(station: Station, wing: Wing, p: Parting, end: float) -> Iterator[tuple[str, Polygon]]:
    """(name, outline) of the aileron's own pieces: ahead of its spar where it has a nose, and behind."""
    aileron, where = wing.aileron, f"{_at(station, wing)}: the aileron has no depth"
    assert aileron is not None
    if aileron.frame is None:
        yield "aileron rib", _one(inside(station, wing.skins).intersection(box(p.face, -1, end, 1)), where)
        return
    body, spar = aileron_inside(station, wing, p), aileron.frame.spar
    if p.radius:
        yield "aileron nose rib", _one(body.intersection(box(-1, -1, p.face, 1)), where)
    behind = body.intersection(box(p.face + spar.thickness, -1, end, 1))
    for name, ring in spar_rings(body, p.face, spar, where).items():
        behind = behind.difference(Polygon(ring).buffer(wing.ribs.fit if name else 0.0, join_style="mitre"))
    if aileron.frame.closed_at(station.buttline):
        behind = behind.intersection(box(p.face + spar.width, -1, end, 1))
    yield "aileron rib", _one(behind, where)


def _at(station: Station, wing: Wing) -> str:
    return f"wing {wing.name}, rib at buttline {station.buttline / 0.0254:.2f} in"


def _clear_of_aileron(station: Station, wing: Wing, slots: Sequence[Slot], end: float) -> None:
    for s in slots:
        if s.x + s.width / 2 + wing.ribs.fit > end:
            raise DesignProblem(
                f"{_at(station, wing)}: spar {s.spar} reaches into the aileron, its gap or the false "
                "spar ahead of it; move the hinge aft (aileron.hinge) or the spar forward (its at)"
            )


def _cut_through(station: Station, wing: Wing, body: Polygon, slots: Sequence[Slot], notches: Sequence[Polygon]
                 ) -> Iterator[tuple[str, Polygon]]:  # fmt: skip
    """(name, what is left) bay by bay: spars with a land are holes, spars without part the rib."""
    lands = {s.name: s.land for s in wing.spars}
    parting = sorted((s for s in slots if lands[s.spar] == 0), key=lambda s: s.x)
    left: BaseGeometry = body.difference(unary_union(list(notches))) if notches else body
    spars = {s.name: s for s in wing.spars}
    for s in slots:
        left = left.difference(_taken(s, spars[s.spar], wing.ribs.fit, s in parting))
    solid = [g for g in getattr(left, "geoms", (left,)) if isinstance(g, Polygon) and g.area > NOTHING]
    names = _names(len(parting) + 1)
    by_bay: list[list[Polygon]] = [[] for _ in names]
    for g in solid:
        by_bay[sum(s.x < g.centroid.x for s in parting)].append(g)
    for name, found in zip(names, by_bay, strict=True):
        if len(found) != 1 or found[0].area < LEAST_PIECE or np.ptp(found[0].exterior.xy[0]) < LEAST_LENGTH:
            sizes = " and ".join(f"{g.area * 1e6:.0f} mm2" for g in found) or "nothing"
            raise DesignProblem(
                f"{_at(station, wing)}: one {name} is wanted, the cuts leave {sizes}; move a spar, the hinge, "
                "the edge cuts or a skin's end, or give the spar a land"
            )
        yield name, found[0]


def _taken(at: Slot, spar: Spar, fit: float, parting: bool) -> BaseGeometry:
    """What a spar takes out of a rib. Behind the one web of an open spar the rib reaches in between its caps."""
    if not parting or spar.webs == 2:
        return at.polygon(fit, taller=1.0 if parting else 0.0)
    half, deep = at.width / 2, at.height / 2 - spar.cap.depth - fit
    boxes = (
        box(at.x - half - fit, at.y - REACH, at.x - half + spar.web.thickness + fit, at.y + REACH),
        box(at.x - half - fit, at.y + deep, at.x + half + fit, at.y + REACH),
        box(at.x - half - fit, at.y - REACH, at.x + half + fit, at.y - deep),
    )
    return affinity.rotate(unary_union(boxes), at.lean, origin=(at.x, at.y), use_radians=True)


def _solid(shape: BaseGeometry) -> list[Polygon]:
    found = list(shape.geoms) if isinstance(shape, MultiPolygon) else [shape]
    return [g for g in found if isinstance(g, Polygon) and g.area > LEAST_PIECE]


def _names(count: int) -> list[str]:
    if count == 1:
        return ["rib"]
    middle = ["middle rib"] if count == 3 else [f"middle rib {i}" for i in range(1, count - 1)]
    return ["nose rib", *middle, TAIL]


def _piece(name: str, body: Polygon, slots: tuple[Slot, ...], ribs: Ribs, holed: bool = True) -> Piece:
    shell = Polygon(body.exterior)
    kept = tuple(s for s in slots if shell.contains(s.polygon()))
    cuts = [Polygon(ring) for ring in body.interiors]
    light = list(_lightening(shell, kept, ribs)) if ribs.web_left > 0 and holed else []
    whole = orient(Polygon(shell.exterior, [g.exterior for g in (*cuts, *light)]))
    blank = None
    if ribs.flange > 0:
        grown = shell.buffer(flange_reach(ribs), join_style="mitre", mitre_limit=2.5)
        blank = _ring(orient(grown))
    centre = whole.centroid
    return Piece(
        name,
        _ring(whole),
        tuple(_ring_of(r.coords) for r in whole.interiors),
        kept,
        whole.area,
        (centre.x, centre.y),
        blank,
    )


def flange_reach(ribs: Ribs) -> float:
    """How far the flat blank of a 90 degree flange goes beyond the mould line, m.

    reach = w - 2 (R + T) + BA, w the flange over the outside of the bend, R inside radius, T thickness.
    """
    radius, thick = ribs.bend_radius, ribs.sheet.thickness
    return ribs.flange - 2 * (radius + thick) + bend_allowance(radius, thick)


def bend_allowance(radius: float, thickness: float, degrees: float = 90.0) -> float:
    """Length of the sheet in a bend: (0.01743 R + 0.0078 T) N, in the unit of R and T.

    Source: ac-43-13-1b chapter 4 (read).

    >>> round(bend_allowance(0.125, 0.040), 4)
    0.2242
    """
    return (0.01743 * radius + 0.0078 * thickness) * degrees


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


def _ring_of(coords: Iterable[Sequence[float]]) -> np.ndarray:
    return locked(list(coords)[:-1])
