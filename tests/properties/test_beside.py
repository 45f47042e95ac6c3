"""Boxes along bodies themselves: their floor is never over the gap, and what is near is never left out."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.base.record import locked
from sparwright.parts.beside import boxes
from sparwright.parts.solids import exact
from sparwright.shape.solid import Solid, block, cylinder, turning

places = st.tuples(*(st.floats(-0.6, 0.6),) * 3)
sizes = st.tuples(*(st.floats(0.01, 0.8),) * 3)
angles = st.tuples(*(st.floats(-3.0, 3.0),) * 3)
bodies = st.tuples(places, sizes, angles)


def body(made: tuple[tuple[float, ...], tuple[float, ...], tuple[float, ...]]) -> Solid:
    """A block turned about three axes, put somewhere."""
    place, size, angle = made
    plain = block((0.0, 0.0, 0.0), size)
    turn = np.linalg.multi_dot([turning(np.eye(3)[i], a) for i, a in enumerate(angle)])
    return Solid(locked(plain.points @ turn.T + np.array(place)), plain.faces)


@settings(max_examples=150, deadline=None)
@given(bodies, st.lists(bodies, min_size=1, max_size=4), st.floats(0.0, 0.4))
def test_the_floor_is_no_higher_than_the_gap_and_all_within_reach_are_there(one, others, reach) -> None:  # type: ignore[no-untyped-def]
    mine, theirs = body(one), [body(o) for o in others]
    found = dict(boxes(theirs).near(mine, reach))
    assert list(found.values()) == sorted(found.values())
    for i, other in enumerate(theirs):
        gap = exact(mine).min_gap(exact(other), 3.0)
        if i in found:
            assert found[i] <= gap + 1e-9
        else:
            assert gap > reach - 1e-9


def test_two_rods_that_pass_askew_are_told_apart() -> None:
    """Their boxes along the aeroplane's axes overlap wholly; along their own they are 0.1 m apart."""
    one = cylinder((0.0, 0.0, 0.0), (1.0, 1.0, 0.0), 0.005, 2.0)
    away = np.array([1.0, -1.0, 0.0]) / np.sqrt(2) * 0.11
    other = cylinder(tuple(away), (1.0, 1.0, 0.0), 0.005, 2.0)
    assert boxes([other]).near(one, 0.05) == []
    ((_, floor),) = boxes([other]).near(one, 0.2)
    assert_allclose(floor, 0.1, atol=2e-4)
    assert boxes([other]).near(one, 0.2, np.array([False])) == []


def test_the_box_along_itself_is_that_of_a_block() -> None:
    size, place = np.array([0.3, 0.1, 0.05]), np.array([1.0, 2.0, 3.0])
    turned = body((tuple(place), tuple(size), (0.4, -0.7, 1.1)))
    box = turned.long_box
    assert_allclose(np.sort(2 * box.half), np.sort(size), rtol=1e-9)
    assert_allclose(box.centre, place, atol=1e-12)
    assert_allclose(box.axes @ box.axes.T, np.eye(3), atol=1e-12)
