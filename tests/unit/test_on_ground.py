"""The aeroplane on the ground told: by hand for a small one, results, checks and what is not said."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from families import DEMO_FILE, PROBE, spoiled, told
from numpy.testing import assert_allclose

from sparwright.data.ground import rule, rules
from sparwright.family.ground import Springing
from sparwright.family.model import Body, Wheel
from sparwright.family.reader import read
from sparwright.family.wheels import reach_into
from sparwright.flight.near_ground import stand
from sparwright.ground.balance import lever, parked
from sparwright.ground.clearance import clouds
from sparwright.ground.pose import Feet, contact, level, lowest, normal, tail_down, under_weight, with_flat_tyre
from sparwright.ground.told import on_ground
from sparwright.ground.work import CORNERS
from sparwright.mass.weigh import extremes, weigh
from sparwright.parts.layout import lay_out
from sparwright.shape.lifting import cut

MODELS = ("W1", "W2", "W3")
DEMO = DEMO_FILE.read_text("utf-8")


def wheel(name: str, radius: float, place: tuple[float, float, float], width: float = 0.1) -> Wheel:
    return Wheel(name=name, diameter=2 * radius, width=width, mass=4.0, place=place)


RIGHT, LEFT = wheel("main", 0.2, (0.5, 0.8, -0.9)), wheel("main", 0.2, (0.5, -0.8, -0.9))
FEET = Feet(RIGHT, LEFT, wheel("tail", 0.1, (4.5, 0.0, -0.2)))


def test_levers_by_hand_level() -> None:
    """Centre of gravity 0.4 m behind the axle, 1.2 m above the ground; thrust line 1.1 m above it."""
    x = lever(level(FEET), FEET, 0.9, 0.1, 0.0)
    assert_allclose((x.behind, x.above, x.side, x.base, x.thrust), (0.4, 1.2, 0.8, 4.0, 1.1), rtol=1e-12, atol=0)
    assert_allclose(x.ahead, math.atan(1 / 3), rtol=1e-12)
    assert_allclose((x.braking, x.tail_share), (1 / 3, 0.1), rtol=1e-12)
    assert_allclose(x.beside, math.atan(0.8 / 1.2), rtol=1e-12)
    across = 0.8 * 3.6 / math.sqrt(4.0**2 + 0.8**2)
    assert_allclose(x.turn_over, math.atan(1.2 / across), rtol=1e-12)


def test_levers_by_hand_tail_down() -> None:
    """The same turned by hand: contacts r below the axles, all turned about the main axle by the attitude."""
    pose = tail_down(FEET)
    a = pose.attitude
    assert a == stand((RIGHT, FEET.tail)).attitude
    x = lever(pose, FEET, 0.9, 0.1, 0.0)
    c, s = math.cos(a), math.sin(a)
    assert_allclose(x.behind, 0.4 * c + 1.0 * s, rtol=1e-12)
    assert_allclose(x.above, 1.0 * c - 0.4 * s + 0.2, rtol=1e-12)
    assert_allclose(x.base, 4.0 * c + 0.7 * s, rtol=1e-12)
    assert_allclose(x.thrust, 0.9 + 0.2 * c, rtol=1e-12)


def test_a_tyre_rolls_out_onto_its_edge_when_tilted() -> None:
    """Ring of 0.15 m and section of 0.05 m: 0.15 cos b + 0.05 below its middle."""
    for b in (0.0, 0.2, 0.5):
        up = normal(0.0, b)
        middle = -0.9 * math.cos(b) - 0.8 * math.sin(b)
        assert_allclose(lowest(RIGHT, up), middle - 0.15 * math.cos(b) - 0.05, rtol=1e-12)
        assert_allclose(up @ contact(RIGHT, up), lowest(RIGHT, up), rtol=1e-12)


def test_a_tyre_in_a_round_body() -> None:
    """A body of 1 m wide and 0.8 m deep; a wheel of 0.3 m beneath it, its tyre 0.1 m wide."""
    body = [Body(station=x, width=1.0, top=0.4, bottom=-0.4) for x in (0.0, 4.0)]
    below = wheel("main", 0.15, (1.0, 0.05, -0.6))
    assert reach_into(below, 0.0, body) == 0.0
    assert_allclose(reach_into(below, 0.1, body), 0.05, rtol=1e-9)
    assert reach_into(wheel("main", 0.15, (1.0, 0.7, -0.3)), 0.0, body) == 0.0
    assert reach_into(wheel("tail", 0.15, (5.0, 0.0, -0.3)), 0.0, body) == 0.0


def test_a_flat_tyre_stands_on_its_rim_with_the_leg_at_its_stop() -> None:
    s = Springing(name="main", rim=0.19, tyre=0.03, leg=0.02, stop=0.11)
    flat, rest = with_flat_tyre(RIGHT, s), under_weight(RIGHT, s)
    up = normal(0.0, 0.0)
    assert_allclose(lowest(flat, up), -0.9 + 0.11 - 0.095, rtol=1e-12)
    assert_allclose(lowest(rest, up), -0.9 + 0.02 - 0.2 + 0.03, rtol=1e-12)


def test_an_aileron_hangs_down_by_its_travel(whinchat) -> None:
    """Lowest of its trailing edge below the chord line: (1 - hinge) c sin(down), turned by the wing's angle."""
    model = whinchat.models["W3"]
    wing = next(w for w in model.wings if w.name == "upper")
    a, up = wing.aileron, replace(wing, aileron=None)
    assert a is not None
    cut_off = replace(model, wings=tuple(up if w is wing else w for w in model.wings))
    with_it, without = clouds(model)["upper"], clouds(cut_off)["upper"]
    extra = with_it[:, without.shape[1] :]
    inner = cut(wing, model.sections, a.inboard)
    tail = inner.points[:, 0] if inner.points is not None else None
    assert tail is not None
    back, thick = tail[0] - a.hinge, tail[1]
    c, s = math.cos(a.down), math.sin(a.down)
    edge = inner.place((a.hinge + back * c + thick * s) * inner.chord, (thick * c - back * s) * inner.chord)
    assert min(np.linalg.norm(extra - np.array(edge)[:, None], axis=0)) < 1e-12
    assert edge[2] < inner.place(inner.chord, 0.0)[2] - 0.9 * back * s * inner.chord


