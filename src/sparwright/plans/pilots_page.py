"""The pilot's performance sheet as printed pages: tables in large type, with places to write what was flown.

Figures come as words, in the designer's units (output/pilots_tables.py). Nothing is smaller than the notes of a sheet:
it is read in a cockpit. Every page carries the caution, and says for whom and when it was flown.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sparwright.base.problem import DesignProblem
from sparwright.plans.drawing import DRAFTING, Sheet, Stroke
from sparwright.plans.form import GAP, MARGIN, PAGES, ROW, FormTable, bottom, drawn_table, foot, written
from sparwright.plans.lettering import paragraph
from sparwright.plans.paper import Paper, TitleBlock

PLACES = (("Serial", "Date", "Pilot"), ("Mass", "Pressure altitude", "Temperature", "Wind"))
READ = (
    "Plan with: the worse end. Speeds true, of the stall calibrated. Cruise keeps the reserve. "
    "A dash: not known, the table beside this sheet says why. Fields: firm, dry and level."
)


@dataclass(frozen=True)
class Section:
    """What is told for one day: it begins on a page of its own."""

    title: str
    state: str
    tables: tuple[FormTable, ...]


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


def _parts(section: Section, paper: Paper) -> Iterator[tuple[FormTable, ...]]:
    """The tables that go on each page, in order."""
    top, low = _top(section, paper)[1], bottom(paper, READ)
    room, wide, held = top - low, paper.width - 2 * MARGIN, list[FormTable]()
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
        yield from drawn_table(table, paper, y)
        y -= table.tall(paper.width - 2 * MARGIN)
    yield from foot(paper, READ, title, sheet, total)


def _top(section: Section, paper: Paper) -> tuple[tuple[Stroke, ...], float]:
    """Title, state and the places to write; y where the tables begin."""
    d, room = DRAFTING, paper.width - 2 * MARGIN
    head, y = paragraph(section.title, (MARGIN, paper.height - MARGIN), d.large, room, d.pitch, bold=True)
    state, y = paragraph(section.state, (MARGIN, y), d.small, room, d.pitch)
    strokes: list[Stroke] = [*head, *state]
    y -= 2.0
    for places in PLACES:
        y -= ROW + 1.0
        strokes += written(places, MARGIN, paper.width - MARGIN, y)
    return tuple(strokes), y - GAP
