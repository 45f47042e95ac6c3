"""Strength of wood by how long a load lasts, in per cent of a short test.

Source: L. W. Wood, FPL Report 1916 (1951), SL = 18.3 + 108.4 t^-0.0464, t in seconds, as quoted in Forests 12 (9) 1148,
2021 (read); its points worked out there and here, printed to a tenth. The straight line of K. D. Wood (1947), 90.4
- 6.3 log10 of hours, was read in the same place and is another fit to such tests.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.strength.members.wood_state import duration_factor, madison

POINTS = [
    (1.0, 126.7), (3.0, 121.3), (450.0, 99.9), (3600.0, 92.4), (28800.0, 85.6), (86400.0, 82.3), (604800.0, 76.7),
    (2.63e6, 72.9), (3.156e7, 66.9), (3.156e8, 62.0), (1.578e9, 58.9),
]  # fmt: skip


@pytest.mark.parametrize(("seconds", "percent"), POINTS)
def test_points(seconds: float, percent: float) -> None:
    assert_allclose(madison(seconds), percent, rtol=0, atol=0.051)


def test_its_upper_end() -> None:
    """150 % at 0.015 s: printed without a decimal."""
    assert_allclose(madison(0.015), 150, rtol=0, atol=0.5)


@pytest.mark.parametrize(("hours", "percent"), [(1.0, 90.4), (24.0, 81.7), (8766.7, 65.6)])
def test_another_fit_is_near(hours: float, percent: float) -> None:
    """The two fits differ by 2 per cent at most from an hour to a year."""
    assert abs(float(madison(hours * 3600)) - percent) < 2.1
    assert_allclose(percent, 90.4 - 6.3 * np.log10(hours), rtol=0, atol=0.06)


def test_strengths_printed_for_three_seconds() -> None:
    """Ten years leave 62.0/121.3 of them."""
    assert_allclose(duration_factor(3.156e8), 62.0 / 121.3, rtol=2e-3)
