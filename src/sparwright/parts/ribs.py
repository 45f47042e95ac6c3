"""Ribs as plates: one part for each shape, with every place where it stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from shapely import LineString, Polygon

from sparwright.base.quantity import decimal_inches, inches, millimetres, place_key
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.model import Model, Wing
from sparwright.parts.number import part_number
from sparwright.parts.part import Hand, Length, Mark, Part, Plate
from sparwright.parts.stations import RibStation, nosed, rib_stations
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.lifting import Station, cut, panel_at
from sparwright.shape.rib import Piece, flange_reach, nose_piece, pieces
from sparwright.shape.solid import Pose, as_place

EDGE = 1e-3  # m: a depth is measured at least this far inside the ends of a rib
AILERON_RIB, NOSE_RIB = "aileron rib", "aileron nose rib"  # pieces of a hinged rib that turn
SAME_SHAPE = 2e-6  # m: two outlines nearer than this everywhere are one shape


@dataclass(frozen=True)
class RibPlace:
    """One flat piece at one station of the right wing."""

    station: Station
    where: RibStation
    piece: Piece
    lean: tuple[float, float] = number("1", "aft and up, in its own axes, by which the wing goes on along its flange")


RibGroup = tuple[RibPlace, ...]  # pieces of one shape


def rib_places(model: Model, wing: Wing) -> tuple[RibPlace, ...]:
    """Every piece of every rib of the right wing, from the root out, nose to tail."""
    return tuple(_places(model, wing))


def _places(model: Model, wing: Wing) -> Iterator[RibPlace]:
    for where in rib_stations(wing):
        station = cut(wing, model.sections, where.buttline)
        for piece in (nose_piece(station, wing),) if where.kind == "nose" else pieces(station, wing, where.hinged):
            if _stands(wing, where, piece):
                yield RibPlace(station, where, piece, _lean(wing, station, where))


def _stands(wing: Wing, where: RibStation, piece: Piece) -> bool:
    """Whether a piece of a rib's shape is there: all of a wing's rib, of the others what their kind says."""
    if piece.name == NOSE_RIB:
        return nosed(wing, where)
    return where.kind in ("wing", "nose") or (where.kind == "aileron end" and piece.name == AILERON_RIB)


def _lean(wing: Wing, station: Station, where: RibStation) -> tuple[float, float]:
    """How far aft and up the wing goes over a length the way the flange points; nought for flat ribs."""
    if not wing.ribs.flange:
        return 0.0, 0.0
    panel, way = panel_at(wing, where.buttline)[0], -1 if where.inward else 1
    aft, up, a = np.tan(panel.sweep) * way, np.tan(panel.dihedral) * way, station.angle
    return float(aft * np.cos(a) - up * np.sin(a)), float(aft * np.sin(a) + up * np.cos(a))


def rib_groups(model: Model, wing: Wing) -> tuple[RibGroup, ...]:
    """The pieces of `rib_places`, equal shapes together, in the order of their innermost place."""
    groups: list[list[RibPlace]] = []
    for place in rib_places(model, wing):
        mine = next((g for g in groups if _same(g[0].piece, place.piece) and _alike(g[0].lean, place.lean)), None)
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
    return tuple(_part(model, wing, g, h) for g in shapes for h in hands(wing) if rib_poses(g, h))


def _same(a: Piece, b: Piece) -> bool:
    """Equal outlines, holes and slots. Thinned outlines of equal shapes have equal points."""
    if a.name != b.name or len(a.holes) != len(b.holes) or len(a.slots) != len(b.slots):
        return False
    rings = [(a.outline, b.outline), *zip(a.holes, b.holes, strict=True)]
    return all(p.shape == q.shape and np.allclose(p, q, rtol=0, atol=SAME_SHAPE) for p, q in rings) and all(
        abs(s.lean - t.lean) < 1e-6 for s, t in zip(a.slots, b.slots, strict=True)
    )


def _alike(a: tuple[float, float], b: tuple[float, float]) -> bool:
    return bool(np.allclose(a, b, rtol=0, atol=1e-6))


def _part(model: Model, wing: Wing, group: RibGroup, hand: Hand) -> Part:
    first, sheet = group[0], wing.ribs.sheet
    piece = first.piece
    stuff = material(sheet.material)
    thick = millimetres(sheet.thickness) if stuff.kind == "plywood" else decimal_inches(sheet.thickness)
    shape, poses = _plate(wing, first, hand), rib_poses(group, hand)
    body = shape.solid()
    return Part(
        number=rib_number(model, wing, group, hand),
        name=f"{piece.name}, {wing.name}",
        form="plate",
        group=f"wing {wing.name}",
        purpose="rib",
        material=sheet.material,
        stock=f"{stuff.title}, {thick}",
        places=tuple(as_place(pose.at(body.centre[None])[0]) for pose in poses),
        poses=poses,
        mass=body.volume * stuff.density,
        band=0.08,
        hand=hand,
        at=_at(group),
        shape=shape,
    )


def rib_poses(group: Sequence[RibPlace], hand: Hand) -> tuple[Pose, ...]:
    """Where the pieces of one hand stand: on the right wing, then on the left.

    A right hand's flange points to the tip on the right wing and to the root on the left. A flat shape stands on both;
    one on the centreline is counted once.
    """
    right = [p for p in group if hand == "" or p.where.inward == (hand == "L")]
    left = [p for p in group if hand == "" or p.where.inward == (hand == "R")]
    across = (_pose(p.station).across() for p in left if p.where.buttline >= ON_CENTRE)
    return (*(_pose(p.station) for p in right), *across)


def _pose(station: Station) -> Pose:
    """A rib's own axes at a station of the right wing."""
    c, s = float(np.cos(station.angle)), float(np.sin(station.angle))
    return Pose(station.leading_edge, (c, 0.0, -s), (s, 0.0, c))


def _at(group: RibGroup) -> str:
    """Every buttline where the shape stands: a builder ticks them off."""
    return "BL " + ", ".join(inches(g.where.buttline, 10**6) for g in group)


def _plate(wing: Wing, place: RibPlace, hand: Hand) -> Plate:
    """Both hands in one view, from the left of the aeroplane with the nose to the left."""
    flat, piece = wing.ribs.flange == 0, place.piece
    return Plate(
        outline=piece.outline,
        holes=piece.holes,
        thickness=wing.ribs.sheet.thickness,
        blank=piece.blank,
        flange=0.0 if flat else flange_reach(wing.ribs) * (-1 if hand == "R" else 1),
        grain="along the chord" if flat else "",
        lean=place.lean,
        bend="" if flat else _bend(wing, place, hand),
        marks=_marks(piece),
        lengths=_lengths(piece),
    )


def _bend(wing: Wing, place: RibPlace, hand: Hand) -> str:
    """How the flange is bent: which way, how tight, and its angles where the wing rises along it."""
    way = "away from" if hand == "R" else "towards"
    off = float(np.degrees(np.arctan(place.lean[1])))
    angles = "" if abs(off) < 0.05 else f", {90 + off:.1f} deg to the web above and {90 - off:.1f} below"
    return f"flange bent {way} you, {inches(wing.ribs.bend_radius)} inside radius{angles}"


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