def test_bands_go_from_weight_on_the_wheels_to_none(ran) -> None:
    """The least angle by hand: foremost end of the band, wheels hanging; the greatest: aftmost, under weight."""
    run = ran("W1")
    model, b = run.flight.flown.model, run.balance
    wheel_, s = (next(x for x in xs if x.name == "main") for xs in (model.wheels, model.ground.springing))
    x, _, z = wheel_.place
    hangs = z - wheel_.diameter / 2
    case = extremes(b)["heaviest"]
    at = [b.mean_chord_station + f * b.mean_chord for f in (case.fraction_low, case.fraction_high)]
    r = run.result("ground.angle.level.heaviest")
    assert_allclose(math.tan(r.low), (at[0] - x) / (case.waterline - hangs), rtol=1e-9)
    assert_allclose(math.tan(r.high), (at[1] - x) / (case.waterline - hangs - s.tyre - s.leg), rtol=1e-9)
    a, dx, dz = run.result("flight.ground.attitude").value, at[0] - x, case.waterline - z
    d, h = dx * math.cos(a) + dz * math.sin(a), dz * math.cos(a) - dx * math.sin(a) + wheel_.diameter / 2
    assert_allclose(math.tan(run.result("ground.angle.tail_down.heaviest").low), d / h, rtol=1e-9)
    p = run.result("ground.propeller.level")
    assert_allclose(p.high - p.value, s.tyre + s.leg, rtol=1e-9)


