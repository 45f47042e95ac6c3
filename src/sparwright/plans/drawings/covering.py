"""Covering and finish: every piece of cloth where it lies, its size and weight, lacing, inspection rings, water, paint.

Figures: plans/cloth.py. What nobody has said stands in a table of its own with room to write it in.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import to
from sparwright.data.loader import material
from sparwright.family.model import Model, Wing, spoken
from sparwright.parts.part import Part, Plate
from sparwright.parts.stations import rib_stations
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.bodies import ABOVE_NOSE_UP, LEFT, Looking, bodies, on_right, reach, seen
from sparwright.plans.chains import Units, said
from sparwright.plans.cloth import Cloth, Piece, laced, loading, pieces, rings, strips
from sparwright.plans.drawing import DRAFTING, Box, Circle, Line, Point, Stroke, Text
from sparwright.plans.lettering import wrapped
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled, wide
from sparwright.shape.lifting import cut

KEY = "covering"
SCALES = (8, 10, 12, 15, 16, 20, 24, 30, 40)
ROUND, TITLE = 14.0, 8.0  # mm round a view for marks, over it for its name
BETWEEN = 9.0  # mm between tables, one below the other
WORDS = 80.0  # mm of a cell of words
NOT_ON_FILE, NOT_WORKED_OUT = "not on file", "not worked out here"
FAR = 10**9  # inches without feet
NOTES = (
    "Chain lines: ribs the cloth is laced to. Circles: inspection holes, in the lower face unless the list says "
    "otherwise; the ring is glued in first, the hole is cut once the cloth is taut.",
    "Sizes of a piece are those of the surface it covers, without turnings, hems and overlaps.",
    "Lace or screw ribs only when the cloth is taut: AC 43.13-1B 2-11. Where it is to be tautened with heat, tails of "
    "thin tube bow first: go round the frame by turns. Common practice, no source.",
    "The bound on stitches is no pitch to lace at: it is where the pull of the air alone would break one. The chart of "
    "AC 43.13-1B by speed (not in hand here) and the cloth maker's book ask for closer stitches; the closest holds.",
    "Weigh a square foot of cloth finished as the aeroplane will be before you begin, and write it below: the weights "
    "here are an allowance.",
    "What is not on file is the cloth maker's to say: follow his book throughout and do not mix two. Do not paint what "
    "has been balanced without balancing it again.",
)


def covering_drawing(model: Model, parts: Sequence[Part], units: Units, paper_name: str = "24x36",
                     told: Cloth | None = None) -> Drawing:  # fmt: skip
    """The sheet. told: what checks and buying file say of the cloth. DesignProblem where it fits at no usual scale."""
    told = told or Cloth()
    field = field_of(paper(paper_name))
    listed = pieces(model, parts)
    marks = {p.number: str(i) for i, p in enumerate(rings(parts), 1)}
    tables = [t for t in (piece_table(listed, told, units), lacing_table(model, told, units),
                          ring_table(parts, marks, units), said_table(model, told, units)) if t.rows]  # fmt: skip
    columns, across = _columns(tables, field)
    room = Box(field.left, field.bottom, field.right - across - 12.0, field.top)
    cells = _cells(model, listed, parts)
    for scale in SCALES:
        spots = _packed(cells, room, scale)
        if spots is not None:
            break
    else:
        raise DesignProblem(f"{model.name}: the pieces of cloth fit their sheet at no usual scale")
    strokes: list[Stroke] = []
    for cell, (x, y) in zip(cells, spots, strict=True):
        strokes += cell.drawn(model, (x, y), scale, marks, parts)
    x = room.right + 12.0
    for column in columns:
        top = field.top
        for t in column:
            done = ruled(t, x, top, _own(t))
            strokes += done.strokes
            top = done.box.bottom - BETWEEN
        x += max(sum(t.widths) for t in column) + 12.0
    numbers = tuple(p.number for piece in listed for p in piece.parts) + tuple(marks)
    comes = ("general", *(f"wing.{w.name}" for w in model.wings))
    return Drawing(KEY, "Covering and finish", tuple(strokes), f"1 : {scale}", numbers, comes, (), NOTES, paper_name)


def _own(table: Ruled) -> float:
    """The height a table takes in one stack, mm."""
    return 8.5 + 6.2 * (1 + sum(max(c.count("\n") for c in r) + 1 for r in table.rows)) + 0.1


def _columns(tables: Sequence[Ruled], field: Box) -> tuple[list[list[Ruled]], float]:
    """Tables one below the other, a new column where they would run off; and the width of all."""
    columns: list[list[Ruled]] = [[]]
    used = 0.0
    for t in tables:
        if columns[-1] and used + _own(t) > field.height:
            columns.append([])
            used = 0.0
        columns[-1].append(t)
        used += _own(t) + BETWEEN
    return columns, sum(max(wide(t, _own(t)) for t in c) for c in columns) + 12.0 * (len(columns) - 1)


@dataclass(frozen=True)
class Cell:
    """One surface with the pieces of cloth on it."""

    name: str
    view: Looking
    shown: tuple[Piece, ...]
    wing: Wing | None = None

    def size(self, scale: int) -> tuple[float, float]:
        """Width and height on paper with what stands round it, mm."""
        low, high = reach(bodies(self.parts, on_right), self.view)
        w, h = (high - low) * 1000 / scale
        return float(w) + 2 * ROUND, float(h) + 2 * ROUND + TITLE

    @property
    def parts(self) -> tuple[Part, ...]:
        """Its pieces as parts."""
        return tuple(p for piece in self.shown for p in piece.parts)

    def drawn(self, model: Model, corner: Point, scale: int, marks: dict[str, str], parts: Sequence[Part]
              ) -> Iterator[Stroke]:  # fmt: skip
        """Its strokes; corner: the lower left of its room. marks: of inspection rings by number."""
        shown = bodies(self.parts, on_right)
        low, _ = reach(shown, self.view)
        k = 1000 / scale
        at = (corner[0] + ROUND - float(low[0]) * k, corner[1] + ROUND - float(low[1]) * k)
        w, h = self.size(scale)
        lines: list[Stroke] = [*seen(shown, self.view, at, scale)]
        labels = [Label(p.mark, self._on_piece(p, at, scale), bold=True, ringed=True) for p in self.shown]
        if self.wing is not None:
            lines += _ribs(model, self.wing, at, k)
            for p in rings(parts):
                if p.number.startswith(f"{model.name}-{self.wing.name}-"):
                    x, y, _ = max(p.places, key=lambda q: q[1])
                    here = (at[0] + y * k, at[1] - x * k)
                    lines.append(Circle(here, hole_of(p) / 2 * k, "cut"))
                    labels.append(Label(f"hole {marks[p.number]}", here, clear=hole_of(p) / 2 * k))
        yield from lines
        yield from placed(labels, lines, Box(corner[0], corner[1], corner[0] + w, corner[1] + h - TITLE))
        yield Text(self.name, (corner[0] + ROUND, corner[1] + h - DRAFTING.middle), DRAFTING.middle, bold=True)

    def _on_piece(self, piece: Piece, at: Point, scale: int) -> Point:
        points = np.concatenate([s.points for s in bodies(piece.parts, on_right)])
        return self.view.on((points.min(axis=0) + points.max(axis=0)) / 2, at, scale)


def hole_of(ring: Part) -> float:
    """Diameter of the hole an inspection ring is for, m: between its own two diameters."""
    assert isinstance(ring.shape, Plate)
    out = float(np.ptp(ring.shape.outline[:, 0]))
    inside = float(np.ptp(ring.shape.holes[0][:, 0]))
    return (out + inside) / 2


def _ribs(model: Model, wing: Wing, at: Point, k: float) -> Iterator[Line]:
    """Each laced rib from where the cloth begins to the trailing edge, short of its lines."""
    start = min(s.start for s in wing.skins if material(s.material).kind == "fabric")
    for y in sorted({r.buttline for r in rib_stations(wing) if r.kind == "wing"}):
        station = cut(wing, model.sections, y)
        a, b = (station.place(f * station.chord, 0.0)[0] for f in (start + 0.02, 0.98))
        yield Line((at[0] + y * k, at[1] - a * k), (at[0] + y * k, at[1] - b * k), "mark", dash="chain")


def _cells(model: Model, listed: Sequence[Piece], parts: Sequence[Part]) -> list[Cell]:
    found = []
    for wing in model.wings:
        mine = tuple(p for p in listed if p.name.startswith(f"{wing.name}-"))
        if mine:
            found.append(Cell(f"{spoken(wing.name).capitalize()}, right half from above", ABOVE_NOSE_UP, mine, wing))
    flat = tuple(p for p in listed if p.name.startswith(("tailplane-", "elevator-")))
    upright = tuple(p for p in listed if p.name.startswith(("fin-", "rudder-")))
    if flat:
        found.append(Cell("Tailplane and elevator, right half from above", ABOVE_NOSE_UP, flat))
    if upright:
        found.append(Cell("Fin and rudder from the left", LEFT, upright))
    return found


def _packed(cells: Sequence[Cell], room: Box, scale: int) -> list[Point] | None:
    """The lower left corner of each cell, in rows from the top; None where they do not fit."""
    x, top, tall, found = room.left, room.top, 0.0, []
    for c in cells:
        w, h = c.size(scale)
        if x + w > room.right:
            x, top, tall = room.left, top - tall, 0.0
        if x + w > room.right or top - h < room.bottom:
            return None
        found.append((x, top - h))
        x, tall = x + w, max(tall, h)
    return found


def _area(v: float, units: Units) -> str:
    return f"{to(v, 'ft2'):.1f} ft²" if units == "inch" else f"{v:.2f} m²"


def _mass(v: float, band: float, units: Units) -> str:
    one, unit, digits = (to(v, "lb"), "lb", 2) if units == "inch" else (v, "kg", 3)
    return f"{one:.{digits}f} ± {one * band:.{digits}f} {unit}"


def piece_table(listed: Sequence[Piece], told: Cloth, units: Units) -> Ruled:
    """Every piece: count, size laid flat, area, finished weight, strips of the cloth as sold."""
    rows = []
    for p in listed:
        n = strips(p, told.width)
        laid = (said(p.along, units), said(p.around, units)) if math.isfinite(p.along) else ("on the frame",) * 2
        rows.append((p.mark, p.name, str(p.count), *laid, _area(p.area, units), _mass(p.mass, p.band, units),
                     str(n) if n else NOT_ON_FILE if not math.isfinite(told.width) else "by eye"))  # fmt: skip
    whole, mass = sum(p.count * p.area for p in listed), sum(p.count * p.mass for p in listed)
    give = sum(p.count * p.mass * p.band for p in listed) / mass if mass else 0.0
    rows.append(("", "All of it", "", "", "", _area(whole, units), _mass(mass, give, units), ""))
    width = f"Strips {said(told.width, units)} wide" if math.isfinite(told.width) else "Strips of cloth"
    heads = ("Mark", "Cloth", "Make", "Along the span", "Round both faces", "Area of one", "Finished, each", width)
    return Ruled("Pieces of cloth", heads, tuple(rows), (True, False, *(True,) * 6), "weighed", 22.0)


def lacing_table(model: Model, told: Cloth, units: Units) -> Ruled:
    """Each wing: ribs and bays, the greatest spacing that the pull of the air lets, tape, where water stands."""
    rows = []
    for x in laced(model):
        most = told.spacing.get(x.wing, math.nan)
        bay = (
            said(x.bay[1], units)
            if x.bay[1] - x.bay[0] < 1e-6
            else f"{said(x.bay[0], units)} to {said(x.bay[1], units)}"
        )
        rows.append((spoken(x.wing), str(x.ribs), bay, said(most, units) if math.isfinite(most) else NOT_WORKED_OUT,
                     said(x.run, units), f"{x.bays}, aft, beside the {x.low} rib"))  # fmt: skip
    heads = (
        "Wing",
        "Ribs laced",
        "Bays",
        "Bound on stitches, air alone",
        "Along ribs, both faces",
        "Water stands, level",
    )
    return Ruled("Lacing, tape over ribs, lowest corner of each bay", heads, tuple(rows),
                 (False, True, True, True, True, False))  # fmt: skip


def ring_table(parts: Sequence[Part], marks: dict[str, str], units: Units) -> Ruled:
    """Inspection holes: where, how large, why."""
    rows = tuple((marks[p.number], p.number.split("-")[1], p.at, said(hole_of(p), units), str(p.count), p.note)
                 for p in rings(parts))  # fmt: skip
    return Ruled("Inspection holes", ("Hole", "Wing", "Where", "Diameter", "Make", "To see or reach"), rows,
                 (True, False, False, True, True, False), "done", 14.0)  # fmt: skip


def said_table(model: Model, told: Cloth, units: Units) -> Ruled:
    """What the cloth must be, and what nobody has said."""

    def strength(v: float) -> str:
        if not math.isfinite(v):
            return NOT_WORKED_OUT
        return f"{to(v, 'lbf') * 0.0254:.0f} lb/in" if units == "inch" else f"{v / 1000:.1f} kN/m"

    fast = (
        f" at {to(told.speed, 'mph'):.0f} mph = {to(told.speed, 'km/h'):.0f} km/h" if math.isfinite(told.speed) else ""
    )
    load = loading(model)
    paint = model.paint
    rows = [
        ("Wing loading", f"{to(load, 'Pa') / 47.880259:.1f} lb/ft² = {load:.0f} Pa"),
        ("Strength of new cloth, at least", strength(told.new) + (fast if math.isfinite(told.new) else "")),
        ("Strength in service, at least", strength(told.worn)),
        ("Rule", "AC 43.13-1B table 2-1, by wing loading and never-exceed speed"),
        (
            "Paint on hinged surfaces, one side",
            "none on file" if paint is None else _paint(paint.areal, paint.high, units),
        ),
        *((what, NOT_ON_FILE) for what in UNSAID),
    ]
    words = tuple((a, "\n".join(wrapped(b, DRAFTING.small, WORDS))) for a, b in rows)
    return Ruled("What the cloth is and how it is put on", ("What", "Said"), words, tick="as built", tick_wide=60.0)


UNSAID = (
    "Cloth: make, weight, weave", "Glue, and width glued at edges", "Seams: kind, overlap",
    "Tautened by: heat or dope, temperature", "Lacing cord or screws, knots, end spacing", "Tapes: widths, over what",
    "Drain holes: size, grommets", "Coats: what, how many, in which order",
)  # fmt: skip


def _paint(areal: float, high: float, units: Units) -> str:
    if units == "inch":
        return f"{to(areal, 'lb/ft2'):.3f} lb/ft², {to(high, 'lb/ft2'):.3f} at most"
    return f"{areal:.3f} kg/m², {high:.3f} at most"
