"""What forces on stick and pedals must do whatever the numbers: points found two ways, scaling, symmetry, energy."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from demo import ran, whinchat
from numpy.testing import assert_allclose

from sparwright.air.odd_rows import odd_rows, rolling_moment
from sparwright.air.rolling import odd
from sparwright.base.axes import GRAVITY
from sparwright.base.source import Band
from sparwright.controls.chain import moving
from sparwright.controls.trim import sets, stick_force
from sparwright.flight.aeroplane import EFFECTIVE
from sparwright.flight.trim import attached
from sparwright.flight.work import LEVEL_CL, Case
from sparwright.handling.flap import Flap, flap
from sparwright.handling.made import Made, made
from sparwright.handling.pitch import best_lever, force, free, held, level, pulled
from sparwright.handling.roll import full, rate, side_force, sides, stream
from sparwright.handling.spread import Sure
from sparwright.handling.yaw import body_turning, full_rudder, slip_rudder
from sparwright.shape.lifting import camber, thickness

RHO = 1.225


@cache
def built(name: str = "W1") -> Made:
    r = ran(name)
    model = r.flight.flown.model
    return made(r.flight.flown, moving(model, model.controls)[1], {one.id: one for one in r.results})


def moved(m: Made, fraction: float) -> Case:
    """The heaviest loading with its centre of gravity elsewhere, by the lattice alone."""
    plane, case = m.flown.plane, m.case("heaviest")
    station = plane.chord_station + fraction * plane.chord
    loading = replace(case.loading, station=station, fraction=fraction)
    return Case(loading, attached(plane, (station, loading.waterline), loading.mass, m.flown.air), case.stall)


def plain(m: Made) -> Flap:
    """The elevator over the whole span, a real flap as the lattice has it."""
    model = m.flown.model
    return flap(m.flown.plane.company, camber(model), thickness(model), m.flown.plane.tail)


def crossing(x: list[float], y: list[float]) -> float:
    """Where a straight line through two points is nought."""
    return x[0] - y[0] * (x[1] - x[0]) / (y[1] - y[0])


def test_elevator_per_g_vanishes_at_the_manoeuvre_point() -> None:
    """Two centres of gravity, a pull of 2 % of g: nought where `free` says that the manoeuvre point lies."""
    m, at = built(), [0.40, 0.55]
    f, found = plain(m), []
    for h in at:
        case = moved(m, h)
        speed = math.sqrt(2 * case.line.mass * GRAVITY / (RHO * m.flown.plane.area * LEVEL_CL))
        one, two = (pulled(case, f, speed, n, RHO) for n in (1.0, 1.02))
        found.append(two.elevator - one.elevator)
    here = moved(m, 0.45)
    hn = m.flown.neutral_point.value
    point = hn + free(here, f, LEVEL_CL, RHO, hn - 0.45).damping
    assert_allclose(crossing(at, found), point, rtol=0, atol=0.02)


def test_force_per_g_vanishes_at_the_manoeuvre_point_stick_free() -> None:
    """The air's moments alone: no weight, no spring; gearing in neutral, so that its change does not count."""
    m, at = built(), [0.35, 0.50]
    f, real, found = plain(m), plain(m).real, []
    for h in at:
        case = moved(m, h)
        speed = math.sqrt(2 * case.line.mass * GRAVITY / (RHO * m.flown.plane.area * LEVEL_CL))
        one, two = (pulled(case, f, speed, n, RHO) for n in (1.0, 1.02))
        moments = [real.angle * s.angle + real.flap * s.flap * s.elevator / EFFECTIVE.value for s in (one, two)]
        found.append(moments[1] - moments[0])
    hn, here = m.flown.neutral_point.value, moved(m, 0.45)
    x = free(here, f, LEVEL_CL, RHO, hn - 0.45)
    assert_allclose(crossing(at, found), hn + x.neutral.value + x.damping_free.value, rtol=0, atol=0.02)


