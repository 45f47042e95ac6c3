"""Ribs as plates: one part for each shape, with every place where it stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from shapely import LineString, Point, Polygon, box
from shapely.geometry.polygon import orient

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import gauge, inches, millimetres, place_key
from sparwright.base.record import locked, number
from sparwright.data.loader import material
from sparwright.family.model import Model, Ribs, StouterRib, Truss, Wing
from sparwright.parts.number import part_number
from sparwright.parts.part import Hand, Joint, Length, Mark, Part, Plate
from sparwright.parts.roots import strap_notches
from sparwright.parts.stations import SAME, RibStation, nosed, rib_stations
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.lifting import Station, cut, panel_at
from sparwright.shape.rib import TAIL, Piece, Slot, flange_reach, nose_piece, pieces, slot
from sparwright.shape.solid import Pose, as_place
from sparwright.shape.truss import Built, built_up

OPENING = "opening for "  # how the mark of an opening begins
QUARTER = 16  # corners of a quarter of a round hole
KEPT = 1000  # built-up shapes kept in memory
LAP = 4e-6  # m2: a strip under less of a gusset than this is not held by it
EDGE = 1e-3  # m: a depth is measured at least this far inside the ends of a rib
AILERON_RIB, NOSE_RIB = "aileron rib", "aileron nose rib"  # pieces of a hinged rib that turn
SAME_SHAPE = 2e-6  # m: two outlines nearer than this everywhere are one shape


@dataclass(frozen=True)
class Opening:
    """A round hole for something that goes through a rib."""

    name: str  # of what goes through
    diameter: float = number("m", "of the hole")
    at: tuple[float, float] = number("m", "its middle in the rib's own axes, x aft, y up", (0.0, 0.0))


@dataclass(frozen=True)
class RibPlace:
    """One flat piece at one station of the right wing."""

    station: Station
    where: RibStation
    piece: Piece
    lean: tuple[float, float] = number("1", "aft and up, in its own axes, by which the wing goes on along its flange")
    openings: tuple[Opening, ...] = ()  # for cables and rods; of a rib of sheet
    back: bool = False  # the second of two back to back
    off: float = number("m", "its sheet's middle outwards from its buttline", 0.0)


RibGroup = tuple[RibPlace, ...]  # pieces of one shape
_BUILT: dict[tuple[str, bytes, tuple[Slot, ...], Truss, float], Built] = {}


def rib_places(model: Model, wing: Wing) -> tuple[RibPlace, ...]:
    """Every piece of every rib of the right wing, from the root out, nose to tail."""
    return tuple(_places(model, wing))


def _places(model: Model, wing: Wing) -> Iterator[RibPlace]:
    for where in rib_stations(wing):
        station = cut(wing, model.sections, where.buttline)
        holed = wing.ribs.truss is None or _of_sheet(wing, where)
        boxes = tuple(slot(station, wing, s) for s in wing.spars)
        taken = strap_notches(model, wing, where.buttline, boxes)
        nose = where.kind == "nose"
        for piece in (nose_piece(station, wing),) if nose else pieces(station, wing, where.hinged, holed, taken):
            if _stands(wing, where, piece):
                yield from _with_its_back(wing, RibPlace(station, where, piece, _lean(wing, station, where)))


def _with_its_back(wing: Wing, place: RibPlace) -> Iterator[RibPlace]:
    """A place; of two back to back both, web on web in the rib's plane, a bent flange of each pointing away."""
    s = stouter_of(wing, place)
    if s is None or not s.back_to_back:
        yield place
        return
    half, where = s.sheet.thickness / 2 * (-1 if place.where.inward else 1), place.where
    other = replace(where, inward=not where.inward)
    yield replace(place, off=half)
    yield replace(place, where=other, lean=_lean(wing, place.station, other), off=-half, back=True)


def stouter_of(wing: Wing, place: RibPlace) -> StouterRib | None:
    """Which of the stouter ribs a piece is of; what turns with the aileron is of none."""
    name = place.piece.name
    whole = place.where.kind == "wing" and name not in (AILERON_RIB, NOSE_RIB)
    return wing.stouter(place.where.buttline, name == TAIL) if whole else None


