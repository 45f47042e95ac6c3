"""Units against their published definitions.

Sources: BIPM, The International System of Units (SI), 9th edition, 2019, tables 8 and 2; NIST Special
Publication 811, 2008, appendix B.8. Factors printed there as exact (bold) must be met to rounding of a double;
others to half a unit of the last printed digit.
"""

import pytest

from sparwright.base.quantity import parse, to

EXACT = [  # bold, that is exact, in NIST SP 811 B.8
    ("1 in", "length", 2.54e-2),
    ("1 ft", "length", 3.048e-1),
    ("1 yd", "length", 9.144e-1),
    ("1 nmi", "length", 1852.0),
    ("1 lb", "mass", 0.45359237),
    ("1 kgf", "force", 9.80665),
    ("1 mph", "speed", 0.44704),
    ("1 ft/min", "speed", 5.08e-3),
    ("1 in2", "area", 6.4516e-4),
    ("1 ft2", "area", 9.290304e-2),
]
PRINTED = [  # seven figures in NIST SP 811 B.8: half a unit of the seventh
    ("1 lbf", "force", 4.448222, 5e-7),
    ("1 psi", "pressure", 6.894757e3, 5e-4),
    ("1 ksi", "pressure", 6.894757e6, 0.5),
    ("1 kt", "speed", 5.144444e-1, 5e-8),
    ("1 hp", "power", 7.456999e2, 5e-5),
    ("1 oz", "mass", 2.834952e-2, 5e-9),
    ("1 gal", "volume", 3.785412e-3, 5e-10),
    ("1 lb/ft3", "density", 1.601846e1, 5e-6),
    ("1 lb/in3", "density", 2.767990e4, 5e-3),
    ("1 lb/ft2", "areal", 4.882428, 5e-7),
    ("1 oz/yd2", "areal", 3.390575e-2, 5e-9),
    ("1 lb/ft", "linear", 1.488164, 5e-7),
    ("1 psf", "pressure", 4.788026e1, 5e-6),
    ("1 deg", "angle", 1.745329e-2, 5e-9),
    ("1 lb/hp/h", "consumption", 1.689659e-7, 5e-14),
]


@pytest.mark.parametrize(("text", "dimension", "si"), EXACT)
def test_exact_factors(text: str, dimension: str, si: float) -> None:
    assert parse(text, dimension) == pytest.approx(si, rel=2e-16)


@pytest.mark.parametrize(("text", "dimension", "si", "half"), PRINTED)
def test_printed_factors(text: str, dimension: str, si: float, half: float) -> None:
    assert parse(text, dimension) == pytest.approx(si, rel=0, abs=half)


def test_the_same_stall_limit_in_three_units_is_three_limits() -> None:
    """39 kt, 45 mph and 72 km/h are written in three rules for one thing; they differ, and we must not mix them."""
    knots, miles, kilometres = (parse(t, "speed") for t in ("39 kt", "45 mph", "72 km/h"))
    assert to(knots, "mph") == pytest.approx(44.88, abs=5e-3)
    assert to(knots, "km/h") == pytest.approx(72.23, abs=5e-3)
    assert kilometres < knots < miles
