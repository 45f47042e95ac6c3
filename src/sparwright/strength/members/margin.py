"""Margin of safety, the worst of several uses, and the last lines of every working."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

from sparwright.base.check import Step

Given = tuple[tuple[str, float, str], ...]


def margin(use: ArrayLike) -> np.ndarray:
    """M.S. = 1/use - 1: how much further the load could grow. Infinite at no load, NaN where the use is unknown.

    >>> margin([0.5, 1.0, 0.0]).tolist()
    [1.0, 0.0, inf]
    """
    u = np.asarray(use, dtype=float)
    with np.errstate(divide="ignore"):
        return np.asarray(1 / u - 1)


def worst(*uses: ArrayLike) -> np.ndarray:
    """The greatest of several uses, one by one; NaN where any of them is: the unknown one may be the worst.

    >>> worst([0.2, 0.9], 0.5, [0.1, float("nan")]).tolist()
    [0.5, nan]
    """
    most = np.asarray(uses[0], dtype=float)
    for use in uses[1:]:
        most = np.maximum(most, np.asarray(use, dtype=float))
    return most


def within(ok: ArrayLike, value: ArrayLike) -> np.ndarray:
    """The value where the formula's range holds, NaN elsewhere."""
    return np.where(np.asarray(ok), np.asarray(value, dtype=float), np.nan)


def verdict(use: float, formula: str, given: Given, why: str = "", source: str = "") -> tuple[Step, Step]:
    """The last two lines: the use of the ultimate strength with why it is unknown, and the margin of safety."""
    told = "use of its ultimate strength" + (f" (unknown: {why})" if why else "")
    return (
        Step(told, formula, given, use, "1", source),
        Step("margin of safety", "1/use - 1", (("use", use, "1"),), float(margin(use)), "1", "definition"),
    )


def first(*reasons: str) -> str:
    """The first reason that is one."""
    return next((r for r in reasons if r), "")


def finite(**numbers: float) -> str:
    """Which of the numbers is not known, as a reason; empty where all are."""
    lost = [name for name, value in numbers.items() if not math.isfinite(value)]
    return f"not known: {', '.join(lost)}" if lost else ""
