"""Fittings as they stand bent up and bolted: each in three views in a cell of its own with its parts listed under it.

Right-hand fittings are drawn; the left are their mirrors. Flat patterns with holes and bend lines are on the templates;
this shows how the pieces go together. Cells stand in rows on as many sheets as they need, at one scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.parts.part import Part
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.bodies import ABOVE, AHEAD, LEFT, Looking, seen
from sparwright.plans.drawing import DRAFTING, Box, Point, Stroke, Text
from sparwright.plans.drawings.together import Item, listed
from sparwright.plans.lettering import width
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.shape.solid import Solid

SCALE = 2
SMALLER = (2, 3, 4)  # scales tried in turn for a fitting that is too big
ROUND, BETWEEN, LINE = 15.0, 16.0, 5.4  # mm: round each view, between cells, from line to line of the list
TITLE = 9.0  # mm
NOTES = (
    "Right-hand fittings as they stand in the aeroplane; the left are their mirrors.",
    "Flat patterns, holes and bends are on the templates; bolts by their dash numbers in the list of hardware.",
    "Drill pilot holes in one plate, clamp the pair, and open both together.",
)


@dataclass(frozen=True)
class Cell:
    """One fitting with its views laid out about a corner at nought."""

    name: str
    items: tuple[Item, ...]
    shown: tuple[Solid, ...]
    scale: int
    at: tuple[tuple[Looking, Point], ...]  # where the datum falls in each view, of the cell's lower left corner
    wide: float = number("mm", "width of the cell")
    tall: float = number("mm", "height of the cell")
    views: float = number("mm", "of its height, what the views take")


def fitting_drawings(parts: Sequence[Part], paper_name: str = "24x36") -> tuple[Drawing, ...]:
    """Every fitting of spars, roots and nodes. DesignProblem for one that fits no sheet at any usual scale."""
    field = field_of(paper(paper_name))
    cells = [_cell(name, mine, field) for name, mine in stems(parts)]
    sheets = _packed(cells, field)
    numbers = {c.name: mine for c, (_, mine) in zip(cells, stems(parts), strict=True)}
    return tuple(_drawing(spots, i, len(sheets), numbers, paper_name) for i, spots in enumerate(sheets, 1))


def stems(parts: Sequence[Part]) -> list[tuple[str, tuple[Part, ...]]]:
    """Parts of each fitting by its name: FITTING and ROOT by spar and place, lugs by their node."""
    found: dict[str, list[Part]] = {}
    for p in parts:
        words = p.number.split("-")
        if p.group == "fittings" and len(words) > 3:
            stem = words[1:4] + (words[4:5] if words[2] == "FITTING" else [])
            found.setdefault("-".join(stem if words[2] != "LUG" else words[1:4]), []).append(p)
    return [(name, tuple(mine)) for name, mine in found.items() if any(i.bodies for i in listed(mine))]


def _right(item: Item) -> tuple[Solid, ...]:
    """The body of the right-hand one."""
    rights = [s for s in item.bodies if s.points[:, 1].mean() > -1e-3]
    return tuple(rights[:1] or item.bodies[:1])


def _cell(name: str, parts: Sequence[Part], field: Box) -> Cell:
    items = tuple(Item(chr(ord("a") + i) if i < 26 else str(i), x.name, x.stock, x.count, _right(x))
                  for i, x in enumerate(listed(parts)))  # fmt: skip
    shown = tuple(s for i in items for s in i.bodies)
    points = np.concatenate([s.points for s in shown])
    for scale in SMALLER:
        k = 1000 / scale
        (x0, y0, z0), (x1, y1, z1) = points.min(axis=0) * k, points.max(axis=0) * k
        words = max(_line(i, name) for i in items)
        wide = max((x1 - x0) + (y1 - y0) + 4 * ROUND, words + 4.0, width(name, DRAFTING.middle, True) + 4.0)
        views = (z1 - z0) + (y1 - y0) + 4 * ROUND
        tall = TITLE + views + LINE * len(items) + 4.0
        if wide <= field.width and tall <= field.height:
            low = tall - TITLE - views
            along = (y1 - y0) + 3 * ROUND - x0  # third angle: the view from ahead on the left
            left, above = (along, low + ROUND - z0), (along, low + (z1 - z0) + 3 * ROUND - y0)
            ahead = (ROUND + y1, low + ROUND - z0)
            return Cell(name, items, shown, scale, ((LEFT, left), (ABOVE, above), (AHEAD, ahead)), wide, tall, views)
    raise DesignProblem(f"{name}: the fitting is too big for a sheet at any usual scale")


def _words(item: Item, name: str) -> str:
    own = item.name.removeprefix(name).lstrip("-") or item.name
    return f"{item.mark}  {own}: {item.stock}, make {item.count}"


def _line(item: Item, name: str) -> float:
    return width(_words(item, name), DRAFTING.small)


def _packed(cells: Sequence[Cell], field: Box) -> list[list[tuple[Cell, Point]]]:
    """Cells in rows from the top, sheet by sheet, in their order; each with its lower left corner."""
    sheets: list[list[tuple[Cell, Point]]] = [[]]
    x, top, row = field.left, field.top, 0.0
    for c in cells:
        if x + c.wide > field.right:
            x, top, row = field.left, top - row - BETWEEN, 0.0
        if top - c.tall < field.bottom - 1e-6 and sheets[-1]:
            sheets.append([])
            x, top, row = field.left, field.top, 0.0
        sheets[-1].append((c, (x, top - c.tall)))
        x, row = x + c.wide + BETWEEN, max(row, c.tall)
    return sheets


def _drawing(spots: Sequence[tuple[Cell, Point]], n: int, of: int, numbers: dict[str, tuple[Part, ...]],
             paper_name: str) -> Drawing:  # fmt: skip
    drawn: list[Stroke] = []
    for cell, corner in spots:
        drawn += _drawn(cell, corner)
    title = "Fittings" if of == 1 else f"Fittings, {n} of {of}"
    scales = sorted({c.scale for c, _ in spots})
    shows = tuple(p.number for c, _ in spots for p in numbers[c.name])
    key = "fittings" if n == 1 else f"fittings.{n}"
    return Drawing(key, title, tuple(drawn), " and ".join(f"1 : {s}" for s in scales), shows, ("general", "fuselage"),
                   (), NOTES, paper_name)  # fmt: skip


def _drawn(cell: Cell, corner: Point) -> Iterator[Stroke]:
    d, (left, low) = DRAFTING, corner
    lines: list[Stroke] = []
    for view, (x, y) in cell.at:
        lines += seen(cell.shown, view, (left + x, low + y), cell.scale)
    yield from lines
    head = f"{cell.name}" if cell.scale == SCALE else f"{cell.name}, 1 : {cell.scale}"
    yield Text(head, (left, low + cell.tall - d.middle), d.middle, bold=True)
    top = low + cell.tall - TITLE - cell.views
    for i, item in enumerate(cell.items):
        yield Text(_words(item, cell.name), (left, top - (i + 1) * LINE + 1.5), d.small)
    room = Box(left - BETWEEN / 2, top + 0.5, left + cell.wide + BETWEEN / 2, low + cell.tall - TITLE)
    yield from placed([_mark(i, cell, corner) for i in cell.items if i.bodies], lines, room)


def _mark(item: Item, cell: Cell, corner: Point) -> Label:
    """In the view where it shows most."""
    body = item.bodies[0]

    def covers(view: Looking) -> float:
        flat = body.points @ view.axes[:, :2]
        return float(np.prod(np.ptp(flat, axis=0) + 1e-4))

    view, (x, y) = max(cell.at, key=lambda v: covers(v[0]))
    middle = (body.points.min(axis=0) + body.points.max(axis=0)) / 2
    nearest = body.points[np.linalg.norm((body.points - middle) @ view.axes[:, :2], axis=1).argmin()]
    return Label(item.mark, view.on(nearest, (corner[0] + x, corner[1] + y), cell.scale), ringed=True)
