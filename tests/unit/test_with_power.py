"""Trim with power: nothing pulled is power off, forces and moments balance, signs, and what is not known."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY
from sparwright.flight.performance import Mover
from sparwright.flight.power_told import CASES, CLIMB, SLOW, in_truth, power_on_checks, power_on_results, pulls
from sparwright.flight.tail_flow import tail_flows
from sparwright.flight.with_power import VARIANTS, Pulling, power_line, tailplane
from sparwright.flight.work import place
from sparwright.power.propeller import Blade, standard_blade

MODELS = ("W1", "W2", "W3")
SPEEDS = np.array([20.0, 23.0, 26.0, 30.0])


@pytest.fixture(params=MODELS)
def flown(ran, request):
    return ran(request.param).flight.flown


def pulling(flown, thrust, blade=None) -> Pulling:
    prop = flown.model.propeller
    return Pulling(blade or standard_blade(prop), prop.place, thrust)


def thin(flown) -> Blade:
    """A blade that has no side."""
    blade = standard_blade(flown.model.propeller)
    return replace(blade, chord=1e-12 * blade.chord)


def line_of(flown, case, pulled, wake=1.0, speeds=SPEEDS):
    c = flown.cases[case]
    return power_line(c.line, place(c.loading), pulled, speeds, lambda CL: wake)


def test_nothing_that_pulls_is_power_off(flown) -> None:
    found = line_of(flown, "aftmost", pulling(flown, lambda V: 0.0, thin(flown)))
    for t in found.trims:
        assert_allclose(t.elevators, t.without, rtol=0, atol=1e-9)
        assert_allclose([t.gained, t.added, t.across], 0, rtol=0, atol=1e-9)
    change = found.change(25.0)
    assert_allclose([change.value, change.low, change.high], 0, rtol=0, atol=1e-9)


def test_power_off_it_is_the_trimmed_line(flown) -> None:
    case = flown.cases["foremost"]
    t = tailplane(case.line, 25.0, place(case.loading))
    CL = 2 * case.loading.mass * GRAVITY / (flown.air.density * 25.0**2 * flown.plane.area)
    assert_allclose(t.lift, CL, rtol=1e-12, atol=0)
    assert_allclose(t.elevator, float(case.line.states(CL).elevator[0]), rtol=1e-12, atol=0)
    state = case.line.state(CL)
    assert_allclose(t.carries, state.surface_lift(flown.plane.tail), rtol=0, atol=2e-3 * abs(t.slope * 0.1))
    tail = next(p for p in flown.plane.company.planforms if p.is_tail)
    chord, edge, _ = tail.mean_chord
    assert_allclose(t.arm, edge + chord / 4 - case.loading.station, rtol=0.08, atol=0)  # its lift is further aft


def test_forces_and_moments_balance(flown) -> None:
    """The tail's forces added up anew in newtons, part in and part out of the stream, hold the moments of power."""
    case = flown.cases["foremost"]
    found = line_of(flown, "foremost", pulling(flown, lambda V: 900.0), 0.93)
    x, _, z = flown.model.propeller.place
    cg, plane = place(case.loading), flown.plane
    for trim, V in zip(found.trims, SPEEDS, strict=True):
        t, q = tailplane(case.line, float(V), cg), flown.air.density * V**2 / 2
        stream_body = trim.added * t.arm * q - trim.across * (cg[0] - x) + 900.0 * (z - cg[1])
        slope = plane.body_slopes[0] * plane.area * plane.chord * q * t.alpha
        assert 0 < stream_body / slope < 1.5  # what the body feels more: sqrt(r) - 1
        inside, outside = trim.part, 1 - trim.part
        per_elevator = q * t.elevator_slope * (outside + inside * trim.pressure) * 0.93
        assert_allclose(trim.powers[0] * q * plane.area * plane.chord, -per_elevator * t.arm, rtol=1e-9, atol=0)
        still = per_elevator * trim.elevators[0] - q * (t.carries + trim.added)  # what angle and setting must hold
        by_setting = q * t.by_setting * (outside + inside * trim.pressure) * 0.93
        by_angle = q * t.by_angle * (outside + inside * math.sqrt(trim.pressure)) * 0.93
        turned = -(still + by_setting + by_angle) / (q * t.slope * 0.93)  # by which the air at the tail is turned down
        assert -0.35 < turned < 0.02


def test_a_higher_thrust_line_wants_more_up_elevator(flown) -> None:
    low = pulling(flown, lambda V: 900.0)
    x, y, z = low.hub
    high = replace(low, hub=(x, y, z + 0.3))
    for a, b in zip(line_of(flown, "aftmost", low).trims, line_of(flown, "aftmost", high).trims, strict=True):
        moment = 900.0 * 0.3 / (flown.air.density * a.speed**2 / 2)
        t = tailplane(flown.cases["aftmost"].line, a.speed, place(flown.cases["aftmost"].loading))
        assert_allclose((a.added - b.added) * t.arm, moment, rtol=1e-6, atol=0)


