"""Sections given as tables, and what is asked of any section."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose
from shapely import LineString, Point, Polygon

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Section
from sparwright.shape.section import curve, mean_line, outline, sides, thickness_ratio

NACA = Section(name="n", naca="4412")


def table(count: int) -> Section:
    """The 4412 as a table of so many points on each side, close together at the nose."""
    fine = curve(NACA)
    pick = np.unique(np.round(np.linspace(0, 800, 2 * count + 1)).astype(int))
    return Section(name="t", points=tuple((float(x), float(y)) for x, y in fine[:, pick].T))


def test_a_table_gives_back_the_section() -> None:
    """50 points on each side of a smooth section: within 0.02 % of the chord everywhere."""
    x = np.linspace(0.01, 0.99, 50)
    for one, two in zip(sides(curve(table(50)), x), sides(curve(NACA), x), strict=True):
        assert_allclose(one, two, rtol=0, atol=2e-4)
    assert_allclose(thickness_ratio(table(50)), 0.12, rtol=0, atol=5e-4)


def test_a_table_passes_through_its_points() -> None:
    made = table(20)
    line = LineString(curve(made).T)
    assert max(line.distance(Point(p)) for p in made.points) < 2e-4


def test_mean_line_of_a_table() -> None:
    """The formula's line from the table of its section: 0.03 % of the chord; 0.13 % in the first hundredth."""
    x, y = mean_line(table(80))
    off = np.abs(y - np.interp(x, *mean_line(NACA)))
    assert off[x > 0.01].max() < 3e-4
    assert off.max() < 1.3e-3


@pytest.mark.parametrize("chord", [0.3, 1.4, 2.5])
def test_outline_is_true_to_a_hundredth_of_a_millimetre(chord: float) -> None:
    full = curve(NACA).T * chord
    kept = Polygon(outline(curve(NACA), chord))
    assert kept.exterior.is_ccw and kept.is_valid
    assert max(kept.exterior.distance(Point(p)) for p in full[1:-1]) < 1e-5


def test_too_coarse_for_the_chord() -> None:
    with pytest.raises(DesignProblem, match="too coarse"):
        outline(curve(NACA)[:, ::20], 2.0)


def test_symmetric_section() -> None:
    upper, lower = sides(curve(Section(name="s", naca="0012")), np.linspace(0, 1, 30))
    assert_allclose(upper, -lower, rtol=0, atol=1e-12)
