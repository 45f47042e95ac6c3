"""Groups of parts against statistics: every pound in one group, ranges said, an unknown speed told."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import pytest
from families import PROBE, reading, spoiled, told
from numpy.testing import assert_allclose

from sparwright.base.check import Result
from sparwright.family.model import Family, Model
from sparwright.mass.compared import compared_results
from sparwright.mass.record import Balance
from sparwright.mass.statistics import of_wings, symbols, tail_wheel
from sparwright.mass.weigh import weigh
from sparwright.maths.formula import evaluated
from sparwright.output.compared import compared_lines
from sparwright.output.report import report
from sparwright.parts.layout import lay_out
from sparwright.run import RunResult

NAMES = ("P1", "P2", "P3")


@pytest.fixture(scope="module")
def probe() -> Family:
    return reading(PROBE)


def weighed(model: Model) -> tuple[Model, Balance]:
    return model, weigh(model, lay_out(model))


def by_id(model: Model, balance: Balance, speed: float = 40.0) -> dict[str, Result]:
    return {r.id: r for r in compared_results(model, balance, speed)}


@pytest.mark.parametrize("name", NAMES)
def test_each_line_counts_once(probe: Family, name: str) -> None:
    model, balance = weighed(probe.models[name])
    found = by_id(model, balance)
    ours = sum(r.value for id, r in found.items() if id.count(".") == 1 and id != "compared.left")
    assert_allclose(ours + found["compared.left"].value * balance.empty.value, balance.empty.value, rtol=1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_wings_are_taken_one_by_one(probe: Family, name: str) -> None:
    model, balance = weighed(probe.models[name])
    found = by_id(model, balance)["compared.wings.usaf"]
    assert len(found.steps) == len(model.wings)
    assert ("made for 1 wing" in found.outside_range) == (len(model.wings) > 1)
    wings = of_wings(model, symbols(model, balance, 40.0))
    assert_allclose(sum(w["W"] for _, w in wings), model.limits.max_mass / 0.45359237, rtol=1e-12)


def test_a_group_moves_an_allowance(probe: Family) -> None:
    model, balance = weighed(probe.models["P1"])
    one = model.allowances[0]
    there = replace(model, allowances=(replace(one, group="electrics"), *model.allowances[1:]))
    before, after = by_id(model, balance), by_id(there, balance)
    assert_allclose(after["compared.electrics"].value - before["compared.electrics"].value, one.mass, rtol=1e-12)


def test_without_a_speed_what_needs_it_is_unknown(probe: Family) -> None:
    model, balance = weighed(probe.models["P1"])
    found = by_id(model, balance, math.nan)
    assert math.isnan(found["compared.wings.usaf"].value)
    assert "fastest level speed at sea level is not known" in found["compared.wings.usaf"].caveat
    assert math.isfinite(found["compared.controls.cessna"].value)


def test_too_fast_and_nose_wheel_are_said(probe: Family) -> None:
    model, balance = weighed(probe.models["P1"])
    assert "faster than 200 kt" in by_id(model, balance, 110.0)["compared.controls.cessna"].outside_range
    assert "faster" not in by_id(model, balance, 100.0)["compared.controls.cessna"].outside_range
    said = "nose wheel" in by_id(model, balance)["compared.gear.raymer"].outside_range
    assert said == tail_wheel(model)


def test_the_table_tells_each_method_once(ran: Callable[[str], RunResult]) -> None:
    run = ran("W2")
    lines = list(compared_lines(report(run, "two wings", "inch"), 100))
    asked = [line.split()[-1] for line in lines if line.split()[-1].startswith("compared.")]
    wanted = [r.id for r in run.results if r.id.startswith("compared.") and not r.id.endswith((".ratio", ".left"))]
    assert asked == wanted
    assert len(asked) > 25
    ratio = run.result("compared.wings.cessna-braced.ratio")
    assert_allclose(ratio.value, run.result("compared.wings").value / run.result("compared.wings.cessna-braced").value)


def test_nothing_to_compare_gives_no_table(ran: Callable[[str], RunResult]) -> None:
    bare = replace(report(ran("W2"), "two wings", "inch"), results=())
    assert list(compared_lines(bare, 100)) == []


def test_an_unknown_group_is_told_with_its_key() -> None:
    name = next(iter(reading(PROBE).models["P1"].allowances)).name
    old = f"{name} = {{ "
    text = spoiled(old, f'{old}group = "wheels", ')
    told(text, 'group = "wheels"', f"allowances.{name}.group", '"wings" or "tail"')


@pytest.mark.parametrize("text", ["__import__('os')", "W.real", "W if W else 1", "max(W, 1)", "W +", "W < 2"])
def test_a_formula_is_a_sum_and_nothing_else(text: str) -> None:
    with pytest.raises(ValueError, match="formula"):
        evaluated(text, {"W": 2.0})


def test_a_ratio_has_the_ends_of_our_own_over_theirs(probe: Family) -> None:
    model, balance = weighed(probe.models["P1"])
    found = by_id(model, balance)
    ratios = [id for id in found if id.endswith(".ratio")]
    assert ratios
    for id in ratios:
        theirs, ours = found[id.removesuffix(".ratio")], found[".".join(id.split(".")[:2])]
        assert_allclose([found[id].low, found[id].value, found[id].high],
                        [v / theirs.value for v in (ours.low, ours.value, ours.high)], rtol=1e-12)  # fmt: skip
