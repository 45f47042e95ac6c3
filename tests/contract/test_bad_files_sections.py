"""Surface and measured tables of a section in a family file: what is read from good ones, what is said of bad ones.

The family is that of probe.toml, with a measured table whose numbers only serve these tests.
"""

import math
import tomllib

import jsonschema
import pytest
from families import PROBE, line_with, problems, reading, spoiled, told
from numpy.testing import assert_allclose

from sparwright.family.json_schema import schema
from sparwright.family.model import Section
from sparwright.family.writer import set_value

TABLE = """
[[sections.lifting.measured]]
reynolds = {reynolds}
source = "a tunnel, page {page}"
angle = ["-4 deg", "0 deg", "4 deg", "8 deg", "12 deg"]
lift = [-0.03, 0.41, 0.84, 1.21, 1.39]
drag = [0.009, 0.008, 0.009, 0.012, 0.020]
moment = [-0.09, -0.09, -0.09, -0.08, -0.07]
give_or_take = 0.05
"""
FIRST, SECOND = TABLE.format(reynolds="1e6", page=1), TABLE.format(reynolds="3e6", page=2)
BEFORE = 'naca = "4412"\n'
GOOD = spoiled(BEFORE, f'{BEFORE}surface = "smooth"\n{FIRST}{SECOND}')
SPOT = "sections.lifting.measured"


def bad(old: str, new: str, table: int = 1) -> str:
    """The good text with one thing of one table spoiled."""
    at = GOOD.index(old, GOOD.index(f"page {table}") if old not in ("1e6", "3e6") and "page" not in old else 0)
    return GOOD[:at] + new + GOOD[at + len(old) :]


def lifting(text: str) -> Section:
    """The section of model P1."""
    return reading(text).models["P1"].sections["lifting"]


def test_a_section_is_home_built_and_calculated_unless_said() -> None:
    section = lifting(PROBE)
    assert (section.surface, section.measured) == ("built", ())


def test_surface_and_tables_are_read_in_si() -> None:
    section = lifting(GOOD)
    assert section.surface == "smooth" and len(section.measured) == 2
    first, second = section.measured
    assert (first.reynolds, second.reynolds, first.source) == (1e6, 3e6, "a tunnel, page 1")
    assert_allclose(first.angle, [math.radians(a) for a in (-4, 0, 4, 8, 12)], rtol=1e-15, atol=0)
    assert first.lift == (-0.03, 0.41, 0.84, 1.21, 1.39) and first.drag[4] == 0.020 and first.moment[3] == -0.08
    assert first.give_or_take == 0.05
    assert len({section, lifting(GOOD), lifting(PROBE)}) == 2  # a section can be a key


def test_drag_and_moment_may_be_left_out() -> None:
    text = "\n".join(line for line in GOOD.split("\n") if not line.startswith(("drag = [0.0", "moment = [-0")))
    assert [(m.drag, m.moment) for m in lifting(text).measured] == [((), ())] * 2


def test_a_model_may_say_another_surface_for_its_own() -> None:
    family = reading(GOOD + '\n[models.P2.sections.lifting]\nsurface = "rough"\n')
    said = [family.models[name].sections["lifting"].surface for name in ("P1", "P2")]
    assert said == ["smooth", "rough"]
    assert family.models["P2"].sections["lifting"].measured == family.models["P1"].sections["lifting"].measured


def test_a_value_of_a_measured_table_can_be_set() -> None:
    changed = set_value(GOOD, f"{SPOT}.1.give_or_take", "0.1")
    assert [m.give_or_take for m in lifting(changed).measured] == [0.05, 0.1]


def test_the_schema_takes_what_is_good() -> None:
    check = jsonschema.Draft202012Validator(schema())
    assert [e.message for e in check.iter_errors(tomllib.loads(GOOD))] == []
    for old, new in (('"smooth"', '"shiny"'), ("0.41", '"0.41"'), ('source = "a tunnel, page 1"', ""), ("1e6", "1e4")):
        assert list(check.iter_errors(tomllib.loads(GOOD.replace(old, new, 1)))), new


