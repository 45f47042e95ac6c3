"""Laws of weights ahead of hinges and of play: on the hinge nothing counts, mass and play count in proportion."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
from balances import slugs, tailed, winged
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from steered import steered

from sparwright.controls.chain import moving
from sparwright.controls.motion import Motion
from sparwright.controls.play import free_play
from sparwright.family.play import ControlPlay
from sparwright.mass.hinged import arms, balance_of
from sparwright.parts.part import Part
from sparwright.parts.travel import Turning, movable

PLAY = st.floats(0, 1e-3)


def _moment(t: Turning, parts: list[Part]) -> float:
    return balance_of(arms(t, parts), None)[0].value


def _elevator() -> Turning:
    return next(m for m in movable(tailed()) if m.name == "elevator")


@given(st.floats(0.01, 50.0), st.floats(-0.5, 0.5))
def test_a_weight_on_the_hinge_line_changes_nothing_of_the_moment(mass: float, along: float) -> None:
    t = _elevator()
    place = tuple(float(x) for x in t.place + along * t.along)
    (one, *_) = slugs(tailed())
    before = _moment(t, slugs(tailed()))
    on = replace(one, places=(place,), mass=mass)  # type: ignore[arg-type]
    assert_allclose(_moment(t, [*slugs(tailed()), on]), before, atol=1e-12 * (1 + mass))


@given(st.floats(0.1, 10.0))
def test_the_moment_is_as_the_mass(scale: float) -> None:
    for model in (tailed(), winged()):
        for t in movable(model):
            lighter = slugs(model)
            heavier = [replace(p, mass=p.mass * scale) for p in lighter]
            assert_allclose(_moment(t, heavier), scale * _moment(t, lighter), rtol=1e-12)
            assert _moment(t, lighter) <= 0.0


def test_longer_slugs_and_longer_arms_move_it_in_proportion() -> None:
    base = _moment(_elevator(), slugs(tailed()))
    assert_allclose(
        _moment(_elevator(), slugs(tailed(6.0, 1.0))), base / 2, rtol=1e-3
    )  # its middle lies nearer the arm
    assert_allclose(_moment(_elevator(), slugs(tailed(3.0))), base / 2, rtol=1e-3)


def test_right_and_left_are_mirrors() -> None:
    for model in (tailed(), winged()):
        by = {p.number: p for p in slugs(model)}
        pairs = [(p, by[n[:-1] + "L"]) for n, p in by.items() if n.endswith("-R")]
        assert pairs
        for right, left in pairs:
            assert_allclose(np.array(right.places[0]) * (1, -1, 1), left.places[0], atol=1e-12)
            assert right.mass == left.mass


@cache
def _motions() -> tuple[Motion, ...]:
    model = steered()
    assert model.controls is not None
    return moving(model, model.controls)[1]


@given(PLAY, PLAY, PLAY, st.floats(0, 5))
def test_free_play_is_as_each_play_and_their_sum(rod: float, pivot: float, hinge: float, scale: float) -> None:
    for motion in _motions():
        whole = free_play(motion, ControlPlay(rod_end=rod, pivot=pivot, hinge=hinge)).angle
        each = [free_play(motion, ControlPlay(rod_end=rod * a, pivot=pivot * b, hinge=hinge * c)).angle
                for a, b, c in np.eye(3)]  # fmt: skip
        assert_allclose(whole, sum(each), rtol=1e-9, atol=1e-15)
        more = free_play(motion, ControlPlay(rod_end=scale * rod, pivot=scale * pivot, hinge=scale * hinge)).angle
        assert_allclose(more, scale * whole, rtol=1e-9, atol=1e-15)


def test_a_surface_that_rods_hold_has_play_and_one_that_taut_cables_hold_has_none() -> None:
    play = ControlPlay(rod_end=1e-4, pivot=1e-4, hinge=1e-4)
    found = {m.name: free_play(m, play) for m in _motions()}
    assert found["elevator"].angle > 0
    assert found["rudder"].angle == 0.0
