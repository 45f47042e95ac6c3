"""What every drawing of the set carries: border, title block, projection, from and to, places to write, caution.

A drawing says what it leans on and what leans on it by the keys of other drawings; numbers are given when the whole set
is known, so that a drawing that goes or comes renumbers the rest. Revision, serial and date are passed in; what is not
said stays a line to write on.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from sparwright.base.record import number
from sparwright.base.safety import CAUTION
from sparwright.plans.drawing import DRAFTING, Box, Circle, Line, Placement, Polyline, Sheet, Stroke, Text, rectangle
from sparwright.plans.lettering import paragraph, wrapped
from sparwright.plans.paper import BORDER, Paper, TitleBlock, or_written, paper

DRAWINGS = "drawings"  # kind of the sheets of the drawing set
TALL, WIDE = 62.0, 330.0  # mm, the title block, at the lower right
PAD = 4.0  # mm inside the block
ZONE = 5.0  # mm between border and field


@dataclass(frozen=True)
class Drawing:
    """One drawing of the set before it has a number."""

    key: str  # "fuselage": what other drawings call it by
    title: str
    strokes: tuple[Stroke, ...]
    scale: str = "1 : 1"
    shows: tuple[str, ...] = ()  # part numbers
    comes_from: tuple[str, ...] = ()  # keys of drawings it is built on
    goes_to: tuple[str, ...] = ()  # keys of drawings that use it
    notes: tuple[str, ...] = ()
    paper: str = "24x36"
    pieces: int = number("1", "sheets of one drawing", 1)


def field_of(p: Paper) -> Box:
    """Where a drawing may draw over the title block's whole height, mm: all of the sheet but the strip at its foot."""
    edge = BORDER + ZONE
    return Box(edge, edge + TALL + ZONE, p.width - edge, p.height - edge)


def foot_of(p: Paper) -> Box:
    """The room beside the title block, for notes or a table, mm."""
    edge = BORDER + ZONE
    return Box(edge, edge, p.width - edge - WIDE - ZONE, edge + TALL)


def runs(numbers: Iterable[int]) -> str:
    """Numbers in order, three and more in a row by the first and the last.

    >>> runs([7, 1, 2, 4, 5, 6])
    '1, 2, 4–7'
    """
    found: list[list[int]] = []
    for n in sorted(numbers):
        if found and n == found[-1][-1] + 1:
            found[-1].append(n)
        else:
            found.append([n])
    return ", ".join(f"{r[0]}–{r[-1]}" if len(r) > 2 else ", ".join(map(str, r)) for r in found)


def linked(drawings: Sequence[Drawing]) -> tuple[Drawing, ...]:
    """The drawings, each way between two of them known at both ends, whichever names it."""
    built: dict[str, list[str]] = {}
    used: dict[str, list[str]] = {}
    for d in drawings:
        for key in d.comes_from:
            used.setdefault(key, []).append(d.key)
        for key in d.goes_to:
            built.setdefault(key, []).append(d.key)
    return tuple(replace(d, comes_from=tuple(dict.fromkeys((*d.comes_from, *built.get(d.key, ())))),
                         goes_to=tuple(dict.fromkeys((*d.goes_to, *used.get(d.key, ())))))
                 for d in drawings)  # fmt: skip


def numbered(drawings: Sequence[Drawing], title: TitleBlock) -> tuple[Sheet, ...]:
    """Every drawing as a sheet with its number, its block, and what it comes from and goes to by number."""
    at = {d.key: i for i, d in enumerate(drawings, 1)}
    return tuple(_sheet(d, i, len(drawings), at, title) for i, d in enumerate(drawings, 1))


def _sheet(d: Drawing, n: int, total: int, at: Mapping[str, int], title: TitleBlock) -> Sheet:
    p = paper(d.paper)
    border = rectangle(BORDER, BORDER, p.width - BORDER, p.height - BORDER, "frame", "thick")
    own = (border, *_folds(p), *_block(d, n, total, at, title, p), *_notes(d, p))
    places = tuple(Placement(part, 1, 1, 0.0, 0.0) for part in dict.fromkeys(d.shows))
    return Sheet(n, total, d.title, d.paper, p.width, p.height, (*own, *d.strokes), places, DRAWINGS, len(own))


def _folds(p: Paper) -> Iterator[Stroke]:
    """Corner marks that show cropping."""
    edge, leg = 6.0, 12.0
    for x, sx in ((edge, 1), (p.width - edge, -1)):
        for y, sy in ((edge, 1), (p.height - edge, -1)):
            yield Line((x, y), (x + sx * leg, y), "frame", "thick")
            yield Line((x, y), (x, y + sy * leg), "frame", "thick")


