"""Blocks packed onto sheets of one paper, each sheet with its checks and title block."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sparwright.base.record import number
from sparwright.plans.drawing import DRAFTING, Box, Placement, Sheet, Stroke, moved
from sparwright.plans.packing import Spot, nested, packed
from sparwright.plans.paper import TitleBlock, field_of, furniture, paper
from sparwright.plans.template import Block


@dataclass(frozen=True)
class Packed:
    """Where each block goes on paper of one size."""

    paper: str
    spots: tuple[Spot, ...]
    sheet: tuple[int, ...]  # of each block, counted from 1 as they are numbered
    total: int


def pack(blocks: Sequence[Block], paper_name: str, space: float = DRAFTING.space, nest: bool = False) -> Packed:
    """A place for each block, in rows or nested: see plans.packing.

    Raises DesignProblem for a paper we do not have, and for a block that no sheet holds.
    """
    clear = field_of(paper(paper_name))
    sizes = [(b.box.width, b.box.height) for b in blocks]
    spots = (nested if nest else packed)(sizes, clear.width, clear.height, space, [b.part for b in blocks])
    return Packed(paper_name, spots, tuple(s.sheet for s in spots), max((s.sheet for s in spots), default=0))


def laid(blocks: Sequence[Block], where: Packed, title: TitleBlock, kind: str, first: int = 1, total: int = 0
         ) -> tuple[Sheet, ...]:  # fmt: skip
    """The sheets: numbered from `first` on of a set of `total`, of these alone where that is nought."""
    p, clear = paper(where.paper), field_of(paper(where.paper))
    name, of = f"{title.family} {title.model}: {title.title.lower()}", total or where.total
    sheets = []
    for i in range(where.total):
        strokes: list[Stroke] = []
        places: list[Placement] = []
        for b, spot, on in zip(blocks, where.spots, where.sheet, strict=True):
            if on == i + 1:
                dx, dy = round(clear.left + spot.x - b.box.left, 3), round(clear.top - spot.y - b.box.top, 3)
                strokes += [moved(s, dx, dy) for s in b.strokes]
                area = Box(b.box.left + dx, b.box.bottom + dy, b.box.right + dx, b.box.top + dy)
                places += [Placement(n, b.piece, b.pieces, dx, dy, b.turn, area) for n in (b.part, *b.also)]
        own = furniture(p, title, first + i, of)
        framed = (*own, *strokes)
        sheets.append(Sheet(first + i, of, name, p.name, p.width, p.height, framed, tuple(places), kind, len(own)))
    return tuple(sheets)


@dataclass(frozen=True)
class Use:
    """How well the clear fields of a set of sheets are used."""

    sheets: int
    share: float = number("1", "of the clear fields, covered by the blocks' rectangles")


def use(blocks: Sequence[Block], where: Packed) -> Use:
    """How much of the sheets' clear fields the blocks take."""
    clear = field_of(paper(where.paper))
    return Use(
        where.total, sum(b.box.width * b.box.height for b in blocks) / (where.total * clear.width * clear.height)
    )
