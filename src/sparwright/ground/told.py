"""The aeroplane on the ground told as results and checks: `ground.*`."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Result, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.ground import rule
from sparwright.family.model import spoken
from sparwright.flight.fly import Flight
from sparwright.flight.slow import TITLES
from sparwright.ground.balance import Stands
from sparwright.ground.brakes import brake_checks, brake_results
from sparwright.ground.castor import castor_checks, castor_results
from sparwright.ground.springs import spring_checks, spring_results
from sparwright.ground.work import CORNERS, OnGround, work_out
from sparwright.mass.record import Balance

METHOD = "geometry of wheels under weight (ground/pose.py)"
STATICS = "statics about the main wheels' contact (ground/balance.py)"
BANDED = "ends: balance with its band, wheels under weight or hanging; height of the centre of gravity without a band"
SPRUNG = "low: under weight at the greatest mass; high: nothing on the wheels"
WHERE = {
    "level": "thrust line level on the main wheels",
    "tail_down": "on all three wheels",
    "flat": "level, one main tyre flat and its leg at its stop",
    "banked": "tilted by the stated bank, level or tail down, the lower",
}


def on_ground(balance: Balance, flight: Flight) -> tuple[OnGround, tuple[Result, ...], tuple[Check, ...]]:
    """A flown model on the ground: worked out, told, and held against the rules of data/ground.toml."""
    stands_so = work_out(flight.flown.model, balance)
    results = tuple(_results(stands_so, flight))
    return stands_so, results, tuple(_checks(stands_so, {r.id: r for r in results}))


def _told(band: Band, id: str, title: str, unit: str, source: str, why: str, note: str,
          steps: tuple[Step, ...] = (), parents: tuple[str, ...] = ()) -> Result:  # fmt: skip
    """A band as a result; with the reason instead of the note where it is unknown."""
    return Result(id, title, band.value, unit, band.low, band.high, source, note if band.known else why,
                  steps if band.known else (), parents)  # fmt: skip


def _results(on: OnGround, flight: Flight) -> Iterator[Result]:
    yield _attitude(on)
    yield from _clearances(on)
    yield from _tilts(on)
    yield _tyre(on)
    for name in CORNERS:
        yield from _corner(on, name, flight)
    yield _parked(on)
    yield _stall_spare(flight)
    yield from spring_results(on)
    yield from castor_results(on)
    yield from brake_results(on, flight)


def _attitude(on: OnGround) -> Result:
    title = "attitude of the thrust line standing on three points, under weight"
    if on.stood.rest is None or on.stood.hanging is None:
        return _told(UNKNOWN, "ground.attitude", title, "rad", METHOD, on.why, "")
    rest = on.stood.rest
    a = on.poses["tail_down"].attitude
    dx, dz = (rest.right.place[i] - rest.tail.place[i] for i in (0, 2))
    given = (("dx", dx, "m"), ("dz", dz, "m"),
             ("r1", rest.right.diameter / 2, "m"), ("r2", rest.tail.diameter / 2, "m"))  # fmt: skip
    step = Step("both tyres on the ground", "dz cos a - dx sin a = r1 - r2", given, a, "rad", METHOD)
    note = "main and tail wheel as they stand still at the greatest mass; hanging: flight.ground.attitude"
    return _told(Band.exact(a), "ground.attitude", title, "rad", METHOD, on.why, note, (step,))


def _clearances(on: OnGround) -> Iterator[Result]:
    """Propeller and wings in each pose."""
    whys = {"flat": on.why_flat, "banked": on.why_bank}
    things = {"propeller": "propeller", **{f"wing.{w.name}": w.name for w in on.model.wings}}
    for key, what in things.items():
        for pose, where in WHERE.items():
            title = f"lowest point of the {spoken(what)} above the ground, {where}"
            band = on.height(pose, what)
            note = SPRUNG if pose in ("level", "tail_down") else "under weight at the greatest mass"
            note += "" if what == "propeller" else "; ailerons down where that is lower"
            steps = tuple(_height_steps(on, pose, what, band))
            why = on.why or whys.get(pose, "")
            yield _told(band, f"ground.{key}.{pose}", title, "m", METHOD, why, note, steps)


def _height_steps(on: OnGround, pose: str, what: str, band: Band) -> Iterator[Step]:
    """How the propeller's height comes about."""
    found = on.poses.get(pose)
    if what != "propeller" or found is None:
        return
    x, _, z = on.model.propeller.place
    up, r = found.up, on.model.propeller.diameter / 2
    given = (("attitude", found.attitude, "rad"), ("bank", found.bank, "rad"), ("x", x, "m"), ("z", z, "m"),
             ("nx", float(up[0]), "1"), ("ny", float(up[1]), "1"), ("nz", float(up[2]), "1"), ("R", r, "m"),
             ("ground g", found.ground, "m"))  # fmt: skip
    yield Step("lowest of the disc", "x nx + z nz - R sqrt(ny^2 + nz^2) - g", given, band.value, "m", METHOD)


