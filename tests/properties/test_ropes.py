"""Supports and ropes: the answer turns, mirrors and grows with the load; nothing is ever pushed by a rope."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from aloft import MODELS, Made, case, made
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from scipy.spatial.transform import Rotation

from sparwright.base.check import Step
from sparwright.loads.besides import FROM
from sparwright.loads.case import LoadCase
from sparwright.loads.ground_wind import from_side
from sparwright.loads.lay import laid_out
from sparwright.loads.supports import borne
from sparwright.loads.together import mirrored, resultant

SEEDS = st.integers(0, 2**31)


def some(seed: int, count: int) -> tuple[np.ndarray, ...]:
    """Supports, and a load that they can hold: that of pulls of some of them."""
    rng = np.random.default_rng(seed)
    place, way = rng.uniform(-3, 3, (count, 3)), rng.normal(size=(count, 3))
    way /= np.linalg.norm(way, axis=1)[:, None]
    pull = rng.uniform(0, 5000, count) * (rng.random(count) > 0.3)
    pull[0] += 100.0
    force = -(pull[:, None] * way).sum(0)
    return place, way, pull, force, -np.cross(place, pull[:, None] * way).sum(0)


@settings(max_examples=150, deadline=None)
@given(seed=SEEDS, count=st.integers(1, 12))
def test_whatever_can_be_held_is_held_with_no_more_than_need_be(seed: int, count: int) -> None:
    place, way, pull, force, moment = some(seed, count)
    found = borne(place, way, force, moment, "they")
    assert (found >= 0).all()
    assert_allclose((found[:, None] * way).sum(0), -force, atol=1e-6 * pull.sum())
    assert_allclose(np.cross(place, found[:, None] * way).sum(0), -moment, atol=1e-5 * pull.sum())
    assert found @ found <= pull @ pull * (1 + 1e-6)


@settings(max_examples=60, deadline=None)
@given(seed=SEEDS, count=st.integers(1, 10), factor=st.floats(0.01, 100))
def test_turned_moved_mirrored_and_grown(seed: int, count: int, factor: float) -> None:
    place, way, pull, force, moment = some(seed, count)
    found = borne(place, way, force, moment, "they")
    near = {"rtol": 1e-5, "atol": 1e-5 * float(pull.max())}
    turn = Rotation.random(random_state=seed % 2**31).as_matrix()
    assert_allclose(borne(place @ turn.T, way @ turn.T, turn @ force, turn @ moment, "they"), found, **near)
    flip = np.array([1.0, -1.0, 1.0])
    assert_allclose(borne(place * flip, way * flip, force * flip, -moment * flip, "they"), found, **near)
    off = np.array([2.0, -1.0, 0.5])
    assert_allclose(borne(place + off, way, force, moment + np.cross(off, force), "they"), found, **near)
    grown = borne(place, way, factor * force, factor * moment, "they")
    assert_allclose(grown, factor * found, rtol=1e-5, atol=1e-5 * factor * float(pull.max()))


def tied(of: Made, off: float, speed: float) -> LoadCase:
    c = case(of, "ground.tied.side", "ground", 1.0, speed)
    return replace(c, steps=(Step(FROM, "", (), off, "rad"),))


@pytest.mark.parametrize("name", MODELS)
def test_wind_from_the_left_mirrors_that_from_the_right(name: str) -> None:
    of = made(name)
    right, left = (laid_out(tied(of, k * math.pi / 2, 25.0), of[0]) for k in (1, -1))
    assert not right.outside

    def heap(p: object) -> list[tuple[object, ...]]:
        rows = zip(p.on, p.place.round(6), p.force.round(2), strict=True)  # type: ignore[attr-defined]
        return sorted((n, *map(float, at + 0.0), *map(float, f + 0.0)) for n, at, f in rows)

    for a, b in zip(heap(right.pushes), heap(mirrored(left.pushes)), strict=True):
        assert a[0] == b[0]
        assert_allclose(a[1:], b[1:], atol=0.05)  # N; rounded rows


@pytest.mark.parametrize("name", MODELS)
def test_twice_the_wind_drags_four_times(name: str) -> None:
    of = made(name)
    one, two = (resultant(from_side(of[0], tied(of, math.pi / 2, v), False).pushes) for v in (10.0, 20.0))
    for a, b in zip(one, two, strict=True):
        assert_allclose(b, 4 * a, rtol=1e-12)
