"""The weight ledger, the centre of gravity and the inertia, from the parts and what stands for those not drawn.

Centre of gravity: sum m x / sum m. Inertia about it: sum of each part's own and m (r^2 1 - r r^T).
Bands of different lines are taken as independent: the band of a sum is the root of the sum of squares
(JCGM 100:2008, 5.1.2). Source of the moment method: AC 43.13-1B chapter 10.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from sparwright.base.quantity import to
from sparwright.base.source import Band
from sparwright.family.model import Load, Model, Place, TailSurface
from sparwright.mass.record import Balance, Line, Loading
from sparwright.parts.controls import control_replaces
from sparwright.parts.fuel import fuel_replaces
from sparwright.parts.part import Assembly, Part
from sparwright.parts.solids import drawn
from sparwright.shape.frame import area_centre, outside_area
from sparwright.shape.lifting import planforms
from sparwright.shape.planform import Reference, reference

MIRROR = np.diag((1.0, -1.0, 1.0))


def ledger(model: Model, assembly: Assembly) -> tuple[Line, ...]:
    """Every line of the empty weight: the parts, then what stands for parts not drawn yet."""
    return (*map(_part_line, assembly.parts), *_surface_lines(model), *_allowance_lines(model))


def _part_line(part: Part) -> Line:
    x, y, z = np.mean(np.array(part.places), axis=0)
    return Line(
        name=f"{part.number} {part.name}",
        group=part.group,
        mass=Band.relative(part.mass * part.count, part.band),
        place=(float(x), float(y), float(z)),
        kind="part",
        source=part.mark,
    )


def _surface_lines(model: Model) -> Iterator[Line]:
    for name, tail, flat in (("tailplane and elevator", model.tailplane, True), ("fin and rudder", model.fin, False)):
        area = tail.span * (tail.root_chord + tail.tip_chord) / 2
        yield Line(
            name=name,
            group="tail",
            mass=Band.exact(0.0) if tail.frame else Band.relative(area * tail.areal, tail.areal_band),
            place=_tail_place(tail, flat),
            kind="replaced" if tail.frame else "allowance",
            source=f"replaced by its parts; by area {to(area * tail.areal, 'lb'):.1f} lb"
            if tail.frame
            else "weight by area until its parts are drawn",
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
    """Each allowance, or nought and what stands in its place."""
    for a in model.allowances:
        instead = [item.name.replace("_", " ") for item in model.items if item.replaces == a.name]
        instead += ["the parts of the fuel system"] if a.name in fuel_replaces(model) else []
        instead += ["the parts of the controls"] if a.name in control_replaces(model) else []
        yield Line(
            name=a.name.replace("_", " "),
            group="not drawn yet",
            mass=Band.exact(0.0) if instead else Band(a.mass, a.low, a.high),
            place=a.place,
            kind="replaced" if instead else "allowance",
            source=f"replaced by {', '.join(instead)}" if instead else a.stands_for,
        )


def own_inertia(part: Part) -> np.ndarray:
    """Inertia of all of a part about their own centres, from its body; what has none drawn counts as points.

    Of each, turned as it stands: R I R^T, R's columns its directions; of a mirror, signs only.
    """
    found = drawn(part)
    if found is None:
        return np.zeros((3, 3))
    body, stands = found
    every = [MIRROR if left else pose.directions for pose, left in stands]
    turns = np.array(every).reshape(-1, 3, 3)
    return np.asarray(part.mass * (turns @ body.inertia @ turns.transpose(0, 2, 1)).sum(axis=0))


def points_inertia(mass: Sequence[float], places: Sequence[Place], centre: np.ndarray) -> np.ndarray:
    """(3, 3) inertia of points about `centre`, kg m2: sum m (r^2 1 - r r^T)."""
    m, arm = np.asarray(mass, dtype=float), np.asarray(places, dtype=float) - centre
    return np.asarray(np.sum(m * np.sum(arm**2, axis=1)) * np.eye(3) - (m * arm.T) @ arm)


def centre_of(mass: Sequence[float], places: Sequence[Place]) -> tuple[float, np.ndarray]:
    """(total mass, centre of gravity): sum m, sum m x/sum m. Source: ac-43-13-1b chapter 10.

    >>> centre_of([1.0, 3.0], [(0.0, 0.0, 0.0), (4.0, 0.0, 2.0)])
    (4.0, array([3. , 0. , 1.5]))
    """
    m = np.asarray(mass, dtype=float)
    total = float(m.sum())
    return total, np.asarray(m @ np.asarray(places, dtype=float) / total)


def weigh(model: Model, assembly: Assembly) -> Balance:
    """Ledger, empty weight with its band, and every corner of what may be aboard."""
    lines = ledger(model, assembly)
    cell = reference(planforms(model))
    own = sum((own_inertia(p) for p in assembly.parts), np.zeros((3, 3)))
    _, empty = centre_of([x.mass.value for x in lines], [x.place for x in lines])
    cases = tuple(_case(model, assembly, lines, cell, corner, own) for corner in _corners(model.loads))
    return Balance(
        lines=lines,
        empty=sum_band(x.mass for x in lines),
        empty_station=float(empty[0]),
        cases=cases,
        mean_chord=cell.chord,
        mean_chord_station=cell.station,
    )


def sum_band(bands: Iterable[Band]) -> Band:
    """The band of a sum of independent bands: root of the sum of squares. Source: jcgm-100 5.1.2."""
    all_ = tuple(bands)
    value = sum(b.value for b in all_)
    up = float(np.sqrt(sum((b.high - b.value) ** 2 for b in all_)))
    down = float(np.sqrt(sum((b.value - b.low) ** 2 for b in all_)))
    return Band(value, value - down, value + up)


Aboard = tuple[tuple[Load, float, str], ...]


def _corners(loads: Sequence[Load]) -> Iterator[Aboard]:
    choices = [((load, load.least, "least"), (load, load.most, "most")) for load in loads]
    yield from itertools.product(*choices)


def _case(
    model: Model, assembly: Assembly, lines: Sequence[Line], cell: Reference, aboard: Aboard, own: np.ndarray
) -> Loading:
    mass, centre = centre_of(
        [x.mass.value for x in lines] + [m for _, m, _ in aboard],
        [x.place for x in lines] + [load.place for load, _, _ in aboard],
    )
    ahead, behind = _strays(lines, float(centre[0]))
    points = [(p.mass, place) for p in assembly.parts for place in p.places]
    points += [(x.mass.value, x.place) for x in lines if x.kind != "part"]
    points += [(m, load.place) for load, m, _ in aboard]

    def fraction(station: float) -> float:
        return (station - cell.station) / cell.chord

    return Loading(
        name=", ".join(f"{load.name} {word}" for load, _, word in aboard),
        mass=mass,
        station=float(centre[0]),
        waterline=float(centre[2]),
        fraction=fraction(float(centre[0])),
        fraction_low=fraction(float(centre[0]) - ahead / mass),
        fraction_high=fraction(float(centre[0]) + behind / mass),
        inertia=own + points_inertia([m for m, _ in points], [place for _, place in points], centre),
    )


def _strays(lines: Sequence[Line], station: float) -> tuple[float, float]:
    """How far the moment about `station` may lie ahead and behind, kg m: root of squares of each line's band.

    A line ahead pulls the centre forward when it is heavier than likely and aft when lighter.
    """
    arm = np.array([x.place[0] for x in lines]) - station
    up = np.array([x.mass.high - x.mass.value for x in lines])
    down = np.array([x.mass.value - x.mass.low for x in lines])
    ahead = np.where(arm < 0, up, down) * arm
    behind = np.where(arm < 0, down, up) * arm
    return float(np.sqrt(ahead @ ahead)), float(np.sqrt(behind @ behind))


def extremes(balance: Balance) -> dict[str, Loading]:
    """The four loading cases other rooms use: heaviest, lightest, foremost, aftmost."""
    return {
        "heaviest": max(balance.cases, key=lambda c: c.mass),
        "lightest": min(balance.cases, key=lambda c: c.mass),
        "foremost": min(balance.cases, key=lambda c: c.fraction_low),
        "aftmost": max(balance.cases, key=lambda c: c.fraction_high),
    }
