"""The frame: every member with its margin, how it bends, the reserve along each spar, what it assumes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from sparwright.charts.of_strength import strength_pictures
from sparwright.charts.page import Picture
from sparwright.reports.asked import Asked
from sparwright.reports.assumptions import assumptions_section
from sparwright.reports.page import Amount, Block, Cell, Column, Figure, Paragraph, Section, Steps, Table

CAPTIONS = {
    "frame-margins": "Every member by the part of its strength that it uses, right and left the worse of both.",
    "frame-margins-above": "The same from above; ribs and wires of the drag bracing are seen here.",
    "deflected": "How the frame bends in the case that moves it most.",
}


def frame_section(asked: Asked) -> Section:
    """Section 6."""
    answer = asked.ran.margins.answer
    if answer is None or not answer.laid:
        return Section(
            "The frame",
            (Paragraph("Unknown: the frame has no answer; section 1 says why.", "note"),),
            (assumptions_section(asked),),
        )
    drawn = strength_pictures(asked.model, asked.ran.margins, asked.origin, asked.units)
    words = Paragraph(
        f"The whole aeroplane is one frame of {len(answer.skeleton.bars)} bars between {len(answer.skeleton.names)} "
        f"nodes, solved in second order "
        f"under {sum(not x.why for x in answer.laid)} cases in {len(answer.variants)} variants. Nodes are called as "
        f"in the family file."
    )
    parts = (Section("Moves, pulls", tuple(_results(asked))), assumptions_section(asked))
    return Section("The frame", (words, *_figures(drawn)), parts)


def _figures(drawn: Mapping[str, Picture]) -> Iterator[Figure]:
    for name, picture in drawn.items():
        yield Figure(
            picture, CAPTIONS.get(name, "Reserve along each spar: what of each strength is used from root to tip.")
        )


def _results(asked: Asked) -> Iterator[Block]:
    found = [r for r in asked.ran.margins.results if r.id.startswith("structure.")]
    for unit in dict.fromkeys(r.unit for r in found):
        rows: tuple[tuple[Cell, ...], ...] = tuple(
            (r.title, Amount(r.value), "; ".join(s.title for s in r.steps)) for r in found if r.unit == unit
        )
        yield Table(
            (Column("what, at limit load", share=2.4), Column("value", unit, 0.0, True), Column("where", share=2.4)),
            rows,
        )
    buckling = next((c for c in asked.checks if c.id == "strength.frame.buckling"), None)
    if buckling and buckling.steps:
        yield Steps("Buckling of the whole frame, load over ultimate load", buckling.steps)
