"""Picture of the load along the span of each wing: at cruise and at the stall, and how near each strip is to its limit.

Above, lift per length of span of every wing, cruise and stall, each wing in its own line. Below, one chart a wing:
section lift coefficients, thin at cruise and heavy at the stall, under the greatest lift of each strip.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.charts.chart import Axis, Chart, Curve, Limit
from sparwright.charts.page import CHARTING, Heading, Picture, page, wing_styles
from sparwright.charts.panels import TALL, WIDTH, row
from sparwright.charts.ticks import figure
from sparwright.charts.units import Units
from sparwright.plans.drawing import Dash, Stroke, Weight

LIFT = Axis("Section lift coefficient", low=0.0)


@dataclass(frozen=True)
class WingLoading:
    """The right half of one wing in one state: strips (m,) from the root out."""

    name: str
    buttline: np.ndarray  # m, middle of each strip
    load: np.ndarray  # N/m, lift per length of span
    lift: np.ndarray  # section lift coefficient
    limit: np.ndarray  # greatest section lift coefficient; NaN where unknown or inside the fuselage
    waterline: float = number("m", "where it stands in the cell, by which its line is chosen", 0.0)


@dataclass(frozen=True)
class SpanLoading:
    """Every wing in one state, or why that is unknown."""

    state: str  # as "cruise, 84 kt"
    wings: tuple[WingLoading, ...] = ()
    unknown: str = ""


def span_picture(heading: Heading, cruise: SpanLoading, stalled: SpanLoading, units: Units) -> Picture:
    """The picture. Wings are told from each other by the lines of their places in the cell. DesignProblem past five."""
    known = cruise.wings or stalled.wings
    dashes = wing_styles([(w.name, w.waterline) for w in known])
    top = [_loads(s, dashes, units) for s in (cruise, stalled)]
    each = [_sections(name, dashes[name], cruise, stalled, units) for name in dashes]
    strokes: list[Stroke] = row(top, 2, 0.0)
    low, down = -TALL - CHARTING.between, TALL + CHARTING.between
    for start in range(0, len(each), 3):
        part = each[start : start + 3]
        strokes += row(part, max(min(len(each), 3), 2), low)
        low -= down
    return page(heading, WIDTH, strokes, low + CHARTING.between, 0.0, " ".join(_told(s) for s in (cruise, stalled)))


def _loads(shown: SpanLoading, dashes: Mapping[str, Dash], units: Units) -> Chart:
    curves = [Curve(w.name, units.length.of(w.buttline), units.per_length.of(w.load), dash=dashes[w.name])
              for w in _from_above(shown.wings)]  # fmt: skip
    y = Axis("Lift per length of span", units.per_length.name, low=0.0)
    return Chart(f"Load at {shown.state}", _across(units), y, tuple(curves), unknown=shown.unknown)


def _from_above(wings: Sequence[WingLoading]) -> list[WingLoading]:
    return sorted(wings, key=lambda w: -w.waterline)


def _across(units: Units) -> Axis:
    return Axis("Buttline", units.length.name, low=0.0)


def _sections(name: str, dash: Dash, cruise: SpanLoading, stalled: SpanLoading, units: Units) -> Chart:
    curves, limits = [], []
    both: tuple[tuple[str, SpanLoading, Weight], ...] = (("cruise", cruise, "thin"), ("stall", stalled, "thick"))
    for word, shown, weight in both:
        for w in (w for w in shown.wings if w.name == name):
            x = units.length.of(w.buttline)
            curves.append(Curve(word, x, w.lift, dash=dash, weight=weight))
            if word == "stall" or not stalled.wings:
                limits.append(Limit("greatest lift of each strip", x, w.limit, "above"))
    return Chart(f"{name.capitalize()} wing, sections" if "wing" not in name else f"{name.capitalize()}, sections",
                 _across(units), LIFT, tuple(curves), limits=tuple(limits))  # fmt: skip


def _told(shown: SpanLoading) -> str:
    if not shown.wings:
        return f"{shown.state}: unknown, {shown.unknown}."
    return f"Load at {shown.state}: " + "; ".join(_wing_told(shown.wings)) + "."


def _wing_told(wings: Sequence[WingLoading]) -> Iterator[str]:
    for w in _from_above(wings):
        yield f"{w.name} carries up to {figure(float(np.nanmax(w.load)), 0)} N/m, section lift up to " \
              f"{figure(float(np.nanmax(w.lift)), 2)}"  # fmt: skip
