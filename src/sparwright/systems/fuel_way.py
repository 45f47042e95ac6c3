"""The way of fuel, air and water held against its rules: screen, drains, vent, vapour, pressure at the float valve."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Result, Sense, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.fuel import FLUID, RULES
from sparwright.family.fuel import Fuel
from sparwright.flight.work import Flown
from sparwright.systems import tank
from sparwright.systems.fuel import Stand, along, hump, left, undrained
from sparwright.systems.fuel_told import GEOMETRY, LOSSES, paragraph
from sparwright.systems.pipe import INCH

DRAINS = "cfr-25 25.971(c) (read): complete drainage on the ground; cfr-23-2014 23.971, 23.999 (memory)"
TOP = "27.975 (read): vented from the top part of the expansion space; cfr-23-2014 23.975(a) (memory)"
WIDE = "cfr-25 25.977(d) (read): at least the outlet's diameter; CS-VLA 977 the same (memory)"
LOCK = "cfr-23-2014 23.961 (read): free from vapour lock"
TRAP = "cfr-23-2014 23.997(b) (read): sediment trap and drain; at the lowest place: common practice, no source"
INLET = "cfr-23-2014 23.955(c)(3) (read): within the inlet pressure limits"
HOT = "at sea level, fuel at 38 C; heat of the engine bay and height bring boiling nearer and are not in it"
DRAINED = 1e-3  # of the tank's capacity: what counts as nothing left
OUNCE, GALLON = RULES["bowl"].value, 3.785411784e-3
SIPHON = "cfr-25 25.975(a)(2) (read): no siphoning of fuel in normal operation; CS-VLA 975 the same (memory)"


def way_checks(flown: Flown, fuel: Fuel, found: Mapping[str, Stand], by_id: Mapping[str, Result]) -> Iterator[Check]:
    """Checks of everything that fuel, air and water go through."""
    yield from _water_checks(fuel, found, by_id)
    yield from _screen_checks(fuel)
    yield from _vent_checks(fuel, found, by_id)
    yield from _line_checks(flown, fuel, found, by_id)


def _water_checks(fuel: Fuel, found: Mapping[str, Stand], by_id: Mapping[str, Result]) -> Iterator[Check]:
    whole, standing, level = by_id["fuel.tank.volume"].value, found["ground"], found["level"]
    known = standing.nose.known
    stays = undrained(fuel, standing) if known else math.nan
    yield check(
        "fuel.drain",
        "what stays in the tank on the ground with its drains open, of the tank",
        Band.exact(stays / whole),
        DRAINED,
        "<=",
        "1",
        rule=DRAINS,
        method=GEOMETRY,
        caveat=standing.reason,
    )
    strainer = fuel.filter
    if strainer and strainer.drains and strainer.bowl > 0:
        wanted = OUNCE * whole / (20 * GALLON)
        yield check(
            "fuel.sump",
            "bowl of the filter, for water and dirt",
            Band.exact(strainer.bowl),
            wanted,
            ">=",
            "m3",
            rule=paragraph("bowl"),
            method="compared",
            caveat="in place of a sump in the tank",
        )
    else:
        under = [left(fuel, s).value for s in (standing, level) if s.nose.known]
        holds = fuel.tank.sump or min(under, default=math.nan)
        yield check(
            "fuel.sump",
            "what lies under the outlet for water and dirt, ground and level",
            Band.exact(holds),
            max(RULES["sump"].value * whole, GALLON / 16),
            ">=",
            "m3",
            rule=paragraph("sump"),
            method=GEOMETRY,
            caveat=standing.reason or level.reason,
        )


def _screen_checks(fuel: Fuel) -> Iterator[Check]:
    screen, bore = fuel.tank.screen, fuel.lines[0].bore if fuel.lines else math.nan
    why = "" if screen and fuel.lines else "the file does not say screen of [fuel.tank], or [fuel.lines]"
    clear = math.nan
    if screen:
        clear = ((screen.mesh - screen.wire) / screen.mesh) ** 2 * math.pi * screen.diameter * screen.length
        clear /= math.pi / 4 * bore**2
    yield check(
        "fuel.screen.clear",
        "clear area of the finger screen over that of the outlet line",
        Band.exact(clear),
        RULES["clear"].value,
        ">=",
        "1",
        rule=paragraph("clear"),
        method="((mesh - wire)/mesh)^2 pi D L",
        caveat=why,
    )
    meshes = INCH / screen.mesh if screen else math.nan
    senses: tuple[tuple[str, Sense], ...] = (("coarse", ">="), ("fine", "<="))
    for name, sense in senses:
        yield check(
            f"fuel.screen.{name}",
            "meshes an inch of the finger screen",
            Band.exact(meshes),
            RULES[name].value,
            sense,
            "1",
            rule=paragraph(name),
            method="counted",
            caveat=why,
        )
    wide = screen.diameter if screen else math.nan
    yield check(
        "fuel.screen.width",
        "width of the finger screen, against the outlet's",
        Band.exact(wide),
        bore,
        ">=",
        "m",
        rule=WIDE,
        method="compared",
        caveat=why or "it must come out for cleaning",
    )


def _vent_checks(fuel: Fuel, found: Mapping[str, Stand], by_id: Mapping[str, Result]) -> Iterator[Check]:
    full = by_id["fuel.tank.filled"].value - fuel.tank.sump
    for name in ("ground", "level", "climb"):
        stand, over, why = found[name], math.nan, "" if fuel.vent else "the file does not say [fuel.vent]"
        if fuel.vent and stand.nose.known and math.isfinite(full):
            n = stand.up("worst" if name == "climb" else "likely")
            over = tank.height(fuel.vent.inside, n) - tank.level(fuel.tank, n, full)
        yield check(
            f"fuel.vent.{name}",
            f"vent's beginning over the full tank's level, {stand.name}",
            Band.exact(over),
            0.0,
            ">=",
            "m",
            case=name,
            rule=TOP,
            method=GEOMETRY,
            caveat=why or stand.reason or (fuel.vent.reason if fuel.vent else ""),
        )
    yield _siphon(fuel, found, full)


def _siphon(fuel: Fuel, found: Mapping[str, Stand], full: float) -> Check:
    """The vent must rise over the full tank's level somewhere on its way, or it drains the tank once it has filled."""
    over, why = math.nan, "" if fuel.vent else "the file does not say [fuel.vent]"
    known = [found[name] for name in ("ground", "level", "climb", "glide")]
    if fuel.vent and math.isfinite(full) and all(s.nose.known for s in known):
        ups = [s.up("worst") for s in known]
        over = min(max(tank.height(p, n) for p in fuel.vent.run.values()) - tank.level(fuel.tank, n, full) for n in ups)
    return check(
        "fuel.vent.siphon",
        "highest place of the vent over the full tank's level, worst stand",
        Band.exact(over),
        0.0,
        ">=",
        "m",
        rule=SIPHON,
        method=GEOMETRY,
        caveat=why or next((s.reason for s in known if s.reason), ""),
    )


