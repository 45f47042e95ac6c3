"""The stall as the indicator shows it: calibrated speed and the designer's error, ends straight."""

from __future__ import annotations

from dataclasses import replace

import pytest
from families import PROBE, reading, spoiled
from numpy.testing import assert_allclose

from sparwright.air.atmosphere import atmosphere
from sparwright.base.source import Band
from sparwright.flight.indicated import indicated, indicated_results, stated

KNOT = 1852 / 3600


def test_by_hand() -> None:
    """36 kt, 35 to 38, with -2 to 3 kt at sea level: 36.5 kt, 33 to 41."""
    true = Band(36 * KNOT, 35 * KNOT, 38 * KNOT)
    found = indicated(true, stated((-2 * KNOT, 3 * KNOT)), atmosphere(0.0))
    assert_allclose([found.value, found.low, found.high], [36.5 * KNOT, 33 * KNOT, 41 * KNOT], rtol=1e-12, atol=0)


def test_no_error_at_sea_level_changes_nothing_and_height_takes_away() -> None:
    """At 3 km the density is 0.7423 of sea level's (ISO 2533: 0.909122/1.225), so calibrated is 0.8615 of true."""
    true, none = Band(20.0, 19.0, 21.0), Band.exact(0.0)
    assert indicated(true, none, atmosphere(0.0)) == true
    assert_allclose(indicated(true, none, atmosphere(3000.0)).value, 20 * 0.86147, rtol=1e-5, atol=0)


def test_a_file_that_states_none_has_none_and_one_that_does_is_read() -> None:
    assert {m.limits.position_error for m in reading(PROBE).models.values()} == {()}
    text = spoiled("n_negative = -1.5", 'n_negative = -1.5\nposition_error = ["-2 kt", "3 kt"]')
    for model in reading(text).models.values():
        assert model.limits.position_error == pytest.approx((-2 * KNOT, 3 * KNOT))


def test_results_of_a_flown_model(ran) -> None:
    """One for each case, from the case's own stall; the demo states none and has none."""
    run = ran("W1")
    assert not [r for r in run.results if "indicated" in r.id]
    flown, model = run.flight.flown, run.flight.flown.model
    stating = replace(flown, model=replace(model, limits=replace(model.limits, position_error=(-KNOT, 2 * KNOT))))
    found = {r.id: r for r in indicated_results(stating)}
    assert len(found) == len(flown.cases)
    for name, case in flown.cases.items():
        r, true = found[f"flight.stall.indicated.{name}"], case.stall.speed
        ends = [true.value + KNOT / 2, true.low - KNOT, true.high + 2 * KNOT]
        assert_allclose([r.value, r.low, r.high], ends, rtol=1e-12, atol=0)
        assert "-1 to 2 kt, not flown" in r.caveat and r.parents == (f"flight.stall.{name}",)
