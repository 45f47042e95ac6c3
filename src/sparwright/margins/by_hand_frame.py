"""Estimates by hand of the fuselage: the most loaded longeron behind the wings, and the couple at the mount's feet.

    longeron    N = F_x/4 +- M_y/(2 h)      four longerons about their middle, in cases alike on both sides
    mount       sum N_x of the upper feet = M_y/h, about the lower feet

F_x, M_y of all that the case lays on the nodes behind the longeron's middle, or on the mount; h the height between.
Source: statics.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.check import by_hand
from sparwright.margins.estimate import LEAST, STATICS, Estimate, alike, along, at_limit
from sparwright.margins.tubes import right_of
from sparwright.parts.mount import GROUP as MOUNT
from sparwright.structure.answered import Answered
from sparwright.structure.bar import Bar


def longeron_by_hand(answer: Answered) -> Iterator[Estimate]:
    """The most loaded longeron of the aft fuselage: a box of four longerons under the moments at its bay's middle."""
    frame, bars = answer.skeleton.frame, answer.skeleton.bars
    aft = max(
        (
            float(frame.place[frame.ends[i], 0].max())
            for i, b in enumerate(bars)
            if b.what in ("strut", "link") and _to_wing(b)
        ),
        default=-math.inf,
    )
    those = [
        i for i, b in enumerate(bars) if _runs_aft(answer, i, b) and frame.place[frame.ends[i], 0].min() > aft - LEAST
    ]
    pull = np.array([_both_sides(answer, i) for i in those]).T
    if not pull.size or not np.isfinite(pull).any():
        yield Estimate(
            "by_hand.longeron", "longeron", "", math.nan, math.nan, "N", why="no longeron behind the wings is found"
        )
        return
    case, k = (int(v) for v in np.unravel_index(int(np.nanargmax(np.abs(pull))), pull.shape))
    i = those[k]
    middle = float(frame.place[frame.ends[i], 0].mean())
    box = _corners(answer, [j for j, b in enumerate(bars) if b.what == "tube" and _spans(answer, j, middle)], middle)
    title = f"longeron {'-'.join(bars[i].ends)}"
    if i not in box or len(box) != 4:
        yield Estimate(
            "by_hand.longeron",
            title,
            answer.laid[case].case.key,
            math.nan,
            float(pull[case, k]),
            "N",
            why=f"{len(box)} corners are found there, and the box by hand has four",
        )
        return
    yield _box(answer, case, i, box, middle, title)


def _both_sides(answer: Answered, i: int) -> np.ndarray:
    """(c,) N, what a bar of the right carries at limit load in the cases that are alike on both sides; else NaN."""
    ends = {f"{e[:-1]}L" for e in answer.skeleton.bars[i].ends}
    other = next((j for j, b in enumerate(answer.skeleton.bars) if set(b.ends) == ends and b.what == "tube"), i)
    pull = answer.limit[0].pull
    return np.asarray(np.where(alike(pull, i, other), pull[:, i], np.nan))


def _box(answer: Answered, case: int, i: int, box: Sequence[int], middle: float, title: str) -> Estimate:
    cut = np.array([_place_at(answer, j, middle) for j in box])
    centre, mine = cut.mean(axis=0), _place_at(answer, i, middle)
    loads, place = at_limit(answer, case), answer.skeleton.frame.place
    behind = place[:, 0] > middle
    arm = place[behind] - centre
    turn = (np.cross(arm, loads[behind, :3]) + loads[behind, 3:]).sum(axis=0)
    axial = float(loads[behind, 0].sum())
    high, up = float(2 * np.abs(cut[:, 2] - centre[2]).mean()), np.sign(mine[2] - centre[2])
    value = float(axial / 4 + up * turn[1] / (2 * high))
    ours = float(answer.limit[0].pull[case, i])
    given = (("F_x", axial, "N"), ("M_y", float(turn[1]), "N m"), ("h", high, "m"))
    steps = by_hand("N = F_x/4 +- M_y/(2 h), upper +, lower -", given, value, ours, "N", STATICS)
    part = answer.skeleton.bars[i].part
    return Estimate(
        "by_hand.longeron",
        title,
        answer.laid[case].case.key,
        value,
        ours,
        "N",
        steps,
        "at which end of the bay the diagonals meet; bending of welded joints",
        beside=(f"strength.tube.{part.split('-', 1)[1]}",),
    )