def test_let_go_the_neutral_point_moves_forward_and_less_so_where_the_stream_does_less() -> None:
    m = built()
    f, hn = m.pitch.flap, m.flown.neutral_point.value
    x = free(m.case("heaviest"), f, LEVEL_CL, RHO, 0.1)
    assert x.neutral.value < 0 and x.floats.value < 0 < x.damping_free.value < x.damping
    less = free(m.case("heaviest"), replace(f, real=replace(f.real, angle=f.real.angle / 2)), LEVEL_CL, RHO, 0.1)
    assert x.neutral.value < less.neutral.value < 0
    none = free(m.case("heaviest"), replace(f, real=replace(f.real, angle=0.0)), LEVEL_CL, RHO, 0.1)
    assert_allclose(none.neutral.value, 0.0, rtol=0, atol=1e-12)
    assert hn > 0.3


def test_the_air_moment_goes_with_the_dynamic_pressure_at_one_lift() -> None:
    m = built()
    case = m.case("aftmost")
    slow = level(case, m.pitch.flap, 28.0, RHO)
    thin = level(case, m.pitch.flap, 28.0 * math.sqrt(2), RHO / 2)  # the same CL, the same q
    heavy = replace(case, line=replace(case.line, mass=2 * case.line.mass))
    fast = level(heavy, m.pitch.flap, 28.0 * math.sqrt(2), RHO)  # the same CL, twice q
    assert_allclose([thin.angle, thin.flap], [slow.angle, slow.flap], rtol=1e-9)
    assert_allclose([fast.angle, fast.flap], [2 * slow.angle, 2 * slow.flap], rtol=1e-9)


def test_the_trim_takes_all_of_it_where_it_can() -> None:
    m = built()
    case, speeds = m.case("heaviest"), np.linspace(22.0, 27.0, 21)
    left = []
    for v in speeds:
        at = level(case, m.pitch.flap, float(v), RHO)
        left.append(held(m.pitch, at, best_lever(m.pitch, at)).trimmed.value)
    good = np.abs(left) < 0.02
    assert good.any() and not good.all()
    assert left[0] > 0 > left[-1]  # a pull to fly slower, a push to fly faster


def test_a_weightless_elevator_without_stream_asks_for_nothing() -> None:
    m = built()
    at = replace(level(m.case("heaviest"), m.pitch.flap, 30.0, RHO), angle=0.0, elevator=0.0)
    assert force(m.pitch, at, Sure(m.pitch.flap.real)) == 0.0
    assert force(m.pitch, at, Sure(m.pitch.flap.real, weight=2.0)) == pytest.approx(2.0 * float(m.pitch.gear.at(0.0)))


@pytest.mark.parametrize("name", ["W1", "W3"])
def test_the_spring_that_is_asked_often_is_the_spring_that_is_told(name: str) -> None:
    model = whinchat().models[name]
    c, motion = model.controls, moving(model, model.controls)[1][0]
    fast, ends = stick_force(model, c, c.trim), {e.hand: e.stance.angles["stick"] for e in motion.ends}
    for s in sets(model, c, c.trim, motion):
        if "right" not in s.word and "left" not in s.word:
            assert_allclose(fast(ends.get(s.word, 0.0), s.lever), s.stick, rtol=1e-9)


@pytest.mark.parametrize("name", ["W1", "W3"])
def test_odd_rows_are_those_of_the_rolling_moments(name: str) -> None:
    m = built(name)
    company, alpha = m.flown.plane.company, 0.07
    rows, sums = odd_rows(company, alpha), odd(company.mesh, alpha)
    assert_allclose(rolling_moment(company.mesh, rows.rolling), sums.damping, rtol=1e-10)
    for wing, moment in sums.ailerons.items():
        assert_allclose(rolling_moment(company.mesh, rows.ailerons[wing]), moment, rtol=1e-3)


