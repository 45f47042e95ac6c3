"""A sitting person grown, moved and turned: everything follows; bigger people see from higher and reach farther."""

from __future__ import annotations

import math
from dataclasses import fields, replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.data.occupant import Body, bodies
from sparwright.occupant.person import Links, links
from sparwright.occupant.sit import Cushions, leg, reach_of_leg, sit

WHO = links(bodies()["male_50"])
ANGLES = st.floats(0.0, 0.8)
POINTS = ("seat", "hip", "neck", "shoulder", "eye", "head", "top")


def grown(body: Body, k: float) -> Body:
    lengths = {f.name: k * getattr(body, f.name) for f in fields(body) if f.name not in ("key", "mass")}
    return replace(body, **lengths)


@given(k=st.floats(0.5, 2.0), back=ANGLES, pan=st.floats(0.0, 0.5))
def test_twice_the_body_twice_the_places(k: float, back: float, pan: float) -> None:
    small, big = (sit(links(b), (0.0, 0.0), back, pan) for b in (bodies()["male_50"], grown(bodies()["male_50"], k)))
    for name in POINTS:
        a, b = getattr(small, name), getattr(big, name)
        assert_allclose(b, (k * a[0], k * a[1]), rtol=1e-9, atol=1e-12)


@given(dx=st.floats(-2, 2), dz=st.floats(-2, 2), back=ANGLES)
def test_a_moved_seat_moves_everything(dx: float, dz: float, back: float) -> None:
    a, b = sit(WHO, (0.0, 0.0), back, 0.1), sit(WHO, (dx, dz), back, 0.1)
    for name in POINTS:
        x, z = getattr(a, name)
        assert_allclose(getattr(b, name), (x + dx, z + dz), rtol=0, atol=1e-12)


@given(back=ANGLES, pan=st.floats(0.0, 0.5), under=st.floats(0.0, 0.1), behind=st.floats(0.0, 0.1))
def test_cushions_are_as_thick_as_said(back: float, pan: float, under: float, behind: float) -> None:
    """Square to pan and back, and the eye goes with the seat."""
    a, b = (sit(WHO, (0.0, 0.0), back, pan, c) for c in (Cushions(), Cushions(under, behind)))
    dx, dz = b.seat
    assert_allclose(dx * math.sin(pan) + dz * math.cos(pan), under, rtol=0, atol=1e-12)
    assert_allclose(-dx * math.cos(back) + dz * math.sin(back), behind, rtol=0, atol=1e-12)
    assert_allclose((b.eye[0] - a.eye[0], b.eye[1] - a.eye[1]), (dx, dz), rtol=0, atol=1e-12)


@given(x=st.floats(-0.85, -0.55), z=st.floats(-0.3, 0.1), shoe=st.floats(0.0, 0.05), q=st.floats(0.0, 0.4))
def test_a_leg_keeps_its_lengths(x: float, z: float, shoe: float, q: float) -> None:
    of = leg(WHO, (0.0, 0.0), (x, z), shoe, q)
    assert_allclose(math.dist((0.0, 0.0), of.knee), WHO.thigh, rtol=1e-9)
    assert_allclose(math.dist(of.knee, of.ankle), WHO.shank, rtol=1e-9)
    assert_allclose(math.dist(of.ankle, of.ball), math.hypot(WHO.ball, WHO.ankle + shoe), rtol=1e-9)
    assert_allclose(math.dist(of.heel, of.ball), WHO.ball + WHO.heel, rtol=1e-9)
    thigh, shin = ((a[0] - of.knee[0], a[1] - of.knee[1]) for a in ((0.0, 0.0), of.ankle))
    cosine = (thigh[0] * shin[0] + thigh[1] * shin[1]) / (WHO.thigh * WHO.shank)
    assert_allclose(math.cos(of.angle), cosine, rtol=0, atol=1e-9)
    assert of.knee[1] > z * of.knee[0] / x  # above the line from hip to pedal


@given(straight=st.floats(1.2, 2.8), q=st.floats(0.0, 0.4))
def test_reach_and_knee_are_each_other_turned_round(straight: float, q: float) -> None:
    far = reach_of_leg(WHO, 0.025, q, straight)
    assert_allclose(leg(WHO, (0.0, 0.0), (-far, 0.0), 0.025, q).angle, straight, rtol=0, atol=1e-6)


@pytest.mark.parametrize("sex", ["female", "male"])
def test_bigger_people_see_from_higher_and_reach_farther(sex: str) -> None:
    people: list[Links] = [links(bodies()[f"{sex}_{p}"]) for p in (5, 50, 95)]
    for a, b in pairwise(people):
        assert sit(b, (0.0, 0.0), 0.26, 0.14).eye[1] > sit(a, (0.0, 0.0), 0.26, 0.14).eye[1] + 0.04
        assert sit(b, (0.0, 0.0), 0.26, 0.14).top[1] > sit(a, (0.0, 0.0), 0.26, 0.14).top[1] + 0.04
        assert b.arm > a.arm and reach_of_leg(b, 0.025, 0.2, 2.8) > reach_of_leg(a, 0.025, 0.2, 2.8)
