"""Thin curved sheet in shear. Source: naca-tn-343 (its abstract read): s = K E t/r, K .075 by tests of Alclad."""

import numpy as np
from numpy.testing import assert_allclose

from sparwright.strength.members.web import curved_shear, shear_buckling

PSI, INCH = 6894.757, 0.0254


def test_roundness_alone():
    """10 in round, 0.020 in thick, E 10.3 million psi: 0.075 of E t/r is 1545 psi; flat it is under a fifth of that."""
    args = (0.020 * INCH, 10 * INCH, 12 * INCH, 48 * INCH, 10.3e6 * PSI)
    assert_allclose(curved_shear(*args) / PSI, 0.075 * 10.3e6 * 0.020 / 10, rtol=1e-12)
    flat = shear_buckling(0.020 * INCH, 12 * INCH, 48 * INCH, 10.3e6 * PSI)
    assert flat < curved_shear(*args) / 5
    assert np.all(curved_shear(*args[:1], 1e6, *args[2:]) == flat)  # hardly round
