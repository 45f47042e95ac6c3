"""Electrics, pitot, cooling, oil, placards: sums by hand, limits met from both sides, bad input."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from families import DEMO_FILE
from numpy.testing import assert_allclose

from sparwright.base.problem import DesignProblem, FileProblems
from sparwright.data.loader import material
from sparwright.family.electrics import Battery, Circuit, Electrics, Generator
from sparwright.family.model import Family, Model
from sparwright.family.reader import read
from sparwright.parts.electrics import electrics_joints, electrics_parts
from sparwright.parts.frame import frame_tubes
from sparwright.parts.layout import lay_out
from sparwright.parts.pitot import pitot_parts
from sparwright.parts.soft import holders, laid_run
from sparwright.plans.placards import BLANK, placards
from sparwright.systems.cooling import outside
from sparwright.systems.electrics import load_sum, load_sums, wire_length
from sparwright.systems.electrics_told import electrics_checks, electrics_results
from sparwright.systems.oil import mixed
from sparwright.systems.pitot import banded, beyond, pressure

MODELS = ("W1", "W2", "W3")


def circuit(name: str, **said: object) -> Circuit:
    plain: dict[str, object] = {
        "purpose": name, "current": 2.0, "demand": "continuous", "phases": ("cruise",), "protector": "fuse",
        "rating": 5.0, "gauge": 18, "insulation": "150 C", "run": {"a": (0.0, 0.0, 0.0), "b": (3.0, 0.0, 0.0)},
        "held": ("firewall",),
    }  # fmt: skip
    return Circuit(name=name, **{**plain, **said})  # type: ignore[arg-type]


def with_electrics(model: Model, *circuits: Circuit, power: float = 140.0, watched: bool = False) -> Model:
    battery = Battery(item="battery", voltage=12.0, capacity=10 * 3600.0, usable=0.5)
    generator = Generator(voltage=14.0, power=power, speed=80.0, watched=watched)
    return replace(model, electrics=Electrics(battery=battery, generator=generator, circuits=circuits))


def verdicts(model: Model) -> dict[str, str]:
    return {c.id: c.verdict for c in electrics_checks(model)}


def test_a_sum_by_hand() -> None:
    """2 A that stay on, 28 W at 14 V that stay on, 10 A a tenth of the time; 50 A in the start alone."""
    all_of = (circuit("a"), circuit("b", current=None, power=28.0), circuit("c", current=10.0, demand="intermittent",
              share=0.1), circuit("d", current=50.0, phases=("start",)))  # fmt: skip
    found = load_sum(all_of, "cruise", 14.0)
    assert (found.continuous, found.mean, found.peak) == (4.0, 5.0, 14.0)
    assert load_sum(all_of, "start", 14.0).peak == 50.0


def test_adding_a_load_never_makes_a_sum_smaller_and_order_does_not_count(whinchat: Family) -> None:
    e = whinchat.models["W2"].electrics
    assert e
    more = replace(e, circuits=(*e.circuits, circuit("more", phases=("night",))))
    for one, two in zip(load_sums(e), load_sums(more), strict=True):
        assert two.continuous >= one.continuous and two.mean >= one.mean and two.peak >= one.peak
    assert load_sums(e) == load_sums(replace(e, circuits=e.circuits[::-1]))


@pytest.mark.parametrize(("amperes", "watched", "verdict"), [(7.9, False, "pass"), (8.1, False, "fail"),
                                                            (8.1, True, "pass"), (10.1, True, "fail")])  # fmt: skip
def test_eighty_percent_of_the_generator_unless_it_is_watched(
    whinchat: Family, amperes: float, watched: bool, verdict: str
) -> None:
    model = with_electrics(whinchat.models["W2"], circuit("a", current=amperes, gauge=8), watched=watched)
    assert verdicts(model)["electrics.load"] == verdict


@pytest.mark.parametrize(("amperes", "verdict"), [(9.9, "pass"), (10.1, "fail")])
def test_half_an_hour_on_the_battery(whinchat: Family, amperes: float, verdict: str) -> None:
    """Five usable ampere hours: ten amperes for half an hour."""
    model = with_electrics(whinchat.models["W2"], circuit("a", current=amperes, gauge=8, needed=True))
    assert verdicts(model)["electrics.battery"] == verdict


@pytest.mark.parametrize(
    ("said", "check"),
    [({"run": {"a": (0.0, 0.0, 0.0), "b": (12.5, 0.0, 0.0)}}, "drop"),
     ({"insulation": "105 C", "current": 6.2, "rating": 10.0}, "wire"),
     ({"rating": 15.0}, "protector"), ({"current": 5.5}, "opens")],
)  # fmt: skip
def test_each_limit_of_a_wire_fails_by_itself(whinchat: Family, said: dict[str, object], check: str) -> None:
    plain = verdicts(with_electrics(whinchat.models["W2"], circuit("a")))
    failed = verdicts(with_electrics(whinchat.models["W2"], circuit("a", **said)))
    assert plain[f"electrics.{check}"] == "pass" and failed[f"electrics.{check}"] == "fail"
    assert {k for k, v in failed.items() if v == "fail"} == {f"electrics.{check}", "electrics.pumps"}  # none feeds it


def test_a_pump_without_a_circuit_fails_and_what_is_not_said_is_unknown(whinchat: Family) -> None:
    w2 = whinchat.models["W2"]
    assert verdicts(with_electrics(w2, circuit("a")))["electrics.pumps"] == "fail"
    assert verdicts(replace(w2, electrics=None)) == {"electrics.load": "unknown"}
    bare = verdicts(replace(w2, electrics=Electrics()))
    assert set(bare.values()) == {"unknown", "fail"} and bare["electrics.battery"] == "unknown"
    assert list(electrics_results(replace(w2, electrics=None))) == []


def test_a_bus_of_no_known_system_has_no_limit_for_what_is_lost(whinchat: Family) -> None:
    odd = with_electrics(whinchat.models["W2"], circuit("a"))
    assert odd.electrics and odd.electrics.generator
    far = replace(odd.electrics, generator=replace(odd.electrics.generator, voltage=48.0))
    assert verdicts(replace(odd, electrics=far))["electrics.drop"] == "unknown"


# ------------------------------------------------------------------ parts


@pytest.mark.parametrize("name", MODELS)
def test_wires_weigh_by_their_length_and_are_held(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    tubes = frame_tubes(model)
    parts = {p.number: p for p in electrics_parts(model)}
    held = {n for j in electrics_joints(model, tubes) for n in j.parts}
    assert model.electrics and len(parts) == len(model.electrics.circuits) + 1
    assert set(parts) <= held
    c = next(c for c in model.electrics.circuits if c.back == "wire")
    one = next(p for p in electrics_parts(with_electrics(model, c)))
    two = next(p for p in electrics_parts(with_electrics(model, replace(c, back="frame"))))
    assert_allclose(one.mass, 2 * two.mass, rtol=1e-12, atol=0)
    assert_allclose(wire_length(c), 2 * wire_length(replace(c, back="frame")), rtol=1e-12, atol=0)
    assert list(holders(model, ["firewall"], tubes)) != []


def test_a_pitot_held_by_nothing_is_told(whinchat: Family) -> None:
    with pytest.raises(DesignProblem, match="no tube and no strut"):
        list(pitot_parts(whinchat.models["W1"], ()))


# ------------------------------------------------------------------ static pressure, cooling, oil


@pytest.mark.parametrize("name", MODELS)
def test_the_estimate_is_the_same_on_either_side_and_fades_with_distance(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    assert model.pitot and beyond(model) == ""
    x, y, z = model.pitot.static_place
    here = pressure(model, (x, y, z), 1.2, 0.1)
    assert_allclose(pressure(model, (x, -y, z), 1.2, 0.1), here, rtol=1e-9, atol=1e-12)
    assert abs(pressure(model, (x - 30.0, y, z), 1.2, 0.1)) < 0.1 * abs(here)
    band = banded(here)
    assert band.low < 0 < here < band.high or band.low > 0


def test_where_nothing_can_be_said(whinchat: Family) -> None:
    w1 = whinchat.models["W1"]
    assert w1.pitot
    for place, word in (((0.5, 0.2, 0.0), "slipstream"), ((1.0, 1.5, 0.8), "half a chord")):
        assert word in beyond(replace(w1, pitot=replace(w1.pitot, static_place=place)))
    assert "calibrate" in beyond(replace(w1, pitot=replace(w1.pitot, static="flush")))
    assert "calibrate" in beyond(replace(w1, pitot=replace(w1.pitot, static="cockpit")))
    assert beyond(replace(w1, pitot=None)) != ""


def test_cooling_is_said_only_of_what_the_rule_is_of(whinchat: Family) -> None:
    engine = whinchat.models["W2"].engine
    assert outside(engine) == ""
    for said in ({"cooled": ""}, {"cooled": "fan"}, {"cooled": "liquid"}, {"strokes": 2}):
        assert outside(replace(engine, **said)) != ""  # type: ignore[arg-type]


def test_oil_by_volume() -> None:
    """Fifty litres at fifty to one are a litre of oil, 0.88 kg."""
    assert_allclose(mixed(0.05 * 720, 720.0, 50.0).value, 0.88, rtol=1e-12, atol=0)


# ------------------------------------------------------------------ placards


@pytest.mark.parametrize("name", MODELS)
def test_placards_leave_a_blank_for_what_is_not_known(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    found = {p.key: p for p in placards(model, {})}
    assert found["speeds"].text.count("until flown") == 3 and found["speeds"].blanks == 3
    assert "835 lb" in found["weights"].text if name == "W1" else "lb (" in found["weights"].text
    assert BLANK in found["fuel"].text and found["baggage"].text.startswith("BAGGAGE 6.0 lb (2.7 kg)")
    assert ("mixture" in found) == (name == "W1") and ("oil" in found) == (name != "W1")
    guarded = [c for c in model.electrics.circuits if c.protector != "none"] if model.electrics else []
    assert len([k for k in found if k.startswith("circuit.")]) == len(guarded) > 0
    assert all("{" not in p.text and p.rule and p.where for p in found.values())
    assert {"experimental", "warning_uk", "warning_ca", "warning_eu"} <= set(found)
    for category, there in (("uk-microlight-600", False), ("cs-vla", True), ("de-ltf-ul", True), ("fr-ulm-3", True)):
        alone = {p.key for p in placards(replace(model, categories=(category,)), {})}
        assert ("warning_eu" in alone) == there and ("warning_uk" in alone) != there
    assert len(placards(replace(model, electrics=None, fuel=None, pitot=None, categories=()), {})) < len(found)


# ------------------------------------------------------------------ bad input

BAD = [
    ('current = "0.4 A", demand', 'current = "0.4 A", power = "5 W", demand', "radio: says either current or power"),
    ('current = "0.4 A", ', "", "radio: says either current or power"),
    ('current = "0.4 A"', 'current = "0.4 V"', "'V' is a unit of voltage, a current is wanted"),
    ('feeds = "radio", current = "0.4', 'feeds = "radoi", current = "0.4', "the nearest known is 'radio'"),
    ('item = "battery"', 'item = "batery"', "electrics.battery.item: names an item"),
    ('capacity = "12 Ah"', 'capacity = "0 Ah"', "electrics.battery.capacity: must be positive"),
    ("usable = 0.6", "usable = 1.5", "electrics.battery.usable: must be"),
    ("gauge = 6,", "gauge = 7,", "starter.gauge: is not a wire we know"),
    ('phases = ["start"]', 'phases = ["begin"]', "is not a phase we know"),
    ('protector = "none", gauge', 'protector = "none", rating = "5 A", gauge', "no protector has no rating"),
    ('rating = "20 A", ', "", "a breaker or fuse has a rating"),
    ('back = "frame", held = ["firewall"]', 'back = "frame", held = ["firewal"]', "the nearest known is 'firewall'"),
    ('held = "lift_front"', 'held = "lift_frnt"', "the nearest known is 'lift_front'"),
    ("mix = 50", "mix = 5", "mix: must be"),
    ('oil_use = "0.1 L/h"', "mix = 50", "a four-stroke has no oil in its fuel"),
    ('cooled = "ram"', 'cooled = "wind"', "cooled: is"),
    ('bore = "0.17 in", outside = "1/4 in"', 'bore = "0.37 in", outside = "1/4 in"', "must be more than the bore"),
    ('voltage = "13.8 V"', 'voltage = "27.6 V"', "must suit the battery's 12 V"),
]


@pytest.mark.parametrize(("old", "new", "sentence"), BAD)
def test_bad_input_is_told_by_key(old: str, new: str, sentence: str) -> None:
    text = DEMO_FILE.read_text("utf-8")
    assert old in text
    with pytest.raises(FileProblems) as told:
        read(text.replace(old, new, 1).encode(), DEMO_FILE)
    assert sentence in str(told.value)


def test_a_run_has_its_middle_half_way_along() -> None:
    """A leg of 3 and one of 1: the centre of a wire of even weight lies at (3 1.5 + 1 3)/4, (3 0 + 1 0.5)/4."""
    run, middle = laid_run([(0.0, 0.0, 0.0), (3.0, 0.0, 0.0), (3.0, 1.0, 0.0)], 0.002)
    assert run.length == 4.0 and run.outside == 0.002
    assert_allclose(middle, (1.875, 0.125, 0.0))


def test_a_line_of_the_pitot_weighs_its_wall(whinchat: Family) -> None:
    model = whinchat.models["W1"]
    assert model.pitot is not None
    parts = {p.name: p for p in pitot_parts(model, lay_out(model).parts)}
    for line in model.pitot.lines:
        long = sum(math.dist(a, b) for a, b in pairwise(line.run.values()))
        wall = math.pi / 4 * (line.outside**2 - line.bore**2)
        mass = wall * long * material(line.material).density
        assert_allclose(parts[f"{line.name.replace('_', ' ')} line"].mass, mass, rtol=1e-9)


def test_the_sum_that_stays_on_shows_what_stays_on_alone(whinchat: Family) -> None:
    told = {r.id: r for r in electrics_results(whinchat.models["W1"])}
    e = whinchat.models["W1"].electrics
    assert e is not None
    here = {c.name for c in e.circuits if "cruise" in c.phases}
    steady = {c.name for c in e.circuits if "cruise" in c.phases and c.demand == "continuous"}
    shown = {w: {n for n, _, _ in told[f"electrics.load.cruise.{w}"].steps[0].given} for w in ("continuous", "peak")}
    assert shown == {"continuous": steady, "peak": here} and steady < here
