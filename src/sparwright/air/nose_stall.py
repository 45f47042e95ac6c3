"""Where the nose of a thin section lets go: the greatest pressure difference it can hold, against Reynolds number.

    most = most_difference(re)                     what the nose holds
    low, high = ends(alpha, lift, peak, re)        the angles at which it is reached, below and above

At greatest lift the pressure difference between the tail and the deepest suction about the nose, D = Cp(tail) - min Cp,
hangs on Reynolds and Mach number alone (the pressure difference rule, valarezo-chin-1994, for Mach 0.20). Its curve is
MOST, RECALLED (memory, moderate): 7 at 1 million and 14 at the end are the surer ones, one in thirteen between them
moves a thin section's lift by four in a hundred. The paper takes the pressures of potential flow; here they are those
of the section flow, layers and all, at an angle of much the same lift. At lower Mach numbers noses hold more.

Used for sections thinner than THIN, and only where the lift of the section flow has not fallen before: that flow parts
from a thin nose far too late, while thicker sections without the rule lie within some 10 % of what was measured
(docs/decisions/section-flow.md, where it is also told what the rule would make of those).

Below 1 million the curve is not known. What the nose holds there is taken to be no more than at 1 million: the lift is
an upper end, and behaviour.py keeps its wide band downwards. Above 20 million: ValueError.

Symbols: D pressure difference, Re Reynolds number on the chord, alpha angle of the chord, cl section lift coefficient.
"""

from __future__ import annotations

import math

import numpy as np

KEY = "valarezo-chin-1994"
MARK = "memory"
THIN = 0.11  # chords: thicker sections are left to the section flow
FIRST = 1e6  # Reynolds number the curve begins at
# Reynolds number in millions, D at Mach 0.20: valarezo-chin-1994, recalled
MOST = ((1.0, 7.0), (2.0, 8.7), (3.0, 9.8), (4.0, 10.8), (5.0, 11.6), (6.0, 12.3), (7.0, 12.8), (8.0, 13.1),
        (9.0, 13.4), (12.0, 13.9), (20.0, 14.0))  # fmt: skip


def most_difference(reynolds: float) -> float:
    """The greatest D that a nose holds, straight in log Re; below FIRST that at FIRST. ValueError past the curve.

    >>> most_difference(0.3e6), most_difference(9e6)
    (7.0, 13.4)
    """
    million, most = zip(*MOST, strict=True)
    if not 0 < reynolds <= million[-1] * 1e6:
        raise ValueError(f"the nose is known up to Reynolds number {million[-1]:g} million, not at {reynolds:,.0f}")
    return float(np.interp(math.log(reynolds / 1e6), np.log(million), most))


def ends(alpha: np.ndarray, lift: np.ndarray, peak: np.ndarray, reynolds: float) -> tuple[float, float]:
    """(lower, upper) angle, rad, at which the nose lets go; NaN where the lift of the section flow ends before.

    alpha: (g,) rad, rising and close; lift: (g,) cl; peak: (g,) D; NaN where unknown. An unknown D ends the search.
    """
    known = np.flatnonzero(np.isfinite(lift))
    if not known.size:
        return math.nan, math.nan
    most, middle = most_difference(reynolds), int(known[np.argmin(np.where(np.isfinite(peak), peak, np.inf)[known])])
    top, bottom = (int(known[f(lift[known])]) for f in (np.argmax, np.argmin))
    return (_first_over(alpha, peak, most, range(middle, bottom - 1, -1)),
            _first_over(alpha, peak, most, range(middle, top + 1)))  # fmt: skip


def _first_over(alpha: np.ndarray, peak: np.ndarray, most: float, way: range) -> float:
    """The angle at which D passes what the nose holds, going that way; NaN where it does not."""
    for i, j in zip(way, way[1:], strict=False):
        if not math.isfinite(peak[i] + peak[j]):
            return math.nan
        if peak[i] < most <= peak[j]:
            return float(alpha[i] + (alpha[j] - alpha[i]) * (most - peak[i]) / (peak[j] - peak[i]))
    return math.nan
