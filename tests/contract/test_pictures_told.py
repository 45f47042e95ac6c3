"""Pictures of the demo family: what they show are the numbers of the results, and the command writes them whole."""

from __future__ import annotations

import math
import os
import re
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import shapely

from sparwright.base.axes import GRAVITY
from sparwright.charts.of_flight import (
    LOADING,
    at_speed,
    at_stall_of,
    drag_bars,
    limits,
    pictures,
    short_source,
    wing_strips,
)
from sparwright.charts.page import Picture
from sparwright.cli.main import main
from sparwright.family.model import Family
from sparwright.flight.drag_table import drag_table
from sparwright.flight.fast import cruise_speed
from sparwright.output.svg import picture_svg
from sparwright.plans.clash import clashes, line_of
from sparwright.plans.drawing import Area, Polyline, Text
from sparwright.plans.lettering import box
from sparwright.run import RunResult

FAMILY = str(Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml")
Runs = Callable[[str], RunResult]
MODELS = pytest.mark.parametrize("model", ["W1", "W2", "W3"])


def words(picture: Picture) -> list[str]:
    return [s.content for s in picture.strokes if isinstance(s, Text)]


@MODELS
@pytest.mark.parametrize("units", ["inch", "millimetre", "si"])
def test_no_word_runs_into_anything_and_all_is_on_the_page(ran: Runs, model: str, units: str) -> None:
    for name, picture in pictures(ran(model).flight, "Whinchat", units).items():
        assert clashes(picture) == (), name
        room = shapely.box(0, 0, picture.width, picture.height)
        for s in picture.strokes:
            shape = shapely.Polygon(box(s)) if isinstance(s, Text) else (
                shapely.Polygon(s.points) if isinstance(s, Area) else line_of(s))  # fmt: skip
            assert room.covers(shape), (name, s)
        assert any("not an approval" in w for w in words(picture))


@MODELS
def test_drag_picture_shows_every_result_of_the_table(ran: Runs, model: str) -> None:
    result = ran(model)
    picture = pictures(result.flight, "", "si")["drag-by-item"]
    shown = words(picture)
    table = drag_table(result.flight.flown)
    told = {r.id: r for r in result.results if r.id.startswith("drag.")}
    assert len(table.rows) + 1 == len(told)
    for bar, row in zip(drag_bars(table), table.rows, strict=True):
        r = told[row.id]
        assert (bar.area.value, bar.area.low, bar.area.high) == pytest.approx((r.value, r.low, r.high), nan_ok=True)
        assert shown.count(bar.name) >= 1
        if math.isfinite(r.value):
            assert f"{r.value:.4f}" in shown and f"{100 * row.part:.1f} %".replace("-", "−") in shown
    whole = told["drag.total"]
    assert f"{whole.value:.4f}" in shown and f"{whole.low:.4f} to {whole.high:.4f}" in shown


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
    stall, moment = case.stall, at_stall_of(flown, case)
    assert math.isfinite(moment.alpha)
    if stall.ended_by == "section":
        np.testing.assert_allclose(moment.speed, stall.speed.value, rtol=1e-9, atol=0)
    np.testing.assert_allclose(moment.alpha, stall.alpha, rtol=1e-6, atol=0)
    shown_strips = wing_strips(case, moment)
    parts = {n: shown_strips[n].lift_coefficient / limits(flown, n, moment.speed) for n in flown.plane.wings}
    assert all(np.nanmax(part) < 1.003 for part in parts.values())  # no strip lifts more than its section can
    assert np.nanmax(parts[stall.surface]) > 0.97
    picture = pictures(flight, "", "si")["stall-from-above"]
    shown = words(picture)
    assert shown.count("lets go first, both sides alike") == 1
    assert any(w.startswith("nearest to its greatest lift: 1.00 of it") for w in shown)
    assert any(f"greatest lift at {math.degrees(stall.alpha):.1f} deg" in w for w in shown)
    heads = [w for w in shown if w.lower().removesuffix(" wing") in (*flown.plane.wings, "wing")]
    assert len(heads) == len(flown.plane.wings)


@MODELS
def test_the_load_line_is_drawn_through_the_strips(ran: Runs, model: str) -> None:
    """The heavy line of a wing's sections at the stall, measured on the paper with the figures of its axis."""
    flown = ran(model).flight.flown
    moment = at_stall_of(flown, flown.cases[LOADING])
    picture = pictures(ran(model).flight, "", "si")["load-along-span"]
    heavy = [s for s in picture.on("line") if isinstance(s, Polyline) and s.weight == "thick"]
    wings = sorted(
        flown.plane.wings, key=lambda n: -next(p.mean_chord[2] for p in flown.plane.cell.planforms if p.name == n)
    )
    for name, line in zip(wings, heavy[-len(wings) :], strict=True):
        lift = np.array(wing_strips(flown.cases[LOADING], moment)[name].lift_coefficient)
        y = np.array([p[1] for p in line.points])
        assert len(y) == len(lift)
        np.testing.assert_allclose(
            (y - y[-1]) / (y[0] - y[-1]), (lift - lift[-1]) / (lift[0] - lift[-1]), rtol=0, atol=1e-6
        )


def test_the_same_design_gives_the_same_bytes(ran: Runs) -> None:
    one, two = (pictures(ran("W2").flight, "Whinchat", "inch") for _ in range(2))
    assert [picture_svg(p) for p in one.values()] == [picture_svg(p) for p in two.values()]


def told(capsys: pytest.CaptureFixture[str], *args: str) -> tuple[int, str, str]:
    code = main(args)
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


def test_the_command_writes_three_pictures_and_names_them(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    code, out, _ = told(capsys, "pictures", FAMILY, "--model", "W2", "--out", str(tmp_path / "new"))
    assert code == 0
    files = sorted(p.name for p in (tmp_path / "new").iterdir())
    assert files == ["W2-drag-by-item.svg", "W2-load-along-span.svg", "W2-stall-from-above.svg"]
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


def test_a_full_disk_leaves_the_old_pictures_whole(
    capsys: pytest.CaptureFixture[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    old = tmp_path / "W1-load-along-span.svg"
    old.write_text("old", encoding="utf-8")

    def full(_: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    code, _, err = told(capsys, "pictures", FAMILY, "--model", "W1", "--out", str(tmp_path))
    assert code == 2 and "unchanged" in err
    assert [p.name for p in tmp_path.iterdir()] == [old.name] and old.read_text(encoding="utf-8") == "old"
