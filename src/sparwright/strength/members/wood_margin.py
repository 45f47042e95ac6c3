"""The last line of a wooden member's working: the margin of safety.

MS = 1/use - 1
"""

from __future__ import annotations

import numpy as np

from sparwright.base.check import Step

Floats = float | np.ndarray  # one number or an array of them
STATICS = "common practice: statics"


def margin(use: Floats) -> np.ndarray:
    """1/use - 1; infinite for nothing used, NaN where the use is unknown.

    >>> margin(0.8)
    array(0.25)
    """
    u = np.asarray(use, dtype=float)
    with np.errstate(divide="ignore"):
        return np.asarray(np.where(u == 0, np.inf, 1 / u - 1))


def margin_step(use: float, source: str = STATICS) -> Step:
    """The margin as a line of working."""
    return Step("margin of safety", "1/use - 1", (("use", use, "1"),), float(margin(use)), "1", source)
