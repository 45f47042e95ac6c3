"""The three-view: from above, from ahead and from the left, third angle, with the figures of the model."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Result
from sparwright.base.problem import DesignProblem
from sparwright.base.quantity import inches, millimetres, to
from sparwright.family.model import Model
from sparwright.plans.drawing import DRAFTING, Box, Dimension, Line, Point, Polyline, Stroke, Text
from sparwright.plans.outside import extent, outside
from sparwright.plans.views import FRONT, SIDE, TOP, Thing, View, seen

SCALES = (8, 10, 12, 15, 16, 20, 24, 30, 32, 40, 48)
BETWEEN = 34.0  # mm between views
OVERALL = "The outside of every part, from end to end."
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
        strokes += drawn_view(things, view, at, scale)
    strokes += _sizes(low, high, at_top, at_side, scale)
    strokes += _captions(at_top, at_front, at_side, low, high, scale)
    return Views(tuple(strokes), scale)


def drawn_view(things: tuple[Thing, ...], view: View, at: Point, scale: float) -> Iterator[Stroke]:
    """The lines of things that are seen in a view; at: where the datum falls on the paper, mm."""
    for stretch in seen(things, view):
        points = tuple((at[0] + 1000 * x / scale, at[1] + 1000 * y / scale) for x, y in stretch.points.T)
        yield Polyline(points, "mark" if stretch.dashed else "cut", dash="dash" if stretch.dashed else "solid")


def _sizes(low: np.ndarray, high: np.ndarray, at_top: Point, at_side: Point, scale: float) -> Iterator[Stroke]:
    """Span above the plan, length under the side view, height beside it."""
    k = 1000 / scale
    y = at_top[1] + high[0] * k + 9.0
    yield from _dimension((at_top[0] - high[1] * k, y), (at_top[0] - low[1] * k, y), high[1] - low[1], "span")
    y = at_side[1] + low[2] * k - 9.0
    yield from _dimension((at_side[0] + low[0] * k, y), (at_side[0] + high[0] * k, y), high[0] - low[0], "length")
    x = at_side[0] + high[0] * k + 9.0
    a, b = (x, at_side[1] + low[2] * k), (x, at_side[1] + high[2] * k)
    yield from _dimension(a, b, high[2] - low[2], "height")


def _both(metres: float) -> str:
    return f"{inches(float(metres))} = {millimetres(float(metres))}"


def _tick(at: Point) -> Line:
    t = DRAFTING.tick
    return Line((at[0] - t, at[1] - t), (at[0] + t, at[1] + t), "measure")


def _dimension(a: Point, b: Point, metres: float, name: str) -> Iterator[Stroke]:
    """A line from a to b, level or upright, with its figure over it or on its right."""
    upright, middle = a[0] == b[0], ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
    turn = 90.0 if upright else 0.0
    at = (middle[0] + 2.0 + DRAFTING.small, middle[1]) if upright else (middle[0], middle[1] + 2.0)
    words = _both(metres)
    shown = (Line(a, b, "measure"), _tick(a), _tick(b), Text(words, at, DRAFTING.small, turn, "middle",
                                                             layer="measure"))  # fmt: skip
    yield from shown
    yield Dimension("along", a, b, middle, words, shown, float(metres), turn, name, "general sheet: over all", OVERALL)


def _captions(
    at_top: Point, at_front: Point, at_side: Point, low: np.ndarray, high: np.ndarray, scale: float
) -> Iterator[Stroke]:
    d, k = DRAFTING, 1000 / scale
    yield Text(TOP.name, (at_top[0] - high[1] * k, at_top[1] + low[0] * k), d.small)
    yield Text(FRONT.name, (at_front[0] - high[1] * k, at_front[1] + low[2] * k - 7.0), d.small)
    yield Text(SIDE.name, (at_side[0] + low[0] * k, at_side[1] + high[2] * k + 4.0), d.small)


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
