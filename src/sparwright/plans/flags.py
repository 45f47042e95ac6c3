"""Labels that stand clear of a part: flags above it on leaders, and master lengths below it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sparwright.base.record import number
from sparwright.plans.drawing import DRAFTING, Dimension, Line, Point, Polyline, Stroke, Text
from sparwright.plans.lettering import width

LENGTHS = "The distance of the two pricked points in the part's own shape: the figure overrules the paper."


@dataclass(frozen=True)
class Flag:
    """A label for a point below it."""

    label: str
    at: Point
    layer: str = "note"


@dataclass(frozen=True)
class Measure:
    """A length to be drawn below a part, from start to end, mm."""

    label: str
    start: Point
    end: Point
    value: float = number("m", "true length; nought where nobody asks for it", 0.0)
    name: str = ""  # what the length is: "overall"
    row: str = ""  # number of the part

    @property
    def length(self) -> float:
        """Start to end, mm."""
        return math.dist(self.start, self.end)


@dataclass(frozen=True)
class _Hoisted:
    flag: Flag
    x: float = number("mm", "where the leader ends")
    row: int = 0


def hoisted(flags: Sequence[Flag], top: float) -> tuple[Stroke, ...]:
    """Flags in rows above `top`, text to the right of its leader, none across another.

    Rows are given out from the right: a flag goes one row above every flag whose leader its text would cross.
    """
    d = DRAFTING
    strokes: list[Stroke] = []
    placed: list[_Hoisted] = []
    for flag, x in reversed(_apart(flags)):
        end = x + d.gap + width(flag.label, d.small) + d.gap
        crossed = [p.row for p in placed if p.x < end]
        placed.append(_Hoisted(flag, x, 1 + max(crossed, default=-1)))
    for p in reversed(placed):
        foot, base = top + 4.0, top + 5.5 + d.row * p.row
        path = [p.flag.at, (p.flag.at[0], top + d.gap), (p.x, foot), (p.x, base + d.small)]
        strokes.append(Polyline(tuple(dict.fromkeys(path)), p.flag.layer))
        strokes.append(Text(p.flag.label, (p.x + d.gap, base), d.small, layer=p.flag.layer))
    return tuple(strokes)


def _apart(flags: Sequence[Flag]) -> list[tuple[Flag, float]]:
    """Flags from left to right with leaders at least a little apart."""
    result: list[tuple[Flag, float]] = []
    for flag in sorted(flags, key=lambda f: (f.at[0], f.label)):
        x = flag.at[0] if not result else max(flag.at[0], result[-1][1] + 2 * DRAFTING.gap + 2.0)
        result.append((flag, x))
    return result


def measured(measures: Sequence[Measure], bottom: float) -> tuple[tuple[Stroke, ...], tuple[Measure, ...], float]:
    """Dimension lines below `bottom`, shortest first; also those with no room for figures, and the new bottom.

    A dimension lies along its own length (not along x), so its figure is the line's true length.
    """
    d = DRAFTING
    strokes: list[Stroke] = []
    left_out: list[Measure] = []
    ordered = sorted((_rightwards(m) for m in measures), key=lambda m: (m.length, m.start))
    y = bottom - d.away
    for i, m in enumerate(ordered):
        lines = [p[0] for other in ordered[i + 1 :] for p in (other.start, other.end)]
        drawn = _dimension(m, y, bottom, lines)
        if drawn is None:
            left_out.append(m)
            continue
        strokes += drawn[0]
        y = drawn[1] - d.row
    return tuple(strokes), tuple(left_out), y + d.row


def _rightwards(m: Measure) -> Measure:
    return m if m.start[0] <= m.end[0] else replace(m, start=m.end, end=m.start)


def _dimension(
    m: Measure, top: float, bottom: float, lines: Sequence[float]
) -> tuple[tuple[Stroke, ...], float] | None:
    """One dimension whose highest point is at `top`; None when its text would cross one of `lines` (x, mm)."""
    d = DRAFTING
    (ax, ay), (bx, by) = m.start, m.end
    ux, uy = (bx - ax) / m.length, (by - ay) / m.length
    nx, ny = uy, -ux  # down
    drop = max((top - ay) / ny, (top - by) / ny)
    a, b = (ax + nx * drop, ay + ny * drop), (bx + nx * drop, by + ny * drop)
    text = width(m.label, d.small)
    inside = text + 2 * (d.gap + 4.0) < m.length
    middle = _clear_middle((a[0] + b[0]) / 2, text / 2 + d.gap, lines, (a[0], b[0]) if inside else None)
    if middle is None:
        return None
    t = (middle - a[0]) / (b[0] - a[0])
    x, y = middle, a[1] + t * (b[1] - a[1])
    shift = -d.small / 2 if inside else -d.small - d.gap - 1.0
    anchor = (x - uy * shift, y + ux * shift)
    turn = math.degrees(math.atan2(uy, ux))
    strokes: list[Line | Text] = [Text(m.label, anchor, d.small, turn, "middle", layer="measure")]
    strokes += _dimension_line(a, b, (x, y), text / 2 + d.gap if inside else 0.0)
    strokes += _ends(m, a, b, (nx, ny), bottom)
    told = Dimension("along", m.start, m.end, (x, y), m.label, tuple(strokes), m.value, turn, m.name, m.row, LENGTHS)
    low = min(a[1], b[1])
    return (*strokes, told), low if inside else min(low, y) - d.small - d.gap - 2.0


def _clear_middle(
    middle: float, half: float, lines: Sequence[float], within: tuple[float, float] | None
) -> float | None:
    """The x nearest the middle at which text of that half width crosses none of `lines`."""
    shifts = [0.0] + [s * 4.0 * k for k in range(1, 100) for s in (1, -1)]
    for shift in shifts:
        x = middle + shift
        if within and not (within[0] + half + 4.0 <= x <= within[1] - half - 4.0):
            continue
        if not within and abs(shift) > half:
            break
        if all(abs(line - x) > half + 1.0 for line in lines):
            return x
    return None


def _dimension_line(a: Point, b: Point, at: Point, half: float) -> Iterator[Line]:
    if half == 0.0:
        yield Line(a, b, "measure")
        return
    long = math.dist(a, b)
    ux, uy = (b[0] - a[0]) / long, (b[1] - a[1]) / long
    yield Line(a, (at[0] - ux * half, at[1] - uy * half), "measure")
    yield Line((at[0] + ux * half, at[1] + uy * half), b, "measure")


def _ends(m: Measure, a: Point, b: Point, down: Point, bottom: float) -> Iterator[Line]:
    """Extension lines from just below the part, and slanted ticks."""
    d = DRAFTING
    for (x, y), end in ((m.start, a), (m.end, b)):
        t = (bottom - d.gap - y) / down[1]
        yield Line((x + down[0] * t, y + down[1] * t), (end[0] + down[0] * 2.0, end[1] + down[1] * 2.0), "measure")
        yield Line((end[0] - d.tick, end[1] - d.tick), (end[0] + d.tick, end[1] + d.tick), "measure", "thick")
