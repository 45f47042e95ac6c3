"""Sheets laid flat: cowling panels, firewall, floor, panel, seat, tank, each with its corners and openings in figures.

Corners run from each sheet's own lower left; openings stand in a table by the middle. Skins and angles, which are bent
round something, are told by their sizes laid flat. Figures: plans/flat_sheets.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.parts.part import Part
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.chains import Across, Mark, Units, running, said, spread
from sparwright.plans.drawing import DRAFTING, Box, Circle, Line, Point, Polyline, Stroke, Text
from sparwright.plans.flat_sheets import Developed, LaidFlat, developed, laid_flat
from sparwright.plans.lettering import width, wrapped
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled

KEY, SKINS = "flat", "flat.skins"
SCALES = (4, 5, 6, 8, 10, 12)
LEFT, RIGHT, BELOW, TITLE = 32.0, 9.0, 34.0, 10.0  # mm round an outline for its figures and its name
MOST = 14  # corners beyond which an outline is a curve, cut from its template
NEAR = 5e-4  # m: corners' figures nearer than this are one
STOCK, WORDS = 130.0, 130.0  # mm of a cell of words
BETWEEN = 9.0  # mm between tables
APART = DRAFTING.small * 1.55  # mm from figure to figure of a running row, as plans/chains.py sets them
WHY = "The outline of the part as it is cut, from the lower left corner of its box."
FAR = 10**9  # inches without feet
NOTES = (
    "Each sheet is drawn as it lies on its outer face, from its own lower left corner; a pair is one drawing, the left "
    "turned over. Figures of corners run along its foot and its left edge.",
    "An outline without figures but its size over all is curved: cut it from its template, full size.",
    "Sizes are cut sizes; where a sheet is trimmed on its angles or to its neighbours, leave 1/8″ = 3 mm and fit it. "
    "Common practice, no source.",
    "Skins and angles: sizes laid flat before trimming, round the surface or over both legs.",
    "Drill screw and rivet holes on assembly, from the angles outward. Deburr every edge.",
)


def flat_drawings(parts: Sequence[Part], units: Units, paper_name: str = "24x36") -> tuple[Drawing, ...]:
    """The sheet, and skins on one of their own where they are many; none where there is nothing to lay flat.

    DesignProblem where it fits at no usual scale.
    """
    field = field_of(paper(paper_name))
    found, bent = laid_flat(parts), developed(parts)
    if not found:
        return ()
    tables = [t for t in (hole_table(found, units), part_table(found)) if t.rows]
    skins = bent_table(bent, units)
    here = _tall([*tables, skins]) <= field.height and bool(skins.rows)
    tables += [skins] if here else []
    room = Box(field.left, field.bottom, field.right - max(sum(t.widths) for t in tables) - 10.0, field.top)
    for scale in SCALES:
        spots = _packed(found, room, scale)
        if spots is not None:
            break
    else:
        raise DesignProblem("the sheets laid flat fit their paper at no usual scale")
    strokes: list[Stroke] = []
    for f, corner in zip(found, spots, strict=True):
        strokes += _cell(f, corner, scale, units)
    top = field.top
    for t in tables:
        done = ruled(t, room.right + 10.0, top, _own(t))
        strokes += done.strokes
        top = done.box.bottom - BETWEEN
    numbers = tuple(n for f in found for n in f.numbers)
    bends = tuple(n for b in bent for n in b.numbers)
    apart = bool(skins.rows) and not here
    comes = ("general", "sheets", "cowling", "fuel", "seat")
    shows = (*numbers, *(bends if here else ()))
    to = (SKINS,) if apart else ()
    first = Drawing(KEY, "Sheets laid flat", tuple(strokes), f"1 : {scale}", shows, comes, to, NOTES, paper_name)
    if not apart:
        return (first,)
    listed = ruled(skins, field.left, field.top, field.height).strokes
    second = Drawing(SKINS, "Skins and angles, laid flat", listed, "none", bends, (KEY,), (), NOTES[3:], paper_name)
    return first, second


def _tall(tables: Sequence[Ruled]) -> float:
    """Of tables one below the other, mm."""
    return sum(_own(t) + BETWEEN for t in tables) - BETWEEN


def _own(table: Ruled) -> float:
    """The height a table takes in one stack, mm."""
    return 8.5 + 6.2 * (1 + sum(max(c.count("\n") for c in r) + 1 for r in table.rows)) + 0.1


def _size(f: LaidFlat, scale: int) -> tuple[float, float]:
    """Of a cell on paper, mm."""
    w, h = (v * 1000 / scale for v in f.size)
    return max(LEFT + w + RIGHT, width(_name(f), DRAFTING.small, True) + 6.0), TITLE + _over(f, scale) + h + BELOW


def _over(f: LaidFlat, scale: int) -> float:
    """How far the figures along the left edge stand over the outline where they need room, mm."""
    wanted = [m.along for m in _marks([(y, x) for x, y in _told(f)], 0.0, 0.0, 1000 / scale)]
    return max(0.0, max(spread(wanted, APART)) - wanted[-1]) + APART / 2


def _told(f: LaidFlat) -> np.ndarray:
    """(n, 2) m, the corners that have figures: of a curve those of its size over all."""
    corners = f.corners
    return corners if len(corners) <= MOST else np.array([corners.min(axis=0), corners.max(axis=0)])


def _name(f: LaidFlat) -> str:
    return f"{f.mark}  {f.name}"


def _packed(found: Sequence[LaidFlat], room: Box, scale: int) -> list[Point] | None:
    """The lower left corner of each cell, in rows from the top, tall ones first; None where they do not fit."""
    order = sorted(range(len(found)), key=lambda i: -_size(found[i], scale)[1])
    x, top, tall, spots = room.left, room.top, 0.0, dict[int, Point]()
    for i in order:
        w, h = _size(found[i], scale)
        if x + w > room.right:
            x, top, tall = room.left, top - tall, 0.0
        if x + w > room.right or top - h < room.bottom:
            return None
        spots[i] = (x, top - h)
        x, tall = x + w, max(tall, h)
    return [spots[i] for i in range(len(found))]


def _cell(f: LaidFlat, corner: Point, scale: int, units: Units) -> Iterator[Stroke]:
    k = 1000 / scale
    w, h = _size(f, scale)
    at = (corner[0] + LEFT, corner[1] + BELOW)
    lines: list[Stroke] = [_ring(np.array(f.shape.exterior.coords)[:-1], at, k)]
    labels = []
    for i, (hole, ring) in enumerate(zip(f.holes, f.shape.interiors, strict=True)):
        x, y = at[0] + hole.middle[0] * k, at[1] + hole.middle[1] * k
        if hole.kind == "round":
            lines.append(Circle((x, y), hole.wide / 2 * k, "cut"))
        else:
            lines.append(_ring(np.array(ring.coords)[:-1], at, k))
        lines += [Line((x - 1.5, y), (x + 1.5, y), "mark"), Line((x, y - 1.5), (x, y + 1.5), "mark")]
        labels.append(Label(chr(ord("a") + i), (x, y), clear=1.5))
    lines += _figures(f, at, k, units)
    yield from lines
    yield from placed(labels, lines, Box(corner[0], corner[1], corner[0] + w, corner[1] + h - TITLE))
    yield Text(_name(f), (corner[0] + 2.0, corner[1] + h - 2.0 - DRAFTING.small), DRAFTING.small, bold=True)


def _ring(ring: np.ndarray, at: Point, k: float) -> Polyline:
    return Polyline(tuple((at[0] + float(x) * k, at[1] + float(y) * k) for x, y in ring), "cut", closed=True)


def _figures(f: LaidFlat, at: Point, k: float, units: Units) -> Iterator[Stroke]:
    """Corners along the foot and the left edge; of a curve its size over all."""
    corners = _told(f)
    foot = _marks([(x, y) for x, y in corners], at[0], at[1], k)
    side = _marks([(y, x) for x, y in corners], at[1], at[0], k)
    yield from running(foot, Across(False, at[1] - 5.0, -1, f"{f.name} laid flat: along", WHY), units)
    yield from running(side, Across(True, at[0] - 5.0, -1, f"{f.name} laid flat: up", WHY), units)


def _marks(places: Sequence[tuple[float, float]], zero: float, edge: float, k: float) -> list[Mark]:
    """One mark for each distinct place along a row; each line begins at the corner nearest to the row."""
    found: list[tuple[float, float]] = []
    for along, out in sorted(places):
        if found and along - found[-1][0] < NEAR:
            found[-1] = (found[-1][0], min(found[-1][1], out))
        else:
            found.append((along, out))
    return [Mark(zero + a * k, float(a), edge + o * k, f"corner {i}") for i, (a, o) in enumerate(found, 1)]


def part_table(found: Sequence[LaidFlat]) -> Ruled:
    """Every sheet: stock and how many."""
    rows = tuple((f.mark, f.name, "\n".join(wrapped(f.stock, DRAFTING.small, STOCK)), str(f.count)) for f in found)
    return Ruled("Sheets", ("Mark", "Part", "Stock", "Make"), rows, (True, False, False, True))


def hole_table(found: Sequence[LaidFlat], units: Units) -> Ruled:
    """Every opening by its middle from the sheet's lower left corner."""
    rows = []
    for f in found:
        for i, h in enumerate(f.holes):
            wide, high, along, up = (said(v, units, FAR) for v in (h.wide, h.high, *h.middle))
            size = f"Ø {wide}" if h.kind == "round" else f"{wide} × {high}"
            rows.append((f"{f.mark}{chr(ord('a') + i)}", along, up, size + (", see template" * (h.kind == "curved"))))
    return Ruled("Openings: middle from the lower left corner", ("Opening", "Along", "Up", "Size"), tuple(rows),
                 (False, True, True, True))  # fmt: skip


def bent_table(bent: Sequence[Developed], units: Units) -> Ruled:
    """Skins and angles by their sizes laid flat."""
    rows = tuple((b.name, said(b.long, units), said(b.wide, units), "\n".join(wrapped(b.stock, DRAFTING.small, WORDS)),
                  str(b.count)) for b in bent)  # fmt: skip
    return Ruled("Skins and angles, laid flat", ("Part", "Long", "Wide, laid flat", "Stock", "Make"), rows,
                 (False, True, True, False, True))  # fmt: skip
