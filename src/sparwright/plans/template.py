"""One part as a full-size template with everything a builder needs beside it, in the part's own axes, mm."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from sparwright.base.quantity import decimal_inches, inches, millimetres
from sparwright.base.record import number
from sparwright.parts.part import Length, Mark, Part, Plate
from sparwright.plans.clash import line_of
from sparwright.plans.corner import free_corner
from sparwright.plans.drawing import (
    DRAFTING,
    Box,
    Dimension,
    Line,
    Point,
    Polyline,
    Stroke,
    Text,
    cross,
    is_line,
    paper_points,
)
from sparwright.plans.flags import LENGTHS, Flag, Measure, hoisted, measured
from sparwright.plans.inside import label_inside
from sparwright.plans.lettering import box, paragraph, width
from sparwright.plans.paper import FAR
from sparwright.plans.rib_shapes import Opening, RibShape
from sparwright.plans.side import crosses, side
from sparwright.plans.split import LAP, Span, line_on, ring_on

SheetOf = Mapping[tuple[str, int], int]  # (part number, piece) to the sheet it is on
MATCH_AWAY = (2.5, 5.0)  # mm from the part to the upper match cross, below the lowest flag, and to the lower one
HANDS = {"R": ", right hand", "L": ", left hand", "": ""}
CORNER = 5.0  # mm of clear paper round notes in a corner
ARROW = 32.0  # mm, length of the grain arrow
LEAST_LINES = 2  # of notes in a column before another is begun
LONG_MARK = 0.8  # a mark over this share of the template's length is a datum, named at its right end


@dataclass(frozen=True)
class Drawn:
    """One piece drawn and measured, before its notes, with what they need to know."""

    rib: RibShape
    span: Span
    strokes: tuple[Stroke, ...]
    notes_at: Point  # mm, upper left corner of the notes
    room: float = number("mm", "width for the notes")
    untold: tuple[str, ...] = ()  # master lengths that are not drawn on this piece
    labelled: bool = True  # whether the part number stands on the part itself


@dataclass(frozen=True)
class Block:
    """A template with its notes and their bounding rectangle, in the part's own axes, mm."""

    part: str
    piece: int
    pieces: int
    strokes: tuple[Stroke, ...]
    box: Box
    also: tuple[str, ...] = ()  # numbers of other parts it serves
    turn: float = number("deg", "that the part's axes are turned on paper, anticlockwise", 0.0)


def datum_room(plate: Plate) -> float:
    """Length, mm, that the names of chord and datum lines need beside a template."""
    named = [m.label for m in plate.marks if len(m.points) > 1]
    longest = max((width(words, DRAFTING.small) for words in named), default=0.0)
    return longest + 2 * DRAFTING.away + 4.0


def draw(rib: RibShape, span: Span) -> Drawn:
    """One piece: lines to cut, marks, match lines, master lengths, the number on the part; no lettering on lines."""
    part, plate = rib.part, rib.plate
    cut = tuple(_cut(plate, span))
    x0, y0, x1, y1 = extent(cut)
    marks, flags = _marks(plate.marks, span, (x0, x1))
    standing, lying, apart = _sorted_lengths(part.number, plate.lengths, span)
    flags += [Flag(m.label, _upper(m), "measure") for m in standing]
    some = tuple(_not_in_all(rib.openings, span, flags))
    flags += [Flag(f"{name}1 match line {name}", (x, y1), "match") for name, x in span.matches]
    dims, crowded, low = measured(lying, y0 - (2 * MATCH_AWAY[1] if span.matches else 0.0))
    lines = (*cut, *marks, *some, *_standing(standing), *_pricks(plate.lengths, span))
    matches = tuple(_matches(span, y0, y1))
    on_part = [line_of(s) for s in (*lines, *matches) if is_line(s)]
    label = label_inside(rib.name, plate, span, on_part)
    strokes = (*lines, *matches, *hoisted(flags, y1), *dims, *label)
    left, _, right, _ = extent(strokes)
    at = (left, low - DRAFTING.away / (1 if dims else 2))
    untold = tuple(m.label for m in (*crowded, *apart))
    below = Drawn(rib, span, strokes, at, max(right - left, DRAFTING.notes), untold, bool(label))
    return _in_corner(below) or below


