"""Models against every category: rows from memory, conditions, dates, the nearest miss."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sparwright.base.check import Result
from sparwright.data.categories import Category, categories
from sparwright.family.confirmed import Confirmed
from sparwright.family.model import Family, Model
from sparwright.rules.categories import conditions_check, licence_checks, limit_check, rated
from sparwright.rules.conditions import met
from sparwright.rules.fits import Fit, fits

KNOTS = 1852 / 3600


def exact(id: str, value: float, unit: str) -> Result:
    return Result(id, id, value, unit, value, value)


def told(stall: float = 33.0, shown: float = 34.0, empty: float = 200.0, fast: float = 80.0) -> dict[str, Result]:
    """Results of an aeroplane with exact numbers: speeds in knots, masses in kg."""
    found = (
        exact("flight.stall.max_mass", stall * KNOTS, "m/s"),
        exact("flight.stall.indicated.max_mass", shown * KNOTS, "m/s"),
        exact("flight.speed.max", fast * KNOTS, "m/s"),
        exact("mass.empty", empty, "kg"),
        exact("air.area", 12.0, "m2"),
        exact("fuel.tank.volume", 0.03, "m3"),
    )
    return {r.id: r for r in found}


@pytest.fixture
def model(whinchat: Family) -> Model:
    """W1 without a word of the designer's."""
    return replace(whinchat.models["W1"], confirmed=())


def fit_of(model: Model, key: str, results: dict[str, Result] | None = None) -> Fit:
    return next(f for f in fits(model, results or told()) if f.category.key == key)


def confirming(model: Model, category: str, row: str) -> Model:
    return replace(model, confirmed=(Confirmed(category=category, row=row, who="A. B.", when="2026-03-01", read="it"),))


def memory_rows() -> list[tuple[Category, str]]:
    return [(c, x.key) for c in categories().values() for x in c.limits if x.source.mark == "memory"]


def test_every_model_is_held_against_every_category_once(model: Model) -> None:
    found = fits(model, told())
    assert [f.category.key for f in found] == list(categories())
    assert {f.category.key for f in found if f.named} == set(model.categories) < set(categories())
    for fit in found:
        assert [r.limit.key for r in fit.rows] == [x.key for x in fit.category.limits]
        assert len(fit.conditions) == len(fit.category.conditions)


def test_a_row_from_memory_is_unknown_with_its_value_told_until_the_designer_has_read_it(model: Model) -> None:
    assert len(memory_rows()) >= 6
    for category, key in memory_rows():
        limit = category.limit(key)
        before = limit_check(model, category, limit, told())
        assert (
            before.verdict == "unknown" and before.value == before.value and "nobody here has read it" in before.caveat
        )
        assert f'category = "{category.key}", row = "{key}"' in before.caveat
        after = limit_check(confirming(model, category.key, key), category, limit, told())
        if limit.speed != "IAS":
            assert after.verdict in ("pass", "fail") and after.value == before.value
        assert "confirmed by A. B., 2026-03-01: it" in after.caveat and "nobody here has read it" not in after.caveat


def test_a_word_for_one_row_is_no_word_for_another(model: Model) -> None:
    category = categories()["eu-lapl-a"]
    one = confirming(model, "eu-lapl-a", "max_mass")
    verdicts = [limit_check(one, category, x, told()).verdict for x in category.limits]
    assert verdicts == ["pass", "unknown"]


def test_a_limit_that_is_read_needs_no_word_and_second_hand_says_so(model: Model) -> None:
    check = limit_check(model, categories()["uk-microlight-600"], categories()["uk-microlight-600"].limits[0], told())
    assert check.verdict == "pass" and "second-hand" in check.caveat


def test_every_licence_check_sends_the_designer_to_the_paragraph_of_today(model: Model) -> None:
    named = replace(model, categories=tuple(categories()))
    found = licence_checks(named, told())
    assert all("as it stands today" in c.caveat and "authority" in c.caveat for c in found)
    assert len({c.id for c in found}) == len(found) > 80


