"""What `plans` is asked of paper: pages for a home printer, a correction for one printer."""

from __future__ import annotations

import re
from argparse import Namespace
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from sparwright.base.problem import DesignProblem

if TYPE_CHECKING:
    from sparwright.output.planset import Document, Pages
    from sparwright.plans.correction import Correction
    from sparwright.plans.drawing import Sheet
    from sparwright.plans.paper import Issue, TitleBlock

TILES = ("letter", "A4")
SHEETS_OF = {"letter": "24x36", "A4": "A1"}  # the sheets that go on those pages, where both are drawn
ON = re.compile(r"(24x36|A1)|(letter|A4)(?:-(?:(templates|tube-ends|flat-parts)-)?([0-9]{1,3}))?")
NAME_ROOM = 75.0  # mm of lettering for a printer's name
ISSUE_ROOM = 36.0  # mm of lettering for a revision or a serial


@dataclass(frozen=True)
class Wish:
    """Pages wanted, and the four lengths as written with what they were measured on, printer and date."""

    tiles: tuple[str, ...] = ()
    lengths: str = ""
    on: str = ""
    printer: str = ""
    date: str = ""

    @property
    def page(self) -> str:
        """The page paper that was measured; empty for a sheet."""
        match = ON.fullmatch(self.on)
        return (match[2] or "") if match else ""

    @property
    def sheet(self) -> int:
        """The number of the sheet put together that was measured; 0 for none."""
        match = ON.fullmatch(self.on)
        return int(match[4] or 0) if match else 0

    @property
    def kind(self) -> str:
        """Which set that sheet is of; empty where it is not said."""
        match = ON.fullmatch(self.on)
        return (match[3] or "") if match else ""


NOTHING = Wish()


def wished(args: Namespace, papers: Sequence[str]) -> Wish:
    """What the command line asks. Raises DesignProblem before anything is worked out, where it can be told by then."""
    tiles = {"none": (), "both": TILES}.get(args.tiles, (args.tiles,))
    wish = Wish(tiles, args.measured, args.measured_on, args.printer.strip(), args.date.strip())
    given = {"--measured": wish.lengths, "--measured-on": wish.on, "--printer": wish.printer, "--date": wish.date}
    missing = [option for option, value in given.items() if not value]
    if len(missing) == len(given):
        return wish
    if missing:
        raise DesignProblem(
            f"a correction needs {' and '.join(missing)} too: which lengths, measured on what, printer, date"
        )
    _refuse(wish, papers)
    if wish.page and wish.page not in wish.tiles:
        wish = Wish((*wish.tiles, wish.page), wish.lengths, wish.on, wish.printer, wish.date)
    if not wish.sheet:
        undone(wish, ())
    return wish


def issued(args: Namespace) -> Issue:
    """Which copy of the set is drawn. Raises DesignProblem for what has no room in a title block, or is no day."""
    from sparwright.plans.drawing import DRAFTING
    from sparwright.plans.lettering import width
    from sparwright.plans.paper import Issue

    found = Issue(args.revision.strip(), args.serial.strip(), args.issued.strip())
    for option, value in (("--revision", found.revision), ("--serial", found.serial)):
        if width(value, DRAFTING.small) > ISSUE_ROOM:
            raise DesignProblem(f"{option} {value!r} is too long for a title block; some 15 letters have room")
    if found.date and not _is_day(found.date):
        raise DesignProblem(f"--issued {found.date!r} is not a day; write it like 2026-05-04")
    return found


def _refuse(wish: Wish, papers: Sequence[str]) -> None:
    from sparwright.plans.drawing import DRAFTING
    from sparwright.plans.lettering import width

    match = ON.fullmatch(wish.on)
    if not match or match[4] in ("0", "00", "000"):
        raise DesignProblem(
            f"--measured-on {wish.on!r} is not known; 24x36 or A1 is a sheet, letter or A4 the page printed first, "
            "letter-flat-parts-3 or A4-tube-ends-3 is a sheet put together from pages, as its map names it"
        )
    if match[1] and match[1] not in papers:
        raise DesignProblem(f"--measured-on {wish.on} needs --paper {wish.on} or both")
    if width(wish.printer, DRAFTING.small) > NAME_ROOM:
        raise DesignProblem(f"the printer's name {wish.printer!r} is too long for a page; some 30 letters have room")
    if not _is_day(wish.date):
        raise DesignProblem(f"--date {wish.date!r} is not a day; write it like 2026-05-04")


