"""Lengths out of sticks against published examples and the linear-programming bound.

Sources: chvatal-1983 chapter 13 (raws of 100 in, 97 finals of 45, 610 of 36, 395 of 31, 211 of 14: the data are also
printed elsewhere and were read, the answer 452.25 and 453 is recalled and sure); a paper mill's example of 13 widths
out of 5,600 mm (recalled: 73 rolls, no list needs fewer). Both are counts, so the tolerance is none.
"""

from __future__ import annotations

import math
from itertools import product

import numpy as np
import pytest
from scipy.optimize import linprog

from sparwright.maths.cutting_stock import cut_stock

MILL = (1380, 1520, 1560, 1710, 1820, 1880, 1930, 2000, 2050, 2100, 2140, 2150, 2200)
ROLLS = (22, 25, 12, 14, 18, 18, 20, 10, 12, 14, 16, 18, 20)


def test_raws_of_a_hundred_inches() -> None:
    found = cut_stock([45, 36, 31, 14], [97, 610, 395, 211], 100)
    assert found.relaxed == pytest.approx(452.25, abs=1e-6)  # the printed digits
    assert (found.sticks, found.bound, found.proved) == (453, 453, True)


def test_the_paper_mill() -> None:
    found = cut_stock(MILL, ROLLS, 5600)
    assert (found.sticks, found.bound) == (73, 73)


@pytest.mark.parametrize("seed", range(12))
def test_the_bound_is_that_of_all_patterns(seed: int) -> None:
    """Against the relaxed problem over every pattern there is, written out: no knapsack, no prices."""
    rng = np.random.default_rng(seed)
    lengths = sorted(int(n) for n in rng.choice(np.arange(20, 70), 4, replace=False))
    wanted, stick, kerf = [int(n) for n in rng.integers(1, 12, 4)], 120, int(rng.integers(0, 4))
    most = [min(d, (stick + kerf) // (n + kerf)) for n, d in zip(lengths, wanted, strict=True)]
    every = [p for p in product(*(range(m + 1) for m in most))
             if any(p) and sum(k * (n + kerf) for k, n in zip(p, lengths, strict=True)) <= stick + kerf]  # fmt: skip
    relaxed = linprog(np.ones(len(every)), A_ub=-np.array(every).T, b_ub=-np.array(wanted), method="highs").fun
    found = cut_stock(lengths, wanted, stick, kerf)
    assert found.bound == math.ceil(relaxed - 1e-6)
    assert found.relaxed <= relaxed + 1e-6
    assert found.sticks in (found.bound, found.bound + 1)
