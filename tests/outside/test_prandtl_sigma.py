"""Induced drag of two elliptic loadings at given distances: Prandtl's interference factor.

    Di/q = [L1^2/b1^2 + 2 sigma L1 L2/(b1 b2) + L2^2/b2^2]/pi, lifts over q

Source: L. Prandtl, Applications of Modern Hydrodynamics to Aeronautics, NACA TR 116 (1921); the values are
his integral worked out for elliptic loadings to four digits. Tolerance 1 %; the single
wing and the far downwash 2 CL/(pi AR) are exact, and hold to rounding.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose
from traces import trace, widths

from sparwright.air.farwake import Trace, drag_matrix, wash

TABLE = {  # gap over mean span: sigma for span ratio 1, 0.8, 0.6
    0.05: (0.7845, 0.6990, 0.5439),
    0.10: (0.6565, 0.6074, 0.4898),
    0.15: (0.5604, 0.5287, 0.4392),
    0.20: (0.4842, 0.4621, 0.3930),
    0.25: (0.4221, 0.4058, 0.3516),
    0.30: (0.3705, 0.3581, 0.3148),
    0.40: (0.2905, 0.2826, 0.2536),
    0.50: (0.2322, 0.2268, 0.2063),
}


def wing(span: float, z: float, strips: int = 60) -> tuple[Trace, np.ndarray]:
    t = trace(np.array([[0, span / 2], [z, z]]), strips)
    return t, np.sqrt(1 - (2 * t.middle[0] / span) ** 2)


def lift(t: Trace, g: np.ndarray) -> float:
    return float(4 * g @ widths([t]))


@pytest.mark.parametrize("gap", TABLE)
@pytest.mark.parametrize("column, ratio", [(0, 1.0), (1, 0.8), (2, 0.6)])
def test_sigma(gap: float, column: int, ratio: float) -> None:
    (t1, g1), (t2, g2) = wing(1.0, 0.0), wing(ratio, gap * (1 + ratio) / 2)
    cross = 2 * g1 @ drag_matrix([t1, t2])[: g1.size, g1.size :] @ g2
    sigma = cross * np.pi * ratio / (2 * lift(t1, g1) * lift(t2, g2))
    assert_allclose(sigma, TABLE[gap][column], rtol=0.01, atol=0)


@pytest.mark.parametrize("strips", [4, 10, 60])
def test_one_elliptic_wing_at_any_number_of_strips(strips: int) -> None:
    t, g = wing(2.0, 0.0, strips)
    assert_allclose(lift(t, g) ** 2 / (np.pi * 4 * (g @ drag_matrix([t]) @ g)), 1.0, rtol=1e-9, atol=0)


def test_far_downwash_of_an_elliptic_wing() -> None:
    t, g = wing(6.0, 0.0, 60)
    CL, aspect = lift(t, g) / 6.0, 6.0
    assert_allclose(wash([t]) @ g, 2 * CL / (np.pi * aspect), rtol=1e-9, atol=0)
