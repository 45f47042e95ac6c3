"""Jigs of the welded frame: one side laid flat on a table, then both sides stood on a bench.

The table's base line is waterline nought; how far along it each node lies runs along the drawing from the foremost
upright, how far over it stands in the table of nodes. Packing brings the middle lines of tubes of every diameter into
one plane. What the figures are made of: plans/side_frame.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import to
from sparwright.family.model import Model
from sparwright.parts.part import Part
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.chains import Across, Mark, Units, running, said
from sparwright.plans.drawing import DRAFTING, Box, Circle, Line, Point, Polyline, Stroke, Text
from sparwright.plans.drawings.fuselage import marked
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled, wide
from sparwright.plans.side_frame import LEVEL, Side, Stood, side_frame, stood
from sparwright.plans.views import Thing, View, seen
from sparwright.shape.frame import nodes

SCALES = (5, 6, 8, 10, 12, 15, 16, 20)
HEAT = 0.05  # m that pins and wood stand clear of a node; common practice, no source
CLEAR = 0.1524  # m from the bench to the lowest node's middle: a free choice, room for a hand and a torch
ROWS = 46.0  # mm over and under the view for running figures
BESIDE = 30.0  # mm left of a view for the names of its lines
APART = 12.0  # mm between tables
ALONG = "[fuselage.nodes]: their places, laid flat along the line of the side"
FAR = 10**9  # inches without feet
FLAT = View("The right side from outboard, laid flat", lambda p: p[:2], lambda p: p[2])
ABOVE = View("From above", lambda p: np.array([p[0], p[1]]), lambda p: p[2])
LEFT = View("From the left", lambda p: np.array([p[0], p[2]]), lambda p: -p[1])
NOTES = (
    "A flat, level table longer than the side. Snap the base line (waterline nought) and square lines across it at the "
    "figures along it; prick each node. All figures are to middle lines of tubes.",
    "Packing under each tube by its diameter, so that all middle lines lie in one plane; it is glued or screwed down.",
    "Pins or blocks stand on both sides of a tube (circles on the drawing) and 2″ = 50 mm at least clear of a node: "
    "wood and glue near the flame burn, and a block at the weld draws its heat away. Common practice, no source.",
    "Fit and tack every tube first, three tacks a joint. A weld shrinks and draws its tube towards the bead: after "
    "tacking measure all diagonals, then weld out in the order of numbers, from the middle out, ahead and aft by "
    "turns, a part of each joint at a time; let it cool held down. Common practice, no source.",
    "Figures in the column of bends say how far the side is drawn in at an upright when both sides are joined; until "
    "then it stays flat.",
    "Tubes on the middle line of the fuselage (sternpost) and sockets are fitted when both sides stand together.",
)
BOTH = "Both sides are alike on the table: make the left right over the right, on the same lines, as its mirror."
APART_SIDES = "Nodes that stand off the plane do so outboard: the left side is made as a mirror, with the same packing."
JOINED_NOTES = (
    "Bench level along and across, a middle line snapped on it, square lines at the stations. Thrust line level.",
    "Stand both sides with their nodes over the square lines at half widths from the middle line, on posts of the "
    "heights given less half of the tube. The height of the bench itself is free: all posts change alike.",
    "Square each cross frame by its diagonals, then every bay by the diagonals from right to left; both of a pair "
    "alike within 1/32″ = 0.8 mm before a cross tube is welded. Common practice, no source.",
    "Weld cross tubes from the middle out, then the tail, drawn in last; measure again when cold.",
)


def fuselage_jigs(model: Model, tubes: Sequence[Part], units: Units, paper_name: str = "24x36") -> tuple[Drawing, ...]:
    """Two drawings: a side on its table, both sides on the bench."""
    side = side_frame(model)
    flat, scale = _flat(model, side, tubes, units, paper_name)
    alike = BOTH if all(abs(s.off) < LEVEL for s in side.spots) else APART_SIDES
    first = Drawing("jig.side", "Jig: side of the fuselage", flat, f"1 : {scale}", (), ("fuselage", "tubes"),
                    ("jig.joined",), (*NOTES, alike), paper_name)  # fmt: skip
    both, scale = _joined(model, side, units, paper_name)
    second = Drawing("jig.joined", "Jig: both sides of the fuselage joined", both, f"1 : {scale}", (),
                     ("jig.side", "tubes"), (), JOINED_NOTES, paper_name)  # fmt: skip
    return first, second


def _flat(model: Model, side: Side, tubes: Sequence[Part], units: Units, paper_name: str
          ) -> tuple[tuple[Stroke, ...], int]:  # fmt: skip
    field = field_of(paper(paper_name))
    marks = {m.run.nodes: m.mark for m in marked(model, tubes)}
    tables = (node_table(side, units), packing_table(side, marks, units), diagonal_table(side, units),
              turn_table(side, units))  # fmt: skip
    along = np.array([s.along for s in side.spots])
    up = np.array([s.up for s in side.spots])
    for scale in SCALES:
        k = 1000 / scale
        tall = field.height - float(np.ptp(up)) * k - 2 * ROWS - 14.0
        if np.ptp(along) * k + BESIDE + 10 <= field.width and _fits(tables, field.width, tall):
            break
    else:
        raise DesignProblem(f"{model.name}: the jig of the side fits its sheet at no usual scale")
    at = (field.left + BESIDE - float(along.min()) * k, field.top - ROWS - 10.0 - float(up.max()) * k)
    drawn: list[Stroke] = [*_strips(side, at, scale), *_pins(side, at, scale), *_base(side, at, scale)]
    drawn += _runs(side, at, scale, units)
    drawn.append(Text(FLAT.name, (field.left, field.top - DRAFTING.middle), DRAFTING.middle, bold=True))
    low = at[1] + float(up.min()) * k - ROWS
    room = Box(field.left, low, field.right, field.top)
    labels = [Label(_short(s.node), _on(at, scale, s.along, s.up), bold=True, clear=1.5) for s in side.spots]
    labels += [Label(marks[r.nodes], _middle(side, r.nodes, at, scale), ringed=True) for r in side.tubes]
    drawn += placed(labels, drawn, room)
    return (*drawn, *_set(tables, field, low - 4.0)), scale


def _fits(tables: Sequence[Ruled], across: float, tall: float) -> bool:
    if tall < 60.0:
        return False
    try:
        return sum(wide(t, tall) + APART for t in tables) - APART <= across
    except DesignProblem:
        return False


def _set(tables: Sequence[Ruled], field: Box, top: float) -> Iterator[Stroke]:
    x = field.left
    for t in tables:
        done = ruled(t, x, top, top - field.bottom)
        yield from done.strokes
        x = done.box.right + APART


def _short(node: str) -> str:
    """A node of the right side without its side."""
    return node.removesuffix("R")


def _on(at: Point, scale: float, along: float, up: float) -> Point:
    return at[0] + along * 1000 / scale, at[1] + up * 1000 / scale


def _middle(side: Side, run: Sequence[str], at: Point, scale: float) -> Point:
    """The middle of a tube's longest stretch."""
    a, b = max(pairwise(run), key=lambda ab: side.apart(*ab))
    p, q = side.spot(a), side.spot(b)
    return _on(at, scale, (p.along + q.along) / 2, (p.up + q.up) / 2)


