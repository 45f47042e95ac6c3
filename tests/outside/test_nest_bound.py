"""Nests against what geometry proves: squares that tile a sheet, triangles that pair, the area bound.

Source: geometry alone. Sheets are counts, so the tolerance is none; the raster may cost a cell at each piece, so sheets
here have that room.
"""

from __future__ import annotations

import numpy as np
import pytest

from sparwright.maths.nesting import Shape, Way, nest, sheets_at_least
from sparwright.stock.blanks import ways_of

GAP, MARGIN = 6.0, 10.0


def sheets_of(shapes, long, wide):
    return 1 + max(x.sheet for x in nest(shapes, long, wide, GAP, MARGIN))


@pytest.mark.parametrize("count", [12, 13, 24, 25])
def test_squares_in_rows(count: int) -> None:
    """4 by 3 squares of 100 with gaps, margins and a cell each fill a sheet; one more asks for another."""
    side, cell = 100.0, 5.0
    long, wide = (n * (side + GAP + cell) - GAP + 2 * MARGIN for n in (4, 3))
    square = np.array([[0, 0], [side, 0], [side, side], [0, side]])
    shapes = [Shape("S", square)] * count
    assert sheets_of(shapes, long, wide) == -(-count // 12)
    assert sheets_at_least(shapes, long, wide, GAP, MARGIN) == -(-count // 13), "a cell each is room for a thirteenth"


def test_triangles_pair_when_they_may_turn() -> None:
    """Two right-angled triangles make a rectangle, with the gap along the diagonal; one alone takes the same box."""
    triangle = np.array([[0.0, 0], [200, 0], [0, 100]])
    long, wide = 240.0 + 2 * MARGIN, 130.0 + 2 * MARGIN
    free = [Shape("T", triangle, ways_of(triangle, None))] * 2
    fixed = [Shape("T", triangle, (Way(0.0),))] * 2
    assert sheets_of(free, long, wide) == 1
    assert sheets_of(fixed, long, wide) == 2


def test_no_nest_beats_the_area() -> None:
    """Grown squares fill the grown sheet to the last square millimetre: the bound is their number, and not one less."""
    square = np.array([[0, 0], [94, 0], [94, 94], [0, 94]])
    shapes = [Shape("S", square)] * 4
    tight = 2 * 100.0 - GAP + 2 * MARGIN
    corners = 4 * (1 - np.pi / 4) * 9.0  # a grown square lacks its corners
    assert sheets_at_least(shapes, tight, tight, GAP, MARGIN) == 1
    lacking = 4 * corners / (2 * 100.0)
    assert sheets_at_least(shapes, tight - lacking - 0.2, tight, GAP, MARGIN) == 2
