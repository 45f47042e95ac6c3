"""A drawing recorded once, in millimetres on paper, and replayed by every writer.

Origin at the lower left corner of the sheet, x to the right, y up. A stroke lies on a named layer and
carries its weight (thin or thick, 1 : 2) and its dash; colour belongs to the layer. Text is placed by
an exact anchor on its baseline and sized by the height of its capitals.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Literal, Protocol, TypeGuard

import numpy as np

from sparwright.base.look import LOOK
from sparwright.base.record import number as figure

Point = tuple[float, float]
Weight = Literal["thin", "thick"]
Dash = Literal["solid", "dash", "chain", "dots", "pairs"]  # the last two only in charts
Tone = Literal["ground", "light", "middle"]
Align = Literal["left", "middle", "right"]

CHORD_ERROR = 0.005  # mm: a curve may leave its polyline by this much, a tenth of what a template allows


@dataclass(frozen=True)
class Layer:
    """A named layer: what it shows and which colour of the look it takes."""

    name: str
    meaning: str
    colour: Literal["ink", "rule", "accent", "faint"] = "ink"


LAYERS = (
    Layer("cut", "lines to cut: outlines, holes, flat blanks"),
    Layer("bend", "outside of bent flanges"),
    Layer("mark", "spar centre lines, chord line, prick points"),
    Layer("match", "match lines and crosses of split templates"),
    Layer("measure", "master lengths"),
    Layer("note", "part numbers and notes"),
    Layer("check", "check lines, squares and diagonals of the sheet"),
    Layer("frame", "border, corner marks and title block"),
    Layer("hand", "places to write", "accent"),
)
LAYER_NAMES = tuple(layer.name for layer in LAYERS)


@dataclass(frozen=True)
class Drafting:
    """Every choice of dimension and lettering on a sheet, in one record. Millimetres on paper."""

    small: float = figure("mm", "height of capitals in notes", LOOK.small)
    middle: float = figure("mm", "height of capitals in part headings", LOOK.middle)
    large: float = figure("mm", "height of capitals in titles", LOOK.large)
    pitch: float = figure("1", "from line to line, in heights of capitals", LOOK.pitch)
    gap: float = figure("mm", "least clear space round lettering", 1.5)
    away: float = figure("mm", "from a part to the first dimension or flag", 6.0)
    row: float = figure("mm", "from one dimension line or flag to the next", 7.5)
    tick: float = figure("mm", "half length of the slanted tick at a dimension's end", 1.5)
    prick: float = figure("mm", "half length of a prick cross", 2.5)
    space: float = figure("mm", "white space between templates", 12.0)
    notes: float = figure("mm", "width of one column of notes", 150.0)


DRAFTING = Drafting()


@dataclass(frozen=True)
class Box:
    """An upright rectangle on paper."""

    left: float = figure("mm", "left edge")
    bottom: float = figure("mm", "lower edge")
    right: float = figure("mm", "right edge")
    top: float = figure("mm", "upper edge")

    @property
    def width(self) -> float:
        """Left to right, mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Bottom to top, mm."""
        return self.top - self.bottom


@dataclass(frozen=True)
class Polyline:
    """Points joined by straight lines; a closed one does not repeat its first point."""

    points: tuple[Point, ...]
    layer: str
    closed: bool = False
    weight: Weight = "thin"
    dash: Dash = "solid"


@dataclass(frozen=True)
class Line:
    """One straight line."""

    start: Point
    end: Point
    layer: str
    weight: Weight = "thin"
    dash: Dash = "solid"


@dataclass(frozen=True)
class Circle:
    """A full circle."""

    centre: Point
    radius: float = figure("mm", "radius")
    layer: str = "mark"
    weight: Weight = "thin"
    dash: Dash = "solid"


@dataclass(frozen=True)
class Text:
    """One line of lettering; `anchor` lies on the baseline at the left, middle or right of it."""

    content: str
    anchor: Point
    size: float = figure("mm", "height of capitals")
    turn: float = figure("deg", "anticlockwise from the reader's horizontal", 0.0)
    align: Align = "left"
    bold: bool = False
    layer: str = "note"


@dataclass(frozen=True)
class Area:
    """A patch of one tone without an outline, in charts only; what matters is said again by line, hatch or word."""

    points: tuple[Point, ...]
    tone: Tone
    layer: str


Inked = Polyline | Line | Circle | Text | Area


@dataclass(frozen=True)
class Dimension:
    """What a figure on the sheet measures. It has no ink of its own: `strokes` are those that show it, which lie on the
    sheet too; a file that knows dimensions gets one of its own kind with those strokes as its picture.

    A running one is the distance of `end` from the datum `start`, both along the row.
    """

    kind: Literal["along", "running"]  # one step from start to end, or a distance from a datum with its figure at `at`
    start: Point
    end: Point
    at: Point  # on the dimension line, or where a running one's figure stands
    words: str  # the figure as printed
    strokes: tuple[Inked, ...]
    value: float = figure("m", "true length")
    turn: float = figure("deg", "of the way it is measured along, anticlockwise on paper", 0.0)
    name: str = ""  # what is measured: "RIB-24"; its place in `why`
    row: str = ""  # what the row of dimensions tells: "ribs from the middle"
    because: str = ""  # where the length comes from
    layer: str = "measure"


Stroke = Inked | Dimension


class Page(Protocol):
    """What is drawn on: a sheet of plans or a picture."""

    @property
    def width(self) -> float: ...
    @property
    def height(self) -> float: ...
    @property
    def strokes(self) -> tuple[Stroke, ...]: ...


@dataclass(frozen=True)
class Placement:
    """Where a part's own axes lie on a sheet: paper = 1000 * part + (dx, dy), the part first turned by `turn`."""

    part: str
    piece: int
    pieces: int
    dx: float = figure("mm", "paper x of the part's origin")
    dy: float = figure("mm", "paper y of the part's origin")
    turn: float = figure("deg", "anticlockwise", 0.0)
    area: Box | None = None  # of the sheet, mm: what its template takes, notes and all