def test_conditions_count_what_is_not_settled(model: Model) -> None:
    amateur, light = categories()["us-amateur-built"], categories()["us-lsa-2004"]
    open_ = conditions_check(model, amateur)
    assert (open_.verdict, open_.value) == ("unknown", 1.0) and "major portion" in open_.caveat
    said = conditions_check(confirming(model, "us-amateur-built", "major_portion"), amateur)
    assert (said.verdict, said.value) == ("pass", 0.0) and "A. B., 2026-03-01" in said.caveat
    past = conditions_check(model, light)
    assert (past.verdict, past.value) == ("unknown", 0.0) and "no longer in force since 2025-10-22" in past.caveat


def test_a_closed_cockpit_is_not_known_to_be_without_pressure(model: Model) -> None:
    light = categories()["us-lsa-2004"]
    cabin = next(c for c in light.conditions if c.key == "cabin")
    assert met(model, light, cabin)[0] == "pass"
    closed = replace(model, fuselage=replace(model.fuselage, open_cockpit=False))
    assert met(closed, light, cabin)[0] == "unknown"
    assert met(confirming(closed, "us-lsa-2004", "cabin"), light, cabin)[0] == "pass"


def test_a_condition_from_memory_waits_for_the_designer_though_the_file_answers_it(model: Model) -> None:
    permit = categories()["ca-recreational-permit"]
    engine = next(c for c in permit.conditions if c.key == "one_engine")
    verdict, why = met(model, permit, engine)
    assert verdict == "unknown" and "recalled" in why
    assert met(confirming(model, "ca-recreational-permit", "one_engine"), permit, engine)[0] == "pass"


def test_a_category_is_as_bad_as_its_worst_row(model: Model) -> None:
    assert fit_of(model, "uk-microlight-600").verdict == "pass"
    assert fit_of(model, "uk-microlight-600", told(stall=46)).verdict == "fail"
    assert fit_of(model, "us-amateur-built").verdict == "unknown"
    assert fit_of(model, "us-lsa-2004").verdict == "unknown"  # every row passes, and it is no longer in force
    assert {r.check.verdict for r in fit_of(model, "us-lsa-2004").rows} == {"pass"}


def test_the_nearest_miss_stands_in_the_unit_of_the_paragraph(model: Model) -> None:
    """44.9 kt is 83.15 km/h: it passes 45 kt and fails 83 km/h by 0.15."""
    nearest = fit_of(model, "cs-vla", told(stall=44.9)).nearest
    assert nearest is not None and nearest.limit.unit == "km/h" and nearest.check.verdict == "fail"
    assert (nearest.value, nearest.allowed) == (pytest.approx(44.9 * 1.852, rel=1e-12), 83.0)
    in_knots = fit_of(model, "uk-microlight-600", told(stall=44.9)).nearest
    assert in_knots is not None and in_knots.check.verdict == "pass" and in_knots.limit.unit == "kt"
    assert (in_knots.value, in_knots.allowed) == (pytest.approx(44.9, rel=1e-12), 45.0)


def test_of_several_misses_the_widest_is_told_and_of_none_the_least_margin(model: Model) -> None:
    misses = fit_of(model, "us-ultralight-103", told(stall=30, fast=60, empty=300))
    assert misses.nearest is not None and misses.nearest.limit.key == "empty_mass"  # 661 lb of 254: far over 30 of 24
    fine = fit_of(model, "uk-microlight-600", told(stall=44))
    assert fine.nearest is not None and fine.nearest.limit.key == "stall_landing"
    assert fit_of(model, "us-amateur-built").nearest is None


