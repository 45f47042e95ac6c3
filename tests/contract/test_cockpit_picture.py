"""The picture of who sits in the cockpit shows the numbers of the results, to scale, and says what is unknown."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from numpy.testing import assert_allclose

from sparwright.charts.in_cockpit import WIDTH, cockpit_pictures
from sparwright.charts.page import Picture
from sparwright.family.model import Family
from sparwright.occupant.fit import fits
from sparwright.output.svg import picture_svg
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Circle, Text

MODELS = pytest.mark.parametrize("model", ["W1", "W2", "W3"])


def words(picture: Picture) -> str:
    return " ".join(s.content for s in picture.strokes if isinstance(s, Text))


@MODELS
def test_figures_are_those_of_the_results(ran, whinchat: Family, model: str) -> None:
    picture, run = cockpit_pictures(whinchat.models[model], "origin", "millimetre")["cockpit"], ran(model)
    said = words(picture).replace(" ", "").replace(",", "")
    for who in ("female_5", "male_95"):
        for what in ("eye", "head.wing", "knees", "reach.stick", "reach.throttle", "cushion", "behind"):
            assert f"{1000 * run.result(f'occupant.{what}.{who}').value:.0f}" in said, (what, who)
        for what in ("view", "harness.shoulder", "harness.lap"):
            assert f"{math.degrees(run.result(f'occupant.{what}.{who}').value):.1f}°" in said, (what, who)
    assert said.count("downoverthenose") == 2 and "eye at waterline" in picture.words


@MODELS
@pytest.mark.parametrize("units", ["inch", "millimetre"])
def test_nothing_lies_on_a_word_and_all_is_on_the_page(whinchat: Family, model: str, units: str) -> None:
    picture = cockpit_pictures(whinchat.models[model], "origin", units)["cockpit"]
    assert clashes(picture) == ()
    assert picture.width == WIDTH and picture.height < 300
    svg = picture_svg(picture)
    assert b"<svg" in svg[:300] and b"nan" not in svg.split(b"</style>")[-1]


def test_joints_are_drawn_to_scale(whinchat: Family) -> None:
    """Dots of each person: two knees, hip, shoulder, eye, as far apart on the page as their links say."""
    model = whinchat.models["W2"]
    dots = [s.centre for s in cockpit_pictures(model, "origin")["cockpit"].strokes
            if isinstance(s, Circle) and s.layer == "point"]  # fmt: skip
    assert len(dots) == 10
    found = fits(model)
    scales = []
    for key, five in (("female_5", dots[:5]), ("male_95", dots[5:])):
        f = found[key]
        assert f.reached is not None and f.folded is not None
        true = (f.reached.knee, f.folded.knee, f.sitting.hip, f.sitting.shoulder, f.sitting.eye)
        scales += [math.dist(five[i], five[j]) / math.dist(true[i], true[j]) for i in range(5) for j in range(i)]
    assert_allclose(scales, scales[0], rtol=1e-6)


def test_without_a_seat_it_says_so(whinchat: Family) -> None:
    picture = cockpit_pictures(replace(whinchat.models["W1"], seat=None), "origin")["cockpit"]
    assert "the file has no seat" in words(picture) and "unknown" in picture.words
    assert not [s for s in picture.strokes if isinstance(s, Circle)]


def test_a_bare_seat_is_still_drawn(whinchat: Family) -> None:
    """Nothing said but the seat itself: two people on it, nothing of what they reach."""
    model = whinchat.models["W1"]
    assert model.seat is not None
    bare = replace(model.seat, stick=None, throttle=None, pedals=None, panel=None, harness=None, coaming=None)
    picture = cockpit_pictures(replace(model, seat=bare), "origin")["cockpit"]
    assert clashes(picture) == () and "stick" not in picture.words
    assert len([s for s in picture.strokes if isinstance(s, Circle) and s.layer == "point"]) == 6
