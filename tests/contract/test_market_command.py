"""The command `market`: what it says without work to do, and what it refuses before any."""

from __future__ import annotations

import json
from pathlib import Path

import demo
import pytest

from sparwright.cli.main import main
from sparwright.market.places import Place
from sparwright.market.rechosen import InMarket, Rechosen
from sparwright.output.market import as_csv, as_json, told

FILE = str(demo.WHINCHAT)


def test_a_model_in_that_market_already_is_told_so(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["market", FILE, "--model", "W1", "--to", "inch"]) == 0
    assert "it is in that market already" in capsys.readouterr().out


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    mine = tmp_path / "mine.toml"
    mine.write_text("mine", "utf-8")
    assert main(["market", FILE, "--model", "W1", "--to", "metric", "--write", str(mine)]) == 2
    assert mine.read_text("utf-8") == "mine" and "is there already" in capsys.readouterr().err


def test_text_table_and_json_tell_the_same() -> None:
    tube = Place("struts.lift.tube", "tube", "4130N", (0.015875, 0.000889))
    line = Place("fuel.vent", "other", "5052-O", (0.00635, 0.004572))
    rows = (Rechosen(tube, ("W1-struts-LIFT",), (0.016, 0.0008), -0.05, 0.2, 0.15),
            Rechosen(line, ("W1-fuel-VENT",), line.size, 0.0, 0.1, 0.1, "no stock"))  # fmt: skip
    found = InMarket("W1", "metric", rows, 240.0, 239.95)
    text, table, data = told(found, "si"), as_csv(found), json.loads(as_json({}, found))
    for said in (text, table):
        assert (
            "5/8 in x 0.035 in" in said and "16 mm x 0.8 mm" in said and "W1-fuel-VENT" in said and "no stock" in said
        )
    assert data["rows"][0]["bought"] == [0.016, 0.0008] and data["rows"][1]["why"] == "no stock"
    assert "+20 %" in text.replace("\u202f", " ").replace("\u00a0", " ") and "0.1500" in table
    assert data["empty_after"] == 239.95 and "240.0" in text


def test_a_sheet_out_of_range_is_refused_before_the_work(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    words = ["plans", FILE, "--model", "W1", "--out", str(tmp_path / "o"), "--sheet", "okoume-ply 4 mm = 3 mm"]
    assert main(words) == 2
    assert "must lie within 15% of the nominal, 3.4 mm to 4.6 mm" in capsys.readouterr().err
