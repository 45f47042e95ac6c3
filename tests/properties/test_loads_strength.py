"""Loads and strength: they scale with the weight, add up to it, and what is not known never passes."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import fields, replace
from functools import cache

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.told import CRUISE_LIFT
from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check
from sparwright.data import loader
from sparwright.data.loader import Material
from sparwright.family.model import Family, Model, Strut, StrutEnd
from sparwright.flight.trim import Line, attached
from sparwright.flight.work import place
from sparwright.loads.envelope import DENSITY, cases
from sparwright.loads.spanwise import WingLoad, wing_loads
from sparwright.run import RunResult
from sparwright.strength import prove as proving
from sparwright.strength.bracing import joined, supports
from sparwright.strength.prove import prove, worst
from sparwright.strength.spars import chord_share, run_all

MODELS = ["W1", "W2", "W3"]
Ran = Callable[[str], RunResult]


def scaled(load: WingLoad, by: float) -> WingLoad:
    return replace(load, running=load.running * by, moment=load.moment * by, total=load.total * by)


def steady(result: RunResult) -> Line:
    """The trimmed states that loads are taken from: the lattice alone, at the forward limit."""
    flown = result.flight.flown
    loading = flown.cases["max_mass"].loading
    return attached(flown.plane, place(loading), loading.mass, flown.air)


def by_id(checks: tuple[Check, ...]) -> dict[str, Check]:
    return {c.id: c for c in checks}


@pytest.mark.parametrize("name", MODELS)
def test_wings_carry_the_weight_and_the_tails_load(ran: Ran, name: str) -> None:
    """Lift of the wings = n W less the tail's lift, in every case; the strips of each wing add up to its total."""
    result = ran(name)
    line, tail = steady(result), result.flight.flown.plane.tail
    for by_wing in result.loads:
        case = next(iter(by_wing.values())).case
        state = line.state(case.lift)
        tail_lift = state.surface_lift(tail) * DENSITY * case.speed**2 / 2
        wings = sum(load.total for load in by_wing.values())
        # trim goes by splines through forces, the loads by splines through circulations
        assert_allclose(wings + tail_lift, case.factor * case.mass * GRAVITY, rtol=2e-4)
        assert_allclose(sum(load.share for load in by_wing.values()), 1, rtol=1e-12)
        for wing, load in by_wing.items():
            assert_allclose(2 * load.running @ load.width, load.total, rtol=1e-12)
            strips = state.strips[wing]
            assert_allclose(load.moment, load.running * strips.centre * strips.chord, rtol=1e-9)
            assert 0.1 < float(load.moment @ load.width / (load.running * load.chord @ load.width)) < 0.6


def test_twice_the_mass_twice_the_loads(ran: Ran) -> None:
    """At one load factor and one CL, so at VA: all loads go with the mass."""
    result = ran("W2")
    line = steady(result)
    company = line.plane.company
    ref, slope = company.reference, company.lift_slope(company.angle_of(CRUISE_LIFT))

    def at_stall(mass: float, stall: float) -> Mapping[str, WingLoad]:
        case = cases(mass, ref.area, ref.chord, slope, 3.8, stall)[0]
        return wing_loads(line, case)

    one, two = at_stall(400.0, 20.0), at_stall(800.0, 20.0 * math.sqrt(2))
    for wing in one:
        assert_allclose(two[wing].running, 2 * one[wing].running, rtol=1e-9)
        assert_allclose(two[wing].moment, 2 * one[wing].moment, rtol=1e-9, atol=1e-9)


@pytest.mark.parametrize("name", MODELS)
def test_reactions_hold_the_load(ran: Ran, whinchat: Family, name: str) -> None:
    """Supports of a spar hold exactly what is on its beam, and all spars together what the lattice puts there.

    The beam has the load straight between the lattice's strips where the lattice has it even over each: 2 %.
    """
    for by_wing in ran(name).loads:
        runs, _ = run_all(whinchat.models[name], by_wing)
        for wing, load in by_wing.items():
            mine = [r for r in runs if r.wing.name == wing]
            held = -sum(float(r.bent.reactions.sum()) for r in mine)
            outside = mine[0].bent.y[0]
            inner = np.clip(load.y + load.width / 2 - outside, 0, load.width)
            assert_allclose(held, load.running @ inner, rtol=0.02)
            for r in mine:
                assert_allclose(r.bent.moment[-1], 0, rtol=0, atol=1e-6)
                assert np.all(r.thrust >= 0)


