"""Proof load and aeroelastics: sections that stand in the report when such results are there."""

from __future__ import annotations

from collections.abc import Iterator

from sparwright.base.check import Check, Result
from sparwright.reports.asked import LATER, Asked
from sparwright.reports.page import Amount, Block, Cell, Column, Link, Mark, Paragraph, Section, Table

TITLES = {"proof": "Proof load", "aeroelastic": "Aeroelastics"}
WITHOUT = (
    "Nothing of it is worked out in this run: {0}. Until it is, nothing here says that the aeroplane is safe in it."
)

BY_BAY = (".cell.", ".rib.")  # results of the proof load that stand on its own sheet
WHY = "The command `why ID` tells the working of any of these; that of what fails stands in section 8."
ON_THE_SHEET = "The bags of every bay stand on the proof-load sheet."


def later_section(asked: Asked) -> Section:
    """Section 9."""
    parts = []
    for room in LATER:
        results, checks = asked.of(room)
        kept = tuple(r for r in results if not any(by in r.id for by in BY_BAY))
        blocks: tuple[Block, ...] = tuple(_told(kept, checks)) or (
            Paragraph(WITHOUT.format(TITLES[room].lower()), "note"),
        )
        blocks += (Paragraph(ON_THE_SHEET, "note"),) if len(kept) < len(results) else ()
        parts.append(Section(TITLES[room], blocks))
    return Section("Proof load and aeroelastics", (), tuple(parts))


def _told(results: tuple[Result, ...], checks: tuple[Check, ...]) -> Iterator[Block]:
    if checks:
        rows = tuple((Mark(c.verdict), Link(c.title, c.id), Amount(c.margin), c.case, c.caveat) for c in checks)
        yield Table(
            (
                Column("", share=0.0),
                Column("check", share=2.0),
                Column("margin", "%", 0.0, True),
                Column("case", share=1.5),
                Column("to be said", share=2.0),
            ),
            rows,
        )
    for unit in dict.fromkeys(r.unit for r in results):
        own: tuple[tuple[Cell, ...], ...] = tuple(
            (
                r.title,
                Amount(r.value),
                Amount(r.low),
                Amount(r.high),
                "; ".join(x for x in (r.caveat, r.outside_range) if x),
            )
            for r in results
            if r.unit == unit
        )
        yield Table(
            (
                Column("result", share=2.0),
                Column("value", unit, 0.0, True),
                Column("low", unit, 0.0, True),
                Column("high", unit, 0.0, True),
                Column("to be said", share=1.6),
            ),
            own,
        )
    if results:
        yield Paragraph(WHY, "note")
