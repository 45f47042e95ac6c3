"""Pictures of the whole frame: what each member uses of its strength, by the weight, tone and hatch of its line.

Right and left are one check, so the right half is drawn. Half and less is a thin line, up to four fifths a heavy one on
light tone, up to all of it on darker tone, beyond it hatched across; dotted is what has checks of
another kind (ribs, hinges, horns, tabs: margins/along.check_of), or none. The members
that use most are named with what they use; nodes are named where there is room.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from sparwright.base.record import number
from sparwright.charts.label import Name, Named, place
from sparwright.charts.page import CHARTING, Heading, Picture, page, words
from sparwright.plans.drawing import Area, Box, Dash, Line, Stroke, Tone, Weight, moved
from sparwright.structure.bar import Bar, Skeleton

WIDTH = 190.0  # mm
GAP = 12.0  # mm between views
NAMED = 6  # members that are named in each view
KEEP = 1e-6  # m, how far left of the middle a node of the right half may be
STEPS = (0.5, 0.8, 1.0)
WORDS = ("to 50 % used", "50 to 80 %", "80 to 100 %", "over 100 %: fails", "other checks")
WING = ("spar", "rib", "drag tube")


@dataclass(frozen=True)
class View:
    """One view: its name, which axes lie to the right and up, and which bars it leaves out."""

    name: str
    right: np.ndarray = number("1", "(3,) to the right in the picture")
    up: np.ndarray = number("1", "(3,) up in the picture")
    without: tuple[str, ...] = ()


SIDE = View("from the left: nose to the left", np.array([1.0, 0, 0]), np.array([0, 0, 1.0]), WING)
AHEAD = View("from ahead: right half", np.array([0, 1.0, 0]), np.array([0, 0, 1.0]), ("rib", "drag tube"))
ABOVE = View("from above: right half, nose to the left", np.array([1.0, 0, 0]), np.array([0, 1.0, 0]))


def frame_picture(heading: Heading, bones: Skeleton, used: np.ndarray, views: Sequence[View], told: str) -> Picture:
    """The views, one under the other, to one scale. used: (m,) of each bar, NaN for none; told: in words."""
    room = WIDTH - 2 * CHARTING.margin
    flat = [_flat(bones, v) for v in views]
    scale = room / max(float(np.ptp(p[:, 0])) for p, _ in flat)
    body: list[Stroke] = []
    top = 0.0
    for view, (points, those) in zip(views, flat, strict=True):
        low = points.min(axis=0)
        at = (points - low) * scale + np.array([CHARTING.margin, 0.0])
        tall = float(np.ptp(points[:, 1])) * scale
        drawn = list(_view(bones, used, at, those, tall))
        body += [moved(s, 0.0, top - tall - 5.0) for s in drawn]
        body.append(words(view.name, (CHARTING.margin, top - CHARTING.small), bold=True))
        top -= tall + 5.0 + GAP
    body += [moved(s, 0.0, top) for s in _key()]
    return page(heading, WIDTH, body, top - 6.0, 0.0, told)


def _flat(bones: Skeleton, view: View) -> tuple[np.ndarray, np.ndarray]:
    """((k, 2) m of both ends of the bars that are seen, their places (k/2,)); ends follow each other."""
    frame = bones.frame
    ends = frame.place[frame.ends] + frame.arm
    seen = np.array([b.what not in view.without for b in bones.bars]) & (ends[:, :, 1] >= -KEEP).all(axis=1)
    axes = np.column_stack([view.right, view.up])
    return (ends[seen] @ axes).reshape(-1, 2), np.flatnonzero(seen)


def step_of(use: float) -> int:
    """Which of WORDS a use is: 4 where nothing is known.

    >>> step_of(0.3), step_of(0.81), step_of(1.0), step_of(1.01), step_of(float("nan"))
    (0, 2, 2, 3, 4)
    """
    return 4 if not np.isfinite(use) else sum(use > s for s in STEPS)


def _view(bones: Skeleton, used: np.ndarray, at: np.ndarray, those: np.ndarray, tall: float) -> Iterator[Stroke]:
    lines = at.reshape(-1, 2, 2)
    order = sorted(range(len(those)), key=lambda k: (step_of(used[those[k]]) % 4, k))
    for k in order:
        yield from member(lines[k], step_of(used[those[k]]))
    room = Box(CHARTING.margin, -4.0, WIDTH - CHARTING.margin, tall + 4.0)
    yield from _names(bones, used, lines, those, room)


def member(ends: np.ndarray, step: int) -> Iterator[Stroke]:
    """One bar (2, 2) mm in the style of its step."""
    weights: tuple[Weight, ...] = ("thin", "thick", "thick", "thick", "thin")
    dashes: tuple[Dash, ...] = ("solid", "solid", "solid", "solid", "dots")
    bands: tuple[tuple[float, Tone] | None, ...] = (None, (1.3, "light"), (1.7, "middle"), (2.2, "middle"), None)
    (a, b), band = ends, bands[step]
    long = float(np.linalg.norm(b - a))
    if long < 0.2:
        return
    way = (b - a) / long
    square = np.array([-way[1], way[0]])
    if band:
        half = square * band[0] / 2
        yield Area(tuple((float(p[0]), float(p[1])) for p in (a + half, b + half, b - half, a - half)), band[1], "tone")
    if step == 3:
        yield from _hatch(a, way, square, long)
    yield Line((float(a[0]), float(a[1])), (float(b[0]), float(b[1])), "line", weights[step], dashes[step])


def _hatch(a: np.ndarray, way: np.ndarray, square: np.ndarray, long: float) -> Iterator[Line]:
    """Short strokes across a bar that fails."""
    for d in np.arange(0.8, long, CHARTING.fence * 0.8):
        middle, half = a + way * d, square * 1.5 + way * 0.5
        p, q = middle - half, middle + half
        yield Line((float(p[0]), float(p[1])), (float(q[0]), float(q[1])), "hatch")


def _names(bones: Skeleton, used: np.ndarray, lines: np.ndarray, those: np.ndarray, room: Box) -> Iterator[Stroke]:
    """The members that use most, then the nodes of the fuselage that find room."""
    worst: list[Name] = []
    seen: set[str] = set()
    for k in sorted(range(len(those)), key=lambda k: -np.nan_to_num(used[those[k]], nan=-1.0)):
        name = spoken(bones.bars[those[k]])
        if name in seen or not np.isfinite(used[those[k]]) or len(worst) >= NAMED:
            continue
        seen.add(name)
        worst.append(Name(f"{name} {used[those[k]]:.0%}".replace("%", " %"), shapely.LineString(lines[k]), bold=True))
    walls = [shapely.LineString(x) for x in lines if np.linalg.norm(x[1] - x[0]) > 0.2]
    placed, _ = place(worst, room, walls)
    yield from _put(placed)
    taken = [shapely.box(p.box.left, p.box.bottom, p.box.right, p.box.top) for p in placed]
    yield from _put(_nodes(bones, lines, those, room, [*walls, *taken]))


def _put(placed: Sequence[Named]) -> Iterator[Stroke]:
    for p in placed:
        yield p.text
        yield from (s for s in (p.leader, p.dot) if s is not None)


def _nodes(
    bones: Skeleton, lines: np.ndarray, those: np.ndarray, room: Box, walls: Sequence[shapely.Geometry]
) -> Sequence[Named]:
    """Names of the fuselage's nodes beside them, those that lie clear; no leaders."""
    found: dict[str, np.ndarray] = {}
    for ends, i in zip(lines, those, strict=True):
        bar = bones.bars[i]
        for node, at in zip(bar.ends, ends, strict=True):
            if bar.what in ("tube", "mount") and "." not in node and ":" not in node:
                found.setdefault(node, at)
    still = shapely.union_all(list(walls))
    placed: list[Named] = []
    for node, at in found.items():
        text = node[:-1] if node.endswith("R") else node
        for dx, dy, side in _ROUND:
            t = words(text, (float(at[0]) + dx, float(at[1]) + dy), side, size=1.8)
            wide = 1.3 * len(text)
            left = t.anchor[0] - (wide if side == "right" else wide / 2 if side == "middle" else 0.0)
            box = Box(left, t.anchor[1] - 0.2, left + wide, t.anchor[1] + 2.0)
            shape = shapely.box(box.left, box.bottom, box.right, box.top)
            if not still.intersects(shape) and box.left > room.left - 4 and box.right < room.right + 4:
                placed.append(Named(Name(text, shapely.Point(at)), t, box))
                still = still.union(shape.buffer(0.4))
                break
    return placed


