"""The cloth of an aeroplane as data: every piece with its size, area and finished weight, ribs that are laced, rings.

What the family file does not say (which cloth, its glue, tapes, drain holes) is no figure here: it is told as not on
file. Strength and lacing are what margins/fabric.py has worked out, read from its checks; without them they are NaN.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np

from sparwright.base.check import Check
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.buying import Buying
from sparwright.family.model import Model, Wing
from sparwright.margins.fabric import CLASS, FASTEST, LACING, NEW, SPACING, WORN, wing_loading
from sparwright.parts.part import Part, Skin
from sparwright.parts.stations import rib_stations
from sparwright.shape.frame import outside_area
from sparwright.shape.lifting import breaks, cut

BOTH = 2  # halves of a wing


@dataclass(frozen=True)
class Cloth:
    """What is known of the cloth from elsewhere: the checks of strength, the buying file."""

    new: float = number("N/m", "strength wanted of new cloth; NaN where not worked out", math.nan)
    worn: float = number("N/m", "least strength in service; NaN where not worked out", math.nan)
    speed: float = number("m/s", "never-exceed speed these hold for; NaN where not worked out", math.nan)
    width: float = number("m", "width of the cloth as sold; NaN where the buying file does not say", math.nan)
    spacing: Mapping[str, float] = field(default_factory=dict)  # m, greatest from stitch to stitch, by wing


def cloth_told(checks: Iterable[Check], buying: Buying | None = None) -> Cloth:
    """Out of a report's checks and the buying file."""
    by = {c.id: c for c in checks}
    steps = {s.title: s.value for s in by[CLASS].steps} if CLASS in by else {}
    spacing = {}
    for id, c in by.items():
        if id.startswith(LACING):
            found = [s.value for s in c.steps if s.title == SPACING]
            if found and math.isfinite(found[0]):
                spacing[id.removeprefix(LACING)] = found[0]
    offers = buying.for_stock("cloth", "fabric", ()) if buying else ()
    new, worn, fast = (steps.get(title, math.nan) for title in (NEW, WORN, FASTEST))
    return Cloth(new, worn, fast, offers[0].width if offers else math.nan, spacing)


@dataclass(frozen=True)
class Piece:
    """One piece of cloth, or a pair right and left."""

    mark: str
    name: str
    parts: tuple[Part, ...]
    count: int = number("1", "how many of it", 1)
    along: float = number("m", "along the span; NaN where it is not laid out", math.nan)
    around: float = number("m", "round the surface, both faces; NaN where it is not laid out", math.nan)
    area: float = number("m2", "of one", 0.0)
    mass: float = number("kg", "of one, finished", 0.0)
    band: float = number("1", "give or take, fraction of the mass", 0.0)


def pieces(model: Model, parts: Sequence[Part]) -> tuple[Piece, ...]:
    """Every piece of cloth; the fuselage's, which is no part, last."""
    pairs: dict[str, list[Part]] = {}
    for p in parts:
        if p.form == "skin" and material(p.material).kind == "fabric":
            pairs.setdefault(p.number[:-2] if p.hand else p.number, []).append(p)
    found = [_piece(model, str(i), stem, both) for i, (stem, both) in enumerate(pairs.items(), 1)]
    body = model.fuselage
    if body.covering > 0:
        area = outside_area(body.body, 0.0)
        mark = str(len(found) + 1)
        found.append(Piece(mark, "fuselage, aft of the firewall", (), 1, area=area,
                           mass=area * body.covering, band=body.covering_band))  # fmt: skip
    return tuple(found)


def _piece(model: Model, mark: str, stem: str, both: Sequence[Part]) -> Piece:
    first = both[0]
    assert isinstance(first.shape, Skin)
    return Piece(mark, stem.split("-", 1)[1], tuple(both), sum(p.count for p in both), first.shape.length,
                 first.shape.width, first.mass / areal(model, first), first.mass, first.band)  # fmt: skip


def areal(model: Model, part: Part) -> float:
    """Finished weight of a cloth part's area, kg/m2, from the family file."""
    name = part.number.split("-")[1]
    for wing in model.wings:
        if wing.name == name:
            return next(s.areal for s in wing.skins if material(s.material).kind == "fabric")
    tail = model.tailplane if name in ("tailplane", "elevator") else model.fin
    assert tail.frame is not None
    return tail.frame.covering


def strips(piece: Piece, width: float) -> int:
    """Strips of cloth that wide, side by side along the span, without what they overlap; 0 where not known."""
    if not (math.isfinite(width) and math.isfinite(piece.along)):
        return 0
    return math.ceil(piece.along / width - 1e-9)


@dataclass(frozen=True)
class Laced:
    """How one wing's cloth is held to its ribs, and where water stands in it."""

    wing: str
    ribs: int = number("1", "whole ribs under cloth, both halves")
    bays: int = number("1", "bays between them, both halves")
    bay: tuple[float, float] = (math.nan, math.nan)  # m, least and greatest
    run: float = number("m", "along the ribs under cloth, both faces, both halves: length of tape and lacing", 0.0)
    low: str = ""  # which rib of a bay its lowest corner is beside: "inboard", "outboard", "either"


def laced(model: Model) -> tuple[Laced, ...]:
    """Every wing that has cloth."""
    return tuple(_laced(model, w) for w in model.wings if cover_start(w) is not None)


def cover_start(wing: Wing) -> float | None:
    """Where a wing's cloth begins, fraction of the chord; None where it has none."""
    return next((s.start for s in wing.skins if material(s.material).kind == "fabric"), None)


def _laced(model: Model, wing: Wing) -> Laced:
    start = cover_start(wing)
    assert start is not None
    lines = sorted({round(r.buttline, 6) for r in rib_stations(wing) if r.kind == "wing"})
    steps = [b - a for a, b in pairwise(lines)]
    on_middle = lines[0] < 1e-6
    ribs = BOTH * len(lines) - on_middle
    run = sum((1 if y < 1e-6 else BOTH) * _under(model, wing, start, y) for y in lines)
    edge = breaks(wing)[0]
    tails = [(cut(wing, model.sections, float(y))) for y in (edge[1, 0], edge[1, -1])]
    ends = [s.place(s.chord, 0.0)[2] for s in tails]
    way = "either" if abs(ends[1] - ends[0]) < 1e-4 else "inboard" if ends[0] < ends[1] else "outboard"
    return Laced(wing.name, ribs, BOTH * len(steps), (min(steps), max(steps)), run, way)


def _under(model: Model, wing: Wing, start: float, buttline: float) -> float:
    """Length of the section's line from where the cloth begins to the trailing edge, both faces, m."""
    station = cut(wing, model.sections, buttline)
    assert station.points is not None
    p = station.points * station.chord
    inside = (p[0, :-1] + p[0, 1:]) / 2 >= start * station.chord
    return float(np.hypot(*np.diff(p, axis=1))[inside].sum())


def loading(model: Model) -> float:
    """Wing loading the class of the cloth goes by, Pa."""
    return wing_loading(model)


def rings(parts: Sequence[Part]) -> Iterator[Part]:
    """The inspection rings of every wing."""
    yield from (p for p in parts if p.purpose == "inspection" and "-RING-" in p.number)
