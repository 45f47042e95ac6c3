"""Pictures of the demo family: what they show are the numbers of the results, and the command writes them whole."""

from __future__ import annotations

import math
import os
import re
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
import shapely
import shared

from sparwright.air.behaviour import GRID, behaviour
from sparwright.air.polars import surfaces
from sparwright.base.axes import GRAVITY
from sparwright.charts.moment import LOADING, at_speed, at_stall_of, limits, wing_strips, working
from sparwright.charts.of_flight import drag, drag_bars, lift, lift_curves, pictures, short_source, span, stall
from sparwright.charts.of_sections import (
    behaviours,
    flown_at,
    left_out,
    polar_lines,
    polar_pictures,
    pressure_of,
    pressure_pictures,
    root_at,
    rows_shown,
)
from sparwright.charts.page import Picture
from sparwright.charts.polar import reynolds_name
from sparwright.charts.stall_seen import SHADES
from sparwright.charts.ticks import enough
from sparwright.charts.units import UNITS
from sparwright.cli.main import main
from sparwright.family.model import Family, Measured
from sparwright.flight.drag_table import drag_table
from sparwright.flight.fast import cruise_speed
from sparwright.flight.stall import over
from sparwright.output.svg import picture_svg
from sparwright.plans.clash import clashes, line_of
from sparwright.plans.drawing import Area, Polyline, Text
from sparwright.plans.lettering import box
from sparwright.run import RunResult