def _block(d: Drawing, n: int, total: int, at: Mapping[str, int], title: TitleBlock, p: Paper
           ) -> Iterator[Stroke]:  # fmt: skip
    right, low = p.width - BORDER - ZONE, BORDER + ZONE
    left, top = right - WIDE, low + TALL
    edges = (left, left + 0.30 * WIDE, left + 0.62 * WIDE, right)
    yield rectangle(left, low, right, top, "frame", "thick")
    for x in edges[1:-1]:
        yield Line((x, low), (x, top), "frame")
    yield from _caution(edges[0], edges[1], top)
    yield from _issued(edges[1], edges[2], low, top, title, p, d)
    yield from _named(edges[2], edges[3], low, top, d, n, total, at, title)


def _caution(left: float, right: float, top: float) -> Iterator[Stroke]:
    d, y = DRAFTING, top - PAD
    for words, bold in (("Caution", True), (CAUTION, False), ("Figures govern over lines: do not scale.", False)):
        texts, y = paragraph(words, (left + PAD, y), d.small, right - left - 2 * PAD, d.pitch, bold=bold, layer="frame")
        yield from texts
        y -= 1.2


def _issued(left: float, right: float, low: float, top: float, title: TitleBlock, p: Paper, d: Drawing
            ) -> Iterator[Stroke]:  # fmt: skip
    """Scale, units, projection, revision, serial, date: printed where said, else a line to write on."""
    x, y, step = left + PAD, top - PAD - DRAFTING.small, 7.4
    for name, value in (("Scale", d.scale), ("Units", title.units), ("Paper", p.title)):
        yield Text(f"{name}: {value}", (x, y), DRAFTING.small, layer="frame")
        y -= step
    for name, value in title.issue.rows:
        yield from or_written(name, value, x, right - PAD, y)
        y -= step
    yield Text(f"{title.program}, design {title.file_sha256[:12]}", (x, y), DRAFTING.small, layer="frame")
    yield from _third_angle(right - 24.0, top - PAD - 6.5)


def _third_angle(x: float, y: float) -> Iterator[Stroke]:
    """The symbol of third angle projection, ISO 5456-2: the end of a cut cone stands left of its side."""
    for r in (2.0, 4.0):
        yield Circle((x, y), r, "frame")
    yield Polyline(((x + 7.0, y - 2.0), (x + 15.0, y - 4.0), (x + 15.0, y + 4.0), (x + 7.0, y + 2.0)), "frame",
                   closed=True)  # fmt: skip
    for a, b in (((x - 6.0, y), (x + 6.0, y)), ((x, y - 6.0), (x, y + 6.0)), ((x + 6.0, y), (x + 17.0, y))):
        yield Line(a, b, "frame", dash="chain")


def _named(left: float, right: float, low: float, top: float, d: Drawing, n: int, total: int, at: Mapping[str, int],
           title: TitleBlock) -> Iterator[Stroke]:  # fmt: skip
    k, room, y = DRAFTING, right - left - 2 * PAD, top - PAD
    name = f"{title.family} {title.model}"
    size = next((s for s in (k.large, k.middle) if len(wrapped(name, s, room, True)) == 1), k.small)
    for words, height, bold in (
        (name, size, True),
        (d.title, k.middle, False),
        (f"Sheet {n} of {total}", k.middle, True),
    ):
        texts, y = paragraph(words, (left + PAD, y), height, room, k.pitch, bold=bold, layer="frame")
        yield from texts
        y -= 1.6
    for word, keys in (("From", d.comes_from), ("To", d.goes_to)):
        known = [at[key] for key in keys if key in at]
        if known:
            texts, y = paragraph(f"{word} sheet{'s' if len(known) > 1 else ''} {runs(known)}",
                                 (left + PAD, y), k.small, room, k.pitch, layer="frame")  # fmt: skip
            yield from texts


def _notes(d: Drawing, p: Paper) -> Iterator[Stroke]:
    """Numbered notes in columns beside the block, full ones first."""
    foot, k = foot_of(p), DRAFTING
    room = min(k.notes, foot.width)
    columns = max(1, math.floor((foot.width + 6.0) / (room + 6.0)))
    x, y, used = foot.left, foot.top, 1
    for i, words in enumerate(d.notes, 1):
        lines = wrapped(f"{i}  {words}", k.small, room)
        if y - len(lines) * k.pitch * k.small < foot.bottom and used < columns:
            x, y, used = x + room + 6.0, foot.top, used + 1
        texts, y = paragraph(f"{i}  {words}", (x, y), k.small, room, k.pitch)
        yield from texts
        y -= 1.6
