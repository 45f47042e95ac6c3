"""One wing in plan: right half from above with every rib, spar, drag bay and hinge where it stands, and from behind.

Buttlines run from the middle of the fuselage above the plan; what lies along the chord is given once, at the innermost
station, from the leading edge; heights of the chord's front end at each panel's end on the view from behind. Ribs carry
marks, the table says which part each is. The left half is its mirror.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import place_key, to
from sparwright.family.model import Model, Wing, spoken
from sparwright.parts.part import Part
from sparwright.parts.stations import rib_stations
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.bodies import ABOVE_NOSE_UP, BEHIND, MIDDLE, bodies, on_right, reach, seen
from sparwright.plans.chains import Across, Mark, Units, chain, running
from sparwright.plans.drawing import DRAFTING, Box, Line, Point, Stroke, Text
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled, wide
from sparwright.shape.lifting import breaks, cut
from sparwright.shape.solid import Solid

SCALES = (4, 5, 6, 8, 10, 12)
PAST = 5.0  # mm that what runs on over the middle is drawn beyond it
LEFT_ROOM, RIGHT_ROOM = 46.0, 22.0  # mm beside the plan: for what lies along the chord
ABOVE_ROOM, BETWEEN = 44.0, 40.0  # mm over the plan for buttlines, between both views
NOTES = (
    "Right half as seen; the left half is its mirror.",
    "Buttlines are square from the middle of the fuselage, along the thrust line's level, not along the wing.",
    "Distances along the chord are along the chord line of the innermost rib, from its leading edge; spars at their "
    "middle.",
    "Marks in rings are those of the table of ribs. A rib stands with its middle on its buttline.",
    "Skins and fabric are left out.",
)


def wing_drawing(model: Model, wing: Wing, parts: Sequence[Part], units: Units, paper_name: str = "24x36") -> Drawing:
    """The drawing of one wing. DesignProblem where it does not fit at any usual scale."""
    mine = [p for p in parts if _of(model, wing, p)]
    shown = bodies(mine, on_right)
    if not shown:
        raise DesignProblem(f"{model.name}: nothing of the {spoken(wing.name)} is drawn")
    field = field_of(paper(paper_name))
    table = rib_table(model, wing, mine)
    scale, tall = _scale(shown, field, table)
    at_top, at_back = _origins(shown, field, scale)
    window = Box(at_top[0] + max(wing.panels[0].root_buttline, 0.0) * 1000 / scale - PAST, 0.0, field.right, field.top)
    drawn: list[Stroke] = [s for view, at in ((ABOVE_NOSE_UP, at_top), (BEHIND, at_back))
                           for s in seen(shown, view, at, scale, window)]  # fmt: skip
    drawn += _captions(shown, at_top, at_back, scale)
    drawn += _buttlines(wing, shown, at_top, scale, units)
    drawn += _along_chord(model, wing, shown, at_top, scale, units)
    drawn += _heights(wing, shown, at_back, scale, units)
    room = Box(field.left, field.bottom + tall, field.right, field.top)
    labels = (*_rib_marks(wing, mine, model, at_top, scale), *_names(model, wing, mine, at_top, scale))
    set_down = ruled(table, field.left, field.bottom + tall - 4.0, tall - 4.0)
    strokes = (*drawn, *placed(labels, drawn, room), *set_down.strokes)
    return Drawing(f"wing.{wing.name}", f"{spoken(wing.name).capitalize()}: plan", strokes, f"1 : {scale}",
                   tuple(p.number for p in mine), ("general",),
                   (f"spars.{wing.name}", f"jig.{wing.name}", "rigging"), _notes(wing), paper_name)  # fmt: skip


def _of(model: Model, wing: Wing, part: Part) -> bool:
    own = part.number.startswith(f"{model.name}-{wing.name}-")
    return own and part.form != "skin" and "INSPECTION" not in part.number


def _notes(wing: Wing) -> tuple[str, ...]:
    turns = [f"{p.name} {to(p.twist, 'deg'):+.2g} deg" for p in wing.panels if abs(p.twist) > 1e-9]
    twist = f"Twist from root to tip: {', '.join(turns)}." if turns else "No twist."
    return (*NOTES, f"Incidence of the innermost chord to the thrust line {to(wing.incidence, 'deg'):.2g} deg. {twist}")


def _scale(shown: Sequence[Solid], field: Box, table: Ruled) -> tuple[int, float]:
    """(scale, mm that the table takes at the foot)."""
    (left, low), (right, high) = reach(shown, ABOVE_NOSE_UP)
    _, (_, back_high) = reach(shown, BEHIND)
    _, back_low = reach(shown, BEHIND)[0]
    for s in SCALES:
        k = 1000 / s
        across = (right - max(left, 0.0)) * k + LEFT_ROOM + RIGHT_ROOM
        up = (high - low + back_high - back_low) * k + ABOVE_ROOM + BETWEEN + 34.0
        for rows in range(4, 40):
            tall = 8.5 + (rows + 1) * 6.2 + 4.0
            if wide(table, tall - 4.0) <= field.width:
                break
        if across <= field.width and up + tall <= field.height:
            return s, tall
    raise DesignProblem("the wing is too big for its sheet at any usual scale")


def _origins(shown: Sequence[Solid], field: Box, scale: int) -> tuple[Point, Point]:
    (left, low), (_, high) = reach(shown, ABOVE_NOSE_UP)
    _, back = reach(shown, BEHIND)
    k = 1000 / scale
    x = field.left + LEFT_ROOM - max(left, 0.0) * k
    top = field.top - ABOVE_ROOM - high * k
    return (x, top), (x, top + low * k - BETWEEN - back[1] * k)


def _captions(shown: Sequence[Solid], at_top: Point, at_back: Point, scale: int) -> Iterator[Text]:
    k = 1000 / scale
    (_, low), (right, _) = reach(shown, ABOVE_NOSE_UP)
    _, (_, back) = reach(shown, BEHIND)
    x = at_top[0] + right * k
    yield Text(ABOVE_NOSE_UP.name, (x, at_top[1] + low * k - 12.0), DRAFTING.middle, align="right", bold=True)
    yield Text(BEHIND.name, (x, at_back[1] + back * k + 6.0), DRAFTING.middle, align="right", bold=True)


def _buttlines(wing: Wing, shown: Sequence[Solid], at: Point, scale: int, units: Units) -> Iterator[Stroke]:
    """Every whole rib, nose rib and aileron's end, from the middle of the fuselage, above the plan."""
    k = 1000 / scale
    _, (_, high) = reach(shown, ABOVE_NOSE_UP)
    edge = at[1] + high * k
    kinds = ("nose", "wing")  # a whole rib's name before that of a nose rib beside it
    stands = {round(r.buttline, 6): r for kind in kinds for r in rib_stations(wing) if r.kind == kind}
    marks = [Mark(at[0] + y * k, y, edge, f"{'nose ' if r.kind == 'nose' else ''}rib {place_key(y)}")
             for y, r in sorted(stands.items())]  # fmt: skip
    why = f"[wings.{wing.name}]: its panels, and the spacing of its ribs between what must stand on one"
    row = Across(False, edge + 9.0, 1, f"{spoken(wing.name)}: buttlines of ribs", why)
    yield from running(marks, row, units)
    if min(stands) < MIDDLE:
        foot = at[1] + reach(shown, ABOVE_NOSE_UP)[0][1] * k - 6.0
        yield Line((at[0], edge + 2.0), (at[0], foot), "mark", dash="chain")