def test_a_speed_of_a_kind_the_paragraph_does_not_name_must_pass_as_both(model: Model) -> None:
    category = categories()["ca-pilot-permit-2001"]
    limit = category.limit("stall_landing")
    assert limit.speed == "unnamed"
    unflown = limit_check(model, category, limit, told(stall=30))
    assert unflown.verdict == "unknown" and "position error" in unflown.caveat
    flown = replace(model, limits=replace(model.limits, position_error=(-1.0, 1.0)))
    for calibrated, indicated, verdict in (
        (38, 38.5, "pass"),
        (38, 40, "unknown"),
        (40, 38, "unknown"),
        (40, 41, "fail"),
    ):
        found = limit_check(flown, category, limit, told(stall=calibrated, shown=indicated))
        assert found.verdict == verdict and found.value == pytest.approx(max(calibrated, indicated) * KNOTS)
        assert ("do not agree" in found.caveat) == (verdict == "unknown")


def test_a_paragraph_without_a_limit_for_that_many_seats_is_unknown(model: Model) -> None:
    fit = fit_of(model, "uk-microlight-450", told(stall=30))
    mass = fit.rows[0]
    assert mass.check.verdict == "unknown" and "no limit for 1 seat" in mass.check.caveat
    assert mass.allowed != mass.allowed and fit.verdict == "unknown"
    pilot = next(x for x in model.loads if x.kind == "pilot")
    two = replace(model, loads=(pilot, *model.loads))
    assert fit_of(two, "uk-microlight-450", told(stall=30)).verdict == "pass"
    three = fit_of(replace(two, loads=(pilot, *two.loads)), "ca-basic-ultra-light", told(stall=30))
    assert [r.check.verdict for r in three.rows if r.limit.key in ("seats", "useful_load")] == ["fail", "unknown"]


def test_power_is_counted_in_both_units_of_the_useful_load(model: Model) -> None:
    fit = fit_of(model, "ca-basic-ultra-light")
    pounds, kilograms = (next(r for r in fit.rows if r.limit.key == k) for k in ("useful_load", "useful_load_metric"))
    assert pounds.allowed == pytest.approx(175 + 0.5 * rated(model) / 745.69987158227022, rel=1e-12)
    assert kilograms.allowed == pytest.approx(80 + 0.3 * rated(model) / 1000, rel=1e-12)
    assert pounds.value * 0.45359237 == pytest.approx(kilograms.value, rel=1e-12)


def test_without_a_tank_the_fuel_that_is_carried_is_held_against_the_limit(model: Model) -> None:
    drawn, carried = told(), told()
    del carried["fuel.tank.volume"]
    tank, load = (fit_of(model, "us-ultralight-103", x).rows[2] for x in (drawn, carried))
    assert tank.check.value == 0.03 and "brim" in tank.check.caveat and "no tank is drawn" in load.check.caveat
    fuel = sum(x.most for x in model.loads if x.kind == "fuel") / model.engine.fuel_density
    assert load.check.value == pytest.approx(fuel)


def test_what_nobody_worked_out_is_unknown_and_says_why(model: Model) -> None:
    for fit in fits(model, {}):
        for row in fit.rows:
            if row.limit.quantity in ("stall_landing", "stall_clean", "level_speed", "empty_mass", "wing_loading"):
                assert row.check.verdict == "unknown" and "is unknown" in row.check.caveat, row.check.id


def test_the_working_shows_the_value_in_the_unit_of_the_paragraph(model: Model) -> None:
    category = categories()["cs-vla"]
    value, allowed = limit_check(model, category, category.limit("stall_landing"), told(stall=40)).steps
    assert value.value == pytest.approx(40 * 1.852) and value.unit == "km/h"
    assert allowed.value == 83.0 and "VLA 1(a)" in allowed.source


def test_a_miss_that_is_certain_is_told_before_a_wider_one_that_is_only_recalled(model: Model) -> None:
    fit = fit_of(model, "fr-ulm-3", told(stall=60))
    margins = {r.limit.key: r.check.margin for r in fit.rows}
    assert margins["stall_landing"] < margins["max_mass"] < 0
    assert fit.nearest is not None and fit.nearest.limit.key == "max_mass"
