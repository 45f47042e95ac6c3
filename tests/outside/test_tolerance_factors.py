"""Tolerance factors, critical residuals and basis values against those printed for aircraft materials.

Sources: CMH-17, volume 1, revision G, 2012: tables of kB, kA and of critical values of the maximum normed residual
(second-hand: as an open package of statistics for composite materials repeats them in its tests; printed to three
decimals). An example of 18 results with its normal and Weibull A and B values and its Anderson-Darling chance,
worked by the program that came with MIL-HDBK-17 (second-hand, the same place).
"""

import math

import pytest

from sparwright.maths import tolerance

KB = {2: 20.581, 3: 6.157, 4: 4.163, 5: 3.408, 6: 3.007, 7: 2.756, 8: 2.583, 9: 2.454, 10: 2.355, 12: 2.211, 15: 2.069,
      18: 1.974, 20: 1.927, 25: 1.839, 30: 1.778, 50: 1.646, 75: 1.570}  # fmt: skip
KA = {2: 37.094, 3: 10.553, 4: 7.042, 5: 5.741, 6: 5.062, 7: 4.642, 8: 4.354, 9: 4.143, 10: 3.981, 12: 3.747, 15: 3.520,
      18: 3.370, 20: 3.295, 25: 3.158, 30: 3.064, 50: 2.862, 75: 2.748}  # fmt: skip
RESIDUAL = {3: 1.154, 4: 1.481, 5: 1.715, 6: 1.887, 7: 2.020, 8: 2.127, 9: 2.215, 10: 2.290, 15: 2.548, 20: 2.708,
            30: 2.908, 50: 3.128, 100: 3.384}  # fmt: skip
EXAMPLE = (137.4438, 139.5395, 150.89, 141.4474, 141.8203, 151.8821, 143.9245, 132.9732, 136.6419, 138.1723, 148.7668,
           143.283, 143.5429, 141.7023, 137.4732, 152.338, 144.1589, 128.5218)  # fmt: skip
SECOND = (79.9109621761937, 77.9447436346388, 79.717168019752, 87.3547460860547, 76.2404769192413, 75.7026911300246,
          79.5952709280298, 76.7833784980155, 77.5791472067831, 78.4164523339268, 79.2819398818745, 77.6346481930964,
          81.2182937743241, 81.1826431730731, 86.0561762593461, 82.1837784884495, 80.7564920650884,
          79.3614980225488)  # fmt: skip


@pytest.mark.parametrize(("n", "printed"), KB.items())
def test_factors_of_the_b_basis(n: int, printed: float) -> None:
    """The table is of fits: at n = 3 and 5 it prints 6.157 and 3.408, exact are 6.1553 and 3.4066."""
    assert tolerance.factor(n, 0.90) == pytest.approx(printed, abs=0.002)


@pytest.mark.parametrize(("n", "printed"), KA.items())
def test_factors_of_the_a_basis(n: int, printed: float) -> None:
    assert tolerance.factor(n, 0.99) == pytest.approx(printed, abs=0.002)


@pytest.mark.parametrize(("n", "printed"), RESIDUAL.items())
def test_critical_residuals(n: int, printed: float) -> None:
    """The table truncates now and then in its third decimal (1.1547 printed 1.154)."""
    assert tolerance.critical_residual(n) == pytest.approx(printed, abs=0.0011)


def test_the_handbooks_example_in_normal_scatter() -> None:
    """Three decimals of a value printed by a program that took its factors from fits: they are 0.005 off at A."""
    assert tolerance.normal_limit(EXAMPLE, 0.90) == pytest.approx(129.287, abs=0.02)
    assert tolerance.normal_limit(EXAMPLE, 0.99) == pytest.approx(120.336, abs=0.02)


def test_the_handbooks_example_in_weibull_scatter() -> None:
    assert tolerance.weibull_limit(EXAMPLE, "B") == pytest.approx(125.441, abs=0.001)
    assert tolerance.weibull_limit(EXAMPLE, "A") == pytest.approx(109.150, abs=0.001)


@pytest.mark.parametrize(("results", "printed"), [(EXAMPLE, 0.465), (SECOND, 0.0840)])
def test_chance_of_normal_scatter(results: tuple[float, ...], printed: float) -> None:
    assert tolerance.anderson_darling(results) == pytest.approx(printed, abs=0.0005)


@pytest.mark.parametrize(
    ("level", "statistic"), [(0.15, 0.576), (0.10, 0.656), (0.05, 0.787), (0.025, 0.918), (0.01, 1.092)]
)
def test_chance_at_the_critical_values_of_lawless(level: float, statistic: float) -> None:
    """Lawless, Lifetime Data, 1982, p. 458 (second-hand); the fit is good to 0.002."""
    assert tolerance.chance(statistic) == pytest.approx(level, abs=0.002)


def test_the_statistic_is_the_sum_by_its_definition() -> None:
    """A2 one term at a time, with the complementary error function in place of the library's normal distribution."""
    n, m, s = len(SECOND), sum(SECOND) / len(SECOND), tolerance.deviation(SECOND)
    z = sorted(0.5 * math.erfc(-(v - m) / s / math.sqrt(2)) for v in SECOND)
    a2 = -n - sum((2 * i + 1) * (math.log(z[i]) + math.log(1 - z[n - 1 - i])) for i in range(n)) / n
    assert tolerance.anderson_darling(SECOND) == pytest.approx(tolerance.chance(a2 * (1 + 4 / n - 25 / n**2)), rel=1e-9)