def _strips(side: Side, at: Point, scale: float) -> Iterator[Stroke]:
    spots = {s.node: np.array([s.along, s.up, 0.0]) for s in side.spots}
    things = [Thing(lines=(np.array([spots[a], spots[b]]).T,), width=r.tube.outside)
              for r in side.tubes for a, b in pairwise(r.nodes)]  # fmt: skip
    for stretch in seen(things, FLAT):
        yield Polyline(tuple((at[0] + 1000 * x / scale, at[1] + 1000 * y / scale) for x, y in stretch.points.T), "cut")


def _pins(side: Side, at: Point, scale: float) -> Iterator[Circle]:
    """A pair at both ends of each stretch, clear of the flame; one pair in the middle of a short one."""
    for r in side.tubes:
        for a, b in pairwise(r.nodes):
            p, q = (np.array(_on(at, scale, s.along, s.up)) for s in (side.spot(a), side.spot(b)))
            long = side.apart(a, b)
            way = (q - p) / np.linalg.norm(q - p)
            out = np.array([-way[1], way[0]]) * (r.tube.outside / 2 * 1000 / scale + 1.3)
            for f in (1.2 * HEAT / long, 1 - 1.2 * HEAT / long) if long > 4 * HEAT else (0.5,):
                for sign in (1, -1):
                    x, y = p + f * (q - p) + sign * out
                    yield Circle((float(x), float(y)), 1.0, "mark")


def _base(side: Side, at: Point, scale: float) -> Iterator[Stroke]:
    ends = [f(s.along for s in side.spots) for f in (min, max)]
    (x0, y), (x1, _) = (_on(at, scale, e, 0.0) for e in ends)
    yield Line((x0 - 6.0, y), (x1 + 6.0, y), "mark", dash="chain")
    yield Text("base line", (x0 - 7.5, y - DRAFTING.small / 2), DRAFTING.small, align="right")


