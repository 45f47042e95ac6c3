"""Tables on a drawing: nothing is lost, rows are as tall as their words, stacks come out even."""

from __future__ import annotations

import pytest

from sparwright.base.problem import DesignProblem
from sparwright.plans.drawing import Line, Text
from sparwright.plans.ruled import ROW, TITLE, Ruled, ruled, stacks

HEADS = ("Mark", "Stock")


def table(*rows: tuple[str, str]) -> Ruled:
    return Ruled("Parts", HEADS, rows, (True, False))


def words(t: Ruled, tall: float) -> list[str]:
    return [s.content for s in ruled(t, 0.0, 0.0, tall).strokes if isinstance(s, Text)]


def test_every_line_of_a_cell_is_set_under_the_last():
    t = table(("1", "cable\ncut 3 ft\npin to pin"), ("2", "tube"))
    lines = [s for s in ruled(t, 0.0, 0.0, 200.0).strokes if isinstance(s, Text)]
    at = {s.content: s.anchor[1] for s in lines}
    assert [at["cable"] - at["cut 3 ft"], at["cut 3 ft"] - at["pin to pin"], at["pin to pin"] - at["tube"]] == (
        pytest.approx([ROW] * 3)
    )
    assert at["1"] == at["cable"] and at["2"] == at["tube"]


def test_rules_stand_between_rows_and_not_between_lines_of_one():
    t = table(("1", "a\nb\nc"), ("2", "d"))
    flat = sorted(
        {-s.start[1] for s in ruled(t, 0.0, 0.0, 200.0).strokes if isinstance(s, Line) and s.start[1] == s.end[1]}
    )
    assert flat == pytest.approx([TITLE + n * ROW for n in (0, 1, 4, 5)])


def test_stacks_hold_every_row_once_in_order_and_no_more_than_the_height():
    rows = tuple((str(i), "\n".join("x" * (1 + i % 3))) for i in range(20))
    for lines in (3, 5, 8, 40):
        tall = TITLE + (lines + 1) * ROW
        made = stacks(table(*rows), tall)
        assert tuple(r for s in made for r in s) == rows
        assert all(sum(r[1].count("\n") + 1 for r in s) <= lines for s in made)
        assert ruled(table(*rows), 0.0, 0.0, tall).box.bottom >= -tall - 1e-9
        assert words(table(*rows), tall).count("19") == 1


def test_as_few_stacks_as_go_and_even():
    assert [len(s) for s in stacks(table(*((str(i), "x") for i in range(10))), TITLE + 8 * ROW)] == [5, 5]


def test_a_row_taller_than_the_sheet_is_told():
    with pytest.raises(DesignProblem, match="Parts"):
        stacks(table(("1", "a\nb\nc")), TITLE + 3 * ROW)
