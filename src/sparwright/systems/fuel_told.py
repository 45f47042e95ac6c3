"""The fuel system told as results with their working.

What is worked out here is no flow test: that is made before the first flight with the least fuel in the tank and the
nose 5 deg above the steepest climb (ac-90-89a).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Result, Step
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.fuel import RULES
from sparwright.family.fuel import Fuel
from sparwright.flight.slow import told
from sparwright.flight.work import Flown
from sparwright.systems import tank
from sparwright.systems.fuel import (
    Reached,
    Stand,
    demand,
    filled,
    left,
    reached,
)

TEST = (
    "before the first flight the flow is measured at the carburettor, nose at the angle of fuel.attitude.test, least "
    "fuel in the tank, away from flames and sparks, tank and can bonded; the authority's own test governs"
)
FEED = ("level", "climb", "test")  # stands in which the full flow is wanted
DRY = ("level", "climb", "test", "glide", "slip_right", "slip_left")  # stands in which the outlet must stay wet
STEADY = "the greatest of the stands, each steady; fuel thrown about in rough air is not in it"
GEOMETRY = "geometry of the tank, systems/tank.py"
LOSSES = "colebrook-1939, poiseuille-1846, hooper-1981"


def fuel_results(flown: Flown, fuel: Fuel, found: Mapping[str, Stand]) -> Iterator[Result]:
    """Results `fuel.*`: attitudes, what the tank holds and leaves, demand, head, vent and flow in each stand."""
    feeds = {k: reached(flown.model, found[k], flown.air.density) for k in FEED}
    for name in ("ground", "climb", "test", "glide"):
        yield _attitude(flown, name, found[name])
    yield from _tank_results(fuel, found)
    yield _demand(flown)
    for name, feed in feeds.items():
        yield from _feed(flown, fuel, name, feed)
    yield from _besides(flown, fuel, found)


def paragraph(name: str) -> str:
    """The source of a rule of data/fuel.toml."""
    return str(RULES[name].source)


def _attitude(flown: Flown, name: str, stand: Stand) -> Result:
    steps: tuple[Step, ...] = ()
    nose = stand.nose
    if name in ("climb", "test", "glide") and nose.known:
        given = (("flight path", stand.climb.value, "rad"), ("V", stand.speed, "m/s"))
        more = (("more", RULES["steeper"].value * math.pi / 180, "rad"),) if name == "test" else ()
        formula = "a = asin((T - D)/W) + alpha" + (" + 5 deg" if more else "")
        steps = (
            Step(
                "thrust line above the horizon",
                formula,
                (*given, *more),
                nose.value,
                "rad",
                f"anderson-flight ch. 6{'; ' + paragraph('steeper') if more else ''}",
            ),
        )
    title = f"thrust line above the horizon, {stand.name}"
    note = stand.reason or ("tyres not pressed in" if name == "ground" else "power and drag with their bands")
    parents = ("flight.climb.rate",) if name in ("climb", "test") else ("flight.speed.max",) if name == "glide" else ()
    return told(nose, f"fuel.attitude.{name}", title, "rad", "anderson-flight ch. 6", note, steps, parents)


def _tank_results(fuel: Fuel, found: Mapping[str, Stand]) -> Iterator[Result]:
    whole, standing = tank.volume(fuel.tank) + fuel.tank.sump, found["ground"]
    yield told(
        Band.exact(whole),
        "fuel.tank.volume",
        "tank to the brim, sump counted",
        "m3",
        GEOMETRY,
        "",
        (_volume_step(fuel),),
    )
    full = filled(fuel, standing) if standing.nose.known else math.nan
    given = (("to the brim", whole, "m3"), ("ground angle", standing.nose.value, "rad"))
    step = Step("under the filler's lip on the ground", "volume of n.r < n.r(filler)", given, full, "m3", GEOMETRY)
    yield told(
        Band.exact(full),
        "fuel.tank.filled",
        "tank filled to the filler's lip on the ground",
        "m3",
        GEOMETRY,
        standing.reason or "the air above the lip must have no other way out while filling",
        (step,),
        ("fuel.attitude.ground", "fuel.tank.volume"),
    )
    each = {name: left(fuel, found[name]) for name in DRY}
    for name, band in each.items():
        yield _left(fuel, name, found[name], band)
    most = _worst(each)
    why = next((found[n].reason for n in DRY if not each[n].known), "")
    ids = tuple(f"fuel.unusable.{n}" for n in DRY)
    unusable = Step("most of the stands", "max", tuple((n, b.value, "m3") for n, b in each.items()), most.value, "m3")
    yield told(most, "fuel.unusable", "unusable fuel", "m3", _cfr("959"), why or STEADY, (unusable,), ids)
    usable = Band(full - most.value, full - most.high, full - most.low)
    step = Step(
        "usable", "filled - unusable", (("filled", full, "m3"), ("unusable", most.value, "m3")), usable.value, "m3"
    )
    yield told(
        usable,
        "fuel.usable",
        "usable fuel",
        "m3",
        _cfr("959"),
        why or standing.reason,
        (step,),
        ("fuel.tank.filled", "fuel.unusable"),
    )


def _cfr(paragraph: str) -> str:
    return f"cfr-23-2014 23.{paragraph}"


def _volume_step(fuel: Fuel) -> Step:
    t = fuel.tank
    given = (("length", t.length, "m"), ("width", t.width, "m"), ("height", t.height, "m"), ("sump", t.sump, "m3"))
    formula = "L W H + sump" if t.shape == "box" else "pi/4 D^2 L + sump"
    return Step("inside", formula, given, tank.volume(t) + t.sump, "m3", "geometry")


def _left(fuel: Fuel, name: str, stand: Stand, band: Band) -> Result:
    step = Step(
        "under the level through the outlet",
        "volume of n.r < n.r(outlet, or the sump's rim over it) + sump",
        (("nose", stand.nose.value, "rad"), ("bank", stand.bank, "rad"), ("sump", fuel.tank.sump, "m3")),
        band.value,
        "m3",
        GEOMETRY,
    )
    return told(
        band,
        f"fuel.unusable.{name}",
        f"fuel left when the outlet falls dry, {stand.name}",
        "m3",
        GEOMETRY,
        stand.reason,
        (step,),
    )


def _worst(each: Mapping[str, Band]) -> Band:
    if not all(b.known for b in each.values()):
        return UNKNOWN
    return Band(*(max(getattr(b, e) for b in each.values()) for e in ("value", "low", "high")))


def _demand(flown: Flown) -> Result:
    engine, flow = flown.model.engine, demand(flown.model.engine)
    most = max(engine.curve, key=lambda p: p.power * p.consumption, default=None)
    steps = (
        ()
        if most is None
        else (
            Step(
                "fuel at full throttle",
                "Q = max(P b)/rho",
                (("P", most.power, "W"), ("b", most.consumption, "kg/J"), ("rho", engine.fuel_density, "kg/m3")),
                flow,
                "m3/s",
                f"engine curve ({engine.mark})",
            ),
        )
    )
    return told(
        Band.exact(flow),
        "fuel.demand",
        "fuel the engine takes at take-off power",
        "m3/s",
        f"engine curve ({engine.mark})",
        "" if most else "the engine has no power curve",
        steps,
    )


def _feed(flown: Flown, fuel: Fuel, name: str, feed: Reached) -> Iterator[Result]:
    """Head, pressure of the vent and flow in a stand."""
    yield _head(name, feed)
    yield told(
        feed.vent,
        f"fuel.vent.{name}",
        f"pressure the vent gives the tank, {feed.stand.name}",
        "Pa",
        "cp of openings: common practice, no source",
        feed.reason or "cp is a wide band until flown",
        (_vent_step(flown, fuel, feed),),
    )
    yield _flow(flown, fuel, name, feed)


def _head(name: str, feed: Reached) -> Result:
    nose = (("nose", feed.stand.nose.value, "rad"),)
    formula = "h = n.r(outlet) - n.r(carburettor)"
    step = Step("outlet over carburettor", formula, nose, feed.head.value, "m", "geometry")
    title = f"head, outlet just dry, {feed.stand.name}"
    parents = (f"fuel.attitude.{name}",) if name != "level" else ()
    return told(feed.head, f"fuel.head.{name}", title, "m", "geometry", feed.reason, (step,), parents)


def _flow(flown: Flown, fuel: Fuel, name: str, feed: Reached) -> Result:
    how, note = "by gravity", feed.reason or f"nought where nothing drives it; {TEST}"
    if fuel.pump:
        how = "pumped"
        note = note if feed.reason else f"no more than the pump's stated flow is claimed; {note}"
    return told(
        feed.flow,
        f"fuel.flow.{name}",
        f"flow that reaches the engine, {how}, {feed.stand.name}",
        "m3/s",
        LOSSES,
        note,
        (_drive_step(flown, fuel, feed), *_loss_steps(feed)),
        (f"fuel.head.{name}", f"fuel.vent.{name}"),
    )


def _drive_step(flown: Flown, fuel: Fuel, feed: Reached) -> Step:
    rho, least = flown.model.engine.fuel_density, (fuel.carburettor.least if fuel.carburettor else None) or 0.0
    given = (
        ("rho", rho, "kg/m3"),
        ("h", feed.head.value, "m"),
        ("cp q", feed.vent.value, "Pa"),
        ("needs", least, "Pa"),
    )
    pressure = rho * GRAVITY * feed.head.value + feed.vent.value - least
    formula = "p = rho g0 h + cp q - what the carburettor needs"
    return Step("pressure that drives", formula, given, pressure, "Pa", "white-2003 ch. 3")


def _loss_steps(feed: Reached) -> Iterator[Step]:
    for what, dp, re in feed.losses:
        given = (("Q", feed.flow.value, "m3/s"), *((("Re", re, "1"),) if math.isfinite(re) else ()))
        yield Step(f"lost in {what}", "dp = (f L/D + sum K) rho V^2/2", given, dp, "Pa", LOSSES)


def _vent_step(flown: Flown, fuel: Fuel, feed: Reached) -> Step:
    q = flown.air.density * feed.stand.speed**2 / 2
    cp = feed.vent.value / q if q > 0 else math.nan
    faces = fuel.vent.faces if fuel.vent else ""
    return Step(
        f"vent that faces {faces}",
        "cp q",
        (("cp", cp, "1"), ("q", q, "Pa")),
        feed.vent.value,
        "Pa",
        "common practice, no source",
    )


def _besides(flown: Flown, fuel: Fuel, found: Mapping[str, Stand]) -> Iterator[Result]:
    """What no rule asks and a pilot wants to know: the cap missing, the pump stopped."""
    model, density, stand = flown.model, flown.air.density, found["climb"]
    off = reached(model, stand, density, cap=False)
    yield told(
        off.flow,
        "fuel.flow.cap_off",
        f"flow with the tank's cap missing, {stand.name}",
        "m3/s",
        LOSSES,
        off.reason
        or f"suction of a missing cap on top of the {fuel.tank.cap}: a wide band, no source; fuel is "
        "sucked out besides",
        (),
        ("fuel.head.climb",),
    )
    if fuel.pump:
        dead = reached(model, stand, density, pump="stopped")
        yield told(
            dead.flow,
            "fuel.flow.pump_off",
            f"flow with the pumps stopped, {stand.name}",
            "m3/s",
            LOSSES,
            dead.reason or "as if fuel ran freely through a stopped pump, which many do not let it",
            (),
            ("fuel.head.climb",),
        )
    if fuel.emergency:
        other = reached(model, found["test"], density, pump="emergency")
        yield told(
            other.flow,
            "fuel.flow.emergency",
            f"flow by the second pump alone, {other.stand.name}",
            "m3/s",
            LOSSES,
            other.reason or "as if fuel ran freely past the first pump",
            (),
            ("fuel.head.test",),
        )