@dataclass(frozen=True)
class Sheet:
    """One sheet of paper and all that is drawn on it."""

    number: int
    total: int
    title: str
    paper: str
    width: float = figure("mm", "width of the paper")
    height: float = figure("mm", "height of the paper")
    strokes: tuple[Stroke, ...] = ()
    placements: tuple[Placement, ...] = ()
    kind: str = "templates"  # of a set: how its files' names go on
    furniture: int = 0  # how many strokes, the first ones, are the sheet's own: border, checks, title block

    @property
    def drawn(self) -> tuple[Stroke, ...]:
        """The strokes of the templates alone, those with ink."""
        return tuple(s for s in self.strokes[self.furniture :] if not isinstance(s, Dimension))

    @property
    def shows(self) -> tuple[str, ...]:
        """Part numbers on the sheet, each once, in order."""
        return tuple(dict.fromkeys(p.part for p in self.placements))

    @property
    def dimensions(self) -> tuple[Dimension, ...]:
        """What the figures of the sheet measure, in order."""
        return tuple(s for s in self.strokes if isinstance(s, Dimension))

    @property
    def set_words(self) -> str:
        """What its set of sheets is called: "tube ends"."""
        return self.title.partition(": ")[2].partition(",")[0] or self.title

    def on(self, layer: str) -> tuple[Stroke, ...]:
        """The strokes of one layer that have ink, in order."""
        return tuple(s for s in self.strokes if s.layer == layer and not isinstance(s, Dimension))


def moved(stroke: Stroke, dx: float, dy: float) -> Stroke:
    """The same stroke, shifted."""
    match stroke:
        case Polyline() | Area():
            return replace(stroke, points=tuple((x + dx, y + dy) for x, y in stroke.points))
        case Line():
            return replace(stroke, start=_shift(stroke.start, dx, dy), end=_shift(stroke.end, dx, dy))
        case Circle():
            return replace(stroke, centre=_shift(stroke.centre, dx, dy))
        case Text():
            return replace(stroke, anchor=_shift(stroke.anchor, dx, dy))
        case Dimension():
            return changed(stroke, lambda p: _shift(p, dx, dy), lambda s: moved(s, dx, dy))


def changed(dimension: Dimension, place: Callable[[Point], Point], stroke: Callable[[Stroke], Stroke]) -> Dimension:
    """The same dimension elsewhere on the paper: its places and the strokes that show it, changed alike."""
    ends = {k: place(getattr(dimension, k)) for k in ("start", "end", "at")}
    return replace(dimension, strokes=tuple(stroke(s) for s in dimension.strokes), **ends)  # type: ignore[arg-type,misc]


def is_line(stroke: Stroke) -> TypeGuard[Polyline | Line | Circle]:
    """Whether a stroke is a line to be drawn: neither lettering nor a tone nor what a figure measures."""
    return isinstance(stroke, Polyline | Line | Circle)


def _shift(p: Point, dx: float, dy: float) -> Point:
    return (p[0] + dx, p[1] + dy)


def arc(centre: Point, radius: float, start: float, end: float) -> tuple[Point, ...]:
    """An arc as points on it, from angle `start` to `end` (rad): the one place where a curve becomes a polyline.

    The number of steps keeps the chord within CHORD_ERROR of the arc: step = 2 acos(1 - e/r).

    >>> len(arc((0, 0), 50.0, 0.0, math.tau)) > 200
    True
    """
    step = 2 * math.acos(max(1 - CHORD_ERROR / radius, 0.0)) if radius > CHORD_ERROR else math.pi / 2
    count = max(2, math.ceil(abs(end - start) / step) + 1)
    angles = np.linspace(start, end, count)
    return tuple(zip(centre[0] + radius * np.cos(angles), centre[1] + radius * np.sin(angles), strict=True))


def rectangle(x0: float, y0: float, x1: float, y1: float, layer: str, weight: Weight = "thin") -> Polyline:
    """An upright rectangle by two opposite corners."""
    return Polyline(((x0, y0), (x1, y0), (x1, y1), (x0, y1)), layer, closed=True, weight=weight)


def cross(at: Point, half: float, layer: str, weight: Weight = "thin") -> tuple[Line, Line]:
    """An upright cross."""
    x, y = at
    return Line((x - half, y), (x + half, y), layer, weight), Line((x, y - half), (x, y + half), layer, weight)


def paper_points(values: Iterable[Iterable[float]], dx: float = 0.0, dy: float = 0.0) -> tuple[Point, ...]:
    """Part coordinates in metres as points on paper, mm."""
    return tuple((1000.0 * float(x) + dx, 1000.0 * float(y) + dy) for x, y in values)
