"""The spars of a wing: each seen from behind along its length, its section, what lies in it, and the holes through it.

Distances run along the spar's own buttlines from the middle of the fuselage. A hole is said by the buttline of its
fitting's middle and by how far outboard and up of the spar's middle it lies, along and square to the spar; plates are
the drill jigs, so both walls are drilled through them.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.data.loader import material
from sparwright.family.model import Model, Spar, Wing, spoken
from sparwright.parts.part import Part, Plate
from sparwright.plans.block import Drawing, field_of
from sparwright.plans.bodies import BEHIND, bodies, on_right, reach, seen
from sparwright.plans.chains import Across, Mark, Units, running, said
from sparwright.plans.drawing import DRAFTING, Box, Dimension, Line, Point, Polyline, Stroke, Text, rectangle
from sparwright.plans.paper import paper
from sparwright.plans.placed import Label, placed
from sparwright.plans.ruled import Ruled, ruled
from sparwright.shape.solid import Solid
from sparwright.shape.spar import panel_of, spar_axes

SCALES = (4, 5, 6, 8, 10, 12)
FULL = 1  # scale of the sections
LEFT, ROWS, GAP = 20.0, 34.0, 26.0  # mm: beside the view, for buttlines over it, between spars
BESIDE = (18.0, 52.0)  # mm left and right of a section for its figures
TITLE = 12.0  # mm over the sections for their name
NOTES = (
    "Right spar as seen from behind; the left is its mirror. The nearer web is left off.",
    "Buttlines are from the middle of the fuselage, level. Holes are along and square to the spar from the middle of "
    "the fitting, at half of the spar's depth.",
    "Drill through both plates of the fitting, bolted together.",
)
IN_WOOD = (
    "Drill only after the blocks are glued in.",
    "Seal every hole in wood before its bolt goes in.",
)


def spar_drawing(model: Model, wing: Wing, parts: Sequence[Part], units: Units, paper_name: str = "24x36") -> Drawing:
    """The drawing of a wing's spars. DesignProblem where it does not fit at any usual scale."""
    field = field_of(paper(paper_name))
    views = [(s, _parts(model, wing, s, parts)) for s in wing.spars]
    holes = hole_table(model, wing, parts, units)
    scale = _scale([bodies(p, on_right) for _, p in views], field, _section_height(model, wing))
    drawn: list[Stroke] = []
    labels: list[Label] = []
    y = field.top
    for spar, mine in views:
        shown = bodies(mine, on_right)
        at, y = _row(shown, field, y, scale)
        drawn += _elevation(wing, spar, shown, mine, at, scale, units, field)
        labels += _names(mine, at, scale)
    room, top = Box(field.left, y, field.right, field.top), y - 6.0
    set_down = ruled(holes, field.left, top, top - field.bottom) if holes.rows else None
    x = set_down.box.right + 30.0 if set_down else field.left
    for spar, _ in views:
        drawn += _section(model, wing, spar, (x, top), units)
        x += _section_width(spar)
    table = set_down.strokes if set_down else ()
    return Drawing(f"spars.{wing.name}", f"{spoken(wing.name).capitalize()}: spars",
                   (*drawn, *placed(labels, drawn, room), *table), f"1 : {scale}, sections 1 : {FULL}",
                   tuple(dict.fromkeys(p.number for _, mine in views for p in mine)), (f"wing.{wing.name}",),
                   ("fittings", f"jig.{wing.name}"), (*NOTES, *(IN_WOOD if _wood(wing) else ())),
                   paper_name)  # fmt: skip


def _wood(wing: Wing) -> bool:
    return any(
        material(key).kind in ("wood", "plywood") for s in wing.spars for key in (s.cap.material, s.web.material)
    )


def _parts(model: Model, wing: Wing, spar: Spar, parts: Sequence[Part]) -> list[Part]:
    """Caps, blocks, splices, fittings of a spar, without the web nearer to the eye and what hangs on it."""
    name, own = f"{model.name}-{wing.name}-", spar.name
    heads = (f"{name}{own.upper()}-", f"{name}FITTING-{own}-", f"{name}DRAG-FOOT-{own.upper()}-", f"{name}ROOT-{own}")
    return [p for p in parts if p.number.startswith(heads) and "-WEB" not in p.number and "-LUG" not in p.number
            and not p.number.endswith("-AFT")]  # fmt: skip


