"""Sizes that would pass: each margin is the member's own with it, each weight that of the parts laid out anew."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace

import pytest

from sparwright.family.limits import KeptSize
from sparwright.family.model import Family, Model, RoundTube
from sparwright.margins.candidates import stock_of
from sparwright.margins.chain import members
from sparwright.margins.sizes import Sized, kept_for, sizes
from sparwright.margins.tubes import groups
from sparwright.output import sizes as output
from sparwright.parts.layout import lay_out
from sparwright.run import RunResult
from sparwright.structure.answered import Answered

Ran = Callable[[str], RunResult]


@pytest.fixture(scope="module")
def w1(ran: Ran) -> RunResult:
    """W1, worked out."""
    return ran("W1")


@pytest.fixture(scope="module")
def model(whinchat: Family) -> Model:
    """Its model."""
    return whinchat.models["W1"]


def find(w1: RunResult, model: Model, wanted: str) -> tuple[Sized, ...]:
    """Members of a name."""
    return sizes(model, w1.assembly, w1.balance, w1.margins, wanted)


def answer_of(w1: RunResult) -> Answered:
    """What its frame answers."""
    assert w1.margins.answer is not None
    return w1.margins.answer


def test_a_tube_of_another_size_has_that_margin_in_the_proof(w1: RunResult, model: Model) -> None:
    answer = answer_of(w1)
    name, bars = next((n, b) for n, b in groups(answer).items() if n.endswith("struts-LIFT_REAR"))
    (strut,) = (s for s in find(w1, model, "LIFT_REAR") if s.id.startswith("strength.tube"))
    made = answer.skeleton.bars[bars[0]].made
    assert isinstance(made, RoundTube) and strut.stock == stock_of(made) and len(strut.choices) > 3
    for choice in strut.choices[:4]:
        other = next(t for t in _stock(made) if stock_of(t) == choice.stock)
        changed = tuple(replace(b, made=other) if i in bars else b for i, b in enumerate(answer.skeleton.bars))
        proof = members(model, replace(answer, skeleton=replace(answer.skeleton, bars=changed)))
        margin = next(c.margin for c in proof if c.id == strut.id)
        assert choice.margin == pytest.approx(margin, abs=1e-9), (name, choice.stock)


def _stock(made: RoundTube) -> list[RoundTube]:
    from sparwright.data.loader import tubes

    return [RoundTube(material=made.material, outside=t.outside, wall=t.wall) for t in tubes() if t.stock == "4130"]


def test_caps_sawn_otherwise_weigh_what_their_parts_then_weigh(w1: RunResult, model: Model) -> None:
    (caps,) = (s for s in find(w1, model, "rear.caps"))
    lighter = next(c for c in caps.choices if c.stock.endswith("7/8 in"))
    wing = model.wings[0]
    spars = tuple(replace(s, cap=replace(s.cap, depth=0.875 * 0.0254)) if s.name == "rear" else s for s in wing.spars)
    changed = lay_out(replace(model, wings=(replace(wing, spars=spars), *model.wings[1:])))
    was, then = (sum(p.mass * p.count for p in a.parts if "-REAR-" in p.number and "-CAP-" in p.number)
                 for a in (w1.assembly, changed))  # fmt: skip
    assert lighter.mass == pytest.approx(then - was, rel=0.02)
    answer = answer_of(w1)
    model_then = replace(model, wings=(replace(wing, spars=spars), *model.wings[1:]))
    margins = [c.margin for c in members(model_then, answer) if c.id.startswith("strength.wing.rear.")]
    assert lighter.margin == pytest.approx(min(margins), abs=1e-9)


def test_the_centre_of_gravity_moves_towards_what_gets_heavier(w1: RunResult, model: Model) -> None:
    for s in find(w1, model, "TUBE-D1R-S1") + find(w1, model, "mount-TUBE-UR-RR"):
        tail = "S1" in s.part
        for c in s.choices:
            assert (c.station > 0) == ((c.mass > 0) == tail)


def test_choices_keep_what_is_wanted_and_each_heavier_one_keeps_more(w1: RunResult, model: Model) -> None:
    stout = replace(model, limits=replace(model.limits, least_margin=0.3, least_gauge=0.049 * 0.0254))
    (strut,) = (s for s in find(w1, stout, "LIFT_FRONT") if s.id.startswith("strength.tube"))
    assert strut.short and strut.wanted == 0.3 and strut.choices
    margins, masses = [c.margin for c in strut.choices], [c.mass for c in strut.choices]
    assert min(margins) >= 0.3 and margins == sorted(margins) and masses == sorted(masses)
    assert all(float(c.stock.split(" x ")[1].removesuffix(" in")) >= 0.049 for c in strut.choices)


def test_where_nothing_on_file_passes_it_says_how_far_the_best_goes(w1: RunResult, model: Model) -> None:
    greedy = replace(model, limits=replace(model.limits, least_margin=0.99))
    for s in find(w1, greedy, "LIFT_FRONT"):
        assert not s.choices and "the best has" in s.why


def test_a_size_kept_for_the_designers_reason_is_not_offered_lighter(w1: RunResult, model: Model) -> None:
    kept = (KeptSize(part="W1-struts-*", reason="least gauge, against dents"),)
    own = replace(model, limits=replace(model.limits, kept=kept))
    (strut,) = (s for s in find(w1, own, "LIFT_REAR") if s.id.startswith("strength.tube"))
    assert strut.kept == "least gauge, against dents" == kept_for(own, "W1-struts-TAIL")
    assert kept_for(own, "W1-wing-FRONT") == "" and kept_for(model, "W1-struts-TAIL") == ""
    assert strut not in output.split([strut])[1]
    assert "kept: least gauge" in output.told("W1", [strut], "inch", True)


def test_told_in_json_as_in_the_record(w1: RunResult, model: Model) -> None:
    found = find(w1, model, "LIFT_FRONT")
    body = json.loads(output.as_json({"model": "W1"}, found))
    assert [m["check"] for m in body["members"]] == [s.id for s in found]
    pin = next(m for m in body["members"] if ".pin." in m["check"])
    assert pin["choices"][0]["mass_change"] is None
    text = output.told("W1", found, "inch", True)
    assert all(s.title in text and s.stock in text for s in found)


def test_a_name_that_is_nowhere_finds_nothing(w1: RunResult, model: Model) -> None:
    assert find(w1, model, "no-such-part") == ()
