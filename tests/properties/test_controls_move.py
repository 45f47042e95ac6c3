"""What must hold of any controls: mirrored alike, still in neutral, work in is work out, parallelograms never bind."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose
from steered import steered

from sparwright.controls.chain import moving
from sparwright.controls.motion import Motion, pull
from sparwright.family.controls import ControlCable
from sparwright.parts.control_runs import Hole, Layout, Lever, Link
from sparwright.parts.linkage import Locks, ends, run_of, slope, stand, swing
from sparwright.shape.cable import way, wheel_in

Y = np.array([0.0, 1.0, 0.0])


def motions() -> dict[str, Motion]:
    model = steered()
    assert model.controls is not None
    return {m.name: m for m in moving(model, model.controls)[1]}


def test_nothing_moves_in_neutral() -> None:
    for motion in motions().values():
        assert set(motion.stances[motion.neutral].angles.values()) == {0.0}
        rest = stand(motion.run, motion.lever, 0.0)
        assert_allclose(list(rest.angles.values()), 0.0, rtol=0, atol=1e-12)


def test_left_rudder_is_the_mirror_of_right() -> None:
    motion = motions()["rudder"]
    for left, right in zip(swing(motion.run, "rudder", 0.4, 5), swing(motion.run, "rudder", -0.4, 5), strict=True):
        assert_allclose(left.angles["pedal-L"], right.angles["pedal-R"], rtol=0, atol=1e-10)
        assert_allclose(left.angles["pedal-R"], right.angles["pedal-L"], rtol=0, atol=1e-10)


@pytest.mark.parametrize("name", ["elevator", "rudder"])
def test_the_hands_force_by_levers_is_that_of_the_work(name: str) -> None:
    """Forces from lever to lever, each rod along its line, against the slope of the angles: two independent ways."""
    motion = motions()[name]
    for stance in motion.stances[1:-1:3]:
        torque, lever = 1.0, motion.surface
        todo = [k for k in motion.run.links if not k.hand or f"pedal-{k.hand}" == motion.lever]
        while lever != motion.lever:
            link = next(k for k in todo if lever in k.levers)
            todo.remove(link)
            points = ends(motion.run, link, stance.angles)
            i = link.levers.index(lever)
            straights = link.way(points).straights
            line = straights[0] if i == 0 else straights[-1][::-1]
            along = (line[1] - line[0]) / np.linalg.norm(line[1] - line[0])
            arm = np.cross(points[i] - motion.run.levers[lever].pivot, along) @ motion.run.levers[lever].axis
            force = torque / arm
            lever = link.levers[1 - i]
            line = straights[-1][::-1] if i == 0 else straights[0]
            along = (line[1] - line[0]) / np.linalg.norm(line[1] - line[0])
            other = np.cross(points[1 - i] - motion.run.levers[lever].pivot, along) @ motion.run.levers[lever].axis
            torque = force * other
        ratio = slope(motion.run, motion.lever, stance, motion.surface)
        assert_allclose(abs(torque), abs(ratio), rtol=1e-6)
        assert_allclose(abs(ratio) / motion.arm, motion.gearing[motion.stances.index(stance)], rtol=1e-6)


def test_a_cables_pull_is_that_of_the_pedals_lever() -> None:
    """F times the foot's arm is T times the cable's arm."""
    motion = motions()["rudder"]
    link = next(k for k in motion.run.links if k.key == "rudder-R")
    for stance in motion.stances:
        points = ends(motion.run, link, stance.angles)
        line = link.way(points).straights[0]
        along = (line[1] - line[0]) / np.linalg.norm(line[1] - line[0])
        lever = motion.run.levers["pedal-R"]
        arm = abs(np.cross(points[0] - lever.pivot, along) @ lever.axis)
        assert_allclose(pull(motion, link, stance), motion.arm / arm, rtol=1e-6)


def loop(short: float) -> Layout:
    """Two levers with arms of 80 mm and one of `short`, joined by two cables above and below."""
    cable = ControlCable(name="c", ends=("a.b", "c.d"), diameter=0.003, tension=200.0, turnbuckle=0.5)
    links = []
    for name, side in (("up", 1.0), ("down", -1.0)):
        a, b = np.array([0.0, 0.0, side * 0.08]), np.array([2.0, 0.0, side * short])
        links.append(Link(name, "", cable, (Hole("a", a, Y, 0.0), Hole("b", b, Y, 0.0)), np.array([a, b])))
    levers = {"a": Lever("a", np.zeros(3), Y), "b": Lever("b", np.array([2.0, 0.0, 0.0]), Y)}
    return Layout(levers, tuple(links))


@given(st.floats(-0.9, 0.9))
@settings(max_examples=20, deadline=None)
def test_a_parallelogram_of_cables_keeps_its_length(angle: float) -> None:
    run = run_of(loop(0.08), "a")
    assert run.loop
    at = swing(run, "a", angle)[-1]
    assert_allclose(at.angles["b"], angle, rtol=0, atol=1e-9)
    assert abs(at.strain) < 1e-12


@given(st.floats(0.2, 0.8))
@settings(max_examples=20, deadline=None)
def test_arms_that_differ_want_another_length_the_same_both_ways(angle: float) -> None:
    run = run_of(loop(0.06), "a")
    one, other = (swing(run, "a", a)[-1] for a in (angle, -angle))
    assert abs(one.strain) > 1e-9
    assert_allclose(one.strain, other.strain, rtol=1e-6)
    assert_allclose(one.angles["b"], -other.angles["b"], rtol=1e-6)


def test_a_lever_past_its_dead_centre_locks() -> None:
    motion = motions()["elevator"]
    with pytest.raises(Locks, match="locks with elevator at 149 deg"):
        stand(motion.run, "elevator", 2.6)
    short = swing(motion.run, "elevator", 2.6)[-1].angles["elevator"]
    assert motion.ends[0].travel < short < 2.6


@given(st.lists(st.floats(-1, 1), min_size=3, max_size=3), st.floats(0.05, 0.4))
@settings(max_examples=30, deadline=None)
def test_a_cable_is_as_long_from_the_other_end_and_anywhere(shift: list[float], radius: float) -> None:
    move = np.array(shift)
    points = [np.array(p, dtype=float) for p in ([0, 0, 0], [3, 0.5, 0], [6, 2, 1], [9, 2, 3])]
    wheels = [wheel_in(points[0], points[1], points[2], radius), wheel_in(points[1], points[2], points[3], radius)]
    there = way(points[0], wheels, points[3])
    back = way(points[3], [replace(w, normal=-w.normal) for w in reversed(wheels)], points[0])
    moved = way(points[0] + move, [replace(w, centre=w.centre + move) for w in wheels], points[3] + move)
    assert_allclose([back.length, moved.length], there.length, rtol=1e-11)
    assert all(w > 0 for w in there.wraps)
