"""The paper check sheet of the router files: what each one holds, to be measured against before it is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from sparwright.base.quantity import millimetres
from sparwright.plans.drawing import Sheet
from sparwright.plans.form import Column, FormTable
from sparwright.plans.form_pages import form_pages
from sparwright.plans.paper import TitleBlock
from sparwright.stock.router import TOLERANCE, Job
from sparwright.stock.splice import TooLarge

READ = (
    "Before cutting: load the file, check unit and size over all against this sheet, then the layers. After the first "
    "part: measure it. Relief cuts are not in the strength checks: ask the designer before a loaded part is relieved."
)
COLUMNS = (
    Column("make", share=0.8), Column("mm", "along x", share=1.3), Column("mm", "along y", share=1.3),
    Column("cuts", "inside", share=1.1), Column("drilled", share=1.2), Column("reliefs", share=1.2),
    Column("checked", share=1.5, hand=True),
)  # fmt: skip


def router_pages(
    made: Sequence[Job], told: Sequence[TooLarge], title: TitleBlock, units: str, materials: Sequence[str] = ()
) -> tuple[Sheet, ...]:
    """The check sheet, a table for each stock; none where there is no file. materials: the only ones with files."""
    if not made:
        return ()
    others = f"Plates of other materials than {', '.join(materials)}: cut in the shop, from their templates."
    sentences = "Without a file", (*((others,) if materials else ()), *(t.sentence for t in told))
    return form_pages(tuple(_tables(made, title.model)), "Router files", _state(made[0]), READ, title, units, sentences)


def _state(first: Job) -> tuple[str, ...]:
    return (
        f"1 : 1, millimetres. KERF NOT APPLIED: paths are the finished edge. Arcs within {TOLERANCE} mm. Inside "
        f"corners are opened for a tool of {millimetres(first.smallest / 1000)}.",
    )


def _tables(made: Sequence[Job], model: str) -> Iterator[FormTable]:
    for stock in dict.fromkeys(j.stock for j in made):
        rows = tuple(_row(j, model) for j in made if j.stock == stock)
        yield FormTable(stock.words, COLUMNS, rows, first=5.6)


def _row(j: Job, model: str) -> tuple[str, ...]:
    return (j.part.number.removeprefix(f"{model}-"), str(j.part.count), f"{j.width:.2f}", f"{j.height:.2f}",
            str(len(j.inside)), str(len(j.drills)), str(j.reliefs), "")  # fmt: skip