_ROUND = tuple(
    (dx * r, dy * r - 0.9, side)
    for r in (1.0, 1.5, 2.1)
    for dx, dy, side in (
        (1.6, 1.7, "left"),
        (-1.6, 1.7, "right"),
        (1.6, -1.7, "left"),
        (-1.6, -1.7, "right"),
        (0.0, 2.2, "middle"),
        (0.0, -2.4, "middle"),
        (2.0, 0.0, "left"),
        (-2.0, 0.0, "right"),
    )
)


def spoken(bar: Bar) -> str:
    """What a bar is called in a picture.

    >>> from types import SimpleNamespace as N
    >>> spoken(N(part="W1-fuselage-TUBE-B2R-AXR", what="tube", at=("", "", "", 0)))
    'B2-AX'
    >>> spoken(N(part="W1-elevator-FRONT-R", what="tail tube", at=("", "", "", 0)))
    'elevator front'
    """
    if bar.what == "spar":
        return f"{bar.at[1]} spar" if "wing" in bar.at[0] else f"{bar.at[0]} {bar.at[1]} spar"
    own = bar.part.split("-", 1)[1]
    if "TUBE-" in own and bar.what in ("tube", "mount", "axle"):
        ends = own.rsplit("TUBE-", 1)[1].split("-")
        same = len({e[-1:] for e in ends if e[-1:] in "RL"}) <= 1 and not any(e.endswith("L") for e in ends)
        return "-".join(e[:-1] if same and e.endswith("R") else e for e in ends)
    if bar.what == "tail tube":
        return own.removesuffix("-R").removesuffix("-L").replace("-", " ").lower()
    return own.removeprefix("struts-").removeprefix("wires-").replace("_", " ").lower()


def _key() -> Iterator[Stroke]:
    """A sample of each step with its words."""
    x = CHARTING.margin
    for i, text in enumerate(WORDS):
        yield from member(np.array([[x, 1.0], [x + 11.0, 1.0]]), i)
        yield words(text, (x + 12.5, 0.1))
        x += 33.5 if i != 3 else 40.0


__all__ = ["ABOVE", "AHEAD", "SIDE", "View", "frame_picture", "member", "spoken", "step_of"]
