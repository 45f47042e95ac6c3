"""Whatever the parts: blocks lie within the field and never over each other; the drawing follows the part."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st
from numpy.testing import assert_allclose

from sparwright.parts.part import Part, Plate
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Polyline
from sparwright.plans.packing import nested, packed
from sparwright.plans.paper import TitleBlock, field_of, paper
from sparwright.plans.split import spans
from sparwright.plans.templates import templates

TITLE = TitleBlock("Whinchat", "T1", "Sparwright 0.1.0", "0" * 64)
SIZES = st.lists(st.tuples(st.floats(1, 400), st.floats(1, 300)), max_size=40)


@pytest.mark.parametrize("pack", [packed, nested])
@given(sizes=SIZES)
def test_packed_blocks_lie_in_the_field_apart(pack, sizes):
    spots = pack(sizes, 400.0, 300.0, 12.0)
    for i, ((w, h), s) in enumerate(zip(sizes, spots, strict=True)):
        assert s.x >= 0 and s.y >= 0 and s.x + w <= 400.001 and s.y + h <= 300.001
        for (w2, h2), s2 in zip(sizes[:i], spots[:i], strict=True):
            apart = (
                s.x + w + 11.99 <= s2.x
                or s2.x + w2 + 11.99 <= s.x
                or s.y + h + 11.99 <= s2.y
                or s2.y + h2 + 11.99 <= s.y
            )
            assert s.sheet != s2.sheet or apart
    assert {s.sheet for s in spots} == set(range(1, max((s.sheet for s in spots), default=0) + 1))


def part(corners: list[tuple[float, float]], shift: float = 0.0) -> Part:
    plate = Plate(outline=np.array(corners) + shift, holes=(), thickness=0.003)
    return Part(
        number="T1-P",
        name="plate",
        form="plate",
        group="g",
        purpose="p",
        material="m",
        stock="ply",
        places=((0, 0, 0),),
        mass=0.1,
        shape=plate,
    )


TRIANGLES = st.tuples(st.floats(0.02, 2.5), st.floats(0.01, 0.2), st.floats(0, 1)).map(
    lambda t: [(0.0, 0.0), (t[0], 0.0), (t[2] * t[0], t[1])]
)


@settings(max_examples=25, deadline=None)
@given(TRIANGLES)
@example([(0.0, 0.0), (2.173183438707013, 0.0), (0.0, 0.125)])  # its match flag made a piece too wide for the sheet
def test_any_triangle_is_drawn_true_and_without_clash(corners):
    sheets = templates((part(corners),), "A1", TITLE)
    places = [p for s in sheets for p in s.placements]
    assert all(clashes(s) == () for s in sheets)
    assert len(places) == places[0].pieces
    drawn = []
    for sheet in sheets:
        for place in sheet.placements:
            drawn += [np.array(p.points) - (place.dx, place.dy) for p in sheet.on("cut") if isinstance(p, Polyline)]
    clear = field_of(paper("A1"))
    for sheet in sheets:
        xs = np.concatenate([np.array(p.points)[:, 0] for p in sheet.on("cut") if isinstance(p, Polyline)])
        assert clear.left - 0.001 <= xs.min() and xs.max() <= clear.right + 0.001  # placed to 0.001 mm
    if len(places) == 1:
        assert_allclose(drawn[0], np.array(corners) * 1000, rtol=0, atol=1e-9)


@settings(max_examples=25, deadline=None)
@given(TRIANGLES, st.floats(-1, 1))
def test_a_part_shifted_in_its_own_axes_is_parted_alike(corners, shift):
    here, there = (spans(p.shape, 700.0) for p in (part(corners), part(corners, shift)))
    assert len(here) == len(there)
