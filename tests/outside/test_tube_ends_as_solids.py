"""Ends of tubes against a general-purpose library of solids: the touching edge fits, nothing fouls.

The library (in requirements.lock) makes each tube that is met as a cylinder of 1,024 sides, cut off where it begins:
its flats lie 0.05 micrometres within the round. The wall of the branch is tried with needles of 2 micrometres square
that lie along it. Nothing of the wall may enter (0.02 mm clear: the needle is not a line, and where an edge is met
at a glance it meets it early); the touching edge is to lie within 0.1 mm, which is what a template is held to.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from manifold3d import Manifold
from tube_joints import MEETINGS, Meeting

from sparwright.shape.tube_end import TubeEnd, looking, tube_end, zero_lines

NEEDLE, CLEAR, FITS = 2e-6, 0.02e-3, 0.1e-3  # m
STEP = 1440 // 72
NEAR = 6  # lines to either side of one that is tried: where the edge jumps there, no angle is that of an edge


def needle(m: Meeting, way: np.ndarray, radius: float, start: float) -> Manifold:
    """A needle along the branch at a distance from its middle line, from `start` m off the node on."""
    body = Manifold.cube((NEEDLE, NEEDLE, 3e-3), True).translate((0, 0, 1.5e-3))
    axes = np.column_stack([way, np.cross(m.along, way), m.along])
    return body.transform(np.column_stack([axes, radius * way + start * m.along]))


def tried(end: TubeEnd) -> list[int]:
    """Lines where something is met and the edge does not jump."""
    cut = np.concatenate([end.cut, end.cut[:NEAR], end.cut[-NEAR:]])
    smooth = [i for i in range(0, len(end.cut), STEP) if np.ptp(cut[range(i - NEAR, i + NEAR + 1)]) < 0.6e-3]
    return [i for i in smooth if end.cut[i] > 1e-4]


@pytest.mark.parametrize("name", MEETINGS)
def test_nothing_fouls_and_the_touching_edge_fits(name: str) -> None:
    m = MEETINGS[name]
    end, solid, zero = tube_end(m.tube(), 0), m.solid(), zero_lines(m.tube().path)[1]
    ways = looking(m.along, zero, 2 * np.pi * np.arange(len(end.cut)) / len(end.cut))
    lines = tried(end)
    assert len(lines) >= 20  # of 72: less where a thick tube stands over a thin one
    wall = [needle(m, ways[i], end.radius - f * end.wall, end.cut[i] + CLEAR) for i in lines for f in (0, 0.3, 0.6, 1)]
    assert max((w ^ solid).volume() for w in wall) == 0.0
    for i in lines:
        assert needle(m, ways[i], end.touch[i], end.cut[i]).min_gap(solid, 1e-3) <= FITS
        assert (needle(m, ways[i], end.touch[i], end.cut[i] - FITS) ^ solid).volume() > 0


def test_square_joint_by_hand() -> None:
    """Square on a tube that passes: sqrt(R^2 - (r - t)^2 sin^2 a) on the bore's line, which is the later one.

    The zero line of an upright tube looks forward, here along the tube it meets.
    """
    m = MEETINGS["square"]
    end = tube_end(m.tube(), 0)
    R, r = 0.01905 / 2, 0.0127 / 2 - 0.0009
    for a in (0.0, 30.0, 90.0, 137.5):
        wanted = math.sqrt(R**2 - (r * math.sin(math.radians(a))) ** 2)
        assert abs(end.at(math.radians(a)) - wanted) < 1e-9
