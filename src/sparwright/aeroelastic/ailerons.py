"""Ailerons as hinged bodies: a turn of each about its hinge line, its inertia and unbalance, what the circuit holds.

Symbols: be turn of one aileron, trailing edge down; a hinge line's direction (a turn about it brings the trailing edge
down); r_i, m_i place and mass of its lumps, paint among them; d_i = a x (r_i - r_h) how a lump moves for a radian.

    I = sum m d^2          with the wing's own movement at the lump in its coupling: sum m d . (S^T u)
    K = sum (EA/L) g g^T    over the circuit's links; g growth of a link by the turn of its levers, the stick held

Levers between stick and ailerons have no mass and are taken out (Schur). A rod's L is its own, a cable's its way.
Frame, brackets and horns are stiff. Sources: statics; the cables' EA: controls/motion.py.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.record import number
from sparwright.controls.motion import Motion, stiffness
from sparwright.data.loader import material
from sparwright.family.controls import ControlCable, Rod
from sparwright.family.model import Model
from sparwright.parts.control_runs import aileron_key
from sparwright.parts.linkage import growth
from sparwright.parts.part import Assembly
from sparwright.parts.travel import Turning, movable
from sparwright.mass.hinged import arms

MIRROR = np.array([1.0, -1.0, 1.0])
SMALL = 1e-9


@dataclass(frozen=True)
class Aileron:
    """One aileron of one side."""

    wing: str
    side: str
    start: str  # of the numbers of its parts
    place: np.ndarray = number("m", "(3,) of the hinge line")
    axis: np.ndarray = number("1", "(3,) a turn about it brings the trailing edge down")
    paint: float = number("kg", "of paint on it")
    paint_aft: float = number("m", "how far aft of the hinge line it lies")


def ailerons(model: Model, assembly: Assembly) -> tuple[Aileron, ...]:
    """Right and left of each wing whose aileron is drawn."""
    found = []
    for t in movable(model):
        if not t.right:
            continue
        paint, aft = _paint(model, t, assembly)
        for side in ("R", "L"):
            over, turn = (np.ones(3), 1.0) if side == "R" else (MIRROR, -1.0)
            found.append(Aileron(t.name.split(" ", 1)[1], side, str(t.start), t.place * over, turn * t.along * over,
                                 paint, aft))  # fmt: skip
    return tuple(found)


def _paint(model: Model, t: Turning, assembly: Assembly) -> tuple[float, float]:
    if not model.paint:
        return 0.0, 0.0
    skins = [a for a in arms(t, assembly.parts) if a.area]
    area = sum(a.area for a in skins)
    return model.paint.areal * area, sum(a.area * a.aft for a in skins) / area if area else 0.0


def circuit(model: Model, of: Sequence[Aileron], motions: Sequence[Motion]) -> np.ndarray:
    """(k, k) N m/rad that holds the turns of k ailerons, the stick held; NaN where a link's stretch is not known.

    All NaN without a motion of theirs.
    """
    keys = {aileron_key(a.wing, a.side): i for i, a in enumerate(of)}
    runs = [m for m in motions if any(k in m.run.levers for k in keys)]
    if not runs:
        return np.full((len(of), len(of)), np.nan)
    names, rows, held = list(keys), dict[str, tuple[float, dict[str, float]]](), set[str]()
    for m in runs:
        still = m.stances[m.neutral]
        held.add(m.lever)
        for link in m.run.links:
            by = dict(zip(link.levers, growth(m.run, link, still), strict=True))
            rows[link.key] = (_spring(link.made, link.length(link.ends)), by)
            names += [n for n in link.levers if n not in names]
    signs = {n: math.copysign(1.0, m.run.levers[n].axis[1]) if n in keys else 1.0 for m in runs for n in m.run.levers}
    names = [n for n in names if n not in held]
    whole = np.zeros((len(names), len(names)))
    for k, by in rows.values():
        g = np.array([by.get(n, 0.0) * signs.get(n, 1.0) for n in names])
        whole += k * np.outer(g, g)
    return _reduced(whole, len(of))


def _spring(made: Rod | ControlCable, length: float) -> float:
    """N/m of a link."""
    if isinstance(made, ControlCable):
        return stiffness(made).value / length
    tube = made.tube
    return material(tube.material).youngs * math.pi / 4 * (tube.outside**2 - (tube.outside - 2 * tube.wall) ** 2) / length


def _reduced(whole: np.ndarray, kept: int) -> np.ndarray:
    """The stiffness of the first movements, the others left to find their place."""
    a, b, c = whole[:kept, :kept], whole[:kept, kept:], whole[kept:, kept:]
    return a - b @ np.linalg.pinv(c, hermitian=True) @ b.T if c.size else a