def _line_checks(flown: Flown, fuel: Fuel, found: Mapping[str, Stand], by_id: Mapping[str, Result]) -> Iterator[Check]:
    for name in ("ground", "level", "climb"):
        stand = found[name]
        rise = hump(fuel, stand.up("worst")) if fuel.lines and stand.nose.known else math.nan
        yield check(
            f"fuel.trap.{name}",
            f"rise of the line to a high point where vapour stays, {stand.name}",
            Band.exact(rise),
            0.0,
            "<=",
            "m",
            case=name,
            rule=LOCK,
            method="places of the lines",
            caveat=stand.reason or ("" if fuel.lines else "no [fuel.lines]"),
        )
    yield _low_point(fuel, found["ground"])
    yield _vapour(flown, fuel, found["test"], by_id)
    yield from _held(flown, fuel, found)


def _low_point(fuel: Fuel, standing: Stand) -> Check:
    strainer, over, why = fuel.filter, math.nan, standing.reason
    if strainer is None or not strainer.drains:
        why = "the file says no filter with a drain: [fuel.filter] drains"
    elif not fuel.lines:
        why = "the file does not say [fuel.lines]"
    elif standing.nose.known:
        n = standing.up()
        over = tank.height(strainer.place, n) - min(tank.height(p, n) for x in fuel.lines for p in x.run.values())
    return check(
        "fuel.low_point",
        "drain of the filter over the lowest place of the lines, on the ground",
        Band.exact(over),
        0.0,
        "<=",
        "m",
        rule=TRAP,
        method="places of the lines",
        caveat=why,
    )


def _vapour(flown: Flown, fuel: Fuel, stand: Stand, by_id: Mapping[str, Result]) -> Check:
    """The least pressure along the line against the pressure at which a volatile fuel boils, at sea level."""
    least, where, rule = math.nan, "", RULES["pump" if fuel.pump else "gravity"].value
    feed = by_id["fuel.flow.test"]
    if feed.band.known:
        air = by_id["fuel.vent.test"].low
        places = list(along(fuel, flown.model.engine, stand, rule * by_id["fuel.demand"].value, air))
        where, gauge = min(places, key=lambda p: p[1])
        least = flown.air.pressure + gauge
    vapour = FLUID["vapour"]
    return check(
        "fuel.vapour",
        f"least pressure along the line at {100 * rule:.0f} % of demand, against boiling",
        Band.exact(least),
        vapour.high,
        ">=",
        "Pa",
        case=where,
        rule=LOCK,
        method=f"{LOSSES}; boiling: {vapour.source}",
        caveat=feed.caveat if not feed.band.known else HOT,
    )


def _held(flown: Flown, fuel: Fuel, found: Mapping[str, Stand]) -> Iterator[Check]:
    """The float valve must hold a full tank, or the pump with nothing flowing."""
    carburettor, standing = fuel.carburettor, found["ground"]
    if carburettor is None or carburettor.most is None:
        if fuel.pump:
            yield check(
                "fuel.pressure.most",
                "greatest pressure at the carburettor",
                UNKNOWN,
                math.nan,
                "<=",
                "Pa",
                rule=INLET,
                method="none",
                caveat="the file does not say most of [fuel.carburettor]",
            )
        return
    most = math.nan
    if standing.nose.known:
        n = standing.up()
        over = tank.height(fuel.tank.filler, n) - tank.height(carburettor.place, n)
        most = flown.model.engine.fuel_density * GRAVITY * over + (fuel.pump.shut if fuel.pump else 0.0)
    yield check(
        "fuel.pressure.most",
        "greatest pressure at the carburettor, full tank, nothing flowing",
        Band.exact(most),
        carburettor.most,
        "<=",
        "Pa",
        rule=INLET,
        method="rho g0 h + what the pump adds",
        caveat=standing.reason,
    )
