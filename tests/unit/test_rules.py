"""Licence limits: compared in the paragraph's own sense, unknown where something is."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from sparwright.base.check import Check, Result
from sparwright.data.categories import categories
from sparwright.family.model import Family
from sparwright.rules.categories import licence_checks

KNOTS = 1852 / 3600


def judged(whinchat: Family, *results: Result) -> dict[str, Check]:
    model = whinchat.models["W1"]
    return {c.id: c for c in licence_checks(model, {r.id: r for r in results})}


def stall(knots: float, band: float = 1.0) -> Result:
    return Result(
        "flight.stall.max_mass", "stall", knots * KNOTS, "m/s", (knots - band) * KNOTS, (knots + band) * KNOTS
    )


def ias_and_cas(checks: dict[str, Check]) -> tuple[list[Check], list[Check]]:
    stalls = [c for c in checks.values() if ".stall_" in c.id]
    indicated = [c for c in stalls if "IAS" in c.rule]
    return indicated, [c for c in stalls if c not in indicated]


def test_every_limit_of_every_category_is_there_once(whinchat: Family) -> None:
    checks = judged(whinchat)
    named = [categories()[key] for key in whinchat.models["W1"].categories]
    wanted = {f"rules.{c.key}.{limit.key}" for c in named for limit in c.limits}
    assert len(wanted) > 5
    assert set(checks) == wanted | {f"rules.{c.key}.conditions" for c in named if c.conditions}


def test_nothing_worked_out_is_unknown(whinchat: Family) -> None:
    for check in judged(whinchat).values():
        if ".stall_" in check.id or "level" in check.id or "load" in check.id:
            assert check.verdict == "unknown" and check.caveat, check.id


def test_a_stall_without_number_is_unknown_and_says_why(whinchat: Family) -> None:
    lost = Result("flight.stall.max_mass", "stall", math.nan, "m/s", caveat="nothing is on file about the section")
    for check in judged(whinchat, lost).values():
        if ".stall_" in check.id:
            assert check.verdict == "unknown" and "nothing is on file" in check.caveat


def test_indicated_speed_is_unknown_calibrated_is_judged(whinchat: Family) -> None:
    indicated, calibrated = ias_and_cas(judged(whinchat, stall(30)))
    assert indicated and all(c.verdict == "unknown" and "29.0 to 31.0 kt" in c.caveat for c in indicated)
    assert calibrated and all(c.verdict == "pass" for c in calibrated)
    _, fast = ias_and_cas(judged(whinchat, stall(80)))
    assert all(c.verdict == "fail" for c in fast)


def with_error(whinchat: Family, low: float, high: float, *results: Result) -> list[Check]:
    """The checks in indicated airspeed of W1 with a position error in knots."""
    model = whinchat.models["W1"]
    stated = replace(model, limits=replace(model.limits, position_error=(low * KNOTS, high * KNOTS)))
    found = licence_checks(stated, {r.id: r for r in results})
    return ias_and_cas({c.id: c for c in found})[0]


def as_shown(low: float, value: float, high: float) -> Result:
    ends = (value * KNOTS, "m/s", low * KNOTS, high * KNOTS)
    return Result("flight.stall.indicated.max_mass", "indicated", *ends, caveat="stated, not flown")


def test_a_stated_position_error_settles_a_limit_in_indicated_airspeed(whinchat: Family) -> None:
    """The limit is 39 kt; the far end of the band of the indicated stall decides."""
    for high, verdict in ((38.9, "pass"), (39.1, "fail")):
        for c in with_error(whinchat, -2, 3, stall(33), as_shown(30, 33.5, high)):
            assert (c.verdict, c.value) == (verdict, pytest.approx(high * KNOTS))
            assert "not flown" in c.caveat and c.parents == ("flight.stall.indicated.max_mass",)


def test_without_a_position_error_the_key_that_would_settle_it_is_named(whinchat: Family) -> None:
    indicated, _ = ias_and_cas(judged(whinchat, stall(30)))
    assert indicated and all("position_error in [limits]" in c.caveat for c in indicated)


def test_a_position_error_does_not_settle_an_unknown_stall(whinchat: Family) -> None:
    lost = Result("flight.stall.max_mass", "stall", math.nan, "m/s", caveat="nothing is on file")
    found = with_error(whinchat, -2, 3, lost, as_shown(30, 33.5, 36))
    assert found and all(c.verdict == "unknown" and "nothing is on file" in c.caveat for c in found)


def test_the_worst_end_decides(whinchat: Family) -> None:
    """A stall whose best estimate is within but whose band is not fails."""
    _, calibrated = ias_and_cas(judged(whinchat, stall(30, 50)))
    assert all(c.verdict == "fail" and c.value == pytest.approx(80 * KNOTS) for c in calibrated)


def test_useful_load_takes_the_heavy_end_of_the_empty_mass(whinchat: Family) -> None:
    most = whinchat.models["W1"].limits.max_mass
    checks = judged(whinchat, Result("mass.empty", "empty", most - 150, "kg", most - 160, most - 100))
    (useful,) = [c for c in checks.values() if c.id.endswith("useful_load")]
    assert useful.sense == ">=" and useful.value == pytest.approx(100) and useful.verdict == "pass"
    (poor,) = [
        c for c in judged(whinchat, Result("mass.empty", "empty", most - 150, "kg", most - 160, most - 50)).values()
        if c.id.endswith("useful_load")
    ]  # fmt: skip
    assert poor.verdict == "fail"
