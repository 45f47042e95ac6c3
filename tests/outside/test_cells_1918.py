"""Two wings together, measured in the tunnels of 1912 to 1916, against the lattice turned into the stream.

Sources: J. C. Hunsaker, M.I.T., Aviation and Aeronautical Engineering, 1 November 1916, R.A.F. 6, aspect ratio 6 each,
gap 1.2 chords, no stagger; N.P.L. factors on "an old type of wing", aspect ratio 6; both as printed in J. B. Rathbun,
Aeroplane Construction and Operation (1918) ch. VII. Section: see sections_like.py.

What misses. The upper wing carries 0.55 in normal flight, 0.62 at 0 deg and 0.54 at 12 deg as printed; here 0.51, 0.49
and 0.53. The lattice agrees with exact two-dimensional potential flow about two thick cambered sections within 0.005
(test_two_bodies.py), so what is left is not potential flow about these shapes: Re 70 000, wires, or the setting. One
degree more on the upper wing gives 0.59, 0.55 and 0.55, a tenth of a degree 0.01 at 0 deg. Of three wings the
middle one carries 0.22 as printed and 0.31 here. Gap 0.8 misses by 0.03 on the high side; stagger gives half of what
was measured.

Sources: hunsaker-1916, rathbun-1918.
"""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

import numpy as np
import pytest
from air_wings import rectangle
from numpy.testing import assert_allclose
from sections_like import LIKE_RAF_6

from sparwright.air.turned import Company, turned

ANGLES = np.radians([0.0, 2.0, 4.0, 8.0, 12.0]).tolist()


@lru_cache
def cell(gap: float = 1.2, stagger: float = 0.0, aspect: float = 6.0) -> Company:
    """Upper wing `stagger` chords ahead; each at no angle to the thrust line."""
    lower = rectangle("lower", aspect, section="raf")
    return turned((lower, rectangle("upper", aspect, x=-stagger, z=gap, section="raf")), *LIKE_RAF_6, ANGLES)


@lru_cache
def alone(aspect: float = 6.0) -> Company:
    return turned((rectangle("wing", aspect, section="raf"),), *LIKE_RAF_6, ANGLES)


@pytest.mark.parametrize(("degrees", "measured"), [(2, 0.838), (4, 0.854), (8, 0.852)])
def test_lift_of_two_wings_against_one(degrees: int, measured: float) -> None:
    """0.03: the scatter between M.I.T. 0.85 and N.P.L. 0.86 and from angle to angle."""
    alpha = np.radians(degrees)
    assert_allclose(cell().state(alpha).lift / alone().state(alpha).lift, measured, rtol=0, atol=0.03)


@pytest.mark.parametrize(
    ("gap", "measured", "off"), [(0.8, 0.77, 0.035), (1.0, 0.82, 0.02), (1.2, 0.86, 0.02), (1.6, 0.89, 0.02)]
)
def test_lift_against_gap(gap: float, measured: float, off: float) -> None:
    """N.P.L. printed to 0.01 for "normal angles"; at gap 0.8 the miss is 0.03 and told so."""
    alpha = np.radians(4.0)
    assert_allclose(cell(gap).state(alpha).lift / alone().state(alpha).lift, measured, rtol=0, atol=off)


@pytest.mark.parametrize(("degrees", "printed", "off"), [(4, 0.55, 0.05), (8, 0.55, 0.05), (12, 0.54, 0.03)])
def test_upper_wing_carries_more_in_normal_flight(degrees: int, printed: float, off: float) -> None:
    share = cell().state(np.radians(degrees)).wing_share["upper"]
    assert 0.5 < share
    assert_allclose(share, printed, rtol=0, atol=off)


def test_share_of_the_upper_wing_grows_with_the_angle() -> None:
    shares = [cell().state(a).wing_share["upper"] for a in ANGLES]
    assert np.all(np.diff(shares) > 0)


def test_more_angle_on_the_upper_wing_moves_lift_up() -> None:
    """Decalage of 2.5 deg. The printed test, with half a chord of stagger, tells of more lift too, +3 %."""
    lower, upper = rectangle("lower", 6, section="raf"), rectangle("upper", 6, z=1.2, section="raf")
    set_up = replace(upper, angle=np.full(2, np.radians(2.5)))
    company = turned((lower, set_up), *LIKE_RAF_6, ANGLES)
    for alpha in ANGLES[1:]:
        level, more = cell().state(alpha), company.state(alpha)
        assert 0.05 < more.wing_share["upper"] - level.wing_share["upper"] < 0.16
        assert more.lift > 1.03 * level.lift


def test_three_wings_against_one() -> None:
    """At 4 deg, gap 1.2: lift 0.757 of the single wing's, M.I.T.; 0.03 as for two wings. Shares in printed order."""
    wings = [rectangle(name, 6, z=1.2 * i, section="raf") for i, name in enumerate(("lower", "middle", "upper"))]
    state = turned(tuple(wings), *LIKE_RAF_6, ANGLES).state(ANGLES[2])
    assert_allclose(state.lift / alone().state(ANGLES[2]).lift, 0.757, rtol=0, atol=0.03)
    share = state.wing_share
    assert share["upper"] > share["lower"] > share["middle"]


def test_forward_stagger_lifts_more() -> None:
    """N.P.L., 0.4 chord at gap 1.0: printed +5 to +6 %; the lattice gives +2.5 %, the right way and half as much."""
    more = [cell(1.0, 0.4, 4.0).state(a).lift / cell(1.0, 0.0, 4.0).state(a).lift for a in ANGLES[1:4]]
    assert np.all(np.array(more) > 1.015) and np.all(np.array(more) < 1.06)
    back = [cell(1.0, -0.4, 4.0).state(a).lift / cell(1.0, 0.0, 4.0).state(a).lift for a in ANGLES[1:4]]
    assert np.all(np.array(back) < 1.0)
