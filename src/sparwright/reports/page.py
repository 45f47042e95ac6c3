"""What a report is made of: sections of paragraphs, tables, pictures and workings. Numbers stay numbers, in SI.

A writer shows a number in the designer's unit with SI behind it; nothing here rounds or formats one.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sparwright.base.check import Check, Step, Verdict
from sparwright.base.record import number
from sparwright.charts.page import Picture

PART = "part"  # unit of a column whose ratios are shown in per cent without a sign; "%" is a margin's
Kind = Literal["plain", "note", "caution"]


@dataclass(frozen=True)
class Amount:
    """A number in a table; its unit stands in the head of its column, or beside it where each row has its own."""

    value: float = number("SI", "in the column's unit or its own; NaN is shown as unknown")
    unit: str = ""  # its own, SI
    before: str = ""  # words: "at most"


@dataclass(frozen=True)
class Mark:
    """A verdict in a table: its mark and its word."""

    verdict: Verdict


@dataclass(frozen=True)
class Link:
    """Words that lead to the working of a check, with its page, where the report has it."""

    text: str
    id: str
    under: str = ""  # a second line


Cell = str | Amount | Mark | Link


@dataclass(frozen=True)
class Column:
    """One column. `unit` is the SI unit of its numbers; "%" shows a margin in per cent, PART a ratio."""

    title: str
    unit: str = ""
    share: float = number("1", "of the width, beside the other columns; nought: as wide as it needs", 1.0)
    figures: bool = False  # set to the right


@dataclass(frozen=True)
class Paragraph:
    """Running text."""

    text: str
    kind: Kind = "plain"


@dataclass(frozen=True)
class Table:
    """Rows under a head that is repeated on every page."""

    columns: tuple[Column, ...]
    rows: tuple[tuple[Cell, ...], ...]
    caption: str = ""


@dataclass(frozen=True)
class Figure:
    """A picture and what it shows."""

    picture: Picture
    caption: str = ""


@dataclass(frozen=True)
class Steps:
    """Lines of working under a head: formula, numbers put in, result, source."""

    title: str
    steps: tuple[Step, ...]


@dataclass(frozen=True)
class Working:
    """A check with its whole working."""

    check: Check
    by_hand: tuple[Step, ...] = ()
    note: str = ""  # what is to be said of the working itself


Block = Paragraph | Table | Figure | Steps | Working


@dataclass(frozen=True)
class Section:
    """A numbered section; the writer numbers it."""

    title: str
    blocks: tuple[Block, ...] = ()
    sections: tuple[Section, ...] = ()

    def all_blocks(self) -> Iterator[Block]:
        """Its blocks and those of the sections in it, in order."""
        yield from self.blocks
        for inner in self.sections:
            yield from inner.all_blocks()


@dataclass(frozen=True, kw_only=True)
class Paper:
    """A whole report."""

    family: str
    model: str
    title: str
    state: str  # the verdict in words
    verdict: Verdict
    facts: tuple[tuple[str, Cell, str], ...]  # what, value, SI unit: the title page's table
    units: str  # "inch" or "millimetre"
    program: str
    file_sha256: str
    sections: tuple[Section, ...] = ()

    def blocks(self) -> Iterator[Block]:
        """Every block, in order."""
        for section in self.sections:
            yield from section.all_blocks()
