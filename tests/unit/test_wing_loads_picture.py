"""The picture of the wings' loads: which cases it shows, and that an unknown one is no line."""

from __future__ import annotations

import numpy as np
import pytest

from sparwright.charts.page import Heading
from sparwright.charts.units import UNITS
from sparwright.charts.wing_loads import _chart, governing, torsion_unit, wing_loads_picture
from sparwright.loads.laid_out import SpanLoad
from sparwright.plans.drawing import Polyline, Text

Y = np.linspace(0.2, 3.8, 10)
TITLES = {"A": "pulled up", "G": "pushed", "r": "ailerons"}


def span(case: str, side: str, normal: float, torsion: float = -20.0, surface: str = "upper") -> SpanLoad:
    shape = np.sqrt(1 - (Y / 4) ** 2)
    return SpanLoad(surface=surface, side=side, case=case, y=Y, width=np.full(10, 0.4), chord=np.ones(10),
                    normal=normal * shape, chordwise=-0.1 * normal * shape, torsion=torsion * shape,
                    hinged=0 * Y, hinge=0 * Y)  # fmt: skip


SPANS = [span("A", "R", 900.0), span("A", "L", 900.0), span("G", "R", -300.0, -30.0), span("G", "L", -300.0, -30.0),
         span("r", "R", 400.0, 10.0), span("r", "L", 700.0, -60.0), span("small", "R", 100.0),
         span("small", "L", 100.0)]  # fmt: skip


def test_the_halves_that_govern() -> None:
    """Most and least load, most torsion either way; a case that is alike on both sides once, by its right half."""
    assert governing(SPANS) == (("A", "R"), ("G", "R"), ("r", "L"), ("r", "R"))
    assert governing([span("A", "R", np.nan)]) == ()
    assert len(governing([span(str(i), "R", 100.0 * i, 10.0 * i, f"w{i % 3}") for i in range(20)])) == 5


@pytest.mark.parametrize("units", ["inch", "millimetre"])
def test_a_line_for_each_in_each_chart(units: str) -> None:
    lower = [span(s.case, s.side, 0.5 * float(s.normal[0]), surface="lower") for s in SPANS]
    picture = wing_loads_picture(Heading("Loads"), [*SPANS, *lower], UNITS[units], TITLES)
    said = [s.content for s in picture.strokes if isinstance(s, Text)]
    assert sum("Upper wing" in x for x in said) == 3 and sum("Lower wing" in x for x in said) == 3
    assert said.count("left: ailerons") == said.count("pulled up") == 1
    lines = [s for s in picture.on("line") if isinstance(s, Polyline)]
    assert len(lines) >= 4 * 6
    assert "pulled up" in picture.words and "small" not in picture.words


def test_an_unknown_picture_says_why() -> None:
    picture = wing_loads_picture(Heading("Loads"), [], UNITS["inch"], {}, "the stalling speed is unknown")
    assert "the stalling speed is unknown" in picture.words


def test_torsion_has_the_units_of_the_picture() -> None:
    assert torsion_unit(UNITS["inch"]).name == "lbf·ft/ft"
    assert float(torsion_unit(UNITS["inch"]).of(np.array(4.4482216152605))) == pytest.approx(1.0)
    assert torsion_unit(UNITS["millimetre"]).name == "N·m/m"


def test_values_are_shown_in_the_units_of_the_axes() -> None:
    """Pounds force a foot, inches: 1 N/m is 0.0685 lbf/ft."""
    for what, factor in (("normal", 0.0685218), ("torsion", 0.2248089)):
        chart = _chart("upper", what, SPANS[:1], {("A", "R"): "solid"}, UNITS["inch"])
        (curve,) = chart.curves
        np.testing.assert_allclose(curve.y, getattr(SPANS[0], what) * factor, rtol=1e-5)
        np.testing.assert_allclose(curve.x, Y / 0.0254, rtol=1e-9)
