"""Which part is on which pages of a tiled sheet: a few lines on its map, or pages of their own behind it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import shapely

from sparwright.plans.clash import line_of
from sparwright.plans.drawing import DRAFTING, Box, Stroke, Text
from sparwright.plans.form import MARGIN
from sparwright.plans.lettering import paragraph, wrapped
from sparwright.plans.paper import Paper, TitleBlock
from sparwright.plans.tile_page import Leaf, sheet_words
from sparwright.plans.tiles import Tile, Tiling, own_part

FEW = 4  # lines that stand on the map itself
TOUCH = 0.01  # mm: a line of a template lies within its area by rounding


def measured_as(t: Tiling) -> str:
    """What the command is told when this sheet was measured: "letter-tube-ends-4"."""
    return f"{t.paper.name}-{t.sheet.kind}-{t.sheet.number}"


def parts_on_pages(t: Tiling, model: str) -> tuple[str, ...]:
    """A line for each template: its pages, and the parts it serves, without the model before their numbers."""
    found: dict[Box, list[str]] = {}
    for p in t.sheet.placements:
        piece = f" {p.piece}/{p.pieces}" if p.pieces > 1 else ""
        if p.area is not None:
            found.setdefault(p.area, []).append(p.part.removeprefix(f"{model}-") + piece)
    lines = [line_of(s) for s in t.sheet.drawn if not isinstance(s, Text) and s.layer == "cut"]
    tree = shapely.STRtree(lines)
    said = [(_pages(t, _of(area, tree)), ", ".join(names)) for area, names in found.items()]
    return tuple(f"{', '.join(pages)}: {names}" for pages, names in sorted(said, key=lambda s: _order(t, s[0])))


def _of(area: Box, tree: shapely.STRtree) -> shapely.Geometry:
    """The outlines within an area of the sheet; the area itself where there are none, as of a table."""
    whole = shapely.box(area.left, area.bottom, area.right, area.top)
    inside = tree.query(whole.buffer(TOUCH), predicate="contains")
    return shapely.union_all(tree.geometries[inside]) if len(inside) else whole


def _pages(t: Tiling, shape: shapely.Geometry) -> tuple[str, ...]:
    return tuple(tile.name for tile in t.tiles if shape.intersects(_own(t, tile)))


def _own(t: Tiling, tile: Tile) -> shapely.Polygon:
    b = own_part(tile.trim, (tile.row, tile.column), t.rows, t.columns)
    return shapely.box(b.left, b.bottom, b.right, b.top)


def _order(t: Tiling, pages: Sequence[str]) -> list[int]:
    names = [tile.name for tile in t.tiles]
    return [names.index(p) for p in pages]


def few_enough(said: Sequence[str], p: Paper) -> bool:
    """Whether these lines have room on the map."""
    return len(_lines(said, p)) <= FEW


def _lines(said: Sequence[str], p: Paper) -> list[str]:
    return [line for words in said for line in wrapped(words, DRAFTING.small, p.width - 2 * MARGIN)]


def parts_pages(t: Tiling, title: TitleBlock) -> tuple[Leaf, ...]:
    """The list of parts on pages of its own; none where it stands on the map."""
    said = parts_on_pages(t, title.model)
    if few_enough(said, t.paper):
        return ()
    head = f"{title.family} {title.model}: {t.sheet.set_words}, sheet {t.sheet.number} of {t.sheet.total}"
    words = (f"Which part is on which pages. {title.model}- is left off the part numbers.", *said)
    return tuple(Leaf(f"{sheet_words(t)}: its parts", (), page) for page in _set(words, head, t.paper))


def _set(words: Sequence[str], head: str, p: Paper) -> Iterator[tuple[Stroke, ...]]:
    """The words as paragraphs on as many pages as they take."""
    strokes: list[Stroke] = []
    y = MARGIN
    for said in words:
        many = len(wrapped(said, DRAFTING.small, p.width - 2 * MARGIN))
        if y - many * DRAFTING.pitch * DRAFTING.small < MARGIN:
            if strokes:
                yield tuple(strokes)
            texts, y = paragraph(
                head, (MARGIN, p.height - MARGIN), DRAFTING.middle, p.width - 2 * MARGIN, DRAFTING.pitch, bold=True
            )
            strokes = list(texts)
        texts, y = paragraph(said, (MARGIN, y - 1.0), DRAFTING.small, p.width - 2 * MARGIN, DRAFTING.pitch)
        strokes += texts
    yield tuple(strokes)
