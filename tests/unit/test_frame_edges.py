"""Edges of the frame solver: mechanisms, loads that nothing holds, wrong input, wires that go round."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from frames import ALL, BALL, PIN, braced, even, flat, frame, line, point
from numpy.testing import assert_allclose

from sparwright.maths.frame.buckling import buckling
from sparwright.maths.frame.modes import modes
from sparwright.maths.frame.solve import solve, standing
from sparwright.maths.frame.stiff import prepare
from sparwright.maths.frame.wires import slackened

SQUARE = [(0, 0, 0), (1, 0, 0), (1, 0, 1), (0, 0, 1)]
ROUND = [(0, 1), (1, 2), (2, 3), (3, 0)]


def test_a_mechanism_is_told_with_its_nodes() -> None:
    """A square of pinned bars: the upper two nodes move, the lower two do not."""
    pins = np.isin(np.arange(12), (3, 4, 5, 9, 10, 11))
    f = frame(SQUARE, ROUND, flat(4, {0: (0, 2), 1: (2,)}), free=pins)
    p = prepare(f)
    assert p.plain.loose == (2, 3) and standing(p.plain) == "a mechanism: nodes 2, 3 move without resistance"
    for second in (False, True):
        s = solve(p, point(f, (3, 0, 1.0)), second)
        assert not s.good[0] and np.isnan(s.moved).all() and np.isnan(s.force).all() and "2, 3" in s.why[0]
    assert np.isnan(buckling(p, s, 0)[0])


def test_a_node_joined_to_nothing_is_told() -> None:
    f = frame([*SQUARE, (5, 5, 5)], ROUND, {0: ALL})
    assert prepare(f).plain.loose == (4,)


def test_a_bar_that_spins_is_told() -> None:
    """Ball joints at both ends of a bar that is one with its nodes: it turns about itself."""
    f = line(2, 3, {0: BALL, 3: BALL})
    assert prepare(f).plain.loose == (0, 1, 2, 3)
    assert prepare(line(2, 3, {0: PIN, 3: BALL})).plain.loose == ()


def test_a_large_frame_without_hold() -> None:
    f, load = braced()
    f.held[:] = False
    p = prepare(f)
    assert len(p.plain.loose) == len(f.place)
    assert not solve(p, load).good.any()


def test_a_moment_that_nothing_holds() -> None:
    """The corner of pinned bars turns freely: a moment on it is an error of that case, a force is none."""
    pins = np.isin(np.arange(12), (3, 4, 5, 9, 10, 11))
    f = frame(SQUARE, [*ROUND, (0, 2)], flat(4, {0: (0, 2), 1: (2,)}), free=pins)
    s = solve(prepare(f), np.concatenate([point(f, (2, 4, 1.0)), point(f, (2, 0, 1.0))]), False)
    assert s.good.tolist() == [False, True] and s.why[0] == "node 2 turns freely and carries a moment"
    assert_allclose(s.pull[1, 4], 2**0.5, rtol=1e-12)


def test_wires_that_cannot_hold() -> None:
    """One wire across the square: it holds one way only."""
    pins = np.isin(np.arange(12), (3, 4, 5, 9, 10, 11))
    f = frame(SQUARE, [*ROUND, (0, 2)], flat(4, {0: (0, 2), 1: (2,)}), free=pins, wire=np.arange(5) > 3)
    p = prepare(f)
    for second in (False, True):
        s = solve(p, 1e-3 * np.concatenate([point(f, (3, 0, 1.0)), point(f, (3, 0, -1.0))]), second)
        assert s.good.tolist() == [True, False] and "slack" in s.why[1]


@pytest.mark.parametrize("seed", range(40))
def test_slack_wires_are_the_only_answer(seed: int) -> None:
    """Against trying every set of wires."""
    r = np.random.default_rng(seed)
    b = r.normal(size=(12, 7))
    left = np.eye(7) - 0.95 * b.T @ b / np.linalg.eigvalsh(b.T @ b)[-1]
    force = r.normal(size=7)
    found = slackened(left, force, r.random(7) > 0.5)
    sets = [np.flatnonzero([bool(n >> i & 1) for i in range(7)]) for n in range(128)]
    fits = []
    for at in sets:
        s = np.zeros(7)
        s[at] = -np.linalg.solve(left[np.ix_(at, at)], force[at])
        if (s >= 0).all() and (force + left @ s >= -1e-12).all():
            fits.append(s)
    assert len(fits) == 1
    assert_allclose(found, fits[0], rtol=0, atol=1e-12)


def test_slack_wires_where_some_sets_are_mechanisms() -> None:
    """Two wires that are all there is against one movement: one of them must pull."""
    share = 0.5
    left = np.eye(2) - np.array([[share, share], [share, share]])
    assert slackened(left, np.array([3.0, -1.0]))[1] > 0
    with pytest.raises(np.linalg.LinAlgError):
        slackened(left, np.array([-3.0, -1.0]))


def test_past_buckling_without_a_push_aside() -> None:
    """A straight column under a central load has no sideways load at all: it is found all the same."""
    f = line(2, 8, {0: ALL}, way=(0, 0, 1))
    p = prepare(f)
    critical = np.pi**2 / 16
    s = solve(p, np.concatenate([point(f, (8, 2, -x * critical)) for x in (0.9, 0.999, 1.001, 1.5)]))
    assert s.good.tolist() == [True, True, False, False]
    assert all("buckling" in w for w in s.why[2:]) and np.isnan(s.moved[2:]).all() and np.isfinite(s.moved[:2]).all()
    pushed = solve(p, point(f, (8, 2, -3 * critical), (8, 0, 0.1)))
    assert not pushed.good.any() and "buckling" in pushed.why[0]
    assert_allclose(buckling(p, solve(p, point(f, (8, 2, -1.5 * critical)), False), 0)[0], 1 / 1.5, rtol=1e-4)


def test_pulled_has_no_buckling() -> None:
    f = line(2, 8, {0: ALL}, way=(0, 0, 1))
    p = prepare(f)
    factor, shape = buckling(p, solve(p, point(f, (8, 2, 1.0))), 0)
    assert np.isnan(factor) and np.isnan(shape).all()


def test_rigged_past_buckling() -> None:
    f = line(2, 8, {0: ALL, 8: BALL}, tension=-100.0)
    s = solve(prepare(f), point(f, (4, 2, 1.0)))
    assert s.why == ("rigged past the frame's buckling load",)


def test_no_load_is_no_movement() -> None:
    f, load = braced()
    s = solve(prepare(f), 0 * load[:2])
    assert s.good.all() and not s.moved.any() and not s.slack.any()


def test_very_stiff_members_settle() -> None:
    """Ten digits between bending and stretch: fewer digits, but an answer."""
    f = line(2, 8, {0: ALL}, area=1e7)
    s = solve(prepare(f), point(f, (8, 0, -0.3), (8, 2, 0.1)))
    u = np.sqrt(0.3 * 4)
    assert_allclose(s.moved[0, 8, 2], 0.1 * 2 / 0.3 * (np.tan(u) / u - 1), rtol=1e-4)


@pytest.mark.parametrize(
    ("change", "word"),
    [
        ({"up": np.array([[1.0, 0, 0]] * 2)}, "`up` lies along it"),
        ({"place": np.zeros((3, 3))}, "has no length"),
        ({"tension": np.ones(2), "free": np.arange(12)[None].repeat(2, 0) == 0}, "rigged tight"),
        ({"wire": np.ones(2, bool), "free": np.arange(12)[None].repeat(2, 0) == 6}, "wire released"),
    ],
)
def test_wrong_frames(change: dict[str, np.ndarray], word: str) -> None:
    with pytest.raises(ValueError, match=word):
        prepare(replace(line(2, 2, {0: ALL}), **change))


def test_wrong_loads() -> None:
    f = line(2, 2, {0: ALL})
    p = prepare(f)
    for bad in (np.zeros((0, 3, 6)), np.zeros((3, 6)), np.zeros((1, 2, 6)), np.full((1, 3, 6), np.nan)):
        with pytest.raises(ValueError, match="loads are"):
            solve(p, bad)
    with pytest.raises(ValueError, match="spread loads are"):
        solve(p, np.zeros((1, 3, 6)), spread=even(f, (0, 0, 1))[0])


def test_wrong_masses() -> None:
    p = prepare(line(2, 2, {0: ALL}))
    with pytest.raises(ValueError, match="modes asked for"):
        modes(p, np.array([0, 0, 1.0]), np.zeros((3, 3, 3)), 4)
    with pytest.raises(ValueError, match="negative"):
        modes(p, np.array([0, 0, -1.0]), np.zeros((3, 3, 3)), 1)


def test_results_are_locked() -> None:
    f, load = braced()
    s = solve(prepare(f), load[:1])
    with pytest.raises(ValueError, match="read-only"):
        s.moved[0, 0, 0] = 1.0