def _runs(side: Side, at: Point, scale: float, units: Units) -> Iterator[Stroke]:
    """How far along each node lies: those over the base line above the view, the others below."""
    k = 1000 / scale
    up = [s.up for s in side.spots]
    for away, edge, word, mine in ((1, max(up), "over", [s for s in side.spots if s.up >= 0]),
                                   (-1, min(up), "under", [s for s in side.spots if s.up < 0])):  # fmt: skip
        seen_at: dict[float, Mark] = {}
        for s in sorted(mine, key=lambda s: -away * s.up):
            x, y = _on(at, scale, s.along, s.up)
            before = seen_at.get(round(s.along, 4))
            named = f"{before.name} and {_short(s.node)}" if before else f"node {_short(s.node)}"
            seen_at[round(s.along, 4)] = Mark(x, s.along, y, named)
        row = Across(False, at[1] + edge * k + away * 12.0, away, f"jig of the side: nodes {word} the base line", ALONG)
        yield from running(list(seen_at.values()), row, units)


def node_table(side: Side, units: Units) -> Ruled:
    """Each node: how far over the base line, its turn to be welded."""
    off = any(abs(s.off) >= LEVEL for s in side.spots)
    rows = [(_short(s.node), said(s.up, units, FAR), *((said(s.off, units, FAR),) if off else ()), str(s.order))
            for s in side.spots]  # fmt: skip
    heads = ("Node", "Over base line", *(("Off the plane",) if off else ()), "Weld")
    return Ruled("Nodes", heads, tuple(rows), (False, *(True,) * (len(heads) - 1)), "as built", 20.0)


def packing_table(side: Side, marks: dict[tuple[str, ...], str], units: Units) -> Ruled:
    """Each diameter: what lies under it, and which tubes have it."""
    found: dict[float, list[str]] = {}
    for r in side.tubes:
        found.setdefault(round(r.tube.outside, 7), []).append(marks[r.nodes])
    under = {d: side.packing(d) for d in sorted(found, reverse=True)}
    rows = tuple((said(d, units), said(v, units) if v > 1e-6 else "none", said(side.plane, units), _lines(found[d]))
                 for d, v in under.items())  # fmt: skip
    heads = ("Tube", "Packing", "Middle line over the table", "Marks")
    return Ruled("Packing under tubes", heads, rows, (True, True, True, False), "done", 14.0)


def _lines(marks: Sequence[str], each: int = 8) -> str:
    """Marks in their order, so many a line."""
    ordered = sorted(set(marks), key=int)
    return ",\n".join(", ".join(ordered[i : i + each]) for i in range(0, len(ordered), each))


def diagonal_table(side: Side, units: Units) -> Ruled:
    """Both diagonals of every bay on the table, and of the whole."""
    rows = tuple((f"{_short(a)}–{_short(b)}", said(long, units)) for a, b, long in side.diagonals)
    return Ruled("Diagonals on the table", ("From, to", "Length"), rows, (False, True), "tacked, cold", 34.0)


def turn_table(side: Side, units: Units) -> Ruled:
    """Where the side is drawn in when both are joined."""
    rows = tuple(("–".join(_short(n) for n in t.upright.split("–")), f"{to(t.angle, 'deg'):.1f}°".replace("-", "−"))
                 for t in side.turns)  # fmt: skip
    return Ruled("Bends, drawn in later", ("At upright", "Inwards"), rows, (False, True))


def _joined(model: Model, side: Side, units: Units, paper_name: str) -> tuple[tuple[Stroke, ...], int]:
    field = field_of(paper(paper_name))
    frames = stood(model, side, CLEAR)
    table = joined_table(frames, units)
    known = {n: np.array(p) for n, p in nodes(model.fuselage).items()}
    lines = [(known[a], known[b], r.tube.outside) for r in side.tubes for a, b in pairwise(r.nodes)]
    flip = np.array([1.0, -1.0, 1.0])
    things = [Thing(lines=(np.array([p * s, q * s]).T,), width=d) for p, q, d in lines for s in (np.ones(3), flip)]
    every = np.array([p for a, b, _ in lines for p in (a, b)])
    (x0, _, z0), (x1, y1, z1) = every.min(axis=0), every.max(axis=0)
    for scale in SCALES:
        k = 1000 / scale
        up = (2 * y1 + z1 - z0 + CLEAR) * k + 34.0 + 2 * ROWS + 20.0
        if (x1 - x0) * k + BESIDE + 10 <= field.width and field.height - up > 10.0 + _tall(table):
            break
    else:
        raise DesignProblem(f"{model.name}: the jig of both sides fits its sheet at no usual scale")
    x = field.left + BESIDE - x0 * k
    plan = (x, field.top - 20.0 - y1 * k)
    upright = (x, plan[1] - y1 * k - 34.0 - z1 * k)
    drawn: list[Stroke] = []
    for view, at in ((ABOVE, plan), (LEFT, upright)):
        for stretch in seen(things, view):
            drawn.append(Polyline(tuple((at[0] + k * u, at[1] + k * v) for u, v in stretch.points.T), "cut"))
    drawn += _bench(frames, plan, upright, (float(x0), float(x1)), float(z0), k, units)
    for view, top in ((ABOVE, plan[1] + y1 * k), (LEFT, upright[1] + z1 * k)):
        drawn.append(Text(view.name, (field.left, top + 8.0), DRAFTING.middle, bold=True))
    low = upright[1] + (z0 - CLEAR) * k - ROWS
    labels = list(_joined_names(frames, known, plan, upright, scale))
    drawn += placed(labels, drawn, Box(field.left, low, field.right, field.top))
    return (*drawn, *ruled(table, field.left, low - 4.0, low - 4.0 - field.bottom).strokes), scale


