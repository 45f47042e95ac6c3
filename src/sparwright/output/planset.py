"""A whole plan set into a folder: PDF for each paper, DXF and SVG for each sheet, cut list, manifest."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from sparwright.output.atomic import folder, write_all
from sparwright.output.csv import cut_list_csv
from sparwright.output.dxf import dxf
from sparwright.output.manifest import manifest
from sparwright.output.pdf import pdf
from sparwright.output.svg import lettered, svg
from sparwright.plans.block import DRAWINGS
from sparwright.plans.cutlist import CutRow
from sparwright.plans.drawing import Sheet
from sparwright.plans.paper import TitleBlock

MANIFEST = "manifest.json"
WITHIN = re.compile(r"(?!\.)[^/\\:]+(/(?!\.)[^/\\:]+)?")  # a name in the set's folder, or in one folder within it
Told = Callable[[int, int], None]  # done, of how many


@dataclass(frozen=True)
class Table:
    """A table that goes with the sheets: how its file's name ends, what is in it, what it shows."""

    name: str
    content: bytes
    shows: str


@dataclass(frozen=True)
class Pages:
    """Pages that go with the sheets as one PDF: how its file's name ends, what is drawn, what it shows."""

    name: str
    sheets: tuple[Sheet, ...]
    shows: str


@dataclass(frozen=True)
class Loose:
    """A file under its own name, in a folder of the set if it has one before a stroke: what is in it, what it shows."""

    name: str  # "router/W1-wing-RIB-47.dxf"
    content: bytes
    shows: str


@dataclass(frozen=True)
class Document:
    """A PDF that is set elsewhere: how its file's name ends, what is in it, what it shows."""

    name: str
    content: bytes
    shows: str


def write_plans(
    sheets: Sequence[Sheet],
    rows: Sequence[CutRow],
    out: Path,
    title: TitleBlock,
    told: Told | None = None,
    tables: Sequence[Table] = (),
    printed: Sequence[Pages] = (),
    documents: Sequence[Document] = (),
    loose: Sequence[Loose] = (),
) -> tuple[Path, ...]:
    """Write the set and give the paths, manifest last. `sheets` may be of several kinds and papers.

    Files of the set before, named in its manifest and unchanged since, go when this set has none of that
    name: a sheet of an older design lying about would be cut one day. Raises CannotWrite; then the old set
    is as it was unless the fault came while files were being put in place, and the old manifest tells.
    """
    out = folder(Path(out))
    files, shows = plan_files(sheets, rows, title, told)
    for table in tables:
        name = f"{plain_name(title.model)}-{table.name}.csv"
        files[name] = table.content
        shows[name] = f"{table.shows} of {title.family} {title.model}"
    for pages in printed:
        name = f"{plain_name(title.model)}-{pages.name}.pdf"
        files[name] = pdf(pages.sheets, pages.sheets[0].title, title.program)
        shows[name] = f"{pages.shows} of {title.family} {title.model}, paper {pages.sheets[0].paper}"
    for document in documents:
        name = f"{plain_name(title.model)}-{document.name}.pdf"
        files[name] = document.content
        shows[name] = f"{document.shows} of {title.family} {title.model}"
    for one in loose:
        files[one.name], shows[one.name] = one.content, one.shows
    listed = manifest(
        files, shows, family=title.family, model=title.model, program=title.program, file_sha256=title.file_sha256
    )
    old = _unchanged(out)
    for parent in {(out / name).parent for name in files}:
        folder(parent)
    write_all({out / name: content for name, content in files.items()} | {out / MANIFEST: listed})
    for name in old - set(files):
        with suppress(OSError):
            (out / name).unlink()
    return (*(out / name for name in files), out / MANIFEST)


def plan_files(
    sheets: Sequence[Sheet], rows: Sequence[CutRow], title: TitleBlock, told: Told | None = None
) -> tuple[dict[str, bytes], dict[str, str]]:
    """Every file of a set but the manifest: name to content, and name to what it shows."""
    files: dict[str, bytes] = {}
    shows: dict[str, str] = {}
    letters, model = lettered(sheets), plain_name(title.model)
    sets: dict[tuple[str, str], list[Sheet]] = {}
    for s in sheets:
        sets.setdefault((s.kind, s.paper), []).append(s)
    for (kind, paper), these in sets.items():
        name = f"{model}-{kind}-{paper}"
        files[f"{name}.pdf"] = pdf(these, these[0].title, title.program)
        what = "drawing set" if kind == DRAWINGS else f"{these[0].title}, scale 1 : 1"
        shows[f"{name}.pdf"] = f"{what}, {len(these)} sheets, paper {paper}"
        for sheet in these:
            for ending, content in (("dxf", dxf(sheet)), ("svg", svg(sheet, letters))):
                one = f"{name}-{sheet.number:02d}.{ending}"
                files[one], shows[one] = content, _what(sheet)
            if told:
                told(len(files), 2 * len(sheets) + 2)
    files[f"{model}-cut-list.csv"] = cut_list_csv(rows)
    shows[f"{model}-cut-list.csv"] = f"cut list of {title.family} {title.model}, {len(rows)} rows"
    return files, shows


def _what(sheet: Sheet) -> str:
    parts = ", ".join(sheet.shows)
    return f"sheet {sheet.number} of {sheet.total}, paper {sheet.paper}, millimetres: {parts}"


def plain_name(model: str) -> str:
    """A model's name as part of a file name on any system.

    >>> plain_name("W 1/b")
    'W-1-b'
    """
    return re.sub(r"[^A-Za-z0-9_]+", "-", model).strip("-") or "model"


def _unchanged(out: Path) -> set[str]:
    """Files of the manifest in the folder that are still what it says."""
    try:
        record: Mapping[str, list[dict[str, str]]] = json.loads((out / MANIFEST).read_bytes())
        named = [(str(f["file"]), str(f["sha256"])) for f in record["files"]]
    except (OSError, ValueError, KeyError, TypeError):
        return set()
    found = set()
    for name, digest in named:
        with suppress(OSError):
            if WITHIN.fullmatch(name) and sha256((out / name).read_bytes()).hexdigest() == digest:
                found.add(name)
    return found
