"""The three-view of every demo model: true to scale, clean, and what hides is nearer."""

from __future__ import annotations

import numpy as np
import pytest

import sparwright as sw
from sparwright.family.model import Family
from sparwright.plans.clash import clashes
from sparwright.plans.outside import extent, outside
from sparwright.plans.paper import TitleBlock
from sparwright.plans.three_view import three_view
from sparwright.plans.views import FRONT, TOP, Thing, seen

TITLE = TitleBlock("Whinchat", "W", "Sparwright", "0" * 64)


@pytest.fixture(scope="module")
def family() -> Family:
    return sw.load("examples/whinchat/whinchat.toml")


@pytest.mark.parametrize("paper", ["24x36", "A1"])
@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_sheet_is_clean_and_to_scale(family: Family, name: str, paper: str) -> None:
    model = family.models[name]
    sheet = three_view(model, {}, TITLE, paper)
    assert clashes(sheet) == ()
    low, high = extent(outside(model))
    words = [s.content for s in sheet.strokes if hasattr(s, "content")]
    scale = int(next(w for w in words if w.startswith("Scale")).split("/")[1].split(",")[0])
    xs = [x for s in sheet.on("cut") for x, _ in s.points]  # type: ignore[union-attr]
    # plan and side view stand side by side, 34 mm apart
    np.testing.assert_allclose(
        max(xs) - min(xs), 1000 * ((high[1] - low[1]) + (high[0] - low[0])) / scale + 34.0, rtol=0, atol=0.5
    )
    assert all(0 < x < sheet.width for x in xs)
    assert sum("unknown" in w for w in words) == 4, "figures without results say unknown"


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
