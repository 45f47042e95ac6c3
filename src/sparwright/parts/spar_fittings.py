"""Fittings of struts and wires on spars, as parts and joints.

Two plates lie on the spar's faces, bolted through it with four bolts in a square about its middle: between its caps,
so that no bolt cuts their outer fibres. Inside, a block or tubes on the bolts take their clamping. The plates go out
through slots in the skin; a foot is welded across their ends, lugs stand on the foot. Where struts and wires go off
above and below, the same plates carry a foot each. Common practice, no source; the shapes are worked out here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from shapely import LineString, MultiPoint, Polygon, box

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, place_key
from sparwright.data.loader import fasteners
from sparwright.family.model import Model
from sparwright.parts.ends import CLEAR, Lugs, SparSpot, pin_diameter, spots
from sparwright.parts.inside_spar import between_caps, inside_parts, spar_bolts, through_joints
from sparwright.parts.lugs import STAND, disc, hull, mirrored_places, plate_part
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part
from sparwright.parts.stations import rib_reach, rib_stations
from sparwright.parts.tail_fittings import HALF_HOLE
from sparwright.parts.wing import in_one
from sparwright.shape.lifting import cut
from sparwright.shape.rib import slot
from sparwright.shape.solid import Pose, Solid, as_place, plate
from sparwright.shape.spar import panel_of

SLOT = 1.0e-3  # m the skin is cut clear of a plate, each way (common practice, no source)
NAMES = {1: "UPPER", -1: "LOWER"}


@dataclass(frozen=True)
class Foot:
    """The plate outside the skin, in the spar's own axes: along it and aft."""

    side: int
    outline: Polygon


def number(model: Model, spot: SparSpot, kind: str = "") -> str:
    """Number of a spar's fitting, or of a part of it."""
    place = f"{spot.spar.name}-{place_key(spot.buttline)}"
    return part_number(model.name, spot.wing.name, "FITTING", place, kind)


def lug_outline(spot: SparSpot, lugs: Lugs) -> Polygon:
    """A lug in its own axes: x along its foot, y out from the foot's face."""
    edge = spot.fitting.edge
    a, b = _stand(spot, lugs)
    return hull([LineString([(a, 0.0), (b, 0.0)]), *(disc(lugs.flat(p), edge) for p in lugs.pins)])


def _stand(spot: SparSpot, lugs: Lugs) -> tuple[float, float]:
    """Where a lug begins and ends on its foot: across the whole foot, or so far to either side of its line."""
    aft = abs(float(lugs.across @ spot.axes.aft))
    if aft > np.sqrt(0.5):
        half = _half_width(spot) / aft
        return -half, half
    h = lugs.held[0]
    at = (
        float(h.away @ lugs.across) / float(h.away @ lugs.out) * abs(float((lugs.origin - spot.axes.middle) @ lugs.out))
    )
    return at - STAND * spot.fitting.edge, at + STAND * spot.fitting.edge


def _sheet(spot: SparSpot) -> float:
    assert spot.fitting.plate is not None
    return spot.fitting.plate.thickness


def _half_width(spot: SparSpot) -> float:
    return spot.axes.width / 2 + _sheet(spot)


def feet(spot: SparSpot) -> tuple[Foot, ...]:
    """The foot on each side that has lugs: under both plates and every lug, CLEAR further for the welds."""
    found = []
    for side in dict.fromkeys(s for s, _ in spot.lugs):
        points = [p for s, lugs in spot.lugs if s == side for p in _corners(spot, lugs)]
        stands, half = MultiPoint(points).convex_hull.buffer(CLEAR), _half_width(spot)
        low, _, high, _ = stands.bounds
        found.append(Foot(side, box(low, -half, high, half).union(stands)))
    return tuple(found)


def _corners(spot: SparSpot, lugs: Lugs) -> Iterator[tuple[float, float]]:
    """(along, aft) of the corners of each lug's stand."""
    for x in _stand(spot, lugs):
        for off in lugs.offsets:
            for t in (-spot.fitting.lug.thickness / 2, spot.fitting.lug.thickness / 2):
                p = lugs.origin + x * lugs.across + (off + t) * lugs.normal - spot.axes.middle
                yield float(p @ spot.axes.along), float(p @ spot.axes.aft)


