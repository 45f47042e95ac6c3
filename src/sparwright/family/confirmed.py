"""Rows of licence categories and of load codes that the designer has read: by which a row from memory counts."""

from __future__ import annotations

import re
from calendar import monthrange
from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.data.categories import categories
from sparwright.data.loads import CODES, sections
from sparwright.family.entry import Entry, Faults, hint

DAY = re.compile(r"\d{4}-\d{2}-\d{2}")


@dataclass(frozen=True, kw_only=True)
class Confirmed:
    """One limit or condition of a licence category, or paragraph of a code of loads: read and found as told, or met."""

    category: str = number("", "key of the category, or of the code of loads")
    row: str = number("", "limit or condition, as it ends the id of its check or is told by `fits`; of loads: 335")
    who: str = number("", "who read it, or says that it is so")
    when: str = number("", "the day: year-month-day")
    read: str = number("", "what was read and where, or why the condition is met; printed as evidence")

    @property
    def said(self) -> str:
        """The evidence in one line."""
        return f"confirmed by {self.who}, {self.when}: {self.read}"


RECORDS = (Confirmed,)


def check_confirmed(confirmed: tuple[Confirmed, ...], whole: Entry, faults: Faults) -> None:
    """Each names a row that is on file, once, and has a day."""
    seen: set[tuple[str, str]] = set()
    for i, one in enumerate(confirmed):
        spot = whole.nearest("confirmed", i)
        _row(one, spot, faults)
        if (one.category, one.row) in seen:
            faults.add(spot.nearest("row"), "is confirmed twice; leave one", one.row)
        seen.add((one.category, one.row))
        if not is_day(one.when):
            faults.wrong(spot.nearest("when"), "is a day, year-month-day", 'when = "2026-03-01"')


def is_day(text: str) -> bool:
    """Whether a text is a day of the calendar, year-month-day."""
    if not DAY.fullmatch(text):
        return False
    year, month, day = map(int, text.split("-"))
    return year > 0 and 1 <= month <= 12 and 1 <= day <= monthrange(year, month)[1]


def _row(one: Confirmed, spot: Entry, faults: Faults) -> None:
    """The category is one we know, and has that row; of a code of loads a paragraph's number is one as well."""
    known = [*categories(), *(c for c in CODES if c not in categories())]
    if one.category not in known:
        faults.wrong(spot.nearest("category"), f"is not a licence category we know{hint(one.category, known)}")
        return
    limits = categories()[one.category].rows if one.category in categories() else ()
    rows = [*limits, *sorted(sections(one.category))]
    if one.row not in rows:
        faults.wrong(spot.nearest("row"), f"is no limit or condition of {one.category}{hint(one.row, rows)}")
