"""What supports bear: statics where it settles all, alike where it does not, and what cannot hold says so."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.loads.supports import borne

UP = np.array([0.0, 0.0, 1.0])
THREE = np.array([[0.0, 1.0, 0.0], [0.0, -1.0, 0.0], [4.0, 0.0, 0.0]])


def at(place: tuple[float, float, float], force: np.ndarray) -> np.ndarray:
    return np.cross(np.array(place), force)


def test_three_feet_by_moments() -> None:
    """The weight of 100 N a metre behind the two in front: a quarter on the one behind."""
    weight = -100.0 * UP
    found = borne(THREE, np.tile(UP, (3, 1)), weight, at((1.0, 0.25, 0.5), weight), "feet")
    assert_allclose(found, [50.0, 25.0, 25.0], rtol=1e-9)


def test_more_feet_than_statics_settles_bear_alike() -> None:
    """Four of a square: a quarter each in the middle; off it, plane by plane, as equal springs give."""
    square = np.array([[x, y, 0.0] for x in (-1.0, 1.0) for y in (-1.0, 1.0)])
    weight = -100.0 * UP
    assert_allclose(borne(square, np.tile(UP, (4, 1)), weight, np.zeros(3), "feet"), 25.0, rtol=1e-9)
    found = borne(square, np.tile(UP, (4, 1)), weight, at((0.5, 0.0, 0.0), weight), "feet")
    assert_allclose(found, [12.5, 12.5, 37.5, 37.5], rtol=1e-9)


def test_a_rope_that_would_be_pushed_bears_nothing() -> None:
    """Lift at the front: the rope in front pulls all of it, the foot under it bears nothing."""
    place, way = np.vstack([THREE, THREE]), np.vstack([np.tile(UP, (3, 1)), np.tile(-UP, (3, 1))])
    lift = 60.0 * UP
    found = borne(place, way, lift, np.zeros(3), "feet and ropes")
    assert_allclose(found, [0, 0, 0, 30, 30, 0], atol=1e-9)


@pytest.mark.parametrize(
    "where, force, says",
    [
        ((-1.0, 0.0, 0.0), -100.0 * UP, "feet cannot hold it: at best"),
        ((1.0, 0.0, 0.0), 100.0 * UP, "100 N and"),
        ((1.0, 0.0, 0.0), np.array([50.0, 0, 0]), "50 N and 0 N m"),
    ],
)
def test_what_cannot_hold_says_what_is_left(where: tuple[float, float, float], force: np.ndarray, says: str) -> None:
    """A weight outside the feet, a lift, a push along the ground."""
    with pytest.raises(ValueError, match=says):
        borne(THREE, np.tile(UP, (3, 1)), force, at(where, force), "feet")


def test_nothing_asks_for_nothing() -> None:
    assert borne(THREE, np.tile(UP, (3, 1)), np.zeros(3), np.zeros(3), "feet").tolist() == [0, 0, 0]
