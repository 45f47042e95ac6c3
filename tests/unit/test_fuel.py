"""The fuel system of a model: what is told, what is missing, what is wrong; heads by hand."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from types import SimpleNamespace

import pytest
from families import DEMO_FILE, problems
from numpy.testing import assert_allclose

from sparwright.base.axes import GRAVITY, up
from sparwright.base.check import Check, Result
from sparwright.base.quantity import parse
from sparwright.base.source import Band
from sparwright.data.fuel import OPENINGS
from sparwright.family.fuel import Fuel
from sparwright.flight.work import Flown
from sparwright.run import RunResult
from sparwright.systems.fuel import (
    Stand,
    along,
    demand,
    ground,
    hump,
    left,
    missing,
    opening,
    pumped,
    stands,
    undrained,
)
from sparwright.systems.fuel_checks import fuel_told
from sparwright.systems.tank import rim, volume

Ran = Callable[[str], RunResult]
DEMO = DEMO_FILE.read_text("utf-8")
INCH = 0.0254


@pytest.fixture(scope="module")
def flown(ran: Ran) -> Flown:
    """W1 flown."""
    return ran("W1").flight.flown


def fuel_of(flown: Flown) -> Fuel:
    assert flown.model.fuel
    return flown.model.fuel


def told(flown: Flown, fuel: Fuel | None) -> tuple[dict[str, Result], dict[str, Check]]:
    found = fuel_told(replace(flown, model=replace(flown.model, fuel=fuel)))
    return {r.id: r for r in found.results}, {c.id: c for c in found.checks}


def gravity(fuel: Fuel, **more: object) -> Fuel:
    """The same fed by gravity, with a float valve of a stated seat."""
    assert fuel.carburettor
    bare = replace(fuel.carburettor, least=None, most=None, seat=0.0035)
    return replace(fuel, pump=None, emergency=None, carburettor=bare, **more)  # type: ignore[arg-type]


def tank(fuel: Fuel, **changed: object) -> Fuel:
    return replace(fuel, tank=replace(fuel.tank, **changed))  # type: ignore[arg-type]


def test_the_demand_is_the_thirstiest_point(flown: Flown) -> None:
    wanted = max(
        parse(p, "power") * parse(c, "consumption") for p, c in (("45 hp", "0.45 kg/kWh"), ("44 hp", "0.48 kg/kWh"))
    ) / parse("6 lb/gal", "density")
    assert_allclose(demand(flown.model.engine), wanted, rtol=1e-12, atol=0)


def test_the_head_by_hand(flown: Flown) -> None:
    """h = z cos a - x sin a of outlet and carburettor, from the angle that is told."""
    fuel = fuel_of(flown)
    results, _ = told(flown, fuel)
    a = results["fuel.attitude.test"].value
    (x1, _, z1), (x2, _, z2) = fuel.tank.outlet, fuel.carburettor.place  # type: ignore[union-attr]
    by_hand = (z1 - z2) * math.cos(a) - (x1 - x2) * math.sin(a)
    assert_allclose(results["fuel.head.test"].value, by_hand, rtol=0, atol=1e-12)
    assert_allclose(a - results["fuel.attitude.climb"].value, math.radians(5), rtol=1e-12, atol=0)


def test_the_climb_is_where_thrust_over_weight_says(flown: Flown) -> None:
    """sin of the flight path is (T - D)/W at the speed told, and the nose stands alpha above it."""
    stand = stands(flown)["climb"]
    case = flown.cases["lightest"]
    q = flown.air.density * stand.speed**2 / 2
    CL = case.loading.mass * GRAVITY / (q * flown.plane.area)
    assert_allclose(stand.nose.value - stand.climb.value, float(case.line.states(CL).alpha[0]), rtol=0, atol=1e-9)
    assert stand.speed >= 1.2 * case.stall.speed.value * (1 - 1e-9)
    assert stand.nose.low < stand.nose.value < stand.nose.high


def test_the_ground_angle_by_hand(flown: Flown) -> None:
    """Tyres of 16 and 6 in at waterlines -34 and -12, stations 22 and 178: 156 sin a - 22 cos a = 8 - 3."""
    main, tail = flown.model.wheels[0], flown.model.wheels[1]
    wheels = (
        replace(main, place=(22 * INCH, 32 * INCH, -34 * INCH), diameter=16 * INCH),
        replace(tail, place=(178 * INCH, 0.0, -12 * INCH), diameter=6 * INCH),
    )
    a = ground(wheels).nose.value
    assert_allclose(156 * math.sin(a) - 22 * math.cos(a), 8 - 3, rtol=1e-12, atol=0)
    assert 0 < a < math.pi / 4
    assert ground(wheels[:1]).reason


def test_gravity_from_this_tank_does_not_climb_and_says_so(flown: Flown) -> None:
    results, checks = told(flown, gravity(fuel_of(flown)))
    check = checks["fuel.feed.test"]
    assert results["fuel.head.test"].value < 0
    assert check.value == 0.0 and check.verdict == "fail" and "150 %" in check.title and "23.955(b)" in check.rule
    assert_allclose(check.limit, 1.5 * demand(flown.model.engine), rtol=1e-12, atol=0)
    assert "fuel.feed.emergency" not in checks


def test_a_high_tank_feeds_by_gravity(flown: Flown) -> None:
    """The same system a metre up, its first line longer by as much."""
    fuel = gravity(fuel_of(flown))
    first = fuel.lines[0]

    def raised(p: tuple[float, float, float]) -> tuple[float, float, float]:
        return (p[0], p[1], p[2] + 1.0)

    t = fuel.tank
    high = replace(t, place=raised(t.place), outlet=raised(t.outlet), filler=raised(t.filler), drain=raised(t.drain))
    assert fuel.vent
    up_there = replace(fuel, tank=high, vent=replace(fuel.vent, run={k: raised(p) for k, p in fuel.vent.run.items()}),
                       lines=(replace(first, run={"outlet": high.outlet, **first.run}), *fuel.lines[1:]))  # fmt: skip
    results, checks = told(flown, up_there)
    assert checks["fuel.feed.test"].verdict == "pass"
    assert results["fuel.head.test"].value > 0.4
    low, value, top = (getattr(results["fuel.flow.test"], e) for e in ("low", "value", "high"))
    assert low < value < top
    assert results["fuel.flow.cap_off"].low < results["fuel.flow.climb"].low


def test_the_pump_gives_no_more_than_its_maker_says(flown: Flown) -> None:
    fuel = fuel_of(flown)
    results, checks = told(flown, fuel)
    assert fuel.pump
    assert results["fuel.flow.test"].high == fuel.pump.flow
    assert pumped(fuel.pump, 0.0) == fuel.pump.shut and pumped(fuel.pump, fuel.pump.flow) == fuel.pump.pressure
    assert "125 %" in checks["fuel.feed.test"].title and "23.955(c)" in checks["fuel.feed.test"].rule
    weak = replace(fuel, pump=replace(fuel.pump, flow=parse("5 gal/h", "flow")))
    assert told(flown, weak)[1]["fuel.feed.test"].verdict == "fail"


def test_two_pumps_on_one_drive_are_not_two(flown: Flown) -> None:
    fuel = fuel_of(flown)
    assert fuel.emergency
    for other in (None, replace(fuel.emergency, drive="engine")):
        check = told(flown, replace(fuel, emergency=other))[1]["fuel.feed.emergency"]
        assert check.verdict == "unknown" and ("[fuel.emergency]" in check.caveat or "drive" in check.caveat)


def test_a_tank_that_holds_less_than_asked_is_told_with_its_number(flown: Flown) -> None:
    fuel = fuel_of(flown)
    x, y, z = fuel.tank.filler
    _, checks = told(flown, tank(fuel, filler=(x, y, z - 0.1 * fuel.tank.height)))
    check = checks["fuel.capacity"]
    assert check.verdict == "fail" and "W1-fuel-TANK" in check.title
    assert check.limit == pytest.approx(parse("60 lb", "mass"))


def test_unusable_fuel_is_the_worst_stand_and_holds_the_sump(flown: Flown) -> None:
    fuel = fuel_of(flown)
    results, _ = told(flown, fuel)
    each = [r.value for id, r in results.items() if id.startswith("fuel.unusable.")]
    assert len(each) == 6 and results["fuel.unusable"].value == max(each) >= min(each) >= fuel.tank.sump
    assert results["fuel.unusable.slip_right"].value == pytest.approx(results["fuel.unusable.slip_left"].value)
    assert results["fuel.usable"].value == pytest.approx(results["fuel.tank.filled"].value - max(each))


def test_a_sump_empties_no_corner_behind_its_rim(flown: Flown) -> None:
    """Nose up by a, sump in the middle: a wedge of half the length stays behind the rim, however deep the outlet lies.

    L/2 x (L/2) tan a/2 x W, and the sump itself.
    """
    fuel, a = fuel_of(flown), 0.2
    t = fuel.tank
    assert t.sump > 0 and t.outlet[0] == t.place[0] and t.length / 2 * math.tan(a) < t.height
    wedge = (t.length / 2) ** 2 * math.tan(a) / 2 * t.width
    for deep in (0.02, 0.5):
        low = tank(fuel, outlet=(*t.outlet[:2], t.place[2] - t.height / 2 - deep))
        for nose in (a, -a):
            stays = left(low, Stand("nose up or down", Band.exact(nose)))
            assert_allclose(stays.value, wedge + t.sump, rtol=1e-9, atol=0)
            assert stays.low == stays.value == stays.high


def test_what_no_drain_lets_out_by_hand(flown: Flown) -> None:
    """On three wheels: a drain in the middle's sump leaves the rear wedge, one at the rear edge nothing.

    Without the filter's drain the sump is let out by a drain in itself only.
    """
    fuel, a = fuel_of(flown), 0.2
    t, standing = fuel.tank, Stand("standing", Band.exact(a))
    wedge = (t.length / 2) ** 2 * math.tan(a) / 2 * t.width
    bottom = t.place[2] - t.height / 2
    rear, in_sump = (t.place[0] + t.length / 2, 0.0, bottom), (t.place[0], 0.0, bottom - 0.05)
    assert fuel.filter and fuel.filter.drains
    shut = replace(fuel, filter=replace(fuel.filter, drains=False))
    found = [undrained(tank(f, drain=d), standing) for f in (fuel, shut) for d in (in_sump, rear)]
    assert_allclose(found, [wedge, 0.0, wedge, t.sump], rtol=1e-9, atol=1e-12)
    bare = tank(fuel, drain=in_sump)
    check = told(flown, bare)[1]["fuel.drain"]
    standing = stands(flown)["ground"]
    assert check.verdict == "fail" and check.value == undrained(bare, standing) / (volume(t) + t.sump)


def test_the_rim_of_a_sump(flown: Flown) -> None:
    """In the bottom of a box; in the round of a cylinder, 0.6 of the radius off its middle; none without a sump."""
    t = fuel_of(flown).tank
    x, y, z = t.place
    assert rim(t, (x, y, z - 1.0)) == (x, y, z - t.height / 2)
    assert rim(t, (x, y, z)) == (x, y, z)
    r = t.length / 2
    round_ = replace(t, shape="cylinder", axis="across", height=2 * r)
    assert_allclose(rim(round_, (x + 0.6 * r, y, z - 1.0)), (x + 0.6 * r, y, z - 0.8 * r), rtol=1e-12, atol=1e-12)
    assert rim(replace(t, sump=0.0), (x, y, z - 1.0)) == (x, y, z - 1.0)


@pytest.mark.parametrize("gone", ["vent", "lines", "valve", "filter", "carburettor"])
def test_what_is_left_out_makes_the_flow_unknown_and_is_named(flown: Flown, gone: str) -> None:
    key = f"[fuel.{gone}]"
    fuel = replace(fuel_of(flown), **{gone: () if gone == "lines" else None})  # type: ignore[arg-type]
    results, checks = told(flown, fuel)
    assert key in missing(fuel)
    for name in ("level", "test"):
        assert checks[f"fuel.feed.{name}"].verdict == "unknown" and key in checks[f"fuel.feed.{name}"].caveat
        assert math.isnan(results[f"fuel.flow.{name}"].value)
    assert all(c.caveat for c in checks.values() if c.verdict == "unknown")


def test_no_bank_no_unusable_fuel(flown: Flown) -> None:
    results, checks = told(flown, replace(fuel_of(flown), bank=None))
    assert math.isnan(results["fuel.unusable"].value) and "bank of [fuel]" in results["fuel.unusable"].caveat
    assert checks["fuel.least"].verdict == "unknown"


def test_no_fuel_system_is_one_unknown(flown: Flown) -> None:
    results, checks = told(flown, None)
    assert not results and [c.verdict for c in checks.values()] == ["unknown"]
    assert "[fuel]" in checks["fuel.feed.test"].caveat


def test_alcohol_in_a_glass_tank_fails_and_an_unknown_pair_is_unknown(flown: Flown) -> None:
    glass = tank(fuel_of(flown), material="glass-epoxy", fuels=("avgas", "mogas", "mogas-e10"))
    _, checks = told(flown, glass)
    assert checks["fuel.kind.avgas"].verdict == "pass"
    assert checks["fuel.kind.mogas-e10"].verdict == "fail" and "glass-epoxy" in checks["fuel.kind.mogas-e10"].caveat
    assert checks["fuel.kind.mogas"].verdict == "unknown" and "soak a sample" in checks["fuel.kind.mogas"].caveat


def test_a_hump_in_the_line_is_told(flown: Flown) -> None:
    fuel = fuel_of(flown)
    assert fuel.filter
    valve, top = fuel.lines[0].run["valve"], (0.2, 0.127, 0.1)
    over = replace(fuel.lines[1], run={"valve": valve, "over": top, "filter": fuel.filter.place})
    humped = replace(fuel, lines=(fuel.lines[0], over, *fuel.lines[2:]))
    assert_allclose(hump(humped, up(0.0)), top[2] - valve[2], rtol=0, atol=1e-12)  # the valve is the lowest before it
    assert hump(fuel, up(0.0)) == 0.0
    assert told(flown, humped)[1]["fuel.trap.ground"].verdict == "fail"


def test_a_vent_that_never_rises_over_the_fuel_would_siphon(flown: Flown) -> None:
    fuel = fuel_of(flown)
    assert fuel.vent
    assert told(flown, fuel)[1]["fuel.vent.siphon"].verdict == "pass"
    low = replace(fuel.vent, run={"tank": (fuel.vent.inside[0], 0.0, 0.1), "opening": fuel.vent.opening})
    _, checks = told(flown, replace(fuel, vent=low))
    assert checks["fuel.vent.siphon"].verdict == checks["fuel.vent.level"].verdict == "fail"


def test_pressure_along_the_line_adds_up(flown: Flown) -> None:
    """At no flow it is rho g h below the outlet, and behind the pump by what it adds with nothing flowing."""
    fuel, engine = fuel_of(flown), flown.model.engine
    stand = stands(flown)["ground"]
    found = dict(along(fuel, engine, stand, 0.0, 0.0))
    n = stand.up("worst")
    rho_g = engine.fuel_density * GRAVITY

    def over(a: tuple[float, float, float], b: tuple[float, float, float]) -> float:
        return rho_g * sum(k * (p - q) for k, p, q in zip(n, a, b, strict=True))

    assert fuel.filter and fuel.carburettor and fuel.pump
    assert_allclose(found["filter"], over(fuel.tank.outlet, fuel.filter.place), rtol=1e-9, atol=1e-6)
    wanted = over(fuel.tank.outlet, fuel.carburettor.place) + fuel.pump.shut
    assert_allclose(found["carburettor"], wanted, rtol=1e-9, atol=1e-6)


def test_a_valve_in_the_tanks_outlet_counts_along_the_line(flown: Flown) -> None:
    """Moved there from the first line's end it takes the same, and as much is left at the end."""
    fuel, engine, flow = fuel_of(flown), flown.model.engine, 8e-6
    stand = stands(flown)["ground"]
    assert fuel.valve
    at_tank = replace(fuel, valve=replace(fuel.valve, place=fuel.tank.outlet))
    before, after = (dict(reversed(list(along(f, engine, stand, flow, 0.0)))) for f in (fuel, at_tank))
    assert_allclose(
        after["outlet"] - after["outlet, behind it"], before["valve"] - before["valve, behind it"], rtol=1e-6
    )
    assert after["outlet"] - after["outlet, behind it"] > 10.0
    assert_allclose(after["carburettor"], before["carburettor"], rtol=1e-9)


