"""Blocks onto sheets: rows from the top down, tallest first, white space before clever packing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number


@dataclass(frozen=True)
class Spot:
    """Where one block goes: its upper left corner from the upper left of the clear field, x right, y down."""

    sheet: int
    x: float = number("mm", "to the right")
    y: float = number("mm", "down")


@dataclass
class _Row:
    sheet: int
    y: float
    depth: float
    used: float


def packed(
    sizes: Sequence[tuple[float, float]], width: float, height: float, space: float, names: Sequence[str] = ()
) -> tuple[Spot, ...]:
    """A spot for each (width, height), mm: first row with room, rows by height; the order given breaks ties.

    Raises DesignProblem for one that no empty sheet holds.
    """
    rows: list[_Row] = []
    spots: dict[int, Spot] = {}
    for i in sorted(range(len(sizes)), key=lambda i: (-round(sizes[i][1], 3), i)):
        w, h = sizes[i]
        if w > width + 1e-6 or h > height + 1e-6:
            what = names[i] if names else "a template"
            raise DesignProblem(
                f"{what} needs {w:.0f} × {h:.0f} mm with its notes; the sheet has {width:.0f} × {height:.0f} mm clear"
            )
        row = next((r for r in rows if r.used + space + w <= width + 1e-6 and h <= r.depth + 1e-6), None)
        if row is None:
            row = _new_row(rows, h, height, space)
            rows.append(row)
        x = row.used + space if row.used else 0.0
        spots[i] = Spot(row.sheet, x, row.y)
        row.used = x + w
    return tuple(spots[i] for i in range(len(sizes)))


def _new_row(rows: Sequence[_Row], depth: float, height: float, space: float) -> _Row:
    """Below the lowest row of the first sheet with room, or at the top of a new sheet."""
    last = max((r.sheet for r in rows), default=0)
    for sheet in range(1, last + 1):
        low = max(r.y + r.depth for r in rows if r.sheet == sheet) + space
        if low + depth <= height + 1e-6:
            return _Row(sheet, low, depth, 0.0)
    return _Row(last + 1, 0.0, depth, 0.0)