def _corners(answer: Answered, crossing: Sequence[int], x: float) -> list[int]:
    """Of the bars that cross a station the outermost in each quarter about their middle: diagonals lie between them."""
    places = np.array([_place_at(answer, j, x) for j in crossing]).reshape(-1, 3)
    centre = (places.min(axis=0) + places.max(axis=0)) / 2 if len(places) else np.zeros(3)
    found: dict[tuple[float, float], int] = {}
    for j, off in sorted(zip(crossing, places - centre, strict=True), key=lambda x: float(np.abs(x[1][1:]).sum())):
        found[float(np.sign(off[1])), float(np.sign(off[2]))] = j
    return [j for (side, up), j in found.items() if side and up]


def _to_wing(bar: Bar) -> bool:
    return any("." in e and not e.startswith((MOUNT, "tailplane", "fin", "elevator", "rudder")) for e in bar.ends)


def _long(answer: Answered, i: int) -> bool:
    return abs(float(along(answer, i)[0])) > 0.9


def _runs_aft(answer: Answered, i: int, bar: Bar) -> bool:
    return bar.what == "tube" and _long(answer, i) and all(e.endswith("R") for e in bar.ends)


def _spans(answer: Answered, i: int, x: float) -> bool:
    ends = answer.skeleton.frame.place[answer.skeleton.frame.ends[i], 0]
    return bool(ends.min() < x < ends.max())


def _place_at(answer: Answered, i: int, x: float) -> np.ndarray:
    a, b = answer.skeleton.frame.place[answer.skeleton.frame.ends[i]]
    return np.asarray(a + (b - a) * (x - a[0]) / (b[0] - a[0]))


def mount_by_hand(answer: Answered) -> Iterator[Estimate]:
    """The couple at the mount's feet: what its upper feet carry along, by the moment of all ahead over their height."""
    bars, frame = answer.skeleton.bars, answer.skeleton.frame
    mount = [i for i, b in enumerate(bars) if b.what == "mount"]
    feet = sorted({e for i in mount for e in bars[i].ends if not e.startswith(f"{MOUNT}:")})
    if len(feet) < 3:
        yield Estimate(
            "by_hand.mount",
            "engine's mount",
            "",
            math.nan,
            math.nan,
            "N",
            why=f"{len(feet)} feet, and the couple by hand needs an upper and a lower pair",
        )
        return
    place = answer.skeleton.places(feet)
    level = float(place[:, 2].mean())
    upper = {f for f, p in zip(feet, place, strict=True) if p[2] > level}
    ahead = np.array([n.startswith(f"{MOUNT}:") for n in answer.skeleton.names])
    top, low = (
        np.array([p for f, p in zip(feet, place, strict=True) if (f in upper) == u]).mean(axis=0) for u in (True, False)
    )
    ends = [(i, 0 if bars[i].ends[0] in upper else 1) for i in mount if set(bars[i].ends) & upper]
    ways = np.array([along(answer, i)[0] * (1 if e == 0 else -1) for i, e in ends])
    found = answer.limit[0].pull[:, [i for i, _ in ends]] @ ways  # along x on the feet, aft positive
    case = int(np.nanargmax(np.abs(found)))
    loads = at_limit(answer, case)[ahead]
    turn = float((np.cross(frame.place[ahead] - low, loads[:, :3]) + loads[:, 3:]).sum(axis=0)[1])
    high, value = float(top[2] - low[2]), turn / float(top[2] - low[2])
    steps = by_hand(
        "sum N_x = M_y/h, about the lower feet",
        (("M_y", turn, "N m"), ("h", high, "m")),
        abs(value),
        abs(float(found[case])),
        "N",
        STATICS,
    )
    parts = tuple(dict.fromkeys(f"strength.tube.{right_of(bars[i].part).split('-', 1)[1]}" for i, _ in ends))
    yield Estimate(
        "by_hand.mount",
        "engine's mount, both upper feet fore and aft",
        answer.laid[case].case.key,
        abs(value),
        abs(float(found[case])),
        "N",
        steps,
        "bending of the mount's tubes, lean of the feet",
        beside=parts,
    )