def made_of(wing: Wing, place: RibPlace) -> Ribs:
    """How a piece is made: as all of its wing, or as the stouter rib that it is of."""
    return wing.ribs if stouter_of(wing, place) is None else wing.rib_at(place.where.buttline, place.piece.name == TAIL)


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
        mine = next((g for g in groups if _one_shape(wing, g[0], place)), None)
        if mine is None:
            groups.append([place])
        else:
            mine.append(place)
    return tuple(map(tuple, groups))


def _one_shape(wing: Wing, a: RibPlace, b: RibPlace) -> bool:
    """Bent ribs whose flange points to the root are apart from the others: their right hand stands on the left wing."""
    if stouter_of(wing, a) is not stouter_of(wing, b) or a.back != b.back:
        return False
    sheet = wing.ribs.truss is None or _of_sheet(wing, a.where) == _of_sheet(wing, b.where)
    way = wing.ribs.flange == 0 or a.where.inward == b.where.inward
    return sheet and way and _same(a.piece, b.piece) and _alike(a.lean, b.lean)


def hands(wing: Wing) -> tuple[Hand, ...]:
    """Bent ribs have a right and a left hand; a flat plate serves both sides."""
    return ("R", "L") if wing.ribs.flange > 0 else ("",)


def rib_number(model: Model, wing: Wing, group: RibGroup, hand: Hand) -> str:
    """Number of a rib shape: its name and the buttline of its innermost place."""
    kind = group[0].piece.name.upper().replace(" ", "-") + ("-BACK" if group[0].back else "")
    return part_number(model.name, wing.name, kind, place_key(group[0].where.buttline), hand)


def ribs(model: Model, wing: Wing, groups: Sequence[RibGroup] | None = None) -> tuple[Part, ...]:
    """The ribs of a wing as parts, equal shapes together; bent ribs as right and left hands.

    groups: those of `rib_groups` where they are known already.
    """
    shapes = rib_groups(model, wing) if groups is None else groups
    found: list[Part] = []
    for g in shapes:
        if trussed(wing, g):
            found += _built(model, wing, g)
        else:
            found += [_part(model, wing, g, h) for h in hands(wing) if rib_poses(g, h)]
    return tuple(found)


def trussed(wing: Wing, group: Sequence[RibPlace]) -> bool:
    """Whether a shape is built up of strip: not where an aileron's false spar or a stouter rib is, nor a nose alone."""
    return wing.ribs.truss is not None and not any(_of_sheet(wing, p.where) for p in group)


def _of_sheet(wing: Wing, where: RibStation) -> bool:
    a = wing.aileron
    at_ends = a is not None and any(abs(where.buttline - y) < SAME for y in (a.inboard, a.outboard))
    return where.kind != "wing" or where.hinged or at_ends or wing.stouter(where.buttline) is not None


def rib_numbers(model: Model, wing: Wing, group: RibGroup, hand: Hand, role: str) -> tuple[str, ...]:
    """Numbers of what of a rib meets something; role: "skin", "nose" or "tail" bar, or a spar's name."""
    number = rib_number(model, wing, group, hand)
    if not trussed(wing, group):
        return (number,)
    made = _truss_of(wing, group[0])
    if role in ("nose", "tail"):
        bar = wing.nose_bar if role == "nose" else wing.tail_bar
        return tuple(f"{number}-{n}" for n in _on_bar(made, bar.depth if bar else 0.0, role == "nose"))
    names = ("UPPER", "LOWER") if role == "skin" else made.at_spars.get(role, ())
    if any(s.name == role and s.webs == 1 for s in wing.spars):
        names = tuple(n for n in names if n.endswith("-AHEAD"))  # the one web is the front face
    return tuple(f"{number}-{n}" for n in names if n in made.sticks)


