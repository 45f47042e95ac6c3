"""Forces laid out: edges, errors, and what each kind of case comes to."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from aloft import case, family, made
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Step
from sparwright.controls.chain import moving
from sparwright.data.pushes import torque_factor
from sparwright.family.model import StrutEnd
from sparwright.ground.pose import contact
from sparwright.loads.air_forces import others
from sparwright.loads.case import LoadCase
from sparwright.loads.engine import PITCH, YAW
from sparwright.loads.engine_forces import gyroscopic, least_side, limit_torque, side_load
from sparwright.loads.fin_forces import given_load
from sparwright.loads.ground_forces import landed, standing
from sparwright.loads.hand_forces import hand_force, held_by_surface
from sparwright.loads.laid_told import laid_results
from sparwright.loads.lay import laid_out
from sparwright.loads.places import drag_places
from sparwright.loads.point_forces import at_node, at_spar, heaviest, pilot_thrown
from sparwright.loads.ready import balanced
from sparwright.loads.together import joined, mirrored, nothing, on_those, push, pushes, resultant, scaled

NAMES = ("wing", "tailplane", "elevator", "horn", "aileron", "fin", "rudder", "body", "mount", "wheel", "seat",
         "harness", "stick", "pedals", "node", "spar")  # fmt: skip


def test_rows_must_match() -> None:
    with pytest.raises(ValueError, match="2 names for 1, 1, 1"):
        pushes(np.zeros((1, 3)), np.zeros((1, 3)), np.zeros((1, 3)), ("a", "b"))
    assert nothing().on == () and joined([]).on == ()


def test_a_couple_stays_a_couple_and_a_force_makes_a_moment() -> None:
    p = joined([push("body", (1, 2, 3), moment=(1, 0, 0)), push("body", (0, 0, 2), (3.0, 0, 0))])
    assert_allclose(np.concatenate(resultant(p)), [3, 0, 0, 1, 6, 0])
    assert_allclose(np.concatenate(resultant(scaled(p, 2))), [6, 0, 0, 2, 12, 0])


def test_the_mirror_exchanges_sides_but_not_a_node_in_the_middle() -> None:
    p = joined([push("wheel:main:R", (1, 2, 3), (4, 5, 6), (7, 8, 9)), push("node:TL", (1, 0, 3))])
    m = mirrored(p)
    assert m.on == ("wheel:main:L", "node:TL")
    assert_allclose(m.place[0], [1, -2, 3])
    assert_allclose(m.force[0], [4, -5, 6])
    assert_allclose(m.moment[0], [-7, 8, -9])


def test_every_force_is_taken_by_something_of_the_vocabulary() -> None:
    of = made("W2")
    kinds = (("A", "manoeuvre"), ("y", "yaw"), ("ground.level", "landing"), ("crash.forward", "crash"))
    for key, kind in kinds:
        found = laid_out(case(of, key, kind, 2.67, 40.0, {"rudder": 0.2}), of[0])  # type: ignore[arg-type]
        assert found.pushes.on and all(name.startswith(NAMES) for name in found.pushes.on)
        assert not found.outside


def test_drag_of_struts_is_taken_at_their_ends() -> None:
    of = made("W1")
    p, missing = others(of[0], case(of, "A", "manoeuvre"), 0.0)
    assert missing == ()
    items = of[0].parasite(40.0)
    assert_allclose(p.force[:, 0].sum(), 1.225 * 800 * sum(i.area.value for i in items), rtol=1e-9)
    lift = next(s for s in of[0].model.struts if s.name == "lift_front") if any(
        s.name == "lift_front" for s in of[0].model.struts) else of[0].model.struts[0]  # fmt: skip
    end = next(e for e in lift.ends if e.wing)
    assert any(n == f"spar:{end.wing}:{end.spar}:R" for n in p.on)
    assert_allclose(resultant(on_those(p, "spar"))[0][1:], 0, atol=1e-9)


@pytest.mark.parametrize("kind, vertical, drag, side", [
    ("level", 2.67 - 2 / 3, 0.25 * 2.67, 0.0), ("spring_back", 2.67 - 2 / 3, -0.25 * 2.67, 0.0),
    ("tail_down", 2.67 - 2 / 3, 0.0, 0.0), ("one_wheel", (2.67 - 2 / 3) / 2, 0.125 * 2.67, 0.0),
    ("side", 1.33, 0.0, 0.83), ("braked", 1.33, 0.8 * 1.33, 0.0)])  # fmt: skip
def test_wheels_come_to_the_table(kind: str, vertical: float, drag: float, side: float) -> None:
    """The table of basic landing conditions of cs-vla appendix C, in weights; 1e-6: two thirds has six digits."""
    of = made("W2")
    c = case(of, kind, "landing", 2.67, 0.0)
    on = standing(of[0].model, c, kind == "tail_down")
    force = resultant(on_those(landed(of[0], c, kind).pushes, "wheel"))[0] / (c.mass * GRAVITY)
    assert_allclose([force @ on.up, force @ on.aft, force[1]], [vertical, drag, side], rtol=0, atol=2e-6)
    lift = resultant(on_those(landed(of[0], c, kind).pushes, "wing", "aileron", "body"))[0] / (c.mass * GRAVITY)
    flies = kind not in ("side", "braked")
    assert_allclose(lift @ on.up, 2 / 3 if flies else 0.0, atol=1e-6)


def test_three_wheels_carry_without_a_moment() -> None:
    of = made("W2")
    c = case(of, "tail_down", "landing", 2.67, 0.0)
    on = standing(of[0].model, c, True)
    p = on_those(landed(of[0], c, "tail_down").pushes, "wheel")
    assert len(p.on) == 3
    assert_allclose(
        resultant(p, (c.station, 0, c.waterline))[1], 0, atol=0.01 * c.mass * GRAVITY
    )  # axles: tyres' radii
    tail = landed(of[0], c, "tail_side").pushes
    load = on.to_tail * c.mass * GRAVITY
    assert_allclose(tail.force[0], load * (on.up + [0, 1, 0]))
    assert_allclose(tail.place[0], contact(on.feet.tail, on.up))


def test_the_tail_wheel_meets_an_obstacle_at_half_a_right_angle() -> None:
    of = made("W2")
    c = case(of, "tail_obstacle", "landing", 2.67, 0.0)
    on = standing(of[0].model, c, True)
    tail = on_those(landed(of[0], c, "tail_obstacle").pushes, "wheel").force[0]
    assert_allclose(tail @ on.up, tail @ on.aft)
    assert_allclose(np.linalg.norm(tail), (2.67 - 2 / 3) * on.to_tail * c.mass * GRAVITY, rtol=1e-6)


def test_torque_of_an_engine() -> None:
    of = made("W1")
    engine = of[0].model.engine
    mean = max(p.power / (2 * math.pi * p.speed) for p in engine.curve) * engine.gear
    assert_allclose(limit_torque(engine), 3.0 * mean)  # two strokes, two cylinders
    assert math.isnan(limit_torque(replace(engine, curve=()))) and math.isnan(torque_factor(3, 2))
    assert torque_factor(4, 6) == 1.33 and torque_factor(2, 4) == 2.0
    c = case(of, "engine.torque", "engine", 2.85)
    plain = laid_out(replace(c, kind="manoeuvre"), of[0])
    for key, sign in (("engine.torque", 1.0), ("engine.torque.left_hand", -1.0)):
        found = laid_out(replace(c, key=key), of[0], thrust=700.0)
        force, moment = (a - b for a, b in zip(resultant(found.pushes), resultant(plain.pushes), strict=True))
        assert_allclose(force, [-700, 0, 0], atol=1e-6)
        assert_allclose(moment[0], sign * limit_torque(engine), rtol=1e-9)
        assert "power off" in plain.notes and "power off" not in found.notes


def test_side_load_of_the_mount_and_the_gyroscope() -> None:
    ready = made("W1")[0]
    weight = (ready.model.engine.mass + ready.model.propeller.mass) * GRAVITY
    assert_allclose(side_load(ready, least_side(3.8)).force.sum(0), [0, 1.33 * weight, 0])
    assert_allclose(side_load(ready, least_side(6.0)).force.sum(0), [0, 2.0 * weight, 0])
    # turning to the right, nose pulled up: the nose goes to the right, moment about -z
    assert_allclose(gyroscopic(ready, 0.5, 200.0, 1.0, 0.0).moment[0], [0, 0, -100.0], atol=1e-9)
    assert_allclose(gyroscopic(ready, 0.5, 200.0, 0.0, 1.0).moment[0], [0, -100.0, 0], atol=1e-9)  # right: nose down
    assert_allclose(gyroscopic(ready, 0.5, 200.0, 0.0, 1.0, False).moment[0], [0, 100.0, 0], atol=1e-9)


def test_hand_and_seat_are_even_and_the_surface_holds_by_its_gearing() -> None:
    of = made("W2")
    model = of[0].model
    assert model.controls is not None
    motions = moving(model, model.controls)[1]
    for control in ("elevator", "aileron", "rudder"):
        hand = hand_force(model, control, 100.0)
        assert_allclose(hand.force.sum(0), 0)
        assert_allclose(np.linalg.norm(hand.force[0]), 100.0)
    held = held_by_surface(of[0].upper.cut, "elevator", 100.0, motions, "tailplane")
    elevator = next(m for m in motions if m.name == "elevator")
    gear = abs(elevator.gearing[elevator.neutral])
    assert held.on == ("horn:elevator", "horn:elevator")
    assert_allclose(held.moment.sum(0), [0, 100.0 / gear, 0], rtol=1e-5, atol=1e-9)  # its hinge line slants by 1e-3
    held = held_by_surface(of[0].upper.cut, "aileron", 100.0, motions, "tailplane")
    assert len(held.on) == 4
    assert_allclose(held.moment.sum(0)[1], 0, atol=1e-9)
    assert all(held.moment[i][1] > 0 for i, n in enumerate(held.on) if n.endswith(":R"))
    with pytest.raises(ValueError, match="no control moves the elevator"):
        held_by_surface(of[0].upper.cut, "elevator", 100.0, (), "tailplane")
    foot = laid_out(case(of, "control.rudder", "control"), of[0], motions=motions).pushes
    rudder = on_those(foot, "horn:rudder")
    moved = next(m for m in motions if m.name == "rudder")
    gear = abs(moved.gearing[moved.neutral])
    size = float(np.linalg.norm(on_those(foot, "pedals").force[0]))
    assert_allclose(np.linalg.norm(rudder.moment[0]), size / gear)
    assert rudder.moment[0][2] < 0  # held to the left
    with pytest.raises(ValueError, match="does not say where stick and pedals are"):
        hand_force(replace(model, seat=None), "elevator")


def test_the_pilot_thrown_on_straps_and_seat() -> None:
    model = family().models["W2"]
    assert model.seat is not None and model.seat.harness is not None
    most = heaviest(model)
    p = pilot_thrown(model, "forward", 9.0)
    assert p.on == ("harness:R", "harness:L") * 2
    assert_allclose(p.force.sum(0), [-9 * GRAVITY * most, 0, 0])
    assert_allclose(resultant(p)[1][[0, 2]], 0, atol=1e-9)
    lap = np.isclose(p.place[:, 2], model.seat.harness.lap[2])
    assert_allclose(p.force[lap, 0].sum(), 0.6 * p.force[:, 0].sum())
    assert pilot_thrown(model, "side", 1.5).on == ("seat",)
    bare = replace(model, seat=replace(model.seat, harness=replace(model.seat.harness, shoulder=None)))
    assert len(pilot_thrown(bare, "forward", 9.0).on) == 2
    with pytest.raises(ValueError, match="straps"):
        pilot_thrown(replace(model, seat=replace(model.seat, harness=None)), "forward", 9.0)
    with pytest.raises(ValueError, match="has no pilot"):
        heaviest(replace(model, loads=()))


def test_points_by_name() -> None:
    model = family().models["W1"]
    name, place = next((n, p) for n, p in model.fuselage.nodes.items() if p[1] > 0)
    left = at_node(model, f"{name}L", (0, 0, 5.0))
    assert left.on == (f"node:{name}L",)
    assert_allclose(left.place[0], [place[0], -place[1], place[2]])
    wing = model.wings[0]
    x = at_spar(model, wing.name, wing.spars[0].name, 1.0, (0, 0, -900.0), left=True)
    assert x.on == (f"spar:{wing.name}:{wing.spars[0].name}:L",) and x.place[0][1] == -1.0
    with pytest.raises(KeyError):
        at_node(model, "none", (0, 0, 1.0))
    with pytest.raises(KeyError):
        at_spar(model, wing.name, "none", 1.0, (0, 0, 1.0))


def test_a_given_fin_load_is_all_of_it() -> None:
    of = made("W3")
    c = case(of, "y", "yaw")
    at = balanced(of[0], c.lift, (c.station, c.waterline))
    for by in ("sideslip", "rudder"):
        p = given_load(of[0], at, c, 500.0, by)
        assert_allclose(resultant(p)[0], [0, 500.0, 0], atol=1e-9)
        assert set(p.on) == {"fin", "rudder"}


@pytest.mark.parametrize("key, kind, said", [
    ("landing", "landing", "has none of level"), ("x", "crash", "has none of forward"),
    ("walkway", "handling", "does not say where it is held"), ("control", "control", "has none of elevator"),
    ("roll", "roll", "aileron")])  # fmt: skip
def test_what_cannot_be_laid_out_says_why(key: str, kind: str, said: str) -> None:
    of = made("W2")
    found = laid_out(case(of, key, kind), of[0])  # type: ignore[arg-type]
    assert said in found.outside and np.isnan(found.pushes.force).all()


def test_a_torsion_about_another_line() -> None:
    """About a line further aft the same load turns the nose up by its arm."""
    of = made("W2")
    span = laid_out(case(of, "A", "manoeuvre", 3.8), of[0]).spans[0]
    assert_allclose(span.about(0.25), span.torsion)
    assert_allclose(span.about(0.65) - span.torsion, 0.4 * span.chord * span.normal)
    assert_allclose(span.summed(span.normal)[-1], span.normal[-1] * span.width[-1] / 2)


def test_results_of_a_case() -> None:
    """Each half once where both are alike; what they add up to is what is laid on the aeroplane."""
    of = made("W2")
    plain, rolled = (laid_out(case(of, k, kind, 2.0, 40.0, {"aileron": 0.2}), of[0])  # type: ignore[arg-type]
                     for k, kind in (("A", "manoeuvre"), ("r", "roll")))  # fmt: skip
    found = {r.id: r for r in laid_results([plain, rolled])}
    assert "loads.A.normal.upper.R" in found and "loads.A.normal.upper.L" not in found
    assert found["loads.r.normal.upper.L"].value > found["loads.r.normal.upper.R"].value
    assert found["loads.r.hinge.upper.R"].value > found["loads.r.hinge.upper.L"].value  # up: the air turns it down
    assert "loads.A.hinge.tailplane.R" in found
    span = next(s for s in plain.spans if s.surface == "lower" and s.side == "R")
    assert_allclose(found["loads.A.torsion.lower.R"].value, span.torsion @ span.width)
    doubted = replace(plain, outside="why")
    assert all(r.outside_range == "why" for r in laid_results([doubted]))


def with_steps(c: LoadCase, **values: float) -> LoadCase:
    return replace(c, steps=tuple(Step(k.replace("_", " "), "", (), v, "") for k, v in values.items()))


def test_numbers_of_the_case_stand_before_the_rules() -> None:
    of = made("W2")
    c = with_steps(case(of, "landing.level", "landing", 2.67, 0.0), load_of_both_main_wheels=5000.0)
    p = laid_out(c, of[0]).pushes
    on = standing(of[0].model, c, False)
    assert_allclose(on_those(p, "wheel").force.sum(0) @ on.up, 5000.0)
    c = with_steps(case(of, "engine.side", "engine"), load_factor_to_the_side_on_the_engine=2.0)
    weight = (of[0].model.engine.mass + of[0].model.propeller.mass) * GRAVITY
    assert_allclose(laid_out(c, of[0]).pushes.force.sum(0), [0, 2 * weight, 0])
    c = with_steps(case(of, "engine.takeoff", "engine", 2.85), torque_on_the_mount=300.0, thrust=800.0)
    mount = on_those(laid_out(c, of[0]).pushes, "mount")
    assert_allclose(np.concatenate([mount.force.sum(0), mount.moment.sum(0)]), [-800, 0, 0, 300, 0, 0])
    assert "thrust is not known" in laid_out(with_steps(c, thrust=math.nan), of[0]).outside
    c = with_steps(case(of, "crash.side.left", "crash"), load_factor_to_the_side=1.5)
    assert_allclose(laid_out(c, of[0]).pushes.force.sum(0)[1], -1.5 * GRAVITY * heaviest(of[0].model))
    c = with_steps(case(of, "control.elevator.push", "control"), force_on_the_stick=-200.0)
    hand = laid_out(c, of[0]).pushes
    assert_allclose(on_those(hand, "stick").force[0], [-200, 0, 0])
    assert hand.on == ("stick", "seat")


def test_wheels_pushed_to_either_side() -> None:
    of = made("W2")
    right, left = (landed(of[0], case(of, "side", "landing", 1.33, 0.0), "side", k).pushes for k in (1.0, -1.0))
    assert_allclose(mirrored(left).force[::-1], right.force)
    assert right.force[0][1] < right.force[1][1]  # the left wheel is pushed inward, harder
    aside = laid_out(case(of, "ground.tail_wheel.left", "ground", 1.0, 0.0), of[0]).pushes
    assert aside.force[0][1] < 0


def test_wind_on_the_ground_turns_surfaces() -> None:
    of = made("W2")
    wing = next(w.name for w in of[0].model.wings if w.aileron)
    for key, total, first in (("elevator.up", -90.0, -45.0), (f"aileron.{wing}.middle", -180.0, -90.0),
                              (f"aileron.{wing}.thrown", 0.0, -90.0)):  # fmt: skip
        c = with_steps(case(of, f"control.wind.{key}", "control"), hinge_moment=-90.0)
        p = laid_out(c, of[0]).pushes
        assert_allclose(p.moment[:, 1].sum(), total, rtol=0.01, atol=1e-9)
        assert_allclose(p.moment[0, 1], first, rtol=0.01)
    c = with_steps(case(of, "control.wind.rudder.middle", "control"), hinge_moment=50.0)
    assert_allclose(np.linalg.norm(laid_out(c, of[0]).pushes.moment[0]), 50.0)


def test_a_propeller_as_a_gyroscope_and_a_gust_from_the_side() -> None:
    of = made("W1")
    c = with_steps(case(of, "engine.turning.left.up", "engine", 2.5), **{YAW.replace(" ", "_"): 2.5}, rate_of_pitch=1.0)
    assert PITCH == "rate of pitch"
    mount = on_those(laid_out(c, of[0]).pushes, "mount").moment.sum(0)
    assert_allclose(mount[1] / mount[2], -2.5, rtol=1e-9)  # nose left lifts it, nose up turns it right
    assert mount[1] > 0 > mount[2]
    c = with_steps(case(of, "gust.C.side", "gust", 1.0, 40.0, {"sideslip": 0.1, "rudder": 0.0}),
                   load_on_fin_and_rudder_in_the_gust=400.0)  # fmt: skip
    fin = on_those(laid_out(c, of[0]).pushes, "fin", "rudder")
    drag = of[0].parasite(40.0)[0].area.value * 1.225 * 800
    force = resultant(fin)[0]
    assert_allclose(force[1], -400.0, rtol=1e-9)
    assert abs(force[0]) < 2 * drag


def test_a_strut_gives_half_of_its_drag_to_either_end() -> None:
    """One that goes from the middle to either side: half in the middle, a quarter on each side."""
    model = family().models["W1"]
    nodes = model.fuselage.nodes
    middle, aside = (next(n for n, p in nodes.items() if (p[1] == 0) == on) for on in (True, False))
    strut = replace(model.struts[0], ends=(StrutEnd(node=middle), StrutEnd(node=aside)))
    taken = [name for name, _ in drag_places(replace(model, struts=(strut,)))[strut.name]]
    assert taken == [f"node:{middle}", f"node:{middle}", f"node:{aside}R", f"node:{aside}L"]
