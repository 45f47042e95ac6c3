"""The proof-load sheet as printed pages: cautions and names, bays with bags, how it lies, tables to fill in.

Figures come as words, in the designer's units (output/proof_tables.py). Nothing is smaller than the notes of a sheet.
Bays are drawn at least wide enough for their numbers, so their widths are not to scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number
from sparwright.plans.drawing import DRAFTING, Line, Point, Polyline, Sheet, Stroke, Text, rectangle
from sparwright.plans.form import (
    BETWEEN,
    DESCENT,
    GAP,
    HEAD,
    MARGIN,
    PAGES,
    ROW,
    FormTable,
    bottom,
    drawn_table,
    foot,
    written,
)
from sparwright.plans.lettering import paragraph
from sparwright.plans.paper import Paper, TitleBlock
from sparwright.plans.proof_words import CAUTIONS, NAMES, NEVER, ORDER, STOP

STEP = 5.6  # mm from one step's number to the next in a cell
LEAST = 8.5  # mm, least width of a bay
RIBS = 16.0  # mm for the ribs' places, written upright
LABEL = 13.0  # mm for the steps' names beside the cells
VIEW = 78.0  # mm, height of the side view


@dataclass(frozen=True)
class Bay:
    """A bay between two ribs: bags on its front and rear line at every step, in words."""

    inner: float = number("m", "inner rib")
    outer: float = number("m", "outer rib")
    rib: str = ""  # the outer rib's place
    front: tuple[str, ...] = ()
    rear: tuple[str, ...] = ()


@dataclass(frozen=True)
class HalfPlan:
    """One half of a surface from above, from the root to the right."""

    title: str
    bays: tuple[Bay, ...]
    start: str  # place of the innermost rib
    steps: int

    def tall(self, wide: float) -> float:
        """Height on paper, mm."""
        return HEAD + 2 * self.steps * STEP + 3 * BETWEEN + RIBS + GAP


@dataclass(frozen=True)
class SideView:
    """The aeroplane as it stands in the shop, from the side: metres, y up in the shop."""

    tubes: tuple[tuple[Point, Point], ...]
    chords: tuple[tuple[Point, ...], ...]
    stands: tuple[Point, ...]  # nodes over trestles
    presses: tuple[Point, ...]  # where the bags' chord lines are
    tilt: str
    lies: str

    def tall(self, wide: float) -> float:
        """Height on paper, mm."""
        return VIEW + GAP


@dataclass(frozen=True)
class ProofTest:
    """One test on paper."""

    title: str
    state: tuple[str, ...]
    halves: tuple[HalfPlan, ...]
    tables: tuple[FormTable, ...]
    side: SideView


@dataclass(frozen=True)
class ProofSheet:
    """The whole sheet."""

    title: str
    tests: tuple[ProofTest, ...]
    static: tuple[FormTable, ...]
    left_out: tuple[str, ...] = ()  # tests that are not told, by title
    unproved: tuple[str, ...] = ()  # members that no test proves, the most used, with how far the best test goes
    bare: int = number("1", "how many there are", 0)


Block = HalfPlan | SideView | FormTable


def proof_pages(sheet: ProofSheet | None, title: TitleBlock, units: str) -> tuple[Sheet, ...]:
    """The pages, letter for who draws in inches, else A4; none without a sheet.

    DesignProblem where a block is too tall for a page.
    """
    if sheet is None:
        return ()
    paper = PAGES[units]
    pages = [*_fronts(sheet, paper), *(p for t in sheet.tests for p in _of_test(t, paper))]
    pages += [p for p in _flowed("Proof load: without bags on a surface", ("Forces of the cases, one at a time; the "
              "right side is given, the left is its mirror. Ultimate loads are for an article that does not fly.",),
              sheet.static, paper)]  # fmt: skip
    name = f"Proof-load sheet, {title.family} {title.model}"
    return tuple(
        Sheet(i, len(pages), name, paper.name, paper.width, paper.height,
              (*strokes, *foot(paper, NEVER[0], title, i, len(pages))))
        for i, strokes in enumerate(pages, 1)
    )  # fmt: skip


def _of_test(test: ProofTest, paper: Paper) -> Iterator[tuple[Stroke, ...]]:
    return _flowed(test.title, test.state, (*test.halves, test.side, *test.tables), paper)


def _flowed(title: str, state: Sequence[str], blocks: Sequence[Block], paper: Paper) -> Iterator[tuple[Stroke, ...]]:
    """Blocks one under the other, on as many pages as they take."""
    wide, low = paper.width - 2 * MARGIN, bottom(paper, NEVER[0])
    strokes, y = _top(title, state, paper)
    room, held = _top(f"{title}, continued", (), paper)[1] - low + GAP, 0
    for block in (piece for b in blocks for piece in _pieces(b, wide, room)):
        if y - block.tall(wide) + GAP < low and held:
            yield tuple(strokes)
            strokes, y = _top(f"{title}, continued", (), paper)
            held = 0
        if y - block.tall(wide) + GAP < low:
            raise DesignProblem(f"a block of {title!r} is too tall for {paper.title}")
        strokes += _drawn(block, paper, y)
        y, held = y - block.tall(wide), held + 1
    yield tuple(strokes)


def _pieces(block: Block, wide: float, room: float) -> Iterator[Block]:
    """A table that is taller than a page in as few pieces as fit one, rows shared out evenly; others whole."""
    if not isinstance(block, FormTable) or block.tall(wide) <= room:
        yield block
        return
    for count in range(2, len(block.rows) + 1):
        size = -(-len(block.rows) // count)
        parts = [block.rows[i : i + size] for i in range(0, len(block.rows), size)]
        pieces = [replace(block, rows=rows, name=block.name + ", continued" * (i > 0)) for i, rows in enumerate(parts)]
        if max(p.tall(wide) for p in pieces) <= room:
            yield from pieces
            return
    yield block


def _drawn(block: Block, paper: Paper, top: float) -> list[Stroke]:
    if isinstance(block, HalfPlan):
        return list(_half(block, paper, top))
    return list(_view(block, paper, top) if isinstance(block, SideView) else drawn_table(block, paper, top))


def _top(title: str, state: Sequence[str], paper: Paper) -> tuple[list[Stroke], float]:
    d, room = DRAFTING, paper.width - 2 * MARGIN
    head, y = paragraph(title, (MARGIN, paper.height - MARGIN), d.middle, room, d.pitch, bold=True)
    strokes: list[Stroke] = [*head]
    for words in state:
        texts, y = paragraph(words, (MARGIN, y), d.small, room, d.pitch)
        strokes += texts
    return strokes, y - GAP / 2


def _fronts(sheet: ProofSheet, paper: Paper) -> Iterator[tuple[Stroke, ...]]:
    """Cautions in large and names; then the order of work and when to stop."""
    d, room = DRAFTING, paper.width - 2 * MARGIN
    strokes, y = _top(sheet.title, (), paper)
    for words in NEVER:
        texts, y = paragraph(words, (MARGIN, y - 2.0), d.large, room, d.pitch, bold=True)
        strokes += texts
    left = (f"Not told here, the report says why: {'; '.join(sheet.left_out)}.",) if sheet.left_out else ()
    more, y = _listed("Before", (*CAUTIONS, *left), paper, y - 3.0)
    strokes += more
    for places in NAMES:
        y -= ROW + 3.0
        strokes += written(places, MARGIN, paper.width - MARGIN, y)
    if y < bottom(paper, NEVER[0]):
        raise DesignProblem(f"the cautions are too long for {paper.title}")
    yield tuple(strokes)
    strokes, y = _top(f"{sheet.title}, order of work", (), paper)
    some = (f"{len(sheet.unproved)} most used of " if sheet.bare > len(sheet.unproved) else "") + f"{sheet.bare}"
    bare = (
        f"{some}, with how much of their greatest load in flight a test lays on them: {'; '.join(sheet.unproved)}.",
    )
    told = (("No test here proves these, they rely on calculation", bare),) if sheet.unproved else ()
    for head, lines in (("Order", ORDER), ("Stop and unload at once when", STOP), *told):
        more, y = _listed(head, lines, paper, y - 2.0)
        strokes += more
    yield tuple(strokes)


def _listed(head: str, lines: Sequence[str], paper: Paper, top: float) -> tuple[list[Stroke], float]:
    d, room = DRAFTING, paper.width - 2 * MARGIN
    texts, y = paragraph(head, (MARGIN, top), d.middle, room, d.pitch, bold=True)
    strokes: list[Stroke] = [*texts]
    for words in lines:
        texts, y = paragraph(f"• {words}", (MARGIN, y - 1.0), d.small, room, d.pitch)
        strokes += texts
    return strokes, y


# ------------------------------------------------------------------ bays


def _widths(bays: Sequence[Bay], room: float) -> list[float]:
    """Widths on paper: to scale where that is wide enough, else the least; together `room`."""
    if LEAST * len(bays) > room:
        raise DesignProblem(f"{len(bays)} bays are too many for one row of a page")
    true = [b.outer - b.inner for b in bays]
    more = room - LEAST * len(bays)
    return [LEAST + more * t / sum(true) for t in true]


def _half(half: HalfPlan, paper: Paper, top: float) -> Iterator[Stroke]:
    size, left = DRAFTING.small, MARGIN + LABEL
    yield Text(half.title, (MARGIN, top - HEAD + DESCENT), size, bold=True)
    y0 = top - HEAD - BETWEEN
    stack = half.steps * STEP
    y1 = y0 - 2 * stack - 2 * BETWEEN
    edges = [left]
    for wide in _widths(half.bays, paper.width - MARGIN - left):
        edges.append(edges[-1] + wide)
    yield rectangle(edges[0], y1, edges[-1], y0, "frame", "thick")
    middle = y0 - stack - BETWEEN
    yield Line((edges[0], middle), (edges[-1], middle), "mark", dash="chain")
    for x in edges[1:-1]:
        yield Line((x, y1), (x, y0), "measure")
    for k in range(half.steps):
        for start in (y0, middle):
            at = start - (k + 1) * STEP + DESCENT / 2
            yield Text(f"step {k + 1}", (left - BETWEEN, at), size, align="right")
            for bay, a, b in zip(half.bays, edges, edges[1:], strict=False):
                words = (bay.front if start == y0 else bay.rear)[k]
                yield Text(words, ((a + b) / 2, at), size, align="middle", bold=k == half.steps - 1)
    for x, words in zip(edges, (half.start, *(b.rib for b in half.bays)), strict=True):
        yield Text(words, (x + size / 2, y1 - BETWEEN), size, 90.0, "right")


# ------------------------------------------------------------------ side view


def _view(view: SideView, paper: Paper, top: float) -> Iterator[Stroke]:
    """To one scale, ground below, trestles up to their nodes, an arrow at each chord line of bags."""
    size, room = DRAFTING.small, paper.width - 2 * MARGIN
    every = [p for t in view.tubes for p in t] + [p for c in view.chords for p in c]
    low, high = (min(p[i] for p in every) for i in (0, 1)), (max(p[i] for p in every) for i in (0, 1))
    (x0, z0), (x1, z1) = tuple(low), tuple(high)
    scale = min(room / (x1 - x0), (VIEW - 3 * HEAD - 16.0) / (z1 - z0))
    ground = top - VIEW + HEAD
    lift = ground + 10.0
    across = MARGIN + (room - scale * (x1 - x0)) / 2

    def at(p: Point) -> Point:
        return (across + scale * (p[0] - x0), lift + scale * (p[1] - z0))

    where = {"level": "level"}.get(view.tilt, f"at {view.tilt} to level")
    yield Text(f"How it lies: {view.lies}, thrust line {where}; nose to the left",
               (MARGIN, top - HEAD + DESCENT), size, bold=True)  # fmt: skip
    for a, b in view.tubes:
        yield Line(at(a), at(b), "mark")
    for chord in view.chords:
        yield Polyline(tuple(at(p) for p in chord), "cut", weight="thick")
    for p in view.presses:
        x, y = at(p)
        yield Line((x, y + 9.0), (x, y + 0.8), "measure", "thick")
        yield Polyline(((x - 1.2, y + 3.2), (x, y + 0.8), (x + 1.2, y + 3.2)), "measure")
    yield Line((MARGIN, ground), (paper.width - MARGIN, ground), "frame", "thick")
    for p in view.stands:
        x, y = at(p)
        yield Polyline(((x - 5.0, ground), (x, y), (x + 5.0, ground)), "frame", weight="thick")
    yield Text("floor; triangles: trestles under pairs of nodes; arrows: chord lines of the bags",
               (MARGIN, ground - HEAD + DESCENT), size)  # fmt: skip
