"""The chart maker: round figures, names on lines, limits, bands, gaps, and a page that reads in grey."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.base.look import LOOK, contrast
from sparwright.base.problem import DesignProblem
from sparwright.charts.axes import Axis, frame
from sparwright.charts.chart import Chart, Curve, Limit, Measured, Note, plot
from sparwright.charts.label import NEARER, Name, place
from sparwright.charts.page import (
    CHART_LAYERS,
    CHARTING,
    STYLES,
    Heading,
    Picture,
    line_style,
    model_styles,
    page,
    wing_styles,
)
from sparwright.charts.ticks import lettered, reach, ticks
from sparwright.output.svg import picture_svg
from sparwright.plans.clash import clashes, line_of
from sparwright.plans.drawing import Area, Box, Circle, Line, Polyline, Text
from sparwright.plans.lettering import box

X = np.linspace(0.0, 10.0, 41)
BOX = Box(8.0, 0.0, 108.0, 74.0)


def drawn(chart: Chart) -> Picture:
    return page(Heading("Trial"), 116.0, plot(chart, BOX), BOX.bottom, BOX.top, "a trial")


def said(picture: Picture) -> list[str]:
    return [s.content for s in picture.strokes if isinstance(s, Text)]


def clean(picture: Picture) -> None:
    """No word runs into a word or a line, and nothing leaves the page."""
    assert clashes(picture) == ()
    room = shapely.box(0, 0, picture.width, picture.height)
    for s in picture.strokes:
        shape = shapely.Polygon(box(s)) if isinstance(s, Text) else (
            shapely.Polygon(s.points) if isinstance(s, Area) else line_of(s))  # fmt: skip
        assert room.covers(shape), s


@given(st.floats(-1e6, 1e6), st.floats(1e-6, 1e6), st.integers(2, 12))
def test_ticks_hold_the_range_are_round_even_and_few(low: float, wide: float, most: int) -> None:
    high = low + wide
    if not high - low > 1e-9 * max(abs(low), abs(high)):
        return
    found = ticks(low, high, most)
    step = found[1] - found[0]
    slack = 1e-6 * step
    assert found[0] <= low + slack and found[-1] >= high - slack
    assert len(found) <= most + 2
    np.testing.assert_allclose(np.diff(found), step, rtol=1e-6, atol=0)
    lead = step / 10 ** math.floor(math.log10(step) + 1e-9)
    assert min(abs(lead - r) for r in (1, 2, 5, 10)) < 1e-6


def test_ticks_refuse_what_has_no_range() -> None:
    assert ticks(0.0, 0.0) == (-1.0, 0.0, 1.0)
    with pytest.raises(ValueError, match="no ticks"):
        ticks(0.0, float("nan"))
    with pytest.raises(ValueError, match="no ticks"):
        ticks(2.0, 1.0)


def test_figures_of_an_axis_share_their_places_and_have_true_minus_signs() -> None:
    assert lettered((-1.0, -0.5, 0.0)) == ("−1.0", "−0.5", "0.0")
    assert lettered((0.0, 1000.0, 2000.0)) == ("0", "1,000", "2,000")
    assert reach(-6.3, 18.2, 2.0) == (-6.5, 18.5)


def test_an_axis_that_grows_down_or_left_is_turned_round() -> None:
    f = frame("h", Axis("x"), Axis("Cp", down=True), X, np.array([-2.0, 1.0]), BOX)
    up, down = f.y_at(np.array([-2.0, 1.0]))
    assert up == pytest.approx(f.box.top) and down == pytest.approx(f.box.bottom)


def test_each_model_and_each_wing_keeps_its_line() -> None:
    assert model_styles(["W1", "W2", "W3"]) == {"W1": "solid", "W2": "dash", "W3": "chain"}
    three = wing_styles([("lower", 0.1), ("upper", 2.0), ("middle", 1.0)])
    assert three == {"upper": "solid", "middle": "dash", "lower": "chain"}
    assert wing_styles([("lower", 0.1), ("upper", 2.0)]) == {"upper": "solid", "lower": "chain"}
    assert wing_styles([("wing", 1.0)]) == {"wing": "solid"}
    assert len(set(STYLES)) == 5 and len(set(wing_styles([(str(i), i) for i in range(5)]).values())) == 5
    with pytest.raises(DesignProblem, match="at most 5"):
        line_style(5)


def test_a_chart_takes_five_lines_and_no_more() -> None:
    curves = tuple(Curve(f"line {i}", X, X * i) for i in range(6))
    assert plot(Chart("five", Axis("x", "m"), Axis("y", "m"), curves[:5]), BOX)
    with pytest.raises(DesignProblem, match="6 lines"):
        plot(Chart("six", Axis("x", "m"), Axis("y", "m"), curves), BOX)


def test_axes_are_named_with_their_unit() -> None:
    words = said(drawn(Chart("h", Axis("Buttline", "in"), Axis("Lift coefficient"), (Curve("a", X, X),))))
    assert "Buttline, in" in words and "Lift coefficient (no unit)" in words


def test_a_name_stands_beside_its_own_line_and_nearer_to_it_than_to_another() -> None:
    lines = {"upper one": shapely.LineString([(0, 40), (90, 60)]), "lower one": shapely.LineString([(0, 20), (90, 25)])}
    placed, left = place([Name(t, g) for t, g in lines.items()], Box(0, 0, 100, 70), [])
    assert not left and len(placed) == 2
    for p in placed:
        assert p.leader is None
        b = shapely.box(p.box.left, p.box.bottom, p.box.right, p.box.top)
        own, other = (b.distance(g) for g in sorted(lines.values(), key=lambda g: g is not p.name.of))
        assert own > 0.4 * CHARTING.gap and other >= NEARER * own


def test_a_name_without_room_beside_its_line_gets_a_leader_that_ends_on_it() -> None:
    fan = [shapely.LineString([(0, 10), (60, 30 + 1.2 * i)]) for i in range(5)]
    placed, left = place([Name(f"line {i}", g) for i, g in enumerate(fan)], Box(0, 0, 90, 60), [])
    assert not left
    led = [p for p in placed if p.leader is not None]
    assert len(led) >= 3, "the lines in the middle of a fan have no room beside them"
    for p in led:
        assert p.leader is not None
        assert shapely.Point(p.leader.end).distance(p.name.of) < 1e-6
        assert min(shapely.Point(p.leader.end).distance(g) for g in fan if g is not p.name.of) > 0.3


def test_a_name_without_any_room_is_left_out_and_told_below_the_chart() -> None:
    _, left = place([Name("far too long a name for this", shapely.LineString([(0, 0), (9, 9)]))], Box(0, 0, 10, 10), [])
    assert [n.text for n in left] == ["far too long a name for this"]
    long = "a name so long that nobody could ever find room for it inside the axes of the chart"
    picture = drawn(Chart("h", Axis("x"), Axis("y"), (Curve(long, X, X, dash="chain"), Curve("b", X, 10 - X))))
    clean(picture)
    assert long in " ".join(said(picture)) and said(picture).count("b") == 1
    assert any(isinstance(s, Line) and s.dash == "chain" for s in picture.on("line")), (
        "no piece of line beside the name"
    )


def test_a_note_without_room_is_told_below_with_its_mark() -> None:
    long = "a word so long that nobody could ever find room for it inside the axes of the chart"
    picture = drawn(Chart("h", Axis("x"), Axis("y"), (Curve("a", X, X),), notes=(Note(long, 5.0, 5.0),)))
    clean(picture)
    assert long in " ".join(said(picture))
    marks = [np.mean(s.points, axis=0) for s in picture.on("point") if isinstance(s, Polyline)]
    low = min(s.anchor[1] for s in picture.strokes if isinstance(s, Text) and s.content.startswith("a word so"))
    assert len(marks) == 2 and any(abs(y - low) < 2 * CHARTING.small and x < 24 for x, y in marks)


@settings(max_examples=25, deadline=None)
@given(st.lists(st.tuples(st.floats(-2, 2), st.floats(-0.3, 0.3), st.floats(-3, 3)), min_size=1, max_size=5))
def test_any_five_lines_are_each_named_once_and_cleanly(shapes: list[tuple[float, float, float]]) -> None:
    curves = tuple(
        Curve(f"line {i}", X, a + b * X + c * np.sin(X / 2), dash=STYLES[i]) for i, (a, b, c) in enumerate(shapes)
    )
    picture = drawn(Chart("h", Axis("x", "m"), Axis("y", "m"), curves))
    clean(picture)
    assert sorted(w for w in said(picture) if w.startswith("line ")) == sorted(c.name for c in curves)


def test_an_unknown_value_leaves_a_gap() -> None:
    y = X.copy()
    y[15:20] = math.nan
    lines = [s for s in plot(Chart("h", Axis("x"), Axis("y"), (Curve("a", X, y),)), BOX)
             if isinstance(s, Polyline) and s.layer == "line"]  # fmt: skip
    assert [len(s.points) for s in lines] == [15, len(X) - 20]


def test_a_chart_without_values_says_what_is_missing() -> None:
    for why, words in (("no section data", "Unknown: no section data"), ("", "Unknown.")):
        none = Chart("h", Axis("x"), Axis("y"), (Curve("a", X, X * math.nan),), unknown=why)
        assert words in said(drawn(none))


@pytest.mark.parametrize(("fails", "down", "above"), [("above", False, True), ("below", False, False),
                                                      ("above", True, False), ("below", True, True)])  # fmt: skip
def test_the_failing_side_of_a_limit_is_hatched(fails: str, down: bool, above: bool) -> None:
    limit = Limit("limit", np.array([0.0, 10.0]), np.array([5.0, 5.0]), fails)  # type: ignore[arg-type]
    chart = Chart("h", Axis("x"), Axis("y", down=down), (Curve("a", X, X),), limits=(limit,))
    barbs = [s for s in plot(chart, BOX) if isinstance(s, Line) and s.layer == "hatch" and s.start[0] != s.end[0]]
    assert len(barbs) > 20
    assert all((s.end[1] > s.start[1]) == above for s in barbs)


def test_the_band_is_a_tone_under_the_line_and_points_lie_over_it() -> None:
    chart = Chart("h", Axis("x"), Axis("y"), (Curve("a", X, X, X - 1, X + 1),), (Measured("seen", X[::8], X[::8]),))
    picture = drawn(chart)
    clean(picture)
    assert [s.tone for s in picture.on("tone") if isinstance(s, Area)] == ["light"]
    order = [layer.name for layer in CHART_LAYERS]
    assert order.index("tone") < order.index("grid") < order.index("line") < order.index("point") < order.index("note")
    assert sum(isinstance(s, Circle) for s in picture.on("point")) == len(X[::8])
    text = picture_svg(picture).decode()
    assert text.index('id="tone"') < text.index('id="line"') < text.index('id="point"')


def test_values_lie_where_the_axes_say() -> None:
    strokes = plot(
        Chart("h", Axis("x"), Axis("y"), (), (Measured("p", np.array([2.0, 8.0]), np.array([1.0, 4.0])),)), BOX
    )
    marks = [s.centre for s in strokes if isinstance(s, Circle)]
    f = frame("h", Axis("x"), Axis("y"), np.array([2.0, 8.0]), np.array([1.0, 4.0]), BOX)
    figures = {s.content: s.anchor for s in strokes if isinstance(s, Text) and re.fullmatch(r"[\d.]+", s.content)
               and s.align == "middle"}  # fmt: skip
    two, four = figures["2"][0], figures["4"][0]
    np.testing.assert_allclose(marks[0][0], two, rtol=0, atol=1e-9)
    np.testing.assert_allclose(marks[1][0], two + 3 * (four - two), rtol=0, atol=1e-9)
    assert f.box.left - 1e-9 <= marks[0][0] < marks[1][0] <= f.box.right + 1e-9


def test_a_note_is_a_diamond_at_its_place_with_its_word() -> None:
    picture = drawn(Chart("h", Axis("x"), Axis("y"), (Curve("a", X, X),), notes=(Note("lets go", 5.0, 5.0),)))
    clean(picture)
    assert "lets go" in said(picture)
    assert [s.weight for s in picture.on("point") if isinstance(s, Polyline)] == ["thick"]


def test_charts_read_in_grey_and_to_colour_blind_eyes() -> None:
    """Ink 7 : 1 and rule 4.5 : 1 on every tone, and no hue that could carry a meaning."""
    colours = {layer.name: layer.colour for layer in CHART_LAYERS}
    assert set(colours.values()) <= {"ink", "rule", "faint"}
    assert colours["hatch"] == colours["line"] == colours["note"] == "ink", "these may lie on the middle tone"
    for name, tone in LOOK.tones:
        assert contrast(LOOK.ink, tone) >= 7, name
        assert contrast(LOOK.rule, tone) >= 4.5 or name == "middle", f"only ink is drawn on {name}"
        channels = [int(tone[i : i + 2], 16) for i in (1, 3, 5)]
        assert max(channels) - min(channels) <= 10, f"{name} has a hue"
    steps = [contrast(LOOK.ink, tone) for _, tone in LOOK.tones]
    assert steps == sorted(steps, reverse=True), "each tone is darker than the one before"
    assert len({tuple(LOOK.dash(s)) for s in STYLES}) == 5, "lines differ by dash, not by hue"


def test_a_picture_says_what_it_shows_to_who_cannot_see_it() -> None:
    text = picture_svg(drawn(Chart("h", Axis("x"), Axis("y"), (Curve("a", X, X),)))).decode()
    assert "<title>Trial</title>" in text and "<desc>a trial</desc>" in text
    assert set(re.findall(r'(?:fill|stroke)="(#[0-9a-f]{6})"', text)) <= {
        LOOK.ink, LOOK.rule, LOOK.faint, *(t for _, t in LOOK.tones)}  # fmt: skip