def _along_chord(model: Model, wing: Wing, shown: Sequence[Solid], at: Point, scale: int, units: Units
                 ) -> tuple[Stroke, ...]:  # fmt: skip
    """Leading edge, spars and trailing edge of the innermost station as a running row on the left."""
    root = wing.panels[0].root_buttline
    station = cut(wing, model.sections, root)
    k, nose = 1000 / scale, station.leading_edge[0]
    left = at[0] + max(root, 0.0) * k
    places = {"leading edge": 0.0, **{f"{s.name} spar": s.at * station.chord for s in wing.spars},
              "trailing edge": station.chord}  # fmt: skip
    turn = np.cos(station.angle)
    marks = [Mark(at[1] - (nose + x * turn) * k, x, left - PAST, name) for name, x in places.items()]
    row = Across(True, left - PAST - 12.0, -1, f"{spoken(wing.name)}: along the innermost chord",
                 f"[wings.{wing.name}]: chord of the innermost panel's root, and each spar's share of it")  # fmt: skip
    return running(marks, row, units)


def _heights(wing: Wing, shown: Sequence[Solid], at: Point, scale: int, units: Units) -> Iterator[Stroke]:
    """How much higher the leading edge stands at each panel's end than at the innermost one."""
    edge, _, _ = breaks(wing)
    k = 1000 / scale
    if float(np.ptp(edge[2])) < 1e-6:
        return
    right = reach(shown, BEHIND)[1][0]
    base = at[1] + float(edge[2, 0]) * k
    yield Line((at[0] + float(edge[1, 0]) * k, base), (at[0] + right * k + 4.0, base), "mark", dash="chain")
    x = at[0] + right * k + 10.0
    tip = Mark(at[1] + float(edge[2, -1]) * k, float(edge[2, -1] - edge[2, 0]), at[0] + right * k, "tip")
    row = Across(
        True,
        x,
        1,
        f"{spoken(wing.name)}: heights of the leading edge",
        f"[wings.{wing.name}]: dihedral and reach of its panels",
    )
    yield from chain([Mark(base, 0.0, at[0] + right * k, "root"), tip], row, units)


