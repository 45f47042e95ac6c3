"""Beams on several supports and built in: closed forms.

Sources: Clapeyron's equation of three moments, M_B = w (L1^3 + L2^3)/(8 (L1 + L2)) for two spans on three supports;
cantilever and single span from any text on strength of materials (Timoshenko, Strength of Materials, memory).
Worked values: spans 48 and 72 in, 8 lb/in: 4032.0 lb in. The tolerance is the rounding of a stiffness of 120 elements.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.maths.beam import Bent, bend


def beam(
    length: float, supports: tuple[float, ...], w: float | np.ndarray, through: bool = False, n: int = 121
) -> Bent:
    """A beam of one stiffness under w per length, from 0 to `length`."""
    y = np.unique(np.concatenate([np.linspace(0, length, n), supports]))
    return bend(
        y,
        np.full(y.size - 1, 7.0),
        np.broadcast_to(w, y.shape),
        [int(np.argmin(abs(y - s))) for s in supports],
        through,
    )


def at(bent: Bent, y: float) -> int:
    return int(np.argmin(np.abs(bent.y - y)))


def test_unequal_spans() -> None:
    """Load down: the beam is bent over the middle support, top in tension, so the moment is negative here."""
    bent = beam(120.0, (0.0, 48.0, 120.0), -8.0)
    assert_allclose(bent.moment[at(bent, 48.0)], -4032.0, rtol=1e-7)


def test_unequal_stiffness() -> None:
    """The three-moment equation with I1 and I2: M = -w (L1^3/I1 + L2^3/I2)/(8 (L1/I1 + L2/I2))."""
    y = np.linspace(0, 120, 121)
    stiff = np.where(y[1:] <= 48, 3.0, 1.0)
    bent = bend(y, stiff, np.full(121, -8.0), [0, 48, 120], through=False)
    wanted = -8 * (48**3 / 3 + 72**3) / (8 * (48 / 3 + 72))
    assert_allclose(bent.moment[48], wanted, rtol=1e-7)


def test_equal_spans() -> None:
    bent = beam(120.0, (0.0, 60.0, 120.0), 8.0)
    assert_allclose(bent.moment[at(bent, 60.0)], 3600.0, rtol=1e-7)
    assert_allclose(bent.reactions, [-180, -600, -180], rtol=1e-7)


@pytest.mark.parametrize("load", ["uniform", "rising"])
def test_cantilever_from_the_middle(load: str) -> None:
    """Held at the middle and going on as its mirror: M = w L^2/2; load rising to w at the tip, M = w L^2/3."""
    y = np.linspace(0, 3.0, 61)
    w = np.full(61, 5.0) if load == "uniform" else 5.0 * y / 3.0
    bent = bend(y, np.ones(60), w, [0], through=True)
    wanted, total = (22.5, 15.0) if load == "uniform" else (15.0, 7.5)
    assert_allclose(bent.moment[0], wanted, rtol=1e-7)
    assert_allclose(bent.shear[0], total, rtol=1e-7)
    assert_allclose(bent.reactions, [-total], rtol=1e-7)


def test_one_span() -> None:
    """Load up on a beam held at both ends bends the middle up: M = -w L^2/8 here, shear w L/2."""
    bent = beam(10.0, (0.0, 10.0), 4.0)
    assert_allclose(bent.moment[at(bent, 5.0)], -50.0, rtol=1e-7)
    assert_allclose(bent.greatest_shear.max(), 20.0, rtol=1e-7)


def test_through_the_middle_on_two_struts() -> None:
    """Mirror beam on supports 2 a apart: the middle span of a beam with equal overhangs, M_0 = w (c^2/2 - a^2/2)."""
    a, tip, w = 2.0, 5.0, 3.0
    bent = beam(tip, (a,), w, through=True)
    assert_allclose(bent.moment[0], w * ((tip - a) ** 2 - a**2) / 2, rtol=1e-7)
    assert_allclose(bent.reactions, [-w * tip], rtol=1e-7)
    assert_allclose(bent.shear[0], 0, rtol=0, atol=1e-6)


def test_no_hold() -> None:
    with pytest.raises(ValueError, match="support"):
        beam(10.0, (5.0,), 4.0)
