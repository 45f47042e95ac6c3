"""Weights ahead of hinges by hand: mass of a round block, its moment about the hinge line.

Source: statics; density of lead 11.34 g/cm3 (crc-handbook, memory, high). Mass is exact but for the density; moments to
1e-9 of a metre times a kilogram, the rounding of sums.
"""

from __future__ import annotations

import math

import pytest
from balances import slugs, tailed, winged
from numpy.testing import assert_allclose

from sparwright.mass.hinged import arms, balance_of
from sparwright.parts.aileron import ailerons
from sparwright.parts.aileron_fittings import hinge_axes
from sparwright.parts.balance import balance_joints, balance_parts
from sparwright.parts.part import Assembly
from sparwright.parts.travel import movable

INCH, LEAD = 0.0254, 11340.0


def test_a_slug_weighs_what_a_round_block_with_a_hole_weighs() -> None:
    by_hand = math.pi / 4 * ((1.5 * INCH) ** 2 - (0.19 * INCH) ** 2) * 2 * INCH * LEAD
    assert_allclose([p.mass for p in slugs(tailed())], by_hand, rtol=1e-12)


@pytest.mark.parametrize("ahead", [4.0, 6.0])
def test_moment_about_the_elevators_hinge(ahead: float) -> None:
    """m times ahead on both sides; the slug's line is square to the arm and the hinge straight across."""
    t = next(m for m in movable(tailed(ahead)) if m.name == "elevator")
    found = arms(t, slugs(tailed(ahead)))
    moment, _ = balance_of(found, None)
    by_hand = -2 * slugs(tailed(ahead))[0].mass * ahead * INCH
    assert_allclose(moment.value, by_hand, atol=1e-4 * abs(by_hand))  # a hinge line true to 0.4 mm at the tip


def test_moment_about_the_ailerons_hinge() -> None:
    """Of the right one, level: the wing set at i, 5 in ahead and 4-1/2 in below lie 5 cos i + 4-1/2 sin i ahead."""
    t = next(m for m in movable(winged()) if m.right)
    aft = hinge_axes(ailerons(winged())[0]).aft
    i = math.atan2(-aft[2], aft[0])
    by_hand = -slugs(winged())[0].mass * (5 * math.cos(i) + 4.5 * math.sin(i)) * INCH
    found = balance_of(arms(t, slugs(winged())), None)[0].value
    assert_allclose(found, by_hand, rtol=1e-4)  # the hinge line leans by as much


def test_the_slug_hangs_where_the_file_says() -> None:
    (h,) = ailerons(winged())
    axes = hinge_axes(h)
    (right,) = [p for p in slugs(winged()) if p.hand == "R"]
    off = right.places[0] - axes.at(147 * INCH)
    out = (0.09 / 2 + 2 / 2) * INCH
    assert_allclose([off @ axes.aft, off @ axes.over, off @ axes.along], [-5 * INCH, -4.5 * INCH, out], atol=1e-9)


@pytest.mark.parametrize("model", [tailed, winged])
def test_every_part_of_it_is_held(model: object) -> None:
    parts, joints = tuple(balance_parts(model())), tuple(balance_joints(model()))  # type: ignore[operator]
    made = Assembly(model="P1", parts=parts, joints=joints)
    held = {n for j in made.joints for n in j.parts}
    assert {p.number for p in made.parts} <= held
    assert all(j.bolt is None or j.bolt.dash != "unknown" for j in made.joints)
