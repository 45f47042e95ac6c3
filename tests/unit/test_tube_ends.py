"""Tube ends at their edges: what cannot be cut is told with the part's number; square ends get a row, no pattern."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from tube_joints import MEETINGS, Meeting, part, passing, unit

from sparwright.base.problem import DesignProblem
from sparwright.parts.tube_ends import tube_ends
from sparwright.plans.clash import clashes
from sparwright.plans.drawing import Text
from sparwright.plans.paper import TitleBlock
from sparwright.plans.tube_ends import end_sheets, short
from sparwright.shape.tube import Fitted, Tube, both_ways, fitted_tube
from sparwright.shape.tube_end import zero_lines

TITLE = TitleBlock("Whinchat", "T1", "Sparwright 0.1.0", "0" * 64)


def test_a_cope_longer_than_the_tube_is_told() -> None:
    shallow = Meeting(unit(1, 0, 0.15), 0.0127, 0.001, ((passing(1, 0, 0), 0.02),))
    with pytest.raises(DesignProblem, match=r"T1-SHORT: its ends are cut by more than the tube is long, by \d+\.\d mm"):
        tube_ends([part("T1-SHORT", shallow.tube(0.1))])
    assert tube_ends([part("T1-LONG", shallow.tube(0.4))])[0]


def test_two_copes_that_meet_on_one_line_are_told() -> None:
    ends = both_ways(passing(1, 0, 0), 0.01), both_ways(passing(1, 0, 0), 0.01)
    path = np.array([[0, 0, 0], [0, 0, 0.0195]])
    with pytest.raises(DesignProblem, match="T1-X: its ends are cut by more"):
        tube_ends([part("T1-X", fitted_tube(path, 0.01, 0.001, "", ends))])
    _, (row,) = tube_ends([part("T1-Y", fitted_tube(path * 2, 0.01, 0.001, "", ends))])
    assert row.bases < 0  # the base lines of both patterns cross on so short a tube: the figure says so


def test_a_tube_inside_another_is_told() -> None:
    inside = fitted_tube(np.array([[0, 0, 0], [0.3, 0, 0.0]]), 0.012, 0.001, "", ([Fitted((1.0, 0.0, 0.0), 0.01)], []))
    with pytest.raises(DesignProblem, match="tube T1-IN at its start runs inside or alongside a tube it is fitted to"):
        tube_ends([part("T1-IN", inside)])
    butt = fitted_tube(np.array([[0, 0, 0], [0.3, 0, 0.0]]), 0.012, 0.001, "", ([Fitted((-1.0, 0.0, 0.0), 0.01)], []))
    patterns, (row,) = tube_ends([part("T1-BUTT", butt)])
    assert patterns == () and row.ends == ("square", "square") and math.isnan(row.bases)


def test_a_bend_inside_a_cope_is_told() -> None:
    fits = both_ways(passing(1, 0, 0), 0.02)
    path = np.array([[0, 0, 0], [0, 0, 0.015], [0, 0.1, 0.4]])
    with pytest.raises(DesignProblem, match="T1-BENT: its ends are cut by more"):
        tube_ends([part("T1-BENT", fitted_tube(path, 0.0127, 0.001, "", (fits, ())))])


def test_bought_tubes_rods_and_others_are_left_out() -> None:
    plain = Tube(path=np.array([[0, 0, 0], [0, 0, 1.0]]), outside=0.01, wall=0.001)
    rod = replace(MEETINGS["square"].tube(), wall=0.0)
    assert tube_ends([part("T1-BUSH", plain), part("T1-ROD", rod)]) == ((), ())
    assert end_sheets((), (), ["A1"], TITLE) == ()


def test_square_ends_have_a_row_and_no_pattern() -> None:
    patterns, rows = tube_ends([part("T1-TUBE-A-B", MEETINGS["oblique"].tube())])
    sheets = end_sheets(patterns, rows, ["24x36", "A1"], TITLE)
    assert [s.kind for s in sheets] == ["tube-ends"] * len(sheets) and {s.paper for s in sheets} == {"24x36", "A1"}
    assert all(clashes(s) == () for s in sheets)
    words = [t.content for s in sheets for t in s.strokes if isinstance(t, Text)]
    assert {"P1 s1", "square", "T1-TUBE-A-B"} <= set(words) and not any(w.startswith("P2") for w in words)


def test_a_small_tube_still_says_which_it_is() -> None:
    small = Meeting(unit(0, 0.3, 1), 0.00635, 0.0007, ((passing(1, 0, 0), 0.00635),))
    patterns, rows = tube_ends([part("T1-fuselage-TUBE-A1R-A2R", small.tube())])
    (sheet, _) = end_sheets(patterns, rows, ["A1"], TITLE)
    assert clashes(sheet) == () and any("P1" in t.content for t in sheet.strokes if isinstance(t, Text) and not t.bold)
    assert short("T1-fin-RIB-19") == "fin-RIB-19"


def test_both_sides_of_a_pair_are_one_as_printed_and_one_turned_over() -> None:
    tube = replace(MEETINGS["cluster"].tube())
    ((pattern,), _) = tube_ends([part("T1-STRUT", tube, sides=2)])
    assert [(s.drawn, s.turned) for s in pattern.served] == [(1, 1)]


def test_zero_line_looks_up_or_on_a_steep_tube_forward() -> None:
    for way, word, wanted in (((1, 0.3, 0.2), "up", 2), ((0.2, 0, 1), "forward", 0)):
        said, first, _ = zero_lines(np.array([[0, 0, 0], way], dtype=float))
        assert said == word and abs(first @ unit(*way)) < 1e-12
        assert (first[wanted] > 0.5) if word == "up" else (first[wanted] < -0.5)
