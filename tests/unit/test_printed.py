"""Dimensions as printed: each has an id, moves with its strokes, and is told by `why` in words."""

from __future__ import annotations

import pytest

from sparwright.output.csv import dimensions_csv
from sparwright.output.why import why_printed
from sparwright.plans.chains import Across, Mark, chain, running
from sparwright.plans.correction import corrected
from sparwright.plans.drawing import Dimension, Sheet, Stroke, moved
from sparwright.plans.printed import printed

ROW = Across(False, -10.0, -1, "test row", "[somewhere] in the file")
MARKS = [Mark(0.0, 0.0, 0.0, "a"), Mark(60.0, 0.3, 0.0, "b"), Mark(180.0, 0.9, 0.0, "c")]


def sheet(strokes: tuple[Stroke, ...], number: int = 1) -> Sheet:
    return Sheet(number, 2, "A sheet", "A1", 841.0, 594.0, strokes)


def told(strokes: tuple[Stroke, ...]) -> list[tuple[str, str, float]]:
    return [(p.id, p.words, p.value) for p in printed([sheet(strokes)])]


def test_a_chain_tells_each_step_and_the_whole() -> None:
    assert told(chain(MARKS, ROW, "millimetre")) == [
        ("drawn.test-row.a-to-b", "300", 0.3),
        ("drawn.test-row.b-to-c", "600", pytest.approx(0.6)),
        ("drawn.test-row.a-to-c", "900", 0.9),
    ]


def test_running_ones_tell_the_distance_from_the_datum() -> None:
    assert [p[:2] for p in told(running(MARKS, ROW, "millimetre"))] == [
        ("drawn.test-row.a", "0"), ("drawn.test-row.b", "300"), ("drawn.test-row.c", "900")]  # fmt: skip


def test_what_is_given_on_two_papers_is_one() -> None:
    strokes = running(MARKS, ROW, "inch")
    assert len(printed([sheet(strokes), sheet(strokes, 2)])) == 3
    assert printed([sheet(strokes), sheet(strokes, 2)])[0].where == "sheet 1 of 2, A sheet"


@pytest.mark.parametrize("strokes", [chain(MARKS, ROW, "inch"), running(MARKS, ROW, "inch")])
def test_the_strokes_that_show_it_stay_on_the_sheet_wherever_it_goes(strokes: tuple[Stroke, ...]) -> None:
    """Moved or corrected for a printer, what shows a dimension is still among the strokes, each once."""
    for changed in (
        tuple(moved(s, 12.3, -4.5) for s in strokes),
        corrected(strokes, ((1.01, 0.002), (0.0, 0.99)), (3, 4)),
    ):
        own = [s for d in changed if isinstance(d, Dimension) for s in d.strokes]
        ink = [s for s in changed if not isinstance(s, Dimension)]
        assert all(ink.count(s) >= 1 for s in own) and len(own) >= len(ink) - 1  # a datum's square is nobody's
        assert own and changed != strokes


def test_the_table_and_the_words() -> None:
    rows = printed([sheet(running(MARKS, ROW, "inch"))])
    lines = dimensions_csv(rows).decode().splitlines()
    assert len(lines) == 4 and lines[2].startswith("drawn.test-row.b,") and ",300.000," in lines[2]
    said = why_printed(rows[1], "Fam M1")
    assert "test row, b = 11 13/16″" in said and "300.000 mm" in said and "[somewhere] in the file" in said
