"""Sheets laid flat weigh what they weigh standing; printed corners and openings are those of the parts."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

import sparwright as sw
from sparwright.base.quantity import parse
from sparwright.data.loader import material
from sparwright.parts.layout import lay_out
from sparwright.parts.part import Formed, Part, Plate, Skin
from sparwright.plans.drawing import Text
from sparwright.plans.drawings.flat import flat_drawings, hole_table
from sparwright.plans.flat_sheets import LaidFlat, developed, flat_face, laid_flat
from sparwright.shape.solid import between

NAMES = ("W1", "W2", "W3")
HALF = 0.0254 / 128 + 1e-9


@cache
def parts(name: str) -> tuple[Part, ...]:
    return lay_out(sw.load("examples/whinchat/whinchat.toml").models[name]).parts


def length(words: str) -> float:
    return parse(words.replace("−", "-").replace("′", " ft").replace("″", " in"), "length")


@pytest.mark.parametrize("name", NAMES)
def test_panels_of_the_cowling_keep_their_area(name: str) -> None:
    """Area by thickness and density is the part's mass, to 1 %: bodies are as thick across, not square to it."""
    by = {p.number: p for p in parts(name)}
    panels = [f for f in laid_flat(parts(name)) if "COWL" in f.name]
    assert {f.name.split("-")[2] for f in panels} == {"TOP", "BOTTOM", "SIDE", "NOSE"}
    for f in panels:
        part = by[f.numbers[0]]
        thick = float(part.stock.rsplit(", ", 1)[1].split()[0]) * 0.0254
        assert f.shape.area * thick * material(part.material).density == pytest.approx(part.mass, rel=1e-2), f.name
        assert f.count == len(f.numbers)


@pytest.mark.parametrize("name", NAMES)
def test_figures_are_the_corners(name: str) -> None:
    """Every corner of every sheet of straight edges is printed, along and up, and openings where they are."""
    found = laid_flat(parts(name))
    drawn = flat_drawings(parts(name), "inch")[0]
    printed = np.array([length(s.content) for s in drawn.strokes if isinstance(s, Text) and s.layer == "measure"])
    for f in found:
        corners = f.corners if len(f.corners) <= 14 else np.array([f.corners.min(axis=0), f.corners.max(axis=0)])
        for v in corners.ravel():
            assert abs(printed - v).min() <= HALF + 5e-4, f.name
    holes = [h for f in found for h in f.holes]
    rows = hole_table(found, "inch").rows
    assert len(rows) == len(holes) > 5
    for h, row in zip(holes, rows, strict=True):
        assert abs(length(row[1]) - h.middle[0]) <= HALF and abs(length(row[2]) - h.middle[1]) <= HALF
        assert abs(length(row[3].removeprefix("Ø ").split(" × ")[0]) - h.wide) <= HALF


@pytest.mark.parametrize("name", NAMES)
def test_openings_of_the_panel_are_the_plates(name: str) -> None:
    """Distances between them, which turning and shifting keep."""
    (part,) = [p for p in parts(name) if p.number.endswith("SHEET-PANEL")]
    assert isinstance(part.shape, Plate)
    (flat,) = [f for f in laid_flat(parts(name)) if f.name.endswith("SHEET-PANEL")]
    own = np.array([h.mean(axis=0) for h in part.shape.holes])
    drawn = np.array([h.middle for h in flat.holes])
    assert len(own) == len(drawn) > 3

    def apart(p: np.ndarray) -> np.ndarray:
        return np.sort(np.linalg.norm(p[:, None] - p[None], axis=2), axis=None)

    assert apart(own) == pytest.approx(apart(drawn), abs=1e-5)


def test_a_bent_body_has_no_flat_face_and_a_sloping_one_keeps_its_lengths() -> None:
    low = np.array([(0.0, 0.0, 0.0), (0.0, 0.0, 0.001), (0.0, 0.3, 0.001), (0.0, 0.3, 0.0)])
    flat = flat_face(between(low, low + [0.5, 0.0, 0.2]))
    assert flat is not None
    assert flat.bounds[2:] == pytest.approx((np.hypot(0.5, 0.2), 0.3), abs=1e-5)
    assert flat_face(between(low, (low + [0.5, 0.0, 0.2]) * [1.0, 1.0, 1.3])) is None
    angles = [p for p in parts("W1") if isinstance(p.shape, Formed) and "CORNER" in p.number]
    assert angles and all(flat_face(p.shape.body) is None for p in angles if isinstance(p.shape, Formed))


@pytest.mark.parametrize("name", NAMES)
def test_skins_and_angles_are_told_by_their_sizes(name: str) -> None:
    told = {n: d for d in developed(parts(name)) for n in d.numbers}
    for p in parts(name):
        if isinstance(p.shape, Skin) and p.shape.thickness > 0:
            assert (told[p.number].long, told[p.number].wide) == (p.shape.length, p.shape.width)
    on = {n for d in flat_drawings(parts(name), "inch") for n in d.shows}
    formed = {p.number for p in parts(name) if p.purpose == "cowling"}
    assert formed <= on


def test_a_pair_is_one_drawing() -> None:
    found: dict[str, LaidFlat] = {f.name: f for f in laid_flat(parts("W1"))}
    assert found["fuselage-COWL-SIDE"].count == 2 and len(found["fuselage-COWL-SIDE"].numbers) == 2
