"""The jig of a wing: plan of the bench, each spar on its blocks from behind, heights, and lengths between named points.

Figures are those of plans/wing_jig.py: how far along the bench each stand is runs over the plan, its heights stand in
the table, sides and diagonals in the table of checks.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, to
from sparwright.family.model import Model, Wing, spoken
from sparwright.parts.part import Part
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.bodies import Looking, bodies, on_right, seen
from sparwright.plans.chains import Across, Mark, Units, running, said
from sparwright.plans.drawing import DRAFTING, Box, Line, Point, Polyline, Stroke, Text, rectangle
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled, wide
from sparwright.plans.wing_jig import HALF, Jig, Stand, spar_at, wing_jigs

SCALES = (4, 5, 6, 8, 10, 12, 15, 20)
ROWS = 48.0  # mm over the plan for running figures
BESIDE = 44.0  # mm left of the views for names and what lies across
GAP = 20.0  # mm between views
APART = 14.0  # mm between tables
WHY = "The spars where they stand, along and square to the first one; stands where no rib or fitting lies under them."
FAR = 10**9  # inches without feet
NOTES = (
    "A straight, level bench; it may be two planks on trestles. Snap the line of the first spar and square lines at "
    "the stands. The right half is drawn, the left is its mirror; a wing in one piece lies on both.",
    "Heights are to the underside of each spar, plumb on its blocks; the lowest height is free, all change alike. "
    "Widths and stuff of blocks are free; shim with veneer, not with glue.",
    "Blocks stand clear of ribs and fittings, so that everything goes on with the spars in the jig.",
    "P1 to P4 are on the upper faces of the spars, in the middle of their width, on the buttline of the rib that is "
    "named. Measure all before the drag bracing is tightened, before and after the skins go on, and out of the jig; "
    "both halves alike within 1/16″ = 1.6 mm. Common practice, no source.",
    "Never clamp a spar down to a height that it does not reach by its own weight: it keeps the bend, and the wing the "
    "twist. Common practice, no source.",
)


def wing_jig_drawing(model: Model, wing: Wing, parts: Sequence[Part], units: Units, paper_name: str = "24x36"
                     ) -> Drawing:  # fmt: skip
    """The drawing of a wing's jig. DesignProblem where it fits at no usual scale."""
    jigs, field = wing_jigs(model, wing, parts), field_of(paper(paper_name))
    tables = tuple(t for j in jigs for t in (stand_table(j, units), check_table(j, units)))
    tables_tall = max(16.0 + 6.2 * (len(t.rows) + 1) for t in tables)
    across = sum(wide(t, tables_tall) + APART for t in tables) - APART
    for scale in SCALES:
        tall = sum(_tall(model, j, scale) for j in jigs) + tables_tall
        long = max(s.along for j in jigs for s in j.stands) * 1000 / scale
        if long + BESIDE + 40.0 <= field.width and tall <= field.height and across <= field.width:
            break
    else:
        raise DesignProblem(f"{spoken(wing.name)}: its jig fits its sheet at no usual scale")
    drawn: list[Stroke] = []
    top = field.top
    for j in jigs:
        drawn += _bench(model, j, parts, Box(field.left, top - _tall(model, j, scale), field.right, top), scale, units)
        top -= _tall(model, j, scale)
    x = field.left
    for t in tables:
        done = ruled(t, x, top - 2.0, top - 2.0 - field.bottom)
        drawn += done.strokes
        x = done.box.right + APART
    name = spoken(wing.name).capitalize()
    comes = (f"wing.{wing.name}", f"spars.{wing.name}")
    return Drawing(f"jig.{wing.name}", f"{name}: jig", tuple(drawn), f"1 : {scale}", (), comes, ("rigging",),
                   (*NOTES, *_lean(jigs)), paper_name)  # fmt: skip


def _lean(jigs: Sequence[Jig]) -> Iterator[str]:
    """How ribs stand to the bench, where that is not square."""
    for j in jigs:
        lean, slant = to(j.lean, "deg"), to(j.slant, "deg")
        if abs(lean) < 0.05 and abs(slant) < 0.05:
            continue
        top, aft = ("outboard" if v > 0 else "inboard" for v in (lean, slant))
        plan = f"; in plan by {abs(slant):.1f}°, aft end {aft}" if abs(slant) >= 0.05 else ""
        yield f"Ribs stand on their buttlines, not square to the spars: off plumb by {abs(lean):.1f}°, top {top}{plan}."