def _tilts(on: OnGround) -> Iterator[Result]:
    for pose, words in (("level", "thrust line level"), ("tail_down", "tail wheel down")):
        t = on.touches.get(pose)
        title = f"tilt over one main wheel at which something else touches, {words}"
        why = on.why or "nothing touches before 80 deg"
        band = Band.exact(t.bank) if t else UNKNOWN
        note = f"the {spoken(t.what)} touches first; ailerons down, wheels under weight" if t and t.what else ""
        yield _told(band, f"ground.tilt.{pose}", title, "rad", METHOD, why, note)


def _tyre(on: OnGround) -> Result:
    distance, wing = on.tyre
    why = on.why or on.why_flat
    note = f"nearest is the {spoken(wing)}; anywhere on the leg's way from hanging to its stop" if wing else ""
    title = "least distance from a main tyre to a wing"
    return _told(Band.exact(distance), "ground.tyre", title, "m", METHOD, why, note)


def _corner(on: OnGround, name: str, flight: Flight) -> Iterator[Result]:
    """Everything of one corner of balance."""
    words, s, cg = TITLES[name], on.corners.get(name), (f"mass.cg.{name}",)

    def told(id: str, title: str, unit: str, of: str, formula: str, level: bool = False) -> Result:
        band = s.band(lambda x: float(getattr(x, of)), level) if s else UNKNOWN
        step = (Step(title, formula, _given(s, level), band.value, unit, STATICS),) if s else ()
        return _told(band, f"ground.{id}.{name}", f"{title}, {words}", unit, STATICS, on.why, BANDED, step, cg)

    ahead = "main wheels' contact ahead of the centre of gravity"
    yield told("angle.level", f"{ahead}, against the vertical, level", "rad", "ahead", "atan(d/h)", True)
    yield told("angle.tail_down", f"{ahead}, against the vertical, tail down", "rad", "ahead", "atan(d/h)")
    yield told("brake", "braking, of gravity, that lifts a level tail further", "1", "braking", "a/g = d/h", True)
    yield told("side", "main wheel beside the centre of gravity, off the vertical", "rad", "beside", "atan(y/h)")
    over = "atan(h/e), e = y (B - d)/sqrt(B^2 + y^2)"
    yield told("turn_over", "turn-over angle about main and tail wheel, against the ground", "rad", "turn_over", over)
    yield _tail_load(on, name, s)
    yield _run_up(on, name, s, flight)


def _given(s: Stands, level: bool) -> tuple[tuple[str, float, str], ...]:
    x = (s.level if level else s.down)[0]
    return ("d", x.behind, "m"), ("h", x.above, "m"), ("y", x.side, "m"), ("B", x.base, "m")


def _tail_load(on: OnGround, name: str, s: Stands | None) -> Result:
    """Load on the tail wheel at rest."""
    title, id = f"load on the tail wheel at rest, {TITLES[name]}", f"ground.tail_load.{name}"
    if s is None:
        return _told(UNKNOWN, id, title, "N", STATICS, on.why, "")
    mass = s.loading.mass
    band = s.band(lambda x: x.tail_share * mass * GRAVITY)
    given = (("m", mass, "kg"), ("g", GRAVITY, "m/s2"), *_given(s, False)[::3])
    step = Step("load on the tail wheel", "m g d/B", given, band.value, "N", STATICS)
    note = f"{100 * s.down[0].tail_share:.1f} % of the weight; {BANDED}"
    return _told(band, id, title, "N", STATICS, on.why, note, (step,), (f"mass.cg.{name}",))


def _run_up(on: OnGround, name: str, s: Stands | None, flight: Flight) -> Result:
    """What holds the tail down over what lifts it, full throttle against the brakes."""
    title = f"weight that holds the tail down over full power's pull, brakes on, {TITLES[name]}"
    id, T = f"ground.run_up.{name}", next(r for r in flight.results if r.id == "power.static.thrust")
    if s is None or not T.band.known:
        why = on.why or T.caveat or "thrust standing still is unknown"
        return _told(UNKNOWN, id, title, "1", STATICS, why, "")
    mass, thrust, x = s.loading.mass, T.value, s.down[0]
    held = s.band(lambda x: mass * GRAVITY * x.behind / x.thrust)
    band = Band(held.value / thrust, held.low / T.high, held.high / T.low)
    given = (("m", mass, "kg"), ("g", GRAVITY, "m/s2"), ("d", x.behind, "m"), ("T", thrust, "N"), ("k", x.thrust, "m"))
    step = Step("tail down over tail up", "m g d/(T k)", given, band.value, "1", STATICS)
    note = f"below 1 the stick must be held back: the elevator in the slipstream is not counted; {BANDED}"
    return _told(band, id, title, "1", STATICS, on.why, note, (step,), (f"mass.cg.{name}", "power.static.thrust"))


def _parked(on: OnGround) -> Result:
    title, id = (
        "load on the tail wheel, nobody aboard, all ahead of the main wheels filled up",
        "ground.tail_load.parked",
    )
    if on.parked is None or on.parked.lever is None:
        return _told(UNKNOWN, id, title, "N", STATICS, on.why, "")
    p, x = on.parked, on.parked.lever
    assert x is not None
    load = p.mass * GRAVITY * x.tail_share
    given = (("m", p.mass, "kg"), ("g", GRAVITY, "m/s2"), ("d", x.behind, "m"), ("B", x.base, "m"))
    step = Step("load on the tail wheel", "m g d/B", given, load, "N", STATICS)
    return _told(Band.exact(load), id, title, "N", STATICS, on.why, "likely masses, without a band", (step,))


