"""An estimate by hand and what its makers share: a case at limit load, a bar's way and length."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Step
from sparwright.base.record import number
from sparwright.structure.answered import ULTIMATE, Answered

STATICS = "statics"
LEAST = 1e-3  # m


@dataclass(frozen=True)
class Estimate:
    """An estimate and what the frame gives, at limit load, as rigged."""

    id: str
    title: str
    case: str
    by_hand: float = number("SI", "the estimate, in `unit`; NaN where none is made")
    ours: float = number("SI", "what the frame gives, in `unit`")
    unit: str = "N"
    steps: tuple[Step, ...] = ()
    leaves_out: str = ""
    why: str = ""  # why none is made
    beside: tuple[str, ...] = ()  # ids of the checks it stands beside

    @property
    def ratio(self) -> float:
        """Ours over the estimate; NaN where there is none."""
        return self.ours / self.by_hand if self.by_hand else math.nan


def alike(pull: np.ndarray, one: int, other: int) -> np.ndarray:
    """(c,) whether a case pulls both sides alike."""
    return np.asarray(np.abs(pull[:, one] - pull[:, other]) < 0.02 * np.abs(pull[:, one]) + 1.0)


def at_limit(answer: Answered, case: int) -> np.ndarray:
    """(n, 6) loads on the nodes at limit load."""
    x = answer.laid[case]
    return np.asarray(x.loads / (ULTIMATE if x.case.level == "ultimate" else 1.0))


def along(answer: Answered, i: int) -> np.ndarray:
    """(3,) from a bar's first end to its second, of length 1."""
    frame = answer.skeleton.frame
    ends = frame.place[frame.ends[i]] + frame.arm[i]
    return np.asarray((ends[1] - ends[0]) / np.linalg.norm(ends[1] - ends[0]))


def length(answer: Answered, i: int) -> float:
    """Of a bar, m."""
    frame = answer.skeleton.frame
    ends = frame.place[frame.ends[i]] + frame.arm[i]
    return float(np.linalg.norm(ends[1] - ends[0]))
