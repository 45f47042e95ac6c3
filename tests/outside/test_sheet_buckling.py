"""Buckling coefficients of plates.

Sources: timoshenko-gere (5.34 + 4 (b/a)^2 and 8.98 + 5.6 (b/a)^2, worked example 2024 web 0.025, 6 x 12 in, by
independent code; tolerance from its digits); the isotropic plate inside Seydel's orthotropic values (seydel-1933); the
strip of timoshenko-plates against its own differential equation, solved here by another road.
"""

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.integrate import solve_bvp

from sparwright.strength.members import glass, web


@pytest.mark.parametrize(("held", "k", "stress"), [("simply", 6.34, 1066.7), ("clamped", 10.38, 1746.5)])
def test_a_web_of_6_by_12_inches(held, k, stress):
    assert_allclose(web.shear_k(6.0, 12.0, held), k, rtol=0, atol=1e-9)
    assert_allclose(web.shear_buckling(0.025, 6.0, 12.0, 10.5e6, held=held), stress, rtol=1e-3, atol=0)
    assert_allclose(web.shear_buckling(0.025, 12.0, 6.0, 10.5e6, held=held), stress, rtol=1e-3, atol=0)


def even(thick=0.4e-3, nu=0.3, e=14e9):
    """A laminate that is alike in every direction."""
    strengths = dict.fromkeys(("tension", "compression", "bending", "shear"), 1e8)
    moduli = {"youngs": e, "youngs_bent": e, "shear_modulus": e / 2 / (1 + nu)}
    return glass.Laminate(thickness=thick, poisson=nu, **strengths, **moduli)


def test_orthotropic_plates_come_to_the_isotropic_one():
    """Seydel's 13.17 at theta = 1 is 5.34 pi^2/4 = 13.176; pressed, k = 4 exactly."""
    made = even()
    plate = web.bent_plate(14e9, 0.3) * (0.4e-3 / 0.3) ** 2 * 0.4e-3
    assert_allclose(glass.shear_buckling(made, 0.3), 5.34 * plate, rtol=1e-3, atol=0)
    assert_allclose(glass.compression_buckling(made, 0.3), 4 * plate, rtol=1e-12, atol=0)


@pytest.mark.parametrize("pressure", [20.0, 300.0, 2000.0])
def test_a_strip_between_ribs_against_its_differential_equation(pressure):
    """D w'''' - S w'' = p with S = E t/(1 - nu^2)/b int w'^2/2 dx, clamped, solved as a boundary value problem."""
    made, b = even(), 0.305
    nu, t, e = 0.3, made.thickness, made.youngs
    d = e * t**3 / (12 * (1 - nu**2))
    sag, pull, stress = (float(v) for v in glass.pillow(pressure, made, b))

    def slope(x, y, s):
        return np.array([y[1], y[2], y[3], pressure * b**4 / d / t + s[0] * y[2], y[1] ** 2 / 2])

    def ends(a, z, s):
        return np.array([a[0], a[1], z[0], z[1], a[4], z[4] * 12 - s[0]])

    x = np.linspace(0, 1, 400)
    guess = np.zeros((5, x.size))
    guess[0] = sag / t * np.sin(np.pi * x) ** 2
    found = solve_bvp(slope, ends, x, guess, p=[pull * b**2 / d], tol=1e-7, max_nodes=20_000)
    assert found.success
    assert_allclose(found.sol(0.5)[0] * t, sag, rtol=1e-4, atol=0)
    assert_allclose(found.p[0] * d / b**2, pull, rtol=1e-4, atol=0)
    bent = found.sol(0.0)[2] * t / b**2 * d * 6 / t**2
    assert_allclose(pull / t + bent, stress, rtol=1e-4, atol=0)
