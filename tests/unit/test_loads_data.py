"""The rows of the codes: whole, and what the family file may say of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from sparwright.base.problem import FileProblems
from sparwright.base.source import MARKS
from sparwright.data.loads import CODES, RULES, sections
from sparwright.family.reader import read

PROBE = (Path(__file__).parents[1] / "probe.toml").read_text(encoding="utf-8")
HEAD = "n_negative = -1.5\n"


def written(limits: str = "", more: str = "") -> bytes:
    assert HEAD in PROBE
    return (PROBE.replace(HEAD, HEAD + limits) + more).encode()


def test_rows_are_whole() -> None:
    for code in (*CODES, "common"):
        for row in RULES[code].values():
            assert row.source.mark in MARKS and row.source.place and row.title, row.key
            assert row.section.isdigit() and str(row).startswith(row.source.key), row.key
    assert {"333", "335", "337", "341", "473", "561"} <= sections("cs-vla")
    assert sections("ca-amateur-built") == frozenset()


def test_limits_are_read() -> None:
    text = 'code = "cfr-23-2014"\ndesign_cruise = "75 kt"\ndesign_dive = "105 kt"\nceiling = "10000 ft"\nhoist = 2.0\n'
    for model in read(written(text), "f.toml").models.values():
        assert model.limits.code == "cfr-23-2014" and model.limits.hoist == 2.0
        assert model.limits.ceiling == pytest.approx(3048.0)
    assert all(m.limits.code == "cs-vla" for m in read(PROBE.encode(), "f.toml").models.values())


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ('code = "cs-23"\n', "cs-vla"),
        ('design_cruise = "75 kt"\ndesign_dive = "75 kt"\n', "must be less than design_dive"),
        ('design_manoeuvring = "80 kt"\ndesign_dive = "75 kt"\n', "must be less than design_dive"),
        ('design_cruise = "75"\n', "unit"),
        ('ceiling = "40000 ft"\n', "ceiling"),
        ("hoist = 0.5\n", "hoist"),
    ],
)
def test_limits_that_cannot_be_are_refused(text: str, wanted: str) -> None:
    with pytest.raises(FileProblems) as caught:
        read(written(text), "f.toml")
    assert wanted in str(caught.value)


def test_a_paragraph_of_a_code_can_be_confirmed() -> None:
    row = '\n[[confirmed]]\ncategory = "{}"\nrow = "{}"\nwho = "A. Builder"\nwhen = "2026-03-01"\nread = "the code"\n'
    family = read(written(more=row.format("cs-vla", "335") + row.format("cfr-23-2014", "441")), "f.toml")
    assert [c.row for c in next(iter(family.models.values())).confirmed] == ["335", "441"]
    assert read(written(more=row.format("cs-vla", "max_mass")), "f.toml")  # the category's own rows still are
    with pytest.raises(FileProblems, match="no limit or condition of cfr-23-2014"):
        read(written(more=row.format("cfr-23-2014", "999")), "f.toml")