def plate_outline(spot: SparSpot) -> Polygon:
    """A plate on the spar's face: x along it, y up; round every bolt, and to the foot."""
    assert spot.fitting.pitch is not None and spot.fitting.reach is not None
    around = HALF_HOLE * fasteners()[spot.fitting.bolt].diameter
    shapes = [disc((x, y), around) for x, y in spar_bolts(spot.fitting.pitch)]
    ends = []
    for foot in feet(spot):
        x0, _, x1, _ = foot.outline.bounds
        y = foot.side * (spot.axes.depth / 2 + spot.fitting.reach)
        ends.append(LineString([(x0, y), (x1, y)]))
    whole = hull([*shapes, *ends[:1]])
    return whole if len(ends) < 2 else whole.union(hull([*shapes, ends[1]]))


def poses(spot: SparSpot) -> tuple[Pose, Pose]:
    """Where the fore and the aft plate lie."""
    off = spot.axes.width / 2 + _sheet(spot) / 2
    return spot.axes.face(-off), spot.axes.face(off)


def spar_fitting_parts(model: Model) -> Iterator[Part]:
    """Plates, feet, lugs, what lies inside the spar, bolts."""
    for spot in spots(model)[0]:
        _told(model, spot)
        yield from _plates(model, spot)
        yield from inside_parts(model, spot.wing, spot.spar, spot.axes, spot.fitting,
                                number(model, spot), _grip(spot))  # fmt: skip


def _plates(model: Model, spot: SparSpot) -> Iterator[Part]:
    f, at = spot.fitting, f"BL {inches(spot.buttline)}, {spot.wing.name} {spot.spar.name} spar"
    assert f.plate is not None and f.pitch is not None
    d = fasteners()[f.bolt].diameter
    holes = tuple((x, y, d) for x, y in spar_bolts(f.pitch))
    for name, pose in zip(("FORE", "AFT"), poses(spot), strict=True):
        yield plate_part(number(model, spot, name), f"spar fitting plate, {name.lower()}", f.plate,
                         plate_outline(spot), pose, holes, at=at)  # fmt: skip
    for foot in feet(spot):
        lower = spot.axes.at(0.0, 0.0, foot.side * (spot.outside(foot.side) - f.plate.thickness / 2))
        # x along, y aft: its own z is then down
        pose = Pose(as_place(lower), as_place(spot.axes.along), as_place(spot.axes.aft))
        yield plate_part(number(model, spot, f"{NAMES[foot.side]}-FOOT"), "spar fitting foot", f.plate, foot.outline,
                         pose, at=at)  # fmt: skip
    for side, lugs in spot.lugs:
        for name, off in lug_names(lugs):
            pose = Pose(as_place(lugs.origin + off * lugs.normal), as_place(lugs.across), as_place(lugs.out))
            pins = tuple((*lugs.flat(p), pin_diameter(h)) for h, p in zip(lugs.held, lugs.pins, strict=True))
            yield plate_part(number(model, spot, f"{NAMES[side]}-LUG-{name}"), "lug", f.lug, lug_outline(spot, lugs),
                             pose, pins, at=at)  # fmt: skip


def lug_names(lugs: Lugs) -> tuple[tuple[str, float], ...]:
    """(its name, its offset) of each plate: after the first strut or wire it holds, A and B for a pair."""
    name = lugs.held[0].thing.name.upper()
    return tuple(zip((f"{name}-A", f"{name}-B") if len(lugs.offsets) > 1 else (name,), lugs.offsets, strict=True))


def _grip(spot: SparSpot) -> float:
    return spot.axes.width + 2 * _sheet(spot)


def spar_fitting_joints(model: Model) -> Iterator[Joint]:
    """The bolts through the spar, and the welds of foot and lugs."""
    for spot in spots(model)[0]:
        plates = [number(model, spot, n) for n in ("FORE", "AFT")]
        yield from through_joints(model, spot.wing, spot.spar, spot.axes, spot.fitting,
                                  number(model, spot), plates, _sheet(spot))  # fmt: skip
        for foot in feet(spot):
            x0, _, x1, _ = foot.outline.bounds
            own = number(model, spot, f"{NAMES[foot.side]}-FOOT")
            on = [(lugs, n) for s, lugs in spot.lugs if s == foot.side for n, _ in lug_names(lugs)]
            lugs = [number(model, spot, f"{NAMES[foot.side]}-LUG-{n}") for _, n in on]
            stands = [abs(b - a) for lugs_, _ in on for a, b in (_stand(spot, lugs_),)]
            yield Joint(
                number=f"{own}-WELD", kind="weld", parts=(own, *plates, *lugs), primary=True,
                place=as_place(spot.axes.at(0, (x0 + x1) / 2, foot.side * spot.outside(foot.side))),
                length=2 * (2 * (x1 - x0) + sum(stands)), count=len(mirrored_places(spot.axes.middle)),
                note="plates and lugs welded to the foot on both faces; welded off the spar",
            )  # fmt: skip


