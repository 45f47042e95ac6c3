"""What holds of every nest: pieces apart by the gap, within the margin, each as often as wanted, bound not beaten."""

from __future__ import annotations

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.maths.nesting import Lying, Shape, Way, faults, laid, nest, sheets_at_least
from sparwright.stock.blanks import ways_of

LONG, WIDE = 400.0, 250.0


@st.composite
def outlines(draw):
    """A star with 3 to 9 points, seldom convex."""
    count = draw(st.integers(3, 9))
    radii = draw(st.lists(st.floats(12.0, 70.0), min_size=count, max_size=count))
    angles = np.arange(count) * 2 * np.pi / count
    return np.column_stack([np.cos(angles), np.sin(angles)]) * np.array(radii)[:, None]


@settings(max_examples=25, deadline=None)
@given(
    st.lists(outlines(), min_size=1, max_size=7),
    st.integers(1, 3),
    st.floats(0.0, 9.0),
    st.floats(0.0, 15.0),
    st.booleans(),
)
def test_pieces_are_apart_and_inside_and_all_there(rings, copies, gap, margin, faced):
    shapes = [Shape(f"P{i}", r, ways_of(r, 0.0 if faced else None)) for i, r in enumerate(rings) for _ in range(copies)]
    lying = nest(shapes, LONG, WIDE, gap, margin)
    assert sorted(x.shape for x in lying) == list(range(len(shapes)))
    for sheet in {x.sheet for x in lying}:
        here = [shapely.Polygon(laid(shapes[x.shape].ring, x.way, x.x, x.y)) for x in lying if x.sheet == sheet]
        for i, a in enumerate(here):
            assert a.bounds[0] >= margin - 1e-3 and a.bounds[1] >= margin - 1e-3
            assert a.bounds[2] <= LONG - margin + 1e-3 and a.bounds[3] <= WIDE - margin + 1e-3
            assert all(a.distance(b) >= gap - 1e-3 and a.intersection(b).area < 1e-6 for b in here[i + 1 :])
    assert faults(shapes, lying, LONG, WIDE, gap, margin) == ()
    assert 1 + max(x.sheet for x in lying) >= sheets_at_least(shapes, LONG, WIDE, gap, margin)
    assert lying == nest(shapes, LONG, WIDE, gap, margin), "the same pieces nest the same"


@settings(max_examples=25, deadline=None)
@given(outlines(), st.floats(0.0, 360.0), st.booleans())
def test_turning_and_turning_over_keep_the_shape(ring, turn, over):
    there = laid(ring, Way(turn, over), 3.0, 5.0)
    assert there.min(axis=0) == pytest.approx([3.0, 5.0], abs=1e-9)
    assert shapely.Polygon(there).area == pytest.approx(shapely.Polygon(ring).area, rel=1e-9)
    sides = [np.hypot(*np.diff(np.vstack([r, r[:1]]), axis=0).T) for r in (ring, there)]
    assert sides[0] == pytest.approx(sides[1], rel=1e-9)


@settings(max_examples=40, deadline=None)
@given(outlines(), st.floats(0.05, 3.0))
def test_face_grain_always_lies_along_the_sheet(ring, grain):
    """A line along the grain, scribed on the piece, is level wherever the piece lies."""
    arrow = np.array([np.cos(grain), np.sin(grain)])
    for way in ways_of(ring, grain):
        both = laid(np.vstack([ring, ring[0] + 5.0 * arrow]), way)
        along = both[-1] - both[0]
        assert abs(along[1]) < 1e-4


def square(side: float) -> np.ndarray:
    return np.array([[0, 0], [side, 0], [side, side], [0, side]])


def test_each_fault_is_found():
    shapes = [Shape("A", square(50.0)), Shape("B", square(50.0))]
    good = (Lying(0, 0, Way(0.0), 10, 10), Lying(1, 0, Way(0.0), 66, 10))
    assert faults(shapes, good, 200, 100, 6, 10) == ()
    near = (good[0], Lying(1, 0, Way(0.0), 65.9, 10))
    out = (good[0], Lying(1, 0, Way(0.0), 140.1, 10))
    turned = (good[0], Lying(1, 0, Way(90.0), 66, 10))
    assert "too near" in faults(shapes, near, 200, 100, 6, 10)[0]
    assert "leaves the clear sheet" in faults(shapes, out, 200, 100, 6, 10)[0]
    assert "may not lie so" in faults(shapes, turned, 200, 100, 6, 10)[0]
    assert "not laid once" in faults(shapes, good[:1], 200, 100, 6, 10)[0]
    assert "not laid once" in faults(shapes, (*good, Lying(1, 1, Way(0.0), 10, 10)), 200, 100, 6, 10)[0]


def test_a_piece_as_large_as_the_clear_sheet_fits_and_a_larger_does_not():
    shapes = [Shape("A", np.array([[0, 0], [187.3, 0], [187.3, 61.9], [0, 61.9]]))]
    assert nest(shapes, 207.3, 81.9, 6.0, 10.0)[0].x == 10.0
    with pytest.raises(ValueError, match="A does not fit"):
        nest(shapes, 207.2, 81.9, 6.0, 10.0)
