"""The fuel system held against its rules: checks with the paragraph each comes from.

The paragraphs are those of cfr-23-2014 (as printed in 2014), cfr-25 and 27.975, read where a check says so; CS-VLA 955
to 999 say the same from memory. Where a rule has no number the designer's own or the trade's custom is said.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sparwright.base.axes import GRAVITY
from sparwright.base.check import Check, Result, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.fuel import FLUID, FUELS, FUELS_SOURCE, RULES
from sparwright.data.loader import material
from sparwright.family.fuel import Fuel
from sparwright.flight.work import Flown
from sparwright.parts.fuel import tank_number
from sparwright.parts.part import Assembly
from sparwright.systems import tank
from sparwright.systems.fuel import Stand, along, hump, left, stands
from sparwright.systems.fuel_told import GEOMETRY, LOSSES, fuel_results, paragraph

NO_FUEL = "the file has no fuel system; [fuel] with tank, vent, lines, valve, filter and carburettor would settle it"
OWN = "the designer's own"
DRAINS = "cfr-25 25.971(c) (read): complete drainage on the ground; cfr-23-2014 23.971, 23.999 (memory)"
TOP = "27.975 (read): vented from the top part of the expansion space; cfr-23-2014 23.975(a) (memory)"
WIDE = "cfr-25 25.977(d) (read): at least the outlet's diameter; CS-VLA 977 the same (memory)"
LOCK = "cfr-23-2014 23.961 (read): free from vapour lock"
TRAP = "cfr-23-2014 23.997(b) (read): sediment trap and drain; at the lowest place: common practice, no source"
INLET = "cfr-23-2014 23.955(c)(3) (read): within the inlet pressure limits"
HOT = "at sea level, fuel at 38 C; heat of the engine bay and height bring boiling nearer and are not in it"
SECOND = "cfr-23-2014 23.991(b) (memory): an emergency pump, its drive apart from the main pump's"
NEAR_PLACE = 0.025  # m, an inch: two places of one file that say the same
DRAINED = 1e-3  # of the tank's capacity: what counts as nothing left
OUNCE, GALLON = RULES["bowl"].value, 3.785411784e-3


@dataclass(frozen=True)
class FuelTold:
    """What is said of the fuel system."""

    results: tuple[Result, ...]
    checks: tuple[Check, ...]


def fuel_told(flown: Flown, assembly: Assembly | None = None) -> FuelTold:
    """Results and checks `fuel.*` of a model that has been flown; one unknown check where the file has no [fuel].

    assembly: its parts, so that checks of the tank name it where it is one of them.
    """
    fuel = flown.model.fuel
    if fuel is None:
        bare = check(
            "fuel.feed.test",
            "flow that reaches the engine in the steepest climb",
            UNKNOWN,
            math.nan,
            ">=",
            "m3/s",
            rule=paragraph("gravity"),
            method="none",
            caveat=NO_FUEL,
        )
        return FuelTold((), (bare,))
    found = stands(flown)
    results = tuple(fuel_results(flown, fuel, found))
    return FuelTold(results, tuple(_checks(flown, fuel, found, {r.id: r for r in results}, _part(flown, assembly))))


def _part(flown: Flown, assembly: Assembly | None) -> str:
    """The tank's number where it is one of the parts."""
    number = tank_number(flown.model)
    return number if assembly and any(p.number == number for p in assembly.parts) else ""


def _checks(
    flown: Flown, fuel: Fuel, found: Mapping[str, Stand], by_id: Mapping[str, Result], part: str
) -> Iterator[Check]:
    yield from _flow_checks(flown, fuel, by_id)
    yield from _capacity_checks(flown, fuel, by_id, part)
    yield from _water_checks(fuel, found, by_id)
    yield from _screen_checks(fuel)
    yield from _vent_checks(fuel, found, by_id)
    yield from _way_checks(flown, fuel, found, by_id)
    yield from _fuel_kinds(fuel)


def _flow_checks(flown: Flown, fuel: Fuel, by_id: Mapping[str, Result]) -> Iterator[Check]:
    rule = RULES["pump" if fuel.pump else "gravity"]
    wanted = rule.value * by_id["fuel.demand"].value
    for name in ("level", "test"):
        r = by_id[f"fuel.flow.{name}"]
        yield check(
            f"fuel.feed.{name}",
            f"{r.title}, against {100 * rule.value:.0f} % of the take-off demand",
            r.band,
            wanted,
            ">=",
            "m3/s",
            case=name,
            rule=str(rule.source),
            method=LOSSES,
            caveat=r.caveat,
            outside_range="" if r.band.known else r.caveat,
            parents=(r.id, "fuel.demand"),
        )
    if fuel.pump:
        yield _second(fuel, by_id, wanted)


