"""Scarf joints: what is left of the wood's strength where two ends are glued on a slope, and how they are set apart.

    tau = f n/(1 + n^2)     f_t = f/(1 + n^2)      on the glued slope of 1 in n under the stress f along the grain
    use = f/(share F_t)                            share by the slope, of a joint glued well
    left = 1 - sum over scarfed laminations of (1 - share) A_i/A

Shares of 0.65 to 0.90 for 1 in 5 to 1 in 12 are from memory (medium): they tell, they do not prove. Read: a slope of
1 in 12 or flatter is the strongest, the slope at least ten times the section (fpl-gtr-190 p. 10); plywood not steeper
than 1 in 12 (anc-18-1951 section 4.11); no scarf of a spar under the fittings of wing, gear, engine or struts, and
three lengths of the longer between two of them or to a reinforcing plate (ac-43-13-1b 1-40, of repairs). A slope
flatter than 1 in 12 is credited with no more.
"""

from __future__ import annotations

import numpy as np

from sparwright.base.check import Step
from sparwright.data.wood import scarfs
from sparwright.strength.members.wood_margin import Floats, margin_step

PLY = 12.0  # anc-18-1951 section 4.11 (read)
APART = 3.0  # ac-43-13-1b 1-40 (read)
SOLID = 10.0  # fpl-gtr-190 p. 10 (read): area of the slope over that of the section


def share(run: Floats) -> np.ndarray:
    """Part of the tension of clear wood left by a scarf of 1 in `run`.

    Between the rows on file the steeper one; NaN steeper than the first.

    >>> share(np.array([15.0, 12.0, 11.0, 4.0]))
    array([0.9 , 0.9 , 0.85,  nan])
    """
    table, n = scarfs(), np.asarray(run, dtype=float)
    row = np.searchsorted(table.at, n, side="right") - 1
    return np.asarray(np.where(row >= 0, table.value[np.maximum(row, 0)], np.nan))


def flat_enough(run: Floats, plywood: bool) -> np.ndarray:
    """Whether a slope of 1 in `run` is as flat as what was read asks for."""
    return np.asarray(np.asarray(run) >= (PLY if plywood else SOLID))


def on_slope(stress: Floats, run: Floats) -> tuple[np.ndarray, np.ndarray]:
    """(shear, stress square to the glue), Pa, on a slope of 1 in `run` under a stress along the member, Pa."""
    n, f = np.asarray(run, dtype=float), np.asarray(stress, dtype=float)
    return f * n / (1 + n**2), f / (1 + n**2)


def use(stress: Floats, run: Floats, tension: Floats, shear: Floats) -> np.ndarray:
    """The worse of f/(share F_t) and the shear on the slope over F_s; stress f Pa along the grain, ultimate."""
    whole = np.abs(np.asarray(stress, dtype=float)) / (share(run) * np.asarray(tension))
    return np.asarray(np.maximum(whole, np.abs(on_slope(stress, run)[0]) / np.asarray(shear)))


def left(areas: np.ndarray, runs: np.ndarray) -> float:
    """Part of a laminated cap's tension left at one section.

    areas (k,) m2 of its laminations; runs (k,) slopes of those scarfed there, infinite for whole ones.

    >>> round(left(np.array([1.0, 1.0, 1.0]), np.array([12.0, np.inf, np.inf])), 4)
    0.9667
    """
    runs = np.asarray(runs, dtype=float)
    lost = np.where(np.isinf(runs), 0.0, 1 - share(np.where(np.isinf(runs), scarfs().at[-1], runs)))
    return float(1 - np.sum(np.asarray(areas) * lost) / np.sum(areas))


def apart(begin: np.ndarray, end: np.ndarray) -> float:
    """Least clear distance, m, between scarfs that begin and end at these places along a member, (k,) each.

    Negative where two share a section. Infinite for one alone.
    """
    order = np.argsort(begin)
    starts, ends = np.asarray(begin, dtype=float)[order], np.asarray(end, dtype=float)[order]
    return float(np.min(starts[1:] - ends[:-1])) if starts.size > 1 else float("inf")


def far_apart(begin: np.ndarray, end: np.ndarray) -> np.ndarray:
    """Clear distance to the next over what ac-43-13-1b 1-40 asks, three times the longer of both; (k - 1,).

    begin, end (k,) m of scarfs and reinforcing plates along one spar. Under 1 is too near. A rule for repairs (read).

    >>> far_apart(np.array([0.0, 1.2]), np.array([0.3, 1.4])).round(9)
    array([1.])
    """
    order = np.argsort(begin)
    a, b = np.asarray(begin, dtype=float)[order], np.asarray(end, dtype=float)[order]
    return np.asarray((a[1:] - b[:-1]) / (APART * np.maximum(b[1:] - a[1:], b[:-1] - a[:-1])))


def clear_of(begin: Floats, end: Floats, fitting: tuple[float, float]) -> np.ndarray:
    """Whether a scarf lies clear of a fitting from fitting[0] to fitting[1], m along the spar (ac-43-13-1b 1-40)."""
    return np.asarray((np.asarray(end) <= fitting[0]) | (np.asarray(begin) >= fitting[1]))


def working(stress: float, run: float, tension: float, shear: float) -> tuple[Step, ...]:
    """The lines of one scarf."""
    part, (slip, open_) = float(share(run)), on_slope(stress, run)
    found = float(use(stress, run, tension, shear))
    given = (("f", stress, "Pa"), ("n", run, "1"))
    return (
        Step("part of the wood's tension", "share(1 in n)", (("n", run, "1"),), part, "1", str(scarfs().source)),
        Step("shear on the slope", "f n/(1 + n^2)", given, float(slip), "Pa", "common practice: statics"),
        Step("stress square to the slope", "f/(1 + n^2)", given, float(open_), "Pa", "common practice: statics"),
        Step("use", "max(f/(share F_t), tau/F_s)", (*given, ("F_t", tension, "Pa"), ("F_s", shear, "Pa")), found, "1",
             "common practice: statics"),
        margin_step(found),
    )  # fmt: skip
