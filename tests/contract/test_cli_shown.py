"""Screen, JSON and why say the same of one report."""

from __future__ import annotations

import json as standard
import math
import re
from dataclasses import fields
from pathlib import Path

import pytest
from reports import CHECKS, RESULTS, made

from sparwright.base.check import Check, Result
from sparwright.base.safety import CAUTION
from sparwright.output import json, text
from sparwright.output.report import Report
from sparwright.output.shown import JOINED, decimals, figure, margin, unit_of
from sparwright.output.why import ids, nearest, why

ROOT = Path(__file__).parents[2]


def test_the_screen_groups_results_by_room_and_ends_with_counts_and_caution() -> None:
    said = text.told(made())
    assert said.index("Weight and balance") < said.index("Flight") < said.index("Checks, weakest first")
    assert "W1: 2 pass, 1 fail, 1 unknown." in said
    assert " ".join(said.split()).endswith(CAUTION)
    assert "spin recovery is not known" in said


def test_a_value_is_told_in_the_designers_unit_with_its_band() -> None:
    # 19.130594 m/s / (1852/3600) = 37.187 kt; band 2.1 m/s wide is 4.08 kt, so one place: 35.2 to 39.3
    line = next(x for x in text.told(made()).splitlines() if "flight.stall" in x and "stalling" in x)
    assert re.search(r"37\.2 kt +35\.2 to 39\.3", line)
    line = next(x for x in text.told(made(units="millimetre")).splitlines() if "flight.stall" in x and "stalling" in x)
    assert re.search(r"68\.9 km/h +65\.2 to 72\.7", line)


def test_the_weakest_check_comes_first() -> None:
    order = [c.id for c in text.weakest_first(CHECKS)]
    assert order == ["rules.stall", "strength.strut", "strength.spar", "rules.mass"]


def test_a_fail_says_by_how_much_and_an_unknown_what_is_missing() -> None:
    said = text.told(made())
    # high end 20.2 against 20.0 m/s: 0.2 m/s = 0.3888 kt, 1 % over
    assert re.search(r"■ fail +stalling speed: .*at most 38\.88 kt: 0\.3888 kt too much \(−1 %\)", said)
    assert re.search(r"□ unknown +buckling of the strut: unknown, at least 1", said)
    assert "missing: the strut's ends are not drawn" in said
    assert re.search(r"· pass +greatest mass", said)


def test_no_checks_is_not_a_pass() -> None:
    assert "nothing is known to pass" in text.closing("W1", ())


def test_the_screen_keeps_its_width() -> None:
    assert max(map(len, text.told(made(), 80).splitlines())) <= 80


def test_json_is_the_contract() -> None:
    told = standard.loads(json.told([made()]))
    assert list(told) == ["family", "model", "program", "file_sha256", "results", "checks"]
    assert list(told["results"][0]) == ["id", "title", "value", "unit", "low", "high", "source"]
    assert list(told["checks"][0]) == [
        "id", "title", "value", "limit", "sense", "unit", "margin", "verdict", "part", "case", "rule", "method",
        "caveat",
    ]  # fmt: skip
    assert [r["id"] for r in told["results"]] == [r.id for r in RESULTS]
    assert [c["id"] for c in told["checks"]] == [c.id for c in CHECKS]


def test_json_is_si_in_full_precision_and_null_for_unknown() -> None:
    told = standard.loads(json.told([made()]), parse_constant=lambda word: pytest.fail(f"{word} is not JSON"))
    assert told["results"][0]["value"] == RESULTS[0].value
    assert told["results"][2]["value"] is None and told["results"][2]["low"] is None
    strut = told["checks"][2]
    assert (strut["value"], strut["margin"], strut["verdict"]) == (None, None, "unknown")


def test_json_of_several_models_says_what_is_shared_once() -> None:
    told = standard.loads(json.told([made("A"), made("B")]))
    assert list(told) == ["family", "program", "file_sha256", "models"]
    assert [m["model"] for m in told["models"]] == ["A", "B"]
    assert list(told["models"][0]) == ["model", "results", "checks"]


def test_the_json_of_the_page_is_what_is_written() -> None:
    page = (ROOT / "docs" / "json.md").read_text(encoding="utf-8")
    block = re.search(r"```json\n(.*?)```", page, re.DOTALL)
    assert block
    rest = {"title": "", "units": "inch", "program": "Sparwright 0.1.0", "file_sha256": "00", "family": "Wren"}
    empty = Result("mass.empty", "empty mass", 210.5, "kg", 200.0, 221.0, "ac-43.13-1b ch. 10")
    stall = Check("flight.stall", "stalling speed", math.nan, 20.06, "<=", "m/s", case="heaviest",
                  caveat="no section table at this Reynolds number")  # fmt: skip
    reports = [
        Report(model="A", results=(empty,), checks=(), **rest),
        Report(model="B", results=(), checks=(stall,), **rest),
    ]  # type: ignore[arg-type]
    assert json.told(reports) == block[1]
    for key in (*json.RESULT, *json.CHECK):
        assert key in page.split("```")[0]


