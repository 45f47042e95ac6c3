"""The picture of the aeroplane on the ground shows the numbers of the results, to scale, and says what is unknown."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from numpy.testing import assert_allclose

from sparwright.charts.on_ground import WIDTH, pictures, told
from sparwright.charts.page import Picture
from sparwright.charts.units import UNITS
from sparwright.ground.work import Touch, work_out
from sparwright.output.svg import picture_svg
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Line, Text
from sparwright.run import RunResult

MODELS = pytest.mark.parametrize("model", ["W1", "W2", "W3"])
NAMED = {"W1": "wing", "W2": "lower", "W3": "lower"}


def drawn(run: RunResult, units: str = "millimetre") -> Picture:
    return pictures(run.balance, run.flight, "origin", units)["on-the-ground"]


def words(picture: Picture) -> str:
    return " | ".join(s.content for s in picture.strokes if isinstance(s, Text))


@MODELS
def test_figures_are_those_of_the_results(ran, model: str) -> None:
    run = ran(model)
    said = words(drawn(run))
    for pose in ("level", "tail_down", "flat"):
        for what in ("propeller", f"wing.{NAMED[model]}"):
            metres = run.result(f"ground.{what}.{pose}").value
            assert f"{math.floor(1000 * metres + 1e-6)}" in said.replace(",", "").replace(" ", ""), (pose, what)
    for pose in ("level", "tail_down"):
        assert f"tilted {math.degrees(run.result(f'ground.tilt.{pose}').value):.1f}°" in said
        low = run.result(f"ground.angle.{pose}.foremost").low
        high = run.result(f"ground.angle.{pose}.aftmost").high
        assert f"{math.degrees(low):.1f}° to {math.degrees(high):.1f}° ahead" in said
    assert f"thrust line {math.degrees(run.result('ground.attitude').value):.1f}° up" in said


@MODELS
@pytest.mark.parametrize("units", ["inch", "millimetre"])
def test_nothing_lies_on_a_word_and_all_is_on_the_page(ran, model: str, units: str) -> None:
    picture = drawn(ran(model), units)
    assert clashes(picture) == ()
    assert picture.width == WIDTH and picture.height < 400
    assert b"<svg" in picture_svg(picture)[:300]


@MODELS
def test_clearances_are_drawn_to_scale(ran, model: str) -> None:
    """Upright dimensions on the page, two in each view, are in the ratio of what they stand for."""
    run = ran(model)
    lines = [s for s in drawn(run).strokes if isinstance(s, Line) and s.weight == "thick" and s.start[0] == s.end[0]]
    heights = [abs(s.end[1] - s.start[1]) for s in lines]
    wanted = [
        run.result(f"ground.{what}.{pose}").value
        for _ in ("side", "front")
        for pose in ("level", "tail_down")
        for what in ("propeller", f"wing.{NAMED[model]}")
    ]
    assert len(heights) == len(wanted) == 8
    assert_allclose([h / w for h, w in zip(heights, wanted, strict=True)], heights[0] / wanted[0], rtol=1e-6)


def test_a_propeller_that_touches_first_is_called_one(ran) -> None:
    run = ran("W2")
    on = work_out(run.flight.flown.model, run.balance)
    struck = replace(on, touches={"level": Touch(0.2, "propeller"), "tail_down": Touch(0.3, "upper")})
    said = " ".join(told(struck, UNITS["inch"]))
    assert "the propeller touches first" in said and "the upper wing touches first" in said


def test_what_is_not_said_is_not_drawn(ran) -> None:
    run = ran("W2")
    flown = replace(run.flight.flown, model=replace(run.flight.flown.model, ground=None))
    picture = pictures(run.balance, replace(run.flight, flown=flown), "origin")["on-the-ground"]
    assert "ground.springing.main.tyre" in words(picture) and "unknown" in picture.words
    assert not [s for s in picture.strokes if isinstance(s, Line)]
