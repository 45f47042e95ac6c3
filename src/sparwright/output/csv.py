"""The cut list as CSV: UTF-8, a head of names with units, quoting and line ends as rfc-4180 (memory)."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable
from io import StringIO

from sparwright.base.quantity import inches, to
from sparwright.plans.cutlist import CutRow

FAR = 10**9  # inches without feet
HEAD = (
    "part number", "name", "hand", "count", "form", "group", "material", "stock",
    "length in", "length mm", "width in", "width mm", "thickness in", "thickness mm",
    "place", "mass each lb", "mass each kg", "note",
)  # fmt: skip


def cut_list_csv(rows: Iterable[CutRow]) -> bytes:
    """The cut list; lengths in inches to 1/64 and millimetres to a tenth, an unknown size is an empty cell.

    Inch and foot marks are written out, since spreadsheets guess wrongly at their encoding.
    """
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(HEAD)
    for row in rows:
        out.writerow(map(_plain, _cells(row)))
    return buffer.getvalue().encode("utf-8")


def _cells(row: CutRow) -> tuple[str, ...]:
    return (
        row.number, row.name, row.hand, str(row.count), row.form, row.group, row.material, row.stock,
        _inches(row.length), _number(row.length, 1000, 1), _inches(row.width), _number(row.width, 1000, 1),
        _number(row.thickness, 1 / 0.0254, 3), _number(row.thickness, 1000, 2),
        row.place, _number(row.mass, to(1, "lb"), 4), _number(row.mass, 1, 4), row.note,
    )  # fmt: skip


def _inches(metres: float) -> str:
    return inches(metres, FAR) if math.isfinite(metres) else ""


def _number(value: float, factor: float, digits: int) -> str:
    return f"{value * factor:.{digits}f}" if math.isfinite(value) else ""


def _plain(cell: str) -> str:
    return cell.replace("″", " in").replace("′", " ft").replace("−", "-")
