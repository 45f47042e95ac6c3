"""The welded frame of the fuselage: three views with every node and tube called out, nodes by place, tubes by length.

Every place of a node stands once, in the table of nodes; the views carry names and no figures, so that nothing can be
read two ways. Tubes are called by a mark of their own; a pair right and left is one mark, made as two hands. A tube's
length is over its longest line, as cut from stock, before its ends are fitted; how the ends are cut is on the sheets of
tube ends.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.data.loader import material
from sparwright.family.model import Model
from sparwright.parts.frame import tube_number, tube_section
from sparwright.parts.part import Part
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.chains import Units, said
from sparwright.plans.drawing import DRAFTING, Box, Line, Point, Polyline, Stroke, Text
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled, wide
from sparwright.plans.views import Thing, View, seen
from sparwright.shape.frame import ON_CENTRE, Run, nodes, runs, within_body
from sparwright.shape.tube import Tube

SCALES = (5, 6, 8, 10, 12, 15, 16, 20)
FRAME_SCALES = (4, 5, 6, 8, 10)
SQUARE = 0.03  # m fore and aft that the nodes of one cross frame may differ
BETWEEN = 34.0  # mm between views
ABOVE = View("From above", lambda p: np.array([p[0], p[1]]), lambda p: p[2])
LEFT = View("From the left", lambda p: np.array([p[0], p[2]]), lambda p: -p[1])
BELOW = View("From below", lambda p: np.array([p[0], -p[1]]), lambda p: -p[2])
VIEWS = (ABOVE, LEFT, BELOW)
LEVEL = 0.35  # a tube whose run across is under this part of its length lies in a side of the frame


@dataclass(frozen=True)
class Marked:
    """A tube or a pair of tubes under one mark."""

    mark: str
    run: Run  # the right one of a pair
    part: Part
    other: Part | None = None  # the left one of a pair
    count: int = number("1", "1, or 2 for a pair right and left", 1)

    @property
    def numbers(self) -> tuple[str, ...]:
        """Of the one part, or of both of a pair."""
        return (self.part.number, self.other.number) if self.other else (self.part.number,)


def marked(model: Model, tubes: Sequence[Part]) -> tuple[Marked, ...]:
    """Every tube of the frame by mark, in the order of the file; DesignProblem where a part is missing."""
    by_number = {t.number: t for t in tubes}
    found: list[Marked] = []
    for run in runs(model.fuselage):
        if any(n.endswith("L") and f"{n[:-1]}R" in nodes(model.fuselage) for n in run.nodes) and _mirrored(run, found):
            continue
        key = tube_number(model, run)
        if key not in by_number:
            raise DesignProblem(f"{key}: a tube of the frame is no part")
        left = by_number.get(tube_number(model, replace(run, nodes=tuple(_other(n) for n in run.nodes))))
        other = left if left is not None and left.number != key and _both(run) else None
        found.append(Marked(str(len(found) + 1), run, by_number[key], other, 2 if other else 1))
    return tuple(found)


def in_body(model: Model, marks: Sequence[Marked]) -> tuple[Marked, ...]:
    """Those whose nodes all lie in the body: the legs of the undercarriage have a sheet of their own."""
    known, body = nodes(model.fuselage), model.fuselage.body
    return tuple(m for m in marks if all(within_body(body, known[n]) for n in m.run.nodes))


def _both(run: Run) -> bool:
    """Whether a run of the right side has a mirror: it does not reach across to the left by itself."""
    return not any(n.endswith("L") for n in run.nodes)


def _mirrored(run: Run, found: Sequence[Marked]) -> bool:
    other = tuple(f"{n[:-1]}R" if n.endswith("L") else n for n in run.nodes)
    return any(m.run.nodes == other for m in found)


def fuselage(model: Model, tubes: Sequence[Part], units: Units, paper_name: str = "24x36") -> tuple[Drawing, ...]:
    """Two drawings: views with the table of nodes, and the schedule of tubes."""
    marks = in_body(model, marked(model, tubes))
    numbers = tuple(n for m in marks for n in m.numbers)
    views = Drawing(
        "fuselage", "Fuselage frame: views and nodes", *_views(model, marks, units, paper_name), numbers,
        comes_from=("general",), notes=NOTES,
        paper=paper_name,
    )  # fmt: skip
    schedule = Drawing(
        "tubes", "Fuselage frame: cross frames and tubes", *_schedule(model, marks, units, paper_name), numbers,
        comes_from=("fuselage",), notes=TUBE_NOTES, paper=paper_name,
    )  # fmt: skip
    return views, schedule


NOTES = (
    "Places of nodes are where the middle lines of tubes meet. Station aft of the datum, buttline from the middle of "
    "the fuselage, waterline over the datum; all from the table, none from the views.",
    "R and L are the right and left of one who sits in the cockpit. Nodes with R and L stand as a pair; the left is at "
    "the same station and waterline, and as far to the left.",
    "Marks in rings are those of the schedule of tubes.",
    "Weld on the jig; tack all tubes of a bay before any node is finished.",
)
TUBE_NOTES = (
    "Lengths are over the longest line of a tube as cut from stock, before its ends are fitted. Cut a tube longer, fit "
    "both ends on the jig, and write what it came to.",
    "Nodes are in the order in which the tube passes them; bends lie at the nodes between.",
    "Two of a pair are made as two hands.",
)


def _views(model: Model, marks: Sequence[Marked], units: Units, paper_name: str) -> tuple[tuple[Stroke, ...], str]:
    """(strokes, scale in words)."""
    field = field_of(paper(paper_name))
    table = node_table(model, units)
    room = Box(field.left, field.bottom, field.right - wide(table, field.height) - 14.0, field.top)
    inside = {n for m in marks for n in m.run.nodes}
    known = {n: np.array(p) for n, p in nodes(model.fuselage).items() if n in inside | {_other(n) for n in inside}}
    things = [Thing(lines=(np.array([known[a], known[b]]).T,), width=r.tube.outside) for r in runs(model.fuselage)
              if all(n in known for n in r.nodes) for a, b in pairwise(r.nodes)]  # fmt: skip
    every = np.array(list(known.values()))
    scale = _scale(every, room)
    at = _origins(every, room, scale)
    drawn: list[Stroke] = []
    for view in VIEWS:
        drawn += _lines(things, view, at[view.name], scale)
        drawn += _datum(view, at[view.name], every, scale)
    labels = [*_names(known, at, scale), *_rings(marks, known, at, scale)]
    drawn += [Text(v.name, _caption(every, v, at[v.name], scale), DRAFTING.middle, bold=True) for v in VIEWS]
    set_down = ruled(table, room.right + 14.0, field.top, field.height)
    return (*drawn, *placed(labels, drawn, room), *set_down.strokes), f"1 : {scale}"


def _other(node: str) -> str:
    """The node on the other side; one on the centreline ends in neither R nor L."""
    return node[:-1] + {"R": "L", "L": "R"}.get(node[-1], node[-1])


def _scale(every: np.ndarray, room: Box) -> int:
    size = (every.max(axis=0) - every.min(axis=0)) * 1000
    for s in SCALES:
        if size[0] / s + 50 < room.width and (2 * size[1] + size[2]) / s + 2 * BETWEEN + 70 < room.height:
            return s
    raise DesignProblem("the frame of the fuselage is too big for its sheet at any usual scale")


def _origins(every: np.ndarray, room: Box, scale: int) -> dict[str, Point]:
    """Where station, buttline and waterline nought lie on the paper, by view."""
    low, high = every.min(axis=0) * 1000 / scale, every.max(axis=0) * 1000 / scale
    tall = 2 * (high[1] - low[1]) + (high[2] - low[2])
    gap = (room.height - tall) / 4
    x = room.left + (room.width - (high[0] - low[0])) / 2 - low[0]
    y = room.top - gap - high[1]
    found = {ABOVE.name: (x, y)}
    y = y + low[1] - gap - high[2]
    found[LEFT.name] = (x, y)
    found[BELOW.name] = (x, y + low[2] - gap - high[1])
    return found


def _on(view: View, at: Point, place: np.ndarray, scale: float) -> Point:
    x, y = view.across(place[:, None])[:, 0] * 1000 / scale
    return float(at[0] + x), float(at[1] + y)


def _lines(things: Sequence[Thing], view: View, at: Point, scale: float) -> Iterator[Stroke]:
    for stretch in seen(things, view):
        yield Polyline(tuple((at[0] + 1000 * x / scale, at[1] + 1000 * y / scale) for x, y in stretch.points.T), "cut")


def _datum(view: View, at: Point, every: np.ndarray, scale: float) -> Iterator[Stroke]:
    """The line of buttline or waterline nought, and station nought where the frame spans it."""
    x0, x1 = (float(v) * 1000 / scale + at[0] for v in (every[:, 0].min(), every[:, 0].max()))
    name = "WL 0" if view is LEFT else "BL 0"
    yield Line((x0 - 14.0, at[1]), (x1 + 8.0, at[1]), "mark", dash="chain")
    yield Text(name, (x0 - 15.0, at[1] + 1.2), DRAFTING.small, align="right")


def _caption(every: np.ndarray, view: View, at: Point, scale: float) -> Point:
    flat = view.across(every.T) * 1000 / scale
    return float(at[0] + flat[0].min()) - 14.0, float(at[1] + flat[1].max()) + 9.0


def _names(known: Mapping[str, np.ndarray], at: Mapping[str, Point], scale: float) -> Iterator[Label]:
    """Each node in the view from the left, and in the one from above or below that it is nearer to."""
    middle = float(np.median([p[2] for p in known.values()]))
    for name, place in known.items():
        if abs(place[1]) > ON_CENTRE and place[1] < 0:
            continue
        short = name[:-1] if abs(place[1]) > ON_CENTRE else name
        yield Label(short, _on(LEFT, at[LEFT.name], place, scale), bold=True, clear=1.0)
        view = ABOVE if place[2] >= middle else BELOW
        yield Label(name, _on(view, at[view.name], place, scale), bold=True, clear=1.0)


def _rings(marks: Sequence[Marked], known: Mapping[str, np.ndarray], at: Mapping[str, Point], scale: float
           ) -> Iterator[Label]:  # fmt: skip
    """Each mark once, in the view that shows its tube longest."""
    middle = float(np.median([p[2] for p in known.values()]))
    for m in marks:
        path = np.array([known[n] for n in m.run.nodes])
        long = np.linalg.norm(np.diff(path, axis=0), axis=1)
        i = int(long.argmax())
        step = path[i + 1] - path[i]
        side = abs(step[1]) < LEVEL * long[i]
        view = LEFT if side else ABOVE if path[i : i + 2, 2].mean() >= middle else BELOW
        here = _on(view, at[view.name], (path[i] + path[i + 1]) / 2, scale)
        yield Label(m.mark, here, ringed=True)


def node_table(model: Model, units: Units) -> Ruled:
    """Every node in the body once: a pair as one row."""
    rows = []
    for name, place in model.fuselage.nodes.items():
        if not within_body(model.fuselage.body, place):
            continue
        pair = abs(place[1]) > ON_CENTRE
        x, y, z = (said(v, units, 10**9) for v in (place[0], abs(place[1]), place[2]))
        rows.append((name, x, f"± {y}" if pair else y, z))
    head = "in" if units == "inch" else "mm"
    return Ruled("Nodes", ("Node", f"Station, {head}", f"Buttline, {head}", f"Waterline, {head}"), tuple(rows),
                 (False, True, True, True), "as built", 24.0)  # fmt: skip


@dataclass(frozen=True)
class CrossFrame:
    """Tubes that lie in one plane across the fuselage."""

    name: str
    nodes: tuple[str, ...]
    tubes: tuple[Marked, ...]


def cross_frames(model: Model, marks: Sequence[Marked]) -> tuple[CrossFrame, ...]:
    """Every plane across in which tubes make a closed frame: three tubes at least, from ahead aft."""
    known = nodes(model.fuselage)
    across = [m for m in marks if np.ptp([known[n][0] for n in m.run.nodes]) < SQUARE]
    found: list[CrossFrame] = []
    for x in sorted({round(known[m.run.nodes[0]][0], 4) for m in across}):
        here = tuple(m for m in across if abs(known[m.run.nodes[0]][0] - x) < SQUARE)
        named = tuple(dict.fromkeys(n for m in here for n in m.run.nodes))
        if sum(m.count for m in here) >= 3 and not any(set(named) <= set(f.nodes) for f in found):
            letters = sorted({n[0] for n in named})
            found.append(CrossFrame(f"Cross frame {', '.join(letters)}", named, here))
    return tuple(found)


def _schedule(model: Model, marks: Sequence[Marked], units: Units, paper_name: str) -> tuple[tuple[Stroke, ...], str]:
    """(table of tubes with the cross frames seen from ahead beside it, scale in words)."""
    field = field_of(paper(paper_name))
    table = ruled(tube_table(marks, units), field.left, field.top, field.height)
    room = Box(table.box.right + 16.0, field.bottom, field.right, field.top)
    frames = cross_frames(model, marks)
    known = {n: np.array(p) for n, p in nodes(model.fuselage).items()}
    if not frames:
        return table.strokes, "none"
    for scale in FRAME_SCALES:
        cells = _cells(frames, known, room, scale)
        if cells is not None:
            break
    else:
        raise DesignProblem("the cross frames of the fuselage are too big for their sheet at any usual scale")
    drawn = list(table.strokes)
    labels: list[Label] = []
    for f, at in zip(frames, cells, strict=True):
        drawn += _cross(f, known, at, scale, model)
        labels += _cross_labels(f, known, at, scale)
    return (*drawn, *placed(labels, drawn, room)), f"1 : {scale}"


AHEAD = View("from ahead", lambda p: np.array([-p[1], p[2]]), lambda p: -p[0])
CELL = 30.0  # mm round a cross frame for its names and marks


def _cells(frames: Sequence[CrossFrame], known: Mapping[str, np.ndarray], room: Box, scale: int) -> list[Point] | None:
    """Where nought lies for each frame, rows from the top; None where they do not fit."""
    found, x, y, tall = [], room.left, room.top - 12.0, 0.0
    for f in frames:
        flat = (
            AHEAD.across(np.array([known[m] for n in f.nodes for m in (n, _other(n)) if m in known]).T) * 1000 / scale
        )
        (left, low), (right, high) = flat.min(axis=1), flat.max(axis=1)
        wide_, high_ = right - left + 2 * CELL, high - low + 2 * CELL
        if x + wide_ > room.right:
            x, y, tall = room.left, y - tall, 0.0
        if x + wide_ > room.right or y - high_ < room.bottom:
            return None
        found.append((x + CELL - left, y - CELL - high))
        x, tall = x + wide_, max(tall, high_)
    return found


def _cross(f: CrossFrame, known: Mapping[str, np.ndarray], at: Point, scale: int, model: Model) -> Iterator[Stroke]:
    both = {m.run.nodes: m.run.tube.outside for m in f.tubes}
    both |= {tuple(_other(n) if _other(n) in known else n for n in k): v for k, v in both.items()}
    things = [
        Thing(lines=(np.array([known[a], known[b]]).T,), width=v) for k, v in both.items() for a, b in pairwise(k)
    ]
    yield from _lines(things, AHEAD, at, scale)
    flat = AHEAD.across(np.array([known[n] for k in both for n in k]).T) * 1000 / scale
    x, y = at[0] + float(flat[0].mean()), at[1] + float(flat[1].max())
    yield Text(f.name, (x, y + 15.0), DRAFTING.middle, align="middle", bold=True)


def _both_sides(f: CrossFrame, known: Mapping[str, np.ndarray]) -> list[str]:
    """Its nodes with their mirrors, each once."""
    return list(dict.fromkeys(m for n in f.nodes for m in (n, _other(n)) if m in known))


def _cross_labels(f: CrossFrame, known: Mapping[str, np.ndarray], at: Point, scale: int) -> Iterator[Label]:
    middle = np.array([known[n] for n in f.nodes]).mean(axis=0)
    for n in _both_sides(f, known):
        away = np.degrees(np.arctan2(known[n][2] - middle[2], -known[n][1]))
        ways = tuple(float(w) for w in sorted((45.0, 135.0, 225.0, 315.0, 0.0, 180.0, 90.0, 270.0),
                                              key=lambda w: -np.cos(np.radians(w - away))))  # fmt: skip
        yield Label(n, _on(AHEAD, at, known[n], scale), ways=ways, bold=True, clear=1.0)
    for m in f.tubes:
        ends = np.array([known[n] for n in m.run.nodes[:2]])
        yield Label(m.mark, _on(AHEAD, at, ends.mean(axis=0), scale), ringed=True)


def tube_table(marks: Sequence[Marked], units: Units) -> Ruled:
    """Every mark: nodes, stock, length, how many."""
    rows = []
    for m in marks:
        assert isinstance(m.part.shape, Tube)
        stock = f"{tube_section(m.run.tube)} {material(m.part.material).title}"
        name = m.run.name.split(":")[0].replace("_", " ")
        rows.append((m.mark, "–".join(m.run.nodes), stock, said(m.part.shape.length, units), str(m.count), name))
    return Ruled("Tubes", ("Mark", "Nodes", "Stock", "Length", "Make", "What it is"), tuple(rows),
                 (True, False, False, True, True, False), "cut, fitted", 26.0)  # fmt: skip
