"""Labels set down: off each other, off lines, with leaders through nothing lettered; too great a crowd is told."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from sparwright.base.problem import DesignProblem
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Box, Circle, Line, Sheet, Stroke, Text
from sparwright.plans.lettering import box
from sparwright.plans.placed import Label, placed

ROOM = Box(20.0, 20.0, 380.0, 280.0)


def sheet(strokes: tuple[Stroke, ...]) -> Sheet:
    return Sheet(1, 1, "t", "24x36", 400.0, 300.0, strokes)


@pytest.mark.parametrize("seed", range(6))
def test_a_crowd_of_names_and_marks_is_clean(seed: int) -> None:
    rng = np.random.default_rng(seed)
    fixed = tuple(Line((float(a), float(b)), (float(c), float(d)), "cut")
                  for a, b, c, d in rng.uniform(40, 260, (30, 4)))  # fmt: skip
    labels = [Label(f"N{i}", (float(x), float(y)), bold=True) for i, (x, y) in enumerate(rng.uniform(60, 240, (25, 2)))]
    labels += [
        Label(str(i), (float(x), float(y)), ringed=True) for i, (x, y) in enumerate(rng.uniform(60, 240, (25, 2)))
    ]
    found = placed(labels, fixed, ROOM)
    rings = [s for s in found if isinstance(s, Circle)]
    assert len([s for s in found if isinstance(s, Text)]) == 50 and len(rings) == 25
    without_rings = (*fixed, *(s for s in found if not isinstance(s, Circle)))
    assert clashes(sheet(without_rings)) == ()
    boxes = [shapely.Polygon(box(s)) for s in found if isinstance(s, Text)]
    for line in (s for s in found if isinstance(s, Line)):
        assert not any(shapely.LineString((line.start, line.end)).intersects(b) for b in boxes)
    inside = shapely.box(ROOM.left, ROOM.bottom, ROOM.right, ROOM.top)
    assert all(inside.contains(b) for b in boxes)


def test_one_hemmed_in_goes_before_the_others() -> None:
    """Marks all round a point take every way out of it; it is set down first the second time."""
    round_ = [Label(str(i), (200 + 9 * np.cos(i / 3), 150 + 9 * np.sin(i / 3)), ringed=True) for i in range(19)]
    found = placed([*round_, Label("in", (200.0, 150.0), ringed=True)], (), ROOM)
    assert sum(isinstance(s, Text) for s in found) == 20


def test_no_room_is_told() -> None:
    bars = tuple(Line((0.0, y), (400.0, y), "cut") for y in np.arange(0.0, 300.0, 2.0))
    with pytest.raises(DesignProblem, match="no room on the sheet for 'A1'"):
        placed([Label("A1", (200.0, 150.0))], bars, ROOM)


def test_a_name_alone_stands_beside_its_point_without_a_leader() -> None:
    (text,) = placed([Label("A1", (200.0, 150.0))], (), ROOM)
    assert isinstance(text, Text) and 2.0 < shapely.Polygon(box(text)).distance(shapely.Point(200.0, 150.0)) < 6.0
