"""What is known of one test with bags: its case, its bags in steps, how it lies, what is to be expected."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Result
from sparwright.base.record import number
from sparwright.loads.case import LoadCase
from sparwright.proof.against import Along
from sparwright.proof.bays import Bays
from sparwright.proof.boards import Board, Rope
from sparwright.proof.governing import Asked, Governing
from sparwright.proof.loaded import Loaded
from sparwright.proof.plan import Plan
from sparwright.proof.proved import Member
from sparwright.proof.trestles import Trestles


@dataclass(frozen=True)
class Point:
    """A place where the builder measures, right side; the left is its mirror."""

    key: str  # "wing.front.tip"
    title: str
    place: np.ndarray  # (3,) m
    moved: np.ndarray = number("m", "(3, s) the way down from the state without bags; as calculated, soft, stiff")


@dataclass(frozen=True)
class BagTest:
    """One test, whole; or why there is none."""

    plan: Plan
    bag: float = number("kg", "of one bag")
    down: np.ndarray = number("1", "(3,) where down is in the shop, aeroplane's axes")
    case: LoadCase | None = None
    governing: Governing | None = None
    asked: Asked = Asked()
    flip: float = number("1", "-1 where the case is mirrored in the test", 1.0)
    factor: float = number("1", "load factor of the case, its acceleration over g", np.nan)
    parts: tuple[float, ...] = number("1", "(s,) steps, parts of limit load", ())
    surfaces: tuple[Bays, ...] = ()
    counts: tuple[np.ndarray, ...] = ()  # of each surface (s, b, 2) bags on one side
    boards: tuple[Board, ...] = ()
    ropes: tuple[Rope, ...] = ()
    trestles: Trestles | None = None
    loaded: Loaded | None = None
    along: tuple[Along, ...] = ()
    points: tuple[Point, ...] = ()
    held: tuple[Check, ...] = ()  # strength of every member at the last step
    members: tuple[Member, ...] = ()  # the tested ones, against case and flight
    why: str = ""  # why there is no test

    @property
    def tilt(self) -> float:
        """Rad, nose lower than level; negative: tail lower."""
        return float(np.arctan2(-self.down[0], np.hypot(self.down[1], self.down[2])))

    @property
    def reached(self) -> bool:
        """Whether the bags' centre can be where the case asks for it, in every bay that carries something."""
        return all(b.reached for b in self.surfaces)

    @property
    def sides(self) -> int:
        """How many halves carry the same bags."""
        return 1 if self.surfaces and self.surfaces[0].outline.across == 2 else 2

    @property
    def total(self) -> np.ndarray:
        """(s,) kg of bags on both sides at each step."""
        each = sum((c.sum(axis=(1, 2)) for c in self.counts), np.zeros(len(self.parts)))
        return np.asarray(each * self.sides * self.bag)

    @property
    def wanted(self) -> float:
        """N of bags at limit load before rounding, both sides."""
        return float(sum(b.bags.sum() for b in self.surfaces) * self.sides)

    @property
    def bag_force(self) -> float:
        """N, weight of one bag."""
        return self.bag * GRAVITY


@dataclass(frozen=True)
class Proof:
    """All tests of a model and what they say."""

    tests: tuple[BagTest, ...]
    results: tuple[Result, ...]
    checks: tuple[Check, ...]
