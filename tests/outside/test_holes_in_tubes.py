"""What two holes leave of a ring, against the integral of y^2 over what is left.

No source but the definition of a second moment: the ring is cut in strips of 1e-5 of a radius or in sectors. Tolerance:
1e-9 for sectors, what the sum over strips leaves; 0.7 (t/D)^2 for a drilled hole up to 0.3 D, because
the drill's sides are straight: at the outer fibre they take a narrower sector than at the middle line, at the bore a
wider one, and what is of first order in t/D cancels. It shrinks with the square of the wall, which is held too.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.strength.members.section import modulus, net_area, net_modulus

STRIPS = 100_000


def by_sectors(D: float, t: float, h: float) -> float:
    """(R^4 - r^4)/4 times the integral of cos^2 over the angles that are left, over D/2."""
    a = np.arcsin(h / (D - t))
    angle = a + (np.arange(STRIPS) + 0.5) / STRIPS * (np.pi - 2 * a)
    left = 2 * np.mean(np.cos(angle) ** 2) * (np.pi - 2 * a)
    return float(((D / 2) ** 4 - (D / 2 - t) ** 4) / 4 * left / (D / 2))


def drilled(D: float, t: float, h: float) -> tuple[float, float]:
    """(area, modulus) of a ring without its strip of |x| < h/2: a drill went through both walls along y."""
    x = (np.arange(STRIPS) + 0.5) / STRIPS * (D - h) / 2 + h / 2
    outer, bore = np.sqrt((D / 2) ** 2 - x**2), np.sqrt(np.maximum((D / 2 - t) ** 2 - x**2, 0))
    step = (D - h) / 2 / STRIPS
    return float(4 * np.sum(outer - bore) * step), float(4 * np.sum(outer**3 - bore**3) / 3 * step / (D / 2))


@pytest.mark.parametrize("t", [0.02, 0.056, 0.2])
@pytest.mark.parametrize("h", [0.0, 0.125, 0.3, 0.6])
def test_sectors(t: float, h: float) -> None:
    assert_allclose(net_modulus(1.0, t, h), by_sectors(1.0, t, h), rtol=1e-9, atol=0)


@pytest.mark.parametrize("h", [0.1, 0.2, 0.3])
def test_drilled_holes_differ_by_the_square_of_the_wall(h: float) -> None:
    off = []
    for t in (0.08, 0.04):
        area, Z = drilled(1.0, t, h)
        off.append(float(net_modulus(1.0, t, h) / Z - 1))
        assert -0.7 * t**2 < off[-1] <= 0  # never more than is there
        assert_allclose(net_area(1.0, t, h), area, rtol=0.01 * t**2, atol=2e-7)
    assert 3.5 < off[0] / off[1] < 6.0  # four times, and what is of the next order


def test_an_eighth_in_five_eighths() -> None:
    """1/8 in through 5/8 x 0.035 in, by hand: a = asin(0.125/0.590) = 0.21348; 0.84106/pi = 0.26772 lost."""
    assert_allclose(net_modulus(0.625, 0.035, 0.125) / modulus(0.625, 0.035), 1 - 0.26772, rtol=0, atol=1e-5)
