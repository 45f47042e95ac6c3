"""Tied down, jacked, hoisted, pushed: each case is laid out, its sums are even, what is missing says so."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from aloft import MODELS, Made, case, made
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.family.model import Model
from sparwright.family.parked import HeldPoint, Parked, Rope
from sparwright.loads.besides import ALONG, FORCE, FROM, REVERSED
from sparwright.loads.case import LoadCase
from sparwright.loads.ground_forces import standing
from sparwright.loads.ground_wind import across, from_side, reversed_half, tail_backwards, thin_things
from sparwright.loads.laid_out import LaidOut
from sparwright.loads.lay import laid_out
from sparwright.loads.parked import points
from sparwright.loads.places import stepped_on
from sparwright.loads.ready import Ready
from sparwright.loads.tied import blown, strung
from sparwright.loads.together import on_those, resultant

SIDES = {"nose": 0.0, "right": math.pi / 2, "left": -math.pi / 2, "tail": math.pi}
WIND = 20.0  # m/s


def tied(of: Made, where: str, speed: float = WIND) -> LoadCase:
    steps = (Step(FROM, "", (), SIDES[where], "rad"), Step(REVERSED, "", (), -0.8, "1"))
    return replace(case(of, f"ground.tied.{where}", "ground", 1.0, speed), steps=steps)


def jacked(of: Made, way: str) -> LoadCase:
    found = case(of, f"ground.jacked.{way}", "ground", 1.35, 0.0)
    return replace(found, steps=(Step(ALONG, "", (), 0.33, "1"),))


def parked(of: Made, **changed: object) -> Ready:
    """The same aeroplane with something else in its table."""
    ready, model = of[0], of[0].model
    table = replace(model.parked or Parked(), **changed)  # type: ignore[arg-type]
    return replace(ready, plane=replace(ready.plane, model=replace(model, parked=table)))


def known(found: LaidOut) -> LaidOut:
    assert not found.outside and np.isfinite(found.pushes.force).all(), found.outside
    return found


@pytest.mark.parametrize("where", SIDES)
@pytest.mark.parametrize("name", MODELS)
def test_tied_down_stands_still_on_ropes_that_pull_and_wheels_that_push(name: str, where: str) -> None:
    of = made(name)
    c = tied(of, where)
    found = known(laid_out(c, of[0]))
    on, model = standing(of[0].model, c, True), of[0].model
    force, moment = resultant(found.pushes, (c.station, 0.0, c.waterline))
    weight = c.mass * GRAVITY
    assert_allclose(force, weight * on.up, atol=1e-6 * weight)
    assert_allclose(moment, 0, atol=1e-5 * weight)
    air = len(blown(of[0], c, on).pushes.on)
    assert model.parked is not None
    ways = [x for rope in model.parked.ropes for x in strung(model, rope, on)]
    pulls = found.pushes.force[air : air + len(ways)]
    for (_, way), pull in zip(ways, pulls, strict=True):
        assert_allclose(pull, way * max(float(pull @ way), 0.0), atol=1e-9 * weight)
    wheels = found.pushes.force[air + len(ways) :]
    assert len(wheels) == 3 and (wheels @ on.up >= 0).all()
    assert_allclose(wheels - np.outer(wheels @ on.up, on.up), 0, atol=1e-9 * weight)
    assert any(n.startswith("ropes pull: ") for n in found.notes)


def test_a_wind_that_blows_nothing_leaves_the_weight_on_the_wheels() -> None:
    of = made("W2")
    c = tied(of, "nose", 0.01)
    found = laid_out(c, of[0])
    assert_allclose(on_those(found.pushes, "node", "spar").force[-4:], 0, atol=1.0)
    on = standing(of[0].model, c, True)
    tail = on_those(found.pushes, f"wheel:{on.feet.tail.name}").force[-1]
    assert_allclose(tail @ on.up, c.mass * GRAVITY * on.to_tail, rtol=1e-3)


def test_wind_on_the_nose_lifts_more_near_the_ground_than_aloft() -> None:
    of = made("W2")
    c = tied(of, "nose")
    on = standing(of[0].model, c, True)
    low = float(on_those(blown(of[0], c, on).pushes, "wing").force.sum(0) @ on.up)
    up = replace(on, pose=replace(on.pose, ground=-500.0))
    high = float(on_those(blown(of[0], c, up).pushes, "wing").force.sum(0) @ on.up)
    assert 1.02 * high < low < 1.4 * high
    spans = laid_out(c, of[0]).spans
    assert {s.surface for s in spans} == {*(w.name for w in of[0].model.wings), "tailplane"}


def test_wind_from_behind_is_the_rule_s_coefficient_square_to_the_chord() -> None:
    of = made("W1")
    c = tied(of, "tail")
    q = 1.225 * WIND**2 / 2
    for cut in of[0].upper.cut.values():
        half = reversed_half(cut, -0.8)
        assert_allclose(half.normal.sum(), -0.8 * cut.area.sum(), rtol=1e-12)
        assert_allclose(half.chordwise, 0, atol=1e-9)
        x = np.linspace(0, 1, 2001)  # by quadrature: 2 x on the chord
        load, c_hinge = -0.8 * 2 * x, cut.hinge
        assert_allclose(half.torsion, -np.trapezoid(load * (x - 0.25), x) * cut.area * cut.chord, rtol=1e-4)  # dihedral
        if c_hinge < 1:
            aft = x[x >= c_hinge]
            part = np.trapezoid(-1.6 * aft, aft)
            at = cut.hinged > 0
            assert_allclose(half.behind[at], (part * cut.area)[at], rtol=2e-3)
            turn = np.trapezoid(1.6 * aft * (aft - c_hinge), aft)
            assert_allclose(half.hinge[at], (turn * cut.square)[at], rtol=5e-3)
    wings = on_those(laid_out(c, of[0]).pushes, "wing", "aileron").force.sum(0)
    area = sum(2 * float((k.area * ~k.inside).sum()) for n, k in of[0].upper.cut.items() if n != "tailplane")
    assert_allclose(np.linalg.norm(wings), 0.8 * q * area, rtol=0.01)  # a little dihedral and twist
    assert wings[2] < 0
    pushed = on_those(blown(of[0], c, standing(of[0].model, c, True)).pushes, "body", "fin").force.sum(0)
    assert pushed[0] < 0  # ahead


def test_the_tailplane_from_behind_lifts_by_its_angle() -> None:
    """Chord 0.1 rad to the ground, aspect ratio 4: 2 pi 4/6 0.1 downwards; a steep one no more than the wings."""
    model = made("W1")[0].model
    t = replace(model.tailplane, span=4.0, root_chord=1.0, tip_chord=1.0, incidence=-0.1)
    m = replace(model, tailplane=t)
    assert_allclose(tail_backwards(m, 0.2, -0.8), -2 * math.pi * 4 / 6 * 0.1)
    assert_allclose(tail_backwards(m, 0.05, -0.8), 2 * math.pi * 4 / 6 * 0.05)
    assert tail_backwards(m, 0.6, -0.8) == -0.8 and tail_backwards(m, -0.6, -0.8) == 0.8


def test_wind_from_the_side_is_drag_on_what_it_sees() -> None:
    of = made("W2")
    model, c = of[0].model, tied(of, "right")
    air = from_side(of[0], c, left=False).pushes
    q = 1.2 * 1.225 * WIND**2 / 2
    f = model.fin
    area = f.span * (f.root_chord + f.tip_chord) / 2
    assert_allclose(on_those(air, "fin").force[0], [0, -q * area, 0], rtol=1e-12)  # then its wires
    discs = sum(math.pi * w.diameter**2 / 4 * (2 if w.place[1] else 1) for w in model.wheels)
    assert_allclose(on_those(air, "wheel").force.sum(0), [0, -q * discs, 0], rtol=1e-12)
    body = on_those(air, "body").force.sum(0)
    assert -q * 6.0 < body[1] < -q * 1.5 and body[0] == 0  # some 5 m long, half a metre to one high
    square = sum(w * math.hypot(b[1][0] - a[1][0], b[1][2] - a[1][2]) for w, a, b in thin_things(model))
    braces = on_those(air, "node", "spar", "tailplane").force.sum(0)
    assert -q * square < braces[1] < -0.2 * q * square


def test_what_a_thin_thing_drags_by_its_lean() -> None:
    """Square to the wind C q d l; along it nothing; at 45 degrees half the square across, cut to its plane."""
    wind = np.array([0.0, -10.0, 0.0])
    for end, to in (((0, 0, 2), [0, -20, 0]), ((0, 2, 0), [0, 0, 0]),
                    ((0, math.sqrt(2), math.sqrt(2)), [0, -20 / 2**1.5, 20 / 2**1.5])):  # fmt: skip
        pushes = across(("a", (0.0, 0.0, 0.0)), ("b", tuple(map(float, end))), wind)  # type: ignore[arg-type]
        assert_allclose(sum(p.force[0] for p in pushes), to, atol=1e-9)


def test_wind_from_another_side_is_unknown() -> None:
    of = made("W2")
    c = replace(tied(of, "nose"), steps=(Step(FROM, "", (), 0.5, "rad"),))
    assert "from either side only" in laid_out(c, of[0]).outside
    c = replace(tied(of, "tail"), steps=(Step(FROM, "", (), math.pi, "rad"),))
    assert "no lift coefficient for wind from behind" in laid_out(c, of[0]).outside


def test_two_ropes_from_the_middle_and_a_peg_where_it_is_said() -> None:
    of = made("W1")
    on = standing(of[0].model, tied(of, "nose"), True)
    rope = Rope(node="S3", ahead=-0.4, outwards=0.3)
    right, left = strung(of[0].model, rope, on)
    assert right[0] == left[0] and right[1][1] == -left[1][1] > 0
    at = np.array(right[0][1])
    height = float(on.up @ at) - on.pose.ground
    peg = at + right[1] * math.sqrt(height**2 + 0.4**2 + 0.3**2)
    assert_allclose(on.up @ peg, on.pose.ground, atol=1e-12)
    assert_allclose(on.aft @ (peg - at), 0.4)
    assert len(list(strung(of[0].model, replace(rope, outwards=0.0), on))) == 1
    under = Rope(place=(1.0, 0.0, -5.0))
    with pytest.raises(ValueError, match="is not above the ground"):
        list(strung(of[0].model, under, on))


def test_ropes_that_cannot_hold_say_what_is_left() -> None:
    of = made("W1")
    ready = parked(of, ropes=(Rope(node="S3", ahead=-1.0, outwards=0.5),))
    said = laid_out(tied(of, "nose", 33.0), ready).outside
    assert said.startswith("ropes and wheels cannot hold it: at best") and "N m about their middle are left" in said


@pytest.mark.parametrize("key, changed", [("ground.tied.nose", "ropes"), ("ground.jacked.aft", "jacks"),
                                          ("handling.hoisted", "slings")])  # fmt: skip
def test_what_the_file_does_not_say(key: str, changed: str) -> None:
    of = made("W1")
    c = replace(case(of, key, "ground" if "ground" in key else "handling", 2.0, WIND), steps=tied(of, "nose").steps)
    found = laid_out(c, parked(of, **{changed: ()}))
    assert f"(parked.{changed})" in found.outside and np.isnan(found.pushes.force).all()
    bare = replace(of[0], plane=replace(of[0].plane, model=replace(of[0].model, parked=None)))
    assert f"(parked.{changed})" in laid_out(c, bare).outside


@pytest.mark.parametrize("name", MODELS)
def test_jacks_bear_the_rule_s_factors_of_what_they_bear_at_rest(name: str) -> None:
    of = made(name)
    c = jacked(of, "aft")
    on = standing(of[0].model, c, True)
    weight = c.mass * GRAVITY
    for way, along in (("aft", on.aft), ("ahead", -on.aft), ("right", np.array([0, 1.0, 0])),
                       ("left", np.array([0, -1.0, 0]))):  # fmt: skip
        p = known(laid_out(jacked(of, way), of[0])).pushes
        assert_allclose(p.force.sum(0), weight * (1.35 * on.up + 0.33 * along), rtol=1e-9, atol=1e-6)
        up = p.force @ on.up
        assert (up > 0).all()
        assert_allclose(p.force @ along, up / 1.35 * 0.33, rtol=1e-9)
        still = np.outer(up / 1.35, on.up)
        about = np.cross(p.place - (c.station, 0.0, c.waterline), still).sum(0)
        assert_allclose(about, 0, atol=1e-6 * weight)


def test_jacks_level_and_jacks_that_do_not_hold() -> None:
    of = made("W1")
    p = known(laid_out(jacked(of, "ahead"), parked(of, jacked="level"))).pushes
    assert_allclose(p.force.sum(0), of[1].mass * GRAVITY * np.array([-0.33, 0, 1.35]), rtol=1e-9)
    said = laid_out(jacked(of, "ahead"), parked(of, jacks=(HeldPoint(node="AW"),))).outside
    assert said.startswith("the jacks cannot hold it")
    assert "has none of ahead" in laid_out(jacked(of, "up"), of[0]).outside


def hung(of: Made, factor: float = 2.0) -> LoadCase:
    return case(of, "handling.hoisted", "handling", factor, 0.0)


@pytest.mark.parametrize("name", MODELS)
def test_slings_bear_the_designer_s_factor(name: str) -> None:
    of = made(name)
    c = hung(of)
    p = known(laid_out(c, of[0])).pushes
    force, moment = resultant(p, (c.station, 0.0, c.waterline))
    weight = c.mass * GRAVITY
    assert_allclose(force, [0, 0, 2 * weight], atol=1e-6 * weight)
    assert_allclose(moment, 0, atol=1e-6 * weight)
    assert (p.force[:, 2] >= 0).all() and len(p.on) == 4


def test_a_hook_draws_the_slings_together() -> None:
    of = made("W1")
    c = hung(of)
    hook = (c.station + 0.05, 0.0, 2.0)
    p = known(laid_out(c, parked(of, hook=hook))).pushes
    force, moment = resultant(p, (c.station, 0.0, c.waterline))
    weight = c.mass * GRAVITY
    assert_allclose(np.linalg.norm(force), 2 * weight, rtol=1e-9)
    assert_allclose(moment, 0, atol=1e-6 * weight)
    assert force[0] > 0  # it hangs with its nose a little up: the hook is behind its centre of gravity
    for at, pull in zip(p.place, p.force, strict=True):
        assert_allclose(np.cross(np.array(hook) - at, pull), 0, atol=1e-6 * weight)
    assert "does not lie above" in laid_out(c, parked(of, hook=(c.station, 0.0, 0.5))).outside
    assert "no load factor" in laid_out(replace(c, factor=math.nan), of[0]).outside


def test_points_of_every_kind() -> None:
    model = made("W1")[0].model
    assert [n for n, _ in points(model, HeldPoint(node="B2"))] == ["node:B2R", "node:B2L"]
    assert [n for n, _ in points(model, HeldPoint(node="B2L"))] == ["node:B2L"]
    assert [n for n, _ in points(model, HeldPoint(node="S3"))] == ["node:S3"]
    wing = HeldPoint(wing="wing", spar="front", buttline=1.0)
    assert [n for n, _ in points(model, wing)] == ["spar:wing:front:R", "spar:wing:front:L"]
    assert [n for n, _ in points(model, replace(wing, buttline=0.0))] == ["spar:wing:front:R"]
    assert [at for _, at in points(model, HeldPoint(place=(1.0, 0.2, 0.3)))] == [(1.0, 0.2, 0.3), (1.0, -0.2, 0.3)]


def by_hand(of: Made, what: str, model: Model | None = None) -> LaidOut:
    c = replace(case(of, f"handling.{what}", "handling", 1.0, 0.0), steps=(Step(FORCE, "", (), 200.0, "N"),))
    ready = of[0] if model is None else replace(of[0], plane=replace(of[0].plane, model=model))
    return laid_out(c, ready)


def test_a_hand_that_pushes_by_a_strut() -> None:
    of = made("W1")
    p = known(by_hand(of, "strut")).pushes
    assert_allclose(p.force, [[-100, 0, 0], [-100, 0, 0]])
    assert p.on == ("node:C2R", "spar:wing:front:R")  # the lift strut's ends
    assert "has no strut" in by_hand(of, "strut", replace(of[0].model, struts=())).outside


def test_a_foot_is_put_on_the_lowest_wing_only_where_it_begins_at_the_side() -> None:
    assert stepped_on(made("W1")[0].model) is None
    low = stepped_on(made("W2")[0].model)
    assert low is not None and low.name == "lower"
    assert known(by_hand(made("W2"), "foot")).pushes.force[0][2] == -200.0