FAMILY = str(Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml")
Runs = Callable[[str], RunResult]
Drawn = Callable[[str], dict[str, Picture]]
MODELS = pytest.mark.parametrize("model", ["W1", "W2", "W3"])
SLOWLY = pytest.mark.parametrize(
    "model", ["W2", *(pytest.param(name, marks=pytest.mark.long) for name in ("W1", "W3"))]
)


def words(picture: Picture) -> list[str]:
    return [s.content for s in picture.strokes if isinstance(s, Text)]


@pytest.fixture(scope="module")
def drawn(ran: Runs) -> Callable[[str], dict[str, Picture]]:
    """The pictures of a model in inches, drawn once in the whole test run."""

    def draw(model: str) -> dict[str, Picture]:
        return dict(pictures(ran(model).flight, "Whinchat", "inch"))

    return cache(lambda model: shared.once(f"{model} pictures", lambda _: draw(model)))


def clean(name: str, picture: Picture) -> None:
    assert clashes(picture) == (), name
    room = shapely.box(0, 0, picture.width, picture.height)
    for s in picture.strokes:
        shape = shapely.Polygon(box(s)) if isinstance(s, Text) else (
            shapely.Polygon(s.points) if isinstance(s, Area) else line_of(s))  # fmt: skip
        assert room.covers(shape), (name, s)
    assert any("not an approval" in w for w in words(picture))


@SLOWLY
def test_no_word_runs_into_anything_and_all_is_on_the_page(drawn: Drawn, model: str) -> None:
    assert len(drawn(model)) >= 8
    for name, picture in drawn(model).items():
        clean(name, picture)


@SLOWLY
@pytest.mark.parametrize("units", ["millimetre", "si"])
def test_the_same_in_other_units(ran: Runs, model: str, units: str) -> None:
    """Of the pictures whose figures change; polars have no units, pressures only that of a speed in a sentence."""
    for of in (span, stall, lift, drag):
        picture = of(ran(model).flight.flown, "Whinchat", UNITS[units])
        clean(of.__name__, picture)
        other = words(of(ran(model).flight.flown, "Whinchat", UNITS["inch"]))
        assert sorted(words(picture)) != sorted(other), of.__name__  # its figures did change


@MODELS
def test_drag_picture_shows_every_result_of_the_table(ran: Runs, model: str) -> None:
    result = ran(model)
    picture = drag(result.flight.flown, "", UNITS["si"])
    shown = words(picture)
    table = drag_table(result.flight.flown)
    told = {r.id: r for r in result.results if r.id.startswith("drag.")}
    assert len(table.rows) + 1 == len(told)
    whole = told["drag.total"]
    places = enough(whole.value, 4)
    for bar, row in zip(drag_bars(table), table.rows, strict=True):
        r = told[row.id]
        assert (bar.area.value, bar.area.low, bar.area.high) == pytest.approx((r.value, r.low, r.high), nan_ok=True)
        assert shown.count(bar.name) >= 1
        if math.isfinite(r.value):
            assert f"{r.value:.{places}f}" in shown and f"{100 * row.part:.1f} %".replace("-", "−") in shown
    assert f"{whole.value:.{places}f}" in shown
    assert f"{whole.low:.{places}f} to {whole.high:.{places}f}" in shown


@MODELS
def test_every_source_is_shown_by_its_key(ran: Runs, model: str) -> None:
    for row in drag_table(ran(model).flight.flown).rows:
        short = short_source(row.source)
        assert short and all(part in row.source for part in short.split(", ")) and len(short) < 60


@MODELS
def test_the_loads_shown_carry_the_aeroplane(ran: Runs, model: str) -> None:
    """Wings and tail together lift the weight: the strips are those of the trimmed aeroplane."""
    flown = ran(model).flight.flown
    case = flown.cases[LOADING]
    for moment in (at_speed(flown, case, cruise_speed(flown)), at_stall_of(flown, case)):
        pressure = flown.air.density * moment.speed**2 / 2
        lift = sum(2 * pressure * float(s.lift.sum()) for s in wing_strips(case, moment).values())
        # at most 4e-5 apart: elevator and angle come from curves through the lattice's nodes
        np.testing.assert_allclose(lift, case.loading.mass * GRAVITY, rtol=2e-4, atol=0)


@MODELS
def test_the_stall_shown_is_the_stall_told(ran: Runs, model: str) -> None:
    flight = ran(model).flight
    flown, case = flight.flown, flight.flown.cases[LOADING]
    stalled, moment = case.stall, at_stall_of(flown, case)
    assert math.isfinite(moment.alpha)
    if stalled.ended_by == "section":
        np.testing.assert_allclose(moment.speed, stalled.speed.value, rtol=1e-9, atol=0)
    np.testing.assert_allclose(moment.alpha, stalled.alpha, rtol=1e-6, atol=0)
    shown_strips = wing_strips(case, moment)
    parts = {n: shown_strips[n].lift_coefficient / limits(flown, n, moment.speed) for n in flown.plane.wings}
    assert all(np.nanmax(part) < 1.003 for part in parts.values())  # no strip lifts more than its section can
    picture = stall(flown, "", UNITS["si"])
    shown = words(picture)
    assert shown.count("lets go first, both sides alike") == 1
    past = {n: over(case.line, n, case.line.states(moment.lift))[0] for n in flown.plane.wings}
    for name, spare in past.items():
        clear = flown.plane.strips[name].outside
        most = math.degrees(spare[clear].max())
        told = "most by" if most >= 0 else "the nearest works"
        assert any(f"{told} {abs(most):.1f} deg" in w for w in shown), (name, most)
    assert max(v[flown.plane.strips[n].outside].max() for n, v in past.items()) >= 0, "greatest lift, none past"
    assert any("how the stall goes on from here is not worked out" in w for w in [" ".join(shown)])
    assert f"greatest lift at {math.degrees(stalled.alpha):.1f} deg" in " ".join(shown)
    heads = [w for w in shown if w.lower().removesuffix(" wing") in (*flown.plane.wings, "wing")]
    assert len(heads) == len(flown.plane.wings)


@MODELS
def test_the_load_line_is_drawn_through_the_strips(ran: Runs, model: str) -> None:
    """The heavy line of a wing's sections at the stall, measured on the paper with the figures of its axis."""
    flown = ran(model).flight.flown
    moment = at_stall_of(flown, flown.cases[LOADING])
    picture = span(flown, "", UNITS["si"])
    heavy = [s for s in picture.on("line") if isinstance(s, Polyline) and s.weight == "thick"]
    wings = sorted(
        flown.plane.wings, key=lambda n: -next(p.mean_chord[2] for p in flown.plane.company.planforms if p.name == n)
    )
    for name, line in zip(wings, heavy[-len(wings) :], strict=True):
        lift = np.array(wing_strips(flown.cases[LOADING], moment)[name].lift_coefficient)
        y = np.array([p[1] for p in line.points])
        assert len(y) == len(lift)
        np.testing.assert_allclose(
            (y - y[-1]) / (y[0] - y[-1]), (lift - lift[-1]) / (lift[0] - lift[-1]), rtol=0, atol=1e-6
        )


@MODELS
def test_the_tones_of_the_stall_are_those_of_the_strips(ran: Runs, model: str) -> None:
    """Area under each tone and hatch, measured on the paper against the scale, with the strips' own."""
    flown = ran(model).flight.flown
    case = flown.cases[LOADING]
    at = case.line.states(at_stall_of(flown, case).lift)
    picture = stall(flown, "", UNITS["si"])
    key = min(y for s in picture.on("tone") if isinstance(s, Area) for _, y in s.points) + 6.0
    shown = [s for s in picture.on("tone") if isinstance(s, Area) and min(y for _, y in s.points) > key]
    wide = max(float(p.leading_edge[1, -1]) for p in flown.plane.company.planforms if not p.is_tail)
    scale = (picture.width / 2 - 9.0) / wide
    for tone in ("light", "middle"):
        of = [s.least for s in SHADES if s.tone == tone]
        above = min((s.least for s in SHADES if s.least > max(of)), default=math.inf)
        wanted = 0.0
        for name in flown.plane.wings:
            spare, data = over(case.line, name, at)[0], flown.plane.strips[name]
            wanted += 2 * float(data.area[data.outside & (spare >= min(of)) & (spare < above)].sum())
        drawn = sum(shapely.Polygon(s.points).area for s in shown if s.tone == tone) / scale**2
        # strips at a fuselage side or a break of the chord are drawn between their edges, areas are the lattice's own
        np.testing.assert_allclose(drawn, wanted, rtol=0.02, atol=1e-9, err_msg=tone)


@MODELS
def test_the_ailerons_are_told_by_their_strips(ran: Runs, model: str) -> None:
    flown = ran(model).flight.flown
    case = flown.cases[LOADING]
    moment = at_stall_of(flown, case)
    shown = stall(flown, "", UNITS["si"]).words
    ailerons = [p for p in flown.plane.company.planforms if not p.is_tail and p.hinge < 1 and p.hinge_to > p.hinge_from]
    assert ailerons and shown.count("aileron, neutral") == len(ailerons)
    for p in ailerons:
        s, width = flown.plane.strips[p.name], wing_strips(case, moment)[p.name].width
        edges = np.concatenate([[0.0], np.cumsum(width)])
        here = (edges[1:] > p.hinge_from) & (edges[:-1] < p.hinge_to)
        least = float(s.place("parts_upper", *working(case, p.name, moment))[here].min())
        words = f"foremost at {least:.2f} of the chord" if least < 1 else "does not separate before the tail"
        kept = "in attached flow" if least >= p.hinge else "in separated flow"
        found = re.search(rf"buttline {p.hinge_from:.2f} m to {p.hinge_to:.2f} m: ({kept}[^.]*{words})", shown)
        assert found, (p.name, least, shown)


@MODELS
def test_lift_adds_up_to_the_trimmed_line_and_its_marks_are_the_stall(ran: Runs, model: str) -> None:
    flown = ran(model).flight.flown
    case = flown.cases[LOADING]
    shown = lift_curves(flown, case)
    assert shown.angle is not None
    low = float(case.line.states(0.2 * case.line.most).alpha[0])
    inside = np.radians(shown.angle) > low
    at = case.line.states(shown.whole[inside])  # the last is at the top, where the angle is ill told
    np.testing.assert_allclose(
        np.degrees(at.alpha[:-1]), shown.angle[inside][:-1], rtol=0, atol=0.05
    )  # flat at the top
    np.testing.assert_allclose(shown.whole[-1], case.stall.section_end, rtol=1e-6, atol=0)
    told = words(lift(flown, "", UNITS["si"]))
    assert f"greatest lift, {case.stall.section_end:.2f}" in told
    assert sum(w.startswith("first strip of the ") for w in told) == 1
    runs_out = [w for w in told if w.startswith("the elevator runs out,")]
    assert runs_out == (
        [f"the elevator runs out, {case.stall.lift.value:.2f}"] if case.stall.ended_by == "elevator" else []
    )
    of = next(p for p in shown.parts if p.name == case.stall.surface)
    first = case.line.state(case.stall.first_lift).strips[of.name]
    lifted = float(np.interp(shown.first_at, shown.angle, of.lift))
    np.testing.assert_allclose(lifted, 2 * first.lift.sum() / flown.plane.area, rtol=2e-3, atol=0)


@SLOWLY
def test_polars_are_the_sections_as_they_are_flown(ran: Runs, drawn: Drawn, model: str) -> None:
    """Every section of the model; lines at Reynolds numbers about those flown, equal to what the sections do there."""
    flown = ran(model).flight.flown
    shown_of = drawn(model)
    assert [f"polar-{b.name}" for b in behaviours(flown)] == [n for n in shown_of if n.startswith("polar-")]
    assert {b.name for b in behaviours(flown)} == {"lifting", "tail"}
    for b in behaviours(flown):
        low, high = flown_at(flown, b)
        rows = rows_shown(b, low, high)
        assert 2 <= len(rows) <= 4 and b.reynolds[rows[0]] <= low and b.reynolds[rows[-1]] >= high
        lines = polar_lines(b, rows)
        for i, p in zip(rows, lines, strict=True):
            for shown, name in ((p.lift, "lift"), (p.drag, "drag"), (p.moment, "moment")):
                np.testing.assert_allclose(shown, b.at(name, GRID, np.array(b.reynolds[i])), rtol=1e-9, atol=1e-12)
            known = np.isfinite(p.leaves_upper)
            np.testing.assert_allclose(p.leaves_upper[known], b.columns["parts_upper"][i][known], rtol=0, atol=0)
            assert np.all(b.columns["parts_upper"][i][np.isfinite(p.lift) & ~known] >= 1 - 1e-9)
            assert f"{p.name}: greatest lift shown {b.greatest[0, i]:.2f}" in shown_of[f"polar-{b.name}"].words
        assert sum(p.drag_band is not None for p in lines) == 1
        head = " ".join(words(shown_of[f"polar-{b.name}"]))
        section = flown.model.sections[b.name]
        assert f"NACA {section.naca}" in head and f"Surface {section.surface}:" in head and b.key in head
        assert surfaces()[section.surface].title in head


@MODELS
def test_the_pressure_carries_the_lift_that_the_strip_does(ran: Runs, model: str) -> None:
    flown = ran(model).flight.flown
    case = flown.cases[LOADING]
    assert left_out(flown) == ()
    for moment in (at_speed(flown, case, cruise_speed(flown)), at_stall_of(flown, case)):
        root, shown = root_at(flown, moment), None
        assert root.wing == case.stall.surface
        data = flown.plane.strips[root.wing]
        i = int(np.flatnonzero(data.outside)[0])
        lifted = float(wing_strips(case, moment)[root.wing].lift_coefficient[i])
        shown = pressure_of(root)
        x = np.linspace(0.0, 1.0, 2001)
        up, down = (np.interp(x, s.x[np.argsort(s.x)], s.pressure[np.argsort(s.x)]) for s in (shown.upper, shown.lower))
        normal = float(np.trapezoid(down - up, x))
        # square to the chord instead of to the stream, less what points along it; polars between Reynolds numbers
        np.testing.assert_allclose(normal, lifted, rtol=0.06, atol=0.02)
        parts = float(data.place("parts_upper", *working(case, root.wing, moment))[i])
        if parts < 1:
            np.testing.assert_allclose(shown.upper.leaves, parts, rtol=0, atol=0.05)
        else:
            assert math.isnan(shown.upper.leaves)


def test_a_section_measured_by_others_shows_its_points_and_no_pressure(ran: Runs, whinchat: Family) -> None:
    """The demo's lifting section with two tables of somebody's in its place."""
    flown = ran("W2").flight.flown
    b = next(x for x in behaviours(flown) if x.name == "lifting")
    at = slice(0, None, 20)
    rows = tuple(
        Measured(reynolds=float(b.reynolds[i]), source="a wind tunnel", angle=tuple(GRID[at].tolist()),
                 lift=tuple(b.columns["lift"][i][at].tolist()), give_or_take=0.05) for i in (1, 2)
    )  # fmt: skip
    section = replace(flown.model.sections["lifting"], measured=rows)
    own = behaviour(section, {})
    strips = {n: replace(s, behaviours=tuple(own if x.name == "lifting" else x for x in s.behaviours))
              for n, s in flown.plane.strips.items()}  # fmt: skip
    model = replace(flown.model, sections={**flown.model.sections, "lifting": section})
    theirs = replace(flown, model=model, plane=replace(flown.plane, model=model, strips=strips))
    picture = polar_pictures(theirs, "")["polar-lifting"]
    clean("measured", picture)
    told = words(picture)
    assert told.count(f"measured, {reynolds_name(rows[0].reynolds)}") == 1
    assert "a wind tunnel" in " ".join(told) and "Unknown: it was not measured" in told
    assert not any("turbulent" in w for w in told)
    assert pressure_pictures(theirs, "", UNITS["si"]) == {}
    assert [w.split(": ")[0] for w in left_out(theirs)] == [
        f"no picture of the pressure at {state}" for state in ("cruise", "stall")
    ]
    assert all("the designer's own table" in w for w in left_out(theirs))


def test_the_same_design_gives_the_same_bytes(ran: Runs, drawn: Drawn) -> None:
    again = pictures(ran("W2").flight, "Whinchat", "inch")
    assert [picture_svg(p) for p in drawn("W2").values()] == [picture_svg(p) for p in again.values()]


def told(capsys: pytest.CaptureFixture[str], *args: str) -> tuple[int, str, str]:
    code = main(args)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


@pytest.mark.long
def test_the_command_writes_each_picture_and_names_it(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, out, _ = told(capsys, "pictures", FAMILY, "--model", "W2", "--out", str(tmp_path / "new"))
    assert code == 0
    files = sorted(p.name for p in (tmp_path / "new").iterdir())
    assert "every part in space" in out and (tmp_path / "new" / files.pop(0)).read_bytes().startswith(b"glTF")
    assert files == [f"W2-{name}.svg" for name in (
        "climb-over-height", "cockpit", "controls", "deflected", "drag-by-item", "elevator-over-speed",
        "envelope", "field-over-height", "flutter", "frame-margins-above", "frame-margins", "gearing", "level-flight",
        "lift-over-angle", "load-along-span", "on-the-ground", "polar-lifting", "polar-tail",
        "power-over-speed", "pressure-lifting-cruise", "pressure-lifting-stall", "roll-over-speed", "six-sides",
        "spar-reserve", "stall-from-above", "stick-force", "structure", "wing-loads")]  # fmt: skip
    for file in files:
        assert file in out
        text = (tmp_path / "new" / file).read_text(encoding="utf-8")
        assert (
            text.startswith("<?xml")
            and text.rstrip().endswith("</svg>")
            and "nan" not in re.sub(r"base64,[^)]*", "", text)
        )
    assert "not an approval" in out


def test_the_command_ends_with_a_sentence_for_each_error(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, whinchat: Family
) -> None:
    code, _, err = told(capsys, "pictures", FAMILY, "--model", "W9", "--out", str(tmp_path))
    assert code == 2 and "no model 'W9'" in err
    code, _, err = told(capsys, "pictures", str(tmp_path / "none.toml"), "--model", "W1", "--out", str(tmp_path))
    assert code == 2 and "none.toml" in err
    in_the_way = tmp_path / "file"
    in_the_way.write_text("x", encoding="utf-8")
    code, _, err = told(capsys, "pictures", FAMILY, "--model", "W1", "--out", str(in_the_way))
    assert code == 2 and "cannot be written" in err and in_the_way.read_text(encoding="utf-8") == "x"


@pytest.mark.long
def test_the_command_says_why_a_picture_is_not_there(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ran: Runs
) -> None:
    one = span(ran("W1").flight.flown, "", UNITS["si"])
    monkeypatch.setattr("sparwright.charts.of_flight.pictures", lambda *_: {"load-along-span": one})
    monkeypatch.setattr("sparwright.charts.on_ground.pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.of_performance.performance_pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.in_cockpit.cockpit_pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.whole.whole_pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.control_runs.control_pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.stick_force.stick_pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.of_strength.strength_pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.of_loads.load_pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.of_sections.no_pressure", lambda *_: "it has a table of its own")
    code, out, _ = told(capsys, "pictures", FAMILY, "--model", "W1", "--out", str(tmp_path))
    assert code == 0 and sorted(p.name for p in tmp_path.iterdir()) == ["W1-aeroplane.glb", "W1-load-along-span.svg"]
    for state in ("cruise", "stall"):
        assert f"no picture of the pressure at {state}: it has a table of its own\n" in out


@pytest.mark.long
def test_a_full_disk_leaves_the_old_pictures_whole(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ran: Runs
) -> None:
    one = span(ran("W1").flight.flown, "", UNITS["si"])
    monkeypatch.setattr("sparwright.charts.of_flight.pictures", lambda *_: {"load-along-span": one})
    monkeypatch.setattr("sparwright.charts.on_ground.pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.of_performance.performance_pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.in_cockpit.cockpit_pictures", lambda *_: {})
    monkeypatch.setattr("sparwright.charts.whole.whole_pictures", lambda *_: {})
    old = tmp_path / "W1-load-along-span.svg"
    old.write_text("old", encoding="utf-8")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    code, _, err = told(capsys, "pictures", FAMILY, "--model", "W1", "--out", str(tmp_path))
    assert code == 2 and "unchanged" in err
    assert [p.name for p in tmp_path.iterdir()] == [old.name] and old.read_text(encoding="utf-8") == "old"
