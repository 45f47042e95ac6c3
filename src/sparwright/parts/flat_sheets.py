"""Flat sheets on the frame as parts and joints: laid on the tubes that hold them, clipped along them.

A sheet's corners give its plane; it is moved square to that until it touches the first of its tubes:

    shift = max n . (p - p0) over the corners p of the tubes' bodies beneath the sheet, and half its thickness

n: unit normal to the side it lies on. A clip is a strap round the tube, its two ears on the sheet, a bolt through both.
Common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from shapely import LineString, Point, Polygon, box
from shapely.geometry.polygon import orient

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches
from sparwright.base.record import locked, number
from sparwright.data.loader import fasteners, material
from sparwright.family.fitted import FlatSheet, SheetHole
from sparwright.family.model import Model, RoundTube
from sparwright.parts.formers import former_sheets
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part, Place, Plate
from sparwright.parts.wing import sheet_stock
from sparwright.shape.frame import ON_CENTRE, nodes
from sparwright.shape.solid import CORNERS, Pose, as_place, round_radius
from sparwright.shape.tube import Tube

GROUP = "fuselage"
RIGHT = np.array([0.0, 1.0, 0.0])
AWAY = {"forward": (-1.0, 0.0, 0.0), "aft": (1.0, 0.0, 0.0), "up": (0.0, 0.0, 1.0), "down": (0.0, 0.0, -1.0)}
FAR = 100.0  # m
WELL_OFF = 0.1  # m from the plane of a sheet's corners a tube is no longer one that it was meant to lie on
BENEATH = 0.01  # m beyond its edge a tube still counts as beneath a sheet
STRAP, STRAP_THICK, EAR = 0.0127, 0.8e-3, 0.016  # m wide, thick; from the tube to the end of each ear
STRAP_METAL, BOLT_METAL = "5052-H32", "4130N"
HEAD_AND_NUT = 4.0  # diameters of bolt that weigh as much as its head, nut and washer (common practice, no source)


@dataclass(frozen=True)
class Laid:
    """A flat sheet where it lies."""

    sheet: FlatSheet
    pose: Pose
    outline: np.ndarray = number("m", "(n, 2) in its own axes: to the right, and along its slope")
    holes: tuple[np.ndarray, ...] = ()
    tubes: tuple[str, ...] = ()  # numbers of the tubes that hold it


def sheet_number(model: Model, name: str) -> str:
    """Number of a flat sheet."""
    return part_number(model.name, GROUP, "SHEET", name.upper().replace("_", "-"))


def tube_numbers(model: Model, ends: str, known: Mapping[str, Part]) -> list[str]:
    """Part numbers of the tube between two nodes, `B1R-B1L`; right and left where a node is that of a pair, `A2-AX`."""
    there = nodes(model.fuselage)
    both = ["-".join(n if n in there else f"{n}{side}" for n in ends.split("-")) for side in "RL"]
    return [n for n in dict.fromkeys(part_number(model.name, GROUP, "TUBE", b) for b in both) if n in known]


def laid_sheets(model: Model, tubes: Sequence[Part]) -> tuple[Laid, ...]:
    """Every flat sheet of a model on its tubes. DesignProblem for a tube that is not there or not beneath it."""
    known = {t.number: t for t in tubes}
    found = {s.name: _laid(model, s, known) for s in (*model.sheets, *former_sheets(model))}
    return tuple(_cut_to(one, [found[n] for n in one.sheet.stands_on]) for one in found.values())


def _cut_to(one: Laid, others: Sequence[Laid]) -> Laid:
    """A sheet cut off square where it meets the faces of those it stands on.

    Over a face it lies at d(u, w) = (o + u s + w n - o') . n', w to half its thickness either way.
    """
    normal, slope, half = np.cross(one.pose.x, one.pose.y), np.array(one.pose.y), one.sheet.sheet.thickness / 2
    ring = Polygon(one.outline)
    for other in others:
        face = np.cross(other.pose.x, other.pose.y)
        over = float((np.array(one.pose.origin) - other.pose.origin) @ face)
        side = math.copysign(1.0, over + ring.centroid.y * float(slope @ face))
        rate = side * float(slope @ face)
        if abs(rate) < 1e-6:
            continue
        meets = (other.sheet.sheet.thickness / 2 + half * abs(float(normal @ face)) - side * over) / rate
        kept = box(-FAR, meets, FAR, FAR) if rate > 0 else box(-FAR, -FAR, FAR, meets)
        ring = ring.intersection(kept)
    return replace(one, outline=np.array(orient(ring).exterior.coords)[:-1]) if others else one


def _laid(model: Model, sheet: FlatSheet, known: Mapping[str, Part]) -> Laid:
    held = {name: tube_numbers(model, name, known) for name in sheet.held}
    lost = [name for name, found in held.items() if not found]
    if lost:
        raise DesignProblem(f"{model.name} sheets.{sheet.name}: no tube of the frame runs {', '.join(lost)}")
    origin, slope = _plane(sheet)
    normal = np.cross(RIGHT, slope)
    away = np.array(AWAY[sheet.to])
    if abs(normal @ away) < 0.05:
        raise DesignProblem(f"{model.name} sheets.{sheet.name}: a sheet in that plane has no side {sheet.to}")
    slope = slope if normal @ away > 0 else -slope
    normal = np.cross(RIGHT, slope)
    ring = _ring(sheet, origin, slope)
    shift = -np.inf if held else -sheet.sheet.thickness / 2
    for name, numbers in held.items():
        high = max(_highest(known[n], origin, slope, normal, ring) for n in numbers)
        if not np.isfinite(high):
            raise DesignProblem(f"{model.name} sheets.{sheet.name}: tube {name} does not run beneath it")
        shift = max(shift, high)
    at = origin + (shift + sheet.sheet.thickness / 2) * normal
    pose = Pose(as_place(at), as_place(RIGHT), as_place(slope))
    holes = tuple(_hole(hole, origin, slope) for hole in sheet.holes)
    return Laid(sheet, pose, ring, holes, tuple(n for ns in held.values() for n in ns))


def _plane(sheet: FlatSheet) -> tuple[np.ndarray, np.ndarray]:
    """(3,) twice: a point of the sheet on the centreline and the unit direction of its slope."""
    corners = np.array(list(sheet.corners.values()))
    first, far = corners[0], corners[np.argmax(np.linalg.norm((corners - corners[0])[:, [0, 2]], axis=1))]
    slope = (far - first) * (1.0, 0.0, 1.0)
    return first * (1.0, 0.0, 1.0), slope / np.linalg.norm(slope)


def _flat(points: np.ndarray, origin: np.ndarray, slope: np.ndarray) -> np.ndarray:
    """(n, 2) points (n, 3) in a sheet's own axes."""
    return np.column_stack([points[:, 1], (points - origin) @ slope])


def _ring(sheet: FlatSheet, origin: np.ndarray, slope: np.ndarray) -> np.ndarray:
    """(n, 2) its whole outline, anticlockwise."""
    right = _flat(np.array(list(sheet.corners.values())), origin, slope)
    left = [(-y, u) for y, u in reversed(right) if y > ON_CENTRE]
    ring = np.vstack([right, left])
    return ring if Polygon(ring).exterior.is_ccw else ring[::-1]


def _beneath(tube: Part, origin: np.ndarray, slope: np.ndarray, ring: np.ndarray) -> list[np.ndarray]:
    """(2, 3) each: the stretches of a tube's middle line that run beneath a sheet."""
    assert isinstance(tube.shape, Tube)
    whole, found = Polygon(ring).buffer(BENEATH), []
    for a, b in pairwise(tube.shape.path):
        line = LineString(_flat(np.array([a, b]), origin, slope))
        under = line.intersection(whole) if line.length > BENEATH else LineString()
        for piece in getattr(under, "geoms", [under]):
            if piece.length > 0:
                ends = [line.project(Point(p)) / line.length for p in (piece.coords[0], piece.coords[-1])]
                found.append(np.array([a + (b - a) * t for t in sorted(ends)]))
    return found


def _highest(tube: Part, origin: np.ndarray, slope: np.ndarray, normal: np.ndarray, ring: np.ndarray) -> float:
    """How far a tube reaches over the sheet's plane where it runs beneath it, m; minus infinity where it does not.

    A round tube along d reaches r sqrt(1 - (d . n)^2) over its middle line.
    """
    assert isinstance(tube.shape, Tube)
    high = -np.inf
    for a, b in _beneath(tube, origin, slope, ring):
        across = float((b - a) @ normal / np.linalg.norm(b - a))
        top = max(float((p - origin) @ normal) for p in (a, b))
        if abs(top) > WELL_OFF:
            continue
        high = max(high, top + tube.shape.outside / 2 * math.sqrt(1 - across**2))
    return high


def tube_points(tube: Part) -> np.ndarray:
    """(n, 3) points of a tube's outside, close enough along it that none of its stretches is stepped over."""
    assert isinstance(tube.shape, Tube)
    k, n = len(tube.shape.path), CORNERS
    rings = tube.shape.solid().points[: k * n].reshape(k, n, 3)
    found = [rings[-1]]
    for a, b in zip(rings[:-1], rings[1:], strict=True):
        steps = max(2, math.ceil(float(np.linalg.norm(b - a, axis=1).max()) / BENEATH))
        found += [a + (b - a) * t for t in np.arange(steps) / steps]
    return np.vstack(found)


def _hole(hole: SheetHole, origin: np.ndarray, slope: np.ndarray) -> np.ndarray:
    """(n, 2) clockwise."""
    angle = -2 * np.pi * np.arange(CORNERS) / CORNERS
    ring = round_radius(hole.diameter / 2) * np.column_stack([np.cos(angle), np.sin(angle)])
    return np.asarray(ring + _flat(np.array([hole.place]), origin, slope)[0])


# ------------------------------------------------------------------ parts and joints


def sheet_parts(model: Model, laid: Sequence[Laid], tubes: Sequence[Part]) -> Iterator[Part]:
    """Every flat sheet and its clips."""
    known = {t.number: t for t in tubes}
    for one in laid:
        yield _sheet(model, one)
        yield from (_clips(model, one, known[n]) for n in one.tubes)


def _sheet(model: Model, one: Laid) -> Part:
    s, whole = one.sheet, Polygon(one.outline, one.holes)
    if not whole.is_valid or whole.is_empty:
        raise DesignProblem(f"{model.name} sheets.{s.name}: its corners cross over, or a hole runs out of its edge")
    shape = Plate(outline=locked(one.outline), holes=tuple(map(locked, one.holes)), thickness=s.sheet.thickness)
    stuff, body = material(s.sheet.material), shape.solid()
    x, y, _ = body.centre
    return Part(number=sheet_number(model, s.name), name=s.name.replace("_", " "), form="plate", group=GROUP,
                purpose=s.purpose, material=s.sheet.material, stock=sheet_stock(s.sheet, stuff), shape=shape,
                mass=body.volume * stuff.density, places=(one.pose.place(float(x), float(y)),),
                poses=(one.pose,))  # fmt: skip


def _count(one: Laid, tube: Part) -> tuple[int, Place]:
    """How many clips along a tube, two at least, and their middle."""
    under = _beneath(tube, np.array(one.pose.origin), np.array(one.pose.y), one.outline)
    if not under:
        raise DesignProblem(f"sheets.{one.sheet.name}: of {tube.number} only an edge runs beneath it, not its middle")
    run = sum(float(np.linalg.norm(b - a)) for a, b in under)
    return max(2, 1 + math.ceil(run / one.sheet.pitch - 1e-9)), as_place((under[0][0] + under[-1][1]) / 2)


def clip_mass(tube: RoundTube | Tube, bolt: str, thickness: float) -> float:
    """Mass of one clip, kg: a strap round the tube with two ears, a bolt through them and the sheet, its nut."""
    d = fasteners()[bolt].diameter
    strap = (math.pi * (tube.outside + STRAP_THICK) + 2 * EAR) * STRAP * STRAP_THICK * material(STRAP_METAL).density
    rod = math.pi / 4 * d**2 * (2 * STRAP_THICK + thickness + HEAD_AND_NUT * d) * material(BOLT_METAL).density
    return strap + rod


def _clips(model: Model, one: Laid, tube: Part) -> Part:
    assert isinstance(tube.shape, Tube)
    count, middle = _count(one, tube)
    each = clip_mass(tube.shape, one.sheet.bolt, one.sheet.sheet.thickness)
    return Part(
        number=_clip_number(model, one, tube.number), name=f"clips, {one.sheet.name.replace('_', ' ')}", form="item",
        group=GROUP, purpose="holds a sheet", material="bought",
        stock=f"cushioned loop clamp for {inches(tube.shape.outside)} tube, with {one.sheet.bolt}, {count} of",
        places=(middle,), mass=count * each, band=0.3,
    )  # fmt: skip


def _clip_number(model: Model, one: Laid, tube: str) -> str:
    ends = tube.removeprefix(f"{model.name}-{GROUP}-TUBE-")
    return f"{sheet_number(model, one.sheet.name)}-CLIPS-{ends}"


def sheet_joints(model: Model, laid: Sequence[Laid], tubes: Sequence[Part]) -> Iterator[Joint]:
    """Each sheet to each of its tubes, and to the sheets it stands on."""
    known = {t.number: t for t in tubes}
    for one in laid:
        own = sheet_number(model, one.sheet.name)
        for tube in one.tubes:
            count, middle = _count(one, known[tube])
            clips, note = _clip_number(model, one, tube), f"{inches(one.sheet.pitch)} apart at most, out to the ends"
            yield Joint(number=f"{clips}-JOINT", kind="bolt", place=middle, primary=False, parts=(tube, own, clips),
                        fastener=one.sheet.bolt, fasteners=count, note=note)  # fmt: skip
        for other in one.sheet.stands_on:
            low = one.pose.place(0.0, float(one.outline[:, 1].min()))
            yield Joint(number=f"{own}-{other.upper().replace('_', '-')}-JOINT", kind="bolt", place=low, primary=False,
                        parts=(sheet_number(model, other), own), fastener="unknown")  # fmt: skip
