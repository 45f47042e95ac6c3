"""A large sheet that is not cut from: a head, blocks one under another, the foot. Cut lists and nests stand on it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.plans.drawing import DRAFTING, Sheet, Stroke, Text, moved, rectangle
from sparwright.plans.form import MARGIN, bottom, foot
from sparwright.plans.lettering import paragraph
from sparwright.plans.paper import Paper, TitleBlock, paper

EDGE = 7.0  # mm, from the edge of the paper to its border
BETWEEN = 8.0  # mm between blocks


@dataclass(frozen=True)
class Block:
    """A drawing whose upper left corner is its origin: y runs down below nought."""

    name: str
    strokes: tuple[Stroke, ...]
    high: float = number("mm", "from its top down")


def clear_width(p: Paper) -> float:
    """Room from left to right for a block, mm."""
    return p.width - 2 * MARGIN


def shop_sheets(
    blocks: Sequence[Block], paper_name: str, head: str, words: str, title: TitleBlock
) -> tuple[Sheet, ...]:
    """The blocks from the top down, on as many sheets as they take. head: the title; words: what stands in the foot.

    Raises DesignProblem for a block that no empty sheet holds.
    """
    p = paper(paper_name)
    top, low = p.height - MARGIN - 2 * DRAFTING.large, bottom(p, words) + 4.0
    pages: list[list[tuple[Block, float]]] = []
    y = low
    for b in blocks:
        if b.high > top - low + 1e-6:
            raise DesignProblem(f"{b.name} takes {b.high:.0f} mm; the sheet has {top - low:.0f} mm clear")
        if not pages or y - b.high < low - 1e-6:
            pages.append([])
            y = top
        pages[-1].append((b, y))
        y -= b.high + BETWEEN
    name = f"{head}, {title.family} {title.model}"
    return tuple(
        Sheet(i, len(pages), name, p.name, p.width, p.height, tuple(_page(page, p, name, words, title, i, len(pages))))
        for i, page in enumerate(pages, 1)
    )


def _page(
    page: Sequence[tuple[Block, float]], p: Paper, name: str, words: str, title: TitleBlock, sheet: int, total: int
) -> Iterator[Stroke]:
    yield rectangle(EDGE, EDGE, p.width - EDGE, p.height - EDGE, "frame", "thick")
    yield from paragraph(name, (MARGIN, p.height - MARGIN), DRAFTING.large, clear_width(p), DRAFTING.pitch, bold=True)[
        0
    ]
    for block, y in page:
        for stroke in block.strokes:
            yield moved(stroke, MARGIN, y)
    yield from foot(p, words, title, sheet, total)


def lines(words: Sequence[str], at: tuple[float, float], room: float) -> tuple[tuple[Text, ...], float]:
    """Paragraphs one under another from the top at `at`; also the y below."""
    texts: list[Text] = []
    x, y = at
    for said in words:
        more, y = paragraph(said, (x, y), DRAFTING.small, room, DRAFTING.pitch)
        texts += more
    return tuple(texts), y
