"""What a few results say of the pieces that were not tested: tolerance limits, normal scatter, what stands out.

Symbols: n results, m mean, s standard deviation (n - 1), p part of all pieces that shall lie above the limit,
c confidence, k factor of the limit m - k s, A2 statistic of Anderson and Darling.
Source: mil-hdbk-17, section 8.3 (memory, high; held against the printed factors and an example of the handbook's own
statistics, which the recalled formulas meet to every printed digit).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from scipy.optimize import brentq
from scipy.stats import nct, norm, t

PART = {"A": 0.99, "B": 0.90}  # of all pieces above the value, each with 95 % confidence: 14 CFR 23.613(b)
CONFIDENCE = 0.95


def mean(x: Sequence[float]) -> float:
    """m, in the unit of x; the order of x does not matter (exact sum)."""
    return math.fsum(x) / len(x)


def deviation(x: Sequence[float]) -> float:
    """s = sqrt(sum (x - m)^2/(n - 1)); NaN for a single result."""
    if len(x) < 2:
        return math.nan
    m = mean(x)
    return math.sqrt(math.fsum((v - m) ** 2 for v in x) / (len(x) - 1))


@lru_cache(maxsize=256)
def factor(n: int, part: float, confidence: float = CONFIDENCE) -> float:
    """k of the one-sided tolerance limit of normal scatter, exact: t'(c; n - 1, z_p sqrt(n))/sqrt(n).

    t' the noncentral t distribution, z_p the normal deviate that `part` lies below. NaN for n < 2.

    >>> round(factor(10, 0.90), 3), round(factor(10, 0.99), 3)
    (2.355, 3.981)
    """
    if n < 2:
        return math.nan
    root = math.sqrt(n)
    return float(nct.ppf(confidence, n - 1, norm.ppf(part) * root)) / root


def normal_limit(x: Sequence[float], part: float) -> float:
    """m - k s: `part` of all pieces lie above it with 95 % confidence, if the scatter is normal."""
    return mean(x) - factor(len(x), part) * deviation(x)


def anderson_darling(x: Sequence[float]) -> float:
    """Chance that results of normal scatter look at least this far from it; under 0.05 normal scatter is refused.

    A2* = (1 + 4/n - 25/n^2) A2, from which `chance`. NaN for n < 5 (A2* has no sense there) and for results all alike.
    """
    n, s = len(x), deviation(x)
    if n < 5 or not s > 1e-12 * abs(mean(x)):
        return math.nan
    z = np.sort((np.asarray(x, float) - mean(x)) / s)
    i = np.arange(1, n + 1)
    a2 = -n - float(np.sum((2 * i - 1) * (norm.logcdf(z) + norm.logsf(z[::-1])))) / n
    return chance((1 + 4 / n - 25 / n**2) * a2)


def chance(statistic: float) -> float:
    """Observed level of A2*: 1/(1 + exp(-0.48 + 0.78 ln A2* + 4.58 A2*)); statistic positive.

    >>> round(chance(0.787), 2)
    0.05
    """
    return 1 / (1 + math.exp(-0.48 + 0.78 * math.log(statistic) + 4.58 * statistic))


def outstanding(x: Sequence[float], level: float = 0.05) -> tuple[int, ...]:
    """Places in x of results that stand out: greatest |x - m|/s beyond its critical value; again without it.

    Critical value C = (n - 1)/sqrt(n) sqrt(t^2/(n - 2 + t^2)), t the 1 - level/(2 n) point of Student's t with n - 2
    degrees of freedom (the maximum normed residual of MIL-HDBK-17). Flagged only: nothing is dropped.
    """
    left, found = list(range(len(x))), []
    while len(left) >= 3:
        these = [x[i] for i in left]
        m, s = mean(these), deviation(these)
        if not s > 1e-12 * abs(m):
            break
        far = max(left, key=lambda i: (abs(x[i] - m), -i))
        if abs(x[far] - m) / s <= critical_residual(len(left), level):
            break
        found.append(far)
        left.remove(far)
    return tuple(found)


def critical_residual(n: int, level: float = 0.05) -> float:
    """C of `outstanding`; NaN for n < 3.

    >>> round(critical_residual(10), 2)
    2.29
    """
    if n < 3:
        return math.nan
    q = float(t.ppf(1 - level / (2 * n), n - 2))
    return (n - 1) / math.sqrt(n) * math.sqrt(q**2 / (n - 2 + q**2))


def weibull(x: Sequence[float]) -> tuple[float, float]:
    """(scale a, shape b) of the two-parameter Weibull distribution, by greatest likelihood; NaN for results all alike.

    b solves sum(x^b ln x)/sum(x^b) - 1/b - mean(ln x) = 0; a = (mean x^b)^(1/b). Positive results only.
    """
    y = np.log(np.asarray(x, float) / max(x))
    if len(x) < 2 or float(np.ptp(y)) < 1e-9:
        return math.nan, math.nan

    def slope(b: float) -> float:
        w = np.exp(b * y)
        return float(np.sum(w * y) / np.sum(w) - 1 / b - np.mean(y))

    b = float(brentq(slope, 1e-2, 50 / float(np.std(y))))
    return max(x) * float(np.mean(np.exp(b * y))) ** (1 / b), b


# V of the limit q exp(-V/(b sqrt(n))): MIL-HDBK-17-1F tables 8.5.7 and 8.5.8 by their fits, memory (high)
_V = {"B": (3.803, 1.79, 0.516, 5.1), "A": (6.649, 2.55, 0.526, 4.76)}


def weibull_limit(x: Sequence[float], basis: str) -> float:
    """Lower tolerance limit of Weibull scatter, "A" or "B": q exp(-V/(b sqrt(n))), q = a (-ln p)^(1/b).

    V_B = 3.803 + exp(1.79 - 0.516 ln n + 5.1/(n - 1)), V_A = 6.649 + exp(2.55 - 0.526 ln n + 4.76/n). Range: n of 5 or
    more; below NaN.
    """
    n = len(x)
    if n < 5 or min(x) <= 0:
        return math.nan
    a, b = weibull(x)
    first, c, d, e = _V[basis]
    v = first + math.exp(c - d * math.log(n) + e / (n if basis == "A" else n - 1))
    return float(a * (-math.log(PART[basis])) ** (1 / b) * math.exp(-v / (b * math.sqrt(n))))
