"""A strut-braced wing, first and second order: spar hinged at its root, strut at 90 in, tip at 150 in.

Source: statics and Howard's formula with end moments (Niles and Newell, Airplane Structures, memory, high; two ways of
working agree): strut foot 45 in below the hinge, spar of spruce 1 x 5 in, 20 lb/in up: strut 2500 up and 5590.17 along,
5000 lb pressing the inner bay, 36,000 lb in over the strut; inside 6250 at 25.0 in, second order 6383.28 at 24.11 in.
The strut and the spar do not stretch in the source; here they are stiff enough for its digits.
At 5 lb/in: 1577.6 with a pinned strut, 1627 (3 % high) where a strut without any bending stiffness is one element whose
ends are not released: its geometric stiffness alone clamps the spar. That is the pitfall; here it gives 1624.
Tolerance: the printed digits of the strut; 0.02 % of the moment inside, which is read between nodes. Elements: 12 in
the inner bay for that, 4 give it within 0.1 %.
"""

from __future__ import annotations

import numpy as np
import pytest
from frames import flat, frame
from numpy.testing import assert_allclose

from sparwright.maths.frame.along import along
from sparwright.maths.frame.record import Solved
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import Prepared, prepare

E, I = 1.3e6, 1 * 5.0**3 / 12
PINS = np.isin(np.arange(12), (3, 4, 5, 9, 10, 11))


def wing(count: int, w: float, second: bool, pinned: bool = True) -> tuple[Prepared, Solved, np.ndarray]:
    """(frame, forces, load): `count` elements to the strut, as many beyond, then the strut."""
    x = np.concatenate([np.linspace(0, 90, count + 1), np.linspace(90, 150, count + 1)[1:]])
    place = np.concatenate([np.stack([x, 0 * x, 0 * x], 1), [[0, 0, -45.0]]])
    foot = len(x)
    ends = [(i, i + 1) for i in range(2 * count)] + [(foot, count)]
    stiff = np.full(len(ends), 1e6)
    free = np.zeros((len(ends), 12), bool)
    free[-1] = PINS & pinned
    bending = np.where(np.arange(len(ends)) < 2 * count, I, 1e-6)
    held = flat(len(place), {0: (0, 2), foot: (0, 2)})
    f = frame(place, ends, held, youngs=E, about_y=bending, area=stiff, free=free)
    q = np.zeros((1, len(ends), 3))
    q[0, :-1, 2] = w
    p = prepare(f)
    return p, solve(p, np.zeros((1, len(place), 6)), second, spread=q), q[0]


def inside(count: int, w: float, second: bool, pinned: bool = True) -> tuple[float, float]:
    """Greatest moment of the inner bay and its place."""
    p, s, q = wing(count, w, second, pinned)
    at = np.linspace(0, 1, 41)
    moment = along(p, s, 0, at, second, q)[:count, :, 4]
    e, k = np.unravel_index(np.argmax(moment), moment.shape)
    return float(moment[e, k]), float(90 / count * (e + at[k]))


@pytest.mark.parametrize("second", [False, True])
def test_forces(second: bool) -> None:
    """The moments of second order change the strut's part in nothing: the hinge and the strut are statically found."""
    _, s, _ = wing(12, 20, second)
    assert_allclose(s.pull[0, -1], 5590.17, rtol=0, atol=0.3 if second else 0.005)
    assert_allclose(s.pull[0, :12], -5000, rtol=1e-4 if second else 1e-7)
    assert_allclose(s.force[0, 12, 4], 36000, rtol=1e-4 if second else 1e-7)
    assert_allclose(s.pull[0, 12:24], 0, rtol=0, atol=1e-3)


def test_first_order() -> None:
    moment, at = inside(12, 20, False)
    assert_allclose([moment, at], [6250, 25.0], rtol=0, atol=0.2)


def test_second_order() -> None:
    moment, at = inside(12, 20, True)
    assert_allclose(moment, 6383.28, rtol=2e-4)
    assert_allclose(at, 24.11, rtol=0, atol=0.2)
    assert_allclose(inside(4, 20, True)[0], 6383.28, rtol=1e-3)


def test_built_in_strut_is_the_pitfall() -> None:
    assert_allclose(inside(12, 5, True)[0], 1577.6, rtol=1e-3)
    assert_allclose(inside(12, 5, True, pinned=False)[0] / 1577.6, 1.03, rtol=0, atol=0.005)
