"""Sheet 1: three views, figures, limits and placards, the index of sheets and how they hang together.

The index says of every sheet what it is built on and what uses it, so that a reader finds the way from any sheet to
the next. Numbers are places in the set and are given by plans/block.py in the same order.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import shapely

from sparwright.base.check import Result
from sparwright.base.quantity import to
from sparwright.family.model import Model
from sparwright.plans.block import Drawing, field_of, runs
from sparwright.plans.clash import line_of
from sparwright.plans.corner import free_corner
from sparwright.plans.drawing import DRAFTING, Box, Stroke, Text, is_line
from sparwright.plans.lettering import box, paragraph, wrapped
from sparwright.plans.paper import paper
from sparwright.plans.placards import placards
from sparwright.plans.ruled import ROW, TITLE, Ruled, ruled, wide
from sparwright.plans.three_view import figures, geometry, views

NUMBERS = 36.0  # mm for numbers of sheets, which take another line past it
COLUMN = 240.0  # mm, of figures, limits and index beside the views
ALL = 600.0  # mm: the height of any table in one stack
VIEWS = 6.0  # mm round the lines of a view: what lies nearer belongs to it
KEY = "general"


def general(
    model: Model, results: Mapping[str, Result], others: Sequence[Drawing], paper_name: str = "24x36"
) -> Drawing:
    """The first drawing of a set. others: the rest, in the order of their numbers from 2."""
    field = field_of(paper(paper_name))
    left = field.right - COLUMN
    seen = views(model, Box(field.left, field.bottom, left - 14.0, field.top))
    words, y = _figures(model, results, left, field.top)
    tables, foot = _tables(model, results, others, Box(left, field.bottom, field.right, y - 4.0), seen.strokes)
    drawn = Drawing(KEY, "General: three views, figures, index", (*seen.strokes, *words, *tables), f"1 : {seen.scale}",
                    (), (), tuple(d.key for d in others), NOTES, paper_name)  # fmt: skip
    assert foot >= field.bottom - 1e-6
    return drawn


NOTES = (
    "Start here. Every sheet says at its block which sheets it is built on and which use it.",
    "Figures of flight are calculated, at the greatest mass, at sea level, as a band; none is measured.",
    "Placards as they must stand are in the list of placards of this set; the main limits are on this sheet.",
)


def _figures(model: Model, results: Mapping[str, Result], left: float, top: float) -> tuple[list[Stroke], float]:
    """(what it is and how it flies in words, the y below)."""
    d, y = DRAFTING, top
    found: list[Stroke] = []
    for lines in ((model.title, *geometry(model)), tuple(figures(results)), tuple(_limits(model))):
        for i, words in enumerate(lines):
            texts, y = paragraph(words, (left, y), d.middle if i == 0 else d.small, COLUMN, d.pitch, bold=i == 0)
            found += texts
            y -= 1.2
        y -= 4.0
    return found, y


def _limits(model: Model) -> Iterator[str]:
    m = model.limits
    yield "Limits"
    yield f"Greatest take-off mass {to(m.max_mass, 'lb'):,.0f} lb = {m.max_mass:,.0f} kg"
    yield f"Load factors +{m.n_positive:g} and {m.n_negative:g}".replace("-", "−")
    if m.design_dive:
        yield f"Design dive speed {to(m.design_dive, 'kt'):.0f} kt = {to(m.design_dive, 'km/h'):.0f} km/h, equivalent"


def _tables(model: Model, results: Mapping[str, Result], others: Sequence[Drawing], room: Box,
            drawn: Sequence[Stroke]) -> tuple[list[Stroke], float]:  # fmt: skip
    """(index of sheets in the column, placards under it or, where there is no room, beside the views; the y below)."""
    at = {KEY: 1} | {d.key: i for i, d in enumerate(others, 2)}
    rows = [("1", "General: three views, figures, index", "", "")]
    rows += [(str(at[d.key]), d.title, _sheets(d.comes_from, at), _sheets(d.goes_to, at)) for d in others]
    index = Ruled("Index of sheets", ("Sheet", "Title", "From", "To"), tuple(rows), (True, False, False, False))
    set_down = ruled(index, room.left, room.top, room.height)
    strokes, y = list(set_down.strokes), set_down.box.bottom
    signs = placards(model, results)
    if signs:
        shown = Ruled("Placards", ("Where", "Number"), tuple(_counted(signs)), (False, True))
        if wide(shown, max(y - 8.0 - room.bottom, 30.0)) <= room.width and y - 8.0 - room.bottom > 30.0:
            below = ruled(shown, room.left, y - 8.0, y - 8.0 - room.bottom)
            return [*strokes, *below.strokes], below.box.bottom
        strokes += _beside(shown, drawn, room.left - 8.0)
    return strokes, y


def _beside(table: Ruled, drawn: Sequence[Stroke], right: float) -> Sequence[Stroke]:
    """A table in the highest free place beside the views and left of `right`, mm; nothing where there is none."""
    size = wide(table, ALL), TITLE + (len(table.rows) + 1) * ROW
    lines = [shapely.Polygon(box(s)) if isinstance(s, Text) else line_of(s)
             for s in drawn if isinstance(s, Text) or is_line(s)]  # fmt: skip
    whole = shapely.union_all(shapely.buffer(lines, VIEWS))
    taken = [shapely.envelope(view) for view in shapely.get_parts(whole)]
    at = free_corner(size, [*taken, shapely.box(right, whole.bounds[1], right + 1.0, whole.bounds[3])], 0.0)
    return ruled(table, *at, ALL).strokes if at else ()


def _counted(signs: Sequence[object]) -> Iterator[tuple[str, str]]:
    """How many placards and markings belong in each place."""
    count: dict[str, int] = {}
    for s in signs:
        where = str(getattr(s, "where", ""))
        count[where] = count.get(where, 0) + 1
    yield from ((where, str(n)) for where, n in count.items())


def _sheets(keys: Sequence[str], at: Mapping[str, int]) -> str:
    return "\n".join(wrapped(runs(at[k] for k in keys if k in at), DRAFTING.small, NUMBERS))