def test_twice_the_load_twice_the_use(ran: Ran, whinchat: Family) -> None:
    model, loads = whinchat.models["W1"], ran("W1").loads[:1]
    one = by_id(prove(model, loads))
    two = by_id(prove(model, [{k: scaled(v, 2.0) for k, v in loads[0].items()}]))
    assert one.keys() == two.keys()
    for id, check in one.items():
        assert_allclose(two[id].value, 2 * check.value, rtol=1e-9)


def without(value: str) -> Callable[[str], Material]:
    """Materials with one strength unknown."""
    return cache(lambda key: replace(loader.material(key), **{value: math.nan}))


@pytest.mark.parametrize("name", MODELS)
@pytest.mark.parametrize(
    ("value", "faces"),
    [
        ("bending", ("caps",)),
        ("compression", ("caps",)),
        ("tension", ("caps",)),
        ("shear", ("webs", "glue")),
        ("youngs", ("buckling",)),
    ],
)
def test_an_unknown_strength_never_passes(
    ran: Ran, whinchat: Family, monkeypatch: pytest.MonkeyPatch, name: str, value: str, faces: tuple[str, ...]
) -> None:
    model, loads = whinchat.models[name], ran(name).loads
    known = by_id(prove(model, loads))
    for room in (proving,):
        monkeypatch.setattr(room, "material", without(value))
    lost = by_id(prove(model, loads))
    assert known.keys() == lost.keys()
    hit = 0
    for id, check in lost.items():
        _, _, *face = id.rsplit(".", 1)[0].split("."), *id.rsplit(".", 1)
        if face[-1] in faces and needs(model, id, value):
            assert check.verdict == "unknown", id
            hit += 1
    wood = any(loader.material(s.cap.material).kind == "wood" for w in model.wings for s in w.spars)
    assert hit or (value == "bending" and not wood) or (value == "tension" and wood)


def needs(model: Model, id: str, value: str) -> bool:
    """Whether a check stands on a material's value: bending of wood, tension of metal."""
    _, wing, spar, face = id.split(".")
    cap = loader.material(next(s for s in model.wing(wing).spars if s.name == spar).cap.material)
    if value == "bending":
        return cap.kind == "wood"
    return cap.kind != "wood" if value == "tension" else face != "brace"