def test_wakes_take_from_the_slipstream_and_unknown_ones_give_nothing(flown) -> None:
    push = pulling(flown, lambda V: 900.0)
    plain, behind = line_of(flown, "foremost", push), line_of(flown, "foremost", push, 0.8)
    assert all(abs(b.powers[0]) < abs(a.powers[0]) for a, b in zip(plain.trims, behind.trims, strict=True))
    assert not line_of(flown, "foremost", push, math.nan).elevator(25.0).known
    assert not plain.elevator(19.0).known and not plain.change(31.0).known  # outside the speeds


def test_the_first_variant_is_the_likely_one_and_lies_within(flown) -> None:
    assert VARIANTS[0] == (1.0, 1.0, 1.0)
    e = line_of(flown, "foremost", pulling(flown, lambda V: 900.0)).elevator(25.0)
    assert e.low < e.value < e.high


def test_results_at_the_speeds_they_name(ran) -> None:
    for name in MODELS:
        run = ran(name)
        flown = run.flight.flown
        for case in CASES:
            stall = flown.cases[case].stall.speed.value
            steps = run.result(f"flight.trim.{case}.off.climb").steps
            assert_allclose(steps[0].given[0][1], CLIMB * stall, rtol=1e-9, atol=0)
            slow = tailplane(flown.cases[case].line, SLOW * stall, place(flown.cases[case].loading))
            band = in_truth(type(run.result("mass.empty").band).exact(slow.elevator))
            told = run.result(f"flight.trim.{case}.off.slow")
            assert_allclose(told.value, band.value, rtol=1e-9, atol=0)
        hn = run.result("flight.neutral_point.power.climb")
        assert hn.low < hn.value < hn.high
        h = flown.cases["aftmost"].loading.fraction
        margin = run.result("flight.static_margin.power.aftmost")
        assert_allclose(margin.value, hn.value - h, rtol=1e-12, atol=0)


def test_more_up_at_the_slow_end_and_forward(ran) -> None:
    for name in MODELS:
        run = ran(name)
        e = {
            k: run.result(f"flight.trim.{k}").value
            for k in ("foremost.off.slow", "foremost.off.top", "aftmost.off.slow")
        }
        assert e["foremost.off.slow"] < e["aftmost.off.slow"] and e["foremost.off.slow"] < e["foremost.off.top"]


def test_without_a_curve_or_a_stall_all_is_unknown_with_a_reason(flown) -> None:
    flows = tail_flows(flown)
    none = pulls(flown, Mover(flown.model.engine, ()), flows)
    results = list(power_on_results(flown, none))
    assert results and all(not r.band.known and "curve" in r.caveat for r in results if "static_margin" not in r.id)
    checks = list(power_on_checks(flown, {r.id: r for r in results}))
    assert checks and all(c.verdict == "unknown" for c in checks)
    moved = flown.moved
    gone = {k: replace(f, pressure=type(f.pressure).exact(math.nan)) for k, f in flows.items()}
    blind = {r.id: r for r in power_on_results(flown, pulls(flown, moved, gone))}
    assert not blind["flight.trim.aftmost.full.climb"].band.known
    assert next(c for c in power_on_checks(flown, blind) if c.id == "flight.elevator.down").verdict == "unknown"


def test_pitching_by_hand(ran) -> None:
    run = ran("W2")
    step = run.result("flight.pitch.up").steps[0]
    g = {name: value for name, value, _ in step.given}
    by_hand = g["q"] * g["S"] * g["c"] * g["CM_e"] * (g["f"] * g["stop"] - g["e to trim, lattice"]) / g["I_yy"]
    assert_allclose(run.result("flight.pitch.up").value, by_hand, rtol=1e-12, atol=0)
    assert g["stop"] < 0 and run.result("flight.pitch.up").value > 0 > run.result("flight.pitch.down.off").value


def test_the_working_with_power_adds_up_by_hand(ran) -> None:
    for name in MODELS:
        r = ran(name).result("flight.trim.foremost.full.climb")
        g = {k: v for k, v, _ in r.steps[0].given}
        f1, f2 = 1 + g["P"] * (math.sqrt(g["r"]) - 1), 1 + g["P"] * (g["r"] - 1)
        angle = g["A/A' + b"] * f1 - g["w"] * g["P"] * math.sqrt(g["r"])
        e = ((g["A + I + E"] + g["X"]) / g["rw"] - g["A'"] * angle - g["I"] * f2) / (g["E'"] * f2)
        assert_allclose(e / g["f"], r.value, rtol=1e-9, atol=0)
