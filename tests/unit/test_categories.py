"""The table of licence categories: three kinds, limits in the unit of their paragraph, dates, conditions."""

from __future__ import annotations

import re

import pytest

from sparwright.base.quantity import UNITS, parse
from sparwright.data.categories import ASK, COUNTRIES, DIMENSION_OF, KINDS, Category, categories
from sparwright.rules.categories import SI, TITLES
from sparwright.rules.conditions import ANSWERS

ALL = list(categories().values())
DATE = re.compile(r"(\d{4}(-\d{2}(-\d{2})?)?)?")


@pytest.mark.parametrize("category", ALL, ids=lambda c: c.key)
def test_a_category_says_what_it_is_and_when(category: Category) -> None:
    assert category.kind in KINDS and category.country in COUNTRIES and category.applies and category.dates
    assert DATE.fullmatch(category.since) and DATE.fullmatch(category.until)
    assert not (category.since and category.until) or category.since < category.until
    assert category.title.startswith(COUNTRIES[category.country])
    assert category.limits or category.conditions
    assert len(category.rows) == len(category.limits) + len(category.conditions)
    assert "conditions" not in category.rows  # the id of their check


@pytest.mark.parametrize("category", ALL, ids=lambda c: c.key)
def test_limits_stand_in_the_unit_of_their_paragraph(category: Category) -> None:
    for limit in category.limits:
        dimension = DIMENSION_OF[limit.quantity]
        assert limit.paragraph and limit.quantity in TITLES and limit.unit in SI
        assert limit.sense in ("<=", "<", ">=")
        assert (limit.speed in ("IAS", "CAS", "unnamed")) == (dimension == "speed")
        for text, value in zip(limit.texts, limit.values, strict=True):
            if text and dimension:
                assert text.endswith(f" {limit.unit}") and limit.unit in UNITS[dimension]
                assert parse(text, dimension) == value


def test_conditions_are_answered_by_something_the_file_has_or_by_the_designer() -> None:
    asked = {c.answer for category in ALL for c in category.conditions}
    assert asked - {""} <= set(ANSWERS) and "" in asked
    assert set(ANSWERS) <= asked


def test_all_three_kinds_and_the_countries_asked_for_are_there() -> None:
    for country in ("ca", "us", "eu"):
        assert {c.kind for c in ALL if c.country == country} >= {"registration", "privilege"}
    assert {c.kind for c in ALL} == set(KINDS)
    for key in ("ca-basic-ultra-light", "ca-advanced-ultra-light", "ca-amateur-built", "us-ultralight-103",
                "us-amateur-built", "us-lsa-2004", "us-light-sport-category-2026", "us-sport-pilot-2025",
                "uk-microlight-450", "uk-microlight-600", "eu-microlight", "cs-vla"):  # fmt: skip
        assert key in categories()


def test_39_knots_45_miles_and_72_kilometres_an_hour_are_three_limits() -> None:
    """Exact by definition: 1852 m, 1609.344 m and 1000 m an hour."""
    knots, miles, kilometres = (parse(x, "speed") for x in ("39 kt", "45 mph", "72 km/h"))
    assert kilometres == 20.0 and knots == pytest.approx(39 * 1852 / 3600, rel=1e-15)
    assert miles == pytest.approx(45 * 1609.344 / 3600, rel=1e-15)
    assert kilometres < knots < miles
    canada = (categories()[f"ca-{x}-ultra-light"].limit("stall_landing") for x in ("basic", "advanced"))
    assert [(x.text(1), x.value(1), x.speed) for x in canada] == [
        ("39 kt", knots, "IAS"),
        ("72 km/h", kilometres, "IAS"),
    ]


def test_a_limit_by_seats_is_that_of_the_seats() -> None:
    advanced, two = categories()["ca-advanced-ultra-light"].limit("max_mass"), categories()["uk-microlight-450"]
    assert (advanced.value(1), advanced.value(2)) == (350.0, 560.0)
    assert advanced.text(3) == "" and advanced.value(3) != advanced.value(3)
    assert two.limit("max_mass").text(1) == "" and two.limit("max_mass").text(2) == "450 kg"
    load = categories()["ca-basic-ultra-light"].limit("useful_load")
    at_45_hp = load.value(1) + load.per_power * 45 * 745.69987158227022
    assert at_45_hp / 0.45359237 == pytest.approx(175 + 0.5 * 45, rel=1e-12)


def test_what_is_no_longer_in_force_says_so() -> None:
    past = {c.key for c in ALL if c.until}
    assert past == {"us-lsa-2004", "us-part-23-2014", "ca-pilot-permit-2001"}
    assert all("no longer in force" in categories()[k].in_force for k in past)
    assert categories()["us-sport-pilot-2025"].in_force == "in force from 2025-10-22"


def test_the_sentence_sends_the_designer_to_the_paragraph_and_the_authority() -> None:
    assert "today" in ASK and "authority" in ASK


def test_the_table_is_read_once() -> None:
    assert categories() is categories()
