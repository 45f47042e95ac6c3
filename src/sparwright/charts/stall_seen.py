"""Picture of the stall from above: each wing's strips by how far they work from their own angle of greatest lift.

Wings of a cell stand one below the other, upper wing on top, all to one scale, nose up. A strip's tone goes in steps
with hatching, so that it reads in grey: white where it works well short of its section's angle of greatest lift, then a
tone and sparser or denser strokes, the densest past it. The strip that lets go first is named; ailerons are drawn, and
where the flow separates before them is told in words.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from sparwright.base.record import number
from sparwright.charts.page import CHARTING, Heading, Picture, page, words
from sparwright.charts.ticks import figure
from sparwright.charts.units import Units
from sparwright.flight.wings_stall import before_ailerons
from sparwright.plans.drawing import Area, Line, Point, Polyline, Stroke, Text, Tone
from sparwright.plans.lettering import box, width, wrapped
from sparwright.shape.planform import Planform

WIDTH = 230.0  # mm
HEAD, ROW, FOOT = 9.0, 6.0, 12.0  # mm above a wing, a line of words, the scale of tones
At = Callable[[float, float], Point]  # station and buttline, m, to the page
FLAG = 5.0  # mm from a wing's edge to the word that names a strip


@dataclass(frozen=True)
class Shade:
    """How strips from `least` past their angle of greatest lift are shown; short of it is negative."""

    least: float = number("rad", "least angle past that of greatest section lift")
    tone: Tone = "ground"
    pitch: float = number("mm", "from hatch stroke to hatch stroke; nought for none", 0.0)
    words: str = ""


SHADES = (
    Shade(-math.inf, "ground", 0.0, "over 4 deg short"),
    Shade(math.radians(-4.0), "light", 0.0, "4 to 2 deg short"),
    Shade(math.radians(-2.0), "light", 2.4, "under 2 deg short"),
    Shade(0.0, "middle", 1.1, "past it"),
)


@dataclass(frozen=True)
class WingSeen:
    """One wing at the stall: its planform, and strips (m,) of the right half from the root out."""

    planform: Planform
    edges: np.ndarray  # (m + 1,) m, buttlines
    stations: np.ndarray  # (m,) m, buttlines by which the strips are named
    spare: np.ndarray  # (m,) rad past the angle of greatest lift; NaN where unknown or inside the fuselage
    leaves: np.ndarray  # (m,) chords, where the upper side's flow separates for good, 1 where it does not; NaN alike
    first: int = -1  # the strip that lets go first in the cell; -1 when it is not on this wing


def stall_picture(heading: Heading, wings: Sequence[WingSeen], units: Units, unknown: str = "") -> Picture:
    """The picture. `unknown` says why nothing is known of the strips, where that is so."""
    down = sorted(wings, key=lambda w: -float(w.planform.mean_chord[2]))
    half = max(float(w.planform.leading_edge[1, -1]) for w in down)
    scale = (WIDTH / 2 - CHARTING.margin - 1.0) / half  # mm to the metre
    strokes: list[Stroke] = []
    y, told = 0.0, []
    for wing in down:
        drawn, y = _wing(wing, scale, y, units)
        strokes += drawn
        told.append(_told(wing, units))
        y -= 5.0
    if unknown:
        strokes.append(words(f"Unknown: {unknown}", (CHARTING.margin, y - ROW + 2.0)))
        y -= ROW
    scale_strokes, y = _scale(y)
    strokes += scale_strokes
    return page(heading, WIDTH, strokes, y, 0.0, "Stall seen from above. " + " ".join(told))


def _wing(wing: WingSeen, scale: float, top: float, units: Units) -> tuple[list[Stroke], float]:
    """(strokes, y below them) of one wing and its words."""
    p = wing.planform
    x = p.leading_edge[0]
    high = top - HEAD
    fore, aft = float(x.min()), float((x + p.chord).max())

    def at(station: float, buttline: float) -> Point:
        return (WIDTH / 2 + scale * buttline, high - scale * (station - fore))

    strokes: list[Stroke] = [words(_headed(p), (CHARTING.margin, top - 4.0), bold=True)]
    for side in (-1.0, 1.0):
        ailerons = tuple(_aileron(p, side, at))
        hole = shapely.union_all([shapely.Polygon(box(s, 0.6)) for s in ailerons if isinstance(s, Text)])
        for inner, outer, shade in _stretches(wing):
            strokes += _shaded(_ring(p, inner, outer, side, at), shade, hole)
        strokes += ailerons
    strokes += _outline(p, at)
    low = high - scale * (aft - fore)
    if wing.first >= 0:
        flagged, low = _flag(wing, at, low)
        strokes += flagged
    for said in _lines(wing, units):
        for i, line in enumerate(wrapped(said, CHARTING.small, WIDTH - 2 * CHARTING.margin)):
            low -= CHARTING.pitch * CHARTING.small if i else ROW
            strokes.append(words(line, (CHARTING.margin, low + 1.0)))
    return strokes, low


def _headed(p: Planform) -> str:
    name = p.name.capitalize()
    return name if "wing" in p.name else f"{name} wing"


def _edge(p: Planform, buttline: float) -> tuple[float, float]:
    """(station of the leading edge, chord) at a buttline."""
    y = p.leading_edge[1]
    return float(np.interp(buttline, y, p.leading_edge[0])), float(np.interp(buttline, y, p.chord))


def _ring(p: Planform, inner: float, outer: float, side: float, at: At, fore: float = 0.0) -> tuple[Point, ...]:
    """Corners of a stretch of wing from the fraction `fore` of the chord aft, breaks of the planform kept."""
    breaks = [float(b) for b in p.leading_edge[1] if inner < b < outer]
    stops = [inner, *breaks, outer]
    front = [at(x + fore * c, side * b) for b in stops for x, c in (_edge(p, b),)]
    back = [at(x + c, side * b) for b in reversed(stops) for x, c in (_edge(p, b),)]
    return (*front, *back)


def _stretches(wing: WingSeen) -> Iterator[tuple[float, float, Shade]]:
    """(inner, outer buttline, shade) of neighbouring strips of one shade together; unknown strips are left out."""
    known = [(i, shade_of(float(v))) for i, v in enumerate(wing.spare) if math.isfinite(v)]
    for shade, run in groupby(known, key=lambda k: k[1]):
        strips = [i for i, _ in run]
        yield float(wing.edges[strips[0]]), float(wing.edges[strips[-1] + 1]), shade


def _shaded(ring: tuple[Point, ...], shade: Shade, hole: BaseGeometry) -> Iterator[Stroke]:
    if shade.tone != "ground":
        yield Area(ring, shade.tone, "tone")
    if shade.pitch:
        yield from _hatched(ring, shade.pitch, hole)


def shade_of(spare: float) -> Shade:
    """The shade of a strip by how far it works past its angle of greatest lift, rad.

    >>> shade_of(-0.05).words, shade_of(0.0).words
    ('4 to 2 deg short', 'past it')
    """
    return [s for s in SHADES if spare >= s.least][-1]


def _hatched(ring: Sequence[Point], pitch: float, hole: BaseGeometry | None = None) -> Iterator[Line]:
    """Strokes rising to the right at 45 degrees across a ring but for a hole, on one raster for the whole page."""
    shape = shapely.Polygon(ring) if hole is None else shapely.Polygon(ring).difference(hole)
    left, low, right, high = shape.bounds
    step = pitch * math.sqrt(2)
    for k in range(math.floor((low - right) / step), math.ceil((high - left) / step) + 1):
        cut = shapely.LineString(((left, left + k * step), (right, right + k * step))).intersection(shape)
        for piece in getattr(cut, "geoms", [cut]):
            if piece.geom_type == "LineString" and piece.length > 0.2:
                (ax, ay), (bx, by) = piece.coords
                yield Line((float(ax), float(ay)), (float(bx), float(by)), "hatch")


def _outline(p: Planform, at: At) -> Iterator[Stroke]:
    tip = float(p.leading_edge[1, -1])
    right, left = (_ring(p, p.side, tip, s, at) for s in (1.0, -1.0))
    if p.side <= 0:
        half = len(right) // 2
        front, back = (*reversed(left[:half]), *right[1:half]), (*right[half:], *reversed(left[half:-1]))
        yield Polyline((*front, *back), "line", closed=True, weight="thick")
        return
    yield Polyline(right, "line", closed=True, weight="thick")
    yield Polyline(left, "line", closed=True, weight="thick")
    yield from (Line(a, b, "frame", dash="dash") for a, b in _body_edges(p, at))


def _body_edges(p: Planform, at: At) -> Iterator[tuple[Point, Point]]:
    """The wing carried through the fuselage, as the air sees it: leading and trailing edge."""
    x, c = _edge(p, p.side)
    for station in (x, x + c):
        yield at(station, -p.side), at(station, p.side)


def _aileron(p: Planform, side: float, at: At) -> Iterator[Stroke]:
    if p.hinge < 1 and p.hinge_to > p.hinge_from:
        ring = _ring(p, p.hinge_from, p.hinge_to, side, at, p.hinge)
        yield Polyline(ring, "line", closed=True)
        (left, low), (right, high) = np.min(ring, axis=0), np.max(ring, axis=0)
        word = words("aileron", (float(left + right) / 2, float(low + high - CHARTING.small) / 2), "middle")
        if shapely.Polygon(ring).contains(shapely.Polygon(box(word, 0.3))):
            yield word


def _flag(wing: WingSeen, at: At, low: float) -> tuple[list[Stroke], float]:
    """Strokes from the strip that lets go first, on both sides, to its words below the wing."""
    p = wing.planform
    inner, outer = float(wing.edges[wing.first]), float(wing.edges[wing.first + 1])
    middle, c = (inner + outer) / 2, CHARTING
    x, chord = _edge(p, middle)
    line_y, text = low - FLAG / 2, "lets go first, both sides alike"
    strokes: list[Stroke] = []
    for side in (-1.0, 1.0):
        strokes.append(Polyline(_ring(p, inner, outer, side, at), "point", closed=True, weight="thick"))
        strokes.append(Line(at(x + chord, side * middle), (at(0.0, side * middle)[0], line_y), "leader"))
    right = at(0.0, middle)[0]
    half = width(text, c.small, True) / 2
    centre = WIDTH / 2 if right - WIDTH / 2 < half else min(right, WIDTH - c.margin - half)
    strokes.append(words(text, (centre, line_y - 1.2 - c.small), "middle", bold=True))
    strokes.append(Line((at(0.0, -middle)[0], line_y), (right, line_y), "leader"))
    return strokes, line_y - 2.4 - c.small


def _lines(wing: WingSeen, units: Units) -> Iterator[str]:
    """What is said of a wing: its nearest strip or how much of it is past, and the flow before its ailerons."""
    known = np.isfinite(wing.spare)
    if not np.any(known):
        yield "how near its strips are to their greatest lift is unknown"
        return
    wide, past = np.diff(wing.edges), wing.spare >= 0
    i = int(np.nanargmax(wing.spare))
    far, place = figure(abs(math.degrees(float(wing.spare[i]))), 1), _length(float(wing.stations[i]), units)
    if np.any(past):
        part = figure(100 * float(wide[past].sum() / wide[known].sum()), 0)
        yield f"{part} % of its span is past its greatest lift, most by {far} deg at buttline {place}"
    else:
        yield f"no strip is past its greatest lift; the nearest works {far} deg short of it, at buttline {place}"
    p = wing.planform
    if p.hinge < 1 and p.hinge_to > p.hinge_from:
        span = f"buttline {_length(p.hinge_from, units)} to {_length(p.hinge_to, units)}"
        yield f"aileron, neutral, hinge at {figure(p.hinge, 2)} of the chord, {span}: {_before(wing, units)}"


def _before(wing: WingSeen, units: Units) -> str:
    """Where the flow separates on the upper side over the aileron's span, against its hinge line, in words."""
    found = before_ailerons(wing.planform, wing.edges, wing.stations, wing.leaves)
    if not math.isfinite(found.least):
        return "the flow before it is unknown"
    if found.least >= 1:
        return "in attached flow, which does not separate before the tail"
    at = _length(found.station, units)
    where = f"the flow separates foremost at {figure(found.least, 2)} of the chord, at buttline {at}"
    if found.held >= 1:
        return f"in attached flow up to its hinge; {where}"
    return f"in separated flow over {figure(100 * (1 - found.held), 0)} % of its span; {where}"


