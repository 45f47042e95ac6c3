"""Full-size patterns to wrap round the ends of tubes, each with its cutting table, and the table of all tubes.

A pattern lies with its lower edge on the base line, a line round the tube square to it, and its zero mark on the line
scribed along the tube. Its upper edge is where the tube begins. x = r a to the right, y up from the base line.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np
import shapely

from sparwright.base.quantity import inches
from sparwright.parts.tube_ends import Pattern, Served, TubeRow
from sparwright.plans.drawing import CHORD_ERROR, DRAFTING, Box, Line, Point, Polyline, Sheet, Stroke, Text
from sparwright.plans.lettering import paragraph, width, wrapped
from sparwright.plans.paper import FAR, TitleBlock, both_units
from sparwright.plans.sheets import laid, pack
from sparwright.plans.template import Block, extent
from sparwright.plans.tube_table import tables
from sparwright.shape.tube_end import angles

SPACE = 8.0  # mm of white between patterns: each is cut out whole
LAP = 12.0  # mm of paper beyond the seam
SLOPE = 3.0  # mm the lap is lower, so that it does not hide the edge
LABELS = 8.0  # mm at the lower edge for the marks of the quarters
PITCH = 5.4  # mm from line to line on the pattern and in its table
EVERY = 22.5  # deg between rows of the table
ROWS = 8  # in a column of the table
COLUMNS = (13.0, 32.0, 45.0)  # mm to the right ends of angle, inches, millimetres
KIND = "tube-ends"
TITLE = "Tube ends, full size"
AXES = "Angles: anticlockwise, looking at the cut end"
LEGEND = (
    "Cut the paper along the solid lines. Lower edge on the base line round the tube, 0 on the line scribed along "
    "it, printed side out, seam to seam; mark the upper edge, cut square through the wall, line gone. Turned over: "
    "printed side in, for the mirror image; its angles run clockwise. Girth: 3.1416 × the diameter; measure the tube. "
    "Paper is short at the seam by 3 × its thickness: share that out."
)


def end_sheets(patterns: Sequence[Pattern], rows: Sequence[TubeRow], papers: Sequence[str], title: TitleBlock
               ) -> tuple[Sheet, ...]:  # fmt: skip
    """All patterns of coped tube ends, then the table of all tubes (parts.tube_ends), on each paper; none of no tubes.

    The same tubes give the same sheets. Raises DesignProblem for a paper we do not have.
    """
    title = replace(title, title=TITLE, axes=AXES, legend=LEGEND)
    blocks = [pattern_block(p, f"P{i + 1}") for i, p in enumerate(patterns)]
    return tuple(s for p in papers for s in _on(p, patterns, rows, blocks, title)) if rows else ()


def _on(paper_name: str, patterns: Sequence[Pattern], rows: Sequence[TubeRow], blocks: Sequence[Block],
        title: TitleBlock) -> tuple[Sheet, ...]:  # fmt: skip
    """The sheets of one paper."""
    where = pack(blocks, paper_name, SPACE, nest=True)
    key = {p.number: (f"P{i + 1}", where.sheet[i]) for i, p in enumerate(patterns)}
    listed = tables(rows, key, paper_name)
    behind = pack(listed, paper_name)
    total = where.total + behind.total
    return (*laid(blocks, where, title, KIND, 1, total), *laid(listed, behind, title, KIND, where.total + 1, total))


def pattern_block(pattern: Pattern, key: str) -> Block:
    """One pattern with its words above and its cutting table at its right."""
    half, (top, _) = 500 * pattern.end.girth, _upper(pattern)
    drawn = (*_outline(pattern), *_quarters(pattern), *_name_on_paper(pattern, key))
    at = (half + LAP + 8.0, max(top, (ROWS + 2) * PITCH))
    table = tuple(_table(pattern, at))
    right = at[0] + 2 * COLUMNS[-1] + 6.0
    words = _words(pattern, key)
    lines = [t for w, bold in words for t in _lines(w, right + half, bold)]
    y = max(top, at[1]) + 3.0 + len(lines) * PITCH
    head = [Text(line, (-half, y - (i + 1) * PITCH + 1.5), DRAFTING.small, bold=bold)
            for i, (line, bold) in enumerate(lines)]  # fmt: skip
    strokes = (*head, *drawn, *table)
    served = tuple(dict.fromkeys(s.part for s in pattern.served))
    return Block(pattern.number, 1, 1, strokes, Box(*extent(strokes)), served)


def edge(pattern: Pattern) -> np.ndarray:
    """(n, 2) mm the upper edge laid out, from half a turn before the zero line to half a turn after."""
    turn = angles(len(pattern.end.cut))
    half = len(turn) // 2
    x = 1000 * pattern.end.radius * np.concatenate([turn[half:] - 2 * np.pi, turn[: half + 1]])
    y = 1000 * (pattern.base - np.concatenate([pattern.end.cut[half:], pattern.end.cut[: half + 1]]))
    return np.column_stack([x, y])


def _upper(pattern: Pattern) -> tuple[float, float]:
    """Highest and lowest of the upper edge, mm over the base line."""
    cut = pattern.end.cut
    return 1000 * (pattern.base - float(cut.min())), 1000 * (pattern.base - float(cut.max()))


def _outline(pattern: Pattern) -> Iterator[Stroke]:
    line = shapely.LineString(edge(pattern)).simplify(CHORD_ERROR)
    points: list[Point] = [(float(x), float(y)) for x, y in line.coords]
    (left, _), (right, seam) = points[0], points[-1]
    yield Polyline(((left, 0.0), (right + LAP, 0.0), (right + LAP, seam - SLOPE), *reversed(points)), "cut", True)
    yield Line((right, 0.0), (right, seam), "mark", dash="chain")
    yield Text("lap", (right + LAP / 2 + 1.7, LABELS), DRAFTING.small, 90.0)


def _quarters(pattern: Pattern) -> Iterator[Stroke]:
    """The zero line and the quarters, open where the name stands; a label at the foot of each that has room."""
    quarter, n = 250 * pattern.end.girth, len(pattern.end.cut)
    free = 1000 * (pattern.base - float(pattern.end.cut.max())) - 2.0
    for i, words in ((-2, "180"), (-1, "270"), (0, "0°"), (1, "90"), (2, "")):
        x, top = i * quarter, 1000 * (pattern.base - float(pattern.end.cut[(i * n // 4) % n]))
        if abs(i) < 2:
            weight, dash = ("thick", "solid") if i == 0 else ("thin", "chain")
            yield Line((x, 0.0), (x, LABELS), "mark", weight, dash)  # type: ignore[arg-type]
            yield Line((x, free), (x, top), "mark", weight, dash)  # type: ignore[arg-type]
        room = quarter - 2.5
        words = words if width(words, DRAFTING.small, i == 0) < room else "0" if i == 0 else ""
        if words:
            yield Text(words, (x + 1.2, 2.0), DRAFTING.small, bold=i == 0, layer="mark")


def _name_on_paper(pattern: Pattern, key: str) -> Iterator[Stroke]:
    """Key and number on the paper itself, between the labels and the deepest cut."""
    room = 1000 * pattern.end.girth - 3.0
    free = 1000 * (pattern.base - float(pattern.end.cut.max())) - 2.0 - LABELS
    first = pattern.served[0]
    words = f"{key} {short(first.part)} at {first.node}"
    lines = wrapped(words, DRAFTING.small, room)[: int(free // PITCH)]
    for i, line in enumerate(lines):
        y = LABELS + 2.0 + (len(lines) - 1 - i) * PITCH
        yield Text(line, (1.5 - 500 * pattern.end.girth, y), DRAFTING.small)


def short(part: str) -> str:
    """A tube's number without the model and the word that says it is one.

    >>> short("W1-fuselage-TUBE-A1R-A2R")
    'fuselage A1R-A2R'
    """
    return part.split("-", 1)[-1].replace("-TUBE-", " ")


def _lines(words: str, room: float, bold: bool) -> list[tuple[str, bool]]:
    return [(line, bold) for line in wrapped(words, DRAFTING.small, room, bold)]


def _words(pattern: Pattern, key: str) -> tuple[tuple[str, bool], ...]:
    """What stands above a pattern."""
    girth = pattern.end.girth
    as_is, over = ([s for s in pattern.served if getattr(s, way)] for way in ("drawn", "turned"))
    return (
        (f"{key} · {pattern.number.replace(' · ', ' at ')} · {pattern.section}", True),
        (f"Working point {both_units(pattern.base)} beyond base line. Girth {1000 * girth:.2f} mm.", False),
        *(((f"As printed {sum(s.drawn for s in as_is)}: {_served(as_is)}", False),) if as_is else ()),
        *(((f"Turned over {sum(s.turned for s in over)}, mirror image: {_served(over)}", False),) if over else ()),
    )  # fmt: skip


def _served(ends: Sequence[Served]) -> str:
    """Which tubes' ends, each with its node."""
    return "; ".join(f"{short(s.part)} at {s.node}" for s in ends)


def _table(pattern: Pattern, at: Point) -> Iterator[Stroke]:
    """Heights of the edge over the base line, every EVERY degrees, in two columns; `at` is its upper left corner."""
    x, y = at
    yield from paragraph("Cut edge up from the base line", (x, y), DRAFTING.small, 200.0, DRAFTING.pitch)[0]
    for column in (0, 1):
        left = x + column * (COLUMNS[-1] + 6.0)
        for words, right in zip(("angle", "″", "mm"), COLUMNS, strict=True):
            yield Text(words, (left + right, y - 2 * PITCH + 1.5), DRAFTING.small, align="right")
        yield Line((left, y - 2 * PITCH), (left + COLUMNS[-1], y - 2 * PITCH), "note")
        for row in range(ROWS):
            angle = EVERY * (column * ROWS + row)
            up = pattern.base - pattern.end.at(math.radians(angle))
            cells = (f"{angle:g}°", inches(up, FAR).rstrip("″"), f"{1000 * up:.1f}")
            for words, right in zip(cells, COLUMNS, strict=True):
                yield Text(words, (left + right, y - (row + 3) * PITCH + 1.3), DRAFTING.small, align="right")