def _in_corner(drawn: Drawn) -> Drawn | None:
    """The piece with its notes in a free corner of its own rectangle, over the tail of a rib, where they fit."""
    whole = shapely.Polygon(drawn.rib.plate.outline * 1000.0)
    piece = shapely.intersection(whole, shapely.box(drawn.span.left, -1e6, drawn.span.right, 1e6))
    boxes = [shapely.Polygon(box(s)) for s in drawn.strokes if isinstance(s, Text)]
    taken = [piece, *boxes, *(line_of(s) for s in drawn.strokes if is_line(s))]
    for room in (3 * DRAFTING.notes, 2 * DRAFTING.notes, DRAFTING.notes):
        placed = replace(drawn, notes_at=(0.0, 0.0), room=room + DRAFTING.space)
        x0, y0, x1, y1 = extent(tuple(_notes(placed, {})))
        at = free_corner((x1 - x0, y1 - y0), taken, CORNER)
        if at is not None:
            return replace(placed, notes_at=(at[0] - x0, at[1] - y1))
    return None


def block(drawn: Drawn, sheet_of: SheetOf) -> Block:
    """The piece with its notes below. `sheet_of` names the sheets of the other pieces, where known."""
    strokes = (*drawn.strokes, *_notes(drawn, sheet_of))
    first, *others = (p.number for p in drawn.rib.parts)
    return Block(first, drawn.span.piece, drawn.span.pieces, strokes, Box(*extent(strokes)), tuple(others))


