"""Forces told: what is refused or unknown, checks that see a bad one, harmony done again on changed aeroplanes."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from demo import ran, whinchat
from numpy.testing import assert_allclose
from shelf import shelf

from sparwright.air.atmosphere import atmosphere
from sparwright.air.hinge import slopes
from sparwright.base.source import Band
from sparwright.charts.stick_force import stick_pictures
from sparwright.controls.chain import moving
from sparwright.family.model import Model
from sparwright.flight.in_the_wind import in_the_wind
from sparwright.flight.work import Flown, work_out
from sparwright.handling.chain import HandlingTold, handling, least_to_limit, per_g_limits
from sparwright.handling.flap import kept, real, with_chord
from sparwright.handling.gear import gear_of, geared
from sparwright.handling.harmony import MECHANISM, RELAID, asked, changes, uneven
from sparwright.handling.made import Made, made
from sparwright.handling.pitch import hands_off, held, inclined, level
from sparwright.handling.spread import spread
from sparwright.mass.hinged import hinge_results


def model_of(name: str = "W1") -> Model:
    return whinchat().models[name]


@cache
def parts_of(name: str):
    r = ran(name)
    return r.assembly, r.balance, {one.id: one for one in hinge_results(model_of(name), r.assembly)}


def flown_of(model: Model, name: str = "W1") -> Flown:
    """A model flown with the masses of the demo's own."""
    parts, balance, _ = parts_of(name)
    return work_out(model, balance, in_the_wind(model_of(name), parts), atmosphere(0.0), shelf)


@cache
def demo(name: str = "W1") -> tuple[Flown, tuple, dict]:
    model = model_of(name)
    return ran(name).flight.flown, moving(model, model.controls)[1], parts_of(name)[2]


@cache
def told(name: str = "W1") -> HandlingTold:
    return handling(*demo(name))


def put_together(model: Model, flown: Flown | None = None, motions: tuple | None = None) -> Made:
    return made(flown or flown_of(model), motions or moving(model, model.controls)[1], parts_of("W1")[2])


def by_id(found: HandlingTold) -> dict:
    return {r.id: r for r in found.results}


# ------------------------------------------------------------------ unknown and refused


def test_without_controls_the_stick_is_unknown_and_says_why() -> None:
    flown, _, weights = demo()
    found = handling(flown, (), weights)
    results = by_id(found)
    for id in ("flight.force.elevator.aftmost.cruise", "flight.force.aileron.full.cruise", "flight.force.rudder.slip",
               "flight.harmony.elevator"):  # fmt: skip
        assert math.isnan(results[id].value) and results[id].caveat == "the file has no controls", id
    assert math.isfinite(results["flight.neutral_point.free"].value)
    verdicts = {c.id: c.verdict for c in found.checks}
    assert verdicts.pop("flight.forces.free") in ("pass", "fail")
    assert set(verdicts.values()) == {"unknown"}


def test_an_elevator_that_is_not_drawn_has_no_known_force() -> None:
    flown, motions, _ = demo()
    results = by_id(handling(flown, motions, {}))
    r = results["flight.force.elevator.aftmost.cruise"]
    assert math.isnan(r.value) and "not drawn" in r.caveat
    assert math.isfinite(results["flight.force.aileron.full.cruise"].value)


def test_friction_is_unknown_and_says_how_to_have_it() -> None:
    for name in ("elevator", "aileron", "rudder"):
        r = by_id(told())[f"flight.force.friction.{name}"]
        assert math.isnan(r.value) and "spring balance" in r.caveat and "mil-f-8785c" in r.caveat


@pytest.mark.parametrize("hinge", [0.0, 1.0, 1.2])
def test_no_hinge_is_refused(hinge: float) -> None:
    with pytest.raises(ValueError, match="between 0 and 1"):
        slopes(hinge)


def test_every_number_is_finite_or_says_why() -> None:
    for name in ("W1", "W3"):
        for r in told(name).results:
            assert math.isfinite(r.value) or r.caveat, r.id
            assert r.title and r.unit and r.source, r.id


# ------------------------------------------------------------------ checks


def test_the_least_force_to_the_limit_is_between_its_ends() -> None:
    m = put_together(model_of(), demo()[0], demo()[1])
    for mass, newton in ((100.0, 66.7233), (1500.0, 105.07), (4000.0, 155.688)):
        limits = replace(m.flown.model.limits, max_mass=mass)
        heavy = replace(m, flown=replace(m.flown, model=replace(m.flown.model, limits=limits)))
        assert_allclose(least_to_limit(heavy), newton, rtol=1e-4)


