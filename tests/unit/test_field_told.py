"""Take-off, landing and climb as told: each with its working, longer on a hot day in the hills, in feet or metres."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from families import PROBE, problems, reading
from numpy.testing import assert_allclose

from sparwright.air.atmosphere import atmosphere
from sparwright.base.check import Result
from sparwright.base.quantity import parse
from sparwright.family.days import Day
from sparwright.flight.days_told import day_results
from sparwright.flight.field_told import field_results
from sparwright.output.shown import unit_of
from sparwright.run import RunResult

Ran = Callable[[str], RunResult]
HILLS = Day(name="hills", altitude=1000.0, warmer=20.0)


def told(ran: Ran, name: str, **changed: object) -> dict[str, Result]:
    run = ran(name)
    model = replace(run.flight.flown.model, **changed)  # type: ignore[arg-type]
    flown, by_id = replace(run.flight.flown, model=model), {r.id: r for r in run.results}
    return {r.id: r for r in (*field_results(flown, by_id), *day_results(flown, by_id))}


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_everything_is_known_and_in_order(ran: Ran, name: str) -> None:
    found = told(ran, name)
    for id, r in found.items():
        if not id.startswith(("flight.ceiling", "flight.day.hills")):
            assert r.band.known, id
        assert r.low <= r.value <= r.high or not r.band.known, id
        assert r.source and r.caveat
    for way in ("takeoff", "landing"):
        for what in ("roll", "over"):
            hard, grass = (found[f"flight.{way}.{what}.{s}"].value for s in ("hard", "grass"))
            assert grass > hard > 20
        assert found[f"flight.{way}.over.hard"].value > found[f"flight.{way}.roll.hard"].value
    assert found["flight.ceiling.absolute"].value > found["flight.ceiling.service"].value > 1500
    assert found["flight.climb.rate.1500"].value > found["flight.climb.rate.3000"].value
    assert math.sin(found["flight.climb.angle"].value) < 0.5


def test_the_steps_add_up(ran: Ran) -> None:
    found = told(ran, "W1")
    for id in ("flight.takeoff.over.grass", "flight.landing.over.hard"):
        assert_allclose(sum(s.value for s in found[id].steps), found[id].value, rtol=1e-12)


def test_a_hot_day_in_the_hills_takes_more_of_everything(ran: Ran) -> None:
    found = told(ran, "W2", days=(HILLS,))
    for id in [i.removeprefix("flight.day.hills.") for i in found if i.startswith("flight.day.hills.")]:
        if id.startswith(("takeoff", "landing")):
            assert found[f"flight.day.hills.{id}"].value > 1.05 * found[f"flight.{id}"].value
    assert "39 deg C" not in found["flight.day.hills.climb.rate"].title
    warm = atmosphere(1000.0, 20.0).temperature - 273.15
    assert f"{warm:.0f} deg C" in found["flight.day.hills.climb.rate"].title
    assert found["flight.day.hills.climb.rate"].value < found["flight.climb.rate.1500"].value + 1.0


def test_a_standard_day_at_sea_level_by_that_name_is_the_standard_day(ran: Ran) -> None:
    found = told(ran, "W1", days=(Day(name="plain", altitude=0.0),))
    for id, r in found.items():
        if id.startswith(("flight.day.plain.takeoff", "flight.day.plain.landing")):
            assert_allclose(r.value, found[id.replace("day.plain.", "")].value, rtol=5e-3)  # its balance


def test_fields_are_shown_in_feet_and_metres_and_climb_in_minutes() -> None:
    for id in ("flight.takeoff.roll.grass", "flight.day.hills.landing.over.hard", "flight.ceiling.service"):
        assert (unit_of("m", "inch", id).name, unit_of("m", "millimetre", id).name) == ("ft", "m")
    assert unit_of("s", "inch", "flight.climb.time").name == "min"
    assert_allclose(unit_of("s", "inch", "flight.climb.time").factor, 1 / 60)
    assert unit_of("s", "inch", "flight.endurance").name == "h"


@pytest.mark.parametrize(
    ("said", "key"),
    [('altitude = "30000 ft"', "altitude"), ('altitude = "0 ft"\nwarmer = "90 K"', "warmer"), ('warmer = "20 K"', "")],
)
def test_a_bad_day_is_told(said: str, key: str) -> None:
    found = problems(PROBE + f"\n[days.odd]\n{said}\n")
    assert {p.key for p in found} == {f"days.odd.{key}" if key else "days.odd.altitude"}


def test_a_day_is_read() -> None:
    (day,) = reading(PROBE + '\n[days.hot]\naltitude = "3000 ft"\nwarmer = "20 K"\n').models["P1"].days
    assert day == Day(name="hot", altitude=parse("3000 ft", "length"), warmer=20.0)


def test_a_day_above_the_greatest_mass_is_refused() -> None:
    text = PROBE + '\n[days.hot]\naltitude = "100 m"\nmass = "9000 kg"\n'
    assert all("must not be above max_mass" in p.wanted and p.key == "days.hot.mass" for p in problems(text))
    assert reading(PROBE + '\n[days.hot]\naltitude = "100 m"\nbalance = 0.3\nmass = "200 kg"\n')
