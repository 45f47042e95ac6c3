"""Dimension chains: they close as printed, or run from a datum; figures keep apart."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sparwright.plans.chains import Across, Mark, chain, closes, running, said, spread
from sparwright.plans.drawing import DRAFTING, Sheet, Text

INCH = 0.0254


def words(strokes: tuple) -> list[str]:
    return [s.content for s in strokes if isinstance(s, Text)]


def marks(*inches: float, scale: float = 5.0) -> list[Mark]:
    return [Mark(x * 25.4 / scale, x * INCH, 0.0) for x in inches]


def test_a_chain_gives_every_step_and_the_whole() -> None:
    found = chain(marks(0, 10, 24.5), Across(at=-10.0), "inch")
    assert words(found) == ["10″", "14 1/2″", "24 1/2″"]


def test_steps_too_short_for_their_figures_run_from_the_datum() -> None:
    found = chain(marks(0, 10, 10.5, 24.5), Across(at=-10.0), "inch")
    assert words(found) == ["0″", "10″", "10 1/2″", "24 1/2″"]


def test_a_chain_that_would_not_close_as_printed_runs_from_the_datum() -> None:
    """Three steps of 10.005 in print as 10 in each, their whole as 30 1/64."""
    assert not closes([10.0055 * INCH] * 3, 3 * 10.0055 * INCH, "inch")
    found = chain(marks(0, 10.0055, 20.011, 30.0165), Across(at=-10.0), "inch")
    assert words(found) == ["0″", "10″", "20 1/64″", "30 1/64″"]


def test_upright_rows_and_both_sides() -> None:
    for upright in (False, True):
        for away in (-1, 1):
            strokes = running(marks(0, 5, 30), Across(upright, 10.0 * away, away), "millimetre")
            assert words(strokes) == ["0", "127", "762"]
            far = [s.anchor[0 if upright else 1] for s in strokes if isinstance(s, Text)]
            assert all(away * (v - 10.0 * away) > 0 for v in far)  # beyond the dimension line, away from the part


@given(st.lists(st.floats(0, 400), min_size=1, max_size=30), st.floats(0.5, 12))
def test_spread_keeps_order_distance_and_middle(wanted: list[float], apart: float) -> None:
    wanted = sorted(wanted)
    found = spread(wanted, apart)
    assert all(b - a >= apart - 1e-9 for a, b in zip(found, found[1:], strict=False))
    assert sum(found) == pytest.approx(sum(wanted), abs=1e-6)
    if all(b - a >= apart for a, b in zip(wanted, wanted[1:], strict=False)):
        assert found == pytest.approx(wanted)


@given(st.lists(st.floats(0.05, 190), min_size=2, max_size=25, unique_by=lambda v: round(v, 3)))
def test_running_figures_never_touch(inches: list[float]) -> None:
    from sparwright.plans.clash import clashes

    strokes = running(marks(0.0, *sorted(inches)), Across(at=-20.0, away=-1), "inch")
    moved_up = Sheet(1, 1, "t", "24x36", 2000.0, 600.0, tuple(_up(s) for s in strokes))
    assert clashes(moved_up) == ()
    assert all(s.size >= DRAFTING.small for s in strokes if isinstance(s, Text))


def _up(stroke):  # type: ignore[no-untyped-def]
    from sparwright.plans.drawing import moved

    return moved(stroke, 500.0, 300.0)


def test_lengths_as_said() -> None:
    assert (
        said(1.0, "inch") == "3′ 3 3/8″"
        and said(1.0, "inch", 10**9) == "39 3/8″"
        and said(1.0, "millimetre") == "1,000"
    )
