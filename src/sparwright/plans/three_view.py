"""The three-view: from above, from ahead and from the left, third angle, with the figures of the model."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from sparwright.base.check import Result
from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, millimetres, to
from sparwright.base.safety import CAUTION
from sparwright.family.model import Model
from sparwright.plans.drawing import DRAFTING, Box, Line, Point, Polyline, Sheet, Stroke, Text, rectangle
from sparwright.plans.lettering import paragraph
from sparwright.plans.outside import extent, outside
from sparwright.plans.paper import BORDER, TitleBlock, paper
from sparwright.plans.views import FRONT, SIDE, TOP, Thing, View, seen

SCALES = (8, 10, 12, 15, 16, 20, 24, 30, 32, 40, 48)
MARGIN, BETWEEN, BLOCK = 18.0, 34.0, 74.0  # mm: round the drawing, between views, height of the title block
OVER = 24.0  # mm for dimensions over and under the views
FIGURES = (
    ("mass.empty", "Empty mass", "lb", "kg"),
    ("flight.stall.max_mass", "Stall, power off, calibrated", "kt", "km/h"),
    ("flight.speed.max", "Fastest level flight", "kt", "km/h"),
    ("flight.climb.rate", "Best rate of climb", "ft/min", "m/s"),
)


@dataclass(frozen=True)
class Views:
    """The three views where they stand on a sheet."""

    strokes: tuple[Stroke, ...]
    scale: int


def views(model: Model, room: Box) -> Views:
    """Three views in a room of a sheet at the largest usual scale that fits. DesignProblem when none does."""
    things = outside(model)
    low, high = extent(things)
    length, span, height = (high - low) * 1000
    wide, tall = room.width - BETWEEN, room.height - BETWEEN - OVER
    scale = next((s for s in SCALES if (span + length) / s <= wide and (length + height) / s <= tall), None)
    if scale is None:
        raise DesignProblem(f"{model.name} is too big for a three-view on its sheet at any usual scale")
    at_front = (room.left + span / scale / 2, room.bottom + OVER / 2 - low[2] * 1000 / scale)
    at_top = (at_front[0], room.bottom + OVER / 2 + (height - low[0] * 1000) / scale + BETWEEN)
    at_side = (room.left + (span - low[0] * 1000) / scale + BETWEEN, at_front[1])
    strokes: list[Stroke] = []
    for view, at in ((TOP, at_top), (FRONT, at_front), (SIDE, at_side)):
        strokes += _drawn(things, view, at, scale)
    strokes += _sizes(low, high, at_top, at_side, scale)
    strokes += _captions(at_top, at_front, at_side, low, high, scale)
    return Views(tuple(strokes), scale)


def three_view(model: Model, results: Mapping[str, Result], title: TitleBlock, paper_name: str = "24x36") -> Sheet:
    """One sheet with three views and the figures of the model. DesignProblem where it is too big for any scale."""
    sheet = paper(paper_name)
    edge = BORDER + MARGIN
    seen_ = views(model, Box(edge, edge + BLOCK - OVER / 2, sheet.width - edge, sheet.height - edge))
    border = rectangle(BORDER, BORDER, sheet.width - BORDER, sheet.height - BORDER, "frame", "thick")
    strokes = (border, *seen_.strokes, *_block(model, results, title, seen_.scale, sheet.width))
    return Sheet(1, 1, f"Three-view, {title.family} {title.model}", paper_name, sheet.width, sheet.height, strokes)


def _drawn(things: tuple[Thing, ...], view: View, at: Point, scale: float) -> Iterator[Stroke]:
    for stretch in seen(things, view):
        points = tuple((at[0] + 1000 * x / scale, at[1] + 1000 * y / scale) for x, y in stretch.points.T)
        yield Polyline(points, "mark" if stretch.dashed else "cut", dash="dash" if stretch.dashed else "solid")


def _sizes(low: np.ndarray, high: np.ndarray, at_top: Point, at_side: Point, scale: float) -> Iterator[Stroke]:
    """Span above the plan, length under the side view, height beside it."""
    d, k = DRAFTING, 1000 / scale
    y = at_top[1] + high[0] * k + 9.0
    yield from _dimension((at_top[0] - high[1] * k, y), (at_top[0] - low[1] * k, y), high[1] - low[1])
    y = at_side[1] + low[2] * k - 9.0
    yield from _dimension((at_side[0] + low[0] * k, y), (at_side[0] + high[0] * k, y), high[0] - low[0])
    x = at_side[0] + high[0] * k + 9.0
    a, b = (x, at_side[1] + low[2] * k), (x, at_side[1] + high[2] * k)
    yield Line(a, b, "measure")
    yield from (_tick(p) for p in (a, b))
    yield Text(
        _both(high[2] - low[2]), (x + 2.0 + d.small, (a[1] + b[1]) / 2), d.small, 90.0, "middle", layer="measure"
    )


def _both(metres: float) -> str:
    return f"{inches(float(metres))} = {millimetres(float(metres))}"


def _tick(at: Point) -> Line:
    t = DRAFTING.tick
    return Line((at[0] - t, at[1] - t), (at[0] + t, at[1] + t), "measure")


def _dimension(a: Point, b: Point, metres: float) -> Iterator[Stroke]:
    yield Line(a, b, "measure")
    yield from (_tick(p) for p in (a, b))
    yield Text(_both(metres), ((a[0] + b[0]) / 2, a[1] + 2.0), DRAFTING.small, align="middle", layer="measure")


def _captions(
    at_top: Point, at_front: Point, at_side: Point, low: np.ndarray, high: np.ndarray, scale: float
) -> Iterator[Stroke]:
    d, k = DRAFTING, 1000 / scale
    yield Text(TOP.name, (at_top[0] - high[1] * k, at_top[1] + low[0] * k), d.small)
    yield Text(FRONT.name, (at_front[0] - high[1] * k, at_front[1] + low[2] * k - 7.0), d.small)
    yield Text(SIDE.name, (at_side[0] + low[0] * k, at_side[1] + high[2] * k + 4.0), d.small)


def _block(
    model: Model, results: Mapping[str, Result], title: TitleBlock, scale: int, width: float
) -> Iterator[Stroke]:
    left, right, low, high = BORDER + MARGIN / 2, width - BORDER - MARGIN / 2, BORDER + 8.0, BORDER + BLOCK - 12.0
    yield rectangle(left, low, right, high, "frame")
    edges = [left + (right - left) * f for f in (0.0, 0.36, 0.7, 1.0)]
    for x in edges[1:-1]:
        yield Line((x, low), (x, high), "frame")
    yield from _column(edges[0], edges[1], high, (model.title, *geometry(model)))
    yield from _column(edges[1], edges[2], high, tuple(figures(results)))
    yield from _column(
        edges[2],
        edges[3],
        high,
        (
            f"{title.family} {title.model}: three-view",
            f"Scale {Fraction(1, scale)}, third angle",
            f"{title.program}, design file sha256 {title.file_sha256[:12]}",
            CAUTION,
        ),
    )


def _column(left: float, right: float, top: float, lines: tuple[str, ...]) -> Iterator[Stroke]:
    d, y = DRAFTING, top - 3.0
    for i, words in enumerate(lines):
        size = d.middle if i == 0 else d.small
        texts, y = paragraph(words, (left + 4.0, y), size, right - left - 8.0, d.pitch, bold=i == 0, layer="frame")
        yield from texts
        y -= 1.6


def geometry(model: Model) -> Iterator[str]:
    """Wings, engine and greatest mass in words."""
    for wing in model.wings:
        span = 2 * wing.panels[-1].tip_buttline
        chords = sorted({p.root_chord for p in wing.panels} | {p.tip_chord for p in wing.panels})
        yield f"{wing.name.capitalize()}: span {inches(span)}, chord {' to '.join(inches(c) for c in chords)}"
    propeller = f"propeller {inches(model.propeller.diameter)} × {inches(model.propeller.pitch)}"
    yield f"{model.engine.name.capitalize()}; {propeller}"
    yield f"Greatest take-off mass {to(model.limits.max_mass, 'lb'):,.0f} lb = {model.limits.max_mass:,.0f} kg"


def figures(results: Mapping[str, Result]) -> Iterator[str]:
    """How it flies in words: a heading, then each figure as a band."""
    yield "Calculated, at greatest mass, sea level"
    for id, words, unit, other in FIGURES:
        r = results.get(id)
        if r is None or not r.band.known:
            yield f"{words}: unknown"
        else:
            main = f"{to(r.low, unit):,.0f} to {to(r.high, unit):,.0f} {unit}"
            yield f"{words}: {main} ({to(r.low, other):,.1f} to {to(r.high, other):,.1f} {other})"
