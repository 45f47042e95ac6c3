"""The weight ledger, the centre of gravity and the inertia, from the parts and what stands for those not drawn.

Centre of gravity: sum m x / sum m. Inertia about it: sum of each part's own and m (r^2 1 - r r^T).
Bands of different lines are taken as independent: the band of a sum is the root of the sum of squares
(JCGM 100:2008, 5.1.2). Source of the moment method: AC 43.13-1B chapter 10.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.base.source import Band
from sparwright.family.model import Load, Model, Place, TailSurface
from sparwright.mass.record import Balance, Line, Loading
from sparwright.parts.part import Assembly, Part, Skin, Straight
from sparwright.shape.frame import area_centre, outside_area
from sparwright.shape.lifting import planforms
from sparwright.shape.planform import Reference, reference


def ledger(model: Model, assembly: Assembly) -> tuple[Line, ...]:
    """Every line of the empty weight: the parts, then what stands for parts not drawn yet."""
    return (*map(_part_line, assembly.parts), *_surface_lines(model), *_allowance_lines(model))


def _part_line(part: Part) -> Line:
    place = tuple(np.mean(np.array(part.places), axis=0))
    return Line(
        name=f"{part.number} {part.name}",
        group=part.group,
        mass=Band.relative(part.mass * part.count, part.band),
        place=place,
        kind="part",
        source=part.mark,
    )  # type: ignore[arg-type]


def _surface_lines(model: Model) -> Iterator[Line]:
    for name, tail, flat in (("tailplane and elevator", model.tailplane, True), ("fin and rudder", model.fin, False)):
        area = tail.span * (tail.root_chord + tail.tip_chord) / 2
        yield Line(
            name=name,
            group="tail",
            mass=Band.relative(area * tail.areal, tail.areal_band),
            place=_tail_place(tail, flat),
            kind="allowance",
            source="weight by area until its parts are drawn",
        )
    fuselage = model.fuselage
    if fuselage.covering > 0:
        area = outside_area(fuselage.body, 0.0)
        yield Line(
            name="fuselage covering",
            group="fuselage",
            mass=Band.relative(area * fuselage.covering, fuselage.covering_band),
            place=area_centre(fuselage.body, 0.0),
            kind="allowance",
            source="outside area aft of the firewall",
        )


def _tail_place(tail: TailSurface, flat: bool) -> Place:
    """Area centre of a tapered surface, at mid-chord of its mean station."""
    half = tail.span / 2 if flat else tail.span
    ratio = (tail.root_chord + 2 * tail.tip_chord) / (3 * (tail.root_chord + tail.tip_chord))
    out = half * ratio
    chord = tail.root_chord + (tail.tip_chord - tail.root_chord) * ratio
    x, y, z = tail.leading_edge
    return (x + out * float(np.tan(tail.sweep)) + chord / 2, y, z if flat else z + out)


def _allowance_lines(model: Model) -> Iterator[Line]:
    for a in model.allowances:
        yield Line(
            name=a.name.replace("_", " "),
            group="not drawn yet",
            mass=Band(a.mass, a.low, a.high),
            place=a.place,
            kind="allowance",
            source=a.stands_for,
        )


def _own_inertia(part: Part) -> np.ndarray:
    """Inertia of all of a part about their own centres: long things as rods, skins as flat rectangles along the span."""
    if isinstance(part.shape, Straight):
        along = np.subtract(part.shape.end, part.shape.start)
        u = along / np.linalg.norm(along)
        return np.asarray(part.count * part.mass * part.shape.length**2 / 12 * (np.eye(3) - np.outer(u, u)))
    if isinstance(part.shape, Skin):
        b, c = part.shape.length**2, (part.shape.width / 2) ** 2
        return part.count * part.mass / 12 * np.diag([b, c, b + c])
    return np.zeros((3, 3))


def _point_inertia(mass: float, arm: np.ndarray) -> np.ndarray:
    return np.asarray(mass * (arm @ arm * np.eye(3) - np.outer(arm, arm)))


def inertia(model: Model, assembly: Assembly, loads: Sequence[tuple[float, Place]], centre: np.ndarray) -> np.ndarray:
    """(3, 3) inertia about `centre`, kg m2, of everything aboard."""
    total = sum((_own_inertia(p) for p in assembly.parts), np.zeros((3, 3)))
    points = [(p.mass, place) for p in assembly.parts for place in p.places]
    points += [(line.mass.value, line.place) for line in (*_surface_lines(model), *_allowance_lines(model))]
    for mass, place in (*points, *loads):
        total = total + _point_inertia(mass, np.array(place) - centre)
    return total


def weigh(model: Model, assembly: Assembly) -> Balance:
    """Ledger, empty weight with its band, and every corner of what may be aboard."""
    lines = ledger(model, assembly)
    cell = reference(planforms(model))
    mass = np.array([x.mass.value for x in lines])
    places = np.array([x.place for x in lines])
    cases = tuple(_case(model, assembly, lines, cell, corner) for corner in _corners(model.loads))
    return Balance(
        lines=lines,
        empty=_sum_band(lines),
        empty_station=float(mass @ places[:, 0] / mass.sum()),
        cases=cases,
        mean_chord=cell.chord,
        mean_chord_station=cell.station,
    )


def _sum_band(lines: Sequence[Line]) -> Band:
    value = sum(x.mass.value for x in lines)
    up = float(np.sqrt(sum((x.mass.high - x.mass.value) ** 2 for x in lines)))
    down = float(np.sqrt(sum((x.mass.value - x.mass.low) ** 2 for x in lines)))
    return Band(value, value - down, value + up)


Aboard = tuple[tuple[Load, float, str], ...]


def _corners(loads: Sequence[Load]) -> Iterator[Aboard]:
    choices = [((load, load.least, "least"), (load, load.most, "most")) for load in loads]
    yield from itertools.product(*choices)


def _case(model: Model, assembly: Assembly, lines: Sequence[Line], cell: Reference, aboard: Aboard) -> Loading:
    mass = np.array([x.mass.value for x in lines] + [m for _, m, _ in aboard])
    places = np.array([x.place for x in lines] + [load.place for load, _, _ in aboard])
    total = float(mass.sum())
    centre = mass @ places / total
    arms = places[: len(lines), 0] - centre[0]
    spread = np.array([(x.mass.high - x.mass.low) / 2 for x in lines])
    strayed = float(np.sqrt(np.sum((spread * arms) ** 2))) / total

    def fraction(station: float) -> float:
        return (station - cell.station) / cell.chord

    return Loading(
        name=", ".join(f"{load.name} {word}" for load, _, word in aboard),
        mass=total,
        station=float(centre[0]),
        waterline=float(centre[2]),
        fraction=fraction(centre[0]),
        fraction_low=fraction(centre[0] - strayed),
        fraction_high=fraction(centre[0] + strayed),
        inertia=inertia(model, assembly, [(m, load.place) for load, m, _ in aboard], centre),
    )


def extremes(balance: Balance) -> dict[str, Loading]:
    """The four loading cases other rooms use: heaviest, lightest, foremost, aftmost."""
    return {
        "heaviest": max(balance.cases, key=lambda c: c.mass),
        "lightest": min(balance.cases, key=lambda c: c.mass),
        "foremost": min(balance.cases, key=lambda c: c.fraction_low),
        "aftmost": max(balance.cases, key=lambda c: c.fraction_high),
    }
