"""A printed form: tables with columns to write into, lines after names, the foot with its cautions.

What is filled in by hand stands in the layer "hand". Nothing is smaller than the notes of a sheet.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.base.safety import CAUTION
from sparwright.plans.drawing import DRAFTING, Align, Line, Stroke, Text
from sparwright.plans.lettering import paragraph, width, wrapped
from sparwright.plans.paper import Paper, TitleBlock

MARGIN = 12.7  # mm round the page
ROW, HEAD = 6.5, 6.1  # mm: height of a row, of a line of column titles
GAP = 4.5  # mm between tables
DESCENT = 1.7  # mm from the rule under a row up to its baseline
BETWEEN = 2.0  # mm between columns
PAGES = {"inch": Paper("letter", "letter", 215.9, 279.4), "millimetre": Paper("A4", "A4", 210.0, 297.0)}


@dataclass(frozen=True)
class Column:
    """A column of a table: its title in two lines, the upper one often empty, and its share of the width."""

    title: str
    upper: str = ""
    share: float = number("1", "of the width, against the other columns", 1.0)
    hand: bool = False  # to be written into


@dataclass(frozen=True)
class FormTable:
    """A table: name of the group, columns after the first, and rows of words, the first of each its name."""

    name: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    first: float = number("1", "share of the first column", 3.0)

    @property
    def lines(self) -> int:
        """Lines of column titles."""
        return 2 if any(c.upper for c in self.columns) else 1

    def names(self, wide: float) -> tuple[tuple[str, ...], ...]:
        """The name of each row in lines no longer than its column, of a table `wide` mm."""
        room = wide * self.first / (self.first + sum(c.share for c in self.columns)) - BETWEEN
        return tuple(wrapped(row[0], DRAFTING.small, room) for row in self.rows)

    def tall(self, wide: float) -> float:
        """Height on paper, mm, of a table `wide` mm."""
        return self.lines * HEAD + sum(_high(name) for name in self.names(wide)) + GAP


def _high(name: tuple[str, ...]) -> float:
    """Height of a row, mm, whose name takes so many lines."""
    return ROW + (len(name) - 1) * HEAD


def written(names: Sequence[str], left: float, right: float, y: float) -> Iterator[Stroke]:
    """Names with a line after each, together as wide as the page."""
    size = DRAFTING.small
    long = (right - left - sum(width(n, size) + 2 * BETWEEN for n in names)) / len(names)
    x = left
    for name in names:
        yield Text(name, (x, y + DESCENT), size, layer="hand")
        x += width(name, size) + BETWEEN
        yield Line((x, y), (x + long, y), "hand")
        x += long + BETWEEN


def _edges(table: FormTable, paper: Paper) -> list[float]:
    """Right edges of the columns, the first's first, mm."""
    shares = [table.first, *(c.share for c in table.columns)]
    wide, x, edges = paper.width - 2 * MARGIN, MARGIN, []
    for share in shares:
        x += wide * share / sum(shares)
        edges.append(x)
    return edges


def drawn_table(table: FormTable, paper: Paper, top: float) -> Iterator[Stroke]:
    """Column titles over a thick rule, then the rows, each over a thin one; lines to write on in the hand's columns."""
    edges, size = _edges(table, paper), DRAFTING.small
    y = top - table.lines * HEAD
    yield Text(table.name, (MARGIN, y + DESCENT), size, bold=True)
    for column, left, right in zip(table.columns, edges, edges[1:], strict=False):
        for words, at in ((column.title, y), (column.upper, y + HEAD)):
            if words:
                yield _cell(words, left, right, at, column)
    yield Line((MARGIN, y), (edges[-1], y), "frame", "thick")
    for row, name in zip(table.rows, table.names(paper.width - 2 * MARGIN), strict=True):
        for i, line in enumerate(name):
            yield Text(line, (MARGIN, y - ROW - i * HEAD + DESCENT), size)
        y -= _high(name)
        for words, column, left, right in zip(row[1:], table.columns, edges, edges[1:], strict=False):
            if words:
                yield _cell(words, left, right, y, column)
        yield from _rules(table, edges, y)


def _cell(words: str, left: float, right: float, y: float, column: Column) -> Text:
    align: Align = "middle" if column.hand else "right"
    x = (left + BETWEEN + right) / 2 if column.hand else right
    return Text(words, (x, y + DESCENT), DRAFTING.small, align=align, layer="hand" if column.hand else "note")


def _rules(table: FormTable, edges: Sequence[float], y: float) -> Iterator[Line]:
    plain = [right for c, right in zip(table.columns, edges[1:], strict=True) if not c.hand]
    yield Line((MARGIN, y), (plain[-1], y), "measure")
    for column, left, right in zip(table.columns, edges, edges[1:], strict=False):
        if column.hand:
            yield Line((left + BETWEEN, y), (right, y), "hand")


def foot(paper: Paper, first: str, title: TitleBlock, sheet: int, total: int) -> Iterator[Stroke]:
    """The foot of one of `total` sheets: what stands `first`, the caution, where it comes from."""
    d, room, y = DRAFTING, paper.width - 2 * MARGIN, bottom(paper, first)
    yield Line((MARGIN, y), (paper.width - MARGIN, y), "frame")
    for words in _said(first, f"{title.program}, design file sha256 {title.file_sha256[:12]}", sheet, total):
        texts, y = paragraph(words, (MARGIN, y - 2.0), d.small, room, d.pitch)
        yield from texts


def bottom(paper: Paper, first: str) -> float:
    """y of the rule over the foot, mm: as much room as its words take."""
    d, y = DRAFTING, 0.0
    for words in _said(first, "x" * 60, 100, 100):
        y = paragraph(words, (MARGIN, y - 2.0), d.small, paper.width - 2 * MARGIN, d.pitch)[1]
    return MARGIN - y


def _said(first: str, origin: str, sheet: int, total: int) -> tuple[str, ...]:
    return first, CAUTION, f"Sheet {sheet} of {total}. {origin}"
