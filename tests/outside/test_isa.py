"""Standard atmosphere against the printed table.

Source: ISO 2533:1975, Standard Atmosphere, tables of T, p, rho, a and nu against geopotential altitude
(the same values in ICAO Doc 7488). Tolerance: half a unit in the last digit printed.
"""

from __future__ import annotations

import pytest
from numpy.testing import assert_allclose

from sparwright.air.atmosphere import atmosphere

TABLE = """
   0 288.15 101325.0 1.22500 340.294 1.46072
1000 281.65  89874.6 1.11164 336.434 1.58130
2000 275.15  79495.2 1.00649 332.529 1.71483
3000 268.65  70108.5 0.90912 328.578 1.86303
4000 262.15  61640.2 0.81913 324.579 2.02789
6000 249.15  47181.0 0.65970 316.428 2.41738
"""
ROWS = [tuple(map(float, line.split())) for line in TABLE.split("\n") if line]


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row[0]:.0f} m")
def test_table(row: tuple[float, ...]) -> None:
    H, T, p, rho, a, nu = row
    air = atmosphere(H)
    assert_allclose(air.temperature, T, rtol=0, atol=0.005)
    assert_allclose(air.pressure, p, rtol=0, atol=0.06)
    assert_allclose(air.density, rho, rtol=0, atol=0.6e-5)
    assert_allclose(air.sound, a, rtol=0, atol=0.6e-3)
    assert_allclose(air.kinematic, nu * 1e-5, rtol=0, atol=0.6e-10)
