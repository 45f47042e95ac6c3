"""The frame as it bends in the case that moves it most: as drawn dotted, as it stands under limit load solid, enlarged.

Movements are against the datum, three nodes of the fuselage, so a wing's tip is seen to move as its builder would see
it from the cockpit.
"""

from __future__ import annotations

import math

import numpy as np

from sparwright.charts.page import CHARTING, Heading, Picture, page, words
from sparwright.charts.units import Units
from sparwright.family.model import spoken
from sparwright.plans.drawing import Circle, Line, Stroke
from sparwright.shape.seen import plane
from sparwright.structure.answered import Answered

WIDTH = 190.0
TOWARDS = (-1.0, 0.85, 0.5)  # seen from ahead and the right
RING = 1.8  # mm
SHOWN = 0.06  # of the picture's width, how far the furthest node is drawn to move
MIDDLE = 0.01  # m: what is nearer to the middle is on no side
TUBES = {"LE": "leading edge", "SP": "spar", "FR": "front tube", "TE": "trailing edge"}  # of a tail surface's nodes
FAINT = ("rib", "drag tube", "link")


def most_moved(answer: Answered) -> tuple[int, int] | None:
    """(case, node) that moves furthest at limit load, as rigged; None where no case is worked out."""
    far = np.linalg.norm(answer.limit[0].moved[:, :, :3], axis=2)
    if not np.isfinite(far).any():
        return None
    case, node = np.unravel_index(int(np.nanargmax(far)), far.shape)
    return int(case), int(node)


def deflected_picture(heading: Heading, answer: Answered, units: Units) -> Picture:
    """The picture; it says so where no case is worked out."""
    most = most_moved(answer)
    if most is None:
        text = "Unknown: no case is worked out."
        return page(heading, WIDTH, [words(text, (CHARTING.margin, 0.0))], -4.0, 4.0, text)
    case, node = most
    far = float(np.linalg.norm(answer.limit[0].moved[case, node, :3]))
    body, larger, tall = _drawn(answer, case, node, far)
    c, name = answer.laid[case].case, _spoken(answer, node, units)
    shown = f"{float(units.length.of(np.array(far))):.3g} {units.length.name}"
    moves = f"{name} moves {shown}, furthest of all (ringed)"
    drawn = "drawn to scale" if larger == 1.0 else f"movements drawn {larger:g} times"
    state = "; ".join(x for x in (heading.state, c.title, moves, drawn) if x)
    told = (
        f"The frame under {c.title}: {name} moves {shown}, which is the most of all nodes in all cases at limit load."
    )
    return page(Heading(heading.title, state, heading.origin), WIDTH, body, -2.0, tall + 3.0, told)


def _spoken(answer: Answered, node: int, units: Units) -> str:
    """A node in words: the fuselage's by its own name, others by what they are on, the side and how far out."""
    name, across = answer.skeleton.names[node], float(answer.skeleton.frame.place[node, 1])
    surface, _, rest = name.partition(".")
    if not rest:
        return f"node {name}"
    line = rest.split(".")[0]
    on = f"{surface}'s {TUBES[line[:2]]}" if line[:2] in TUBES else f"{spoken(surface)}, {line} spar"
    if abs(across) < MIDDLE:
        return on
    out = f"{float(units.length.of(np.array(abs(across)))):.0f} {units.length.name} from the middle"
    return f"{on}, {'right' if across > 0 else 'left'}, {out},"


def _drawn(answer: Answered, case: int, node: int, far: float) -> tuple[list[Stroke], float, float]:
    """(strokes, how many times larger movements are drawn, mm tall)."""
    place, axes = answer.skeleton.frame.place, plane(TOWARDS)[:, :2]
    scale = 0.94 * (WIDTH - 2 * CHARTING.margin) / float(np.ptp(place @ axes, axis=0)[0])
    larger = _round(SHOWN * WIDTH / (far * scale)) if far else 1.0
    still = place @ axes * scale
    bent = (place + answer.limit[0].moved[case, :, :3] * larger) @ axes * scale
    both = np.concatenate([still, bent])
    shift = np.array([CHARTING.margin, 0.0]) - both.min(axis=0)
    x, y = (float(v) for v in bent[node] + shift)
    ring = Circle((x, y), RING, "point", "thick")
    strokes = [*_lines(answer, still + shift, False), *_lines(answer, bent + shift, True), ring]
    return strokes, larger, float(np.ptp(both[:, 1]))


def _round(value: float) -> float:
    """To 1, 2 or 5 times a power of ten, downwards.

    >>> _round(37.0), _round(5.0), _round(0.13)
    (20.0, 5.0, 0.1)
    """
    power = 10.0 ** math.floor(math.log10(value) + 1e-12)
    return max(f for f in (1.0, 2.0, 5.0) if f * power <= value * (1 + 1e-9)) * power


def _lines(answer: Answered, at: np.ndarray, bent: bool) -> list[Stroke]:
    found: list[Stroke] = []
    for bar, (a, b) in zip(answer.skeleton.bars, answer.skeleton.frame.ends, strict=True):
        ends = ((float(at[a, 0]), float(at[a, 1])), (float(at[b, 0]), float(at[b, 1])))
        if not bent:
            if bar.what not in FAINT:
                found.append(Line(*ends, "leader", "thin", "dots"))
        else:
            heavy = bar.what in ("spar", "strut", "tube", "mount")
            found.append(Line(*ends, "line", "thick" if heavy else "thin"))
    return found
