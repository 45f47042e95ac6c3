"""Wooden beams pressed along their length: one span, and two spans on three supports.

Sources: Niles and Newell, Airplane Structures (as Howard's formula; memory, high): M = w j^2 (sec(L/2j) - 1), j^2 =
EI/P; a spruce beam 1 x 5 in, 90 in, 5 lb/in, P 3000, 6000, 9000 lb: 6219.8, 8040.4, 11320.4 lb in. Timoshenko and Gere,
Theory of Elastic Stability (timoshenko-gere, memory, high), three moments with thrust: two spans of 60 in, 8 lb/in, EI
1.3e6 x 10.417, P 4000: 3734.2 lb in over the middle (3600 without thrust). Clapeyron: spans 48 and 72 in: 4032.0.
Tolerance: the printed digits. Elements for them: 8 a span at half the buckling load (P 9000 of 16,500), 4 at a quarter.
"""

from __future__ import annotations

import numpy as np
import pytest
from frames import even, flat, frame, line, point
from numpy.testing import assert_allclose

from sparwright.maths.frame.along import along
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare

E, I = 1.3e6, 1 * 5.0**3 / 12
SPRUCE = {"youngs": E, "about_y": I, "area": 5.0, "shear": E / 16}


@pytest.mark.parametrize(("count", "atol"), [(8, 0.5), (16, 0.06)])
def test_one_span(count: int, atol: float) -> None:
    f = line(90, count, flat(count + 1, {0: (0, 2), count: (2,)}), **SPRUCE)
    loads = np.concatenate([point(f, (count, 0, -p)) for p in (0, 3000, 6000, 9000)])
    s = solve(prepare(f), loads, spread=np.repeat(even(f, (0, 0, 5)), 4, axis=0))
    assert_allclose(-s.force[:, count // 2, 4], [5062.5, 6219.8, 8040.4, 11320.4], rtol=0, atol=atol)


def test_inside_an_element() -> None:
    """Two elements, moments read between their ends: the same beam at a quarter of its length."""
    f = line(90, 2, flat(3, {0: (0, 2), 2: (2,)}), **SPRUCE)
    p, q = prepare(f), even(f, (0, 0, 5))
    s = solve(p, point(f, (2, 0, -3000)), spread=q)
    j = np.sqrt(E * I / 3000)
    wanted = 5 * j**2 * (np.cos(22.5 / j) / np.cos(45 / j) - 1)
    found = along(p, s, 0, np.array([0.0, 0.5, 1.0]), spread=q[0])[0, :, 4]
    assert_allclose(found, [0, wanted, 6219.8], rtol=4e-3, atol=1e-6)  # of two elements


def three(first: float, second: float, count: int, thrust: float) -> float:
    """Moment over the middle support."""
    x = np.concatenate([np.linspace(0, first, count + 1), first + np.linspace(0, second, count + 1)[1:]])
    held = flat(x.size, {0: (0, 2), count: (2,), 2 * count: (2,)})
    f = frame(np.stack([x, 0 * x, 0 * x], 1), [(i, i + 1) for i in range(2 * count)], held, **SPRUCE)
    s = solve(prepare(f), point(f, (2 * count, 0, -thrust)), spread=even(f, (0, 0, -8)))
    assert s.good.all()
    return -float(s.force[0, count, 4])


def test_three_moments() -> None:
    assert_allclose(three(48, 72, 1, 0.0), 4032.0, rtol=1e-9)
    assert_allclose(three(60, 60, 1, 0.0), 3600.0, rtol=1e-9)


def test_three_moments_with_thrust() -> None:
    assert_allclose(three(60, 60, 2, 4000.0), 3734.2, rtol=2e-3)
    assert_allclose(three(60, 60, 8, 4000.0), 3734.2, rtol=0, atol=0.06)
