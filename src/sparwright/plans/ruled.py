"""Tables on a drawing: heads, rows of words, as many columns of the table side by side as its height asks for.

A cell may have several lines; its row is as tall as the longest of its cells.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.plans.drawing import DRAFTING, Box, Line, Stroke, Text
from sparwright.plans.lettering import width

ROW = 6.2  # mm from row to row
PAD = 1.8  # mm beside the words of a cell
TITLE = 8.5  # mm for the title of a table
APART = 8.0  # mm between two stacks of one table
DESCENT = 1.9  # mm from a rule up to the baseline over it


@dataclass(frozen=True)
class Ruled:
    """A table: its title, heads of its columns, rows; `right` says which columns are figures."""

    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    right: tuple[bool, ...] = ()
    tick: str = ""  # head of an empty last column for ticks and as-built sizes; none where empty
    tick_wide: float = number("mm", "width of that column", 22.0)

    @property
    def widths(self) -> tuple[float, ...]:
        """Width of each column, mm, the column to write in among them."""
        d = DRAFTING
        found = []
        for i, head in enumerate(self.heads):
            cells = max((width(c, d.small) for r in self.rows for c in r[i].split("\n")), default=0.0)
            found.append(max(cells, width(head, d.small, True)) + 2 * PAD)
        ticks = max(self.tick_wide, width(self.tick, d.small, True) + 2 * PAD)
        return (*found, ticks) if self.tick else tuple(found)


@dataclass(frozen=True)
class SetTable:
    """A table as it stands on the sheet."""

    strokes: tuple[Stroke, ...]
    box: Box


def stacks(table: Ruled, tall: float) -> list[tuple[tuple[str, ...], ...]]:
    """The rows of a table in as few stacks side by side as a height, mm, asks for, as even as they come.

    DesignProblem where its tallest row does not fit.
    """
    room = math.floor((tall - TITLE - ROW) / ROW + 1e-9)
    if room < max((_lines(r) for r in table.rows), default=1):
        raise DesignProblem(f"no room for the table {table.title!r}")
    fewest = len(_filled(table.rows, room))
    even = math.ceil(sum(_lines(r) for r in table.rows) / fewest)
    return next(made for each in range(even, room + 1) if len(made := _filled(table.rows, each)) == fewest)


def _lines(row: tuple[str, ...]) -> int:
    return max(cell.count("\n") for cell in row) + 1


def _filled(rows: Sequence[tuple[str, ...]], each: int) -> list[tuple[tuple[str, ...], ...]]:
    """Rows in their order, stack by stack, as long as there are lines left in it; one stack at least."""
    made: list[list[tuple[str, ...]]] = [[]]
    for row in rows:
        if made[-1] and sum(map(_lines, made[-1])) + _lines(row) > each:
            made.append([])
        made[-1].append(row)
    return [tuple(m) for m in made]


def wide(table: Ruled, tall: float) -> float:
    """Its width, mm, in a height."""
    n = len(stacks(table, tall))
    return n * sum(table.widths) + (n - 1) * APART


def ruled(table: Ruled, left: float, top: float, tall: float) -> SetTable:
    """The table with its upper left corner at (left, top), no taller than `tall` mm, its stacks of even height."""
    strokes: list[Stroke] = [Text(table.title, (left, top - DRAFTING.middle), DRAFTING.middle, bold=True)]
    x, low = left, top
    for rows in stacks(table, tall):
        strokes += _stack(table, rows, x, top - TITLE)
        low = min(low, top - TITLE - (sum(map(_lines, rows)) + 1) * ROW)
        x += sum(table.widths) + APART
    return SetTable(tuple(strokes), Box(left, low, x - APART, top))


def _stack(table: Ruled, rows: Sequence[tuple[str, ...]], left: float, top: float) -> Iterator[Stroke]:
    heads = (*table.heads, table.tick) if table.tick else table.heads
    rules = [0, 1]  # lines of words above each rule
    for row in rows:
        rules.append(rules[-1] + _lines(row))
    end = left + sum(table.widths)
    for i, above in enumerate(rules):
        yield Line((left, top - above * ROW), (end, top - above * ROW), "frame", "thick" if i < 2 else "thin")
    x, low = left, top - rules[-1] * ROW
    for i, wide_ in enumerate((*table.widths, 0.0)):
        hand = table.tick != "" and i == len(table.heads)
        yield Line((x, top), (x, low), "frame")
        if i == len(heads):
            break
        yield Text(
            heads[i], (x + PAD, top - ROW + DESCENT), DRAFTING.small, bold=True, layer="hand" if hand else "note"
        )
        figures = i < len(table.right) and table.right[i]
        for above, row in zip(rules[1:], rows if not hand else (), strict=False):
            for k, words in enumerate(row[i].split("\n"), 1):
                base = top - (above + k) * ROW + DESCENT
                at = (x + wide_ - PAD, base) if figures else (x + PAD, base)
                yield Text(words, at, DRAFTING.small, align="right" if figures else "left")
        x += wide_
