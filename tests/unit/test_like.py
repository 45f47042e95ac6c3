"""A model that is like another: the same aeroplane with another engine, worked out anew; and what cannot be."""

from __future__ import annotations

import math
from dataclasses import fields, replace

import pytest
from families import DEMO_FILE, PROBE, problems, reading

from sparwright.family.model import Model
from sparwright.family.reader import load, read
from sparwright.mass.weigh import weigh
from sparwright.parts.layout import lay_out
from sparwright.power.told import engine_results

HEAVIER = """
[models.P4]
title = "the first with a heavier engine"
like = "P1"
engine = { name = "heavier", mass = "60 kg" }
"""


def second(said: str = HEAVIER) -> Model:
    return reading(PROBE + said).models["P4"]


def test_everything_but_what_it_says_is_the_others() -> None:
    one, other = reading(PROBE).models["P1"], second()
    assert other.engine == replace(one.engine, name="heavier", mass=60.0)
    for f in fields(Model):
        if f.name not in ("name", "title", "engine", "weighed", "note"):
            assert getattr(one, f.name) == getattr(other, f.name), f.name
    assert other.weighed == ()


def test_something_of_the_other_can_be_left_out() -> None:
    item = next(iter(reading(PROBE).models["P1"].items)).name
    less = second(HEAVIER + f'without = ["items.{item}"]\n')
    assert item not in [i.name for i in less.items]
    assert len(less.items) == len(reading(PROBE).models["P1"].items) - 1


@pytest.mark.parametrize("wrong", ["P9", "P4", "P5"])
def test_it_is_like_a_model_that_is_there_and_like_none_itself(wrong: str) -> None:
    chain = HEAVIER.replace("P4", "P5") + HEAVIER.replace('like = "P1"', f'like = "{wrong}"')
    (found,) = problems(PROBE + chain)
    assert found.key == "models.P4.like" and "like none itself" in found.wanted


def test_a_fault_of_the_other_is_told_once() -> None:
    bad = PROBE.replace("[models.P1.propeller]\n", '[models.P1.propeller]\nlength = "2 m"\n', 1)
    found = problems(bad + HEAVIER)
    assert [p.key for p in found] == ["models.P1.propeller.length"]


def test_weight_and_balance_follow_the_engine() -> None:
    """Whinchat's W1 with 10 kg more at the engine: the empty weight rises by it and moves as its moment says."""
    text = DEMO_FILE.read_text("utf-8")
    one = load(DEMO_FILE).models["W1"]
    more = one.engine.mass + 10.0
    said = f'\n[models.W1B]\ntitle = "heavier"\nlike = "W1"\nengine = {{ mass = "{more!r} kg" }}\n'
    other = read((text + said).encode(), "f.toml").models["W1B"]
    before, after = weigh(one, lay_out(one)), weigh(other, lay_out(other))
    assert abs(after.empty.value - before.empty.value - 10.0) < 1e-9
    moment = before.empty.value * before.empty_station + 10.0 * one.engine.place[0]
    assert abs(after.empty_station - moment / after.empty.value) < 1e-9


def test_engine_told_by_hand() -> None:
    """40 hp at 2500 turns of the propeller in a minute are 29828 W over 261.8 rad/s: 113.9 N m, 84.0 lbf ft."""
    engine = reading(PROBE).models["P1"].engine
    assert engine.curve
    told = {r.id.removeprefix("power.engine."): r for r in engine_results(engine)}
    best = max(p.power * engine.gear / (2 * math.pi * p.speed) for p in engine.curve)
    assert told["torque"].value == best and told["torque"].steps and told["mass"].value == engine.mass
    point = replace(engine.curve[0], speed=2500 / 60 * 2.0, power=29828.0)
    by_hand = {r.id: r for r in engine_results(replace(engine, gear=2.0, curve=(point,)))}
    assert abs(by_hand["power.engine.torque"].value - 113.94) < 0.01
    bare = {r.id: r for r in engine_results(replace(engine, curve=()))}
    assert math.isnan(bare["power.engine.torque"].value) and bare["power.engine.torque"].caveat
