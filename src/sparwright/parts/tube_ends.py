"""Every fitted tube's two ends: which pattern serves which, which is the mirror of which, how long the tube is between.

Two ends have one pattern where outside, wall and the depth at every angle agree to ALIKE, as drawn or with the angles
the other way round. A pattern's number is that of the first tube it serves and of the node. The base line is where the
lower edge of the pattern lies: BASE beyond the deepest cut, on a whole quarter inch from the working point.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sparwright.base.problem import DesignProblem
from sparwright.base.record import number as figure
from sparwright.parts.part import Part
from sparwright.shape.frame import ON_CENTRE
from sparwright.shape.tube import Tube, directions
from sparwright.shape.tube_end import TubeEnd, flipped, tube_end, zero_lines

ALIKE = 0.02e-3  # m: depths that differ by less share a pattern, a fifth of what a template may be off
BASE = 0.029  # m of paper beneath the deepest cut, for the words on it
QUARTER_INCH = 0.00635  # m
ENDS = ("start", "end")


@dataclass(frozen=True)
class Served:
    """A tube's end that a pattern serves."""

    part: str
    which: int  # 0 its start, 1 its end
    node: str
    drawn: int  # how many as printed
    turned: int  # how many with the paper turned over: the mirror image


@dataclass(frozen=True)
class Pattern:
    """One pattern to wrap round a tube's end, and the ends it serves."""

    number: str
    section: str
    end: TubeEnd
    base: float = figure("m", "from the working point to the base line, along the tube")
    served: tuple[Served, ...] = ()


@dataclass(frozen=True)
class TubeRow:
    """One tube as it is cut: its lengths and what its two ends are cut to."""

    part: Part
    zero: str  # what its zero line is nearest to: "up", "forward"
    bends: int
    ends: tuple[str, str]  # "square", or the pattern's number, with ", turned over" where it is the mirror
    between: float = figure("m", "working point to working point along the middle line")
    whole: float = figure("m", "end to end over the longest line, as it is cut from stock")
    bases: float = figure("m", "base line to base line along the middle line; NaN where an end is square")


def fitted(parts: Iterable[Part]) -> Iterator[tuple[Part, Tube]]:
    """Tubes that are drawn fitted to others, in the order of the parts; one of them may be cut square."""
    for part in parts:
        if isinstance(part.shape, Tube) and part.shape.cuts is not None and part.shape.wall > 0:
            yield part, part.shape


def tube_ends(parts: Iterable[Part]) -> tuple[tuple[Pattern, ...], tuple[TubeRow, ...]]:
    """(patterns, tubes) of all tubes that are fitted to others.

    Raises DesignProblem for a tube whose end lies along another, or whose two copes leave nothing of it.
    """
    patterns: list[Pattern] = []
    near: dict[tuple[float, float], list[int]] = {}
    rows = []
    for part, tube in fitted(parts):
        ends = [_end(part, tube, which) for which in (0, 1)]
        _long_enough(part, tube, ends)
        found = [_pattern(part, which, end, patterns, near) for which, end in enumerate(ends)]
        rows.append(_row(part, tube, ends, found))
    return tuple(patterns), tuple(rows)


def _end(part: Part, tube: Tube, which: int) -> TubeEnd | None:
    """An end as it is cut, or None where it is square."""
    if not tube.fits[which]:
        return None
    try:
        end = tube_end(tube, which)
    except ValueError as fault:
        raise DesignProblem(f"tube {part.number} at its {ENDS[which]} {fault}: no pattern fits; move a node") from None
    return None if end.square else end


def _long_enough(part: Part, tube: Tube, ends: Sequence[TubeEnd | None]) -> None:
    """A DesignProblem where the cuts of both ends meet on some line of a straight tube, or pass a bend."""
    steps = np.linalg.norm(np.diff(tube.path, axis=0), axis=1)
    cuts = [np.zeros(1) if e is None else e.cut for e in ends]
    if len(steps) == 1:
        left = float((steps[0] - cuts[0] - flipped(cuts[1])).min())
    else:
        left = min(float(steps[0] - cuts[0].max()), float(steps[-1] - cuts[1].max()))
    if left <= 0:
        raise DesignProblem(
            f"tube {part.number}: its ends are cut by more than the tube is long, by {-left * 1000:.1f} mm on one "
            f"line; its nodes are {steps.min() * 1000:.1f} mm apart"
        )


def _pattern(part: Part, which: int, end: TubeEnd | None, patterns: list[Pattern],
             near: dict[tuple[float, float], list[int]]) -> tuple[str, float]:  # fmt: skip
    """(what the end is cut to, base line from the working point): an old pattern where one fits, or a new one."""
    if end is None:
        return "square", math.nan
    key = (round(end.radius, 7), round(end.wall, 7))
    for i in near.setdefault(key, []):
        for turned, cut in ((False, patterns[i].end.cut), (True, flipped(patterns[i].end.cut))):
            if np.abs(end.cut - cut).max() <= ALIKE:
                served = (*patterns[i].served, _served(part, which, turned))
                patterns[i] = replace(patterns[i], served=served)
                return patterns[i].number + (", turned over" if turned else ""), patterns[i].base
    near[key].append(len(patterns))
    assert isinstance(part.shape, Tube)
    name = f"{part.number} · {_node(part, which)}"
    base = math.ceil((float(end.cut.max()) + BASE) / QUARTER_INCH) * QUARTER_INCH
    patterns.append(Pattern(name, part.shape.section, end, base, (_served(part, which, False),)))
    return name, base


def _served(part: Part, which: int, turned: bool) -> Served:
    """The tube as it is drawn, and as it stands on the other side."""
    assert isinstance(part.shape, Tube)
    own = float(part.shape.solid().centre[1])
    over = sum(1 for _, y, _ in part.places if own * y < 0 and abs(own) >= ON_CENTRE)
    as_is = part.count - over
    return Served(part.number, which, _node(part, which), *((over, as_is) if turned else (as_is, over)))


def _node(part: Part, which: int) -> str:
    """The node's name, where the part says from where to where it runs."""
    names = part.at.split(" to ") if " to " in part.at else []
    return names[-which] if names else ENDS[which]


def _row(part: Part, tube: Tube, ends: Sequence[TubeEnd | None], found: Sequence[tuple[str, float]]) -> TubeRow:
    between = float(np.linalg.norm(np.diff(tube.path, axis=0), axis=1).sum())
    cuts = [np.zeros(1) if e is None else e.cut for e in ends]
    straight = len(tube.path) == 2
    off = (cuts[0] + flipped(cuts[1])).min() if straight else cuts[0].min() + cuts[1].min()
    return TubeRow(
        part=part, zero=zero_lines(tube.path)[0], bends=len(directions(tube.path)) - 1, ends=(found[0][0], found[1][0]),
        between=between, whole=between - float(off), bases=between - found[0][1] - found[1][1],
    )  # fmt: skip
