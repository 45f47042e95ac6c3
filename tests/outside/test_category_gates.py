"""Every limit of every licence category at the limit and one step past it, in the unit its paragraph is written in.

Sources: CARs 101.01(1), 401.21; Transition Strategy 2.1; DS 10141E (summary); Airworthiness Manual 549.103; 14 CFR 1.1,
23.3, 23.49, 61.101, 61.316, 103.1; SI 2021/879 article 10; Regulation (EU) 2018/1139 Article 2(8), Annex I; CS-VLA 1;
LTF-UL 2020 as notified. The list below was written from those texts and not from the program's table: category, row,
seats, the limit as printed, how the value must stand to it. Tolerance: none; a step is a hundredth of the printed unit.
"""

from __future__ import annotations

import math
from dataclasses import replace
from fractions import Fraction as F

import pytest

from sparwright.base.check import Check, Result
from sparwright.data.categories import Limit, categories
from sparwright.family.confirmed import Confirmed
from sparwright.family.model import Family, Model
from sparwright.rules.categories import limit_check

# Units by their definitions: nautical and statute mile, pound, US gallon (231 cubic inches), horsepower (550 ft lbf/s).
POUND = F("0.45359237")
UNIT = {
    "kt": F(1852, 3600), "mph": F("1609.344") / 3600, "km/h": F(1000, 3600), "kg": F(1), "lb": POUND,
    "gal": 231 * F("0.0254") ** 3, "hp": 550 * F("0.3048") * POUND * F("9.80665"), "kW": F(1000), "kg/m2": F(1),
    "": F(1),
}  # fmt: skip
STEP = F(1, 100)

