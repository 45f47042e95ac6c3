"""A bad family file as a whole: broken text, rubbish, files that are not there; all faults together, no traceback."""

import os
import random
from pathlib import Path

import pytest
from families import PROBE, problems, spoiled

from sparwright.base.problem import FileProblems
from sparwright.family.reader import load, read


def test_a_fault_three_models_inherit_is_told_once() -> None:
    assert len(problems(spoiled('span = "112 in"', 'span = "112 lb"'))) == 1


def test_all_problems_come_together_in_the_order_of_the_file() -> None:
    text = spoiled('span = "112 in"', "span = 112").replace("n_negative = -1.5", "n_negative = 1.5")
    text = text.replace('mass = "92 lb"', 'mass = "92 mph"').replace("hinge = 0.74", "hinge = 7.4")
    found = problems(text)
    assert [p.line for p in found] == sorted(p.line for p in found)
    assert len(found) == 3 + text.count("hinge = 7.4")


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("", 1, "empty"),
        ("\n\n# only a remark\n", 1, "empty"),
        ("[family]\nname = 'a'\nname = 'b'\n", 3, "written twice"),
        ("[family]\n\n[family]\n", 3, "opened twice"),
        ('[family]\nname = "a\n', 2, "over the end of the line"),
        ("[family]\nname = Wren\n", 2, "text goes in quotes"),
        ("[family]\nname\n", 2, "equals sign"),
        ("[family]\nx = [1, 2\n", 3, ""),
        ("[family]\nx = " + "[" * 5000, 1, "nested too deep"),
        ("[family]\nx = " + "[" * 60 + "]" * 60, 1, "nested too deep"),
        ("[family" + ".a" * 2000 + "]\nx = 1\n", 1, "nested too deep"),
        ("[family]\n" + "a." * 2000 + "x = 1\n", 1, "nested too deep"),
        ("[family]\nx = " + "9" * 5000 + "\n", 1, ""),
        ("just words\n", 1, ""),
    ],
)
def test_broken_toml(text: str, line: int, says: str) -> None:
    (found,) = problems(text)
    assert says in found.wanted
    assert found.line == line or "nested" in found.wanted or "digits" in found.wanted
    assert found.wanted


@pytest.mark.parametrize(
    ("raw", "line", "says"),
    [
        (b"\x89PNG\r\n\x1a\n\x00\x00", 1, "text in UTF-8"),
        (b"\xff\xfe[\x00", 1, "text in UTF-8"),
        (b"[family]\nname = '\xe9'\n", 2, "text in UTF-8"),
        (b"\x00" * 200, 1, "this is something else"),
    ],
)
def test_binary_rubbish(raw: bytes, line: int, says: str) -> None:
    (found,) = problems(raw)
    assert found.line == line
    assert says in found.wanted


def test_a_file_that_is_not_there_a_folder_and_one_that_may_not_be_read(tmp_path: Path) -> None:
    for path, says in (
        (tmp_path / "none.toml", "no such file"),
        (tmp_path, "is a folder"),
        ("", "name of a family file"),
    ):
        with pytest.raises(FileProblems, match=says):
            load(path)
    with pytest.raises(FileProblems, match="cannot be read"):
        load("a\0b")
    locked = tmp_path / "locked.toml"
    locked.write_text(PROBE, "utf-8")
    locked.chmod(0)
    if not os.access(locked, os.R_OK):  # root reads everything
        with pytest.raises(FileProblems, match="cannot be read"):
            load(locked)


def test_a_file_with_no_models_and_one_with_no_family() -> None:
    assert any(p.key == "models" for p in problems(PROBE[: PROBE.index("# -----")]))
    assert any(p.key == "family" for p in problems(PROBE.replace("[family]", "[famly]")))
    assert any("table" in p.wanted for p in problems("family = 1\nmodels = 2\nwings = 3\n"))


@pytest.mark.parametrize("seed", range(60))
def test_a_line_lost_or_garbled_never_gives_a_traceback(seed: int) -> None:
    rng = random.Random(seed)
    lines = PROBE.split("\n")
    at = rng.randrange(len(lines))
    garbled = [
        "",
        lines[at][: rng.randrange(len(lines[at]) + 1)],
        lines[at][::-1],
        "x = 1",
        "[a.b]",
        "]",
        lines[rng.randrange(len(lines))],
    ]
    lines[at] = rng.choice(garbled)
    try:
        read("\n".join(lines).encode("utf-8"), "f.toml")
    except FileProblems as faults:
        assert faults.problems
        assert all(p.line <= len(lines) + 1 and p.wanted for p in faults.problems)
