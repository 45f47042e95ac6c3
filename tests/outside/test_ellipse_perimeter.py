"""Perimeter of an ellipse against the complete elliptic integral.

Sources: 4 a E(e), Abramowitz and Stegun 17.3 (memory, high) by scipy; half-axes 2 and 1: 9.688448 (memory, high). The
second approximation of Ramanujan 1914 is below 1e-4 up to ten to one.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.special import ellipe

from sparwright.family.model import Body
from sparwright.shape.frame import area_centre, outside_area


def tube(width: float, height: float, length: float = 1.0) -> tuple[Body, ...]:
    return tuple(Body(station=x, width=width, top=height / 2, bottom=-height / 2) for x in (0.0, length))


@pytest.mark.parametrize("ratio", [1.0, 1.3, 2.0, 5.0, 10.0])
def test_against_the_integral(ratio: float) -> None:
    exact = 4 * ratio * ellipe(1 - 1 / ratio**2)
    assert_allclose(outside_area(tube(2 * ratio, 2.0)), exact, rtol=1e-4)
    assert_allclose(outside_area(tube(2.0, 2 * ratio)), exact, rtol=1e-4)


def test_two_to_one() -> None:
    assert_allclose(outside_area(tube(4.0, 2.0)), 9.688448, rtol=0, atol=5e-6)


def test_cut_between_cross_sections() -> None:
    """A straight tube cut at a third of its length keeps two thirds, wherever cross-sections stand."""
    whole = tube(1.0, 1.0, 3.0)
    assert_allclose(outside_area(whole, 1.0), np.pi * 2, rtol=1e-12)
    assert_allclose(area_centre(whole, 1.0), (2.0, 0.0, 0.0), rtol=0, atol=1e-12)
