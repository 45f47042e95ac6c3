"""The list of load cases: whole, each with its numbers or the reason, and what the designer may change of it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY
from sparwright.charts.envelope import envelope_chart, outermost, told
from sparwright.charts.units import UNITS
from sparwright.data.loads import CODES, RULES
from sparwright.family.confirmed import Confirmed
from sparwright.family.model import Family
from sparwright.family.parked import Parked
from sparwright.flight.work import Flown
from sparwright.loads.besides import PILOT, WIND
from sparwright.loads.case import LoadCase
from sparwright.loads.code import asked, limit_factors
from sparwright.loads.diagram import envelope
from sparwright.loads.engine import TORQUE
from sparwright.loads.envelope_told import envelope_told
from sparwright.loads.every import every_case
from sparwright.loads.laden import SEA_LEVEL
from sparwright.loads.landing import DRAG, MAIN, TAIL
from sparwright.loads.on_controls import ALONG_HINGE, STICK
from sparwright.loads.tail import ADDED
from sparwright.run import RunResult

MODELS = ["W1", "W2", "W3"]
Ran = Callable[[str], RunResult]


def changed(flown: Flown, confirmed: tuple[Confirmed, ...] = (), **limits: Any) -> Flown:
    """The same with other limits, and paragraphs confirmed."""
    model = flown.model
    return replace(flown, model=replace(model, confirmed=confirmed, limits=replace(model.limits, **limits)))


def cases_of(result: RunResult, flown: Flown | None = None) -> dict[str, LoadCase]:
    f = flown or result.flight.flown
    return {c.key: c for c in every_case(f.model, result.balance, f)}


def confirmed(*rows: str, code: str = "cs-vla") -> tuple[Confirmed, ...]:
    return tuple(Confirmed(category=code, row=r, who="A", when="2026-03-01", read="it") for r in rows)


@pytest.mark.parametrize("code", CODES)
@pytest.mark.parametrize("name", MODELS)
def test_every_case_has_its_numbers_or_says_why(ran: Ran, name: str, code: str) -> None:
    result = ran(name)
    flown = changed(result.flight.flown, code=code)
    every = every_case(flown.model, result.balance, flown)
    assert len({c.key for c in every}) == len(every) > 120
    assert {c.kind for c in every} == {
        "manoeuvre", "gust", "roll", "yaw", "tail", "engine", "control", "landing", "ground", "crash", "handling",
    }  # fmt: skip
    for c in every:
        numbers = (c.factor, *c.deflection.values(), *(s.value for s in c.steps), *((c.lift,) if c.speed else ()))
        known = all(map(math.isfinite, numbers)) or c.key.startswith("ground.tied")
        assert known or c.caveat, c.key
        assert c.rule and c.loading and math.isfinite(c.mass + c.station + c.waterline), c.key
        assert c.level == ("ultimate" if c.kind == "crash" else "limit"), c.key


@pytest.mark.parametrize("name", MODELS)
def test_lift_bears_the_load(ran: Ran, name: str) -> None:
    """CL q S = n m g, and each manoeuvre stays within the stall."""
    result = ran(name)
    area = result.flight.flown.plane.company.reference.area
    for c in cases_of(result).values():
        if math.isfinite(c.lift):
            assert_allclose(
                c.lift * SEA_LEVEL * c.speed**2 / 2 * area, c.factor * c.mass * GRAVITY, rtol=1e-9, atol=1e-9
            )
    e = envelope(result.flight.flown)
    for b in e.bounds.values():
        at = b.laden.lift(1.0, b.laden.stall, area)
        assert_allclose(b.laden.lift(e.positive, b.top, area), at, rtol=1e-12)
        assert_allclose(b.laden.lift(e.negative, b.bottom, area), b.laden.lift_least, rtol=1e-12)


@pytest.mark.parametrize("name", MODELS)
def test_the_lightest_is_thrown_about_most(ran: Ran, name: str) -> None:
    cases = cases_of(ran(name))
    light, heavy = cases["gust.C.up.lightest"], cases["gust.C.up.max_forward"]
    assert light.factor > heavy.factor > 1 and light.mass < heavy.mass
    assert_allclose(light.factor + cases["gust.C.down.lightest"].factor, 2.0, rtol=1e-12)


def test_lines_cross_where_they_are_said_to(ran: Ran) -> None:
    e = envelope(ran("W2").flight.flown)
    for b in e.bounds.values():
        assert_allclose(1 + b.gust(b.crossing), e.positive, rtol=1e-12)
        assert_allclose(1 + b.gust(b.stalled), (b.stalled / b.laden.stall) ** 2, rtol=1e-9)
        assert_allclose(b.gust(e.speed("D")), b.dive.rise, rtol=1e-12)
        assert math.isnan(b.gust(e.speed("D") + 1)) and math.isnan(e.manoeuvre(e.speed("D") + 1, b))
    low = changed(ran("W2").flight.flown, n_positive=9.0)
    assert all(math.isnan(b.crossing) for b in envelope(low).bounds.values())


def test_the_designer_chooses_speeds(ran: Ran) -> None:
    """A chosen speed stands on no recalled row; one below the least fails."""
    flown = changed(ran("W2").flight.flown, design_cruise=40.0, design_dive=60.0)
    e = envelope(flown)
    assert (e.speed("C"), e.speed("D")) == (40.0, 60.0)
    assert cases_of(ran("W2"), flown)["gust.C.up.lightest"].caveat == ""
    _, checks = envelope_told(e, flown.model.limits)
    assert {c.id: c.verdict for c in checks}["loads.code.cruise"] == "unknown"  # recalled
    slow = changed(ran("W2").flight.flown, confirmed("335", "1505"), design_cruise=20.0, never_exceed=99.0)
    verdicts = {c.id: c.verdict for c in envelope_told(envelope(slow), slow.model.limits)[1]}
    assert verdicts["loads.code.cruise"] == verdicts["loads.code.never_exceed"] == "fail"
    assert verdicts["loads.code.dive"] == "pass"


def test_a_paragraph_that_was_read_settles_it(ran: Ran) -> None:
    least = changed(ran("W2").flight.flown, design_cruise=None, design_dive=None)
    before = cases_of(ran("W2"), least)["C.max_forward"]
    after = cases_of(ran("W2"), changed(least, confirmed("335")))["C.max_forward"]
    assert 'row = "335"' in before.caveat and after.caveat == ""
    assert before.factor == after.factor
    other = changed(least, confirmed("335", code="cfr-23-2014"))
    assert cases_of(ran("W2"), other)["C.max_forward"].caveat == before.caveat


def test_the_older_code(ran: Ran) -> None:
    """Its speeds in knots, its torque without a factor for a two-stroke, its gyroscope, its heights."""
    flown = changed(ran("W2").flight.flown, code="cfr-23-2014", design_cruise=None, design_dive=None)
    e, cases = envelope(flown), cases_of(ran("W2"), flown)
    assert e.asked == pytest.approx((3.8, -1.52))
    assert "23.335(a)" in cases["C.max_forward"].rule and "engine.turning.left.up.max_forward" in cases
    assert "ceiling" in cases["C.max_forward"].caveat
    high = changed(flown, ceiling=3000.0)
    raised = cases_of(ran("W2"), high)
    assert raised["gust.C.up.lightest"].factor > cases["gust.C.up.lightest"].factor
    assert "ceiling" not in raised["C.max_forward"].caveat
    two = replace(flown, model=replace(flown.model, engine=replace(flown.model.engine, strokes=2, cylinders=2)))
    torque = cases_of(ran("W2"), two)["engine.takeoff.max_forward"]
    assert math.isnan(asked(torque.steps, TORQUE)) and "no factor" in torque.caveat
    assert not any(k.startswith("tail.together") for k in cases)


def test_heavier_than_the_formula_s_corner(ran: Ran) -> None:
    """14 CFR 23.337: 2.1 + 24000/15000 = 3.7 at 5000 lb; -0.4 of it."""
    from sparwright.loads.code import code_of

    flown = changed(ran("W2").flight.flown, code="cfr-23-2014", max_mass=5000 * 0.45359237, n_positive=3.7)
    assert limit_factors(code_of(flown.model), flown.model.limits) == pytest.approx((3.7, -1.48))


def test_without_a_stalling_speed_nothing_flies(ran: Ran) -> None:
    flown = ran("W2").flight.flown
    case = flown.cases["max_mass"]
    unknown = replace(case, stall=replace(case.stall, speed=type(case.stall.speed)(math.nan, math.nan, math.nan)))
    lost = replace(flown, cases={**flown.cases, "max_mass": unknown})
    kinds = {c.kind for c in every_case(lost.model, ran("W2").balance, lost)}
    assert kinds == {"control", "landing", "ground", "crash", "handling"}
    e = envelope(lost)
    results, checks = envelope_told(e, lost.model.limits)
    assert "stalling speed" in e.why and envelope_chart(e, UNITS["inch"]).unknown == e.why
    verdicts = {c.id: c.verdict for c in checks}
    assert verdicts["loads.code.cruise"] == "unknown" and math.isnan(results[0].value)


def test_another_model_is_refused(ran: Ran, whinchat: Family) -> None:
    with pytest.raises(ValueError, match="was not flown here"):
        every_case(whinchat.models["W1"], ran("W2").balance, ran("W2").flight.flown)


def test_wheels_bear_what_they_must(ran: Ran) -> None:
    """Main and tail together (n - L) W; drag forward as aft; unknown springing is unknown, not the least."""
    flown = ran("W2").flight.flown
    assert flown.model.undercarriage is not None and flown.model.undercarriage.rubber is not None
    soft = replace(flown.model.undercarriage.rubber, turns=3)
    softer = replace(flown, model=replace(flown.model, undercarriage=replace(flown.model.undercarriage, rubber=soft)))
    cases = cases_of(ran("W2"), softer)
    level, down = cases["landing.level.max_aft"], cases["landing.tail_down.max_aft"]
    assert level.factor >= 2.67
    main, whole = asked(down.steps, MAIN), (down.factor - 2 / 3) * down.mass * GRAVITY
    assert_allclose(main + asked(down.steps, TAIL), whole, rtol=1e-9)
    assert_allclose(asked(cases["landing.springback.max_aft"].steps, DRAG), -asked(level.steps, DRAG), rtol=1e-12)
    bare = replace(flown, model=replace(flown.model, undercarriage=None))
    found = cases_of(ran("W2"), bare)["landing.level.max_aft"]
    assert math.isnan(found.factor) and "rubber" in found.caveat


def test_hand_and_foot_are_the_designer_s(ran: Ran) -> None:
    unsaid = cases_of(ran("W2"), changed(ran("W2").flight.flown, foot=None))
    assert "limits.foot" in unsaid["handling.foot"].caveat
    said = cases_of(ran("W2"), changed(ran("W2").flight.flown, foot=1000.0, hoist=2.0))
    assert said["handling.foot"].caveat == "" and asked(said["handling.foot"].steps, "force") == 1000.0
    assert said["handling.hoisted"].factor == 2.0
    assert asked(said["control.elevator.pull"].steps, STICK) == RULES["cs-vla"]["elevator_most"].value
    assert math.isnan(asked(said["handling.foot"].steps, "no such line"))


def test_wind_from_behind_is_for_wings_that_are_held(ran: Ran) -> None:
    flown = ran("W2").flight.flown
    case = cases_of(ran("W2"))["truss.from_behind.max_forward"]
    assert_allclose(case.lift, -0.8, rtol=1e-12)
    assert case.factor < 0 and 10 < case.speed < 25
    alone = replace(flown, model=replace(flown.model, struts=(), wires=()))
    assert "truss.from_behind.max_forward" not in cases_of(ran("W2"), alone)


def test_wind_from_behind_lies_on_the_wings_two_thirds_aft(ran: Ran) -> None:
    """Of three wings too: the rule's coefficient on every strip, its middle at 2/3 chord, nothing on the tail."""
    laid = next(x for x in ran("W3").margins.laid if x.case.key == "truss.from_behind.max_forward")
    q = 1.225 * laid.case.speed**2 / 2
    assert {s.surface for s in laid.spans} == {w.name for w in ran("W3").flight.flown.model.wings}
    for s in laid.spans:
        assert_allclose(s.normal, -0.8 * q * s.chord, rtol=2e-2)  # a little dihedral
        assert_allclose(s.torsion, -(2 / 3 - 1 / 4) * s.chord * s.normal, rtol=2e-2)
    assert not [n for n in laid.pushes.on if n.startswith(("tailplane", "elevator"))]
    assert laid.pushes.force[:, 2].sum() < 0


