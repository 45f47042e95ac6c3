"""A whole set of template sheets on pages of one paper, as it is or corrected for one printer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from sparwright.plans.correction import Correction
from sparwright.plans.drawing import DRAFTING, Sheet
from sparwright.plans.first_page import first_page
from sparwright.plans.lettering import width
from sparwright.plans.paper import Paper, TitleBlock
from sparwright.plans.templates import briefly, told
from sparwright.plans.tile_map import map_page
from sparwright.plans.tile_page import Leaf, leaves
from sparwright.plans.tile_parts import parts_pages
from sparwright.plans.tiles import Tiling, tiling

FOOT_ROOM = 100.0  # mm at a page's foot beside its name


@dataclass(frozen=True)
class TiledSheet:
    """One sheet: where its pages are, its map with the list of its parts, its pages."""

    tiling: Tiling
    maps: tuple[Leaf, ...]
    pages: tuple[Leaf, ...]


@dataclass(frozen=True)
class TiledSet:
    """All sheets on pages of one paper, after the page that is printed first."""

    paper: Paper
    title: str
    first: Leaf
    sheets: tuple[TiledSheet, ...]
    undo: Correction | None = None

    @property
    def pages(self) -> int:
        """Pages of paper in all."""
        return 1 + sum(len(s.maps) + len(s.pages) for s in self.sheets)


def tiled(sheets: Sequence[Sheet], p: Paper, title: TitleBlock, undo: Correction | None = None) -> TiledSet:
    """The set; with `undo`, what the pages say of their correction (the strokes are corrected as they are written)."""
    words, brief = (told(undo), briefly(undo)) if undo else ((), ())
    foot = f"For {undo.measured.printer} alone, {undo.measured.date}" if undo else f"{title.family} {title.model}"
    if width(foot, DRAFTING.small) > FOOT_ROOM:
        foot = title.model if undo is None else f"For one printer alone, {undo.measured.date}"
    made = []
    for sheet in sheets:
        t = tiling(sheet, p)
        made.append(TiledSheet(t, (map_page(t, title, brief), *parts_pages(t, title)), leaves(t, foot)))
    name = f"{title.family} {title.model}: full-size templates, on {p.title} pages"
    return TiledSet(p, name, first_page(p, title, words), tuple(made), undo)