def same(a: object, b: object) -> bool:
    return repr(a) == repr(b)  # repr is exact for floats, and NaN equals NaN in it


def test_a_kept_report_reads_back_whole() -> None:
    assert same(json.read(json.kept(made())), made())


@pytest.mark.parametrize("torn", ["", "{", "[]", "null", '{"results": 3}', '{"results": [], "checks": []}'])
def test_a_torn_report_is_refused(torn: str) -> None:
    with pytest.raises((ValueError, KeyError, TypeError, AttributeError)):
        json.read(torn)


def test_why_tells_formula_numbers_result_source_and_parents() -> None:
    said = why(made(), "flight.stall")
    for words in ("V = sqrt(2 m g/(rho S CL))", "m = 400 kg", "CL = 1.4", "37.19 kt (19.1306 m/s)", "naca-tr-572",
                  "definition",
                  "mass.most: greatest mass = 881.8 lb (400 kg)"):  # fmt: skip
        assert words in said
    assert " ".join(said.split()).endswith(CAUTION)


def test_why_of_a_check_tells_limit_rule_and_what_is_not_kept() -> None:
    said = why(made(), "rules.stall")
    for words in ("■ fail", "limit 20 m/s, must be <= the limit", "rule: the category", "case: heaviest",
                  "flight.stall: stalling speed", "gone.away: not among the numbers kept"):  # fmt: skip
        assert words in said


def test_why_of_an_unknown_number_is_told_as_unknown() -> None:
    said = why(made(), "flight.spin")
    assert "= unknown" in said and "note: cannot be computed" in said


def test_an_id_that_is_not_there_names_the_nearest() -> None:
    with pytest.raises(KeyError):
        why(made(), "flight.stal")
    assert nearest("flight.stal", ids(made()))[0] == "flight.stall"


def test_digits_mean_something() -> None:
    assert [decimals(v) for v in (0.0123456, 1.5, 123456.0, math.nan, 0.0)] == [5, 3, 0, 0, 0]
    assert figure(float("inf"), 2) == "—"


def test_margins_round_towards_failure() -> None:
    assert [margin(x).replace(JOINED, " ") for x in (0.2999, -0.2001, 0.0, -1e-12)] == [
        "+29 %",
        "−21 %",
        "+0 %",
        "−1 %",
    ]


@pytest.mark.parametrize(
    ("si", "units", "id", "value", "shown", "name"),
    [
        ("m/s", "inch", "flight.climb.rate", 5.08, 1000.0, "ft/min"),  # 5.08 m/s = 1000 ft/min exactly
        ("m/s", "inch", "flight.stall", 1852 / 3600, 1.0, "kt"),
        ("kg/s", "inch", "flight.fuel", 0.45359237 / 3600, 1.0, "lb/h"),
        ("N m", "inch", "strength.spar", 1.3558179483314004, 1.0, "lbf ft"),  # NIST SP 811 B.8
        ("rev/s", "millimetre", "power.rpm", 55.0, 3300.0, "rpm"),
        ("Pa", "millimetre", "strength.cap", 2.5e7, 25.0, "MPa"),
        ("1/rad", "inch", "air.slope", 180 / math.pi, 1.0, "per deg"),
        ("kg m2", "inch", "mass.inertia", 0.45359237 * 0.3048**2, 1.0, "lb ft2"),
        ("m/s", "si", "flight.climb.rate", 5.0, 5.0, "m/s"),
    ],
)
def test_units(si: str, units: str, id: str, value: float, shown: float, name: str) -> None:
    unit = unit_of(si, units, id)
    assert unit.name == name
    assert math.isclose(value * unit.factor, shown, rel_tol=1e-12)


def test_a_report_hides_no_field_of_a_result() -> None:
    assert {f.name for f in fields(Result)} == {*json.RESULT, "caveat", "steps", "parents", "outside_range"}
    assert {f.name for f in fields(Check)} == {*json.CHECK, "steps", "parents"}


def test_every_result_of_flight_stands_under_a_heading_that_says_what_of_flight(ran) -> None:
    """The long room is parted; a new kind of result wants a place in one of its parts."""
    loose = sorted({r.id.split(".")[1] for r in ran("W2").results if text.heading(r.id) == "Flight"})
    assert loose == []
