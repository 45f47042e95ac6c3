"""Full-size template sheets for every rib: parts in, sheets out."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import replace

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.parts.part import Part, Plate
from sparwright.plans.correction import Correction, corrected, said
from sparwright.plans.drawing import DRAFTING, Box, Placement, Sheet, Stroke, moved
from sparwright.plans.packing import Spot, packed
from sparwright.plans.paper import TitleBlock, both_units, check_corners, checks, field_of, frame, furniture, paper
from sparwright.plans.rib_shapes import RibShape, grouped
from sparwright.plans.split import spans
from sparwright.plans.template import Block, Drawn, SheetOf, block, datum_room, draw

__all__ = ["TitleBlock", "corrected_sheets", "templates"]


Told = Callable[[int, int], None]  # parts drawn, of how many


def templates(parts: Iterable[Part], paper_name: str, title: TitleBlock, told: Told | None = None) -> tuple[Sheet, ...]:
    """Template sheets for all plates among `parts`, on paper "24x36" or "A1". `told` hears of progress.

    Parts keep their scale (1 : 1) and their own axes (x to the right, y up). One longer than the sheet is
    parted at match lines. The same parts give the same sheets.

    Raises DesignProblem for a paper we do not have, a plate that is not finite, or one deeper than the sheet.
    """
    p = paper(paper_name)
    clear = field_of(p)
    drawn: list[Drawn] = []
    work = grouped(_plates(parts))
    for i, one in enumerate(work):
        drawn += _drawn(one, clear.width)
        if told:
            told(i + 1, len(work))
    first = [block(d, {}) for d in drawn]
    sizes = [(b.box.width, b.box.height) for b in first]
    spots = packed(sizes, clear.width, clear.height, DRAFTING.space, [b.part for b in first])
    numbers = {n: i + 1 for i, n in enumerate(dict.fromkeys(s.sheet for s in spots))}
    sheet_of: SheetOf = {(b.part, b.piece): numbers[s.sheet] for b, s in zip(first, spots, strict=True)}
    blocks = [b if b.pieces == 1 else block(d, sheet_of) for d, b in zip(drawn, first, strict=True)]
    total = len(numbers)
    sheets = []
    for old, new in sorted(numbers.items(), key=lambda item: item[1]):
        here = [(b, s) for b, s in zip(blocks, spots, strict=True) if s.sheet == old]
        strokes, places = _placed(here, clear.left, clear.top)
        name, own = f"{title.family} {title.model}: {title.title.lower()}", furniture(p, title, new, total)
        sheets.append(Sheet(new, total, name, p.name, p.width, p.height, (*own, *strokes), places, furniture=len(own)))
    return tuple(sheets)


def corrected_sheets(sheets: Iterable[Sheet], title: TitleBlock, undo: Correction) -> tuple[Sheet, ...]:
    """The same sheets for one printer: templates, check lines and squares corrected about the middle of the sheet.

    Border, corner marks and title block stay, since they belong to the paper: so cropping still shows. Check lines and
    squares are corrected with the templates, so that a right print of a corrected sheet measures what is printed
    beside them, as on every other sheet. `placements` stay those of the sheet before.
    """
    return tuple(_corrected_sheet(s, title, undo) for s in sheets)


def _corrected_sheet(sheet: Sheet, title: TitleBlock, undo: Correction) -> Sheet:
    p = paper(sheet.paper)
    (ax, ay), _, (cx, cy), _ = check_corners(p)
    own = frame(p, title, sheet.number, sheet.total, told(undo))
    drawn = corrected((*checks(p), *sheet.drawn), undo.inverse, ((ax + cx) / 2, (ay + cy) / 2))
    name = f"{sheet.title}, for {undo.measured.printer}"
    return replace(sheet, title=name, strokes=(*own, *drawn), furniture=len(own) + len(checks(p)))


def told(undo: Correction) -> tuple[str, ...]:
    """What a corrected sheet says of its correction."""
    m = undo.measured
    lengths = "; ".join(f"{name} {both_units(length)}" for name, _, length in m.rows)
    return (
        f"For {m.printer} alone, this way up, this kind of paper. Not true on any other printer.",
        f"Measured {m.date} on a {m.on}: {lengths}.",
        f"Error undone: {said(undo)}, in templates, check lines and squares.",
        "On this print they must measure as printed. If not: do not cut; measure a sheet without correction again.",
    )


def _plates(parts: Iterable[Part]) -> list[tuple[Part, Plate]]:
    found = [(part, part.shape) for part in parts if isinstance(part.shape, Plate) and part.count > 0]
    for part, plate in found:
        rings = [plate.outline, *plate.holes, *([] if plate.blank is None else [plate.blank])]
        if not all(np.isfinite(r).all() and len(r) >= 3 for r in rings):
            raise DesignProblem(f"part {part.number} has an outline that is not a closed line of finite points")
    return found


def _drawn(one: RibShape, width: float) -> list[Drawn]:
    """The pieces of a template, parted so that each fits `width` (mm) with its flags, names and notes.

    What stands beside a piece is known when it is drawn; where that is too wide, the plate is parted for less.
    Raises DesignProblem when no room is left to part it in.
    """
    room = width - datum_room(one.plate)
    while True:
        pieces = [draw(one, span) for span in spans(one.plate, room)]
        over = max(block(piece, {}).box.width for piece in pieces) - width
        if over <= 1e-6:  # as near as packed() looks
            return pieces
        room -= over


def _placed(
    here: list[tuple[Block, Spot]], left: float, top: float
) -> tuple[tuple[Stroke, ...], tuple[Placement, ...]]:
    strokes: list[Stroke] = []
    places: list[Placement] = []
    for b, spot in here:
        dx, dy = round(left + spot.x - b.box.left, 3), round(top - spot.y - b.box.top, 3)
        strokes += [moved(s, dx, dy) for s in b.strokes]
        area = Box(b.box.left + dx, b.box.bottom + dy, b.box.right + dx, b.box.top + dy)
        places += [Placement(n, b.piece, b.pieces, dx, dy, 0.0, area) for n in (b.part, *b.also)]
    return tuple(strokes), tuple(places)


def briefly(undo: Correction) -> tuple[str, ...]:
    """The same in one sentence, for the map of a sheet on pages."""
    m = undo.measured
    return (f"For {m.printer} alone, measured {m.date}; error undone: {said(undo)}. Not true on any other printer.",)
