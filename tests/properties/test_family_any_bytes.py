"""Any bytes are a family or problems; a value set is the value read and every other line stays."""

import re

import pytest
from families import PROBE, problems
from hypothesis import given, settings
from hypothesis import strategies as st

from sparwright.base.problem import FileProblems
from sparwright.base.quantity import parse
from sparwright.family.places import scan
from sparwright.family.reader import read
from sparwright.family.writer import set_value

LINES = PROBE.split("\n")


def read_or_told(raw: bytes) -> None:
    try:
        read(raw, "f.toml")
    except FileProblems as faults:
        assert faults.problems
        last = raw.count(b"\n") + 1
        assert all(1 <= p.line <= last and p.wanted and p.file == "f.toml" for p in faults.problems)


@settings(max_examples=300, deadline=None)
@given(st.binary(max_size=200))
def test_random_bytes(raw: bytes) -> None:
    read_or_told(raw)


toml_bits = st.sampled_from(
    [
        "[family]",
        "[models.A]",
        "[[wings]]",
        'name = "x"',
        "name",
        "=",
        '"',
        "'",
        "[",
        "]",
        "{",
        "}",
        "\n",
        "\r\n",
        ".",
        ",",
        "1",
        "nan",
        "-inf",
        "true",
        "1979-05-27",
        '"1 in"',
        "models",
        "wings",
        "fuselage",
        "nodes",
        "tubes",
        "run",
        "ends",
        "#",
        '"""',
        "\\",
        "without",
        "panels.a.root_chord = ",
        "sections.a.points = ",
        "engine = ",
        "struts.a.ends = ",
        " ",
        "é",
        "\x00",
    ]
)


@settings(max_examples=400, deadline=None)
@given(st.lists(toml_bits, max_size=30))
def test_random_toml(bits: list[str]) -> None:
    read_or_told("".join(bits).encode("utf-8"))


def spoil_a_line(at: int, how: str, other: int) -> None:
    lines = list(LINES)
    if how == "drop":
        del lines[at]
    elif how == "swap":
        lines[at], lines[other] = lines[other], lines[at]
    elif how == "twice":
        lines.insert(other, lines[at])
    elif how == "cut":
        lines[at] = lines[at][: other % (len(lines[at]) + 1)]
    else:
        lines[at] = how
    read_or_told("\n".join(lines).encode("utf-8", "surrogatepass"))


some_line = st.integers(0, len(LINES) - 1)
some_way = st.sampled_from(["drop", "swap", "twice", "cut"]) | st.text(max_size=30)


@settings(max_examples=60, deadline=None)
@given(some_line, some_way, some_line)
def test_a_line_of_the_probe_spoiled(at: int, how: str, other: int) -> None:
    spoil_a_line(at, how, other)


@pytest.mark.long
@settings(max_examples=400, deadline=None)
@given(some_line, some_way, some_line)
def test_a_line_of_the_probe_spoiled_at_length(at: int, how: str, other: int) -> None:
    spoil_a_line(at, how, other)


def _spans(spot: object) -> list[tuple[int, int]]:
    found = [(spot.start, spot.end)] if spot.start >= 0 else []  # type: ignore[attr-defined]
    for child in spot.children.values():  # type: ignore[attr-defined]
        found += _spans(child)
    return found


SPANS = _spans(scan(PROBE))
some_span = st.sampled_from(SPANS)
some_value = st.sampled_from(
    ["1", "-1.5", "nan", "inf", "true", '"x"', '"1 in"', '"-1 kg"', "[]", "{}", "[[]]", "[1, 2, 3]", "[{}, {}]", "[{}]"]
    + ['["1 in", "0 in", "2 in"]', '[["A1", "B1"]]', "{ a = 1 }", "1979-05-27"]
)


@settings(max_examples=60, deadline=None)
@given(some_span, some_value)
def test_any_value_of_the_probe_replaced_by_another(span: tuple[int, int], value: str) -> None:
    read_or_told((PROBE[: span[0]] + value + PROBE[span[1] :]).encode("utf-8"))


@pytest.mark.long
@settings(max_examples=800, deadline=None)
@given(some_span, some_value)
def test_any_value_of_the_probe_replaced_by_another_at_length(span: tuple[int, int], value: str) -> None:
    read_or_told((PROBE[: span[0]] + value + PROBE[span[1] :]).encode("utf-8"))


def is_number(text: str) -> bool:
    """Whether a value as written is a number, or a text with a unit."""
    return re.match(r'"?-?\d', text) is not None and text != '"1x19"'


NUMBERS = [(a, b) for a, b in SPANS if is_number(PROBE[a:b])]


def told_once(span: tuple[int, int], value: str) -> None:
    """One wrong number is one problem on its own line, and nothing false is said of what hangs together with it."""
    (found,) = problems(PROBE[: span[0]] + value + PROBE[span[1] :])
    assert found.line == PROBE.count("\n", 0, span[0]) + 1


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(NUMBERS), st.sampled_from(['"1 lightyear"', "nan", "true"]))
def test_one_wrong_number_is_one_problem(span: tuple[int, int], value: str) -> None:
    told_once(span, value)


@pytest.mark.long
def test_each_wrong_number_is_one_problem() -> None:
    assert len(NUMBERS) > 500
    for span in NUMBERS:
        told_once(span, '"1 lightyear"')


inch = st.integers(2, 400).map(lambda n: f"{n / 4:g} in")
CHANGES = {
    "tailplane.span": lambda f: f.models["P2"].tailplane.span,
    "models.P1.wings.wing.ribs.pitch": lambda f: f.models["P1"].wing("wing").ribs.pitch,
    "models.P3.wings.upper.panels.centre.root_chord": lambda f: f.models["P3"].wing("upper").panels[0].root_chord,
    "fuselage.nodes.S2.0": lambda f: f.models["P1"].fuselage.nodes["S2"][0],
}


@pytest.mark.parametrize("key", CHANGES)
@settings(max_examples=12, deadline=None)
@given(text=inch)
def test_a_value_set_is_the_value_read_and_other_lines_stay(key: str, text: str) -> None:
    new = set_value(PROBE, key, text)
    old_lines, new_lines = LINES, new.split("\n")
    assert len(old_lines) == len(new_lines)
    assert sum(a != b for a, b in zip(old_lines, new_lines, strict=True)) <= 1
    try:
        family = read(new.encode("utf-8"), "f.toml")
    except FileProblems as faults:  # a wing so small that something no longer fits is told, and nothing else is
        assert all("leave nothing of a chord" in p.wanted for p in faults.problems)
        return
    assert CHANGES[key](family) == parse(text, "length")


@settings(max_examples=15, deadline=None)
@given(inch)
def test_set_there_and_back_is_the_same_text(text: str) -> None:
    there = set_value(PROBE, "fin.span", text)
    assert set_value(there, "fin.span", "52 in") == PROBE
