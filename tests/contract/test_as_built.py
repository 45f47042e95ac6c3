"""Faults in margin, fatigue, reasons of sizes: each number from the proof by another way, on the whole of W1."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest

from sparwright.base.check import Check, Result
from sparwright.family.limits import KeptSize
from sparwright.family.model import Family, RoundTube
from sparwright.margins.fatigue import IN_FLIGHT, by_kind
from sparwright.margins.one_g import at_one_g, pull_ups
from sparwright.margins.reasons import reasons
from sparwright.output.csv import reasons_csv
from sparwright.run import RunResult
from sparwright.strength.members.wood_state import moisture_factor, slope_factor
from sparwright.structure.answered import Answered

Ran = Callable[[str], RunResult]


@pytest.fixture(scope="module")
def w1(ran: Ran) -> RunResult:
    """W1, worked out."""
    return ran("W1")


@pytest.fixture(scope="module")
def told(w1: RunResult) -> dict[str, Result]:
    """Its results by id."""
    return {r.id: r for r in w1.results}


@pytest.fixture(scope="module")
def held(w1: RunResult) -> dict[str, Check]:
    """Its checks by id."""
    return {c.id: c for c in w1.checks}


@pytest.fixture(scope="module")
def answer(w1: RunResult) -> Answered:
    """What its frame answers."""
    assert w1.margins.answer is not None
    return w1.margins.answer


# ------------------------------------------------------------------ as built


@pytest.mark.parametrize("spar", ["front", "rear"])
def test_steep_grain_and_wet_wood_cost_their_own_price(
    spar: str, told: dict[str, Result], held: dict[str, Check]
) -> None:
    use = max(held[f"strength.wing.{spar}.{k}"].value for k in ("caps", "caps_at_limit"))
    names = ("bending", "compression", "tension")
    for run in (15, 12, 10):
        worst = min(float(slope_factor(p, run)) for p in names)
        assert told[f"as_built.wing.{spar}.grain_1_in_{run}"].value == pytest.approx(1 - use / worst)
    for wet in (8, 12, 15, 20):
        worst = min(1.0, *(float(moisture_factor("spruce", p, wet)) for p in names))
        assert told[f"as_built.wing.{spar}.moisture_{wet}"].value == pytest.approx(1 - use / worst)


def test_better_wood_than_is_printed_gets_no_credit(told: dict[str, Result], held: dict[str, Check]) -> None:
    least = min(held[f"strength.wing.front.{k}"].margin for k in ("caps", "caps_at_limit"))
    for fault in ("moisture_8", "moisture_12", "moisture_15", "grain_1_in_15"):
        assert told[f"as_built.wing.front.{fault}"].value == pytest.approx(least)
    assert told["as_built.wing.front.moisture_20"].value < least - 0.1


def test_a_knot_is_unknown_and_says_so(told: dict[str, Result]) -> None:
    knot = told["as_built.wing.front.knot"]
    assert math.isnan(knot.value) and "unknown" in knot.caveat


def test_a_crooked_tube_never_gains_and_a_more_crooked_one_never_more(told: dict[str, Result]) -> None:
    bowed = [r.id.removesuffix("_400") for r in told.values() if r.id.endswith(".bowed_400")]
    assert len(bowed) >= 4 and any("struts-LIFT_FRONT" in b for b in bowed)
    for b in bowed:
        straight = next(s.value for s in told[f"{b}_400"].steps if s.title.startswith("margin as proved"))
        assert straight >= told[f"{b}_400"].value >= told[f"{b}_200"].value, b
    assert told["as_built.struts-LIFT_FRONT.bowed_200"].value < told["as_built.struts-LIFT_FRONT.bowed_400"].value


def test_a_hole_nearer_its_edge_costs_what_the_narrower_eye_does(
    told: dict[str, Result], held: dict[str, Check]
) -> None:
    lugs = [r.id.removesuffix(".hole_1_32") for r in told.values() if r.id.endswith(".hole_1_32")]
    assert len(lugs) == 3
    for lug in lugs:
        proved = held[f"strength.{lug.removeprefix('as_built.')}"].margin
        assert proved > told[f"{lug}.hole_1_32"].value > told[f"{lug}.hole_1_16"].value


def test_a_bolt_through_an_empty_strut_crushes_it(told: dict[str, Result]) -> None:
    """By hand: F = Q/(0.2 d); F_1 = pi b t^2 F_y/(6 R), AN3, 25 in-lb, 1-1/2 x 0.049 in 4130N, F_y 70 or 75 ksi."""
    F, b, t, R = 25 / (0.2 * 0.19), 0.38, 0.049, (1.5 - 0.049) / 2
    found = told["as_built.struts-LIFT_FRONT.clamped"].value
    margins = [1 - F / (math.pi * b * t**2 * y / (6 * R)) for y in (75e3, 70e3)]
    assert min(margins) - 0.01 <= found <= max(margins) + 0.01


def test_ten_years_at_one_g_use_little(told: dict[str, Result], held: dict[str, Check]) -> None:
    """By hand: at most the caps' ultimate use over 1.5 and the load factor 3.8, over 62 per cent of strength."""
    for spar in ("front", "rear"):
        use = held[f"strength.wing.{spar}.caps"].value / 1.5 / 3.8 / 0.62
        assert 0 < 1 - told[f"as_built.wing.{spar}.ten_years"].value < 1.5 * use


