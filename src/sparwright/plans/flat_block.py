"""One flat part of sheet as a full-size template: lines to cut, bend lines, holes with centres, words beside it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from types import MappingProxyType

import numpy as np
import shapely

from sparwright.base.quantity import decimal_inches, inches, millimetres
from sparwright.base.record import number
from sparwright.data.loader import fasteners, material
from sparwright.parts.alike import Alike
from sparwright.parts.part import Foot, Part, Plate
from sparwright.plans.clash import line_of
from sparwright.plans.drawing import DRAFTING, Box, Circle, Line, Point, Polyline, Stroke, Text, arc, cross
from sparwright.plans.inside import label_on
from sparwright.plans.lettering import box, wrapped
from sparwright.plans.paper import FAR, both_units
from sparwright.plans.template import Block, extent, grain_arrow
from sparwright.plans.windows import Match, Window, clipped
from sparwright.shape.rib import bend_allowance
from sparwright.shape.solid import CORNERS

BESIDE, BELOW = 84.0, 66.0  # mm of notes at the right of a part; least below one
AWAY = 5.0  # mm from the part to its notes
PITCH = 5.4  # mm from line to line
ROUND = 1e-5  # m a hole's corners may lie off a circle
MATCH_OUT = 6.0  # mm a match line goes on beyond the part
WOOD = ("plywood", "wood")


@dataclass(frozen=True)
class Spot:
    """A hole or a place to prick, mm."""

    at: Point
    words: str
    radius: float = number("mm", "of the hole that is drawn; nought for a prick")
    drilled: float = number("m", "diameter to drill, as far as it is known; NaN where it is not", math.nan)


def turned(plate: Plate) -> Plate:
    """The plate a quarter turn anticlockwise, so that what stands tall lies along."""
    foot, quarter = plate.foot, _quarter
    return replace(
        plate, outline=quarter(plate.outline), holes=tuple(map(quarter, plate.holes)),
        blank=None if plate.blank is None else quarter(plate.blank),
        foot=foot and replace(foot, start=_point(foot.start), end=_point(foot.end)),
        marks=tuple(replace(m, points=tuple(map(_point, m.points))) for m in plate.marks),
        lengths=tuple(replace(k, start=_point(k.start), end=_point(k.end)) for k in plate.lengths),
    )  # fmt: skip


def _quarter(ring: np.ndarray) -> np.ndarray:
    return np.column_stack([-ring[:, 1], ring[:, 0]])


def _point(p: tuple[float, float]) -> tuple[float, float]:
    return (-p[1], p[0])


def whole_box(plate: Plate) -> Box:
    """Bounds of all that is cut, mm."""
    xy = 1000 * np.vstack([plate.outline] if plate.blank is None else [plate.outline, plate.blank])
    (x0, y0), (x1, y1) = xy.min(axis=0), xy.max(axis=0)
    return Box(float(x0), float(y0), float(x1), float(y1))


def flat_block(one: Alike, plate: Plate, key: str, window: Window, turn: float = 0.0,
               on: Mapping[tuple[str, int], int] = MappingProxyType({})) -> Block:  # fmt: skip
    """One piece with its notes. plate: as it lies on paper; turn: deg it was turned; on: the sheet of each piece."""
    lines = (*_cut(plate, window), *_bends(plate, window), *_matches(window))
    spots = [s for s in _spots(plate) if window.holds(*s.at)]
    holes = tuple(h for s in spots for h in _drawn(s))
    groups = _groups(spots)
    busy = [line_of(s) for s in (*lines, *holes)]
    texts = _match_letters(window, busy)
    named, lost = _letters(groups, busy, texts)
    b = window.box
    cut_out = shapely.union_all([shapely.Polygon(h * 1000.0) for h in plate.holes])
    piece = shapely.intersection(shapely.difference(shapely.Polygon(plate.outline * 1000.0), cut_out),
                                 shapely.box(b.left, b.bottom, b.right, b.top))  # fmt: skip
    taken = [*busy, *(shapely.LinearRing(box(t, DRAFTING.gap)) for t in (*named, *texts))]
    label = label_on(piece, one.part.number, taken, key)
    drawn = (*lines, *holes, *texts, *named, *label)
    others = [p for p in range(1, window.pieces + 1) if p != window.piece]
    sheets = ", ".join(f"piece {p} on sheet {on.get((one.part.number, p), 88):02d}" for p in others)
    words = _words(one, plate, key, window, groups, lost, bool(label), sheets)
    strokes = (*drawn, *_notes(words, one.part, plate, Box(*extent(drawn))))
    also = tuple(p.number for p in (*one.same, *one.over))
    return Block(one.part.number, window.piece, window.pieces, strokes, Box(*extent(strokes)), also, turn)


def _cut(plate: Plate, window: Window) -> Iterator[Stroke]:
    for points, closed in clipped(1000 * (plate.outline if plate.blank is None else plate.blank), window, True):
        yield Polyline(points, "cut", closed)
    for hole in plate.holes:
        found = _circle(hole)
        ring = arc(*found, 0.0, math.tau)[:-1] if found else 1000 * hole
        for points, closed in clipped(ring, window, True):
            yield Circle(*found, "cut") if closed and found else Polyline(points, "cut", closed)


def _circle(hole: np.ndarray) -> tuple[Point, float] | None:
    """Middle and radius, mm, of a round hole; None of one that is not round.

    One of CORNERS corners is drawn with the area of its circle, any other with its corners on it.
    """
    middle = hole.mean(axis=0)
    far = np.linalg.norm(hole - middle, axis=1)
    if len(hole) < 16 or np.ptp(far) > ROUND:
        return None
    radius = math.sqrt(shapely.Polygon(hole).area / math.pi) if len(hole) == CORNERS else float(far.mean())
    return (1000 * float(middle[0]), 1000 * float(middle[1])), 1000 * radius


def _bends(plate: Plate, window: Window) -> Iterator[Stroke]:
    """The bend's two tangent lines dashed, where the radius is known; the outside of a flange dashed."""
    if plate.foot is not None:
        for a, b in _tangents(plate.foot, plate.thickness):
            for points, _ in clipped((a, b), window, False):
                yield Polyline(points, "bend", dash="dash")
    elif plate.blank is not None:
        for points, closed in clipped(1000 * plate.outline, window, True):
            yield Polyline(points, "bend", closed, dash="dash")


