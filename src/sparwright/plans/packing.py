"""Blocks onto sheets: rows from the top down, tallest first, white space before clever packing.

Where many small blocks go with a few large ones, rows would leave most of a sheet empty; `nested` fills the room beside
and below them too: each block, largest side first, goes into the free rectangle it leaves least of, on the first sheet
that has one. What is left of the free rectangles it touches is again rectangles, as large as they may be.
"""

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


Free = tuple[float, float, float, float]  # left, top, right, bottom, mm, x right and y down
EXACT = 1e-6  # mm


def nested(
    sizes: Sequence[tuple[float, float]], width: float, height: float, space: float, names: Sequence[str] = ()
) -> tuple[Spot, ...]:
    """A spot for each (width, height), mm, in any free rectangle; the order given breaks ties.

    Raises DesignProblem for one that no empty sheet holds.
    """
    sheets: list[list[Free]] = []
    spots: dict[int, Spot] = {}
    for i in sorted(range(len(sizes)), key=lambda i: (-round(max(sizes[i]), 3), -round(min(sizes[i]), 3), i)):
        w, h = sizes[i]
        if w > width + EXACT or h > height + EXACT:
            what = names[i] if names else "a template"
            raise DesignProblem(
                f"{what} needs {w:.0f} × {h:.0f} mm with its notes; the sheet has {width:.0f} × {height:.0f} mm clear"
            )
        sheet, at = next(((n, f) for n, free in enumerate(sheets) if (f := _best(free, w, h))), (len(sheets), None))
        if at is None:
            at = (0.0, 0.0, width, height)
            sheets.append([at])
        spots[i] = Spot(sheet + 1, at[0], at[1])
        taken = (at[0] - space, at[1] - space, at[0] + w + space, at[1] + h + space)
        sheets[sheet] = _left(sheets[sheet], taken)
    return tuple(spots[i] for i in range(len(sizes)))


def _best(free: Sequence[Free], w: float, h: float) -> Free | None:
    """The free rectangle that holds the block and is longer than it by least on one side."""
    fit = [f for f in free if f[2] - f[0] >= w - EXACT and f[3] - f[1] >= h - EXACT]
    return min(fit, key=lambda f: (round(min(f[2] - f[0] - w, f[3] - f[1] - h), 3), f[1], f[0]), default=None)


def _left(free: Sequence[Free], taken: Free) -> list[Free]:
    """The free rectangles less what is taken, none of them within another."""
    a, b, c, d = taken
    parts: list[Free] = []
    for f in free:
        x0, y0, x1, y1 = f
        if a >= x1 - EXACT or c <= x0 + EXACT or b >= y1 - EXACT or d <= y0 + EXACT:
            parts.append(f)
            continue
        parts += [(x0, y0, a, y1)] if a > x0 + EXACT else []
        parts += [(c, y0, x1, y1)] if c < x1 - EXACT else []
        parts += [(x0, y0, x1, b)] if b > y0 + EXACT else []
        parts += [(x0, d, x1, y1)] if d < y1 - EXACT else []
    return [p for i, p in enumerate(parts) if not any(_within(p, q, i, j) for j, q in enumerate(parts))]


def _within(p: Free, q: Free, i: int, j: int) -> bool:
    """Whether one lies within another; of two alike only the later one does."""
    inside = p[0] >= q[0] - EXACT and p[1] >= q[1] - EXACT and p[2] <= q[2] + EXACT and p[3] <= q[3] + EXACT
    return i != j and inside and (j < i or not (q[0] >= p[0] - EXACT and q[1] >= p[1] - EXACT
                                                and q[2] <= p[2] + EXACT and q[3] <= p[3] + EXACT))  # fmt: skip