def test_whoever_sits_in_it_is_as_heavy_as_may_be(ran: Ran) -> None:
    pilot = max(x.most for x in ran("W2").flight.flown.model.loads if x.kind == "pilot")
    cases = cases_of(ran("W2"))
    assert asked(cases["crash.forward"].steps, PILOT) == pilot
    assert math.isnan(asked(cases["crash.cabin.forward"].steps, PILOT))
    assert asked(cases["control.along_hinge.rudder"].steps, ALONG_HINGE) == 24.0


def test_two_pilots_pull_against_each_other(ran: Ran) -> None:
    flown = ran("W2").flight.flown
    assert not any(k.startswith("control.two") for k in cases_of(ran("W2")))
    pilot = next(x for x in flown.model.loads if x.kind == "pilot")
    two = replace(flown, model=replace(flown.model, loads=(*flown.model.loads, replace(pilot, name="second"))))
    case = cases_of(ran("W2"), two)["control.two.elevator"]
    assert asked(case.steps, "force of each pilot, against the other") == 0.75 * 740


def test_the_tail_s_gust_is_the_rule_s(ran: Ran) -> None:
    """Kg U V a S (1 - de/da)/16.3 daN with the lattice's tail in its downwash: to the digits of 16.3."""
    from sparwright.loads.tail import tail_slope

    flown = ran("W2").flight.flown
    e, case = envelope(flown), cases_of(ran("W2"))["tail.gust.C.up.max_forward"]
    g = e.bounds["max_forward"].cruise
    assert_allclose(asked(case.steps, ADDED), 10 * g.relief * 15.24 * g.speed * tail_slope(flown) / 16.3, rtol=2.5e-3)