def _spread(j: Jig) -> float:
    """From the first spar to the last, m."""
    return max(a for s in j.stands for a in s.aft)


def _high(model: Model, j: Jig) -> float:
    """Greatest height of a spar's top over the bench, m."""
    return max(p.place[2] for p in j.points)


def _tall(model: Model, j: Jig, scale: int) -> float:
    k = 1000 / scale
    return ROWS + (_spread(j) + 0.1) * k + len(j.wing.spars) * (_high(model, j) * k + GAP) + 12.0


def _bench(model: Model, j: Jig, parts: Sequence[Part], room: Box, scale: int, units: Units) -> Iterator[Stroke]:
    k = 1000 / scale
    ends = (j.panels[0].root_buttline, j.panels[-1].tip_buttline)
    own = [p for p in parts if p.number.startswith(f"{model.name}-{j.wing.name}-") and p.purpose == "spar cap"]
    caps = bodies(own, on_right)
    long = max(p.place[1] for p in j.points)
    x0, y0 = room.left + BESIDE, room.top - ROWS - 0.05 * k
    above = Looking("", tuple(j.axes.along), tuple(-j.axes.aft))
    window = Box(x0 - 0.5, 0.0, x0 + long * k + 6.0, room.top)
    drawn: list[Stroke] = [*seen(caps, above, _origin(j, above, (x0, y0), scale), scale, window)]
    drawn += _blocks_above(model, j, (x0, y0), k)
    drawn += _diagonals(j, (x0, y0), k)
    edge = y0 + 0.05 * k
    marks = [Mark(x0 + s.along * k, s.along, edge, f"stand {s.name}") for s in j.stands]
    row = Across(False, edge + 7.0, 1, f"{_named(j)}: along the bench", WHY)
    drawn += running([Mark(x0, 0.0, edge, "innermost rib"), *marks], row, units)
    drawn += _across(j, (x0, y0), k, units)
    low = y0 - (_spread(j) + 0.05) * k
    labels = [Label(f"stand {s.name}" if s is j.stands[0] else s.name, (x0 + s.along * k, y0 - _spread(j) / 2 * k))
              for s in j.stands]  # fmt: skip
    labels += [Label(p.name, (x0 + p.place[1] * k, y0 - p.place[0] * k), bold=True, clear=1.5) for p in j.points]
    yield from drawn
    yield from placed(labels, drawn, Box(room.left, low - 10.0, room.right, room.top))
    title = f"Bench from above, root at BL {inches(ends[0])}"
    yield Text(title, (room.left, room.top - DRAFTING.middle - 1.0), DRAFTING.middle, bold=True)
    behind = Looking("", tuple(j.axes.along), tuple(j.axes.up))
    for i, spar in enumerate(j.wing.spars):
        low -= GAP + _high(model, j) * k
        yield from _elevation(model, j, i, [p for p in own if f"-{spar.name.upper()}-" in p.number], behind,
                              (x0, low), scale, long)  # fmt: skip


def _origin(j: Jig, view: Looking, zero: Point, scale: int, up: float = 0.0) -> Point:
    """Where the aeroplane's datum falls when the bench's nought falls on a point; up: m on the paper."""
    x, y = view.on(tuple(j.axes.middle), (0.0, 0.0), scale)
    return zero[0] - x, zero[1] - y + up * 1000 / scale


def _blocks_above(model: Model, j: Jig, zero: Point, k: float) -> Iterator[Stroke]:
    for s in j.stands:
        for i, aft in enumerate(s.aft):
            half = spar_at(model, j, i, s.buttline).width / 2 + 0.012
            x, y = zero[0] + s.along * k, zero[1] - aft * k
            yield rectangle(x - HALF * k, y - half * k, x + HALF * k, y + half * k, "mark")


def _diagonals(j: Jig, zero: Point, k: float) -> Iterator[Stroke]:
    """From the first spar's ends to the last one's, crosswise."""
    if len(j.points) == 4:
        for a, b in ((0, 3), (1, 2)):
            p, q = ((zero[0] + j.points[n].place[1] * k, zero[1] - j.points[n].place[0] * k) for n in (a, b))
            yield Line(p, q, "mark", dash="chain")