PRINTED = (
    ("ca-basic-ultra-light", "max_mass", 1, "544 kg", "<="),
    ("ca-basic-ultra-light", "seats", 0, "2", "<="),
    ("ca-basic-ultra-light", "stall_landing", 1, "39 kt IAS", "<="),
    ("ca-basic-ultra-light", "useful_load", 1, "175 lb + 0.5 lb/hp", ">="),
    ("ca-basic-ultra-light", "useful_load", 2, "350 lb + 0.5 lb/hp", ">="),
    ("ca-basic-ultra-light", "useful_load_metric", 1, "80 kg + 0.3 kg/kW", ">="),
    ("ca-basic-ultra-light", "useful_load_metric", 2, "160 kg + 0.3 kg/kW", ">="),
    ("ca-advanced-ultra-light", "max_mass", 1, "350 kg", "<="),
    ("ca-advanced-ultra-light", "max_mass", 2, "560 kg", "<="),
    ("ca-advanced-ultra-light", "seats", 0, "2", "<="),
    ("ca-advanced-ultra-light", "stall_landing", 1, "72 km/h IAS", "<="),
    ("ca-advanced-ultra-light", "useful_load", 1, "175 lb + 0.5 lb/hp", ">="),
    ("ca-advanced-ultra-light", "useful_load", 2, "350 lb + 0.5 lb/hp", ">="),
    ("ca-advanced-ultra-light", "useful_load_metric", 1, "80 kg + 0.3 kg/kW", ">="),
    ("ca-advanced-ultra-light", "useful_load_metric", 2, "160 kg + 0.3 kg/kW", ">="),
    ("ca-amateur-built", "max_mass", 1, "1800 kg", "<="),
    ("ca-amateur-built", "passenger_seats", 0, "3", "<="),
    ("ca-amateur-built-ordinary", "wing_loading", 1, "65 kg/m2", "<="),
    ("ca-pilot-permit-2001", "max_mass", 1, "544 kg", "<="),
    ("ca-pilot-permit-2001", "stall_landing", 1, "39 kt unnamed", "<="),
    ("ca-recreational-permit", "seats", 0, "4", "<="),
    ("us-ultralight-103", "seats", 0, "1", "<="),
    ("us-ultralight-103", "empty_mass", 1, "254 lb", "<"),
    ("us-ultralight-103", "fuel_volume", 1, "5 gal", "<="),
    ("us-ultralight-103", "level_speed", 1, "55 kt CAS", "<="),
    ("us-ultralight-103", "stall_clean", 1, "24 kt CAS", "<="),
    ("us-lsa-2004", "max_mass", 1, "1320 lb", "<="),
    ("us-lsa-2004", "level_speed", 1, "120 kt CAS", "<="),
    ("us-lsa-2004", "stall_clean", 1, "45 kt CAS", "<="),
    ("us-lsa-2004", "seats", 0, "2", "<="),
    ("us-light-sport-category-2026", "stall_landing", 1, "61 kt CAS", "<="),
    ("us-light-sport-category-2026", "seats", 0, "4", "<="),
    ("us-light-sport-category-2026", "level_speed", 1, "250 kt CAS", "<="),
    ("us-sport-pilot-2025", "stall_clean", 1, "59 kt CAS", "<="),
    ("us-sport-pilot-2025", "seats", 0, "4", "<="),
    ("us-recreational-pilot", "seats", 0, "4", "<="),
    ("us-recreational-pilot", "power", 1, "180 hp", "<="),
    ("uk-deregulated-single-300", "max_mass", 1, "300 kg", "<="),
    ("uk-deregulated-single-300", "seats", 0, "1", "<="),
    ("uk-deregulated-single-300", "stall_landing", 1, "35 kt CAS", "<="),
    ("uk-microlight-450", "max_mass", 2, "450 kg", "<="),
    ("uk-microlight-450", "seats", 0, "2", "<="),
    ("uk-microlight-450", "stall_landing", 2, "35 kt CAS", "<="),
    ("uk-microlight-600", "max_mass", 1, "600 kg", "<="),
    ("uk-microlight-600", "seats", 0, "2", "<="),
    ("uk-microlight-600", "stall_landing", 1, "45 kt CAS", "<="),
    ("uk-bcar-s", "max_mass", 1, "600 kg", "<="),
    ("uk-bcar-s", "seats", 0, "2", "<="),
    ("uk-bcar-s", "stall_landing", 1, "45 kt CAS", "<="),
    ("eu-microlight", "max_mass", 1, "300 kg", "<="),
    ("eu-microlight", "max_mass", 2, "450 kg", "<="),
    ("eu-microlight", "seats", 0, "2", "<="),
    ("eu-microlight", "stall_landing", 1, "35 kt CAS", "<="),
    ("eu-opt-out-600", "max_mass", 1, "600 kg", "<="),
    ("eu-opt-out-600", "seats", 0, "2", "<="),
    ("eu-opt-out-600", "stall_landing", 1, "45 kt CAS", "<="),
    ("eu-lapl-a", "max_mass", 1, "2000 kg", "<="),
    ("eu-lapl-a", "passenger_seats", 0, "3", "<="),
    ("cs-vla", "max_mass", 1, "750 kg", "<="),
    ("cs-vla", "seats", 0, "2", "<="),
    ("cs-vla", "stall_landing", 1, "83 km/h CAS", "<="),
    ("cs-lsa", "max_mass", 1, "600 kg", "<="),
    ("cs-lsa", "seats", 0, "2", "<="),
    ("cs-lsa", "stall_landing", 1, "45 kt CAS", "<="),
    ("de-ltf-ul", "max_mass", 1, "600 kg", "<="),
    ("de-ltf-ul", "seats", 0, "2", "<="),
    ("de-ltf-ul", "stall_landing", 1, "83 km/h CAS", "<="),
    ("fr-ulm-3", "max_mass", 1, "330 kg", "<="),
    ("fr-ulm-3", "max_mass", 2, "500 kg", "<="),
    ("fr-ulm-3", "seats", 0, "2", "<="),
    ("fr-ulm-3", "power", 1, "65 kW", "<="),
    ("fr-ulm-3", "power", 2, "80 kW", "<="),
    ("fr-ulm-3", "stall_landing", 1, "70 km/h CAS", "<="),
    ("us-astm-f2245", "max_mass", 1, "1320 lb", "<="),
    ("us-astm-f2245", "stall_clean", 1, "45 kt CAS", "<="),
    ("us-astm-f2245", "level_speed", 1, "120 kt CAS", "<="),
    ("us-part-23-2014", "max_mass", 1, "12500 lb", "<="),
    ("us-part-23-2014", "passenger_seats", 0, "9", "<="),
    ("us-part-23-2014", "stall_landing", 1, "61 kt CAS", "<="),
)


def exact(id: str, value: float, unit: str) -> Result:
    return Result(id, id, value, unit, value, value)


