"""The two loads along a rib, against the thin aerofoil in print.

Source: H. Glauert, The elements of aerofoil and airscrew theory, 1926, chapter VII (glauert-1926, memory, high): the
load of an angle of attack has its centre at a quarter of the chord; a mean line's sine series adds to it a load
4/pi sin(phi), whose centre is the half chord and whose moment about the quarter is -pi/4 (A_1 - A_2) of its lift.
Tolerances: exact statements, so rounding.
"""

from __future__ import annotations

import math

import numpy as np
import pytest

from sparwright.margins.rib_loads import Beam, carried

X = np.linspace(0.0, 1.0, 20001)
SPARS = (0.2, 0.7)


def centre(which: int) -> float:
    """Of a load of one newton: by its reactions, which the shear's jumps at the spars are."""
    V = carried(Beam(X, 1.0, 1.0, SPARS))[0][which]
    jumps = []
    for spar in SPARS:
        k = int(np.searchsorted(X, spar + 2e-9))
        jumps.append(float(V[k - 1] - V[k]))
    return sum(x * r for x, r in zip(SPARS, jumps, strict=True)) / sum(jumps)


def test_an_angle_of_attack_acts_at_the_quarter_chord() -> None:
    assert centre(0) == pytest.approx(0.25, abs=2e-4)  # the jumps are taken over one step of X


def test_a_mean_line_acts_at_the_half_chord() -> None:
    assert centre(1) == pytest.approx(0.5, abs=2e-4)


@pytest.mark.parametrize("at", [0.1, 0.5, 0.9])
def test_part_of_the_load_ahead_of_a_place(at: float) -> None:
    """Ahead of a place lies (phi + sin phi)/pi of the one and (phi - sin phi cos phi)/pi of the other."""
    free = carried(Beam(X, 1.0, 1.0, (0.999, 0.9995)))[0]  # spars at the tail: shear is all that lies ahead
    phi, k = math.acos(1 - 2 * at), int(np.argmin(np.abs(at - X)))
    assert free[0, k] == pytest.approx((phi + math.sin(phi)) / math.pi, abs=1e-9)
    assert free[1, k] == pytest.approx((phi - math.sin(phi) * math.cos(phi)) / math.pi, abs=1e-9)
