"""One rule for the side of the line on every sheet; tools and prick points by material."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sparwright.parts.part import Part, Plate
from sparwright.plans.drawing import Text
from sparwright.plans.paper import TitleBlock
from sparwright.plans.side import LEGEND, crosses, side
from sparwright.plans.templates import templates

TITLE = TitleBlock("Whinchat", "T1", "Sparwright 0.1.0", "0" * 64)
RING = np.array([[0, 0], [0.4, 0], [0.3, 0.15]])
HOLE = np.array([[0.2, 0.03], [0.25, 0.08], [0.28, 0.03]])


def words(material: str, **more: object) -> str:
    plate = Plate(outline=RING, holes=(), thickness=0.003)
    part = Part(number="T1-P", name="plate", form="plate", group="g", purpose="p", material=material, stock="sheet",
                places=((0, 0, 0),), mass=0.1, shape=replace(plate, **more))  # fmt: skip
    (sheet,) = templates((part,), "A1", TITLE)
    return " ".join(s.content for s in sheet.strokes if isinstance(s, Text))


@pytest.mark.parametrize("material", ("birch-ply", "spruce", "6061-T6", "4130N", "glass-epoxy", "not on file"))
def test_outlines_until_the_line_is_gone_and_holes_leave_it_whatever_the_material(material: str) -> None:
    assert side(material, holes=True).endswith("until the line is gone; in holes leave it")
    said = words(material, holes=(HOLE,))
    assert "until the line is gone; in holes leave it. This side up." in said
    assert "in holes leave it" not in words(material)
    assert " ".join(LEGEND.split()[:6]) in said


def test_tools_and_crosses_by_material() -> None:
    assert side("spruce", False).startswith("saw and sand") and side("2024-T3", False).startswith("cut and file")
    assert side("acrylic", False).startswith("cut and trim")
    assert crosses("birch-ply") == "" and "a scratch in metal starts a crack" in words("6061-T6")
    assert "scratch" not in words("birch-ply")


def test_a_flat_blank_says_it_too() -> None:
    said = words("6061-T6", blank=RING * 1.2, bend="flange bent towards you")
    assert "Solid line: flat blank; cut and file until the line is gone." in said