def test_an_unknown_cable_never_passes(ran: Ran, whinchat: Family, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(proving, "cable_strength", lambda construction, diameter: (math.nan, None))
    checks = by_id(prove(whinchat.models["W2"], ran("W2").loads))
    wires = [c for c in checks.values() if c.id.startswith("strength.brace.")]
    assert wires and all(c.verdict == "unknown" for c in wires)


@pytest.mark.parametrize("name", MODELS)
def test_no_case_no_pass(ran: Ran, whinchat: Family, name: str) -> None:
    """Without a stalling speed there is no case; the same checks are there, all unknown, and say why."""
    assert cases(400.0, 11.0, 1.3, 4.9, 3.8, math.nan) == ()
    checks = by_id(prove(whinchat.models[name], (), "no load case: the stalling speed is unknown"))
    assert checks.keys() == by_id(prove(whinchat.models[name], ran(name).loads)).keys()
    assert all(c.verdict == "unknown" and "stalling speed" in c.caveat for c in checks.values())


def test_three_spars_are_unknown_not_refused(ran: Ran, whinchat: Family) -> None:
    model = whinchat.models["W1"]
    wing = model.wings[0]
    more = replace(wing, spars=(*wing.spars, replace(wing.spars[0], name="middle", at=0.4)))
    checks = prove(replace(model, wings=(more,)), ran("W1").loads)
    assert checks and all(c.verdict == "unknown" and "more than two spars" in c.caveat for c in checks)


def test_nothing_from_below_is_unknown(ran: Ran, whinchat: Family) -> None:
    """Lift struts that end on another strut's wing point and nowhere on the fuselage: the load's way is not known."""
    model = whinchat.models["W2"]
    hung = replace(model, wires=tuple(w for w in model.wires if all(e.wing for e in w.ends)))
    unclear = [g for g in joined(hung) if g.unclear]
    assert unclear and all("nothing leads" in g.unclear for g in unclear)
    checks = by_id(prove(hung, ran("W2").loads))
    assert checks["strength.upper.front.caps"].verdict != "pass"
    assert "nothing leads" in checks["strength.upper.front.caps"].caveat


def test_a_leaning_interplane_strut_is_unknown(whinchat: Family) -> None:
    model = whinchat.models["W2"]

    def lean(strut: Strut) -> Strut:
        a, b = strut.ends
        return replace(strut, ends=(replace(a, buttline=a.buttline - 0.4), b)) if a.wing and b.wing else strut

    groups = joined(replace(model, struts=tuple(map(lean, model.struts))))
    assert any("leans" in g.unclear for g in groups)
    assert not any("leans" in g.unclear for g in joined(model))


@pytest.mark.parametrize("name", MODELS)
def test_every_point_of_support_is_in_one_group(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    grouped = [p for g in joined(model) for p in g.points]
    wanted = [(w.name, s.name, b) for w in model.wings for s in w.spars for b in supports(model, w, s)]
    assert sorted(grouped) == sorted(wanted)


@pytest.mark.parametrize(("where", "parts"), [(0.2, (1.0, 0.0)), (0.6, (0.0, 1.0)), (0.3, (0.75, 0.25))])
def test_lever_between_two_spars(ran: Ran, whinchat: Family, where: float, parts: tuple[float, float]) -> None:
    """Lift at a spar is all that spar's; a quarter of the way behind the front one, three quarters."""
    wing = whinchat.models["W1"].wings[0]
    front, rear = (replace(s, at=at) for s, at in zip(wing.spars, (0.2, 0.6), strict=True))
    load = next(iter(ran("W1").loads[0].values()))
    load = replace(load, moment=where * load.chord * load.running)
    two = replace(wing, spars=(front, rear))
    for spar, part in zip((front, rear), parts, strict=True):
        assert_allclose(chord_share(two, spar, load), part * load.running, rtol=1e-9, atol=1e-9 * load.running.max())


def test_a_wire_holds_up_only_from_below(whinchat: Family) -> None:
    """A landing wire from above is slack when the wing lifts: with it alone there is no support."""
    model = whinchat.models["W2"]
    lower = next(w for w in model.wings if w.name == "lower")
    alone = replace(model, struts=(), wires=tuple(w for w in model.wires if w.name == "landing"))
    side = round(lower.leading_edge[1], 6)
    assert all(b == side for g in joined(alone) for w, _, b in g.points if w == "lower")


def test_joined_wings_hang_on_one_brace(ran: Ran, whinchat: Family) -> None:
    """What interplane struts bring along is in the flying wire: its vertical pull is the load of both wings' points."""
    model = whinchat.models["W2"]
    runs, braces = run_all(model, ran("W2").loads[1])
    reaction = {
        (r.wing.name, r.spar.name, b): -f for r in runs for b, f in zip(r.supports, r.bent.reactions, strict=True)
    }
    for group in joined(model):
        for h in group.holders if len(group.points) > 1 else ():
            pull = next(b.pull for b in braces if b.thing.name == h.thing.name) - h.thing.tension  # type: ignore[union-attr]
            wanted = sum(reaction[p] for p in group.points) / len(group.holders)
            assert_allclose(pull * h.rise / h.length, wanted, rtol=1e-9)


def test_the_worst_check_decides() -> None:
    made = [
        Check(str(i), "", 0.0, 1.0, verdict=v, margin=m)
        for i, (v, m) in enumerate(
            [("pass", 0.1), ("unknown", math.nan), ("fail", -0.1), ("fail", -0.3), ("pass", 0.5)]
        )
    ]  # type: ignore[arg-type]
    assert worst(made).margin == -0.3
    assert worst(made[:2]).verdict == "unknown"
    assert worst([made[4], made[0]]).margin == 0.1


def test_end_records_have_no_more_numbers_than_known() -> None:
    """A strut's end is a node, a place on a spar or on the tail, and what holds it; bracing reads no other field."""
    on_tail = {"tail", "tube", "along"}  # bracing of the wings passes over those
    assert {f.name for f in fields(StrutEnd)} == {"node", "wing", "spar", "buttline", "fitting", "piece"} | on_tail


@pytest.mark.parametrize("name", ["W1", "W2", "W3"])
def test_the_tails_bracing_holds_up_no_wing(whinchat: Family, name: str) -> None:
    model = whinchat.models[name]
    bare = replace(model, struts=tuple(s for s in model.struts if s.name != "tail"),
                   wires=tuple(w for w in model.wires if w.name != "fin"))  # fmt: skip
    assert len(bare.struts) < len(model.struts) and joined(model) == joined(bare)
