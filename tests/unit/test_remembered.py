"""Memory by content: the same question is not worked out twice, another question is never answered with the last."""

from __future__ import annotations

from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Any

import numpy as np
import pytest
from numpy.testing import assert_array_equal
from shapely import Point

from sparwright.base.record import locked
from sparwright.base.remembered import content, forget, remembered


@dataclass(frozen=True)
class Spar:
    """A record with others in it."""

    name: str
    at: float
    corners: np.ndarray
    ends: tuple[tuple[float, ...], ...] = ()
    named: Any = None


@dataclass(frozen=True)
class Strut:
    """Another record of the same fields' values."""

    name: str
    at: float
    corners: np.ndarray
    ends: tuple[tuple[float, ...], ...] = ()
    named: Any = None


def spar(kind: type = Spar) -> Any:
    return kind("front", 0.2, locked([[0.0, 1.0], [2.0, 3.0]]), ((1.0,), (2.0, 3.0)), MappingProxyType({"a": 1.0}))


def test_equal_content_is_one_question_however_it_was_made() -> None:
    asked = []

    @remembered(4)
    def told(s: Spar, turned: bool = False) -> str:
        asked.append(s)
        return f"{s.name} {s.at}"

    assert told(spar()) == told(spar()) == "front 0.2"
    assert len(asked) == 1
    told(spar(), turned=True)
    assert len(asked) == 2


@pytest.mark.parametrize(
    "other",
    [
        replace(spar(), name="rear"),
        replace(spar(), at=0.2 + 1e-16 * 2),
        replace(spar(), at=np.float64(0.2)),
        replace(spar(), corners=locked([[0.0, 1.0], [2.0, np.nextafter(3.0, 4.0)]])),
        replace(spar(), corners=locked([[0.0, 1.0, 2.0, 3.0]])),
        replace(spar(), corners=np.array([[0, 1], [2, 3]])),
        replace(spar(), ends=((1.0, 2.0), (3.0,))),
        replace(spar(), ends=((1.0,), (2.0, 3.0), ())),
        replace(spar(), named=MappingProxyType({"b": 1.0})),
        replace(spar(), named=MappingProxyType({"a": 1})),
        spar(Strut),
    ],
)
def test_any_other_content_is_another_question(other: Any) -> None:
    assert content(other) != content(spar())


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (0.0, -0.0),
        (1, 1.0),
        (1, True),
        (None, "None"),
        ("1", 1),
        (("ab", "c"), ("a", "bc")),
        ((1, 2), [1, 2]),
        (((1,), 2), (1, (2,))),
        (Point(0, 1).buffer(1), Point(0, 1).buffer(2)),
        ({"a": 1, "b": 2}, {"b": 2, "a": 1}),
    ],
)
def test_what_prints_or_counts_alike_is_told_apart(one: Any, other: Any) -> None:
    assert content(one) != content(other)


def test_not_a_number_is_the_same_question() -> None:
    assert content((float("nan"), locked([np.nan]))) == content((float("nan"), locked([np.nan])))


def test_a_record_whose_array_can_be_written_to_is_told_anew() -> None:
    loose = Spar("front", 0.2, np.array([[0.0, 1.0], [2.0, 3.0]]))
    before = content(loose)
    loose.corners[0, 0] = 5.0
    assert content(loose) != before
    inner = locked([1.0, 2.0, 3.0])
    view = Spar("front", 0.2, inner[:2])
    assert content(view) == content(Spar("front", 0.2, locked([1.0, 2.0])))


def test_a_record_in_the_place_of_one_that_is_gone_is_itself() -> None:
    found = {content(Spar("front", float(i), locked([i]))) for i in range(2000)}
    assert len(found) == 2000


def test_the_longest_unused_goes_first() -> None:
    asked: list[int] = []

    @remembered(2)
    def double(n: int) -> int:
        asked.append(n)
        return 2 * n

    for n in (1, 2, 1, 3, 1, 2):
        assert double(n) == 2 * n
    assert asked == [1, 2, 3, 2]
    forget()
    double(2)
    assert asked == [1, 2, 3, 2, 2]


def test_a_fault_is_not_kept_and_a_function_is_no_content() -> None:
    tries: list[int] = []

    @remembered(2)
    def once(n: int) -> int:
        tries.append(n)
        if len(tries) == 1:
            raise ValueError("first")
        return n

    with pytest.raises(ValueError, match="first"):
        once(1)
    assert once(1) == 1
    with pytest.raises(TypeError, match="cannot be told"):
        once(lambda: 1)  # type: ignore[arg-type]


def test_what_is_given_back_is_the_thing_itself() -> None:
    @remembered(1)
    def corners(n: int) -> np.ndarray:
        return locked(np.arange(n))

    assert corners(3) is corners(3)
    assert_array_equal(corners(3), [0, 1, 2])
