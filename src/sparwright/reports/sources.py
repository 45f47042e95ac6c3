"""The sources a report cites: every key that stands in its working, its tables or its words, with title and year."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from sparwright.base.check import Step
from sparwright.data.loader import sources
from sparwright.reports.page import Block, Column, Link, Paragraph, Section, Steps, Table, Working

WORD = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


def sources_section(blocks: Iterable[Block]) -> Section:
    """Section 10, from all that stands before it."""
    cited = cited_in(" ".join(t for b in blocks for t in texts(b)))
    rows = tuple((k, sources()[k].author, sources()[k].title, str(sources()[k].year)) for k in cited)
    columns = (
        Column("key", share=1.2),
        Column("author", share=1.5),
        Column("title", share=3.0),
        Column("year", share=0.0),
    )
    return Section("Sources cited", (Table(columns, rows) if rows else Paragraph("None."),))


def cited_in(text: str) -> tuple[str, ...]:
    """Keys of sources in a text, sorted.

    >>> cited_in("bruhn C4 (memory); see cs-vla 337(a) and no other")
    ('bruhn', 'cs-vla')
    """
    known = sources()
    return tuple(sorted({w for w in WORD.findall(text) if w in known}))


def texts(block: Block) -> Iterator[str]:
    """Every word of a block that may hold a source."""
    match block:
        case Paragraph():
            yield block.text
        case Table():
            for row in block.rows:
                yield from (c.text if isinstance(c, Link) else c for c in row if isinstance(c, str | Link))
        case Steps():
            yield from _of_steps(block.steps)
        case Working():
            c = block.check
            yield from (c.rule, c.method, c.caveat)
            yield from _of_steps((*c.steps, *block.by_hand))


def _of_steps(steps: Iterable[Step]) -> Iterator[str]:
    for s in steps:
        yield from (s.source, s.formula)
