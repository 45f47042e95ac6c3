"""The short way to second order: it ends where the careful way ends, does not care which cases go together, and a case
that it cannot settle is still told as the careful way tells it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from frames import braced, line, point
from numpy.testing import assert_allclose

from sparwright.maths.frame import mixed, second
from sparwright.maths.frame.solve import solve
from sparwright.maths.frame.stiff import prepare
from sparwright.maths.frame.wires import slackened, slackened_together


@pytest.mark.parametrize("tension", [0.0, 300.0])
def test_both_ways_end_alike(tension: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """With no turn allowed the short way settles nothing, and conjugate gradients settle everything."""
    f, loads = braced()
    p = prepare(replace(f, tension=np.where(f.wire, tension, 0.0)))
    short = solve(p, loads)
    monkeypatch.setattr(mixed, "TURNS", 0)
    careful = solve(p, loads)
    assert short.good.tolist() == careful.good.tolist() and short.good.sum() > 6
    assert short.slack.tolist() == careful.slack.tolist()
    good = short.good
    for name in ("moved", "force", "pull"):
        a, b = getattr(short, name)[good], getattr(careful, name)[good]
        assert_allclose(a, b, rtol=0, atol=1e-8 * np.abs(b).max())
    assert np.any(short.turns != careful.turns)


def test_the_short_way_settles_nearly_all(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without the careful way few cases are lost."""
    f, loads = braced()
    p = prepare(f)
    whole = solve(p, loads)
    monkeypatch.setattr(second, "TURNS", 0)
    short = solve(p, loads)
    assert whole.good.sum() >= 10 and short.good.sum() >= 0.9 * whole.good.sum()


def test_a_case_does_not_feel_the_others(monkeypatch: pytest.MonkeyPatch) -> None:
    f, loads = braced()
    p = prepare(f)
    together = solve(p, loads)
    monkeypatch.setattr(mixed, "BATCH", 5)
    by_fives = solve(p, loads[::-1])
    alone = [solve(p, one[None]) for one in loads]
    for c in np.flatnonzero(together.good):
        for other in (by_fives.pull[-1 - c], alone[c].pull[0]):
            assert_allclose(other, together.pull[c], rtol=0, atol=1e-9 * np.abs(together.pull[c]).max())


@pytest.mark.parametrize("part", [-20.0, -3.0, -0.5, 0.5, 0.9])
def test_beam_columns_pulled_and_pressed(part: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pulled by twenty times the buckling load plain repetition runs away; the mix does not, and needs no other way."""
    count, side = 8, 1e-3
    f = line(1.0, count, {0: (0, 1, 2, 3), count: (1, 2)}, area=1e6)
    load = point(f, (count, 0, -part * np.pi**2), (count // 2, 2, side))
    monkeypatch.setattr(second, "TURNS", 0)
    s = solve(prepare(f), load)
    k = np.sqrt(abs(part)) * np.pi / 2
    ratio = (np.tan(k) - k) / k**3 if part > 0 else (k - np.tanh(k)) / k**3
    assert s.good[0]
    assert_allclose(s.moved[0, count // 2, 2], side / 48 * 3 * ratio, rtol=3e-3)


def test_past_buckling_is_still_told() -> None:
    count = 8
    f = line(1.0, count, {0: (0, 1, 2, 3), count: (1, 2)}, area=1e6)
    loads = np.concatenate([point(f, (count, 0, -x * np.pi**2), (4, 2, 1e-3)) for x in (0.5, 1.05, 1.5, 6.0)])
    s = solve(prepare(f), loads)
    assert s.good.tolist() == [True, False, False, False]
    assert all(second.PAST in w or second.RESTLESS in w for w in s.why[1:])


@pytest.mark.parametrize("seed", range(12))
def test_wires_together_as_one_by_one(seed: int) -> None:
    """Any start, any frame: the same slack as case by case, and it is right."""
    draw = np.random.default_rng(seed)
    w, c = int(draw.integers(1, 9)), 17
    root = draw.normal(size=(w, w + 2))
    left = root @ root.T
    left /= 1.2 * np.linalg.eigvalsh(left)[-1]
    force = draw.normal(size=(w, c))
    s, known = slackened_together(left, force, draw.random((w, c)) < 0.4)
    assert known.all()
    pull = force + left @ s
    assert s.min() >= 0 and pull.min() > -1e-9 * np.abs(force).max()
    assert_allclose(pull * s, 0, atol=1e-8 * np.abs(force).max() * max(s.max(), 1))
    each = np.array([slackened(left, one) for one in force.T]).T
    assert_allclose(s, each, rtol=1e-7, atol=1e-9 * each.max())


def test_wires_that_cannot_hold_are_told_among_others() -> None:
    """M of two wires that alone hold one movement: what presses both slack holds nothing."""
    left = np.array([[0.5, -0.5], [-0.5, 0.5]])
    s, known = slackened_together(left, np.array([[1.0, -1.0, -1.0], [1.0, -1.0, 3.0]]), np.zeros((2, 3), bool))
    assert known.tolist() == [True, False, True] and not s[:, 1].any() and s[0, 2] > 0
