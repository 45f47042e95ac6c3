"""Picture of the pressure round a section, the section beneath it, and where its flow turns turbulent and separates."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from sparwright.base.record import number
from sparwright.charts.axes import Axis, Frame, frame
from sparwright.charts.chart import Chart, Curve, Measured, Note, plot
from sparwright.charts.label import Name, place
from sparwright.charts.page import CHARTING, Heading, Picture, page, words
from sparwright.charts.ticks import figure
from sparwright.plans.drawing import Box, Line, Polyline, Stroke

WIDTH, TALL = 170.0, 105.0  # mm
BELOW, CLEAR = 12.0, 4.0  # mm, room for words above and below the section, and under the chart
ROOM = 0.16  # of the range of pressures, under the lines for their words
MARK = 2.2  # mm, half length of a mark across the surface
CHORD = Axis("Place from the leading edge", "chords", 0.0, 1.0)
PRESSURE = Axis("Pressure coefficient, suction upwards", down=True)


@dataclass(frozen=True)
class Surface:
    """Pressure along one surface of a section from the leading edge aft."""

    x: np.ndarray  # (n,) chords
    pressure: np.ndarray  # (n,) Cp
    turns: float = number("1", "where flow turns turbulent, chords; NaN for nowhere", math.nan)
    leaves: float = number("1", "where flow separates, chords; NaN for nowhere", math.nan)


@dataclass(frozen=True)
class Pressure:
    """Pressure round a section in one state, and its outline."""

    upper: Surface
    lower: Surface
    outline: np.ndarray  # (2, n) walked curve in chords, chord line along x
    inviscid: tuple[Surface, Surface] | None = None  # the same without boundary layer: upper, lower


@dataclass(frozen=True)
class MeasuredPressure:
    """Measured pressures."""

    name: str
    x: np.ndarray  # (n,) chords
    pressure: np.ndarray  # (n,)


def pressure_picture(heading: Heading, shown: Pressure, measured: Sequence[MeasuredPressure] = ()) -> Picture:
    """The picture: Cp with suction upwards; under it, in the same places, the section with its marks."""
    x, pressure = _all(shown, measured)
    chart = _chart(shown, measured, float(pressure.max() + ROOM * np.ptp(pressure)))
    box = Box(CHARTING.margin, 0.0, WIDTH - CHARTING.margin, TALL)
    strokes = list(plot(chart, box))
    section, low = _section(shown, frame(chart.head, chart.x, chart.y, x, pressure, box))
    return page(heading, WIDTH, [*strokes, *section], low, TALL, _told(shown))


def _all(shown: Pressure, measured: Sequence[MeasuredPressure]) -> tuple[np.ndarray, np.ndarray]:
    """Every (x, pressure) that the chart holds."""
    sets = (shown.upper, shown.lower, *(shown.inviscid or ()), *measured)
    x, pressure = (np.concatenate([getattr(s, name) for s in sets]) for name in ("x", "pressure"))
    known = np.isfinite(x) & np.isfinite(pressure)
    return x[known], pressure[known]


def _chart(shown: Pressure, measured: Sequence[MeasuredPressure], high: float) -> Chart:
    curves = [Curve("upper surface", shown.upper.x, shown.upper.pressure),
              Curve("lower surface", shown.lower.x, shown.lower.pressure, dash="dash")]  # fmt: skip
    if shown.inviscid:
        up, down = shown.inviscid
        curves += [Curve("without boundary layer", up.x, up.pressure, dash="dots", weight="thin"),
                   Curve("", down.x, down.pressure, dash="dots", weight="thin")]  # fmt: skip
    points = tuple(Measured(m.name, m.x, m.pressure) for m in measured)
    notes = tuple(n for s in (shown.upper, shown.lower) for n in _events(s))
    return Chart("Pressure", CHORD, replace(PRESSURE, high=high), tuple(curves), points, (), notes)


def _events(s: Surface) -> Iterator[Note]:
    """Rings on the line where the flow turns turbulent and where it separates."""
    order = np.argsort(s.x)
    for word, at in (("turns turbulent", s.turns), ("separates", s.leaves)):
        if math.isfinite(at):
            yield Note(word, at, float(np.interp(at, s.x[order], s.pressure[order])))


def _section(shown: Pressure, held: Frame) -> tuple[list[Stroke], float]:
    """(outline and marks, its lower edge): the section under the chart, places in line with the chart's."""
    x, y = shown.outline
    at = held.x_at(x)
    by = float(held.x_at(np.array([1.0]))[0] - held.x_at(np.array([0.0]))[0])  # mm to the chord
    top = -CLEAR - BELOW - float(y.max()) * by  # the chord line
    ring = [(float(a), top + by * float(b)) for a, b in zip(at, y, strict=True)]
    low = top + by * float(y.min()) - BELOW
    strokes: list[Stroke] = [Polyline(tuple(ring), "line", closed=True, weight="thick")]
    names, walls, sides = [], [shapely.LinearRing(ring)], []
    for s, up in ((shown.upper, True), (shown.lower, False)):
        for mark, name in _marks(s, up, ring, held):
            strokes.append(mark)
            names.append(name)
            walls.append(shapely.LineString((mark.start, mark.end)))
            sides.append("upper" if up else "lower")
    room = Box(held.box.left, low, held.box.right, -CLEAR)
    placed, left = place(names, room, walls)
    strokes += [s for p in placed for s in (p.text, p.leader, p.dot) if s is not None]
    for name, side in zip(names, sides, strict=True):
        if any(name is n for n in left):  # no clear place: told below the section
            low -= CHARTING.pitch * CHARTING.small
            strokes.append(words(f"{side} surface {name.text}", (held.box.left, low)))
    return strokes, low


def _marks(s: Surface, up: bool, ring: Sequence[tuple[float, float]], held: Frame) -> Iterator[tuple[Line, Name]]:
    """A short stroke outwards from the surface, with its word and place."""
    shape = shapely.Polygon(ring).buffer(0)
    for word, at in (("turns turbulent at", s.turns), ("separates at", s.leaves)):
        if not math.isfinite(at):
            continue
        page_x = float(held.x_at(np.array([at]))[0])
        across = shapely.LineString(((page_x, -500.0), (page_x, 0.0))).intersection(shape)
        edge = across.bounds[3] if up else across.bounds[1]
        out = MARK if up else -MARK
        line = Line((page_x, edge), (page_x, edge + out), "point", "thick")
        yield line, Name(f"{word} {figure(at, 2)}", shapely.Point(page_x, edge + out))


def _told(shown: Pressure) -> str:
    least = min(float(np.nanmin(s.pressure)) for s in (shown.upper, shown.lower))
    said = [f"least pressure coefficient {figure(least, 2)}"]
    for side, s in (("upper", shown.upper), ("lower", shown.lower)):
        said.append(
            f"{side} surface turns turbulent at {figure(s.turns, 2)}, separates at {figure(s.leaves, 2)} chords"
        )
    return f"Pressure round a section: {'; '.join(said)}.".replace("at unknown", "nowhere or unknown")