def test_more_than_any_line_carries_is_unknown_and_says_so(flown: Flown) -> None:
    """A metre of head through lines of 50 mm."""
    fuel = gravity(fuel_of(flown))
    x, y, z = fuel.tank.outlet
    assert fuel.valve and fuel.filter and fuel.carburettor
    wide = replace(
        fuel,
        lines=tuple(replace(line, bore=0.05) for line in fuel.lines),
        valve=replace(fuel.valve, bore=0.05),
        filter=replace(fuel.filter, loss=1e-9),
        carburettor=replace(fuel.carburettor, seat=None, least=0.0),
        tank=replace(fuel.tank, outlet=(x, y, z + 3.0)),
    )
    results, checks = told(flown, wide)
    assert checks["fuel.feed.level"].verdict == "unknown" and "m3/s" in checks["fuel.feed.level"].caveat
    assert math.isnan(results["fuel.flow.level"].value)


def spoiled(old: str, new: str) -> str:
    at = DEMO.index(old, DEMO.index("[fuel]\n"))
    return DEMO[:at] + new + DEMO[at + len(old) :]


@pytest.mark.parametrize(
    ("old", "new", "key", "said"),
    [
        ('fuels = ["avgas", "mogas"]', 'fuels = ["avgas", "petrol"]', "fuel.tank.fuels.1", "is not a fuel we know"),
        ('outlet = ["19 in", "0 in", "-5 in"], valve', 'outlet = ["18 in", "0 in", "-5 in"], valve',
         "fuel.lines.tank_line.run.outlet", "must begin at the tank's outlet"),
        ('filler = ["19 in", "0 in", "8-3/4 in"]', 'filler = ["19 in", "0 in", "12 in"]', "fuel.tank.filler",
         "must lie in the tank"),
        ('outlet = ["19 in", "0 in", "-5 in"] #', 'outlet = ["19 in", "0 in", "3 in"] #', "fuel.tank.outlet",
         "below the tank"),
        ('outlet = ["19 in", "0 in", "-5 in"] #', 'outlet = ["29 in", "0 in", "-5 in"] #', "fuel.tank.outlet",
         "must lie in the tank"),
        ('wire = "0.020 in"', 'wire = "0.2 in"', "fuel.tank.screen.wire", "thinner than the mesh"),
        ('bore = "0.305 in"', 'bore = "0.5 in"', "fuel.lines.tank_line.outside", "more than the bore"),
        ('replaces = ["fuel_tank"', 'replaces = ["fuel_tnk"', "fuel.replaces.0", "fuel_tank"),
        ('place = ["-10-1/2 in", "5 in", "-10-1/2 in"]', 'place = ["-11 in", "5 in", "-10-1/2 in"]', "fuel.pump.place",
         "must be a place of a line"),
        ('shape = "box"', 'shape = "cylinder"', "fuel.tank.length", "has its diameter as length"),
        ('bank = "10 deg"', 'bank = "60 deg"', "fuel.bank", "at most 45 deg"),
        ('flow = "15 gal/h"', 'flow = "15 gal"', "fuel.filter.flow", "flow"),
    ],
)  # fmt: skip
def test_a_bad_fuel_system_is_told(old: str, new: str, key: str, said: str) -> None:
    found = [p for p in problems(spoiled(old, new)) if p.key == key]
    assert found and any(said in f"{p.wanted} {p.read}" for p in found), problems(spoiled(old, new))


def test_pressure_at_an_opening_is_a_share_of_that_of_the_wind() -> None:
    """At 30 m/s in air of 1.2 kg/m3 the wind presses with 540 Pa."""
    value = OPENINGS["forward"]
    found = opening(value, SimpleNamespace(speed=30.0), 1.2)  # type: ignore[arg-type]
    assert_allclose([found.value, found.low, found.high], [540 * v for v in (value.value, value.low, value.high)])
