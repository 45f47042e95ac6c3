"""`fits` on screen, as JSON, CSV and page: the same figures, and always the sentence that sends to the authority."""

from __future__ import annotations

import csv
import io
import json
import math
import sys
from collections.abc import Callable
from html.parser import HTMLParser
from pathlib import Path
from types import ModuleType

import pytest
from reports import Ran as Made

from sparwright.base.check import Result
from sparwright.cli import store
from sparwright.cli.main import main
from sparwright.data.categories import ASK, KINDS, categories
from sparwright.family.model import Family
from sparwright.output.fits import HEAD, Matrix, as_csv, as_json, as_page, told
from sparwright.rules.fits import fits
from sparwright.run import RunResult

FAMILY = str(Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml")
Run = Callable[[str], RunResult]


@pytest.fixture
def matrix(whinchat: Family, ran: Run) -> Matrix:
    found = tuple(fits(m, {r.id: r for r in ran(n).results}) for n, m in whinchat.models.items())
    return Matrix(family="Whinchat", program="Sparwright 0", file_sha256="ab" * 32, fits=found)


def text_of(page: str) -> str:
    words: list[str] = []
    reader = HTMLParser()
    reader.handle_data = words.append  # type: ignore[method-assign]
    reader.feed(page)
    return " ".join(words)


def test_all_four_say_that_the_paragraph_of_today_and_the_authority_decide(matrix: Matrix) -> None:
    screen = " ".join(told(matrix).split())
    for text in (
        screen,
        json.loads(as_json(matrix))["caution"],
        as_csv(matrix.each).decode(),
        text_of(as_page(matrix)),
    ):
        assert ASK in text and "Calculated values, not an approval" in text


def test_every_model_and_category_is_in_all_four(matrix: Matrix) -> None:
    body = json.loads(as_json(matrix))
    assert [m["model"] for m in body["models"]] == ["W1", "W2", "W3"]
    screen, page = told(matrix, 200), text_of(as_page(matrix))
    rows = list(csv.DictReader(io.StringIO(as_csv(matrix.each).decode())))[:-1]
    for key, category in categories().items():
        assert f"({key})" in screen and key in page and category.title in screen and category.title in page
        listed = [r for r in rows if r["category"] == key]
        assert len(listed) == 3 * (len(category.limits) + len(category.conditions))
    assert all(title in screen for title in KINDS.values())


def test_json_and_csv_have_the_figures_of_the_records_in_the_paragraphs_unit(matrix: Matrix) -> None:
    body = json.loads(as_json(matrix))
    table = {(r["model"], r["category"], r["row"]): r
             for r in list(csv.DictReader(io.StringIO(as_csv(matrix.each).decode())))[:-1]}  # fmt: skip
    for fit in matrix.each:
        model = next(m for m in body["models"] if m["model"] == fit.model)
        found = next(c for c in model["categories"] if c["key"] == fit.category.key)
        assert (found["verdict"], found["named"]) == (fit.verdict, fit.named)
        for row, as_told in zip(fit.rows, found["limits"], strict=True):
            line = table[fit.model, fit.category.key, row.limit.key]
            assert (as_told["row"], as_told["verdict"], line["verdict"]) == (row.limit.key, *[row.check.verdict] * 2)
            if math.isfinite(row.value):
                assert as_told["value"] == row.value and float(line["value"]) == pytest.approx(row.value, rel=1e-5)
            else:
                assert as_told["value"] is None and line["value"] == ""
            assert (as_told["unit"], line["unit"], line["mark"]) == (row.limit.unit, row.limit.unit, as_told["mark"])
    assert set(HEAD) == set(next(iter(table.values())))


def test_the_screen_tells_the_nearest_miss_and_what_waits_for_the_designer(matrix: Matrix) -> None:
    screen = " ".join(told(matrix).split())
    told_mass = "W1 ■ 1 of 5 missed; 1 of 5 open; greatest take-off mass 378.7 kg, at most 350 kg: 28.75 kg too much"
    assert told_mass in screen
    assert "to confirm: level_speed: 14 CFR 22.100(a): <= 250 kt CAS is recalled" in screen
    assert "no longer in force since 2025-10-22" in screen
    assert max(map(len, told(matrix, 90).splitlines())) <= 120  # titles stay whole, all else is broken at 90


def test_the_page_is_whole_and_escapes_what_it_quotes(matrix: Matrix) -> None:
    page = as_page(Matrix(family="<b>&", program="p", file_sha256="ab" * 32, fits=matrix.fits))
    assert "&lt;b&gt;&amp;" in page and "<b>" not in page
    for tag in ("table", "tr", "td", "th", "small", "h1", "h2", "p", "html", "body"):
        assert page.count(f"<{tag}>") + page.count(f"<{tag} ") == page.count(f"</{tag}>"), tag
    assert page.count("<td class=") == 3 * len(categories())


# ---------------------------------------------------------------- the door


@pytest.fixture
def engine(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    results = (Result("flight.stall.max_mass", "stall", 18.0, "m/s", 17.0, 18.5),)
    module = ModuleType("sparwright.run")
    module.run = lambda family, name, *_, **__: Made(family="Whinchat", model=name, results=results)  # type: ignore[attr-defined]
    monkeypatch.setitem(sys.modules, "sparwright.run", module)
    monkeypatch.setenv(store.FOLDER, str(tmp_path / "store"))


@pytest.mark.usefixtures("engine")
def test_the_door_tells_or_writes_and_ends_well_whatever_fits(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    assert main(["fits", FAMILY]) == 0
    assert "W1, W2, W3" in capsys.readouterr().out
    assert main(["fits", FAMILY, "--model", "W2", "--json"]) == 0
    (model,) = json.loads(capsys.readouterr().out)["models"]
    stalls = [
        x for c in model["categories"] for x in c["limits"] if x["quantity"] == "stall_landing" and x["unit"] == "kt"
    ]
    assert model["model"] == "W2" and stalls[0]["value"] == pytest.approx(18.5 * 3600 / 1852)
    assert main(["fits", FAMILY, "--out", str(tmp_path / "new")]) == 0
    capsys.readouterr()
    assert sorted(p.name for p in (tmp_path / "new").iterdir()) == ["fits.csv", "fits.html"]
    assert (tmp_path / "new" / "fits.html").read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


@pytest.mark.usefixtures("engine")
def test_a_wrong_model_a_wrong_file_and_a_folder_in_the_way_are_2(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    (tmp_path / "file").write_text("x", encoding="utf-8")
    for words in (("--model", "W9"), ("--out", str(tmp_path / "file" / "out")), ("--json", "--out", "x")):
        assert main(["fits", FAMILY, *words]) == 2
        assert "Traceback" not in capsys.readouterr().err
    assert main(["fits", str(tmp_path / "none.toml")]) == 2