def extent(strokes: Sequence[Stroke]) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of strokes, mm."""
    inked = (s for s in strokes if not isinstance(s, Dimension))
    xy = np.vstack([box(s) if isinstance(s, Text) else line_of(s).coords for s in inked])
    (x0, y0), (x1, y1) = xy.min(axis=0), xy.max(axis=0)
    return float(x0), float(y0), float(x1), float(y1)


def _cut(plate: Plate, span: Span) -> Iterator[Stroke]:
    """The blank, or the outline when nothing is bent; then the mould line of the flanges; then the holes."""
    for points, closed in ring_on(plate.outline if plate.blank is None else plate.blank, span):
        yield Polyline(points, "cut", closed)
    if plate.blank is not None:
        for points, closed in ring_on(plate.outline, span):
            yield Polyline(points, "bend", closed, dash="dash")
    for hole in plate.holes:
        for points, closed in ring_on(hole, span):
            yield Polyline(points, "cut", closed)


def _not_in_all(openings: Sequence[Opening], span: Span, flags: list[Flag]) -> Iterator[Stroke]:
    """Openings that not all of the parts have, dashed, with a prick and a letter; their flags are added."""
    for o in openings:
        (at,) = paper_points((o.at,))
        if span.holds(at):
            for points, closed in ring_on(o.ring, span):
                yield Polyline(points, "cut", closed, dash="dash")
            yield from cross(at, DRAFTING.prick, "mark")
            flags.append(Flag(f"opening {o.letter}, not in all", at))


def _marks(marks: Sequence[Mark], span: Span, x: tuple[float, float]) -> tuple[tuple[Stroke, ...], list[Flag]]:
    """Marks as chain lines or prick crosses, with a flag for each that is not a datum."""
    strokes: list[Stroke] = []
    flags: list[Flag] = []
    names: list[tuple[float, str]] = []
    for mark in marks:
        points = paper_points(mark.points)
        if len(points) == 1:
            if span.holds(points[0]):
                strokes += cross(points[0], DRAFTING.prick, "mark")
                flags += [Flag(mark.label, points[0])] if mark.label else []
            continue
        for line in line_on(points, span):
            datum = abs(line[-1][0] - line[0][0]) >= LONG_MARK * (x[1] - x[0])
            line = _extended(line, x) if datum else line
            strokes.append(Polyline(line, "mark", dash="chain"))
            if datum:
                names.append((line[-1][1], mark.label))
            elif mark.label:
                flags.append(Flag(mark.label, max(line, key=lambda p: p[1])))
    return (*strokes, *_names_at_right(names, x[1] + DRAFTING.away)), flags


def _extended(line: tuple[Point, ...], x: tuple[float, float]) -> tuple[Point, ...]:
    """A datum, left to right, carried on straight a little beyond the part at both ends."""
    line = line if line[0][0] < line[-1][0] else line[::-1]
    (ax, ay), (bx, by) = line[0], line[-1]
    slope, d = (by - ay) / (bx - ax), DRAFTING.away
    return ((x[0] - d, ay + slope * (x[0] - d - ax)), *line, (x[1] + d, by + slope * (x[1] + d - bx)))


def _names_at_right(names: Sequence[tuple[float, str]], x: float) -> Iterator[Text]:
    """Names of datum lines after their right ends, spread where they are close."""
    d = DRAFTING
    lowest = math.inf
    for y, name in sorted(names, reverse=True):
        base = min(y - d.small / 2, lowest - d.pitch * d.small)
        yield Text(name, (x + d.gap, base), d.small, layer="mark")
        lowest = base


def _figures(length: Length) -> str:
    return f"{length.label} {inches(length.value, FAR)} = {millimetres(length.value)}"


def _sorted_lengths(
    number: str, lengths: Sequence[Length], span: Span
) -> tuple[list[Measure], list[Measure], list[Measure]]:
    """Master lengths that stand up, that lie along, and that do not lie on this piece."""
    standing: list[Measure] = []
    lying: list[Measure] = []
    apart: list[Measure] = []
    for length in lengths:
        start, end = paper_points((length.start, length.end))
        m = Measure(_figures(length), start, end, length.value, length.label, number)
        if not span.holds(start, end) or m.length < 1.0:
            apart.append(m)
        elif abs(end[0] - start[0]) >= abs(end[1] - start[1]):
            lying.append(m)
        else:
            standing.append(m)
    return standing, lying, apart


def _upper(m: Measure) -> Point:
    return max(m.start, m.end, key=lambda p: p[1])


def _standing(measures: Sequence[Measure]) -> Iterator[Stroke]:
    t = DRAFTING.tick
    for m in measures:
        ends = (m.start, m.end)
        shown = (
            Line(*ends, "measure"),
            *(Line((x - t, y - t), (x + t, y + t), "measure", "thick") for x, y in ends),
        )
        turn = math.degrees(math.atan2(m.end[1] - m.start[1], m.end[0] - m.start[0]))
        yield from shown
        yield Dimension("along", *ends, _upper(m), m.label, shown, m.value, turn, m.name, m.row, LENGTHS)


def _pricks(lengths: Sequence[Length], span: Span) -> Iterator[Stroke]:
    """A prick cross at each end of each master length."""
    ends = paper_points(p for length in lengths for p in (length.start, length.end))
    for p in dict.fromkeys((round(x, 6), round(y, 6)) for x, y in ends):
        if span.holds(p):
            yield from cross(p, DRAFTING.prick, "mark")


def _matches(span: Span, bottom: float, top: float) -> Iterator[Stroke]:
    """Match lines through the whole depth, with a cross above and below the part; a flag letters the upper one."""
    half, d = 4.0, DRAFTING
    for name, x in span.matches:
        high, low = top + MATCH_AWAY[0], bottom - MATCH_AWAY[1]
        yield Line((x, low - half), (x, high), "match", "thick", "chain")
        for y in (high, low):
            yield Line((x - half, y), (x + half, y), "match", "thick")
        yield Text(f"{name}2", (x + half + d.gap, low - d.small / 2), d.small, layer="match")


def _notes(drawn: Drawn, sheet_of: SheetOf) -> Iterator[Stroke]:
    """Heading with the grain arrow, then the notes in columns, then a place to sign."""
    head, y = _head(drawn)
    yield from head
    d, x, room = DRAFTING, drawn.notes_at[0], drawn.room
    words = tuple(_words(drawn, sheet_of))
    broken = [paragraph(w, (0.0, 0.0), d.small, d.notes, d.pitch)[0] for w in words]
    count = sum(map(len, broken)) + 1
    columns = max(1, min(int((room + d.space) // (d.notes + d.space)), count // LEAST_LINES))
    share = math.ceil(count / columns)
    column, used = 0, 0
    for lines in (*broken, ()):
        if used and used + max(len(lines), 1) > share and column < columns - 1:
            column, used = column + 1, 0
        left = x + column * (d.notes + d.space)
        for line in lines:
            yield Text(line.content, (left, y - d.small - used * d.pitch * d.small), d.small)
            used += 1
    yield from _signed((x + column * (d.notes + d.space), y - (used + 0.4) * d.pitch * d.small))


def _head(drawn: Drawn) -> tuple[tuple[Stroke, ...], float]:
    """Number, name and count; the grain arrow beside them when it lies level and there is room, else below."""
    d, (x, top), grain = DRAFTING, drawn.notes_at, drawn.rib.plate.grain
    texts, y = paragraph(_heading(drawn.rib, drawn.span), (x, top), d.middle, drawn.room, d.pitch, bold=True)
    y -= 1.0
    arrow, low = grain_arrow(grain, (x, y))
    beside = (x + width(texts[0].content, d.middle, True) + d.space, texts[0].anchor[1] + d.middle + 0.5)
    if len(texts) == 1 and grain_angle(grain) == 0.0 and beside[0] + _grain_length(grain) <= x + drawn.room:
        arrow, low = grain_arrow(grain, beside)
    return (*texts, *arrow), min(y, low)


def _heading(rib: RibShape, span: Span) -> str:
    part, count = rib.part, sum(p.count for p in rib.parts)
    hand = HANDS[part.hand] if len(rib.parts) == 1 else " in all"
    piece = f" · piece {span.piece} of {span.pieces}" if span.pieces > 1 else ""
    return f"{rib.name} · {part.name} · make {count}{hand}{piece}"


def _words(drawn: Drawn, sheet_of: SheetOf) -> Iterator[str]:
    part, plate, span, thick = drawn.rib.part, drawn.rib.plate, drawn.span, drawn.rib.plate.thickness
    yield f"{part.stock}; thickness {decimal_inches(thick)} = {thick * 1000:.2f} mm"
    if part.measured:
        yield part.measured.said[:1].upper() + part.measured.said[1:]
    if span.piece == 1:
        yield from _which(drawn.rib)
    cut = side(part.material, bool(plate.holes))
    if plate.blank is None:
        yield f"{cut[:1].upper()}{cut[1:]}. This side up."
    else:
        yield (
            f"Solid line: flat blank; {cut}. Dashed line: outside face of the bent flange; "
            "the form block is this less the thickness. This side up."
        )
    if crosses(part.material):
        yield crosses(part.material)
    if span.pieces > 1:
        yield from _joining(part, span, sheet_of)
    if drawn.untold:
        yield ("Across the joint: " if span.pieces > 1 else "Lengths: ") + "; ".join(drawn.untold)
    if not drawn.labelled:
        yield "Too slim to carry its number: write it on the part."


def _which(rib: RibShape) -> Iterator[str]:
    """Which parts the template serves: how many of each, where it stands, its bend; then openings not all have."""
    if len(rib.parts) == 1:
        yield from _each(rib.part)
        return
    bends = {bend_of(p) for p in rib.parts}
    for p in rib.parts:
        said = "; ".join(x for x in (p.at, bend_of(p) if len(bends) > 1 else "") if x)
        yield f"{p.number}: make {p.count}{HANDS[p.hand]}{', ' if said else ''}{said}"
    if len(bends) == 1 and (bend := bends.pop()):
        yield bend[:1].upper() + bend[1:]
    for o in rib.openings:
        yield f"Opening {o.letter}, dashed, {o.what.removeprefix('opening ')}: only in {', '.join(o.numbers)}"
    yield "Write each part's own number on it."


def _each(part: Part) -> Iterator[str]:
    if part.at:
        yield f"At {part.at}"
    bend = bend_of(part)
    if bend:
        yield bend[:1].upper() + bend[1:]


def bend_of(part: Part) -> str:
    """How a plate's edge is bent, in words; empty for a flat one."""
    return part.shape.bend if isinstance(part.shape, Plate) else ""