@pytest.mark.parametrize("name", ["W1", "W3"])
def test_ailerons(name: str) -> None:
    m = built(name)
    s, most = m.rolled["cruise"], full(m.ailerons)
    assert_allclose(side_force(s, m.ailerons, 0.0, True).value, 0.0, rtol=0, atol=1e-9)
    rolls, holds = (side_force(s, m.ailerons, most, r).value for r in (True, False))
    assert 0 < rolls < holds  # rolling unloads them
    sums = odd(m.flown.plane.company.mesh, float(m.case("heaviest").line.states(_lift(m)).alpha[0]))
    turning = sum(sums.ailerons[a.flap.name] * sum(a.angles(most)) / 2 for a in m.ailerons)
    wanted = EFFECTIVE.value * turning / -sums.damping  # as flight/roll.py has it
    assert_allclose(rate(s, m.ailerons, most, EFFECTIVE.value), wanted, rtol=1e-3)
    light = replace(m.case("heaviest"), line=replace(m.case("heaviest").line, mass=2 * m.case("heaviest").line.mass))
    double = stream(light, m.ailerons, m.speeds["cruise"], 2 * RHO, s.odd)
    assert_allclose(side_force(double, m.ailerons, most, True).value, 2 * rolls, rtol=1e-6)


@pytest.mark.parametrize("name", ["W1", "W3"])
def test_the_stick_to_the_left_is_the_mirror(name: str) -> None:
    """Ailerons that go up and down by different angles droop alike whichever way the stick goes."""
    m = built(name)
    s, sure, way = m.rolled["cruise"], Sure(m.ailerons[0].flap.real), 0.8 * full(m.ailerons)
    for rolls in (True, False):
        right, left = (
            sum(x.force(s.pressure, sure) for x in sides(s, m.ailerons, w, EFFECTIVE.value, rolls)) for w in (way, -way)
        )
        assert_allclose(left, -right, rtol=1e-9)


def _lift(m: Made) -> float:
    return m.case("heaviest").line.mass * GRAVITY / (m.pressure("cruise") * m.flown.plane.area)


def test_virtual_work_of_the_ailerons() -> None:
    """The force over a little way is what the hinges do over their little angles, right and left."""
    m = built("W3")
    s, way, h = m.rolled["cruise"], 0.85 * full(m.ailerons), 1e-3
    found = sides(s, m.ailerons, way, EFFECTIVE.value, False)
    sure, work = Sure(m.ailerons[0].flap.real), 0.0
    for a, x in zip(m.ailerons, found, strict=True):
        (u1, v1), (u0, v0) = a.angles(way + h), a.angles(way - h)
        right = sure.real.angle * x.right.angle - sure.real.flap * x.right.flap * x.up
        left = sure.real.angle * x.left.angle + sure.real.flap * x.left.flap * x.down
        work += s.pressure * (right * (u1 - u0) - left * (v1 - v0)) / (2 * h)
    assert_allclose(sum(x.force(s.pressure, sure) for x in found), work, rtol=0.003)


def test_odd_loads_of_one_angle_serve_another() -> None:
    m = built("W3")
    company = m.flown.plane.company
    found = [odd_rows(company, math.radians(a)) for a in (0.0, 10.0)]
    for values in ([x.rolling for x in found], *([x.ailerons[a.flap.name] for x in found] for a in m.ailerons)):
        low, high = (rolling_moment(company.mesh, v) for v in values)
        assert_allclose(high, low, rtol=0.07)


def test_pedals() -> None:
    m = built()
    r, q = m.rudder, m.pressure("cruise")
    spring = float(np.interp(r.stop, r.gear.surface, r.springs))
    one, two = (full_rudder(r, x).value - spring for x in (q, 2 * q))
    assert one > 0 and spring > 0
    assert_allclose(two, 2 * one, rtol=1e-9)
    assert slip_rudder(r, 0.85, 1.55, body=2.0) > slip_rudder(r, 0.85, 1.55) > -1 / (0.85 * r.slopes.flap_part)
    assert body_turning(m.flown.model.fuselage.body) > 0
    longer = replace(r, weight=2 * r.weight)
    assert_allclose(full_rudder(longer, q).value - spring, 2 * one, rtol=1e-9)


def test_bands_hold_their_values() -> None:
    m = built()
    at = level(m.case("aftmost"), m.pitch.flap, 30.0, RHO)
    sure = held(m.pitch, at, 0.0).trimmed
    assert sure.low < sure.value < sure.high
    wider = held(replace(m.pitch, weight=Band(m.pitch.weight.value, 0.0, 2 * m.pitch.weight.value)), at, 0.0).trimmed
    assert wider.low < sure.low and wider.high > sure.high and wider.value == pytest.approx(sure.value)