def _second(fuel: Fuel, by_id: Mapping[str, Result], wanted: float) -> Check:
    """A second pump of another drive must carry the flow alone."""
    other, why = by_id.get("fuel.flow.emergency"), ""
    if other is None:
        why = "the file says no second pump: [fuel.emergency]"
    elif fuel.pump and fuel.emergency and fuel.pump.drive == fuel.emergency.drive == "engine":
        why = "both pumps hang on the engine's drive, so one fault may stop both"
    elif not other.band.known:
        why = other.caveat
    band = other.band if other and not why else UNKNOWN
    return check(
        "fuel.feed.emergency",
        "flow by the second pump alone, against that of the first",
        band,
        wanted,
        ">=",
        "m3/s",
        case="test",
        rule=SECOND,
        method=LOSSES,
        caveat=why or (other.caveat if other else ""),
        parents=("fuel.demand",),
    )


def _capacity_checks(flown: Flown, fuel: Fuel, by_id: Mapping[str, Result], part: str) -> Iterator[Check]:
    model, full, whole = flown.model, by_id["fuel.tank.filled"], by_id["fuel.tank.volume"].value
    loads = [x for x in model.loads if x.kind == "fuel"]
    asked = sum(x.most for x in loads) if loads else math.nan
    holds = full.value * model.engine.fuel_density
    given = (("V", full.value, "m3"), ("rho", model.engine.fuel_density, "kg/m3"))
    step = Step("what it holds", "V rho", given, holds, "kg", "definition")
    yield check(
        "fuel.capacity",
        f"fuel that {tank_number(model)} holds, against the most in [loads]",
        Band.exact(holds),
        asked,
        ">=",
        "kg",
        part=part,
        rule=f"{OWN}: loads of kind fuel, most",
        method=GEOMETRY,
        caveat=full.caveat if not full.band.known else "" if loads else "no load of kind fuel in the file",
        steps=(step,),
        parents=("fuel.tank.filled",),
    )
    least, stays = sum(x.least for x in loads) if loads else math.nan, by_id["fuel.unusable"]
    rho = model.engine.fuel_density
    yield check(
        "fuel.least",
        "fuel that cannot be used, against the least in [loads], which range leaves",
        Band(*(x * rho for x in (stays.value, stays.low, stays.high))),
        least,
        "<=",
        "kg",
        part=part,
        rule=f"{OWN}: loads of kind fuel, least",
        method=GEOMETRY,
        caveat=stays.caveat,
        outside_range="" if stays.band.known else stays.caveat,
        parents=(stays.id,),
    )
    air = (whole - full.value) / whole
    yield check(
        "fuel.expansion",
        "room for the fuel to expand, of the tank",
        Band.exact(air),
        RULES["expansion"].value,
        ">=",
        "1",
        part=part,
        rule=paragraph("expansion"),
        method=GEOMETRY,
        caveat=full.caveat,
        parents=("fuel.tank.filled", "fuel.tank.volume"),
    )
    apart = max((abs(x.place[0] - fuel.tank.place[0]) for x in loads), default=math.nan)
    yield check(
        "fuel.place",
        "fuel in [loads] against the middle of the tank, station",
        Band.exact(apart),
        NEAR_PLACE,
        "<=",
        "m",
        part=part,
        rule=f"{OWN}: two places of one file",
        method="compared",
        caveat="balance is worked out with the place in [loads]",
    )


def _water_checks(fuel: Fuel, found: Mapping[str, Stand], by_id: Mapping[str, Result]) -> Iterator[Check]:
    whole, standing, level = by_id["fuel.tank.volume"].value, found["ground"], found["level"]
    known = standing.nose.known
    stays = tank.under(fuel.tank, standing.up(), fuel.tank.drain) if known else math.nan
    yield check(
        "fuel.drain",
        "what stays under the tank's drain on the ground, of the tank",
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
        stands_ = [s for s in (standing, level) if s.nose.known]
        holds = min((left(fuel, s).value for s in stands_), default=math.nan)
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
    meshes = 0.0254 / screen.mesh if screen else math.nan
    for name, sense in (("coarse", ">="), ("fine", "<=")):
        yield check(
            f"fuel.screen.{name}",
            "meshes an inch of the finger screen",
            Band.exact(meshes),
            RULES[name].value,
            ">=" if sense == ">=" else "<=",
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


def _way_checks(flown: Flown, fuel: Fuel, found: Mapping[str, Stand], by_id: Mapping[str, Result]) -> Iterator[Check]:
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


def _fuel_kinds(fuel: Fuel) -> Iterator[Check]:
    """Each fuel the tank is meant for against what tank and lines are made of."""
    made = {fuel.tank.material: "tank", **{line.material: line.name for line in fuel.lines}}
    for name in fuel.tank.fuels:
        said = {key: FUELS[name].holds_in(material(key).kind) for key in made}
        no, open_ = ([k for k, v in said.items() if v == word] for word in ("no", "unknown"))
        why = "; ".join(
            filter(
                None,
                (
                    f"not in {', '.join(no)}" if no else "",
                    f"not known of {', '.join(open_)}: ask its maker, and soak a sample" if open_ else "",
                ),
            )
        )
        good = len(made) - len(no) if no or not open_ else math.nan
        yield check(
            f"fuel.kind.{name}",
            f"materials that hold {FUELS[name].title}",
            Band.exact(float(good)),
            float(len(made)),
            ">=",
            "1",
            rule="; ".join(map(str, FUELS_SOURCE.values())),
            method="data/fuel.toml",
            caveat=why,
        )
