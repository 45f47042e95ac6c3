"""Tables over as many pages as they take, a long one going on overleaf, sentences on pages of their own at the end."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence

from sparwright.plans.drawing import DRAFTING, Sheet, Stroke
from sparwright.plans.form import GAP, MARGIN, PAGES, FormTable, bottom, drawn_table, foot
from sparwright.plans.lettering import paragraph
from sparwright.plans.paper import Paper, TitleBlock

HEAD = 26.0  # mm, from the top margin to the first table
LEAST = 3  # rows of a table at the foot of a page: fewer go to the next


def form_pages(
    tables: Sequence[FormTable], head: str, state: Sequence[str], read: str, title: TitleBlock, units: str,
    told: tuple[str, Sequence[str]] = ("", ()),
) -> tuple[Sheet, ...]:  # fmt: skip
    """The pages, letter for who draws in inches, else A4.

    head: what they are; state: what stands on the first; read: how to read them, in the foot; told: a heading with
    sentences, after the tables.
    """
    paper = PAGES[units]
    pages = list(_paged(tables, paper, read))
    name = f"{head}, {title.family} {title.model}"
    last = _told(*told, paper, read)
    total = len(pages) + len(last)
    drawn = [(*_page(t, paper, name, state if i == 0 else ()), *foot(paper, read, title, i + 1, total))
             for i, t in enumerate(pages)]  # fmt: skip
    drawn += [(*strokes, *foot(paper, read, title, len(pages) + i, total)) for i, strokes in enumerate(last, 1)]
    return tuple(Sheet(i, total, name, paper.name, paper.width, paper.height, s) for i, s in enumerate(drawn, 1))


def _paged(tables: Sequence[FormTable], paper: Paper, read: str) -> Iterator[tuple[FormTable, ...]]:
    """The tables that go on each page, in order, a long one going on where it must."""
    wide, high = paper.width - 2 * MARGIN, _room(paper, read)
    held: list[FormTable] = []
    left = high
    queue = list(tables)
    while queue:
        table = queue.pop(0)
        fits = _fitting(table, wide, left)
        if fits == len(table.rows):
            held.append(table)
            left -= table.tall(wide)
            continue
        if fits >= LEAST or (not held and fits):
            held.append(_part(table, 0, fits))
            table = _part(table, fits, len(table.rows), " (on)")
        yield tuple(held)
        held, left = [], high
        queue.insert(0, table)
    if held:
        yield tuple(held)


def _part(table: FormTable, first: int, last: int, more: str = "") -> FormTable:
    name = table.name.removesuffix(" (on)") + more
    return FormTable(name, table.columns, table.rows[first:last], table.first)


def _fitting(table: FormTable, wide: float, room: float) -> int:
    """How many of its first rows fit into that height."""
    if _part(table, 0, 0).tall(wide) - GAP > room:
        return 0
    every = range(1, len(table.rows) + 1)
    return bisect_right(every, room, key=lambda n: _part(table, 0, n).tall(wide) - GAP)


def _room(paper: Paper, read: str) -> float:
    return paper.height - MARGIN - HEAD - bottom(paper, read) - 3.0


def _page(tables: Sequence[FormTable], paper: Paper, name: str, state: Sequence[str]) -> Iterator[Stroke]:
    d, room = DRAFTING, paper.width - 2 * MARGIN
    head, y = paragraph(name, (MARGIN, paper.height - MARGIN), d.middle, room, d.pitch, bold=True)
    yield from head
    for words in state:
        texts, y = paragraph(words, (MARGIN, y), d.small, room, d.pitch)
        yield from texts
    y = paper.height - MARGIN - HEAD
    for table in tables:
        yield from drawn_table(table, paper, y)
        y -= table.tall(room)


def _told(heading: str, sentences: Sequence[str], paper: Paper, read: str) -> list[tuple[Stroke, ...]]:
    """The sentences on pages of their own."""
    d, room, low = DRAFTING, paper.width - 2 * MARGIN, bottom(paper, read) + 4.0
    pages: list[tuple[Stroke, ...]] = []
    strokes: list[Stroke] = []
    y = 0.0
    for sentence in sentences:
        texts, after = paragraph(sentence, (MARGIN, y), d.small, room, d.pitch)
        if not strokes or after < low:
            if strokes:
                pages.append(tuple(strokes))
            top = (MARGIN, paper.height - MARGIN)
            head, y = paragraph(heading, top, d.middle, room, d.pitch, bold=True)
            strokes = [*head]
            texts, after = paragraph(sentence, (MARGIN, y), d.small, room, d.pitch)
        strokes += texts
        y = after - 1.0
    return [*pages, tuple(strokes)] if strokes else []