def test_full_power_against_the_weight_by_hand(ran) -> None:
    (step,) = ran("W2").result("ground.run_up.lightest").steps
    x = {name: value for name, value, _ in step.given}
    assert_allclose(step.value, x["m"] * x["g"] * x["d"] / (x["T"] * x["k"]), rtol=1e-12)


@pytest.mark.parametrize("name", MODELS)
def test_results_and_checks_of_the_demo(ran, name: str) -> None:
    run = ran(name)
    found = {r.id: r for r in run.results if r.id.startswith("ground.")}
    assert all(r.band.known for r in found.values()), [r.id for r in found.values() if not r.band.known]
    assert all(r.low <= r.value <= r.high for r in found.values())
    assert {f"ground.angle.{p}.{c}" for p in ("level", "tail_down") for c in CORNERS} <= set(found)
    for c in CORNERS:
        tip, brake = found[f"ground.angle.level.{c}"], found[f"ground.brake.{c}"]
        assert_allclose(math.tan(tip.value), brake.value, rtol=1e-12)
        assert found[f"ground.angle.tail_down.{c}"].value > tip.value
    for w in run.flight.flown.model.wings:
        heights = [found[f"ground.wing.{w.name}.{p}"].value for p in ("level", "tail_down", "banked")]
        assert heights[0] > heights[1] > heights[2]
    assert found["ground.propeller.flat"].value < found["ground.propeller.level"].value
    checks = {c.id: c for c in run.checks if c.id.startswith("ground.")}
    whats = ("propeller.level", "propeller.flat", "wing.flat", "tilt.level", "tilt.tail_down", "tyre", "attitude.least",
             "attitude.most", "three_point_stall", "angle_least", "angle_most", "braking", "side", "turn_over",
             "tail_load", "spring.main", "spring.tail", "castor",
                 "brakes.tail", "brakes.turn")  # fmt: skip
    assert set(checks) == {f"ground.{w}" for w in whats}
    for c in checks.values():
        assert set(c.parents) <= {r.id for r in run.results} and c.rule
        assert c.verdict == "pass", (c.id, c.value, c.limit)


def test_the_worst_corner_decides(ran) -> None:
    run = ran("W2")
    angles = {c: run.result(f"ground.angle.level.{c}") for c in CORNERS}
    most, least = (next(c for c in run.checks if c.id == f"ground.angle_{w}") for w in ("most", "least"))
    assert most.value == max(a.high for a in angles.values()) and least.value == min(a.low for a in angles.values())
    assert most.limit == rule("angle_most").value and most.case in CORNERS


def test_the_working_shows_how_the_propeller_clears(ran) -> None:
    result = ran("W3").result("ground.propeller.flat")
    (step,) = result.steps
    x = {name: value for name, value, _ in step.given}
    by_hand = x["x"] * x["nx"] + x["z"] * x["nz"] - x["R"] * math.hypot(x["ny"], x["nz"]) - x["ground g"]
    assert_allclose(step.value, by_hand, rtol=1e-12)
    assert x["bank"] > 0.04 and result.value == step.value


def test_what_the_file_does_not_say_is_unknown(ran, whinchat) -> None:
    run = ran("W2")
    flight = run.flight
    bare = replace(flight, flown=replace(flight.flown, model=replace(flight.flown.model, ground=None)))
    _, results, checks = on_ground(run.balance, bare)
    for r in results:
        if r.id != "ground.stall_spare":
            assert not r.band.known and "ground.springing.main.tyre" in r.caveat, r.id
    for c in checks:
        assert c.verdict == ("pass" if c.id == "ground.three_point_stall" else "unknown")
        assert c.verdict == "pass" or "ground.springing.main.tyre" in c.caveat
    only = replace(flight.flown.model.ground, bank=None)
    no_bank = replace(flight, flown=replace(flight.flown, model=replace(flight.flown.model, ground=only)))
    _, results, checks = on_ground(run.balance, no_bank)
    tilt = next(c for c in checks if c.id == "ground.tilt.level")
    assert tilt.verdict == "unknown" and "ground.bank" in tilt.caveat and math.isfinite(tilt.value)
    assert "ground.bank" in next(r for r in results if r.id == "ground.propeller.banked").caveat


