"""Ailerons as hinged bodies: a turn of each about its hinge line, its inertia and unbalance, what the circuit holds.

Symbols: be turn of one aileron, trailing edge down; a hinge line's direction (a turn about it brings the trailing edge
down); r_i, m_i place and mass of its lumps, paint among them; d_i = a x (r_i - r_h) how a lump moves for a radian.

    I = sum m d^2          with the wing's own movement at the lump in its coupling: sum m d . (S^T u)

What the circuit holds them by: circuits.py. Source: statics.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from sparwright.base.record import number
from sparwright.family.model import Model
from sparwright.mass.hinged import arms
from sparwright.parts.part import Assembly
from sparwright.parts.travel import Turning, movable

MIRROR = np.array([1.0, -1.0, 1.0])


@dataclass(frozen=True)
class Aileron:
    """One aileron of one side."""

    wing: str
    side: Literal["R", "L"]
    start: str | tuple[str, ...]  # of the numbers of its parts
    place: np.ndarray = number("m", "(3,) of the hinge line")
    axis: np.ndarray = number("1", "(3,) a turn about it brings the trailing edge down")
    paint: float = number("kg", "of paint on it")
    paint_aft: float = number("m", "how far aft of the hinge line it lies")


def ailerons(model: Model, assembly: Assembly) -> tuple[Aileron, ...]:
    """Right and left of each wing whose aileron is drawn."""
    found: list[Aileron] = []
    sides: tuple[Literal["R", "L"], ...] = ("R", "L")
    for t in movable(model):
        if not t.right:
            continue
        paint, aft = _paint(model, t, assembly)
        for side in sides:
            over, turn = (np.ones(3), 1.0) if side == "R" else (MIRROR, -1.0)
            found.append(Aileron(t.name.split(" ", 1)[1], side, t.start, t.place * over, turn * t.along * over,
                                 paint, aft))  # fmt: skip
    return tuple(found)


def _paint(model: Model, t: Turning, assembly: Assembly) -> tuple[float, float]:
    if not model.paint:
        return 0.0, 0.0
    skins = [a for a in arms(t, assembly.parts) if a.area]
    area = sum(a.area for a in skins)
    return model.paint.areal * area, sum(a.area * a.aft for a in skins) / area if area else 0.0