def lug_numbers(model: Model, spot: SparSpot, side: int, lugs: Lugs) -> list[str]:
    """Numbers of the plates of lugs."""
    return [number(model, spot, f"{NAMES[side]}-LUG-{n}") for n, _ in lug_names(lugs)]


def openings(model: Model) -> dict[str, tuple[Solid, ...]]:
    """What is cut out of the skins of each wing for the plates, right and left."""
    found: dict[str, tuple[Solid, ...]] = {}
    for spot in spots(model)[0]:
        ring = np.array(plate_outline(spot).buffer(SLOT).exterior.coords)[:-1]
        half = _sheet(spot) / 2 + SLOT
        bodies = [plate(ring[::-1], (), -half, half).placed(p) for p in poses(spot)]
        both = (*bodies, *(b.mirrored() for b in bodies))
        found[spot.wing.name] = (*found.get(spot.wing.name, ()), *both)
    return found


def _skin_over(model: Model, spot: SparSpot, foot: Foot) -> float:
    """How far outside the spar's middle the wing's surface reaches over a foot, square to its caps, m."""
    station = cut(spot.wing, model.sections, spot.buttline)
    assert station.points is not None
    box_ = slot(station, spot.wing, spot.spar)
    c, s = np.cos(box_.lean), np.sin(box_.lean)
    x, y = station.points * station.chord - np.array([[box_.x], [box_.y]])
    aft, up = x * c + y * s, -x * s + y * c
    _, low, _, high = foot.outline.bounds
    mine = np.flatnonzero(up * foot.side > 0)
    mine = mine[np.argsort(aft[mine])]
    edges = [float(np.interp(b, aft[mine], up[mine])) for b in (low, high)]
    within = up[(aft > low) & (aft < high)] * foot.side
    return float(max([*within, *(e * foot.side for e in edges)]))


def _told(model: Model, spot: SparSpot) -> None:
    """DesignProblem for what cannot be: a bolt in a cap, a foot in the wing, a plate past its panel or in a rib."""
    f = spot.fitting
    at = f"{spot.spar.name} spar of wing {spot.wing.name} at buttline {inches(spot.buttline)}"
    here = f"{model.name} fitting {f.name} on the {at}"
    between_caps(f, spot.spar, spot.axes, f"{here}: fittings.{f.name}")
    for foot in feet(spot):
        over = _skin_over(model, spot, foot)
        if spot.outside(foot.side) - _sheet(spot) < over:
            raise DesignProblem(
                f"{here}: fittings.{f.name}.reach of {inches(f.reach or 0.0)} leaves its foot in the wing; the skin is "
                f"{inches(over - spot.axes.depth / 2)} outside the cap there"
            )
    _clear_of_ribs(spot, here)


def _clear_of_ribs(spot: SparSpot, here: str) -> None:
    """DesignProblem where the plates reach past their panel or into a rib."""
    low, _, high, _ = plate_outline(spot).bounds
    slope, wing, panel = float(spot.axes.along[1]), spot.wing, panel_of(spot.wing, spot.buttline)
    start, end = spot.buttline + low * slope, spot.buttline + high * slope
    span = f"its plates, buttline {inches(start)} to {inches(end)},"
    if end > panel.tip_buttline or (start < panel.root_buttline and not in_one(panel)):
        reach = f"{inches(panel.root_buttline)} to {inches(panel.tip_buttline)}"
        raise DesignProblem(
            f"{here}: {span} reach past panel {panel.name}, {reach}; move the fitting or the panel's end"
        )
    first = spot.spar is min(wing.spars, key=lambda s: s.at)
    for rib in (r for r in rib_stations(wing) if r.kind == "wing" or (r.kind == "nose" and first)):
        inner, outer = rib_reach(wing, rib)
        if start < rib.buttline + outer and rib.buttline - inner < end:
            ways = "no_nose_ribs leaves it out" if rib.kind == "nose" else "extra or pitch"
            raise DesignProblem(
                f"{here}: {span} meet the {'nose ' if rib.kind == 'nose' else ''}rib at {inches(rib.buttline)}; move "
                f"the rib (wings.{wing.name}.ribs: {ways}) or the fitting"
            )
