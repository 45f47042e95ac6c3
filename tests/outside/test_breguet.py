"""Breguet's closed forms with the integral over the mass.

Source: anderson-flight, the propeller aeroplane of the examples of ch. 6 (inputs and answers memory: 2950 lb, 65 gal of
5.64 lb, eta 0.8, 0.45 lb/(hp h), (L/D) 13.62, CL^1.5/CD 12.81, 174 ft2, sea level: 1207 miles, 14.4 h); worked out anew
from the closed forms here.
"""

from __future__ import annotations

import math

from numpy.testing import assert_allclose

from sparwright.flight.cruise import over_masses

W0, W1 = 2950.0, 2950.0 - 65 * 5.64  # lb
C = 0.45 / 550 / 3600  # 1/ft, fuel weight for each ft lb
MASSES = (W1, (W0 + W1) / 2, W0)


def test_range_at_one_lift_coefficient() -> None:
    """dx = eta/c L/D dW/W."""
    each = [0.8 / C * 13.62 / W for W in MASSES]
    miles = over_masses(MASSES, each) / 5280
    assert_allclose(miles, 0.8 / C * 13.62 * math.log(W0 / W1) / 5280, rtol=1e-5, atol=0)
    assert_allclose(miles, 1207, rtol=0, atol=3.0)  # printed with 2.27e-7 for C, which takes 0.1 % more


def test_endurance_at_one_lift_coefficient() -> None:
    """dt = eta/c CL^1.5/CD sqrt(rho S/2) W^-1.5 dW."""
    k = 0.8 / C * 12.81 * math.sqrt(0.002377 * 174 / 2)
    hours = over_masses(MASSES, [k * W**-1.5 for W in MASSES]) / 3600
    assert_allclose(hours, 2 * k * (W1**-0.5 - W0**-0.5) / 3600, rtol=1e-4, atol=0)
    assert_allclose(hours, 14.4, rtol=0, atol=0.05)