def _tangents(foot: Foot, thickness: float) -> Iterator[tuple[Point, Point]]:
    """Where the bend begins and ends on the flat blank: R + t within the outer face, and the allowance beyond that."""
    if math.isnan(foot.radius):
        return
    a, b = np.array(foot.start), np.array(foot.end)
    out = np.array([b[1] - a[1], a[0] - b[0]]) / np.hypot(*(b - a))
    near = -(foot.radius + thickness)
    for far in (near, near + bend_allowance(foot.radius, thickness)):
        p, q = 1000 * (a + far * out), 1000 * (b + far * out)
        yield (float(p[0]), float(p[1])), (float(q[0]), float(q[1]))


def _matches(window: Window) -> Iterator[Stroke]:
    """Match lines, each with a cross at either end."""
    for m in window.matches:
        a, b, (ux, uy) = _beyond(m)
        yield Line(a, b, "match", "thick", "chain")
        for x, y in (a, b):
            yield Line((x - uy / 2, y + ux / 2), (x + uy / 2, y - ux / 2), "match", "thick")


def _beyond(m: Match) -> tuple[Point, Point, Point]:
    """Both ends of a match line as it is drawn, and how far it goes on."""
    (ax, ay), (bx, by) = m.start, m.end
    long = math.dist(m.start, m.end)
    ux, uy = (bx - ax) / long * MATCH_OUT, (by - ay) / long * MATCH_OUT
    return (ax - ux, ay - uy), (bx + ux, by + uy), (ux, uy)


