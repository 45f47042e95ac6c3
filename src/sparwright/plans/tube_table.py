"""The table of all tubes beside their patterns: how long, which line is the zero line, which pattern at which end."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from sparwright.base.quantity import inches, millimetres
from sparwright.parts.tube_ends import TubeRow
from sparwright.plans.drawing import DRAFTING, Align, Box, Line, Stroke, Text
from sparwright.plans.lettering import width, wrapped
from sparwright.plans.paper import FAR, field_of, paper
from sparwright.plans.template import Block, extent

ROW = 5.6  # mm
GAP = 4.0  # mm between columns
# title and side of each column
COLUMNS: tuple[tuple[str, Align], ...] = (
    ("tube", "left"), ("size, inch", "left"), ("zero line", "left"), ("point to point ″", "right"), ("mm", "right"),
    ("end to end ″", "right"), ("mm", "right"), ("base to base ″", "right"), ("mm", "right"), ("start", "left"),
    ("end", "left"),
)  # fmt: skip
FOOT = (
    "Zero line: scribed along the tube where it is nearest to up, or to forward on a tube that stands steeper than "
    "60°; one line for both ends. Point to point: between the working points, along the middle line. End to end: over "
    "the longest line, as cut from stock. Base to base: between the base lines of the two patterns. Bent tubes: "
    "lengths along the middle line of the bent tube; mark the bases after bending. P7 s2: pattern 7 on sheet 2; o: "
    "paper turned over. Tubes that are not named here, such as bushes, hubs and rods, are drawn with square ends: see "
    "the cut list."
)


def tables(rows: Sequence[TubeRow], key: Mapping[str, tuple[str, int]], paper_name: str) -> list[Block]:
    """The table in blocks no higher than a sheet. `key` names each pattern: its mark and the sheet it is on."""
    cells = [tuple(title for title, _ in COLUMNS), *(_cells(r, key) for r in rows)]
    edges = _edges(cells)
    foot = wrapped(FOOT, DRAFTING.small, edges[-1])
    many = int((field_of(paper(paper_name)).height - 1.0 - ROW * (2 + len(foot))) // ROW)
    body = cells[1:]
    parted = [body[i : i + many] for i in range(0, len(body), many)]
    return [_table((cells[0], *some), edges, foot, i + 1) for i, some in enumerate(parted)]


def _edges(cells: Sequence[tuple[str, ...]]) -> list[float]:
    """Left edge of each column, mm, and the right edge of the last."""
    found = [0.0]
    for column in zip(*cells, strict=True):
        found.append(found[-1] + max(width(words, DRAFTING.small) for words in column) + GAP)
    return found


def _table(cells: Sequence[tuple[str, ...]], edges: Sequence[float], foot: Sequence[str], number: int) -> Block:
    strokes = [s for k, row in enumerate(cells) for s in _row(row, edges, -(k + 1) * ROW)]
    strokes += [Line((0.0, -ROW - 1.4), (edges[-1], -ROW - 1.4), "note", "thick")]
    strokes += [Text(words, (0.0, -(len(cells) + k + 1.5) * ROW), DRAFTING.small) for k, words in enumerate(foot)]
    return Block(f"table of tubes {number}", 1, 1, tuple(strokes), Box(*extent(strokes)))


def _row(cells: Sequence[str], edges: Sequence[float], y: float) -> Iterator[Stroke]:
    for words, (_, align), left, right in zip(cells, COLUMNS, edges[:-1], edges[1:], strict=True):
        if words:
            yield Text(words, (left if align == "left" else right - GAP, y), DRAFTING.small, align=align)


def _cells(row: TubeRow, key: Mapping[str, tuple[str, int]]) -> tuple[str, ...]:
    zero = f"{row.zero}, {row.bends} bend{'s' * (row.bends > 1)}" if row.bends else row.zero
    figures: list[str] = []
    for metres in (row.between, row.whole, row.bases):
        figures += ("–", "") if math.isnan(metres) else (inches(metres, FAR).rstrip("″"), millimetres(metres)[:-3])
    section = getattr(row.part.shape, "section", "")
    return (row.part.number, section.replace(" in", ""), zero, *figures, *(_end(e, key) for e in row.ends))


def _end(words: str, key: Mapping[str, tuple[str, int]]) -> str:
    """ "P17 s3 o" for pattern 17 on sheet 3, turned over."""
    number, _, over = words.partition(", ")
    if number not in key:
        return words
    mark, sheet = key[number]
    return f"{mark} s{sheet}{' o' * bool(over)}"
