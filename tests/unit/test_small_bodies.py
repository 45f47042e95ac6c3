"""Masses and bodies of small things, each by hand: a bolt, a foot bent up from a plate, the length of a skin."""

from __future__ import annotations

import math

import numpy as np
import pytest
from families import PROBE, reading
from numpy.testing import assert_allclose

from sparwright.parts.bolts import bolt_mass
from sparwright.parts.part import Foot, Plate, Skin
from sparwright.parts.skins import skin_parts

INCH = 0.0254


@pytest.mark.parametrize(("size", "inches"), [("AN3", 0.190), ("AN4", 0.250), ("AN6", 0.375)])
def test_a_bolt_weighs_its_shank_and_what_stands_over_it(size: str, inches: float) -> None:
    """Steel of 0.283 lb/in3: an inch more of grip is an inch more of rod; head, nut and washers as rod too."""
    area = math.pi / 4 * inches**2
    more = (bolt_mass(size, 2 * INCH) - bolt_mass(size, INCH)) / 0.45359237
    assert_allclose(more, area * 0.283, rtol=2e-3)
    bare = bolt_mass(size, 0.0) / 0.45359237 / (area * 0.283) / inches
    assert_allclose(bare, 5.0, rtol=1e-6)  # diameters of rod for head, nut, thread and washers


def test_a_bolt_of_a_quarter_inch_and_an_inch_of_grip_weighs_a_third_of_an_ounce() -> None:
    """AN4-14 with nut and two washers: 0.0208 + 0.0045 + 0.002 lb or so by a seller's list (memory)."""
    assert 0.020 < bolt_mass("AN4", INCH) / 0.45359237 < 0.032


@pytest.mark.parametrize("height", [0.02, -0.015])
def test_a_foot_stands_on_its_edge_and_inside_the_outline(height: float) -> None:
    outline = np.array([(0.0, 0.0), (0.1, 0.0), (0.1, 0.05), (0.0, 0.05)])
    t = 0.002
    body = Plate(outline=outline, holes=(), thickness=t, foot=Foot(start=(0.02, 0.0), end=(0.07, 0.0), height=height))
    flat = Plate(outline=outline, holes=(), thickness=t)
    solid = body.solid()
    assert_allclose(solid.volume - flat.solid().volume, 0.05 * t * abs(height), rtol=1e-9)
    over = solid.points[np.abs(solid.points[:, 2]) > t / 2 + 1e-9]
    assert_allclose([over[:, 0].min(), over[:, 0].max()], [0.02, 0.07])
    assert_allclose([over[:, 1].min(), over[:, 1].max()], [0.0, t], atol=1e-12)
    assert_allclose(over[np.abs(over[:, 2]).argmax(), 2], height + math.copysign(t / 2, height))


def test_a_skin_is_as_long_as_its_panel_or_from_tip_to_tip() -> None:
    """P2's upper wing: the middle panel's skins reach from side to side, the outer ones from root to tip."""
    model = reading(PROBE).models["P2"]
    for panel in model.wings[0].panels:
        whole = panel.root_buttline < 1e-9
        wanted = 2 * panel.tip_buttline if whole else panel.tip_buttline - panel.root_buttline
        mine = [p for p in skin_parts(model, model.wings[0]) if f" {panel.name}" in p.name]
        assert mine
        for part in mine:
            assert isinstance(part.shape, Skin)
            assert_allclose(part.shape.length, wanted, rtol=1e-6)
