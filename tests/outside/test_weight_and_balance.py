"""Weight and balance extreme condition.

Source: AC 43.13-1B chapter 10, figure 10-10 (read): 1169 lb at +10.6 in, oil 17 at -49, pilot 170 at +16, fuel 83 at
+22: 1439 lb, 16,104 lb in, +11.2 in. FAA-H-8083-1 (read), nose wheel: 340 lb at the nose wheel 78 in ahead of the main
wheels, 2006 lb in all: -13.2 in from them. Printed to a tenth of an inch.
"""

from __future__ import annotations

from numpy.testing import assert_allclose

from sparwright.base.source import Band
from sparwright.mass.weigh import centre_of, sum_band


def test_forward_check() -> None:
    total, centre = centre_of([1169, 17, 170, 83], [(10.6, 0, 0), (-49, 0, 0), (16, 0, 0), (22, 0, 0)])
    assert total == 1439
    assert_allclose(total * centre[0], 16104, rtol=0, atol=0.5)
    assert round(float(centre[0]), 1) == 11.2


def test_nose_wheel() -> None:
    _, centre = centre_of([340, 2006 - 340], [(-78, 0, 0), (0, 0, 0)])
    assert round(float(centre[0]), 1) == -13.2


def test_sum_of_bands() -> None:
    """JCGM 100:2008, 5.1.2: independent parts add as squares; 3 and 4 give 5."""
    band = sum_band([Band(10, 7, 14), Band(20, 16, 23)])
    assert_allclose([band.value, band.low, band.high], [30, 25, 35], rtol=1e-15)
