"""Volume in a tilted tank against counting: a fine lattice of points, which knows nothing of the closed form.

The lattice of 100 a side misses a plane cut by at most about half a cell: 0.5 % of the volume is allowed. Two cases are
exact: a wedge of a box (half its height times its width: triangle), a cylinder half full at any tilt about its axis.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.axes import up
from sparwright.family.fuel import Tank
from sparwright.systems.tank import Up, below, height, level, span, under, volume

BOX = Tank(
    shape="box", place=(0.4, 0.02, 0.1), length=0.35, width=0.5, height=0.22, material="5052-H32", wall=0.001,
    extra=0.1, outlet=(0.5, 0.02, -0.01), filler=(0.4, 0.02, 0.2), drain=(0.5, 0.02, -0.01), cap="body",
    fuels=("avgas",),
)  # fmt: skip
ACROSS = replace(BOX, shape="cylinder", axis="across", length=0.22)
ALONG = replace(BOX, shape="cylinder", axis="along", width=0.22)
TANKS = {"box": BOX, "across": ACROSS, "along": ALONG}
TILTS = ((0.0, 0.0), (0.3, 0.0), (-0.25, 0.1), (0.4, -0.3), (0.05, 0.7), (1e-8, 0.3))


def counted(tank: Tank, n: Up, d: float) -> float:
    """Cells whose middle lies in the tank and below the level."""
    sizes = np.array([tank.length, tank.width, tank.height])
    x, y, z = np.meshgrid(*(((np.arange(100) + 0.5) / 100 - 0.5) * s for s in sizes), indexing="ij")
    inside = np.ones(x.shape, dtype=bool)
    if tank.shape == "cylinder":
        inside = np.hypot(x if tank.axis == "across" else y, z) <= tank.height / 2
    low = n[0] * x + n[1] * y + n[2] * z + height(tank.place, n) <= d
    return float(np.mean(inside & low) * sizes.prod())


@pytest.mark.parametrize("name", TANKS)
@pytest.mark.parametrize("tilt", TILTS)
def test_against_counting(name: str, tilt: tuple[float, float]) -> None:
    tank, n = TANKS[name], up(*tilt)
    low, high = span(tank, n)
    for part in (0.2, 0.65):
        d = low + part * (high - low)
        assert_allclose(below(tank, n, d), counted(tank, n, d), rtol=0, atol=0.005 * volume(tank))


@pytest.mark.parametrize("name", TANKS)
@pytest.mark.parametrize("tilt", TILTS)
def test_empty_full_and_back(name: str, tilt: tuple[float, float]) -> None:
    tank, n = TANKS[name], up(*tilt)
    low, high = span(tank, n)
    assert below(tank, n, low) == pytest.approx(0.0, abs=1e-12)
    assert_allclose(below(tank, n, high), volume(tank), rtol=1e-10, atol=0)
    for part in (0.02, 0.5, 0.97):
        held = part * volume(tank)
        assert_allclose(below(tank, n, level(tank, n, held)), held, rtol=1e-8, atol=0)


def test_a_wedge_of_a_box() -> None:
    """Nose up by a, an outlet at the floor's front edge leaves the wedge L (L tan a)/2 W behind it."""
    a = 0.3
    front = (BOX.place[0] - BOX.length / 2, 0.0, BOX.place[2] - BOX.height / 2)
    wedge = BOX.length**2 * np.tan(a) / 2 * BOX.width
    assert BOX.length * np.tan(a) < BOX.height
    assert_allclose(under(BOX, up(a), front), wedge, rtol=1e-12, atol=0)
    back = (BOX.place[0] + BOX.length / 2, 0.0, BOX.place[2] - BOX.height / 2)
    assert_allclose(under(BOX, up(a), back), 0.0, rtol=0, atol=1e-15)


def test_half_a_cylinder_at_any_tilt() -> None:
    for tilt in TILTS:
        n = up(*tilt)
        for tank in (ACROSS, ALONG):
            assert_allclose(below(tank, n, height(tank.place, n)), volume(tank) / 2, rtol=1e-10, atol=0)


def test_more_than_fits_is_refused() -> None:
    with pytest.raises(ValueError, match="holds"):
        level(BOX, up(0.0), 1.01 * volume(BOX))
