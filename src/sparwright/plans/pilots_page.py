"""The pilot's performance sheet as printed pages: tables in large type, with places to write what was flown.

Figures come as words, in the designer's units (output/pilots_tables.py). Nothing is smaller than the notes of a sheet:
it is read in a cockpit. Every page carries the caution, and says for whom and when it was flown.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.base.safety import CAUTION
from sparwright.plans.drawing import DRAFTING, Align, Line, Sheet, Stroke, Text
from sparwright.plans.lettering import paragraph, width, wrapped
from sparwright.plans.paper import Paper, TitleBlock

MARGIN = 12.7  # mm round the page
ROW, HEAD = 6.5, 6.1  # mm: height of a row, of a line of column titles
GAP = 4.5  # mm between tables
DESCENT = 1.7  # mm from the rule under a row up to its baseline
BETWEEN = 2.0  # mm between columns
PLACES = (("Serial", "Date", "Pilot"), ("Mass", "Pressure altitude", "Temperature", "Wind"))
READ = (
    "Plan with: the worse end. Speeds true, of the stall calibrated. Cruise keeps the reserve. "
    "A dash: not known, the table beside this sheet says why. Fields: firm, dry and level."
)
PAGES = {"inch": Paper("letter", "letter", 215.9, 279.4), "millimetre": Paper("A4", "A4", 210.0, 297.0)}


@dataclass(frozen=True)
class Column:
    """A column of a table: its title in two lines, the upper one often empty, and its share of the width."""

    title: str
    upper: str = ""
    share: float = number("1", "of the width, against the other columns", 1.0)
    hand: bool = False  # to be written into


@dataclass(frozen=True)
class PilotTable:
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


@dataclass(frozen=True)
class Section:
    """What is told for one day: it begins on a page of its own."""

    title: str
    state: str
    tables: tuple[PilotTable, ...]


def pilots_pages(sections: Sequence[Section], title: TitleBlock, units: str) -> tuple[Sheet, ...]:
    """The pages, letter for who draws in inches, else A4. DesignProblem where a table is too tall for one."""
    paper = PAGES[units]
    pages = [(s, part) for s in sections for part in _parts(s, paper)]
    name = f"Pilot's sheet, {title.family} {title.model}"
    return tuple(
        Sheet(i, len(pages), name, paper.name, paper.width, paper.height,
              tuple(_page(replace(s, tables=part), paper, title, i, len(pages))))
        for i, (s, part) in enumerate(pages, 1)
    )  # fmt: skip


def _parts(section: Section, paper: Paper) -> Iterator[tuple[PilotTable, ...]]:
    """The tables that go on each page, in order."""
    top, bottom = _top(section, paper)[1], _bottom(paper)
    room, wide, held = top - bottom, paper.width - 2 * MARGIN, list[PilotTable]()
    for table in section.tables:
        if table.tall(wide) - GAP > room:
            raise DesignProblem(f"the table {table.name!r} with {len(table.rows)} rows is too tall for {paper.title}")
        if held and sum(t.tall(wide) for t in held) + table.tall(wide) - GAP > room:
            yield tuple(held)
            held = []
        held.append(table)
    if held:
        yield tuple(held)


def _page(section: Section, paper: Paper, title: TitleBlock, sheet: int, total: int) -> Iterator[Stroke]:
    strokes, y = _top(section, paper)
    yield from strokes
    for table in section.tables:
        yield from _table(table, paper, y)
        y -= table.tall(paper.width - 2 * MARGIN)
    yield from _foot(paper, title, sheet, total)


def _top(section: Section, paper: Paper) -> tuple[tuple[Stroke, ...], float]:
    """Title, state and the places to write; y where the tables begin."""
    d, room = DRAFTING, paper.width - 2 * MARGIN
    head, y = paragraph(section.title, (MARGIN, paper.height - MARGIN), d.large, room, d.pitch, bold=True)
    state, y = paragraph(section.state, (MARGIN, y), d.small, room, d.pitch)
    strokes: list[Stroke] = [*head, *state]
    y -= 2.0
    for places in PLACES:
        y -= ROW + 1.0
        strokes += _written(places, MARGIN, paper.width - MARGIN, y)
    return tuple(strokes), y - GAP


def _written(names: Sequence[str], left: float, right: float, y: float) -> Iterator[Stroke]:
    """Names with a line after each, together as wide as the page."""
    size = DRAFTING.small
    long = (right - left - sum(width(n, size) + 2 * BETWEEN for n in names)) / len(names)
    x = left
    for name in names:
        yield Text(name, (x, y + DESCENT), size, layer="hand")
        x += width(name, size) + BETWEEN
        yield Line((x, y), (x + long, y), "hand")
        x += long + BETWEEN


def _edges(table: PilotTable, paper: Paper) -> list[float]:
    """Right edges of the columns, the first's first, mm."""
    shares = [table.first, *(c.share for c in table.columns)]
    wide, x, edges = paper.width - 2 * MARGIN, MARGIN, []
    for share in shares:
        x += wide * share / sum(shares)
        edges.append(x)
    return edges


def _table(table: PilotTable, paper: Paper, top: float) -> Iterator[Stroke]:
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


def _rules(table: PilotTable, edges: Sequence[float], y: float) -> Iterator[Line]:
    plain = [right for c, right in zip(table.columns, edges[1:], strict=True) if not c.hand]
    yield Line((MARGIN, y), (plain[-1], y), "measure")
    for column, left, right in zip(table.columns, edges, edges[1:], strict=False):
        if column.hand:
            yield Line((left + BETWEEN, y), (right, y), "hand")


def _foot(paper: Paper, title: TitleBlock, sheet: int, total: int) -> Iterator[Stroke]:
    d, room = DRAFTING, paper.width - 2 * MARGIN
    y = _bottom(paper)
    yield Line((MARGIN, y), (paper.width - MARGIN, y), "frame")
    for words in _said(title, sheet, total):
        texts, y = paragraph(words, (MARGIN, y - 2.0), d.small, room, d.pitch)
        yield from texts


def _said(title: TitleBlock | None, sheet: int, total: int) -> tuple[str, ...]:
    origin = f"{title.program}, design file sha256 {title.file_sha256[:12]}" if title else "x" * 60
    return READ, CAUTION, f"Sheet {sheet} of {total}. {origin}"


def _bottom(paper: Paper) -> float:
    """y of the rule over the foot, mm: as much room as its words take."""
    d, y = DRAFTING, 0.0
    for words in _said(None, 10, 10):
        y = paragraph(words, (MARGIN, y - 2.0), d.small, paper.width - 2 * MARGIN, d.pitch)[1]
    return MARGIN - y
