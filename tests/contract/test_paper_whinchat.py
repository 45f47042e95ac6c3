"""The demo family's own ribs on paper: nothing runs into anything, every point where it was computed."""

from __future__ import annotations

from functools import cache
from io import BytesIO
from pathlib import Path

import numpy as np
import pdfplumber
import pytest

from sparwright.family.reader import load
from sparwright.output.pdf import pdf
from sparwright.parts.part import Part
from sparwright.parts.ribs import ribs
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Sheet
from sparwright.plans.paper import PAPERS, TitleBlock
from sparwright.plans.templates import templates

WHINCHAT = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
MODELS = ("W1", "W2", "W3")
MM = 25.4 / 72


@cache
def parts(model: str) -> tuple[Part, ...]:
    found = load(WHINCHAT).models[model]
    return tuple(part for wing in found.wings for part in ribs(found, wing))


@cache
def sheets(model: str, paper: str) -> tuple[Sheet, ...]:
    return templates(parts(model), paper, TitleBlock("Whinchat", model, "Sparwright", "0" * 64))


@pytest.mark.long
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("model", MODELS)
def test_every_rib_of_every_wing_has_its_template_and_nothing_clashes(model, paper):
    shown = {number for sheet in sheets(model, paper) for number in sheet.shows}
    assert shown == {part.number for part in parts(model)}
    assert [(s.number, clashes(s)) for s in sheets(model, paper) if clashes(s)] == []


@pytest.mark.long
@pytest.mark.parametrize("model", MODELS)
def test_every_point_of_every_rib_is_found_in_the_pdf_within_a_twentieth_of_a_millimetre(model):
    by_number = {part.number: part.shape for part in parts(model)}
    off: dict[str, np.ndarray] = {}
    with pdfplumber.open(BytesIO(pdf(sheets(model, "24x36"), "t", "p"))) as document:
        for sheet, page in zip(sheets(model, "24x36"), document.pages, strict=True):
            height = float(page.height)
            paths = [*page.curves, *page.lines, *page.rects]
            points = np.array([(x * MM, (height - y) * MM) for path in paths for x, y in path["pts"]])
            for place in sheet.placements:
                shape = by_number[place.part]
                rings = [shape.outline, *shape.holes, *([] if shape.blank is None else [shape.blank])]
                wanted = np.vstack(rings) * 1000 + np.array([place.dx, place.dy])
                here = np.array([np.hypot(*(points - w).T).min() for w in wanted])
                off[place.part] = np.minimum(off.get(place.part, np.inf), here)
    assert set(off) == set(by_number)
    assert max(d.max() for d in off.values()) < 0.05  # mm, what a template may be off
