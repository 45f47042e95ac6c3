"""Faults in the engine, the limits and the loads of a family file.

Every case is the family of probe.toml with one thing spoiled; the line wanted is found in the text, not by the reader.
"""

import re

import pytest
from families import PROBE, line_with, problems, spoiled, told

CASES = [
    # what, spoiled text, piece on the line, key, words of the message
    ("strokes of three", spoiled("strokes = 2", "strokes = 3"), "strokes = 3", "models.P1.engine.strokes", "2 or 4"),
    (
        "curve not rising",
        spoiled('speed = "5500 rpm"', 'speed = "4500 rpm"').replace('"27 hp"', '"27.0 hp"'),
        '"39 hp"',
        "models.P1.engine.curve.2.speed",
        "must rise",
    ),
    (
        "positive negative factor",
        spoiled("n_negative = -1.5", "n_negative = 1.5"),
        "n_negative = 1.5",
        "limits.n_negative",
        "negative",
    ),
    (
        "balance limits crossed",
        spoiled("forward_cg = 0.18", "forward_cg = 0.38"),
        "forward_cg = 0.38",
        "limits.forward_cg",
        "less than aft_cg",
    ),
    (
        "position error of one speed",
        spoiled("n_negative = -1.5", 'n_negative = -1.5\nposition_error = ["-2 kt"]'),
        "position_error",
        "limits.position_error",
        "two speeds",
    ),
    (
        "position error upside down",
        spoiled("n_negative = -1.5", 'n_negative = -1.5\nposition_error = ["3 kt", "-2 kt"]'),
        "position_error",
        "limits.position_error",
        "least error comes first",
    ),
    (
        "position error of no indicator",
        spoiled("n_negative = -1.5", 'n_negative = -1.5\nposition_error = ["-2 kt", "16 kt"]'),
        "position_error",
        "limits.position_error.1",
        "more than 15 kt",
    ),
    (
        "position error without unit",
        spoiled("n_negative = -1.5", "n_negative = -1.5\nposition_error = [-2, 3]"),
        "position_error",
        "limits.position_error.0",
        "not a bare number",
    ),
    (
        "allowance outside its band",
        spoiled('cowling = { mass = "11 lb"', 'cowling = { mass = "16 lb"'),
        'cowling = { mass = "16 lb"',
        "allowances.cowling.mass",
        "between low and high",
    ),
    (
        "load upside down",
        spoiled('least = "125 lb"', 'least = "325 lb"'),
        '"325 lb"',
        "loads.pilot.least",
        "above most",
    ),
    (
        "item in place of nothing",
        spoiled('mass = "8 lb", band = 0.1', 'mass = "8 lb", replaces = "cowlings", band = 0.1'),
        'replaces = "cowlings"',
        "items.battery.replaces",
        "'cowling'",
    ),
    ("nobody flies", spoiled('kind = "pilot"', 'kind = "oil"'), "[loads.pilot]", "loads", "kind pilot"),
]


@pytest.mark.parametrize(("text", "piece", "key", "says"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_fault_has_its_line_key_and_reason(text: str, piece: str, key: str, says: str) -> None:
    told(text, piece, key, says)


@pytest.mark.parametrize("table", ["engine", "propeller"])
def test_a_model_without_engine_or_propeller(table: str) -> None:
    text = re.sub(rf"\[models\.P3\.{table}\]\n(?:[^\[\n].*\n|\]\n)*", "", PROBE)
    (found,) = problems(text)
    assert (found.key, found.line) == (f"models.P3.{table}", line_with(text, "[models.P3]"))
    assert "missing" in found.wanted


def test_a_key_missing_from_a_model_names_the_model() -> None:
    text = spoiled('max_mass = "850 lb"', "")
    (found,) = problems(text)
    assert (found.key, found.line) == ("models.P1.limits.max_mass", line_with(text, "[models.P1.limits]"))
    assert 'max_mass = "820 lb"' in found.example