def _is_day(text: str) -> bool:
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def undone(wish: Wish, sheets: Sequence[Sheet]) -> Correction:
    """The correction that was asked for; `sheets` are those that were put together from pages."""
    from sparwright.plans.correction import correction
    from sparwright.plans.first_page import first_sides
    from sparwright.plans.measured_lengths import measured
    from sparwright.plans.paper import PAPERS, check_sides
    from sparwright.plans.tiles import TILE_PAPERS, tiling

    named = {name: f"{p.title} sheet" for name, p in PAPERS.items()}
    named |= {name: f"page to print first, {p.title}" for name, p in TILE_PAPERS.items()}
    ruled = {named[name]: check_sides(p) for name, p in PAPERS.items()}
    ruled |= {named[name]: first_sides(p) for name, p in TILE_PAPERS.items()}
    on = named[wish.page or wish.on]
    if wish.sheet:
        sheet = _measured_sheet(wish, sheets)
        on = f"sheet {wish.sheet} put together from {wish.page} pages"
        ruled[on] = tiling(sheet, TILE_PAPERS[wish.page]).sides
    return correction(measured(wish.lengths, on, ruled, wish.printer, wish.date))


def _measured_sheet(wish: Wish, sheets: Sequence[Sheet]) -> Sheet:
    """The sheet that was put together and measured; each set of sheets is numbered from 1."""
    found = [s for s in sheets if s.number == wish.sheet and wish.kind in ("", s.kind)]
    if not found:
        raise DesignProblem(
            f"--measured-on {wish.on}: there are {sum(wish.kind in ('', s.kind) for s in sheets)} sheets"
        )
    if len(found) > 1:
        names = ", ".join(f"{wish.page}-{s.kind}-{s.number}" for s in found)
        raise DesignProblem(f"--measured-on {wish.on} may be any of {names}: say which, its map names it")
    return found[0]


def _of(page: str, sheets: Sequence[Sheet]) -> list[Sheet]:
    """The sheets that go on those pages."""
    drawn = {s.paper for s in sheets}
    paper = SHEETS_OF[page] if SHEETS_OF[page] in drawn else next(iter(drawn), "")
    return [s for s in sheets if s.paper == paper]


def on_paper(wish: Wish, sheets: Sequence[Sheet], title: TitleBlock) -> tuple[list[Pages], list[Document]]:
    """Corrected sheets and tiled sets that were asked for."""
    from sparwright.output.planset import Document, Pages, plain_name
    from sparwright.output.tiled import tiled_pdf
    from sparwright.plans.templates import corrected_sheets
    from sparwright.plans.tiled import tiled
    from sparwright.plans.tiles import TILE_PAPERS

    pages: list[Pages] = []
    documents: list[Document] = []
    undo = undone(wish, _of(wish.page, sheets) if wish.page else sheets) if wish.lengths else None
    end = f"for-{plain_name(wish.printer)}"
    only = f"corrected for {wish.printer} alone, measured {wish.date}, sheets"
    if undo and not wish.page:
        drawn = corrected_sheets([s for s in sheets if s.paper == wish.on], title, undo)
        pages += [Pages(f"templates-{wish.on}-{end}", drawn, only)] if drawn else []
    for page in wish.tiles:
        of = _of(page, sheets)
        for correct in (None, undo) if undo and page == wish.page else (None,):
            if not of:
                continue
            made = tiled(of, TILE_PAPERS[page], title, correct)
            name = f"tiles-{page}" + (f"-{end}" if correct else "")
            shows = f"{only if correct else 'sheets'} {of[0].paper} on {made.pages} {page} pages"
            documents.append(Document(name, tiled_pdf(made, title.program), shows))
    return pages, documents


def said(wish: Wish, paths: Sequence[Path]) -> str:
    """What became of the wish, a line each; empty for none."""
    from sparwright.output.planset import plain_name

    lines = [f"Pages for a home printer: {p.name}; print its first page first and measure it." for p in paths
             if re.search(r"-tiles-(letter|A4)\.pdf$", p.name)]  # fmt: skip
    if wish.lengths:
        made = [p.name for p in paths if p.name.endswith(f"-for-{plain_name(wish.printer)}.pdf")]
        lines += [
            f"Corrected for {wish.printer} alone: {name}; DXF, SVG and the other PDFs stay true." for name in made
        ]
    return "".join(f"{line}\n" for line in lines)