def _joining(part: Part, span: Span, sheet_of: SheetOf) -> Iterator[str]:
    for name, _ in span.matches:
        other = span.piece + (1 if span.matches[-1][0] == name and span.piece < span.pieces else -1)
        sheet = sheet_of.get((part.number, other), 88)
        yield (
            f"Match line {name}: piece {other} is on sheet {sheet}. Lay cross {name}1 on {name}1 "
            f"and {name}2 on {name}2, the chord line straight; {LAP:.0f} mm is drawn beyond the line."
        )


def grain_arrow(grain: str, at: Point) -> tuple[tuple[Stroke, ...], float]:
    """An arrow along the grain with its words; also the y below. Words alone when they name no direction."""
    if not grain:
        return (), at[1]
    d = DRAFTING
    x, top = at
    angle = grain_angle(grain)
    if angle is None:
        return (Text(f"Grain {grain}", (x, top - d.small), d.small),), top - d.pitch * d.small
    half, c, s = ARROW / 2, math.cos(angle), math.sin(angle)
    rise = abs(s) * half + 2.0
    cx, cy = x + half, top - rise
    tips = ((cx - c * half, cy - s * half), (cx + c * half, cy + s * half))
    strokes: list[Stroke] = [Line(tips[0], tips[1], "note", "thick")]
    for (tx, ty), way in zip(tips, (1, -1), strict=True):
        for turn in (0.4, -0.4):
            a = angle + turn
            strokes.append(Line((tx, ty), (tx + way * 4 * math.cos(a), ty + way * 4 * math.sin(a)), "note", "thick"))
    strokes.append(Text(f"Grain {grain}", (x + 2 * half + 4.0, cy - d.small / 2), d.small))
    return tuple(strokes), cy - max(rise, d.small) - 1.5


def _grain_length(grain: str) -> float:
    return ARROW + 4.0 + width(f"Grain {grain}", DRAFTING.small)


def grain_angle(grain: str) -> float | None:
    """Direction of the grain from the chord, rad: "along ..." 0, "across ..." a quarter turn, "45 deg" as said.

    >>> grain_angle("along the chord"), grain_angle("as you like")
    (0.0, None)
    """
    words = grain.split() or [""]
    if words[:1] == ["along"]:
        return 0.0
    if words[:1] == ["across"]:
        return math.pi / 2
    try:
        return math.radians(float(words[0].rstrip("°"))) if words[0].endswith("°") or words[1:2] == ["deg"] else None
    except ValueError:
        return None


def _signed(at: Point) -> tuple[Stroke, ...]:
    d = DRAFTING
    words = "Lengths measured, date and initials"
    x = at[0] + width(words, d.small) + 3.0
    y = at[1] - d.small
    return Text(words, (at[0], y), d.small, layer="hand"), Line((x, y - 1.0), (at[0] + d.notes, y - 1.0), "hand")
