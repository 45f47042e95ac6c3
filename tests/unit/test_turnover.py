"""What keeps the head off the ground upside down: named, marked, held against its bodies, told when wrong."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from families import DEMO_FILE
from numpy.testing import assert_allclose

from sparwright.base.check import Check
from sparwright.base.problem import FileProblems
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.occupant.turnover import turnover_checks
from sparwright.parts.layout import lay_out
from sparwright.parts.turnover import TURNOVER
from sparwright.run import RunResult

DEMO = DEMO_FILE.read_text("utf-8")
INCH = 0.0254
MODELS = {"W1": 6, "W2": 6, "W3": 6}  # struts with a place on either side


def seated(model: Model, **changes: Any) -> Model:
    """The model with another seat."""
    assert model.seat is not None
    return replace(model, seat=replace(model.seat, **changes))


def only(model: Model) -> Check:
    """The check of the point."""
    (found,) = turnover_checks(model)
    return found


@pytest.mark.parametrize("name", list(MODELS))
def test_the_struts_are_marked_and_named(ran: Callable[[str], RunResult], name: str) -> None:
    done = ran(name)
    marked = [p for p in done.assembly.parts if TURNOVER in p.note]
    assert sum(p.count for p in marked) == MODELS[name] and all("CABANE" in p.number for p in marked)
    told = {c.id: c for c in done.checks}
    assert told["occupant.turnover"].verdict == "pass"
    head = told["occupant.head.turnover"]
    assert head.part == f"{name}-struts-CABANE_REAR" and all(p.number in head.caveat for p in marked)


def test_a_point_in_the_air_is_off_by_as_much(whinchat: Family) -> None:
    """W2's point is in its wing, whose top is at 36.29 there and nearly level; at 38.29 it stands 2 in over it."""
    model = whinchat.models["W2"]
    assert only(model).value == 0
    high = only(seated(model, turnover=(54.5 * INCH, 0.0, 38.29 * INCH)))
    assert high.verdict == "fail"
    assert_allclose(high.value, 2 * INCH, rtol=2e-2)  # the top falls aft by 8 deg: the nearest point is not below


def test_a_wing_none_of_them_meets_does_not_count(whinchat: Family) -> None:
    """Named: the upper longeron, 3/4 in thick at waterline 10.92; the wing, 5 in over the point, carries nothing."""
    model = seated(whinchat.models["W2"], turnover_on=("A1-D1",))
    point = (50 * INCH, 0.0, 27 * INCH)
    off = only(seated(model, turnover=point)).value
    assert_allclose(off, (27 - (11 - 4 / 24 * 0.5) - 0.375) * INCH, rtol=1e-3)


def test_a_frame_tube_is_marked_right_and_left(whinchat: Family) -> None:
    model = seated(whinchat.models["W1"], turnover_on=("D1-D2",))
    marked = [p.number for p in lay_out(model).parts if TURNOVER in p.note]
    assert marked == ["W1-fuselage-TUBE-D1R-D2R", "W1-fuselage-TUBE-D1L-D2L"]


def test_nothing_named_nothing_told(whinchat: Family) -> None:
    assert not list(turnover_checks(seated(whinchat.models["W1"], turnover_on=())))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"48 in"]\nturnover_on = ["cabane_rear", "cabane_front"',
         '"48 in"]\nturnover_on = ["cabane_rear", "cabane_frant"', "seat.turnover_on.1"),
        ('turnover = ["66-1/4 in", "0 in", "33 in"]\n', "", "seat.turnover"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_by_key(old: str, new: str, said: str) -> None:
    assert DEMO.count(old) == 1
    with pytest.raises(FileProblems) as told:
        read(DEMO.replace(old, new).encode(), str(DEMO_FILE))
    assert said in str(told.value)
