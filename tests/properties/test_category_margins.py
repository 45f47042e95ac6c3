"""Licence limits: worse never passes where better failed, a wider band never helps, a margin has no unit."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sparwright.base.check import Check, Result
from sparwright.base.quantity import UNITS
from sparwright.base.source import Band
from sparwright.data.categories import Category, Limit, categories
from sparwright.family.confirmed import Confirmed
from sparwright.family.model import Family, Model
from sparwright.rules.categories import limit_check, snapped
from sparwright.rules.fits import fits

ID = {"stall_landing": "flight.stall.max_mass", "stall_clean": "flight.stall.max_mass",
      "level_speed": "flight.speed.max", "empty_mass": "mass.empty", "fuel_volume": "fuel.tank.volume"}  # fmt: skip
ROWS = [(c, x) for c in categories().values() for x in c.limits if x.quantity in ID and x.speed != "unnamed"]
RANK = {"fail": 0, "unknown": 1, "pass": 2}
factors = st.floats(0.2, 5, allow_nan=False)


def read(model: Model, category: Category, limit: Limit) -> Model:
    """The model whose designer has read that row, and whose airspeed indicator is true."""
    word = Confirmed(category=category.key, row=limit.key, who="w", when="2026-01-01", read="r")
    flown = replace(model.limits, position_error=(0.0, 0.0))
    return replace(model, confirmed=(word,), limits=flown)


def held(model: Model, category: Category, limit: Limit, band: Band) -> Check:
    ids = [ID[limit.quantity], *(["flight.stall.indicated.max_mass"] if limit.speed == "IAS" else [])]
    results = {i: Result(i, i, band.value, "SI", band.low, band.high) for i in ids}
    return limit_check(read(model, category, limit), category, limit, results)


@given(st.sampled_from(ROWS), factors, factors)
def test_a_greater_value_never_passes_where_a_lesser_failed(
    whinchat: Family, row: tuple[Category, Limit], a: float, b: float
) -> None:
    category, limit = row
    less, more = (Band.exact(x * limit.value(1)) for x in sorted((a, b)))
    one, two = (held(whinchat.models["W1"], category, limit, x) for x in (less, more))
    assert RANK[two.verdict] <= RANK[one.verdict] and two.margin <= one.margin


@given(st.sampled_from(ROWS), factors, st.floats(0, 1), st.floats(0, 1))
def test_a_wider_band_never_helps(
    whinchat: Family, row: tuple[Category, Limit], at: float, narrow: float, wide: float
) -> None:
    category, limit = row
    bands = (Band.relative(at * limit.value(1), x) for x in sorted((narrow, wide)))
    one, two = (held(whinchat.models["W1"], category, limit, x) for x in bands)
    assert RANK[two.verdict] <= RANK[one.verdict] and two.margin <= one.margin + 1e-12


@given(st.floats(5, 60))
def test_the_margin_is_the_same_in_the_unit_of_the_paragraph(whinchat: Family, speed: float) -> None:
    results = {i: Result(i, i, speed, "m/s", speed, speed) for i in ("flight.stall.max_mass", "flight.speed.max")}
    for fit in fits(whinchat.models["W1"], results):
        for row in fit.rows:
            if math.isfinite(row.check.margin) and row.allowed:
                gap = row.value - row.allowed if row.limit.sense == ">=" else row.allowed - row.value
                assert gap / row.allowed == pytest.approx(row.check.margin, abs=1e-9)


@given(st.floats(1e-3, 1e6), st.floats(-0.9, 9))
def test_only_rounding_is_put_on_the_limit(limit: float, off: float) -> None:
    value = limit * (1 + off)
    assert snapped(Band.exact(value), limit).high == (limit if abs(value - limit) <= 1e-12 * limit else value)


@given(st.sampled_from([x for _, x in ROWS]))
def test_a_limit_in_its_unit_is_its_limit_in_si(limit: Limit) -> None:
    """By the exact fractions of the units, not by the program's own reading."""
    dimension = {"mass": "mass", "volume": "volume"}.get(limit.quantity.split("_")[-1], "speed")
    for text, value in zip(limit.texts, limit.values, strict=True):
        if text:
            assert float(text.split()[0]) * float(UNITS[dimension][limit.unit]) == pytest.approx(value, rel=1e-15)
