"""The beam by hand on two supports against closed forms: overhang, three spans that run on, a load at the tip.

Sources: three equal spans under an even load, M = -0.1 w l^2 over the inner supports and 0.4 w l at the outer ones
(tables of any steel manual, here by Clapeyron's theorem, timoshenko-gere ch. 1; memory, high); overhanging beam, load
at its end, d = P c^2 (L + c)/(3 EI) (roark, table of beams; memory, high); even load on span and overhang,
R = w (L + c)^2/(2 L) (statics). Tolerance: the load is cut into pieces, whose error falls with their number squared;
2000 pieces leave under 1e-5 of the moments.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.margins.by_hand import Beam

PIECES = 2000


def even(w: float, inner: float, outer: float, tip: float, through: bool) -> Beam:
    """An even load from the centre, or from the root, to the tip."""
    start = 0.0 if through else inner
    edges = np.linspace(start, tip, PIECES + 1)
    return Beam((edges[:-1] + edges[1:]) / 2, np.full(PIECES, w * (tip - start) / PIECES), inner, outer, 5e4, through)


def test_three_equal_spans() -> None:
    w, long = 700.0, 2.4
    beam = even(w, long / 2, 1.5 * long, 1.5 * long, True)
    assert_allclose(beam.inner_moment, -0.1 * w * long**2, rtol=1e-5)
    assert_allclose(beam.outer_lift, 0.4 * w * long, rtol=1e-3)  # a piece at the very end is shared by lever


@pytest.mark.parametrize("part", [0.2, 0.5, 0.9])
def test_even_load_on_span_and_overhang(part: float) -> None:
    w, long = 500.0, 2.0
    c = part * long
    beam = even(w, 0.3, 0.3 + long, 0.3 + long + c, False)
    assert_allclose(beam.outer_moment, -w * c**2 / 2, rtol=1e-3)
    assert_allclose(beam.outer_lift, w * (long + c) ** 2 / (2 * long), rtol=1e-5)


def test_load_at_the_tip_of_an_overhang() -> None:
    long, c, load = 2.0, 1.3, 900.0
    beam = Beam(np.array([0.4, 0.4 + long, 0.4 + long + c]), np.array([0.0, 0.0, load]), 0.4, 0.4 + long, 3e4, False)
    assert_allclose(beam.tip(), load * c**2 * (long + c) / (3 * 3e4), rtol=1e-12)
    assert_allclose(beam.tip(0.01) - beam.tip(), 0.01 * (long + c) / long, rtol=1e-9)