def test_parked_fills_up_what_lies_ahead_and_leaves_the_rest(whinchat) -> None:
    model = whinchat.models["W2"]
    balance = weigh(model, lay_out(model))
    mass, station, _ = parked(model, balance, model.wheels[0].place[0])
    ahead = [x for x in model.loads if x.kind != "pilot" and x.place[0] < model.wheels[0].place[0]]
    assert {x.name for x in ahead} == {"fuel", "oil"}
    assert_allclose(mass, balance.empty.value + sum(x.most for x in ahead), rtol=1e-12)
    moment = balance.empty.value * balance.empty_station + sum(x.most * x.place[0] for x in ahead)
    assert_allclose(station, moment / mass, rtol=1e-9)


def test_every_rule_has_a_source_and_a_unit() -> None:
    assert len(rules()) > 8
    assert {r.unit for r in rules().values()} == {"m", "rad", "1"}
    assert rule("propeller_tail_wheel").value == 0.23
    assert_allclose(rule("turn_over").value, math.radians(63), rtol=1e-15)


GROUND = '[ground.springing]\nmain = { rim = "8 in", tyre = "1 in", leg = "1 in", stop = "4 in" }\n'
MAIN = 'place = ["20 in", "32 in", "-34 in"]'


HIGH = spoiled(MAIN, 'place = ["20 in", "32 in", "-20 in"]')
DEEP = spoiled(MAIN, 'place = ["20 in", "4 in", "-30 in"]').replace('"16 in"', '"36 in"')
AT = "ground.springing."


@pytest.mark.parametrize(
    ("text", "piece", "key", "says"),
    [
        (DEEP, '"4 in", "-30 in"', "wheels.main.place", "into the fuselage"),
        (HIGH, '"32 in", "-20 in"', "wheels.main.place", "above the propeller"),
        (PROBE + GROUND.replace("main", "mian"), "mian = ", f"{AT}mian", "'main'"),
        (PROBE + GROUND.replace('"8 in"', '"16 in"'), "main = { rim", f"{AT}main.rim", "less than the tyre"),
        (PROBE + GROUND.replace('tyre = "1 in"', 'tyre = "5 in"'), "main = { rim", f"{AT}main.tyre", "past its rim"),
        (PROBE + GROUND.replace('leg = "1 in"', 'leg = "5 in"'), "main = { rim", f"{AT}main.leg", "above stop"),
        (PROBE + '[ground]\nbank = "50 deg"\n', "bank = ", "ground.bank", "less than 30 deg"),
    ],
    ids=["floor", "propeller", "wheel", "rim", "tyre", "leg", "bank"],
)
def test_bad_files(text: str, piece: str, key: str, says: str) -> None:
    told(text, piece, key, says)


def test_a_tyre_through_the_floor_at_its_stop() -> None:
    """Clear as drawn, into the body when the leg gives way."""
    near = spoiled(MAIN, 'place = ["20 in", "4 in", "-26-1/2 in"]')
    assert read(near.encode(), "f.toml").models["P1"].wheels[0].place[1] < 0.11
    told(near + GROUND, '"4 in", "-26-1/2 in"', "wheels.main.place", "at its stop")


def test_good_springing_is_read() -> None:
    model = read((PROBE + GROUND).encode(), "f.toml").models["P1"]
    assert model.ground is not None and model.ground.bank is None
    (main,) = model.ground.springing
    assert_allclose((main.rim, main.stop), (8 * 0.0254, 4 * 0.0254), rtol=1e-12)


def test_a_model_may_stand_on_other_wheels() -> None:
    family = read(DEMO.encode(), "f.toml")
    places = {n: next(w for w in m.wheels if w.name == "main").place[0] for n, m in family.models.items()}
    assert len(set(places.values())) == 3
