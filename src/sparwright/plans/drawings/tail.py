"""The tail's flat frames, each surface seen square to the plane of its chords, with its movable part beside it.

Two figures say where a node is: aft of the leading edge of the root, and along the surface from the middle (tailplane)
or from the fin's root. They stand in the table of nodes and nowhere else. Tubes and gussets carry marks.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Model
from sparwright.parts.part import Part
from sparwright.parts.tail_frame import Surface, surfaces
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.bodies import Looking, bodies, reach, seen
from sparwright.plans.chains import Units, said
from sparwright.plans.drawing import DRAFTING, Box, Line, Point, Stroke, Text
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled, wide
from sparwright.shape.flat_frame import hinge_line, in_space
from sparwright.shape.solid import Solid
from sparwright.shape.tube import Tube

SCALES = (2, 3, 4, 5, 6, 8, 10)
ROUND = 26.0  # mm round the view for names and marks
APART = 12.0  # mm between view and tables
NOTES = (
    "Seen square to the plane of the chords. u is aft of the leading edge at the root, v along the surface from the "
    "middle of the fuselage, or up from the fin's root; both where middle lines of tubes meet.",
    "A gusset stands on both faces of a node; rivets as drawn on its template.",
    "Marks in rings are those of the table of tubes. Two of a pair are made as two hands.",
    "Fit hinges with their pins in place and both frames flat on the bench, then rivet.",
)


@dataclass(frozen=True)
class Marked:
    """A tube or a pair of tubes under one mark."""

    mark: str
    parts: tuple[Part, ...]

    @property
    def first(self) -> Part:
        """The right one of a pair."""
        return self.parts[0]


def tail_drawings(model: Model, parts: Sequence[Part], units: Units, paper_name: str = "24x36") -> tuple[Drawing, ...]:
    """One drawing for each surface of the tail that has a frame."""
    return tuple(_drawing(model, s, parts, units, paper_name) for s in surfaces(model))


def _drawing(model: Model, s: Surface, parts: Sequence[Part], units: Units, paper_name: str) -> Drawing:
    names = (s.name("fixed"), s.name("movable"))
    heads = (*names, "tail") if s.flat else names  # tabs of the fuselage that hold it are called after the tail
    mine = [p for p in parts if p.form != "skin" and p.number.startswith(tuple(f"{model.name}-{n}-" for n in heads))]
    view, shown = _view(s), bodies(mine)
    field, marks = field_of(paper(paper_name)), _marks(s, mine)
    tables = (_nodes(s, units), _hinges(s, units), _tubes(marks, units))
    scale, at, room, spots = _laid(shown, view, field, tables, s)
    drawn: list[Stroke] = [*seen(shown, view, at, scale), *_middle(shown, view, at, scale, s)]
    strokes = (*drawn, *placed((*_names(s, view, at, scale), *_rings(marks, view, at, scale)), drawn, room),
               *(x for t, (left, top, tall) in zip(tables, spots, strict=True)
                 for x in ruled(t, left, top, tall).strokes))  # fmt: skip
    title = f"{names[0].capitalize()} and {names[1]}: frames"
    return Drawing(f"tail.{names[0]}", title, strokes, f"1 : {scale}", tuple(p.number for p in mine),
                   ("general", "fuselage"), (f"controls.{names[1]}", "rigging"), NOTES, paper_name)  # fmt: skip


def _view(s: Surface) -> Looking:
    """Along the surface to the right, leading edge up the sheet; the fin with its tip to the right."""
    x, y = np.array(s.pose.x), np.array(s.pose.y)
    return Looking("Square to its plane", tuple(y), tuple(-x))


def _laid(shown: Sequence[Solid], view: Looking, field: Box, tables: Sequence[Ruled], s: Surface
          ) -> tuple[int, Point, Box, list[tuple[float, float, float]]]:  # fmt: skip
    """(scale, where the datum falls, room of the view, left and top and height of each table)."""
    low, high = reach(shown, view)
    for scale in SCALES:
        k = 1000 / scale
        size = (high - low) * k + 2 * ROUND
        below = field.height - size[1] - APART
        if size[0] <= field.width and below > 30 and sum(wide(t, below) + APART for t in tables) <= field.width:
            room = Box(field.left, field.top - size[1], field.right, field.top)
            middle = (field.left + field.right) / 2 - (low[0] + high[0]) / 2 * k
            at = (middle, field.top - ROUND - high[1] * k)
            spots, x = [], field.left
            for t in tables:
                spots.append((x, room.bottom - APART, below))
                x += wide(t, below) + APART
            return scale, at, room, spots
    raise DesignProblem(f"{s.name('fixed')}: too big for its sheet at any usual scale")


def _middle(shown: Sequence[Solid], view: Looking, at: Point, scale: int, s: Surface) -> Iterator[Stroke]:
    """The line of v nought."""
    (_, low), (_, high) = (v * 1000 / scale for v in reach(shown, view))
    x = view.on(s.pose.origin, at, scale)[0]
    yield Line((x, at[1] + low - 6.0), (x, at[1] + high + 12.0), "mark", dash="chain")
    yield Text("v 0", (x + 1.5, at[1] + high + 10.0), DRAFTING.small)


def _every_node(s: Surface) -> Mapping[str, tuple[str, tuple[float, float]]]:
    """(frame, u and v) of each node of the right half by a short name: its edge's letter, counted outwards.

    Where a tube merely ends is no node: its length says that.
    """
    here = {name: (s.name(f), place) for f in s.frames for name, place in f.nodes.items()
            if place[1] > -1e-6 and f.hand != "L" and not name.startswith("*")}  # fmt: skip
    counted: dict[str, int] = {}
    found = {}
    for name, (frame, place) in sorted(here.items(), key=lambda x: (x[1][0] != s.name("fixed"), x[0][:2], x[1][1][1])):
        counted[name[:1]] = counted.get(name[:1], 0) + 1
        found[f"{name[:1]}{counted[name[:1]]}"] = (frame, place)
    return found


def _nodes(s: Surface, units: Units) -> Ruled:
    rows = tuple((name, which, said(u, units, 10**9), said(v, units, 10**9))
                 for name, (which, (u, v)) in _every_node(s).items())  # fmt: skip
    return Ruled("Nodes", ("Node", "Frame", "u", "v"), rows, (False, False, True, True), "as built", 22.0)


def _hinges(s: Surface, units: Units) -> Ruled:
    rows = tuple((str(i), said(v, units, 10**9)) for i, v in enumerate(s.frame.hinges.places, 1))
    return Ruled("Hinges", ("Hinge", "v"), rows, (True, True), "as built", 22.0)


def _names(s: Surface, view: Looking, at: Point, scale: int) -> Iterator[Label]:
    for name, (_, place) in _every_node(s).items():
        spot = in_space(s.pose, [place])[0]
        yield Label(name, view.on(spot, at, scale), bold=True, clear=1.0)
    line = hinge_line(s.tail, s.flat)
    for i, v in enumerate(s.frame.hinges.places, 1):
        yield Label(f"hinge {i}", view.on(in_space(s.pose, [line.point(v)])[0], at, scale), clear=3.0)


def _marks(s: Surface, parts: Sequence[Part]) -> tuple[Marked, ...]:
    """Tubes of the frames by mark; a pair right and left is one."""
    tubes = {p.number: p for p in parts if isinstance(p.shape, Tube) and p.purpose == "tail frame"}
    found: list[Marked] = []
    for number, p in tubes.items():
        if number.endswith("-L") and f"{number[:-2]}-R" in tubes:
            continue
        other = tubes.get(f"{number[:-2]}-L") if number.endswith("-R") else None
        found.append(Marked(str(len(found) + 1), (p, other) if other else (p,)))
    return tuple(found)


def _tubes(marks: Sequence[Marked], units: Units) -> Ruled:
    rows = []
    for m in marks:
        assert isinstance(m.first.shape, Tube)
        rows.append((m.mark, m.first.number.split("-", 1)[1], m.first.stock, said(m.first.shape.length, units),
                     str(sum(p.count for p in m.parts))))  # fmt: skip
    return Ruled("Tubes", ("Mark", "Part", "Stock", "Length", "Make"), tuple(rows), (True, False, False, True, True),
                 "cut, fitted", 24.0)  # fmt: skip


def _rings(marks: Sequence[Marked], view: Looking, at: Point, scale: int) -> Iterator[Label]:
    for m in marks:
        shape = m.first.shape
        assert isinstance(shape, Tube)
        i = int(np.linalg.norm(np.diff(shape.path, axis=0), axis=1).argmax())
        yield Label(m.mark, view.on((shape.path[i] + shape.path[i + 1]) / 2, at, scale), ringed=True)
