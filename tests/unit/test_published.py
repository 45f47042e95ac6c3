"""Bands no narrower than published aeroplanes missed."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.source import UNKNOWN, Band
from sparwright.data.whole import WHOLE
from sparwright.flight.heights import HEIGHTS, Climbs
from sparwright.flight.published import as_seen, climbs_as_seen, low_end
from sparwright.run import RunResult


@pytest.mark.parametrize("what", ["top", "climb"])
def test_only_the_low_end_moves_and_only_down(what: str) -> None:
    f = WHOLE[what].value
    narrow, wide = as_seen(Band(10.0, 9.9, 10.1), what), as_seen(Band(10.0, 1.0, 12.0), what)
    assert (narrow.value, narrow.high) == (10.0, 10.1)
    assert_allclose(narrow.low, 10.0 * f, rtol=1e-12, atol=0)
    assert wide == Band(10.0, 1.0, 12.0)


def test_what_is_unknown_or_does_not_climb_stays() -> None:
    assert as_seen(UNKNOWN, "climb") is UNKNOWN
    half = Band(10.0, math.nan, math.nan)
    assert as_seen(half, "top") is half and not low_end(half, "top")
    sinks = Band(-0.5, -0.8, -0.1)
    assert as_seen(sinks, "climb") is sinks


def test_every_height_keeps_its_order() -> None:
    values = np.array([4.0, 3.0, 2.0, 1.0, -0.2])
    rates = tuple(Band(v, v - 0.2, v + 0.2) for v in values)
    found = climbs_as_seen(Climbs(HEIGHTS, rates, (20.0,) * 5, Band(0.15, 0.14, 0.16), 18.0))
    lows = np.array([r.low for r in found.rates])
    assert np.all(np.diff(lows) < 0)
    assert_allclose(lows[:4], WHOLE["climb"].value * values[:4], rtol=1e-12, atol=0)
    assert lows[4] == rates[4].low
    assert_allclose(found.steepest.low, WHOLE["climb"].value * 0.15, rtol=1e-12, atol=0)


def test_the_working_ends_at_the_low_end() -> None:
    (step,) = low_end(Band(40.0, 33.0, 45.0), "top")
    assert_allclose(step.value, as_seen(Band(40.0, 33.0, 45.0), "top").low, rtol=1e-12, atol=0)
    assert "fales-1917" in step.source


def test_what_is_told_of_the_demo_uses_it(ran: Callable[[str], RunResult]) -> None:
    """Sea level, heights and a day; the narrow band of W3 shows it."""
    run = ran("W3")
    top, climb = run.flight.flown.performance.top.speed, run.flight.flown.performance.climb.value
    assert top.low > WHOLE["top"].value * top.value and climb.low > WHOLE["climb"].value * climb.value
    for id, what in (("flight.speed.max", "top"), ("flight.climb.rate", "climb"), ("flight.climb.rate.1500", "climb"),
                     ("flight.climb.angle", "climb")):  # fmt: skip
        r = run.result(id)
        assert_allclose(r.low, WHOLE[what].value * r.value, rtol=1e-9, atol=0)
        assert "whole-aeroplanes" in r.caveat, id
    days = [r for r in run.results if r.id.startswith("flight.day.") and r.id.endswith(".climb.rate")]
    assert days and all(r.low <= WHOLE["climb"].value * r.value + 1e-9 for r in days)
