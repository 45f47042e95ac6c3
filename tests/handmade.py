"""A frame's answer made by hand: a real skeleton, one case, the forces of a few bars as given and nought elsewhere."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from sparwright.family.model import Model
from sparwright.loads.case import LoadCase
from sparwright.maths.frame.record import Solved
from sparwright.structure.answered import ULTIMATE, Answered
from sparwright.structure.bar import Skeleton
from sparwright.structure.laid import Laid
from sparwright.structure.whole import skeleton

CASE = LoadCase(key="made", title="made by hand", kind="manoeuvre", rule="cfr-23-2014 23.303", loading="none",
                mass=400.0, station=1.0, waterline=0.0, speed=40.0, factor=3.0)  # fmt: skip


def solved(bones: Skeleton, forces: Mapping[int, Sequence[float]], part: float = 1.0) -> Solved:
    """One case with those forces, (12,) by bar."""
    n, m = len(bones.names), len(bones.bars)
    force = np.zeros((1, m, 12))
    for i, given in forces.items():
        force[0, i] = np.array(given) * part
    pull = (force[:, :, 6] - force[:, :, 0]) / 2
    return Solved(np.zeros((1, n, 6)), force, pull, np.zeros((1, m), bool), np.zeros((1, n, 6)), np.ones(1, bool),
                  ("",), np.ones(1))  # fmt: skip


def answer_of(model: Model, forces: Mapping[int, Sequence[float]], bones: Skeleton | None = None) -> Answered:
    """forces: at ultimate load; limit load is two thirds of it."""
    bones = bones or skeleton(model)
    n = len(bones.names)
    laid = Laid(CASE, np.zeros((n, 6)), np.zeros(3), np.zeros(3), 0.0)
    return Answered(bones, (laid,), ("as rigged",), (solved(bones, forces, 1 / ULTIMATE),), (solved(bones, forces),))
