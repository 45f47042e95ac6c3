"""Right and left as parts of their own: which need it, and that their bodies are mirrors of each other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.parts.handed import handed
from sparwright.parts.part import Joint, Part, Straight
from sparwright.parts.solids import solids
from sparwright.run import RunResult

BOX = np.array([[-0.01, 0, -0.02], [0.01, 0, -0.02], [0.01, 0, 0.02], [-0.01, 0, 0.02]])
NOSE = np.array([[-0.01, 0, 0.0], [0.01, 0, -0.02], [0.01, 0, 0.02]])


def bar(ring: np.ndarray, step: tuple[float, float, float], tip: np.ndarray | None = None) -> Part:
    """A bar from buttline 1 m along a step, on both sides."""
    root = ring + (0, 1, 0)
    end = (ring if tip is None else tip) + np.array([0, 1, 0]) + step
    middle = (root.mean(axis=0) + end.mean(axis=0)) / 2
    places = tuple((float(middle[0]), float(s * middle[1]), float(middle[2])) for s in (1, -1))
    return Part(
        number="B", name="bar", form="bar", group="wing w", purpose="edge bar", material="spruce", stock="",
        places=places, mass=1.0,
        shape=Straight(start=(0, 1, 0), end=(0, 2, 0), section="", rings=np.array([root, end])),
    )  # fmt: skip


@pytest.mark.parametrize(
    ("part", "two"),
    [
        (bar(BOX, (0, 1, 0)), False),
        (bar(NOSE, (0, 1, 0)), False),  # square to the middle plane: moved across, it fits
        (bar(BOX, (0, 1, 0.05)), False),  # rising, alike ahead and behind: turned about, it fits
        (bar(NOSE, (0, 1, 0.05)), True),
        (bar(BOX, (0.05, 1, 0)), True),  # swept
        (bar(BOX, (0, 1, 0), BOX * 0.5), True),  # tapered
    ],
)
def test_what_needs_two_hands(part: Part, two: bool) -> None:
    found, _ = handed([part], [])
    assert [p.number for p in found] == (["B-R", "B-L"] if two else ["B"])
    if two:
        right, left = (solids(p)[0] for p in found)
        assert_allclose(left.points, right.mirrored().points, rtol=0, atol=1e-12)
        assert_allclose([left.volume, left.centre[1]], [right.volume, -right.centre[1]], rtol=1e-12)
        assert [p.hand for p in found] == ["R", "L"] and found[1].shape.start == (0, -1, 0)


def test_a_joint_of_two_hands_is_one_on_either_side() -> None:
    """The flat rib on both sides is in both; the rib of one side in its own; counts are halved."""
    long = bar(NOSE, (0, 1, 0.05))
    both = replace(bar(BOX, (0, 1, 0)), number="RIB")
    right = replace(both, number="RIB-R", hand="R", places=both.places[:1])
    joint = Joint(number="J", kind="glue", parts=("B", "RIB", "RIB-R"), place=(0, 1, 0), primary=True, count=6)
    _, joints = handed([long, both, right], [joint, replace(joint, number="K", parts=("RIB", "RIB-R"))])
    assert [(j.number, j.parts, j.count, j.place[1]) for j in joints] == [
        ("J-R", ("B-R", "RIB", "RIB-R"), 3, 1),
        ("J-L", ("B-L", "RIB"), 3, -1),
        ("K", ("RIB", "RIB-R"), 6, 1),
    ]


def test_of_an_odd_count_the_one_in_the_middle_is_on_either_side() -> None:
    """A rib on the centreline and two on each side under a kinked bar: three and three."""
    joint = Joint(number="J", kind="glue", parts=("B",), place=(0, 1, 0), primary=True, count=5)
    assert [j.count for j in handed([bar(NOSE, (0, 1, 0.05))], [joint])[1]] == [3, 3]


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_mirrored_parts_match(ran: Callable[[str], RunResult], name: str) -> None:
    """Every part with a hand has its mirror: mass, places, and volume of the body."""
    parts = {p.number: p for p in ran(name).assembly.parts}
    seen = 0
    for number, right in parts.items():
        if right.hand != "R":
            continue
        left = parts[number.removesuffix("R") + "L"] if number.endswith("-R") else None
        assert left is not None, number
        if right.purpose == "rib" and any(abs(p[1]) < 0.01 for p in right.places):
            continue  # one of them stands on the centreline, once
        seen += 1
        assert_allclose(left.mass, right.mass, rtol=1e-9)
        there, mirror = (np.array(sorted(p, key=lambda q: np.round(q, 4).tolist())) for p in
                         (left.places, [(x, -y, z) for x, y, z in right.places]))  # fmt: skip
        assert_allclose(there, mirror, rtol=0, atol=1e-6, err_msg=number)
        for a, b in zip(solids(right), solids(left), strict=True):
            assert_allclose(a.volume, b.volume, rtol=1e-9)
    assert seen > 10