def _on_bar(made: Built, depth: float, nose: bool) -> Iterator[str]:
    """Strips that end on an edge bar."""
    outlines = {n: Polygon(r) for n, r in made.sticks.items()}
    x = min(p.bounds[0] for p in outlines.values()) if nose else max(p.bounds[2] for p in outlines.values())
    face = box(x - EDGE, -depth / 2, x + EDGE, depth / 2)
    yield from (n for n, p in outlines.items() if p.intersection(face).area > EDGE**2)


def rib_thickness(wing: Wing, group: Sequence[RibPlace]) -> float:
    """Thickness of what of a rib is glued to others: its sheet, or its strips, m."""
    built_up_of = wing.ribs.truss if trussed(wing, group) else None
    return built_up_of.stick.width if built_up_of else made_of(wing, group[0]).sheet.thickness


def _truss_of(wing: Wing, place: RibPlace) -> Built:
    truss, piece = wing.ribs.truss, place.piece
    assert truss is not None
    x0, x1 = float(place.piece.outline[:, 0].min()), float(place.piece.outline[:, 0].max())
    boxes = (slot(place.station, wing, s) for s in wing.spars)
    near = [b for b in boxes if x0 - b.width <= b.x <= x1 + b.width]
    key = (piece.name, piece.outline.tobytes(), tuple(near), truss, wing.ribs.fit)
    if key not in _BUILT:
        if len(_BUILT) >= KEPT:
            _BUILT.clear()
        _BUILT[key] = built_up(piece, near, truss, wing.ribs.fit)
    return _BUILT[key]


def _built(model: Model, wing: Wing, group: RibGroup) -> Iterator[Part]:
    """Strips and gussets of one shape, at every place where it stands."""
    truss, made, number = wing.ribs.truss, _truss_of(wing, group[0]), rib_number(model, wing, group, "")
    assert truss is not None
    poses = rib_poses(group, "")
    off = (truss.stick.width + truss.gusset.thickness) / 2
    both = tuple(Pose(as_place(q.at(np.array([[0.0, 0.0, z]]))[0]), q.x, q.y) for q in poses for z in (off, -off))
    section = f"{inches(truss.stick.width)} x {inches(truss.stick.depth)}"
    for name, ring in made.sticks.items():
        stock = f"{material(truss.stick.material).title}, {section}"
        yield _piece_of(
            wing, group, f"{number}-{name}", name, ring, truss.stick.material, truss.stick.width, stock, poses
        )
    for name, ring in made.gussets.items():
        sheet = truss.gusset
        stock = f"{material(sheet.material).title}, {millimetres(sheet.thickness)}"
        yield _piece_of(wing, group, f"{number}-{name}", name, ring, sheet.material, sheet.thickness, stock, both)


def _piece_of(wing: Wing, group: RibGroup, number: str, name: str, ring: np.ndarray, key: str, thickness: float,
              stock: str, poses: tuple[Pose, ...]) -> Part:  # fmt: skip
    shape = Plate(outline=ring, holes=(), thickness=thickness, grain="" if "GUSSET" in name else "along it")
    body = shape.solid()
    words = name.lower().replace("-", " ")
    return Part(
        number=number, name=f"{group[0].piece.name} {words}, {wing.name}", form="plate", group=f"wing {wing.name}",
        purpose="rib stick" if "GUSSET" not in name else "rib gusset", material=key, stock=stock, poses=poses,
        places=tuple(as_place(q.at(body.centre[None])[0]) for q in poses), mass=body.volume * material(key).density,
        band=0.08, at=_at(group), shape=shape,
    )  # fmt: skip


