"""Tables on a drawing: heads, rows of words, as many columns of the table side by side as its height asks for."""

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
            cells = max((width(r[i], d.small) for r in self.rows), default=0.0)
            found.append(max(cells, width(head, d.small, True)) + 2 * PAD)
        ticks = max(self.tick_wide, width(self.tick, d.small, True) + 2 * PAD)
        return (*found, ticks) if self.tick else tuple(found)


@dataclass(frozen=True)
class SetTable:
    """A table as it stands on the sheet."""

    strokes: tuple[Stroke, ...]
    box: Box


def stacks(table: Ruled, tall: float) -> int:
    """How many stacks side by side a table takes in a height, mm. DesignProblem where not even a row fits."""
    rows = math.floor((tall - TITLE - ROW) / ROW)
    if rows < 1:
        raise DesignProblem(f"no room for the table {table.title!r}")
    return max(1, math.ceil(len(table.rows) / rows))


def wide(table: Ruled, tall: float) -> float:
    """Its width, mm, in a height."""
    n = stacks(table, tall)
    return n * sum(table.widths) + (n - 1) * APART


def ruled(table: Ruled, left: float, top: float, tall: float) -> SetTable:
    """The table with its upper left corner at (left, top), no taller than `tall` mm, its stacks of even height."""
    n = stacks(table, tall)
    each = math.ceil(len(table.rows) / n)
    strokes: list[Stroke] = [Text(table.title, (left, top - DRAFTING.middle), DRAFTING.middle, bold=True)]
    x, low = left, top
    for i in range(n):
        rows = table.rows[i * each : (i + 1) * each]
        strokes += _stack(table, rows, x, top - TITLE)
        low = min(low, top - TITLE - (len(rows) + 1) * ROW)
        x += sum(table.widths) + APART
    return SetTable(tuple(strokes), Box(left, low, x - APART, top))


def _stack(table: Ruled, rows: Sequence[tuple[str, ...]], left: float, top: float) -> Iterator[Stroke]:
    heads = (*table.heads, table.tick) if table.tick else table.heads
    end = left + sum(table.widths)
    for i in range(len(rows) + 2):
        yield Line((left, top - i * ROW), (end, top - i * ROW), "frame", "thick" if i < 2 else "thin")
    x, low = left, top - (len(rows) + 1) * ROW
    for i, wide_ in enumerate((*table.widths, 0.0)):
        hand = table.tick != "" and i == len(table.heads)
        yield Line((x, top), (x, low), "frame")
        if i == len(heads):
            break
        yield Text(
            heads[i], (x + PAD, top - ROW + DESCENT), DRAFTING.small, bold=True, layer="hand" if hand else "note"
        )
        for k, row in enumerate(rows if not hand else ()):
            base = top - (k + 2) * ROW + DESCENT
            figures = i < len(table.right) and table.right[i]
            at = (x + wide_ - PAD, base) if figures else (x + PAD, base)
            yield Text(row[i], at, DRAFTING.small, align="right" if figures else "left")
        x += wide_
