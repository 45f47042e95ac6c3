"""Charts of one size in rows on a page."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sparwright.charts.chart import Chart, plot
from sparwright.charts.page import CHARTING, Heading, Picture, page, words
from sparwright.plans.drawing import Box, Dash, Line, Stroke

WIDTH = 230.0  # mm of a picture
TALL = 74.0  # mm of a chart
SAMPLE = 16.0  # mm of line beside a name in the key
ROW = 5.2  # mm of a row of the key


def row(charts: Sequence[Chart], columns: int, high: float, tall: float = TALL, width: float = WIDTH) -> list[Stroke]:
    """One row of charts with its upper edge at y = high; a row that is not full leaves its end empty."""
    c = CHARTING
    wide = (width - 2 * c.margin - (columns - 1) * c.between) / columns
    strokes: list[Stroke] = []
    for i, chart in enumerate(charts):
        left = c.margin + i * (wide + c.between)
        strokes += plot(chart, Box(left, high - tall, left + wide, high))
    return strokes


def charted(heading: Heading, charts: Sequence[Chart], columns: int, told: str, tall: float = TALL,
            key: Sequence[tuple[Dash, str]] = ()) -> Picture:  # fmt: skip
    """A page of charts in rows of `columns`. told: what it shows, in words; key: lines that mean the same in every
    chart, named once below them.
    """
    strokes: list[Stroke] = []
    high = 0.0
    for start in range(0, len(charts), columns):
        strokes += row(charts[start : start + columns], columns, high, tall)
        high -= tall + CHARTING.between
    low = high + CHARTING.between
    strokes += _key(key, low)
    below = ROW * len(key) + (ROW / 2 if key else 0.0)
    return page(heading, WIDTH, strokes, low - below, 0.0, told)


def _key(key: Sequence[tuple[Dash, str]], high: float) -> Iterator[Stroke]:
    """A piece of each line with its name, one under the other."""
    left = CHARTING.margin
    for i, (dash, name) in enumerate(key, 1):
        y = high - ROW * i
        middle = y + CHARTING.small / 2
        yield Line((left, middle), (left + SAMPLE, middle), "line", "thick", dash)
        yield words(name, (left + SAMPLE + 2.0, y))
