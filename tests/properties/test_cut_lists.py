"""What holds of every cut list: pieces all there, kerf kept, bound not beaten, order without a say."""

from __future__ import annotations

import math

from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.maths.cutting_stock import cut_stock, first_fit

ORDERS = st.dictionaries(st.integers(20, 400), st.integers(1, 9), min_size=1, max_size=7)


@settings(max_examples=60, deadline=None)
@given(ORDERS, st.integers(400, 700), st.integers(0, 12))
def test_every_piece_once_and_room_for_the_saw(order, stick, kerf):
    lengths, wanted = list(order), list(order.values())
    found = cut_stock(lengths, wanted, stick, kerf)
    for i, count in enumerate(wanted):
        assert sum(n * pattern[i] for pattern, n in found.patterns) == count
    for pattern, _ in found.patterns:
        pieces = sum(pattern)
        assert sum(k * n for k, n in zip(pattern, lengths, strict=True)) + (pieces - 1) * kerf <= stick


@settings(max_examples=60, deadline=None)
@given(ORDERS, st.integers(400, 700), st.integers(0, 12))
def test_no_list_beats_its_bound_or_first_fit(order, stick, kerf):
    lengths, wanted = list(order), list(order.values())
    found = cut_stock(lengths, wanted, stick, kerf)
    end_to_end = sum((n + kerf) * k for n, k in zip(lengths, wanted, strict=True)) / (stick + kerf)
    assert math.ceil(end_to_end - 1e-6) <= found.bound <= found.sticks
    assert found.sticks <= len(first_fit([n + kerf for n in lengths], wanted, stick + kerf))


@settings(max_examples=30, deadline=None)
@given(ORDERS, st.integers(400, 700))
def test_more_kerf_or_a_shorter_stick_needs_no_fewer(order, stick):
    lengths, wanted = list(order), list(order.values())
    plain = cut_stock(lengths, wanted, stick, 2)
    assert cut_stock(lengths, wanted, stick, 6).sticks >= plain.bound
    assert (
        cut_stock(lengths, wanted, stick - 0 if max(lengths) == stick else max(max(lengths), stick - 50), 2).sticks
        >= plain.bound
    )


@settings(max_examples=30, deadline=None)
@given(ORDERS, st.integers(400, 700))
def test_the_order_asked_in_does_not_matter(order, stick):
    there = cut_stock(list(order), list(order.values()), stick, 3)
    back = cut_stock(list(order)[::-1], list(order.values())[::-1], stick, 3)
    assert there.sticks == back.sticks and there.bound == back.bound
