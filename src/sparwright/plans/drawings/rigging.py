"""The rigging sheet of the set: every setting with its tolerance and room for what it came to, and where it is set.

The settings are those of plans/rigging.py, in the order in which they are done, numbered; both views carry the numbers.
An angle is said in degrees and as a rise over a length, for a builder with a straight edge and a rule. How a thing is
measured is said once, under a letter. A tolerance that the family file does not give is told as not on file.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, millimetres, to
from sparwright.family.model import Model, TailSurface, Wing
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.chains import Units, said
from sparwright.plans.drawing import DRAFTING, Box, Point, Stroke, Text
from sparwright.plans.lettering import wrapped
from sparwright.plans.outside import extent, outside
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.rigging import Setting, rigging_sheet
from sparwright.plans.ruled import Ruled, ruled, wide
from sparwright.plans.three_view import drawn_view
from sparwright.plans.views import FRONT, SIDE, View
from sparwright.shape.frame import end_place
from sparwright.shape.lifting import breaks

KEY = "rigging"
SCALES = (15, 16, 20, 24, 30, 32, 40, 48, 60)
ROUND = 20.0  # mm round a view for its numbers
WHAT, WHERE = 62.0, 72.0  # mm for words, which take another line past it
HOW = (120.0, 80.0, 60.0)  # mm for words of how it is measured, the first that fits
NOT_ON_FILE = "not on file"
FAR = 10**9  # inches without feet
NOTES = (
    "In the order of the numbers: the frame is levelled first and stays level; the top wing before the others.",
    "Write what it came to on the right and on the left, with the date and your initials.",
    "A rise is measured over the length named beside it: nose up, up, or outboard up is positive.",
    "A setting that is out of its tolerance is set again before the next is begun; travels are set last, on the stops.",
    "Tensions with the wings unloaded and at the temperature of the shop; both of a pair alike. Lock, then read once "
    "more.",
)


def rigging_drawing(model: Model, units: Units, paper_name: str = "24x36") -> Drawing:
    """The sheet. DesignProblem where table and views fit at no usual scale."""
    field = field_of(paper(paper_name))
    settings = rigging_sheet(model)
    letters = _letters(settings)
    table = _table(settings, letters, units)
    for scale, room_for_how in ((s, h) for s in SCALES for h in HOW):
        low, tables = _views_tall(model, scale), (table, _how(letters, room_for_how))
        tall = field.height - low - 12.0
        if tall > 60.0 and _views_wide(model, scale) <= field.width and _across(tables, tall) <= field.width:
            break
    else:
        raise DesignProblem(f"{model.name}: the rigging sheet's table and views are too big for its paper")
    strokes: list[Stroke] = []
    x = field.left
    for t in tables:
        done = ruled(t, x, field.top, tall)
        strokes += done.strokes
        x = done.box.right + 12.0
    room = Box(field.left, field.bottom, field.right, field.bottom + low)
    comes = ("general", "fuselage", *(f"wing.{w.name}" for w in model.wings))
    return Drawing(KEY, "Rigging sheet", (*strokes, *_views(model, settings, room, scale)), f"1 : {scale}", (),
                   comes, (), NOTES, paper_name)  # fmt: skip


def _across(tables: Sequence[Ruled], tall: float) -> float:
    return sum(wide(t, tall) + 12.0 for t in tables) - 12.0


def _letters(settings: Sequence[Setting]) -> dict[str, str]:
    """A letter for each way of measuring."""
    return {how: chr(ord("a") + i) for i, how in enumerate(dict.fromkeys(s.how for s in settings))}


def _how(letters: dict[str, str], room: float) -> Ruled:
    rows = tuple((letter, "\n".join(wrapped(how, DRAFTING.small, room))) for how, letter in letters.items())
    return Ruled("How it is measured", ("", "With what, and how"), rows)


def _table(settings: Sequence[Setting], letters: dict[str, str], units: Units) -> Ruled:
    rows = tuple((str(n), "\n".join(wrapped(s.what, DRAFTING.small, WHAT)),
                  "\n".join(wrapped(s.where, DRAFTING.small, WHERE)), letters[s.how],
                  *set_to(s, units)) for n, s in enumerate(settings, 1))  # fmt: skip
    heads = ("No.", "What is set", "Where", "How", "Set to", "Give or take", "As a rise over a length")
    return Ruled("Settings", heads, rows, (True, False, False, False, True, True, True), "as built: right, left", 46.0)


def set_to(s: Setting, units: Units) -> tuple[str, str, str]:
    """(nominal, tolerance, what an angle makes over its length) in words; the last is empty for a length or a force."""
    rise = ""
    if math.isfinite(s.over):
        more = f" ± {said(s.rise_tolerance, units, FAR)}" if math.isfinite(s.rise_tolerance) else ""
        rise = f"{said(s.rise, units, FAR)}{more} over {said(s.over, units, FAR)}"
    if not math.isfinite(s.tolerance):
        return _value(s.nominal, s.unit, units), "compare" if not s.key and s.unit == "m" else NOT_ON_FILE, rise
    return _value(s.nominal, s.unit, units), f"± {_value(s.tolerance, s.unit, units)}", rise


def _value(v: float, unit: str, units: Units) -> str:
    if unit == "rad":
        return f"{to(v, 'deg') + 0.0:.2f}°".replace("-", "−")
    if unit == "N":
        return f"{to(v, 'lbf'):.0f} lbf" if units == "inch" else f"{v:.0f} N"
    return inches(v) if units == "inch" else millimetres(v)


def _views_tall(model: Model, scale: int) -> float:
    low, high = extent(outside(model))
    return float((high - low)[2] * 1000 / scale + 2 * ROUND + 8.0)


def _views_wide(model: Model, scale: int) -> float:
    low, high = extent(outside(model))
    return float((high - low)[:2].sum() * 1000 / scale + 4 * ROUND + 20.0)


def _views(model: Model, settings: Sequence[Setting], room: Box, scale: int) -> tuple[Stroke, ...]:
    """From ahead and from the left, each with the numbers of the settings that it shows best."""
    things = outside(model)
    low, high = extent(things)
    k = 1000 / scale
    base = room.bottom + ROUND - low[2] * k
    at: dict[str, Point] = {
        FRONT.name: (float(room.left + ROUND + high[1] * k), float(base)),
        SIDE.name: (float(room.left + 3 * ROUND + (high - low)[1] * k - low[0] * k), float(base)),
    }
    drawn: list[Stroke] = []
    for view in (FRONT, SIDE):
        drawn += drawn_view(things, view, at[view.name], scale)
    ends = ((at[FRONT.name][0] - high[1] * k, FRONT), (at[SIDE.name][0] + low[0] * k, SIDE))
    drawn += [Text(view.name.capitalize(), (float(x), room.top - 4.0), DRAFTING.middle, bold=True) for x, view in ends]
    return (*drawn, *placed(list(_numbers(model, settings, at, scale)), drawn, room))


def _numbers(model: Model, settings: Sequence[Setting], at: dict[str, Point], scale: int) -> Iterator[Label]:
    """The numbers of the settings at each place, together where several belong to one."""
    found: dict[tuple[float, float], list[int]] = {}
    for n, s in enumerate(settings, 1):
        spot = _spot(model, s)
        if spot is not None:
            view, place = spot
            x, y = view.across(np.array(place, float)[:, None])[:, 0] * 1000 / scale
            o = at[view.name]
            found.setdefault((round(o[0] + float(x), 2), round(o[1] + float(y), 2)), []).append(n)
    for here, numbers in found.items():
        yield Label(_run(numbers), here, bold=True)


def _run(numbers: Sequence[int]) -> str:
    """Numbers with each stretch of them as first to last.

    >>> _run([3, 4, 5, 9])
    '3 to 5, 9'
    """
    groups: list[list[int]] = []
    for n in numbers:
        if groups and n == groups[-1][-1] + 1:
            groups[-1].append(n)
        else:
            groups.append([n])
    return ", ".join(f"{g[0]} to {g[-1]}" if len(g) > 2 else ", ".join(map(str, g)) for g in groups)


def _spot(model: Model, s: Setting) -> tuple[View, np.ndarray] | None:
    """(the view that shows it, where) of a setting; None of one that has no place of its own."""
    kind, name, *rest = s.id.split(".")
    if kind == "level":
        points = model.rigging.points if model.rigging else ()
        return SIDE, np.array(next(p.place for p in points if p.name == ".".join([name, *rest])))
    wings = {w.name: w for w in model.wings}
    wires = {w.name: w for w in model.wires}
    if name in wings and kind != "decalage":
        return _on_wing(wings[name], kind, rest)
    if name in wires:
        ends = [np.array(end_place(model, e), float) for e in wires[name].ends]
        view = SIDE if any(e.tail for e in wires[name].ends) else FRONT
        return view, ends[0] + (0.6 if kind == "length" else 0.45) * (ends[1] - ends[0])
    if kind == "travel" and name == "aileron":
        return FRONT, _aileron(wings[rest[0]])
    if kind == "travel":
        return SIDE, _trailing(model, model.tailplane if name == "elevator" else model.fin)
    return (SIDE, np.array(model.tailplane.leading_edge)) if s.id == "incidence.tailplane" else None


def _on_wing(wing: Wing, kind: str, rest: Sequence[str]) -> tuple[View, np.ndarray]:
    edge = breaks(wing)[0]
    i = next((k for k, p in enumerate(wing.panels) if rest and p.name == rest[0]), len(wing.panels) - 1)
    if kind in ("incidence", "sides"):
        return SIDE, edge[:, 0]
    if kind == "dihedral":
        return FRONT, (edge[:, i] + edge[:, i + 1]) / 2
    if kind in ("stagger", "gap"):
        return FRONT, edge[:, 0] - np.array([0.0, 0.0, 0.3])
    return FRONT, edge[:, -1] if kind == "length" else edge[:, i + 1]


def _aileron(wing: Wing) -> np.ndarray:
    assert wing.aileron is not None
    edge = breaks(wing)[0]
    y = (wing.aileron.inboard + wing.aileron.outboard) / 2
    return np.array([np.interp(y, edge[1], edge[k]) for k in range(3)])


def _trailing(model: Model, tail: TailSurface) -> np.ndarray:
    x, y, z = tail.leading_edge
    up = 0.5 * tail.span if tail is model.fin else 0.0
    return np.array([x + 0.9 * tail.root_chord, y, z + up])
