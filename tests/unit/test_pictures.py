"""Pictures from plain arrays: polar, pressure, load along the span, stall from above, drag by item."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
import shapely

from sparwright.base.problem import DesignProblem
from sparwright.base.source import Band
from sparwright.charts.drag_bars import DragBar, drag_picture
from sparwright.charts.lift_curves import LiftCurves, LiftOf, lift_picture
from sparwright.charts.page import CHARTING, Heading, Picture
from sparwright.charts.polar import Greatest, MeasuredPolar, Polar, polar_picture
from sparwright.charts.pressure import MeasuredPressure, Pressure, Surface, pressure_picture
from sparwright.charts.span import SpanLoading, WingLoading, span_picture
from sparwright.charts.stall_seen import SHADES, WingSeen, shade_of, stall_picture
from sparwright.charts.units import UNITS
from sparwright.family.model import Section
from sparwright.plans.clash import clashes, line_of
from sparwright.plans.drawing import Area, Line, Polyline, Text
from sparwright.plans.lettering import box
from sparwright.shape.planform import Planform
from sparwright.shape.section import curve

HEAD = Heading("A picture", "in some state", "Whinchat W9, Sparwright 0")
ANGLES = np.linspace(-8.0, 18.0, 53)


def clean(picture: Picture) -> list[str]:
    """The words on it; no word runs into a word or a line, and nothing leaves the page."""
    assert clashes(picture) == ()
    room = shapely.box(0, 0, picture.width, picture.height)
    for s in picture.strokes:
        shape = shapely.Polygon(box(s)) if isinstance(s, Text) else (
            shapely.Polygon(s.points) if isinstance(s, Area) else line_of(s))  # fmt: skip
        assert room.covers(shape), s
    return [s.content for s in picture.strokes if isinstance(s, Text)]


def polar(name: str, reynolds: float) -> Polar:
    a = ANGLES
    lift = np.minimum(0.1 * (a + 4), 1.1 + 0.1 * np.log10(reynolds)) - 0.004 * np.clip(a - 12, 0, None) ** 2
    drag = 0.006 + 0.004 * (lift - 0.3) ** 2 + 0.002 / reynolds + 0.0005 * np.clip(a - 10, 0, None) ** 2
    leaves = np.where(a > 10, 1 - 0.08 * (a - 10), np.nan)
    return Polar(name, a, lift, drag, -0.09 + 0.001 * np.log10(reynolds) * a, np.clip(0.6 - 0.04 * a, 0.01, 1),
                 np.clip(0.4 + 0.05 * a, 0.02, 1), leaves, np.full(a.size, np.nan))  # fmt: skip


def test_polar_picture_names_each_line_in_each_chart_and_leaves_out_what_never_happens() -> None:
    polars = [polar(f"Re {r:.1f} M", r) for r in (0.5, 1.0, 2.0, 4.0, 9.0)]
    seen = MeasuredPolar("wind tunnel, Re 3.1 M", ANGLES[::6], polars[2].lift[::6], polars[2].drag[::6],
                         np.full(ANGLES[::6].size, np.nan))  # fmt: skip
    picture = polar_picture(HEAD, polars, [seen])
    words = clean(picture)
    charts = ("Lift over angle", "Drag over lift, from least to greatest",
              "Moment about the quarter chord", "Turns turbulent, upper surface",
              "Turns turbulent, lower surface", "Separates, upper surface")  # fmt: skip
    assert all(words.count(c) == 1 for c in charts) and "Separates, lower surface" not in words
    for p in polars:
        assert words.count(p.name) == len(charts)
    assert words.count(seen.name) == 2, "moments were not measured"
    i = int(np.argmax(polars[0].lift))
    assert f"Re 0.5 M: greatest lift shown {polars[0].lift[i]:.2f} at {ANGLES[i]:.1f} deg" in picture.words
    with pytest.raises(DesignProblem, match="at most 5"):
        polar_picture(HEAD, [*polars, polar("Re 20 M", 20.0)])


def test_polar_with_a_band_and_a_gap_where_it_is_unknown() -> None:
    p = polar("Re 1.0 M", 1.0)
    lift = np.where(ANGLES > 14, np.nan, p.lift)
    picture = polar_picture(HEAD, [replace(p, lift=lift, lift_band=(lift * 0.95, lift * 1.05))])
    clean(picture)
    assert any(isinstance(s, Area) for s in picture.on("tone"))
    unknown = polar_picture(HEAD, [replace(p, lift=lift * math.nan)])
    assert "Unknown." in clean(unknown) and "Re 1.0 M: unknown" in unknown.words


def pressures() -> Pressure:
    x = (1 - np.cos(np.linspace(0, np.pi, 60))) / 2
    upper = 1 - 2.6 * np.sqrt(x) * np.exp(-1.5 * x) - 1.2 * np.exp(-40 * (x - 0.05) ** 2)
    lower = 0.9 * np.exp(-6 * x) + 0.05
    return Pressure(Surface(x, upper, 0.23, 0.88), Surface(x, lower, 0.71), curve(Section(name="s", naca="4412")),
                    (Surface(x, upper * 1.05), Surface(x, lower)))  # fmt: skip


def test_pressure_picture_has_suction_upwards_and_the_section_in_line_beneath() -> None:
    shown = pressures()
    seen = MeasuredPressure("wind tunnel", shown.upper.x[::8], shown.upper.pressure[::8])
    picture = pressure_picture(HEAD, shown, [seen])
    words = clean(picture)
    for word in ("turns turbulent at 0.23", "separates at 0.88", "turns turbulent at 0.71", "upper surface",
                 "lower surface", "wind tunnel", "without boundary layer"):  # fmt: skip
        assert words.count(word) == 1, word
    lines = [s for s in picture.on("line") if isinstance(s, Polyline)]
    outline = next(s for s in lines if s.closed)
    upper = next(s for s in lines if not s.closed and s.dash == "solid")
    top = max(upper.points, key=lambda p: p[1])
    assert upper.points.index(top) == int(np.argmin(shown.upper.pressure)), "the greatest suction is uppermost"
    xs = [p[0] for p in outline.points]
    assert min(p[1] for p in upper.points) > max(p[1] for p in outline.points)
    np.testing.assert_allclose([min(xs), max(xs)], [upper.points[0][0], upper.points[-1][0]], rtol=0, atol=0.05)
    marks = [s for s in picture.on("point") if isinstance(s, Line)]
    at = sorted((m.start[0] - min(xs)) / (max(xs) - min(xs)) for m in marks)
    np.testing.assert_allclose(at, [0.23, 0.71, 0.88], rtol=0, atol=1e-3)


def test_pressure_without_events_has_no_marks() -> None:
    x = np.linspace(0, 1, 20)
    picture = pressure_picture(HEAD, Pressure(Surface(x, -x), Surface(x, x), curve(Section(name="s", naca="0012"))))
    assert not any("turbulent" in w or "separates" in w for w in clean(picture))
    assert "nowhere or unknown" in picture.words


@pytest.mark.parametrize("naca", ["0006", "4421"])
@pytest.mark.parametrize(
    "places", [(0.0, 0.0, 0.0, 0.01), (0.5, 0.51, 0.5, 0.5), (1.0, 1.0, 1.0, 0.99), (0.0, 0.02, 1.0, 1.0)]
)
def test_marks_close_together_are_all_told(naca: str, places: tuple[float, ...]) -> None:
    x, (a, b, c, d) = np.linspace(0, 1, 30), places
    shown = Pressure(Surface(x, -2 * np.exp(-3 * x), a, b), Surface(x, 0.5 * np.exp(-3 * x), c, d),
                     curve(Section(name="s", naca=naca)))  # fmt: skip
    told = " ".join(clean(pressure_picture(HEAD, shown)))
    assert len(re.findall("turns turbulent at", told)) == 2 and len(re.findall("separates at", told)) == 2


def loading(name: str, waterline: float, load: float) -> WingLoading:
    y = np.linspace(0.1, 3.0, 14)
    shape = np.sqrt(1 - (y / 3.1) ** 2)
    return WingLoading(name, y, load * shape, load / 300 * shape, np.where(y < 0.4, np.nan, 1.4), waterline)


@pytest.mark.parametrize("units", ["inch", "millimetre", "si"])
def test_span_picture_keeps_one_line_for_each_wing(units: str) -> None:
    cell = (loading("lower", 0.0, 250), loading("middle", 0.8, 300), loading("upper", 1.6, 350))
    stalled = tuple(replace(w, lift=w.lift * 1.2) for w in cell)
    picture = span_picture(
        HEAD, SpanLoading("cruise, 84 kt", cell), SpanLoading("the stall, 36 kt", stalled), UNITS[units]
    )
    words = clean(picture)
    assert [w for w in words if w.endswith("wing, sections")] == [
        f"{n} wing, sections" for n in ("Upper", "Middle", "Lower")
    ]
    assert words.count("greatest lift of each strip") == 3 and words.count("upper") == 2
    dashes = [s.dash for s in picture.on("line") if isinstance(s, Polyline) and s.weight == "thick"]
    assert dashes == ["solid", "dash", "chain"] * 3, "at cruise, at the stall, and each wing's sections at the stall"
    unit = UNITS[units].per_length
    assert f"Lift per length of span, {unit.name}" in words


def test_span_picture_with_an_unknown_stall_says_why() -> None:
    cruise = SpanLoading("cruise, 84 kt", (loading("wing", 0.0, 300),))
    picture = span_picture(HEAD, cruise, SpanLoading("the stall", (), "nothing is on file"), UNITS["inch"])
    assert "Unknown: nothing is on file" in clean(picture)
    assert "the stall: unknown, nothing is on file" in picture.words


def wing(name: str, waterline: float, first: int = -1, side: float = 0.0) -> WingSeen:
    edge = np.array([[1.0, 1.0, 1.1], [0.0, max(side, 0.3), 3.0], [waterline] * 3])
    form = Planform(name, edge, np.array([1.0, 1.0, 0.8]), np.zeros(3), ("s",) * 3, side, 0.75, 1.4, 2.9)
    spare = np.radians(np.linspace(0.5 if first >= 0 else -1.0, -9.0, 12))
    leaves = np.linspace(0.4 if first >= 0 else 0.8, 1.0, 12)
    edges = np.linspace(0.0, 3.0, 13)
    return WingSeen(form, edges, (edges[1:] + edges[:-1]) / 2, spare, leaves, first)


def test_stall_picture_stacks_the_wings_from_the_top_down_and_names_the_first_strip() -> None:
    picture = stall_picture(HEAD, [wing("lower", 0.0, side=0.3), wing("upper", 1.6, first=0)], UNITS["inch"])
    words = clean(picture)
    at = {s.content: s.anchor[1] for s in picture.strokes if isinstance(s, Text)}
    assert at["Upper wing"] > at["lets go first, both sides alike"] > at["Lower wing"]
    assert words.count("aileron") == 4
    outlines = [
        shapely.Polygon(s.points) for s in picture.on("line") if isinstance(s, Polyline) and s.weight == "thick"
    ]
    assert len(outlines) == 3, "one whole wing, and two halves with the fuselage between"
    assert not any(a.intersects(b) for i, a in enumerate(outlines) for b in outlines[:i]), "nothing hides"
    assert "lets go first" in picture.words.split("Lower wing")[0]


def test_a_wing_is_told_by_how_far_its_strips_are_past_or_short() -> None:
    """One strip of twelve, of equal width, is past by 0.5 deg; without it the nearest is 1 deg short."""
    told = stall_picture(HEAD, [wing("wing", 0.0, first=0)], UNITS["si"]).words
    assert "8 % of its span is past its greatest lift, most by 0.5 deg at buttline 0.12 m" in told
    told = stall_picture(HEAD, [wing("wing", 0.0)], UNITS["si"]).words
    assert "no strip is past its greatest lift; the nearest works 1.0 deg short of it, at buttline 0.12 m" in told


@pytest.mark.parametrize(
    ("leaves", "words"),
    [
        (np.ones(12), "in attached flow, which does not separate before the tail"),
        (np.linspace(0.5, 1.0, 12), "in separated flow over 7 % of its span; the flow separates foremost at 0.73"),
        (np.linspace(0.7, 1.0, 12), "in attached flow up to its hinge; the flow separates foremost at 0.84"),
        (np.where(np.arange(12) == 11, math.nan, 1.0), "the flow before it is unknown"),
        (np.where(np.arange(12) == 4, 0.1, 1.0), "in attached flow, which does not"),
    ],
)
def test_an_aileron_is_told_by_where_the_flow_separates_over_its_own_span(leaves: np.ndarray, words: str) -> None:
    """Strips 0.25 m wide, the aileron from 1.4 to 2.9 m, hinge at 0.75: strips 5 to 11, the first and last in part."""
    told = stall_picture(HEAD, [replace(wing("wing", 0.0), leaves=leaves)], UNITS["si"]).words
    assert f"buttline 1.40 m to 2.90 m: {words}" in told, told


def test_an_unknown_stall_shows_no_tone_and_says_why() -> None:
    one = np.array([math.nan])
    none = replace(wing("wing", 0.0), edges=np.array([0.0, 3.0]), stations=np.array([1.5]), spare=one, leaves=one)
    picture = stall_picture(HEAD, [none], UNITS["si"], "nothing is on file about the section")
    words = clean(picture)
    assert "Unknown: nothing is on file about the section" in words
    assert "how near its strips are to their greatest lift is unknown" in words
    wings = [s for s in picture.on("line") if isinstance(s, Polyline) and s.weight == "thick"]
    low = min(y for s in wings for _, y in s.points)
    assert all(max(y for _, y in s.points) < low for s in picture.on("tone") if isinstance(s, Area))


def test_shades_step_with_tone_or_hatch_so_that_grey_tells_them_apart() -> None:
    degrees = (-40.0, -4.01, -3.99, -2.01, -1.99, -0.01, 0.0, 7.0)
    assert [shade_of(math.radians(v)) for v in degrees] == [SHADES[i] for i in (0, 0, 1, 1, 2, 2, 3, 3)]
    assert len({(s.tone, s.pitch) for s in SHADES}) == len(SHADES)
    hatched = [s.pitch for s in SHADES if s.pitch]
    assert hatched == sorted(hatched, reverse=True), "denser as it gets nearer"


def lifts(wings: int, **more: float) -> LiftCurves:
    a = np.linspace(-8.0, 16.0, 25)
    cell = [LiftOf(f"w{i}", (0.05 + 0.01 * i) * (a + 3) - 0.001 * a**2, float(i)) for i in range(wings)]
    return LiftCurves(a, (*cell, LiftOf("tail", -0.01 * (a + 5), 0.5, True)), "w0", 14.0, **more)


def test_lift_curves_add_up_and_the_marks_lie_on_their_lines() -> None:
    shown = lifts(3, ends_at=12.0)
    picture = lift_picture(HEAD, shown)
    words = clean(picture)
    for name in ("whole aeroplane", "w2 wing", "w1 wing", "w0 wing", "tailplane", "first strip of the w0 wing lets go"):
        assert words.count(name) == 1, name
    lines = [np.array(s.points) for s in picture.on("line") if isinstance(s, Polyline)]
    assert len(lines) == 5 and all(len(s) == 25 for s in lines)
    nought, one = (next(s.anchor[1] for s in picture.strokes if isinstance(s, Text) and s.content == t
                        and s.align == "right") for t in ("0.0", "1.0"))  # fmt: skip
    heights = [(s[:, 1] - nought - CHARTING.small / 2) / (one - nought) for s in lines]
    np.testing.assert_allclose(heights[0], sum(heights[1:]), rtol=0, atol=1e-9)
    np.testing.assert_allclose(heights[0], shown.whole, rtol=0, atol=1e-9)
    marks = [np.array(s.points).mean(axis=0) for s in picture.on("point") if isinstance(s, Polyline)]
    assert len(marks) == 3
    assert all(min(shapely.LineString(s).distance(shapely.Point(m)) for s in lines) < 1e-6 for m in marks)
    assert f"the elevator runs out, {np.interp(12.0, shown.angle, shown.whole):.2f}" in words
    assert f"greatest lift, {shown.whole[-1]:.2f}" in words


def test_of_more_wings_than_lines_the_tail_is_left_out_and_told_so() -> None:
    words = clean(lift_picture(HEAD, lifts(4)))
    assert "tailplane" not in words and "Lift of the whole, and of each wing (the tailplane's is not drawn)" in words


def test_unknown_lift_says_why() -> None:
    picture = lift_picture(HEAD, LiftCurves(unknown="no wing lets go"))
    assert "Unknown: no wing lets go" in clean(picture) and "unknown, no wing lets go" in picture.words


def test_drag_is_drawn_from_the_least_lift_to_the_greatest_and_the_greatest_lift_has_a_band() -> None:
    p = polar("Re 1.0 M", 1.0)
    re, most = np.array([1e6, 2e6]), np.array([1.4, 1.5])
    picture = polar_picture(HEAD, [replace(p, drag_band=(p.drag * 0.9, p.drag * 1.2))], (),
                            Greatest(re, most, most - 0.1, most + 0.1))  # fmt: skip
    words = clean(picture)
    assert words.count("Greatest lift over Reynolds number") == 1 and "Reynolds number, million" in words
    assert sum(isinstance(s, Area) for s in picture.on("tone")) == 2
    thick = [np.array(s.points) for s in picture.on("line") if isinstance(s, Polyline) and s.weight == "thick"]
    room = max(x for s in picture.on("frame") if isinstance(s, Line) for x, _ in (s.start, s.end)) / 2
    drag = [s for s in thick if s[0, 0] > room and s[0, 1] > picture.height * 0.67]  # the chart at the upper right
    assert [len(s) for s in drag] == [int(np.argmax(p.lift)) + 1] and len(drag[0]) < p.lift.size
    assert np.all(np.diff(drag[0][:, 0]) > 0)


BARS = (
    DragBar("wire", Band(0.01, 0.008, 0.013), 0.1, Band(1.1, 0.9, 1.4), 0.009, "naca-tn-84"),
    DragBar("wing", Band(0.06, 0.05, 0.08), 0.6, Band(0.006, 0.005, 0.008), 10.0, "naca-tr-824"),
    DragBar("cowl", Band.exact(math.nan), math.nan, source="unknown"),
    DragBar("trim", Band(-0.005, -0.01, 0.001), -0.05),
)


def test_drag_picture_is_ranked_and_its_bars_are_as_long_as_their_values() -> None:
    picture = drag_picture(HEAD, BARS, Band(0.1, 0.08, 0.14), UNITS["si"].area)
    words = clean(picture)
    at = {s.content: s.anchor[1] for s in picture.strokes if isinstance(s, Text)}
    assert at["wing"] > at["wire"] > at["trim"] > at["cowl"] > at["Whole aeroplane"]
    bars = [s.points for s in picture.on("line") if isinstance(s, Polyline)]
    long = [max(x for x, _ in b) - min(x for x, _ in b) for b in bars]
    np.testing.assert_allclose(np.array(long) / long[0], [1.0, 0.01 / 0.06, 0.005 / 0.06], rtol=0, atol=1e-9)
    for word in ("60.0 %", "0.0500 to 0.0800", "0.00600", "10.0", "naca-tr-824", "−0.0050", "unknown", "D/q, m²"):
        assert word in words, word
    whiskers = [s for s in picture.on("point") if isinstance(s, Line) and s.start[1] == s.end[1]]
    assert len(whiskers) == 3, "an unknown has no bar"
    np.testing.assert_allclose(whiskers[0].end[0] - whiskers[0].start[0], long[0] * 0.03 / 0.06, rtol=0, atol=1e-9)