def _tall(table: Ruled) -> float:
    return 16.0 + 6.2 * (len(table.rows) + 1)


def _bench(frames: Sequence[Stood], plan: Point, upright: Point, ends: tuple[float, float], low: float, k: float,
           units: Units) -> Iterator[Stroke]:  # fmt: skip
    """Bench and middle line, square lines and posts at the cross frames, stations along the bench."""
    x0, x1 = (plan[0] + v * k for v in ends)
    yield Line((x0 - 8.0, plan[1]), (x1 + 8.0, plan[1]), "mark", dash="chain")
    yield Text("middle", (x0 - 9.5, plan[1] - DRAFTING.small / 2), DRAFTING.small, align="right")
    top = upright[1] + (low - CLEAR) * k
    yield Line((x0 - 8.0, top), (x1 + 8.0, top), "cut", "thick")
    yield Text("bench", (x0 - 9.5, top - DRAFTING.small / 2), DRAFTING.small, align="right")
    for f in frames:
        x = plan[0] + f.station * k
        foot = top + f.high_lower * k
        for side in (-1.2, 1.2):
            yield Line((x + side, top), (x + side, foot - 0.8), "mark")
    first = frames[0].station
    marks = [Mark(plan[0] + f.station * k, f.station - first, top, f"frame {_short(f.upper)}") for f in frames]
    row = Across(False, top - 8.0, -1, "jig of both sides: frames along the bench", "[fuselage.nodes]: their stations")
    yield from running(marks, row, units)


def _joined_names(frames: Sequence[Stood], known: dict[str, np.ndarray], plan: Point, upright: Point, scale: float
                  ) -> Iterator[Label]:  # fmt: skip
    for f in frames:
        for n in (f.upper, f.lower):
            x, _, z = known[n]
            yield Label(_short(n), (upright[0] + x * 1000 / scale, upright[1] + z * 1000 / scale), bold=True, clear=1.5)
        x, y, _ = known[f.upper]
        pair = abs(y) > 1e-6
        for name, side in ((f.upper, 1), (f"{f.upper[:-1]}L", -1)) if pair else ((f.upper, 1),):
            here = (plan[0] + x * 1000 / scale, plan[1] + side * y * 1000 / scale)
            yield Label(name, here, bold=True, clear=1.5)


def joined_table(frames: Sequence[Stood], units: Units) -> Ruled:
    """Each cross frame: half widths, heights over the bench, its own diagonal, those from right to left to the next."""
    rows = []
    for f, after in zip(frames, (*frames[1:], None), strict=True):
        to_next = ("", "") if after is None else tuple(
            f"{a}–{_left(b)}: {said(v, units)}" for a, b, v in ((f.upper, after.upper, f.next_upper),
                                                                (f.lower, after.lower, f.next_lower)))  # fmt: skip
        across = (
            ""
            if f.half_upper < 1e-6 and f.half_lower < 1e-6
            else f"{f.upper}–{_left(f.lower)}: {said(f.diagonal, units)}"
        )
        places = (said(v, units, FAR) for v in (f.half_upper, f.half_lower, f.high_upper, f.high_lower))
        rows.append((f"{_short(f.upper)}–{_short(f.lower)}", *places, across, *to_next))
    heads = ("Frame", "Half width, upper", "lower", "Over the bench, upper", "lower", "Diagonal of the frame",
             "To the next, upper", "To the next, lower")  # fmt: skip
    return Ruled("Cross frames on the bench: middle lines", heads, tuple(rows), (False, *(True,) * 7),
                 "as built: right, left", 60.0)  # fmt: skip


def _left(node: str) -> str:
    """The node on the left; one on the middle line is the same."""
    return f"{node[:-1]}L" if node.endswith("R") else node