def held(model: Model, limit: Limit, category: str, value: F) -> Check:
    """The check of a row when the aeroplane has just that value, SI, and the designer has read the row."""
    si, results = float(value), []
    if limit.quantity == "max_mass":
        model = replace(model, limits=replace(model.limits, max_mass=si))
    elif limit.quantity in ("seats", "passenger_seats"):
        model = with_seats(model, int(value) + (limit.quantity == "passenger_seats"))
    elif limit.quantity == "power":
        model = replace(model, engine=replace(model.engine, curve=(replace(model.engine.curve[-1], power=si),)))
    elif limit.quantity == "useful_load":
        results = [exact("mass.empty", model.limits.max_mass - si, "kg")]
    elif limit.quantity == "wing_loading":
        results = [exact("air.area", model.limits.max_mass / si, "m2")]
    elif limit.quantity.startswith("stall"):
        model = replace(model, limits=replace(model.limits, position_error=(0.0, 0.0)))
        results = [exact(f"flight.stall.{x}max_mass", si, "m/s") for x in ("", "indicated.")]
    else:
        id = {"empty_mass": "mass.empty", "fuel_volume": "fuel.tank.volume", "level_speed": "flight.speed.max"}
        results = [exact(id[limit.quantity], si, "SI")]
    read = Confirmed(category=category, row=limit.key, who="the test", when="2026-01-01", read="the paragraph")
    return limit_check(replace(model, confirmed=(read,)), categories()[category], limit, {r.id: r for r in results})


def with_seats(model: Model, count: int) -> Model:
    pilot = next(x for x in model.loads if x.kind == "pilot")
    others = tuple(x for x in model.loads if x.kind != "pilot")
    return replace(model, loads=(pilot,) * count + others)


def printed(text: str, power: F) -> tuple[F, str, str]:
    """(limit in SI, its unit, kind of speed) of a limit as printed; power in W."""
    plain, _, more = text.partition(" + ")
    words = plain.split()
    unit = words[1] if len(words) > 1 else ""
    value = F(words[0]) * UNIT[unit]
    if more:
        each, per = more.split()
        mass, of = per.split("/")
        value += F(each) * UNIT[mass] / UNIT[of] * power
    return value, unit, words[2] if len(words) > 2 else ""


@pytest.mark.parametrize(("category", "row", "seats", "text", "sense"), PRINTED, ids=lambda x: str(x))
def test_at_the_limit_and_one_step_past_it(
    whinchat: Family, category: str, row: str, seats: int, text: str, sense: str
) -> None:
    model = whinchat.models["W1"]
    if seats:
        model = with_seats(model, seats)
    power = F(max(p.power for p in model.engine.curve))
    at, unit, speed = printed(text, power)
    limit = categories()[category].limit(row)
    assert (limit.unit, limit.speed, limit.sense) == (unit, speed, sense)
    step = UNIT[unit] * (STEP if unit else 1)
    past = at - step if sense == ">=" else at + step
    short = at + step if sense == ">=" else at - step
    verdicts = [held(model, limit, category, x).verdict for x in (short, at, past)]
    assert verdicts == ["pass", "fail" if sense == "<" else "pass", "fail"]


def test_every_row_of_the_table_is_in_the_list_with_the_limit_as_printed() -> None:
    listed = {(category, row) for category, row, *_ in PRINTED}
    assert listed == {(c.key, limit.key) for c in categories().values() for limit in c.limits}
    count = sum(len([t for t in limit.texts if t]) for c in categories().values() for limit in c.limits)
    assert len(PRINTED) == count == len(set(PRINTED))


def test_a_value_between_two_units_tells_the_limits_apart(whinchat: Family) -> None:
    """39 kt is 20.063 m/s, 45 mph is 20.117 m/s, 72 km/h is 20 m/s: 20.05 m/s passes the first and fails the last."""
    model = whinchat.models["W1"]
    knots, kilometres = (categories()[f"ca-{x}-ultra-light"].limit("stall_landing") for x in ("basic", "advanced"))
    between = F("20.05")
    assert held(model, knots, "ca-basic-ultra-light", between).verdict == "pass"
    assert held(model, kilometres, "ca-advanced-ultra-light", between).verdict == "fail"
    forty_five_mph = 45 * UNIT["mph"]
    assert held(model, knots, "ca-basic-ultra-light", forty_five_mph).verdict == "fail"


def test_what_a_sum_is_off_by_in_the_last_digit_is_at_the_limit(whinchat: Family) -> None:
    """One step of the floating-point numbers past 39 kt passes "<=", one short of 254 lb fails "<"."""
    model = whinchat.models["W1"]
    stall, empty = categories()["ca-basic-ultra-light"].limit("stall_landing"), categories()["us-ultralight-103"]
    past, short = math.nextafter(stall.value(1), math.inf), math.nextafter(empty.limit("empty_mass").value(1), 0.0)
    assert held(model, stall, "ca-basic-ultra-light", F(past)).verdict == "pass"
    assert held(model, empty.limit("empty_mass"), "us-ultralight-103", F(short)).verdict == "fail"
