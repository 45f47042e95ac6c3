"""What the designer has read is a row that is on file, told once, with a day and words."""

from __future__ import annotations

from pathlib import Path

import pytest

from sparwright.base.problem import FileProblems
from sparwright.family.reader import read

PROBE = (Path(__file__).parents[1] / "probe.toml").read_text(encoding="utf-8")
GOOD = {
    "category": "us-light-sport-category-2026",
    "row": "level_speed",
    "who": "A. Builder",
    "when": "2026-03-01",
    "read": "ecfr.gov",
}


def written(*tables: dict[str, str]) -> bytes:
    text = "".join("\n[[confirmed]]\n" + "".join(f'{k} = "{v}"\n' for k, v in table.items()) for table in tables)
    return (PROBE + text).encode()


def problems(*tables: dict[str, str]) -> str:
    with pytest.raises(FileProblems) as caught:
        read(written(*tables), "f.toml")
    return str(caught.value)


def test_a_confirmed_row_is_read_and_every_model_has_it() -> None:
    family = read(written(GOOD, GOOD | {"row": "statement"}), "f.toml")
    for model in family.models.values():
        assert [c.row for c in model.confirmed] == ["level_speed", "statement"]
        assert model.confirmed[0].said == "confirmed by A. Builder, 2026-03-01: ecfr.gov"


@pytest.mark.parametrize(
    ("key", "value", "wanted"),
    [
        ("category", "us-light-sport-category-2062", "'us-light-sport-category-2026'"),
        ("row", "level_spede", "'level_speed'"),
        ("row", "conditions", "no limit or condition of us-light-sport-category-2026"),
        ("when", "March 2026", "year-month-day"),
        ("when", "2026-13-01", "year-month-day"),
        ("when", "2026-02-30", "year-month-day"),
        ("who", " ", "text in quotes"),
        ("read", "", "text in quotes"),
    ],
)
def test_a_word_that_is_no_evidence_is_refused(key: str, value: str, wanted: str) -> None:
    said = problems(GOOD | {key: value})
    assert f"confirmed.0.{key}" in said and wanted in said


def test_a_key_left_out_and_a_row_told_twice_are_refused() -> None:
    assert "who" in problems({k: v for k, v in GOOD.items() if k != "who"})
    assert "twice" in problems(GOOD, GOOD)
