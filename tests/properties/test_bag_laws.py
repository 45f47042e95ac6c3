"""Laws of bags: half a bag is the most that is missed, finer ones come to the true load, steps only add."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from sparwright.proof.bags import at_part, bag_weight, beyond, in_steps, step_parts, whole_bags
from sparwright.proof.bays import chord_lines, in_bays, reached, shared

LOAD = st.floats(0.0, 500.0)
BAYS = st.lists(st.tuples(LOAD, LOAD), min_size=1, max_size=20).map(np.array)
BAG = st.floats(5.0, 120.0)


@given(BAYS, BAG)
def test_no_station_misses_more_than_half_a_bag(wanted: np.ndarray, bag: float) -> None:
    count = whole_bags(wanted, bag)
    assert (count >= 0).all()
    outboard = np.cumsum((count.sum(1) * bag - wanted.sum(1))[::-1])
    assert (np.abs(outboard) <= bag / 2 * (1 + 1e-9) + 1e-9).all()


@given(BAYS)
def test_finer_bags_come_to_the_true_shear_and_moment(wanted: np.ndarray) -> None:
    width, missed = np.full(len(wanted), 0.3), []
    true = beyond(wanted.sum(1), width)
    for bag in (100.0, 10.0, 1.0, 0.1):
        found = beyond(whole_bags(wanted, bag).sum(1) * bag, width)
        missed.append([np.abs(a - b).max() for a, b in zip(true, found, strict=True)])
        assert missed[-1][0] <= bag / 2 * (1 + 1e-9) + 1e-9
        assert missed[-1][1] <= bag / 2 * width.sum() * (1 + 1e-9) + 1e-9
    assert missed[-1][0] <= 0.05 + 1e-9


@given(BAYS, BAG, st.floats(1.2, 6.0))
def test_steps_only_add(net: np.ndarray, bag: float, n: float) -> None:
    parts = step_parts(n)
    assert all(b > a for a, b in zip(parts, parts[1:], strict=False)) and parts[-1] == 1.0
    found = in_steps(net, 0.1 * net, parts, bag)
    assert (np.diff(found, axis=0) >= 0).all()


@given(st.floats(0, 6), st.floats(0, 6), st.floats(0, 1), st.floats(10, 1e4), st.floats(0, 1e3))
def test_bags_are_linear_in_the_load_factor(a: float, b: float, t: float, air: float, own: float) -> None:
    mixed = bag_weight((1 - t) * a + t * b, air, own)
    assert mixed == pytest.approx((1 - t) * bag_weight(a, air, own) + t * bag_weight(b, air, own), abs=1e-6)


@given(BAYS, st.floats(0.1, 1.0), st.floats(1.0, 8.0))
def test_a_part_of_limit_is_the_same_test_at_a_lower_load_factor(net: np.ndarray, part: float, n: float) -> None:
    """net = n (L - W_s): a part of it is n times less, and the bags are those of that load factor."""
    own = 0.1 * net
    air = net / n + own
    assert at_part(net, own, part) == pytest.approx(part * n * air - (part * n + 1) * own, abs=1e-6)


@given(BAYS, st.floats(0.16, 0.49))
def test_levers_keep_load_and_centre(load: np.ndarray, at: float) -> None:
    whole, lines = load.sum(1), (0.15, 0.5)
    on = shared(whole, np.full(len(whole), at), lines)
    assert on.sum(1) == pytest.approx(whole, abs=1e-9)
    assert on @ np.array(lines) == pytest.approx(whole * at, abs=1e-9)


@given(st.lists(st.floats(-0.5, 1.5), min_size=1, max_size=12).map(np.array))
def test_what_lies_beyond_the_lines_keeps_the_moment_about_the_far_spar(centre: np.ndarray) -> None:
    load, spars = np.full(len(centre), 100.0), (0.2, 0.62)
    lines = chord_lines(centre, load)
    found, at = reached(load, centre, lines, spars)
    assert ((at >= lines[0]) & (at <= lines[1])).all()
    far = np.where(centre < lines[0], spars[1], spars[0])
    moved = centre != at
    assert (found * (far - at))[moved] == pytest.approx((load * (far - centre))[moved])
    assert found[~moved] == pytest.approx(load[~moved])


@given(st.lists(st.floats(-100, 100), min_size=3, max_size=15), st.floats(0.2, 0.9))
def test_bays_share_out_all_of_a_span_load(running: list[float], cut: float) -> None:
    m = len(running)
    y, width, q = np.arange(m) + 0.5, np.ones(m), np.array(running)
    found = in_bays(y, width, q, np.array([0.3, cut * m, m - 0.1]))
    assert found.sum() == pytest.approx(q.sum(), abs=1e-9)
    assert found[0] == pytest.approx(
        np.interp(cut * m, np.arange(m + 1), np.concatenate([[0], np.cumsum(q)])), abs=1e-9
    )