def _match_letters(window: Window, lines: Sequence[shapely.LineString]) -> list[Text]:
    """The letter of each match line beside it, clear of every line, as near to an end as may be."""
    tree = shapely.STRtree(lines)
    placed: list[Text] = []
    for m in window.matches:
        a, b, (ux, uy) = _beyond(m)
        for k in range(200):
            share = (k // 4 + 1.0) / 51
            (x, y), side = ((b, 1), (b, -1), (a, 1), (a, -1))[k % 4]
            way = -1.0 if k % 4 < 2 else 1.0
            long = way * share * math.dist(a, b) / MATCH_OUT
            at = (x + long * ux - side * 0.7 * uy - 1.3, y + long * uy + side * 0.7 * ux - 1.75)
            text = Text(m.letter, at, DRAFTING.small, bold=True, layer="match")
            room = shapely.Polygon(box(text, 0.5))
            clear = not any(room.intersects(shapely.Polygon(box(t))) for t in placed)
            if clear and not tree.query(room, predicate="intersects").size:
                placed.append(text)
                break
    return placed


def _spots(plate: Plate) -> Iterator[Spot]:
    """Round holes that are drawn, then places to prick that are not the middle of one."""
    middles = []
    for hole in plate.holes:
        found = _circle(hole)
        if found:
            middles.append(found[0])
            yield Spot(found[0], "hole", found[1], 2e-3 * found[1])
    for mark in plate.marks:
        for x, y in mark.points:
            at = (1000 * x, 1000 * y)
            if not any(math.dist(at, m) < 0.05 for m in middles):
                known = fasteners().get(mark.label)
                yield Spot(at, mark.label, 0.0, known.diameter if known else math.nan)


def _drawn(spot: Spot) -> tuple[Stroke, ...]:
    return cross(spot.at, min(DRAFTING.prick, 0.7 * spot.radius) if spot.radius else DRAFTING.prick / 2, "mark")


Group = tuple[str, str, list[Spot]]  # letter, words, spots


def _groups(spots: Sequence[Spot]) -> list[Group]:
    """Spots alike, largest first, each with a letter; none where all are alike."""
    kinds: dict[str, list[Spot]] = {}
    for s in sorted(spots, key=lambda s: (s.radius == 0, -round(s.radius, 4))):
        kinds.setdefault(_spot_words(s), []).append(s)
    one = len(kinds) == 1
    return [("" if one else chr(ord("a") + i), words, found) for i, (words, found) in enumerate(kinds.items())]


def _spot_words(s: Spot) -> str:
    if s.radius:
        return f"Ø {inches(s.drilled, FAR)} = {_mm(s.drilled)}"
    if s.words.startswith("hole"):
        return f"to prick, {s.words}"
    size = "diameter not on file" if math.isnan(s.drilled) else f"Ø {decimal_inches(s.drilled)} = {_mm(s.drilled)}"
    return f"to prick for {s.words}, {size}"


def _mm(metres: float) -> str:
    return f"{1000 * metres + 1e-9:.2f} mm"


def _letters(groups: Sequence[Group], lines: Sequence[shapely.LineString], texts: Sequence[Text]
             ) -> tuple[list[Text], list[str]]:  # fmt: skip
    """A letter beside each spot, clear of lines; also the places, in words, of those with no room."""
    tree, placed, lost = shapely.STRtree(lines), list(texts), []
    taken = [shapely.Polygon(box(t)) for t in texts]
    for letter, _, spots in groups:
        for s in spots if letter else ():
            for text in _around(s, letter):
                room = shapely.Polygon(box(text, 0.5))
                if not tree.query(room, predicate="intersects").size and not any(room.intersects(t) for t in taken):
                    placed.append(text)
                    taken.append(room)
                    break
            else:
                lost.append(f"{letter} at {s.at[0]:.1f}, {s.at[1]:.1f}")
    return placed[len(texts) :], lost


def _around(s: Spot, letter: str) -> Iterator[Text]:
    if s.radius > 6.0:
        yield Text(letter, (s.at[0] + 2.2, s.at[1] + 1.5), DRAFTING.small)
    first = max(s.radius, 1.3) + 3.2
    for far in (first, first + 1.5, first + 3.0, first + 5.0):
        for k in range(12):
            a = math.tau * k / 12
            yield Text(letter, (s.at[0] + far * math.cos(a) - 1.3, s.at[1] + far * math.sin(a) - 1.3), DRAFTING.small)


def _words(one: Alike, plate: Plate, key: str, window: Window, groups: Sequence[Group], lost: Sequence[str],
           labelled: bool, sheets: str) -> Iterator[tuple[str, bool]]:  # fmt: skip
    part, (as_is, over) = one.part, one.count
    piece = f" · piece {window.piece} of {window.pieces}" if window.pieces > 1 else ""
    yield f"{key} · {part.number} · make {as_is + over}{piece}", True
    yield f"{part.name[:1].upper()}{part.name[1:]}; {part.stock}", False
    if part.measured:
        yield part.measured.said[:1].upper() + part.measured.said[1:], False
    if part.at:
        yield f"At {part.at}", False
    if one.same:
        yield "Also " + ", ".join(p.number for p in one.same), False
    if one.over:
        yield f"{over} turned over: " + ", ".join(p.number for p in one.over), False
    b = whole_box(plate)
    yield f"Over all {both_units(b.width / 1000)} by {both_units(b.height / 1000)}", False
    for letter, words, spots in groups:
        yield f"{letter + ': ' if letter else ''}{len(spots)} {words}", False
    if lost:
        yield "From the part's origin, mm: " + "; ".join(lost), False
    yield from ((w, False) for w in _bend_words(plate))
    if material(part.material).kind in WOOD and not plate.grain:
        yield "Grain: the part does not say; ask before you cut", False
    if window.pieces > 1:
        yield f"Lay each match line on the one of the same letter; 25 mm is drawn beyond; {sheets}", False
    if not labelled:
        yield "No room for its number: write it on the part", False


def _bend_words(plate: Plate) -> Iterator[str]:
    if plate.foot is None and plate.bend:
        yield plate.bend[:1].upper() + plate.bend[1:]
    if plate.foot is not None:
        way = "up, towards you," if plate.foot.height > 0 else "down, away from you,"
        radius = plate.foot.radius
        if math.isnan(radius):
            yield f"Bend {way} 90°; its radius is not on file, so no bend lines"
        else:
            yield f"Bend {way} 90°, inside radius {inches(radius)} = {millimetres(radius)}, between the dashed lines"
    elif plate.blank is not None:
        yield "Solid: flat blank. Dashed: outside of the bent flange"


def _notes(words: Iterator[tuple[str, bool]], part: Part, plate: Plate, drawn: Box) -> Iterator[Stroke]:
    """The notes below the part or at its right, where less of the sheet is taken; then the grain's arrow."""
    said = list(words)
    wide = max(BELOW, drawn.width)
    below, beside = (_wrapped(said, room) for room in (wide, BESIDE))
    under = wide * (drawn.height + AWAY + PITCH * len(below))
    right = (drawn.width + AWAY + BESIDE) * max(drawn.height, PITCH * len(beside))
    lines, x, y = ((below, drawn.left, drawn.bottom - AWAY) if under <= right
                   else (beside, drawn.right + AWAY, drawn.top))  # fmt: skip
    for i, (line, bold) in enumerate(lines):
        yield Text(line, (x, y - DRAFTING.small - i * PITCH), DRAFTING.small, bold=bold)
    if plate.grain:
        yield from grain_arrow(plate.grain, (x, y - len(lines) * PITCH - 1.0))[0]


def _wrapped(words: Sequence[tuple[str, bool]], room: float) -> list[tuple[str, bool]]:
    return [(line, bold) for w, bold in words for line in wrapped(w, DRAFTING.small, room, bold)]
