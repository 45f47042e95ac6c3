"""Charts of one size in rows on a page."""

from __future__ import annotations

from collections.abc import Sequence

from sparwright.charts.chart import Chart, plot
from sparwright.charts.page import CHARTING, Heading, Picture, page
from sparwright.plans.drawing import Box, Stroke

WIDTH = 230.0  # mm of a picture
TALL = 74.0  # mm of a chart


def row(charts: Sequence[Chart], columns: int, high: float, tall: float = TALL, width: float = WIDTH) -> list[Stroke]:
    """One row of charts with its upper edge at y = high; a row that is not full leaves its end empty."""
    c = CHARTING
    wide = (width - 2 * c.margin - (columns - 1) * c.between) / columns
    strokes: list[Stroke] = []
    for i, chart in enumerate(charts):
        left = c.margin + i * (wide + c.between)
        strokes += plot(chart, Box(left, high - tall, left + wide, high))
    return strokes


def charted(heading: Heading, charts: Sequence[Chart], columns: int, told: str, tall: float = TALL) -> Picture:
    """A page of charts in rows of `columns`. told: what it shows, in words."""
    strokes: list[Stroke] = []
    high = 0.0
    for start in range(0, len(charts), columns):
        strokes += row(charts[start : start + columns], columns, high, tall)
        high -= tall + CHARTING.between
    return page(heading, WIDTH, strokes, high + CHARTING.between, 0.0, told)