@pytest.mark.parametrize("name", MODELS)
def test_the_picture_holds_every_line(ran: Ran, name: str) -> None:
    import numpy as np

    e = envelope(ran(name).flight.flown)
    chart = envelope_chart(e, UNITS["si"])
    assert len(chart.curves) == 3 and [n.text.split()[0] for n in chart.notes] == ["VA", "VC", "VD"]
    up, down = outermost(e, np.array([0.0, e.speed("C"), e.speed("D")]))
    assert_allclose(up[1], max(b.cruise.up for b in e.bounds.values()), rtol=1e-12)
    assert_allclose(down[1], min(b.cruise.down for b in e.bounds.values()), rtol=1e-12)
    assert up[0] == down[0] == 0.0 and up[2] == max(e.positive, *(b.dive.up for b in e.bounds.values()))
    assert "gust at VC, lightest" in told(e, UNITS["inch"])


def test_the_wind_it_is_tied_down_in(ran: Ran) -> None:
    """The code's, or the designer's; less than a code that has the row asks for is told."""
    flown = ran("W1").flight.flown

    def case(code: str, wind: float | None) -> LoadCase:
        other = changed(flown, code=code)
        parked = replace(other.model.parked or Parked(), wind=wind)
        return cases_of(ran("W1"), replace(other, model=replace(other.model, parked=parked)))["ground.tied.nose"]

    assert_allclose(case("cs-vla", None).speed, 65 * 1852 / 3600, rtol=1e-4)
    mine = case("cs-vla", 15.0)
    assert mine.speed == 15.0 and asked(mine.steps, WIND) == 15.0 and mine.caveat == ""
    assert "parked.wind is less" in case("cfr-23-2014", 15.0).caveat
    assert "parked.wind" not in case("cfr-23-2014", 40.0).caveat