def _rib_marks(wing: Wing, parts: Sequence[Part], model: Model, at: Point, scale: int) -> Iterator[Label]:
    """A mark for each rib of the right half, nose, middle and tail by themselves where they are."""
    k = 1000 / scale
    by = {number: mark for mark, number in _marks(parts).items()}
    for p in parts:
        for x, y, _ in p.places:
            if p.number in by and y > -1e-6:
                here = at[0] + y * k, at[1] - x * k
                yield Label(by[p.number], here, ringed=True)


def _marks(parts: Sequence[Part]) -> dict[str, str]:
    """Number of each kind of rib by mark, from the root out."""
    ribs = [p for p in parts if p.purpose == "rib"]
    return {str(i): p.number for i, p in enumerate(ribs, 1)}


def rib_table(model: Model, wing: Wing, parts: Sequence[Part]) -> Ruled:
    """Every kind of rib: its mark, part, stock, how many on both sides."""
    by = {p.number: p for p in parts}
    rows = tuple((mark, number, by[number].stock, str(by[number].count)) for mark, number in _marks(parts).items())
    return Ruled(f"Ribs of the {spoken(wing.name)}", ("Mark", "Part", "Stock", "Make"), rows,
                 (True, False, False, True), "done", 14.0)  # fmt: skip


def _names(model: Model, wing: Wing, parts: Sequence[Part], at: Point, scale: int) -> Iterator[Label]:
    """Spars, drag tubes and wires, fittings, hinges and the horn by name, each once."""
    k = 1000 / scale
    for s in wing.spars:
        y = wing.panels[-1].tip_buttline * 0.985
        station = cut(wing, model.sections, y)
        x = station.place(s.at * station.chord, 0.0)[0]
        yield Label(f"{s.name} spar", (at[0] + y * k, at[1] - x * k), clear=2.0)
    for p in parts:
        words = _word(p)
        if words:
            x, y, _ = max(p.places, key=lambda q: q[1])
            yield Label(words, (at[0] + y * k, at[1] - x * k), clear=1.0)


def _word(p: Part) -> str:
    own = p.number.split("-", 2)[-1]
    if own.startswith("DRAG-TUBE"):
        return "drag tube"
    if own.startswith(("DRAG-WIRE", "ANTIDRAG-WIRE")):
        return "drag wire" if own.startswith("DRAG") else "anti-drag wire"
    if own.startswith("FITTING") and own.endswith("-FORE"):
        return "fitting"
    if own.startswith("AILERON-HINGE-PIN"):
        return "hinge"
    return "horn" if own.startswith("AILERON-HORN") and p.hand != "L" else ""
