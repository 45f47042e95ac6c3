"""Cut list, rigging sheet and placards as CSV: UTF-8, a head of names, quoting and line ends as rfc-4180 (memory)."""

from __future__ import annotations

import csv
import math
from collections.abc import Iterable
from io import StringIO

from sparwright.base.quantity import inches, to
from sparwright.margins.reasons import SizeReason
from sparwright.output.shown import decimals, unit_of
from sparwright.plans.cutlist import CutRow
from sparwright.plans.performance import PilotRow
from sparwright.plans.placards import Placard
from sparwright.plans.printed import Printed
from sparwright.plans.rigging import Setting

FAR = 10**9  # inches without feet
HEAD = (
    "part number", "name", "hand", "count", "form", "group", "material", "stock",
    "length in", "length mm", "width in", "width mm", "thickness in", "thickness mm",
    "place", "mass each lb", "mass each kg", "note",
)  # fmt: skip


SHEET = (
    "number", "what", "nominal", "give or take", "unit", "measured over in", "rise over it in",
    "give or take of it in", "rise over it mm", "give or take of it mm", "where", "how", "as found right",
    "as found left", "date",
)  # fmt: skip
SHOWN = {"rad": (to(1.0, "deg"), "deg", 2), "m": (to(1.0, "in"), "in", 3), "N": (to(1.0, "lbf"), "lbf", 0)}


def rigging_csv(settings: Iterable[Setting]) -> bytes:
    """The rigging sheet: angles in degrees and as a rise over a length, empty where unknown, cells to write into."""
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(SHEET)
    for n, s in enumerate(settings, 1):
        factor, unit, digits = SHOWN[s.unit]
        cells = (str(n), s.what, _number(s.nominal, factor, digits), _number(s.tolerance, factor, digits), unit,
                 _inches(s.over), _number(s.rise, 1 / 0.0254, 3), _number(s.rise_tolerance, 1 / 0.0254, 3),
                 _number(s.rise, 1000, 1), _number(s.rise_tolerance, 1000, 1), s.where, s.how, "", "", "")  # fmt: skip
        out.writerow(map(_plain, cells))
    return buffer.getvalue().encode("utf-8")


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


def placards_csv(rows: Iterable[Placard]) -> bytes:
    """What is to be written on the aeroplane: text, where, which paragraph, blanks left to fill in."""
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(("key", "text", "where", "asked for by", "blanks"))
    for row in rows:
        out.writerow((row.key, row.text, row.where, row.rule, str(row.blanks)))
    return buffer.getvalue().encode("utf-8")


def performance_csv(rows: Iterable[PilotRow], units: str) -> bytes:
    """The pilot's sheet: likely value, what to plan with, a cell for what was flown; units: those of the drawings."""
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(("group", "what", "likely", "plan with", "unit", "flown", "remark", "ask why"))
    for row in rows:
        shown = unit_of(row.unit, units, row.id)
        digits = decimals(row.likely * shown.factor, row.likely * shown.factor, row.plan * shown.factor)
        likely, plan = (_number(v, shown.factor, digits) for v in (row.likely, row.plan))
        out.writerow(map(_plain, (row.group, row.what, likely, plan, shown.name, "", row.note, row.id)))
    return buffer.getvalue().encode("utf-8")


def dimensions_csv(rows: Iterable[Printed]) -> bytes:
    """Every dimension that the set prints: id for `why`, sheet, what, figure as printed, exact length in mm, source."""
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(("ask why", "where", "what", "printed", "exact mm", "comes from"))
    for r in rows:
        out.writerow(map(_plain, (r.id, r.where, r.title, r.words, f"{r.value * 1000:.3f}", r.because)))
    return buffer.getvalue().encode("utf-8")


def reasons_csv(rows: Iterable[SizeReason]) -> bytes:
    """Why each part is as stout as it is: check, case, margin in per cent, reason; a part a row."""
    buffer = StringIO(newline="")
    out = csv.writer(buffer)
    out.writerow(("part number", "name", "stock", "reason", "margin %", "verdict", "what would fail", "case", "check"))
    for r in rows:
        # rounded towards failure, as everywhere
        margin = str(math.floor(r.margin * 100 + 1e-9)) if math.isfinite(r.margin) else ""
        out.writerow(map(_plain, (r.part, r.name, r.stock, r.reason, margin, r.verdict, r.mode, r.case, r.check)))
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
