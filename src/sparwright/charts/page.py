"""The page of a picture: its layers, sizes and line styles, its title above and its caution below.

Millimetres, origin at the lower left, as on a sheet of plans. Layers are drawn in the order of CHART_LAYERS, so
tones lie under the grid, the grid under the lines, lettering on top. Everything is ink, grey or tone: no hue.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sparwright.base.look import LOOK
from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.base.safety import CAUTION
from sparwright.plans.drawing import Area, Dash, Layer, Stroke, Text, moved
from sparwright.plans.lettering import paragraph

CHART_LAYERS = (
    Layer("ground", "the paper"),
    Layer("tone", "bands and areas"),
    Layer("grid", "lines at the figures of the axes", "faint"),
    Layer("hatch", "hatching of tones and of the side of a limit that fails"),
    Layer("frame", "axes, and what is drawn to show where things are", "ink"),
    Layer("leader", "from a word to what it names, and nought of each axis", "rule"),
    Layer("line", "computed lines and limits"),
    Layer("point", "measured points and marks"),
    Layer("note", "lettering"),
)
STYLES: tuple[Dash, ...] = ("solid", "dash", "chain", "dots", "pairs")
MOST = len(STYLES)  # lines in one chart


@dataclass(frozen=True)
class Charting:
    """Every choice of size in a picture, in one record. Millimetres on paper."""

    small: float = number("mm", "height of capitals of figures and words", 2.2)
    middle: float = number("mm", "height of capitals of a chart's head", 2.5)
    large: float = number("mm", "height of capitals of the title", 3.6)
    pitch: float = number("1", "from line to line, in heights of capitals", LOOK.pitch)
    margin: float = number("mm", "round the picture", 8.0)
    between: float = number("mm", "between charts", 9.0)
    gap: float = number("mm", "least clear space round a word beside a line", 0.8)
    tick: float = number("mm", "length of a tick of an axis", 1.2)
    mark: float = number("mm", "half width of a measured point", 0.9)
    fence: float = number("mm", "from hatch stroke to hatch stroke beside a limit", 1.8)
    barb: float = number("mm", "length of a hatch stroke beside a limit, across and along", 1.4)


CHARTING = Charting()


@dataclass(frozen=True)
class Picture:
    """One picture and all that is drawn on it; `words` say what it shows to who cannot see it."""

    title: str
    words: str
    width: float = number("mm", "width")
    height: float = number("mm", "height")
    strokes: tuple[Stroke, ...] = ()

    def on(self, layer: str) -> tuple[Stroke, ...]:
        """The strokes of one layer, in order."""
        return tuple(s for s in self.strokes if s.layer == layer)


@dataclass(frozen=True)
class Heading:
    """What stands above and below every picture."""

    title: str
    state: str = ""  # the state it shows, in a sentence
    origin: str = ""  # family, model, program, file


def line_style(order: int) -> Dash:
    """The dash of the n-th of several lines. Raises DesignProblem past the fifth: a chart has five at most.

    >>> line_style(0), line_style(2)
    ('solid', 'chain')
    """
    if not 0 <= order < MOST:
        raise DesignProblem(f"a chart takes at most {MOST} lines; line {order + 1} has no style")
    return STYLES[order]


def model_styles(models: Sequence[str]) -> dict[str, Dash]:
    """The dash of each model of a family, by its order in the file: the same in every chart."""
    return {name: line_style(i) for i, name in enumerate(models)}


def wing_styles(wings: Sequence[tuple[str, float]]) -> dict[str, Dash]:
    """The dash of each wing of a cell by its waterline (m): upper solid, lower chain, those between dash.

    A fourth and fifth wing take the styles left, from the top down. Raises DesignProblem past five.

    >>> wing_styles([("lower", 0.2), ("upper", 1.5)])
    {'upper': 'solid', 'lower': 'chain'}
    """
    down = [name for name, _ in sorted(wings, key=lambda w: -w[1])]
    line_style(len(down) - 1)
    between: tuple[Dash, ...] = ("dash", "dots", "pairs")
    order = ("solid", *between[: max(len(down) - 2, 0)], "chain")
    return dict(zip(down, order, strict=False))


def words(content: str, at: tuple[float, float], align: str = "left", *, bold: bool = False,
          size: float = CHARTING.small) -> Text:  # fmt: skip
    """A line of lettering in a picture."""
    side = {"left": "left", "middle": "middle", "right": "right"}[align]
    return Text(content, at, size, align=side, bold=bold, layer="note")  # type: ignore[arg-type]


def page(heading: Heading, width: float, body: Sequence[Stroke], low: float, high: float, told: str) -> Picture:
    """A picture: strokes that lie between y = low and y = high, with the heading above and the caution below.

    told: what the picture shows, in words.
    """
    c = CHARTING
    room = width - 2 * c.margin
    foot = f"{heading.origin}. {CAUTION}" if heading.origin else CAUTION
    below, bottom = paragraph(foot, (c.margin, 0.0), c.small, room, c.pitch, layer="note")
    lift = c.margin - bottom
    state, state_tall = paragraph(heading.state, (c.margin, 0.0), c.small, room, c.pitch, layer="note")
    title, title_tall = paragraph(heading.title, (c.margin, 0.0), c.large, room, c.pitch, bold=True, layer="note")
    base = lift + 3.0 - low
    top = base + high + 2.0
    height = top - state_tall - title_tall + c.margin
    strokes = (
        Area(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)), "ground", "ground"),
        *(moved(s, 0.0, base) for s in body),
        *(moved(s, 0.0, lift) for s in below),
        *(moved(s, 0.0, top - state_tall) for s in state),
        *(moved(s, 0.0, height - c.margin) for s in title),
    )
    return Picture(heading.title, told, width, height, strokes)
