"""Sideways, told: what is between the speeds, balances, levels, refusals."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from numpy.testing import assert_allclose

from sparwright.air.body import apparent_mass
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.aileron import effect, more_drag
from sparwright.data.flying import rows
from sparwright.family.model import Body
from sparwright.flight.lateral import Lateral, full_rudder, lateral, power_left, spread
from sparwright.flight.modes import phases
from sparwright.flight.modes_told import mode_results
from sparwright.flight.motion import Modes, Pair
from sparwright.flight.roll import adverse_yaw, over_speeds, roll_at, roll_checks, roll_results, rolls, turned_inertia
from sparwright.flight.sides import Piece, Sides, body_in_sideslip, sides_at
from sparwright.flight.slip import Slip, slip_checks, slip_results, slips, steady
from sparwright.flight.work import Flown
from sparwright.run import RunResult


@pytest.fixture(scope="module")
def lat(ran: Callable[[str], RunResult]) -> Lateral:
    return lateral(ran("W2").flight.flown)


def test_between_the_speeds_is_what_is_worked_out_there(lat: Lateral) -> None:
    between = lat.sides("climb")
    there = sides_at(lat.flown, lat.case, lat.lift(lat.speeds["climb"]))
    for name in ("CYb", "Clb", "Cnb", "Clp", "Clr", "Cnr", "ClA", "CnR"):
        assert_allclose(between.value(name), there.value(name), rtol=0.03, err_msg=name)
    assert_allclose(between.alpha, there.alpha, atol=2e-3)


def test_signs_of_a_sound_aeroplane(lat: Lateral) -> None:
    s = lat.sides("approach")
    for name, sign in {"CYb": -1, "Clb": -1, "Cnb": 1, "Clp": -1, "Cnp": -1, "Clr": 1, "Cnr": -1, "ClA": 1, "CnA": -1,
                       "CnR": 1, "CYR": -1}.items():  # fmt: skip
        assert s.value(name) * sign > 0, name
        assert s.band(name).low < s.value(name) < s.band(name).high
    assert s.of("Cnb", "fin") > 0 > s.of("Cnb", "body")


def test_a_steady_slip_balances(lat: Lateral) -> None:
    s, r, a = lat.sides("approach"), 0.3, 0.3
    found = steady(s, r, a, (0.6, 0.7), {})
    stick = math.copysign(found.aileron * a * 0.7, -s.value("Clb") * found.angle)
    for m in "ln":
        sum_ = s.value(f"C{m}b") * found.angle + s.value(f"C{m}A") * stick + s.value(f"C{m}R") * -r * 0.6
        assert_allclose(sum_, 0, atol=1e-12)
    assert found.held_by == "rudder" and found.angle > 0 and found.bank > 0


def test_little_aileron_holds_the_slip_back(lat: Lateral) -> None:
    s = lat.sides("approach")
    free, held = (steady(s, 0.3, a, (0.6, 0.7), {}) for a in (0.3, 0.02))
    assert held.held_by == "aileron" and held.aileron == 1.0
    assert_allclose(held.angle / free.angle, 0.02 / (0.3 * free.aileron), rtol=1e-9)


def test_slips_and_yaw_have_bands_that_hold_the_likely(lat: Lateral) -> None:
    for key in ("slow", "approach"):
        likely, angle = slips(lat, key)
        assert isinstance(likely, Slip) and angle.low < angle.value < angle.high
    yaw = adverse_yaw(lat, "approach", rolls(lat)["approach"].helix, 0.3)
    assert yaw.aileron.value < 0 and yaw.rolling.value < 0
    assert yaw.both.low < yaw.both.value < yaw.both.high < 0
    assert 0 < full_rudder(lat.flown) < 0.6


def test_power_left_is_whole_in_cruise_and_less_when_slow(lat: Lateral) -> None:
    assert_allclose(power_left(lat, "cruise").value, 1.0)
    assert power_left(lat, "slow").value < power_left(lat, "takeoff").value < 1.0


def test_a_rate_at_any_speed(lat: Lateral) -> None:
    at = [roll_at(lat, v, 0.3).rate.value for v in (20.0, 25.0, 30.0)]
    assert at[0] < at[1] < at[2]
    curve = over_speeds(lat, 5)
    assert_allclose([curve[0].speed, curve[-1].speed], [lat.speeds["slow"], lat.speeds["cruise"]])
    assert_allclose(curve[-1].rate.value, rolls(lat)["cruise"].rate.value)


def test_every_phase_has_its_modes_with_bands(lat: Lateral) -> None:
    found = phases(lat)
    assert set(found) == {"climb", "cruise", "approach"}
    for p in found.values():
        band = p.band(lambda m: m.dutch_roll.damping)
        assert band.known and band.low < band.value < band.high
        assert p.modes and p.modes.roll < 0 and p.pitching and 0 < p.pitching.downwash < 1
        assert_allclose(p.modes.roll, -1 / p.band(lambda m: -1 / m.roll).value)


def test_a_mode_that_is_gone_at_an_end_has_no_band(lat: Lateral) -> None:
    p = phases(lat)["cruise"]
    gone = Modes(Pair(), Pair(), Pair())
    assert not replace(p, changed=(*p.changed, gone)).band(lambda m: m.dutch_roll.damping).known
    assert not replace(p, modes=gone).band(lambda m: m.roll).known


@pytest.fixture
def unstalled(lat: Lateral) -> Flown:
    """The same aeroplane where no stall is known."""
    case = lat.case
    none = replace(case, stall=replace(case.stall, speed=UNKNOWN))
    return replace(lat.flown, cases={**lat.flown.cases, "heaviest": none})


def test_without_a_stall_all_is_unknown_and_says_why(unstalled: Flown) -> None:
    none = lateral(unstalled)
    told = (*roll_results(none), *slip_results(none), *mode_results(none))
    assert len(told) > 60
    for r in told:
        assert math.isnan(r.value) and ("stalling speed unknown" in r.caveat or r.id == "flight.spin"), r.id
    by_id = {r.id: r for r in told}
    for c in (*roll_checks(by_id), *slip_checks(none, by_id)):
        assert c.verdict == "unknown" and c.caveat


def test_without_ailerons_there_is_no_slip(lat: Lateral) -> None:
    model = lat.flown.model
    bare = replace(model, wings=tuple(replace(w, aileron=None) for w in model.wings))
    none = lateral(replace(lat.flown, model=bare))
    by_id = {r.id: r for r in (*roll_results(none), *slip_results(none))}
    for id in ("flight.roll.helix", "flight.roll.yaw.rudder", "flight.sideslip.greatest", "flight.crosswind"):
        assert math.isnan(by_id[id].value) and "no wing has ailerons" in by_id[id].caveat
    assert math.isfinite(by_id["flight.roll.damping"].value)


def test_a_spin_is_not_computed_and_says_what_flies(lat: Lateral) -> None:
    spin = next(r for r in slip_results(lat) if r.id == "flight.spin")
    assert math.isnan(spin.value) and "cannot be computed" in spin.caveat and "23.221" in spin.caveat


def test_a_round_body_turns_away_with_twice_its_volume() -> None:
    """Munk: moment over q of a slender body of revolution, 2 (k2 - k1) volume."""
    x = np.linspace(0, 6, 61)
    d = 1.0 * np.sqrt(np.maximum(1 - (x / 3 - 1) ** 2, 0))
    body = tuple(
        Body(station=float(a), width=float(b), top=float(b) / 2, bottom=-float(b) / 2)
        for a, b in zip(x, d, strict=True)
    )
    force, most, moment = body_in_sideslip(body)
    assert_allclose(moment, 2 * apparent_mass(6.0) * math.pi / 6 * 6.0, rtol=2e-3)
    assert 0 < force < most
    assert_allclose(most, 2 * apparent_mass(6.0) * math.pi / 4, rtol=1e-6)


def test_inertia_is_turned_and_not_changed() -> None:
    I = np.array([[400.0, 0, -25], [0, 500, 0], [-25, 0, 800]])
    turned = turned_inertia(I, 0.2)
    assert_allclose(np.linalg.eigvalsh(turned), np.linalg.eigvalsh(I))
    assert_allclose(turned[1, 1], 500)
    assert_allclose(turned_inertia(turned, -0.2), I, atol=1e-9)
    rod = turned_inertia(np.diag([0.0, 1.0, 1.0]), math.pi / 2)  # a rod along x, seen from above
    assert_allclose(rod, np.diag([1.0, 1.0, 0.0]), atol=1e-12)


def test_ailerons_do_less_the_further_they_go() -> None:
    at = [effect(math.radians(d)) for d in (0, 5, 10, 15, 20, 25)]
    for a, b in zip(at, at[1:], strict=False):
        assert b.value < a.value
    assert all(b.low < b.value < b.high for b in at)
    assert not effect(math.radians(25.1)).known and not more_drag(0.5).known
    assert effect(-0.2) == effect(0.2)


def test_levels() -> None:
    roll, *_ = rows("roll", "B")
    assert [roll.met(x) for x in (1.0, 1.4, 2.0, 5.0, 11.0)] == [1, 1, 2, 3, 4]
    dutch = {r.of: r for r in rows("dutch_roll", "C")}
    assert [dutch["frequency"].met(x) for x in (1.2, 0.5, 0.3)] == [1, 2, 4]
    assert dutch["damping times frequency"].met(0.01) == 3  # none is set for level 3
    assert [r.met(math.inf) for r in rows("spiral", "C")] == [1]


def test_root_of_squares() -> None:
    band = spread(1.0, np.array([0.3, -0.4, 0.4, -0.3]))
    assert_allclose([band.low, band.high], [0.5, 1.5])


def test_pieces_add_up() -> None:
    s = Sides(0.5, 0.0, {"Cnb": (Piece("fin", 0.1, 0.08, 0.12), Piece("body", -0.03, -0.04, -0.02))})
    assert_allclose([s.value("Cnb"), s.of("Cnb", "fin"), s.of("Cnb", "drag")], [0.07, 0.1, 0.0])
    assert s.band("Cnb") == Band(s.value("Cnb"), 0.08 - 0.04, 0.12 - 0.02)
