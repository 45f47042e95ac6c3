"""The allowables a model's parts are held against: value, edition, basis, mark, and who has confirmed it."""

from __future__ import annotations

from sparwright.reports.asked import Asked
from sparwright.reports.page import Amount, Cell, Column, Paragraph, Section, Table
from sparwright.reports.weakest import RECALLED
from sparwright.strength.allowed import Allowed, allowed, property_words

_COLUMNS = (
    Column("property", share=1.5),
    Column("value", "Pa", 0.0, True),
    Column("basis", share=0.9),
    Column("source and edition", share=2.6),
    Column("mark", share=0.8),
    Column("confirmed by, or what is open", share=1.6),
)
READ = "; read by "


def allowables_section(asked: Asked) -> Section:
    """Section 7: a table for each material, fastener, cable or joint."""
    rows = allowed(asked.model)
    tables = (_table([r for r in rows if r.what == what], what) for what in dict.fromkeys(r.what for r in rows))
    words = Paragraph(
        "Basis A is reached by 99 of 100 pieces, B by 90 of 100, each with 95 per cent confidence; S is the "
        "specification's "
        "least; a mean is what half of them reach. The mark says how the number was had: read in the source, "
        "second-hand, computed, or recalled "
        "(memory). A recalled number decides nothing until someone has read it and says so in the file, or coupons "
        "stand for it."
    )
    return Section("Allowables used", (words, *tables))


def _table(rows: list[Allowed], what: str) -> Table:
    unit = rows[0].unit if len({r.unit for r in rows}) == 1 else ""
    columns = tuple(Column(c.title, unit, c.share, c.figures) if c.unit else c for c in _COLUMNS)
    return Table(columns, tuple(_row(r, unit) for r in rows), what.replace("_", " "))


def _row(r: Allowed, unit: str) -> tuple[Cell, ...]:
    name = property_words(r.property) + (f", {r.where}" if r.where else "")
    source, _, reader = r.source.partition(READ)
    said = reader or (RECALLED if RECALLED in r.open else r.open) or "nothing asked"
    value: Cell = Amount(r.value) if unit else f"{r.value:.6g} {r.unit}"
    return name, value, r.basis, source.removesuffix(f" ({r.mark})"), r.mark, said
