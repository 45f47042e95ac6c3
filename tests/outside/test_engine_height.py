"""Piston power with height. Source: S. Gudmundsson, General Aviation Aircraft Design, 2014, eq. 7-16 (quoted).

P/P0 = s - (1 - s)/7.55 worked out with the densities of ISO 2533, four printed decimals.
"""

import pytest
from numpy.testing import assert_allclose

from sparwright.power.engine import height_factor


@pytest.mark.parametrize(
    ("density", "factor"), [(1.11164, 0.8952), (1.00649, 0.7980), (0.90912, 0.7080), (0.81913, 0.6248)]
)
def test_gagg_and_ferrar(density, factor):
    assert_allclose(height_factor(density / 1.225), factor, rtol=0, atol=5e-5)
