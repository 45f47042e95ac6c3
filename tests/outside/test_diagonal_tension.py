"""A beam whose web pulls. Source: megson, Introduction to Aircraft Structural Analysis, example 9.1 p. 310 (read).

W = 5000 N, d = 400, b = 300, t = 2, L = 1200 mm, flanges 350 mm2, uprights 300 mm2, Z 750 mm3, I 2000 mm4, E 70,000.
Tolerance: the digits printed. The book's buckling load, 22.0 kN, is of its rounded length; exact 21.59.
"""

import math

import numpy as np
from numpy.testing import assert_allclose

from sparwright.strength.members.tension_field import Bay, pure, tense

W, MOMENT = 5000.0, 5000.0 * 1.2
SIZES = {"thickness": 2e-3, "height": 0.4, "spacing": 0.3, "flange": 350e-6, "upright": 300e-6}


def test_pure_diagonal_tension():
    w = pure(W, MOMENT, **SIZES)
    assert_allclose(math.degrees(w.angle), 42.6, rtol=0, atol=0.05)
    assert_allclose(w.pressed, 17.7e3, rtol=0, atol=50)
    assert_allclose(w.pressed / 350e-6, 50.7e6, rtol=0, atol=0.1e6)  # 17.7 rounded, over 350
    assert_allclose(w.moment, 86.0, rtol=0, atol=0.5)
    assert_allclose(w.moment / 750e-9 + w.pressed / 350e-6, 165.6e6, rtol=0, atol=0.3e6)
    assert_allclose(w.upright, 3.4e3, rtol=0, atol=50)
    assert_allclose(w.column, 0.253, rtol=0, atol=5e-4)
    assert_allclose(math.pi**2 * 70e9 * 2000e-12 / w.column**2, 21.59e3, rtol=0, atol=10)


def test_incomplete_tension_becomes_pure_when_the_web_buckles_at_once():
    """k = 1 in the report's formulas gives Wagner's; here k is as near to it as its range lets it be (0.89)."""
    bay = Bay(flange_inertia=1.0, youngs=70e9, **SIZES)
    w = pure(W, MOMENT, **SIZES)
    q = np.array([W / 0.4])
    t = tense(q, q / 2e-3 / 799.0, bay)
    assert 0.88 < t.k[0] < 1.0
    assert_allclose(t.angle, w.angle, rtol=0.02, atol=0)
    assert_allclose(-t.upright * 300e-6, t.k * w.upright, rtol=0.15, atol=0)
    assert (-t.upright * 300e-6 < w.upright).all()