def test_the_force_for_a_g_is_held_between_two_ends() -> None:
    """By hand at 3.8 g: 21/2.8 = 7.5 lbf at least; 28 lbf at most unless 240/(n/alpha) is less, never under 20."""
    m, pound = put_together(model_of(), demo()[0], demo()[1]), 4.4482216152605
    least, most = per_g_limits(m)
    assert_allclose(least, 21 / 2.8 * pound, rtol=1e-6)
    assert 56 / 2.8 * pound <= most <= 28 * pound * (1 + 1e-12)
    quick = replace(m, speeds={**m.speeds, "cruise": 2 * m.speeds["cruise"]})  # four times the load factor a radian
    assert_allclose(per_g_limits(quick)[1], 56 / 2.8 * pound, rtol=1e-6)
    limits = replace(m.flown.model.limits, n_positive=9.0)
    strong = replace(m, flown=replace(m.flown, model=replace(m.flown.model, limits=limits)))
    assert_allclose(per_g_limits(strong)[0], 3 * pound, rtol=1e-6)
    assert per_g_limits(strong)[1] <= most
    none = replace(m, speeds={**m.speeds, "cruise": math.nan})
    assert all(map(math.isnan, per_g_limits(none)))


def test_a_check_fails_where_a_pilot_could_not_hold_it() -> None:
    flown, motions, weights = demo()
    heavy = {**weights, "mass.hinge.elevator": replace(weights["mass.hinge.elevator"], value=9.0, low=8.9, high=9.1)}
    verdicts = {c.id: c.verdict for c in handling(flown, motions, heavy).checks}
    assert verdicts["flight.forces.glide"] == "fail" and verdicts["flight.forces.elevator"] == "fail"


def test_the_curve_is_steady_and_agrees_with_the_results() -> None:
    for c in told().curves:
        assert c.speed.size > 5 and np.all(np.diff(c.speed) > 0)
        assert np.all(np.diff(c.force[0]) < 0)  # push more to fly faster
        assert np.all(c.force[1] <= c.force[0]) and np.all(c.force[0] <= c.force[2])
        top = by_id(told())[f"flight.force.elevator.{c.case}.top"]
        assert_allclose(c.force[0, -1], top.value, rtol=1e-9)
        assert math.isnan(c.at(5.0))


# ------------------------------------------------------------------ parts


def test_what_a_slanting_root_leaves() -> None:
    """By hand: a load falling straight to the tail, cut at a quarter of the flap's chord, leaves 3/16 - 1/32."""
    y = np.array([0.0, 0.1, 0.15, 0.2, 0.3])
    assert_allclose(kept(y, 0.1, 0.3), [0, 0, 0.15625, 0.5, 1])
    assert_allclose(kept(y, 0.1, 0.3, area=True), [0, 0, 0.25, 0.5, 1])
    assert_allclose(kept(y, 0.0, 0.0), [0, 1, 1, 1, 1])


def test_real_flaps_lie_between_the_measured_ones() -> None:
    a, b = real(0.2, 0.09), real(0.4, 0.09)
    assert_allclose([a.angle, a.flap], [0.0045 / 0.0087159, 0.012 / 0.016107], rtol=1e-3)
    assert a.angle < real(0.3, 0.09).angle < b.angle
    assert real(0.3, 0.15).flap < real(0.3, 0.12).flap < real(0.3, 0.09).flap
    assert real(0.6, 0.05) == b  # the nearest
    assert b.ends(together=5.0) == replace(b, angle=1.0, flap=1.0)  # never past theory


def test_spread_goes_as_root_of_squares() -> None:
    r = real(0.3, 0.09)
    band = spread(lambda s: 10 + s.weight, r, Band(1.0, 0.0, 4.0))
    assert (band.value, band.low, band.high) == (11.0, 10.0, 14.0)
    both = spread(lambda s: s.weight, r, Band(0.0, -3.0, 3.0), besides=[(lambda s: -4.0, lambda s: 4.0)])
    assert (both.low, both.high) == (-5.0, 5.0)
    assert not spread(lambda s: math.nan, r).known


def test_gearing() -> None:
    g = gear_of(demo()[1][0])
    assert g.surface_of(0.0) == pytest.approx(0.0, abs=1e-12) and np.all(np.diff(g.way) > 0)
    slow = geared(g, 1.1)
    assert_allclose(slow.at(0.0), g.at(0.0) / 1.1)
    assert_allclose(slow.way_of(0.1 / 1.1), g.way_of(0.1))
    assert math.isnan(float(g.at(2.0)))
    less = uneven(g, 0.9)
    assert_allclose([less.surface[0], less.surface[-1]], [0.9 * g.surface[0], g.surface[-1]])


def test_a_longer_flap() -> None:
    f = put_together(model_of(), demo()[0], demo()[1]).pitch.flap
    longer = with_chord(f, 1.1)
    assert_allclose([1 - longer.hinge, longer.area], [1.1 * (1 - f.hinge), 1.1 * f.area])
    assert_allclose(longer.weight, 1.21 * f.weight)
    assert longer.slopes.flap_part > f.slopes.flap_part