def truss_joints(model: Model, wing: Wing, groups: Sequence[RibGroup]) -> Iterator[Joint]:
    """Each gusset of a built-up rib, on both faces, to the strips beneath it."""
    for group in groups:
        if not trussed(wing, group):
            continue
        made, number = _truss_of(wing, group[0]), rib_number(model, wing, group, "")
        for name, ring in made.gussets.items():
            plate = Polygon(ring)
            laps = {n: plate.intersection(Polygon(s)).area for n, s in made.sticks.items()}
            held = [n for n, area in laps.items() if area > LAP]
            middle = plate.representative_point()
            yield Joint(
                number=f"{number}-{name}-JOINT", kind="glue",
                parts=(f"{number}-{name}", *(f"{number}-{n}" for n in held)),
                place=rib_poses(group, "")[0].place(middle.x, middle.y), primary=True,
                area=2 * sum(laps[n] for n in held), count=len(rib_poses(group, "")), note="both faces",
            )  # fmt: skip


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
    first, sheet = group[0], made_of(wing, group[0]).sheet
    piece = first.piece
    stout = "stouter " if stouter_of(wing, first) else ""
    stuff = material(sheet.material)
    thick = millimetres(sheet.thickness) if stuff.kind == "plywood" else gauge(sheet.thickness)
    key = rib_number(model, wing, group, hand)
    shape, poses = _plate(wing, first, hand, key), rib_poses(group, hand)
    body = shape.solid()
    return Part(
        number=key,
        name=f"{stout}{piece.name}, {wing.name}",
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
    across = (_pose(p).across() for p in left if p.where.buttline >= ON_CENTRE)
    return (*(_pose(p) for p in right), *across)


def _pose(place: RibPlace) -> Pose:
    """A rib's own axes at a place of the right wing."""
    station = place.station
    c, s = float(np.cos(station.angle)), float(np.sin(station.angle))
    x, y, z = station.leading_edge
    return Pose((x, y + place.off, z), (c, 0.0, -s), (s, 0.0, c))


def _at(group: RibGroup) -> str:
    """Every buttline where the shape stands: a builder ticks them off."""
    return "BL " + ", ".join(inches(g.where.buttline, 10**6) for g in group)


def _plate(wing: Wing, place: RibPlace, hand: Hand, key: str) -> Plate:
    """Both hands in one view, from the left of the aeroplane with the nose to the left."""
    made, piece = made_of(wing, place), place.piece
    flat = made.flange == 0
    return Plate(
        outline=piece.outline,
        holes=_with_openings(place, key),
        thickness=made.sheet.thickness,
        blank=piece.blank,
        flange=0.0 if flat else flange_reach(made) * (-1 if hand == "R" else 1),
        grain="along the chord" if flat else "",
        lean=place.lean,
        bend="" if flat else _bend(made, place, hand),
        marks=(*_marks(piece), *_opening_marks(place)),
        lengths=_lengths(piece),
    )


def _with_openings(place: RibPlace, key: str) -> tuple[np.ndarray, ...]:
    """All holes of a rib, clockwise. DesignProblem for an opening that runs over an edge of it."""
    if not place.openings:
        return place.piece.holes
    whole = Polygon(place.piece.outline)
    left = Polygon(place.piece.outline, place.piece.holes)
    for o in place.openings:
        hole = Point(o.at).buffer(o.diameter / 2, quad_segs=QUARTER)
        if not whole.contains(hole):
            raise DesignProblem(
                f"{key}: the opening for {o.name.replace('_', ' ')}, {inches(o.diameter)} round, runs over the rib's "
                "edge; a smaller one or another way is wanted"
            )
        left = left.difference(hole)
    if not isinstance(left, Polygon):
        raise DesignProblem(f"{key}: the openings for cables and rods cut it in pieces")
    return tuple(locked(np.array(orient(Polygon(h), -1.0).exterior.coords)[:-1]) for h in left.interiors)


def _opening_marks(place: RibPlace) -> Iterator[Mark]:
    for o in place.openings:
        yield Mark(label=f"{OPENING}{o.name.replace('_', ' ')}, {inches(o.diameter)} round", points=(o.at,))


def _bend(made: Ribs, place: RibPlace, hand: Hand) -> str:
    """How the flange is bent: which way, how tight, and its angles where the wing rises along it."""
    way = "away from" if hand == "R" else "towards"
    off = float(np.degrees(np.arctan(place.lean[1])))
    angles = "" if abs(off) < 0.05 else f", {90 + off:.1f} deg to the web above and {90 - off:.1f} below"
    return f"flange bent {way} you, {inches(made.bend_radius)} inside radius{angles}"


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