def _stall_spare(flight: Flight) -> Result:
    """How far the three-point attitude is below the stall's."""
    three, case = next(r for r in flight.results if r.id == "flight.ground.attitude"), flight.flown.cases["max_mass"]
    stall = case.stall.alpha
    title = "angle of attack of the stall less the three-point attitude, greatest take-off mass at the forward limit"
    given = (("stall", stall, "rad"), ("three points", three.value, "rad"))
    step = Step("spare", "stall - three points", given, stall - three.value, "rad", "definition")
    slow = next(r for r in flight.results if r.id == "flight.ground.speed")
    over = slow.value / case.stall.speed.value
    note = (f"the slowest touchdown on three points is at {over:.2f} of the stalling speed (flight.ground.speed); "
            "wheels hanging; the stall is that of free air, near the ground it comes earlier")  # fmt: skip
    why = three.caveat if not three.band.known else case.stall.reason or "the stall is unknown"
    parents = ("flight.ground.attitude", "flight.stall.max_mass", "flight.ground.speed")
    return _told(Band.exact(stall - three.value), "ground.stall_spare", title, "rad",
                 "geometry; section flow strip by strip (drela-giles-1987)", why, note, (step,), parents)  # fmt: skip


def _checks(on: OnGround, by_id: Mapping[str, Result]) -> Iterator[Check]:
    yield _held("propeller.level", "propeller_tail_wheel", by_id["ground.propeller.level"])
    yield _held("propeller.flat", "propeller_flat", by_id["ground.propeller.flat"])
    lowest = min(on.model.wings, key=lambda w: w.leading_edge[2]).name
    flat = by_id[f"ground.wing.{lowest}.flat"]
    yield _plain("wing.flat", flat, 0.0, "a flat tyre must not bring a wing to the ground (designer's)")
    yield from _tilt_checks(on, by_id)
    yield _held("tyre", "tyre", by_id["ground.tyre"])
    yield _held("attitude.least", "attitude_least", by_id["ground.attitude"])
    yield _held("attitude.most", "attitude_most", by_id["ground.attitude"])
    spare = by_id["ground.stall_spare"]
    yield _plain("three_point_stall", spare, 0.0, "the wings must not stall before the tail wheel is down (designer's)")
    for key, what, most in (
        ("angle_least", "angle.level", False),
        ("angle_most", "angle.level", True),
        ("braking", "brake", False),
        ("side", "side", False),
        ("turn_over", "turn_over", True),
    ):
        yield _held(key, key, _worst([by_id[f"ground.{what}.{c}"] for c in CORNERS], most))  # fmt: skip
    loads = [by_id[f"ground.tail_load.{c}"] for c in (*CORNERS, "parked")]
    yield _plain("tail_load", _worst(loads, False), 0.0, "it must stand on its tail wheel at rest")
    yield from spring_checks(on)
    yield from castor_checks(on)
    yield from brake_checks(on)


def _worst(results: list[Result], most: bool) -> Result:
    """The one nearest to failure; one that is unknown before all others."""
    unknown = [r for r in results if not r.band.known]
    return unknown[0] if unknown else max(results, key=lambda r: r.high if most else -r.low)


def _held(id: str, key: str, of: Result) -> Check:
    r = rule(key)
    return check(f"ground.{id}", r.title, of.band, r.value, r.sense, r.unit, case=_case(of), rule=str(r.source),
                 method=of.source, caveat=of.caveat, parents=_parents(f"ground.{id}", of))  # fmt: skip


def _plain(id: str, of: Result, limit: float, rule_: str) -> Check:
    return check(f"ground.{id}", of.title, of.band, limit, ">=", of.unit, case=_case(of), rule=rule_,
                 method=of.source, caveat=of.caveat, parents=_parents(f"ground.{id}", of))  # fmt: skip


def _parents(id: str, of: Result) -> tuple[str, ...]:
    """The result a check stands on; what that stands on where both share a name."""
    return of.parents if of.id == id else (of.id,)


def _case(of: Result) -> str:
    last = of.id.rsplit(".", 1)[-1]
    return last if last in (*CORNERS, "parked") else ""


def _tilt_checks(on: OnGround, by_id: Mapping[str, Result]) -> Iterator[Check]:
    stated = on.model.ground.bank if on.model.ground and on.model.ground.bank is not None else math.nan
    for pose in ("level", "tail_down"):
        r = by_id[f"ground.tilt.{pose}"]
        note = "; ".join(x for x in (r.caveat, on.why_bank if on.why_bank != on.why else "") if x)
        yield check(f"ground.tilt.{pose}", r.title, r.band, stated, ">=", "rad", rule="ground.bank (designer's)",
                    method=r.source, caveat=note, parents=_parents(f"ground.tilt.{pose}", r))  # fmt: skip