LIFT, ANGLE = "lift = [-0.03, 0.41", '["-4 deg", "0 deg", "4 deg"'
CASES = [
    # what, spoiled text, piece on the line (empty: looked up in the test), key, words of the message
    ("surface unknown", GOOD.replace('"smooth"', '"shiny"'), '"shiny"', "sections.lifting.surface", "is \"smooth\" or"),
    ("Reynolds number too low", bad("1e6", "4e4"), "4e4", f"{SPOT}.0.reynolds", "at least 50,000"),
    ("Reynolds number too high", bad("3e6", "1e7"), "1e7", f"{SPOT}.1.reynolds", "at most 9,000,000"),
    ("Reynolds number as text", bad("1e6", '"1e6"'), '"1e6"', f"{SPOT}.0.reynolds", "bare number"),
    ("tables do not rise", bad("3e6", "1_000_000"), "1_000_000", f"{SPOT}.1.reynolds", "table before, 1,000,000"),
    ("no source", bad('source = "a tunnel, page 1"\n', ""), "", f"{SPOT}.0.source", "is missing"),
    ("empty source", bad('"a tunnel, page 1"', '" "'), '" "', f"{SPOT}.0.source", "text in quotes"),
    ("angle without unit", bad('"4 deg"', '"4"'), '"4"', f"{SPOT}.0.angle.2", "has no unit"),
    ("angle as a number", bad('"4 deg"', "4"), ", 4,", f"{SPOT}.0.angle.2", "not a bare number"),
    ("angles fall", bad('"4 deg"', '"-1.25 deg"'), '"-1.25 deg"', f"{SPOT}.0.angle.2", "more than the angle before"),
    ("angle twice", bad('"4 deg"', '"0.0 deg"'), '"0.0 deg"', f"{SPOT}.0.angle.2", "more than the angle before"),
    ("angle past the range", bad('"12 deg"', '"120 deg"'), '"120 deg"', f"{SPOT}.0.angle.4", "at most 90 deg"),
    ("lift one short", bad(LIFT, "lift = [0.42"), "[0.42", f"{SPOT}.0.lift", "has 4 values; one for each of the 5"),
    ("drag one over", bad("0.008, ", "0.008, 0.0085, "), "0.0085", f"{SPOT}.0.drag", "has 6 values"),
    ("drag empty", bad("[0.009, 0.008, 0.009, 0.012, 0.020]", "[]"), "drag = []", f"{SPOT}.0.drag", "0 values"),
    ("moment one short", bad("-0.08, ", ""), "-0.09, -0.07]", f"{SPOT}.0.moment", "has 4 values"),
    ("lift with a unit", bad("0.41", '"0.41"'), '"0.41"', f"{SPOT}.0.lift.1", "bare number"),
    ("lift not a number", bad("0.41", "nan"), "nan", f"{SPOT}.0.lift.1", "finite"),
    ("lift without its point", bad("1.21", "121"), "121", f"{SPOT}.0.lift.3", "at most 4"),
    ("drag of nought", bad("0.012", "0.000"), "0.000", f"{SPOT}.0.drag.3", "positive"),
    ("lift not a list", bad("[-0.03, 0.41, 0.84, 1.21, 1.39]", "0.5"), "lift = 0.5", f"{SPOT}.0.lift", "list of bare"),
    ("give or take nought", bad("0.05", "0.0"), "give_or_take = 0.0\n", f"{SPOT}.0.give_or_take", "positive"),
    ("a key unknown", bad("moment =", "momentum ="), "momentum", f"{SPOT}.0.momentum", "'moment'"),
    ("one table, not a list", GOOD.replace(FIRST, FIRST.replace("[[", "[").replace("]]", "]")).replace(SECOND, ""),
     "[sections.lifting.measured]", SPOT, "list of tables"),
]  # fmt: skip


@pytest.mark.parametrize(("text", "piece", "key", "says"), [c[1:] for c in CASES], ids=[c[0] for c in CASES])
def test_each_fault_has_its_line_key_and_reason(text: str, piece: str, key: str, says: str) -> None:
    if piece:
        told(text, piece, key, says)
    else:
        (found,) = problems(text)
        assert (found.key, found.line) == (key, line_with(text, "reynolds = 1e6") - 1)
        assert says in found.wanted


def test_four_angles_are_too_few() -> None:
    few = bad('"0 deg", ', "").replace("-0.03, 0.41,", "-0.03,", 1).replace("0.009, 0.008,", "0.009,", 1)
    found = problems(few.replace("-0.09, -0.09, -0.09,", "-0.09, -0.09,", 1))
    assert [(p.key, "at least 5 angles" in p.wanted) for p in found] == [(f"{SPOT}.0.angle", True)]