def _section_width(spar: Spar) -> float:
    return (spar.cap.width + 2 * spar.web.thickness) * 1000 / FULL + sum(BESIDE)


def _section_height(model: Model, wing: Wing) -> float:
    root = wing.panels[0].root_buttline
    deep = max(spar_axes(model, wing, panel_of(wing, root), s, root).depth for s in wing.spars)
    return deep * 1000 / FULL + TITLE + 10.0


def _scale(shown: Sequence[Sequence[Solid]], field: Box, sections: float) -> int:
    for s in SCALES:
        k = 1000 / s
        size = [(b - np.maximum(a, (0.0, -np.inf))) * k for a, b in (reach(x, BEHIND) for x in shown)]
        tall = sum(v[1] + ROWS + GAP for v in size)
        if max(v[0] for v in size) + LEFT + 10 <= field.width and tall + sections < field.height:
            return s
    raise DesignProblem("the spars are too long for their sheet at any usual scale")


def _row(shown: Sequence[Solid], field: Box, top: float, scale: int) -> tuple[Point, float]:
    """(where the datum falls, the next row's top)."""
    low, high = reach(shown, BEHIND)
    k = 1000 / scale
    y = top - ROWS - high[1] * k
    return (field.left + LEFT - max(float(low[0]), 0.0) * k, y), y + float(low[1]) * k - GAP


def _elevation(wing: Wing, spar: Spar, shown: Sequence[Solid], parts: Sequence[Part], at: Point, scale: int,
               units: Units, field: Box) -> Iterator[Stroke]:  # fmt: skip
    k, root = 1000 / scale, max(wing.panels[0].root_buttline, 0.0)
    window = Box(at[0] + root * k - 6.0, 0.0, field.right, field.top)
    yield from seen(shown, BEHIND, at, scale, window)
    (_, low), (_, high) = reach(shown, BEHIND)
    edge = at[1] + high * k
    marks = [Mark(at[0] + y * k, y, edge, name) for y, name in _stands(wing, parts)]
    why = f"[wings.{wing.name}]: ends of its panels, drag bays, and where its struts and wires meet it"
    row = Across(False, edge + 7.0, 1, f"{spoken(wing.name)}: buttlines of the {spar.name} spar", why)
    yield from running(marks, row, units)
    yield Text(f"{spar.name.capitalize()} spar", (at[0] + root * k, at[1] + low * k - 10.0), DRAFTING.middle, bold=True)
    if root < 1e-6:
        yield Line((at[0], edge + 4.0), (at[0], at[1] + low * k - 3.0), "mark", dash="chain")


def _stands(wing: Wing, parts: Sequence[Part]) -> list[tuple[float, str]]:
    """(buttline m, what is there) from the inside out: drag bays, ends of panels, fittings; each place once."""
    found = [(y, f"drag bay {i}") for i, y in enumerate(wing.drag_bracing.bays if wing.drag_bracing else (), 1)]
    for p in wing.panels:
        found += [(p.tip_buttline, f"{p.name}'s outer end"), (p.root_buttline, f"{p.name}'s inner end")]
    for part in parts:
        if isinstance(part.shape, Plate) and part.number.endswith("-FORE"):
            own = part.number.split("-", 2)[-1].removesuffix("-FORE")
            found += [(float(y), own) for _, y, _ in part.places if y > 0]
    return sorted({round(y, 4): (y, name) for y, name in found}.values())


def _names(parts: Sequence[Part], at: Point, scale: int) -> Iterator[Label]:
    k = 1000 / scale
    for p in parts:
        own = p.number.split("-", 2)[-1]
        words = "block" if "BLOCK" in own and p.hand != "L" else "splice" if "SPLICE" in own and p.hand != "L" else ""
        if words:
            _, y, z = max(p.places, key=lambda q: q[1])
            yield Label(words, (at[0] + y * k, at[1] + z * k), clear=1.0)


