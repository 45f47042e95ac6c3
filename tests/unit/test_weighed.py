"""Parts put on a scale: their mass in the ledger, what the scale says of the rest, and what is refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.mass.told import mass_results
from sparwright.mass.weigh import weigh
from sparwright.mass.weighed import as_weighed, weighed_results
from sparwright.parts.layout import lay_out
from sparwright.run import RunResult

FILE = Path(__file__).parents[2] / "examples" / "whinchat" / "whinchat.toml"
RIB = "W1-wing-RIB-0"


def with_tables(*tables: str) -> Model:
    text = FILE.read_text(encoding="utf-8") + "".join(f"\n[[models.W1.weighed]]\n{t}\n" for t in tables)
    return read(text.encode(), "weighed.toml").models["W1"]


def table(part: str = RIB, mass: str = "0.9 lb", scale: str = "0.02 lb") -> str:
    return f'part = "{part}"\nmass = "{mass}"\nscale = "{scale}"\nnote = "bare, kitchen scale"'


def test_a_weighed_part_counts_as_the_scale_says(whinchat: Family) -> None:
    """The empty mass and its moment move by the difference, times how many there are; other models do not."""
    computed = lay_out(whinchat.models["W1"])
    before, model = weigh(whinchat.models["W1"], computed), with_tables(table())
    after, part = weigh(model, as_weighed(model, computed)), computed.part(RIB)
    more = (0.9 * 0.45359237 - part.mass) * part.count
    assert abs(more) > 0.05
    assert_allclose(after.empty.value - before.empty.value, more, rtol=1e-9)
    moment = after.empty.value * after.empty_station - before.empty.value * before.empty_station
    assert_allclose(moment, more * sum(p[0] for p in part.places) / part.count, rtol=1e-9)
    line = next(x for x in after.lines if x.name.startswith(RIB + " "))
    assert line.source == "measured"
    assert_allclose(line.mass.high - line.mass.value, 0.02 * 0.45359237 * part.count, rtol=1e-9)
    assert not whinchat.models["W1"].weighed


def test_what_the_scale_says_of_the_rest() -> None:
    model = with_tables(table(), table("W1-wing-NOSE-BAR-outer-R", "1 kg", "0.1 kg"))
    computed = lay_out(model)
    balance = weigh(model, as_weighed(model, computed))
    part, ratio = weighed_results(model, computed, balance)
    rib, bar = computed.part(RIB), computed.part("W1-wing-NOSE-BAR-outer-R")
    total = 0.9 * 0.45359237 * rib.count + 1.0 * bar.count
    assert_allclose(part.value, total / balance.empty.value, rtol=1e-12)
    assert_allclose(ratio.value, total / (rib.mass * rib.count + bar.mass * bar.count), rtol=1e-12)
    doubt = 0.02 * 0.45359237 * rib.count + 0.1 * bar.count  # one scale: they add up
    assert_allclose(ratio.high - ratio.value, doubt * ratio.value / total, rtol=1e-9)
    assert ratio.low < ratio.value < ratio.high and len(ratio.steps) == 2
    assert ratio.steps[0].value == pytest.approx(0.9 * 0.45359237 / rib.mass)
    assert "mass.empty" in {r.id for r in mass_results(model, balance)}


def test_nothing_weighed_is_said(ran: Callable[[str], RunResult]) -> None:
    found = ran("W1").result("mass.weighed")
    assert found.value == 0 and "no part has been weighed" in found.caveat
    assert not [r for r in ran("W1").results if r.id == "mass.weighed.ratio"]


def test_a_number_that_is_no_part_is_told_with_those_near_it() -> None:
    model = with_tables(table("W1-wing-RIB-O"))
    with pytest.raises(DesignProblem, match=r"weighed W1-wing-RIB-O is not a part of it; near it are .*W1-wing-RIB-0"):
        as_weighed(model, lay_out(model))


@pytest.mark.parametrize(
    ("tables", "said"),
    [
        ((table(), table()), "is weighed twice"),
        ((table(scale="1 lb"),), "must be less than the mass"),
        ((table(mass="0 lb"),), "must be positive"),
        ((table(mass="nine ounces"),), "cannot be read as a mass"),
        (('part = "x"\nmass = "1 lb"',), "is missing"),
    ],
)
def test_what_cannot_be_meant_is_refused(tables: tuple[str, ...], said: str) -> None:
    with pytest.raises(FileProblems) as refused:
        with_tables(*tables)
    assert said in str(refused.value) and "weighed" in str(refused.value)
