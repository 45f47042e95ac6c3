"""The pilot's sheet: the end to plan with is the unfavourable one, days follow one another, blanks stay blank."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable
from dataclasses import replace

from sparwright.family.days import Day
from sparwright.output.csv import performance_csv
from sparwright.plans.performance import PilotRow, pilots_sheet
from sparwright.run import RunResult

Ran = Callable[[str], RunResult]


def rows(ran: Ran, name: str = "W1") -> tuple[PilotRow, ...]:
    run = ran(name)
    return pilots_sheet(run.flight.flown.model, {r.id: r for r in run.results})


def test_the_end_to_plan_with_is_never_the_better_one(ran: Ran) -> None:
    found = {r.id: r for r in rows(ran)}
    worse = {"flight.takeoff.over.grass": 1, "flight.landing.roll.hard": 1, "flight.stall.max_mass": 1,
             "flight.climb.rate": -1, "flight.range": -1, "flight.ceiling.service": -1, "flight.glide.ratio": -1,
             "flight.climb.time": 1, "flight.speed.max": -1}  # fmt: skip
    for id, sign in worse.items():
        assert (found[id].plan - found[id].likely) * sign > 0, id
    for id in ("flight.climb.speed", "flight.climb.angle_speed", "flight.glide.speed", "flight.day.hills.climb.speed"):
        assert math.isnan(found[id].plan) and math.isfinite(found[id].likely), "a speed to fly has no worse end"
    assert "flight.stall.ailerons.wing" not in found and len(found) == len(rows(ran))


def test_each_day_follows_with_its_own_field(ran: Ran) -> None:
    run = ran("W2")
    groups = [r.group for r in rows(ran, "W2")]
    days = [d.name for d in run.flight.flown.model.days]
    assert days and groups.index(f"{days[0]}: take-off") > max(i for i, g in enumerate(groups) if ":" not in g)
    other = replace(run.flight.flown.model, days=(Day(name="none_such", altitude=0.0),))
    assert not [r for r in pilots_sheet(other, {r.id: r for r in run.results}) if ":" in r.group]


def test_as_a_table_in_the_designers_units(ran: Ran) -> None:
    found = rows(ran)
    table = list(csv.DictReader(io.StringIO(performance_csv(found, "inch").decode())))
    assert [t["ask why"] for t in table] == [r.id for r in found]
    over = next(t for t in table if t["ask why"] == "flight.takeoff.over.grass")
    row = next(r for r in found if r.id == "flight.takeoff.over.grass")
    assert over["unit"] == "ft" and abs(float(over["likely"]) * 0.3048 - row.likely) < 2
    assert abs(float(over["plan with"]) * 0.3048 - row.plan) < 2 and over["flown"] == ""
    metric = list(csv.DictReader(io.StringIO(performance_csv(found, "millimetre").decode())))
    assert next(t for t in metric if t["ask why"] == row.id)["unit"] == "m"


def test_what_is_not_known_is_an_empty_cell() -> None:
    row = PilotRow(group="climb", what="best rate", id="flight.climb.rate", unit="m/s", likely=math.nan, plan=math.nan)
    (cells,) = csv.DictReader(io.StringIO(performance_csv([row], "inch").decode()))
    assert cells["likely"] == cells["plan with"] == "" and cells["unit"] == "ft/min"
