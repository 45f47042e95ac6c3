"""Worked longitudinal example. Source: J. D. Anderson, Introduction to Flight, 6th ed., ch. 7 (ex. 7.3 to 7.9).

Inputs read, results recomputed from the printed formulas; last printed digit is the tolerance.
"""

from numpy.testing import assert_allclose

from sparwright.flight.tail import (
    elevator_to_trim,
    free_elevator_factor,
    moment_at_zero_lift,
    moment_slope,
    neutral_point,
)

A, AT, VH, DE, ARM, HAC = 0.08, 0.1, 0.34, 0.35, 0.11, 0.24  # per deg


def test_moment_curve_and_trim():
    Cm0, slope = moment_at_zero_lift(-0.032, VH, AT, 2.7), moment_slope(A, ARM, VH, AT, DE)
    assert_allclose(Cm0, 0.0598, rtol=0, atol=5e-5)
    assert_allclose(slope, -0.0133, rtol=0, atol=5e-5)
    assert_allclose(-Cm0 / slope, 4.5, rtol=0, atol=0.05)


def test_neutral_point_and_static_margin():
    hn = neutral_point(HAC, A, VH, AT, DE)
    assert_allclose(hn, 0.516, rtol=0, atol=5e-4)
    assert_allclose(hn - (HAC + ARM), 0.166, rtol=0, atol=5e-4)


def test_elevator_at_61_metres_a_second():
    CL = 22700 / (1.225 / 2 * 61**2 * 19)
    assert_allclose(CL, 0.524, rtol=0, atol=5e-4)
    assert_allclose(CL / A, 6.55, rtol=0, atol=5e-3)
    Cm0, slope = moment_at_zero_lift(-0.032, VH, AT, 2.7), moment_slope(A, ARM, VH, AT, DE)
    assert_allclose(elevator_to_trim(Cm0, slope, CL / A, VH, 0.04), -2.0, rtol=0, atol=0.05)


def test_stick_free():
    F = free_elevator_factor(AT, 0.04, -0.008, -0.013)
    assert_allclose(F, 0.754, rtol=0, atol=5e-4)
    assert_allclose(neutral_point(HAC, A, VH, AT, DE, F), 0.448, rtol=0, atol=5e-4)