def _section(model: Model, wing: Wing, spar: Spar, at: Point, units: Units) -> Iterator[Stroke]:
    """The section at the innermost station, full size, with its sizes; at: the upper left corner of its room."""
    root = wing.panels[0].root_buttline
    axes = spar_axes(model, wing, panel_of(wing, root), spar, root)
    k = 1000 / FULL
    b, d, t, deep = spar.cap.width * k, spar.cap.depth * k, spar.web.thickness * k, axes.depth * k
    x, y = at[0] + BESIDE[0] + t, at[1] - TITLE - deep
    yield Text(f"{spar.name.capitalize()} spar, section", (at[0], at[1] - DRAFTING.middle), DRAFTING.middle, bold=True)
    for low in (y, y + deep - d):
        yield rectangle(x, low, x + b, low + d, "cut", "thick")
        yield Polyline(((x, low), (x + b, low + d)), "mark")
    for i in range(spar.webs):
        left = x - t if i == 0 else x + b
        yield rectangle(left, y, left + t, y + deep, "cut", "thick")
    right = x + b + (t if spar.webs == 2 else 0.0)
    d_ = DRAFTING
    for words, up in ((f"cap {said(spar.cap.width, units)} × {said(spar.cap.depth, units)}", deep - d / 2),
                      (material(spar.cap.material).title.split(",")[0], deep - d / 2 - 2.2 * d_.small),
                      (f"web {_thick(spar, units)}", deep / 2),
                      (material(spar.web.material).title.split(",")[0], deep / 2 - 2.2 * d_.small)):  # fmt: skip
        yield Text(words, (right + 3.0, y + up - d_.small / 2), d_.small)
    yield from _depth(x - t - 8.0, y, axes.depth, f"depth of the {spar.name} spar", spoken(wing.name), units)


def _thick(spar: Spar, units: Units) -> str:
    t = spar.web.thickness
    return (
        f"{t * 1000:.3g} mm"
        if material(spar.web.material).kind == "plywood" or units != "inch"
        else f"{t / 0.0254:.3f}″"
    )


def _depth(x: float, y: float, depth: float, name: str, where: str, units: Units) -> Iterator[Stroke]:
    """The depth of a section drawn full size, upright at x from y up."""
    d, deep, words = DRAFTING, depth * 1000 / FULL, said(depth, units)
    ends = (y, y + deep)
    shown: tuple[Line | Text, ...] = (
        Line((x, y), (x, y + deep), "measure"),
        *(Line((x - d.tick, end - d.tick), (x + d.tick, end + d.tick), "measure", "thick") for end in ends),
        *(Line((x - 1.8, end), (x + 6.0, end), "measure") for end in ends),
        Text(words, (x - 2.0, y + deep / 2), d.small, 90.0, "middle", layer="measure"),
    )
    yield from shown
    ends_at, why = ((x, y), (x, y + deep)), "The section at the innermost station, less what lies on the spar."
    yield Dimension("along", *ends_at, (x, y + deep / 2), words, shown, depth, 90.0, name, f"{where}: section", why)


def hole_table(model: Model, wing: Wing, parts: Sequence[Part], units: Units) -> Ruled:
    """The bolt holes of every fitting through a spar of the right side: where, in what pattern, which drill."""
    rows = []
    for p in parts:
        if not (isinstance(p.shape, Plate) and p.number.startswith(f"{model.name}-{wing.name}-") and _through(p)):
            continue
        y, at = max(q[1] for q in p.places), {m.points[0]: m.label for m in p.shape.marks if m.label.startswith("hole")}
        for words, drill in _patterns(at, units):
            rows.append((p.number.split("-", 2)[-1].removesuffix("-FORE"), said(y, units, 10**9), words, drill))
    heads = ("Fitting", "At BL", "Holes outboard × up of its middle", "Drill")
    return Ruled("Holes through the spars", heads, tuple(rows), (False, True, False, True), "done", 14.0)


def _patterns(at: Mapping[tuple[float, float], str], units: Units) -> Iterator[tuple[str, str]]:
    """A square of four as one row, every other hole as its own; with the drill."""
    sizes = {(round(abs(x), 5), round(abs(y), 5)) for x, y in at}
    if len(at) == 4 and len(sizes) == 1 and len(set(at.values())) == 1:
        ((x, y),) = sizes
        yield f"4: ± {said(x, units)} × ± {said(y, units)}", next(iter(at.values())).removeprefix("hole ")
        return
    for (x, y), label in at.items():
        yield f"{said(x, units)} × {said(y, units)}", label.removeprefix("hole ")


def _through(p: Part) -> bool:
    own = p.number.split("-", 2)[-1]
    return (own.startswith("FITTING") and own.endswith("-FORE")) or own.startswith("DRAG-FOOT")