def _across(j: Jig, zero: Point, k: float, units: Units) -> tuple[Stroke, ...]:
    """How far aft of the first spar the others lie at the first stand."""
    first = j.stands[0]
    marks = [Mark(zero[1] - a * k, a, zero[0], f"{s.name} spar")
             for s, a in zip(j.wing.spars, (0.0, *first.aft[1:]), strict=True)]  # fmt: skip
    row = Across(True, zero[0] - 8.0, -1, f"{_named(j)}: across the bench at stand 1", WHY)
    return running(marks, row, units) if len(marks) > 1 else ()


def _named(j: Jig) -> str:
    """What its dimensions are called by."""
    panels = "" if len(j.panels) == len(j.wing.panels) else f", {' and '.join(p.name for p in j.panels)}"
    return f"jig of the {spoken(j.wing.name)}{panels}"


def _elevation(model: Model, j: Jig, i: int, caps: Sequence[Part], view: Looking, zero: Point, scale: int, long: float
               ) -> Iterator[Stroke]:  # fmt: skip
    """A spar on its blocks, seen from behind; zero: the bench at the innermost rib."""
    k = 1000 / scale
    window = Box(zero[0] - 0.5, 0.0, zero[0] + long * k + 6.0, zero[1] + 1e4)
    yield from seen(
        bodies(caps, on_right), view, _origin(j, view, zero, scale, j.base + j.axes.depth / 2), scale, window
    )
    yield Line((zero[0] - 6.0, zero[1]), (zero[0] + long * k + 8.0, zero[1]), "cut", "thick")
    for s in j.stands:
        x, top = zero[0] + s.along * k, zero[1] + s.heights[i] * k
        slope = _slope(model, j, i, s) * HALF * k
        yield Polyline(((x - HALF * k, zero[1]), (x - HALF * k, top - slope), (x + HALF * k, top + slope),
                        (x + HALF * k, zero[1])), "mark")  # fmt: skip
        yield Text(s.name, (x, zero[1] - DRAFTING.small - 1.6), DRAFTING.small, align="middle")
    yield Text(f"{j.wing.spars[i].name} spar,", (zero[0] - 8.0, zero[1] + 6.2), DRAFTING.small, align="right")
    yield Text("from behind", (zero[0] - 8.0, zero[1] + 1.0), DRAFTING.small, align="right")


def _slope(model: Model, j: Jig, i: int, s: Stand) -> float:
    """Rise of a spar along the bench where a stand is."""
    axes = spar_at(model, j, i, s.buttline)
    way = j.way(axes.along)
    return float(way[2] / way[1])


def stand_table(j: Jig, units: Units) -> Ruled:
    """Each stand: heights under every spar, what lies between them, and the twist that comes of it."""
    names = [s.name for s in j.wing.spars]
    rows = [(s.name, *(said(v, units, FAR) for v in (*s.heights, *s.aft)), _degrees(s.twist)) for s in j.stands]
    heads = ("Stand", *(f"Under {n} spar" for n in names), *(f"{n} aft" for n in names), "Twist")
    tall = " and ".join(p.name for p in j.panels)
    return Ruled(f"Heights over the bench: {tall}", heads, tuple(rows), (True,) * len(heads), "as built: right, left",
                 50.0)  # fmt: skip


def _degrees(angle: float) -> str:
    return f"{to(angle, 'deg'):.2f}°".replace("-0.00", "0.00").replace("-", "−")


def check_table(j: Jig, units: Units) -> Ruled:
    """Sides and diagonals between the named points, and where these are."""
    known = {p.name: p for p in j.points}
    rows = tuple((f"{a}–{b}", f"{known[a].spar}, BL {inches(known[a].buttline)} to {known[b].spar}, BL "
                  f"{inches(known[b].buttline)}", said(v, units)) for a, b, v in j.checks)  # fmt: skip
    return Ruled("Checks between points", ("From, to", "Spar and rib", "Length"), rows, (False, False, True),
                 "as built: right, left", 50.0)  # fmt: skip
