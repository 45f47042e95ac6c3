"""Rods between levers against Freudenstein's equation, cables over pulleys against the belt's closed form.

Freudenstein, Approximate Synthesis of Four-Bar Linkages, Trans. ASME 77 (1955), equation of the four-bar linkage (from
memory):

    K1 cos(t4) - K2 cos(t2) + K3 = cos(t2 - t4),  K1 = d/a, K2 = d/c, K3 = (a2 - b2 + c2 + d2)/(2 a c)

for a crank a at t2, coupler b, follower c at t4, ground d. Norton, Design of Machinery, example 4-1 (from memory):
a 40, b 120, c 80, d 100 mm, t2 40 deg gives t4 57.33 deg.

A collection of geometry problems (solve.club, read): a belt round wheels of radius 6 and 1, 13 apart, is
24 + 12 pi - 10 arctan(12/5) = 49.93905977212752 long.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.family.controls import Rod
from sparwright.family.stock import RoundTube
from sparwright.parts.control_runs import Hole, Lever, Link
from sparwright.parts.linkage import Run, swing
from sparwright.shape.cable import Wheel, way, wheel_in

Z = np.array([0.0, 0.0, 1.0])
ROD = Rod(name="rod", ends=("a", "b"), tube=RoundTube(material="4130N", outside=0.01, wall=0.001))


def four_bar(a: float, b: float, c: float, d: float, start: float) -> tuple[Run, float]:
    """(crank and follower with a rod, standing with the crank at an angle; the follower's angle there), by circles."""
    crank = a * np.array([math.cos(start), math.sin(start)])
    across = np.array([d, 0.0]) - crank
    far = float(np.linalg.norm(across))
    along = (b**2 - c**2 + far**2) / (2 * far)
    up = math.sqrt(b**2 - along**2)
    unit = across / far
    joint = crank + along * unit + up * np.array([-unit[1], unit[0]])
    ends = np.array([[*crank, 0.0], [*joint, 0.0]])
    levers = {"crank": Lever("crank", np.zeros(3), Z), "follower": Lever("follower", np.array([d, 0.0, 0.0]), Z)}
    holes = (Hole("crank", ends[0], Z, 0.0), Hole("follower", ends[1], Z, 0.0))
    link = Link("rod", "", ROD, holes, ends)
    return Run(levers, (link,), (b,)), math.atan2(joint[1], joint[0] - d)


def test_the_textbooks_linkage() -> None:
    """Printed to a hundredth of a degree; turned there from 80 deg by our own steps."""
    run, follower = four_bar(40.0, 120.0, 80.0, 100.0, math.radians(80))
    at = swing(run, "crank", math.radians(-40))[-1]
    assert_allclose(math.degrees(follower + at.angles["follower"]), 57.33, rtol=0, atol=0.006)


@pytest.mark.parametrize(("a", "b", "c", "d"), [(40, 120, 80, 100), (55, 400, 60, 410), (30, 95, 70, 90)])
def test_freudensteins_equation_through_a_travel(a: float, b: float, c: float, d: float) -> None:
    start = math.radians(70)
    run, follower = four_bar(a, b, c, d, start)
    k1, k2, k3 = d / a, d / c, (a * a - b * b + c * c + d * d) / (2 * a * c)
    for stance in swing(run, "crank", math.radians(25), 10) + swing(run, "crank", math.radians(-25), 10):
        t2, t4 = start + stance.angles["crank"], follower + stance.angles["follower"]
        assert_allclose(k1 * math.cos(t4) - k2 * math.cos(t2) + k3, math.cos(t2 - t4), rtol=0, atol=1e-9)


def belt(large: float, small: float, apart: float) -> float:
    """Length of a belt round two wheels, as twice a cable from the far side of one to that of the other."""
    first = Wheel(np.zeros(3), Z, large)
    second = Wheel(np.array([apart, 0.0, 0.0]), Z, small)
    start, end = np.array([-large, 1e3, 0.0]), np.array([apart + small, 1e3, 0.0])
    half = way(start, (first, second), end)
    return 2 * (half.length - 2e3)


def test_a_belt_round_two_wheels() -> None:
    """All printed digits but the last two: the ends are brought in by upright straights, 1000 long each."""
    assert_allclose(24 + 12 * math.pi - 10 * math.atan(12 / 5), 49.93905977212752, rtol=1e-13)
    assert_allclose(belt(6.0, 1.0, 13.0), 49.93905977212752, rtol=0, atol=1e-9)


def test_a_cable_round_a_corner() -> None:
    """Geometry: the two tangents are r tan(b/2) shorter than to the corner, the arc r b, for a turn b."""
    for turn in (0.2, 1.0, 2.2):
        before, corner = np.array([-3.0, 0.0, 0.0]), np.zeros(3)
        after = 4.0 * np.array([math.cos(turn), math.sin(turn) * 0.6, math.sin(turn) * 0.8])
        wheel = wheel_in(before, corner, after, 0.5)
        found = way(before, (wheel,), after)
        assert_allclose(found.wraps, [turn], rtol=1e-12)
        assert_allclose(found.length, 7.0 - 2 * 0.5 * math.tan(turn / 2) + 0.5 * turn, rtol=1e-12)
        assert_allclose(found.askew, [0.0], rtol=0, atol=1e-12)
        assert found.straights[0].shape == (2, 3)
