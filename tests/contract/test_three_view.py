"""The three-view of every demo model: true to scale, clean, and what hides is nearer."""

from __future__ import annotations

import numpy as np
import pytest

import sparwright as sw
from sparwright.family.model import Family
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Box, Sheet
from sparwright.plans.outside import extent, outside
from sparwright.plans.three_view import figures, views
from sparwright.plans.views import FRONT, TOP, Thing, seen


@pytest.fixture(scope="module")
def family() -> Family:
    return sw.load("examples/whinchat/whinchat.toml")


@pytest.mark.parametrize("wide", [560.0, 840.0])
@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_views_are_clean_to_scale_and_in_their_room(family: Family, name: str, wide: float) -> None:
    model, room = family.models[name], Box(20.0, 20.0, 20.0 + wide, 520.0)
    made = views(model, room)
    assert clashes(Sheet(1, 1, "three views", "24x36", wide + 40.0, 540.0, made.strokes)) == ()
    low, high = extent(outside(model))
    xs = [x for s in made.strokes if s.layer == "cut" for x, _ in s.points]  # type: ignore[union-attr]
    # plan and side view stand side by side, 34 mm apart
    np.testing.assert_allclose(
        max(xs) - min(xs), 1000 * ((high[1] - low[1]) + (high[0] - low[0])) / made.scale + 34.0, rtol=0, atol=0.5
    )
    assert all(room.left - 1e-6 <= x <= room.right for x in xs)


def test_figures_without_results_say_unknown() -> None:
    assert sum("unknown" in words for words in figures({})) == 4


def square(z: float, half: float) -> Thing:
    return Thing(faces=(np.array([[-half, half, half, -half], [-half, -half, half, half], [z] * 4], dtype=float),))


def length(parts: tuple) -> float:
    return float(sum(np.hypot(*np.diff(p.points, axis=1)).sum() for p in parts))


def test_the_nearer_square_hides_the_farther() -> None:
    assert length(seen([square(0, 1), square(1, 2)], TOP)) == pytest.approx(16)
    assert length(seen([square(1, 1), square(0, 2)], TOP)) == pytest.approx(8 + 16)
    half_over = Thing(faces=(square(1, 1).faces[0] + np.array([[1.0], [0.0], [0.0]]),))
    assert length(seen([half_over, square(0, 1)], TOP)) == pytest.approx(8 + 6 - 2)


def test_a_face_seen_edge_on_hides_nothing() -> None:
    assert length(seen([square(1, 1)], FRONT)) == 0.0