def _length(metres: float, units: Units) -> str:
    u = units.length
    return f"{figure(metres * u.factor, 2 if u.name == 'm' else 0)} {u.name}"


def _scale(top: float) -> tuple[list[Stroke], float]:
    """The shades with their words, in a row."""
    c = CHARTING
    y = top - FOOT + 2.0
    head = "A strip works, against its section's angle of greatest lift:"
    strokes: list[Stroke] = [words(head, (c.margin, y + 0.6))]
    x = c.margin + width(head, c.small) + 5.0
    for shade in SHADES:
        ring = ((x, y - 0.6), (x + 9.0, y - 0.6), (x + 9.0, y + 4.0), (x, y + 4.0))
        strokes.append(Area(ring, shade.tone, "tone"))
        if shade.pitch:
            strokes += _hatched(ring, shade.pitch)
        strokes.append(Polyline(ring, "frame", closed=True))
        strokes.append(words(shade.words, (x + 10.5, y + 0.6)))
        x += 10.5 + width(shade.words, c.small) + 5.0
    return strokes, y - 2.0


def _told(wing: WingSeen, units: Units) -> str:
    said = "; ".join(_lines(wing, units))
    first = "; lets go first" if wing.first >= 0 else ""
    return f"{_headed(wing.planform)}: {said}{first}."
