"""Ribs as plates: one part for each shape, with every place where it stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely import LineString, Polygon

from sparwright.base.quantity import inches, millimetres
from sparwright.data.loader import material
from sparwright.family.model import Model, Wing
from sparwright.parts.number import part_number, place_key
from sparwright.parts.part import Hand, Length, Mark, Part, Place, Plate
from sparwright.parts.stations import RibStation, rib_stations
from sparwright.shape.frame import ON_CENTRE, mirrored
from sparwright.shape.lifting import Station, cut
from sparwright.shape.rib import Piece, pieces

EDGE = 1e-3  # m: a depth is measured at least this far inside the ends of a rib
SAME_SHAPE = 2e-6  # m: two outlines nearer than this everywhere are one shape


@dataclass(frozen=True)
class RibPlace:
    """One flat piece at one station of the right wing."""

    station: Station
    where: RibStation
    piece: Piece


RibGroup = tuple[RibPlace, ...]  # pieces of one shape


def rib_places(model: Model, wing: Wing) -> tuple[RibPlace, ...]:
    """Every piece of every rib of the right wing, from the root out, nose to tail."""
    return tuple(_places(model, wing))


def _places(model: Model, wing: Wing) -> Iterator[RibPlace]:
    for where in rib_stations(wing):
        station = cut(wing, model.sections, where.buttline)
        for piece in pieces(station, wing, where.hinged):
            if where.kind == "aileron end" and piece.name != "aileron rib":
                continue
            yield RibPlace(station, where, piece)


def rib_groups(model: Model, wing: Wing) -> tuple[RibGroup, ...]:
    """The pieces of `rib_places`, equal shapes together, in the order of their innermost place."""
    groups: list[list[RibPlace]] = []
    for place in rib_places(model, wing):
        mine = next((g for g in groups if _same(g[0].piece, place.piece)), None)
        if mine is None:
            groups.append([place])
        else:
            mine.append(place)
    return tuple(map(tuple, groups))


def hands(wing: Wing) -> tuple[Hand, ...]:
    """Bent ribs have a right and a left hand; a flat plate serves both sides."""
    return ("R", "L") if wing.ribs.flange > 0 else ("",)


def rib_number(model: Model, wing: Wing, group: RibGroup, hand: Hand) -> str:
    """Number of a rib shape: its name and the buttline of its innermost place."""
    kind = group[0].piece.name.upper().replace(" ", "-")
    return part_number(model.name, wing.name, kind, place_key(group[0].where.buttline), hand)


def ribs(model: Model, wing: Wing, groups: Sequence[RibGroup] | None = None) -> tuple[Part, ...]:
    """The ribs of a wing as parts, equal shapes together; bent ribs as right and left hands.

    groups: those of `rib_groups` where they are known already.
    """
    shapes = rib_groups(model, wing) if groups is None else groups
    return tuple(_part(model, wing, g, h) for g in shapes for h in hands(wing) if rib_at(g, h))


def _same(a: Piece, b: Piece) -> bool:
    """Equal outlines, holes and slots. Thinned outlines of equal shapes have equal points."""
    if a.name != b.name or len(a.holes) != len(b.holes) or len(a.slots) != len(b.slots):
        return False
    rings = [(a.outline, b.outline), *zip(a.holes, b.holes, strict=True)]
    return all(p.shape == q.shape and np.allclose(p, q, rtol=0, atol=SAME_SHAPE) for p, q in rings) and all(
        abs(s.lean - t.lean) < 1e-6 for s, t in zip(a.slots, b.slots, strict=True)
    )


def _part(model: Model, wing: Wing, group: RibGroup, hand: Hand) -> Part:
    first, sheet = group[0], wing.ribs.sheet
    piece = first.piece
    stuff = material(sheet.material)
    thick = millimetres(sheet.thickness) if stuff.kind == "plywood" else f"{sheet.thickness / 0.0254:.3f} in"
    return Part(
        number=rib_number(model, wing, group, hand),
        name=f"{piece.name}, {wing.name}",
        form="plate",
        group=f"wing {wing.name}",
        purpose="rib",
        material=sheet.material,
        stock=f"{stuff.title}, {thick}",
        places=rib_at(group, hand),
        mass=piece.area * sheet.thickness * stuff.density,
        band=0.08,
        hand=hand,
        at=_at(group),
        shape=_plate(wing, piece, hand),
    )


def rib_at(group: Sequence[RibPlace], hand: Hand) -> tuple[Place, ...]:
    """Where the pieces of one hand stand: right, left for a flat shape; one on the centreline, a right hand."""
    right = [p.station.place(*p.piece.centre) for p in group]
    outer = [p for p in right if abs(p[1]) >= ON_CENTRE]
    if hand == "L":
        return tuple(map(mirrored, outer))
    return (*right, *map(mirrored, outer)) if hand == "" else tuple(right)


def _at(group: RibGroup) -> str:
    """Every buttline where the shape stands: a builder ticks them off."""
    return "BL " + ", ".join(inches(g.where.buttline, 10**6) for g in group)


def _plate(wing: Wing, piece: Piece, hand: Hand) -> Plate:
    """Both hands in one view, from the left of the aeroplane with the nose to the left; flanges point to the tip."""
    flat = wing.ribs.flange == 0
    way = "away from" if hand == "R" else "towards"
    return Plate(
        outline=piece.outline,
        holes=piece.holes,
        thickness=wing.ribs.sheet.thickness,
        blank=piece.blank,
        grain="along the chord" if flat else "",
        bend="" if flat else f"flange bent {way} you, {inches(wing.ribs.bend_radius)} inside radius",
        marks=_marks(piece),
        lengths=_lengths(piece),
    )


def _marks(piece: Piece) -> tuple[Mark, ...]:
    x0, x1 = float(piece.outline[:, 0].min()), float(piece.outline[:, 0].max())
    found = [Mark(label="chord line", points=((x0, 0.0), (x1, 0.0)))]
    for s in piece.slots:
        up = np.array([-np.sin(s.lean), np.cos(s.lean)]) * (s.height / 2 + 0.012)
        a, b = np.array([s.x, s.y]) - up, np.array([s.x, s.y]) + up
        found.append(Mark(label=f"{s.spar} spar", points=((float(a[0]), float(a[1])), (float(b[0]), float(b[1])))))
    return tuple(found)


def _lengths(piece: Piece) -> tuple[Length, ...]:
    """Overall length, greatest depth, spar to spar."""
    p = piece.outline
    x0, x1 = float(p[:, 0].min()), float(p[:, 0].max())
    found = [Length(label="overall", start=(x0, 0.0), end=(x1, 0.0))]
    found += [
        Length(label=f"{a.spar} to {b.spar} spar", start=(a.x, a.y), end=(b.x, b.y)) for a, b in pairwise(piece.slots)
    ]
    x = min(max(float(p[int(np.argmax(p[:, 1])), 0]), x0 + EDGE), x1 - EDGE)
    _, low, _, high = LineString([(x, -1.0), (x, 1.0)]).intersection(Polygon(p)).bounds
    found.append(Length(label="over top and bottom", start=(x, low), end=(x, high)))
    return tuple(found)
