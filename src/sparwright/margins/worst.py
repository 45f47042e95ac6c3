"""The load that decides: of every variant, case, bar and end the one that uses most, and how it is told as a check."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sparwright.base.check import Check, Step, check
from sparwright.base.quantity import to
from sparwright.base.record import number
from sparwright.base.source import UNKNOWN, Band
from sparwright.strength.allowable import Allowable
from sparwright.structure.answered import Answered
from sparwright.structure.laid import Laid

RULE = "cfr-23-2014 23.303, 23.305"
FORCES = ("axial", "shear along y", "shear along z", "torque", "moment about y", "moment about z")
LOST = "not worked out: "  # how what is lost begins in a check's caveat
UNITS = ("N", "N", "N", "N m", "N m", "N m")


@dataclass(frozen=True)
class Worst:
    """Where a use is greatest."""

    use: float = number("1", "of ultimate strength; NaN where nothing is known")
    variant: int = number("1", "place in the answer's variants", 0)
    case: int = number("1", "place in its cases", 0)
    bar: int = number("1", "place in the frame's bars", 0)
    end: int = number("1", "0 or 1", 0)
    lost: bool = False  # whether any of the uses looked at is not known


def worst_of(use: np.ndarray, bars: np.ndarray) -> Worst:
    """The greatest of uses (v, c, b, ends); bars (b,): their places in the frame. What is NaN is told as lost."""
    if not np.isfinite(use).any():
        return Worst(np.nan, 0, 0, int(bars[0]) if bars.size else 0, 0, True)
    flat = int(np.nanargmax(use))
    v, c, b, e = (int(i) for i in np.unravel_index(flat, use.shape))
    return Worst(float(use[v, c, b, e]), v, c, int(bars[b]), e, bool(np.isnan(use).any()))


def ends_of(force: np.ndarray) -> np.ndarray:
    """(..., m, 2, 6) inner forces at both ends out of (..., m, 12): what one side of a cut does to the other.

    Axial tension positive; the others as they act on end 2, so that a moment that is the same along the bar reads the
    same at both ends.
    """
    both = np.stack([-force[..., :6], force[..., 6:]], axis=-2)
    return np.asarray(both)


def told(id: str, title: str, at: Worst, answer: Answered, part: str, strengths: Sequence[Allowable],
         steps: Sequence[Step], *, method: str, rule: str = RULE, caveat: str = "") -> Check:  # fmt: skip
    """The check of a use against one.

    Unknown where a strength may not decide yet or is not known, or a case or place is not worked out, and the use
    would pass; what fails on what is known fails.
    """
    laid = answer.laid[at.case]
    more = " and more" if len(answer.why) > 2 else ""
    unsolved = "; ".join(answer.why[:2]) or "a use outside its method's range in some case or place"
    lost = f"{LOST}{unsolved}{more}" if at.lost else ""
    opens = dict.fromkeys(f"{a.name} of {a.material}: {a.open or 'not known'}" for a in strengths
                          if a.open or not np.isfinite(a.value))  # fmt: skip
    doubts = [*opens, lost, laid.case.caveat]
    doubt, known = "; ".join(d for d in doubts if d), np.isfinite(at.use)
    fails = known and at.use > 1
    where = f"{laid.case.title}, {answer.variants[at.variant]}" if answer.variants else laid.case.title
    return check(
        id.replace("+", "_"), title, Band.exact(at.use) if known else UNKNOWN, 1.0, "<=", "1", part=part, case=where,
        rule="; ".join(dict.fromkeys((rule, laid.case.rule))), method=method,
        caveat="; ".join(x for x in (caveat, doubt if fails else "") if x),
        outside_range="" if fails else doubt, steps=(*_case_steps(laid), *steps),
    )  # fmt: skip


def known_margin(c: Check) -> float:
    """The margin of a check that `told` gave; NaN too where it would pass but a case or place is not worked out."""
    return math.nan if c.verdict == "unknown" and LOST in c.caveat else c.margin


def _case_steps(laid: Laid) -> tuple[Step, ...]:
    c = laid.case
    given = (("V", c.speed, "m/s"), ("m", c.mass, "kg"), ("station of the centre of gravity", c.station, "m"))
    n = float(laid.acceleration[2]) / 9.80665
    return (Step(f"case {c.key}: load factor that its forces give", "sum F_z/(m g)", given, n, "1", c.rule),)


def force_steps(forces: np.ndarray, where: str, level: str = "ultimate") -> tuple[Step, ...]:
    """The six inner forces (6,) as lines; level: of which load they are, "ultimate" or "limit"."""
    return tuple(
        Step(f"{name} at {where}, {level}", "frame, second order", (), float(value), unit, "maths/frame")
        for name, value, unit in zip(FORCES, forces, UNITS, strict=True)
        if abs(value) > 0
    )


def in_pounds(newtons: float) -> str:
    """A force as a builder reads it.

    >>> in_pounds(4448.2216)
    '1000 lbf'
    """
    return f"{to(newtons, 'lbf'):.0f} lbf"