@pytest.mark.long
def test_the_tailplane_set_anew_on_another_lattice() -> None:
    """W2's tailplane set from -6 to 0 deg: what is left at cruise, by a twist of the tail and by another lattice."""
    whole, (_, motions, weights) = model_of("W2"), demo("W2")
    model = replace(whole, tailplane=replace(whole.tailplane, incidence=math.radians(-6.0)))
    other = replace(whole, tailplane=replace(whole.tailplane, incidence=0.0))
    a, b = (made(flown_of(x, "W2"), motions, weights) for x in (model, other))
    case, v = a.case("heaviest"), a.speeds["cruise"]
    twisted = inclined(case, a.pitch.flap, v, a.density, -model.tailplane.incidence)
    laid = level(b.case("heaviest"), b.pitch.flap, v, b.density)
    assert_allclose(twisted.elevator, laid.elevator, rtol=0, atol=math.radians(0.4))
    forces = [held(m.pitch, at, 0.0).trimmed.value for m, at in ((a, twisted), (b, laid))]
    assert_allclose(forces[0], forces[1], rtol=0, atol=10.0)  # N, of 190 that the change takes away
    before = held(a.pitch, level(case, a.pitch.flap, v, a.density), 0.0).trimmed.value
    assert forces[1] - before > 150.0


def test_the_incidence_that_leaves_nothing_leaves_nothing() -> None:
    m = put_together(model_of(), demo()[0], demo()[1])
    case, v, lever = m.case("heaviest"), m.speeds["cruise"], sum(m.pitch.lever) / 2
    wanted = hands_off(m.pitch, case, v, m.density, lever)
    at = inclined(case, m.pitch.flap, v, m.density, wanted.value)
    assert abs(held(m.pitch, at, lever).trimmed.value) < 2.0  # N
    assert wanted.low < wanted.value < wanted.high


# ------------------------------------------------------------------ harmony, on changed aeroplanes


def changed(id: str) -> tuple[float, float]:
    """(what harmony says a tenth does to the force it moves, the force before)."""
    m = put_together(model_of(), demo()[0], demo()[1])
    key = id.partition(".")[0]
    before = getattr(asked(m), key)
    return getattr(changes(m)[id][1](), key) / before - 1, before


@pytest.mark.parametrize("surface", ["elevator", "rudder"])
def test_a_tenth_more_horn_on_the_drawn_mechanism(surface: str) -> None:
    """The horn's arm on the file a tenth longer, the rest of the run as it is: the mechanism solved again."""
    model = model_of()
    where = "tailplane" if surface == "elevator" else "fin"
    tail = getattr(model, where)
    horn = replace(tail.frame.horn, arm=1.1 * tail.frame.horn.arm)
    other = replace(model, **{where: replace(tail, frame=replace(tail.frame, horn=horn))})
    said, before = changed(f"{surface}.horn")
    real_one = getattr(asked(put_together(other, demo()[0])), surface) / before - 1
    assert_allclose(said, real_one, rtol=0, atol=MECHANISM)


@pytest.mark.long
def test_a_tenth_more_elevator_chord_on_another_lattice() -> None:
    model = model_of()
    tail = model.tailplane
    hinge = 1 - 1.1 * (1 - tail.hinge)
    flown = flown_of(replace(model, tailplane=replace(tail, hinge=hinge)))
    said, before = changed("elevator.chord")
    got = asked(put_together(model, flown, demo()[1])).elevator / before - 1
    assert_allclose(said, got, rtol=0, atol=RELAID)


@pytest.mark.long
def test_a_tenth_more_aileron_chord_on_another_lattice() -> None:
    model = model_of()
    wing = model.wings[0]
    a = wing.aileron
    other = replace(wing, aileron=replace(a, hinge=1 - 1.1 * (1 - a.hinge)))
    flown = flown_of(replace(model, wings=(other,)))
    said, before = changed("aileron.chord")
    got = asked(put_together(model, flown, demo()[1])).aileron / before - 1
    assert_allclose(said, got, rtol=0, atol=RELAID)


@pytest.mark.long
def test_a_tenth_more_aileron_span_on_another_lattice() -> None:
    model = model_of()
    wing = model.wings[0]
    a = wing.aileron
    other = replace(wing, aileron=replace(a, inboard=a.inboard - 0.1 * (a.outboard - a.inboard)))
    flown = flown_of(replace(model, wings=(other,)))
    said, before = changed("aileron.span")
    got = asked(put_together(model, flown, demo()[1])).aileron / before - 1
    assert_allclose(said, got, rtol=0, atol=RELAID)


def test_a_tenth_more_rudder_chord() -> None:
    model = model_of()
    fin = model.fin
    other = replace(model, fin=replace(fin, hinge=1 - 1.1 * (1 - fin.hinge)))
    flown = replace(demo()[0], model=other)
    said, before = changed("rudder.chord")
    assert_allclose(asked(put_together(other, flown, demo()[1])).rudder / before - 1, said, rtol=0, atol=0.005)


# ------------------------------------------------------------------ picture


def test_the_picture_says_what_it_shows_or_why_not() -> None:
    shown = stick_pictures(told().curves, "W1", "origin", "millimetre")["stick-force"]
    assert "W1: stick force over speed" in shown.title and "N at" in shown.words and "km/h" in shown.words
    pound = stick_pictures(told().curves, "W1", "origin")["stick-force"]
    assert "lbf at" in pound.words and "kt" in pound.words
    none = stick_pictures((), "W1", "origin")["stick-force"]
    assert "no controls" in none.words