# ------------------------------------------------------------------ fatigue


def test_one_g_is_the_pull_ups_part(answer: Answered) -> None:
    which, factors = pull_ups(answer)
    assert len(which) > 5 and factors.min() >= 1.5
    lift = np.array([[x.loads[:, 2] for x in answer.laid]])
    assert np.allclose(at_one_g(answer, lift)[0], lift[0, which] / factors[:, None])


def test_wires_and_struts_bear_what_their_pulls_say(told: dict[str, Result], answer: Answered) -> None:
    flown = [i for i, x in enumerate(answer.laid) if x.case.kind in IN_FLIGHT]
    bars = answer.skeleton.which(lambda b: b.part.endswith("struts-LIFT_FRONT"))
    made = answer.skeleton.bars[int(bars[0])].made
    assert isinstance(made, RoundTube)
    pull = max(float(s.pull[flown][:, bars].max()) for s in answer.limit)
    area = math.pi * (made.outside - made.wall) * made.wall
    r = told["fatigue.tube.struts-LIFT_FRONT"]
    strength = next(v for s in r.steps for n, v, _ in s.given if n == "strength")
    assert r.value >= pull / area / strength * 0.999
    assert r.value == pytest.approx(pull / area / strength, rel=0.15)  # its own bending by weight and air is the rest


def test_every_critical_part_has_its_look_and_its_level(told: dict[str, Result], held: dict[str, Check]) -> None:
    kinds = by_kind(tuple(told.values()))
    assert set(kinds) == {"lug", "wire", "tube", "spar"}
    assert len(kinds["lug"]) == sum(c.startswith("strength.lug.") for c in held)
    assert len(kinds["wire"]) == sum(c.startswith("strength.wire.") for c in held)
    for rows in kinds.values():
        values = [r.value for r in rows]
        assert values == sorted(values, reverse=True)
        for r in rows:
            assert "every 100 h or 12 months" in r.caveat and "recalled" in r.caveat
            assert ("over 0.5" in r.caveat) == (r.value > 0.5)
            assert r.steps[1].value <= r.value + 1e-9, "one g is no more than limit load"


# ------------------------------------------------------------------ reasons


def test_every_part_with_a_check_has_its_reason(w1: RunResult, whinchat: Family) -> None:
    rows = reasons(whinchat.models["W1"], w1.assembly, w1.checks)
    named = {c.part for c in w1.checks if c.id.startswith("strength.") and ".gone." not in c.id and c.part}
    assert {r.part for r in rows} == named
    known = [c for c in w1.checks if c.id.startswith("strength.") and ".gone." not in c.id and math.isfinite(c.margin)]
    least = {p: min((c.margin for c in known if c.part == p), default=math.nan) for p in named}
    for r in rows:
        assert r.margin == pytest.approx(least[r.part], rel=0, abs=0, nan_ok=True)
        assert ("no load case asks" in r.reason) == (r.margin >= 0.5)
        assert (r.reason == "not known") == math.isnan(r.margin)
    table = list(csv.reader(io.StringIO(reasons_csv(rows).decode())))
    assert len(table) == len(rows) + 1 and table[1][0] == rows[0].part


def test_the_designers_words_stand_before_ours(w1: RunResult, whinchat: Family) -> None:
    model = whinchat.models["W1"]
    kept = (KeptSize(part="W1-struts-*", reason="least gauge, against dents"),)
    own = replace(model, limits=replace(model.limits, kept=kept))
    said = {r.part: r.reason for r in reasons(own, w1.assembly, w1.checks)}
    assert said["W1-struts-TAIL"] == "kept by the designer: least gauge, against dents"
    assert not said["W1-fuselage-TUBE-A1R-D1R"].startswith("kept")
