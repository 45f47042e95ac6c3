"""How stiffly the controls hold their surfaces, stick and pedals held: rods and cables that stretch.

Symbols: g growth of a link by the turn of its levers, m/rad; L a rod's length or a cable's way; EA of its section.

    K = sum (EA/L) g g^T     over a run's links and levers, those of hand and foot held; levers between have no mass and
                             are taken out (Schur)

An aileron's K holds its own coordinate. Elevator and rudder are held in the frame by a bar to the last crank or pulley
alone (structure/tail_held.py); here its area is lessened until it holds the surface as the whole run does. Cables pull
from both sides: one of a pair slackens as the other draws. Brackets, cranks, horns and seat are stiff. Sources:
statics; EA of cables: controls/motion.py.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from sparwright.aeroelastic.ailerons import Aileron
from sparwright.base.record import locked
from sparwright.controls.motion import Motion, stiffness
from sparwright.data.loader import material
from sparwright.family.controls import ControlCable, Rod
from sparwright.family.model import Model
from sparwright.parts.control_runs import aileron_key
from sparwright.parts.linkage import growth
from sparwright.parts.travel import Turning, movable
from sparwright.structure.bar import Skeleton

HANDS = ("stick", "pedal")  # levers that are held, besides those of a motion's own hand
HELD_BY = ("ROD", "CABLE")


def circuit(of: Sequence[Aileron], motions: Sequence[Motion]) -> np.ndarray:
    """(k, k) N m/rad that holds the turns of k ailerons, trailing edge down, the stick held.

    All NaN without a motion of theirs, or where a link's stretch is not known.
    """
    return _held([aileron_key(a.wing, a.side) for a in of], motions)


def _held(keys: Sequence[str], motions: Sequence[Motion]) -> np.ndarray:
    """(k, k) N m/rad of levers by name, all others but hand and foot let go."""
    runs = [m for m in motions if any(k in m.run.levers for k in keys)]
    if not runs:
        return np.full((len(keys), len(keys)), np.nan)
    held = {m.lever for m in runs} | {n for m in runs for n in m.run.levers if n.startswith(HANDS)}
    names = list(dict.fromkeys([*keys, *(n for m in runs for n in m.run.levers if n not in held)]))
    turns = {n: m.run.levers[n].axis for m in runs for n in m.run.levers}
    whole = np.zeros((len(names), len(names)))
    for k, by in _links(runs).values():
        g = np.array([by.get(n, 0.0) * (math.copysign(1.0, turns[n][1]) if n in keys else 1.0) for n in names])
        whole += k * np.outer(g, g)
    return _reduced(whole, len(keys))


def _links(runs: Sequence[Motion]) -> Mapping[str, tuple[float, Mapping[str, float]]]:
    """By key: (N/m of a link, its growth by lever), each link once."""
    found = {}
    for m in runs:
        still = m.stances[m.neutral]
        for link in m.run.links:
            by = dict(zip(link.levers, growth(m.run, link, still), strict=True))
            found[link.key] = (_spring(link.made, link.length(link.ends)), by)
    return found


def _spring(made: Rod | ControlCable, length: float) -> float:
    if isinstance(made, ControlCable):
        return stiffness(made).value / length
    tube = made.tube
    area = math.pi / 4 * (tube.outside**2 - (tube.outside - 2 * tube.wall) ** 2)
    return material(tube.material).youngs * area / length


def _reduced(whole: np.ndarray, kept: int) -> np.ndarray:
    """The stiffness of the first movements, the others left to find their place; NaN where it is not known."""
    if not np.isfinite(whole).all():
        return np.full((kept, kept), np.nan)
    a, b, c = whole[:kept, :kept], whole[:kept, kept:], whole[kept:, kept:]
    return a - b @ np.linalg.pinv(c, hermitian=True) @ b.T if c.size else a


# ------------------------------------------------------------------ elevator and rudder


def softened(model: Model, bones: Skeleton, motions: Sequence[Motion]) -> tuple[Skeleton, tuple[str, ...]]:
    """The frame with elevator and rudder held as their whole runs hold them; and what stays stiffer than it is."""
    area, left = np.array(bones.frame.area), []
    for t in movable(model):
        bars = [i for i, b in enumerate(bones.bars) if b.part in {f"{model.name}-{t.name}-{w}" for w in HELD_BY}]
        if t.right:
            continue
        part = _part(bones, t, bars, float(_held([t.name], motions)[0, 0])) if bars else math.nan
        if math.isfinite(part):
            area[bars] *= part
        else:
            left.append(f"{t.name}: held as stiffly as by its last rod or cable alone")
    return replace(bones, frame=replace(bones.frame, area=locked(area))), tuple(left)


def _part(bones: Skeleton, t: Turning, bars: Sequence[int], run: float) -> float:
    """Part of their area that leaves the bars as stiff about the hinge as the run, at most one."""
    own = 0.0
    for i in bars:
        ends = bones.places(bones.bars[i].ends)
        long = float(np.linalg.norm(ends[1] - ends[0]))
        growth_ = float((ends[1] - ends[0]) / long @ np.cross(t.along, ends[1] - t.place))
        own += bones.bars[i].section.youngs * bones.bars[i].section.area / long * growth_**2
    return min(1.0, run / own) if own > 0 and math.isfinite(run) else math.nan


def eased(model: Model, bones: Skeleton, part: float) -> Skeleton:
    """The frame with only a part of the stiffness that rods and cables hold elevator and rudder with.

    What play leaves of a circuit: controls/play.py `left`.
    """
    names = {f"{model.name}-{t.name}-{w}" for t in movable(model) if not t.right for w in HELD_BY}
    area = [a * part if b.part in names else a for a, b in zip(bones.frame.area, bones.bars, strict=True)]
    return replace(bones, frame=replace(bones.frame, area=locked(area)))
