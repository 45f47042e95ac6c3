"""The fuel system held against its rules: checks with the paragraph each comes from.

The paragraphs are those of cfr-23-2014 (as printed in 2014), cfr-25 and 27.975, read where a check says so; CS-VLA 955
to 999 say the same from memory. Where a rule has no number the designer's own or the trade's custom is said.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.source import UNKNOWN, Band
from sparwright.data.fuel import FUELS, FUELS_SOURCE, RULES
from sparwright.data.loader import material
from sparwright.family.fuel import Fuel
from sparwright.family.model import Load, Model
from sparwright.flight.work import Flown
from sparwright.parts.fuel import tank_number
from sparwright.parts.part import Assembly
from sparwright.systems.fuel import Stand, stands
from sparwright.systems.fuel_told import GEOMETRY, LOSSES, fuel_results, paragraph
from sparwright.systems.fuel_way import way_checks

NO_FUEL = "the file has no fuel system; [fuel] with tank, vent, lines, valve, filter and carburettor would settle it"
OWN = "the designer's own"
NO_LOAD = "no load of kind fuel in the file"
SECOND = "cfr-23-2014 23.991(b) (memory): an emergency pump, its drive apart from the main pump's"
NEAR_PLACE = 0.025  # m, an inch: two places of one file that say the same


@dataclass(frozen=True)
class FuelTold:
    """What is said of the fuel system."""

    results: tuple[Result, ...]
    checks: tuple[Check, ...]


def fuel_told(flown: Flown, assembly: Assembly | None = None, stood: Mapping[str, Stand] | None = None) -> FuelTold:
    """Results and checks `fuel.*` of a model that has been flown; one unknown check where the file has no [fuel].

    assembly: its parts, so that checks of the tank name it where it is one of them. stood: how it stands, of `stands`.
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
    found = stands(flown) if stood is None else stood
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
    yield from way_checks(flown, fuel, found, by_id)
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
    """What the tank holds, keeps and leaves room for, and where it stands, against what [loads] says of the fuel."""
    loads = tuple(x for x in flown.model.loads if x.kind == "fuel")
    yield _capacity(flown.model, loads, by_id["fuel.tank.filled"], part)
    yield _unusable(flown.model, loads, by_id["fuel.unusable"], part)
    yield _expansion(by_id["fuel.tank.filled"], by_id["fuel.tank.volume"].value, part)
    yield _same_place(fuel, loads, part)


def _capacity(model: Model, loads: tuple[Load, ...], full: Result, part: str) -> Check:
    rho = model.engine.fuel_density
    given = (("V", full.value, "m3"), ("rho", rho, "kg/m3"))
    step = Step("what it holds", "V rho", given, full.value * rho, "kg", "definition")
    return check(
        "fuel.capacity",
        f"fuel that {tank_number(model)} holds, against the most in [loads]",
        Band.exact(full.value * rho),
        sum(x.most for x in loads) if loads else math.nan,
        ">=",
        "kg",
        part=part,
        rule=f"{OWN}: loads of kind fuel, most",
        method=GEOMETRY,
        caveat=full.caveat if not full.band.known else "" if loads else NO_LOAD,
        steps=(step,),
        parents=(full.id,),
    )


def _unusable(model: Model, loads: tuple[Load, ...], stays: Result, part: str) -> Check:
    rho = model.engine.fuel_density
    return check(
        "fuel.least",
        "fuel that cannot be used, against the least in [loads], which range leaves",
        Band(*(x * rho for x in (stays.value, stays.low, stays.high))),
        sum(x.least for x in loads) if loads else math.nan,
        "<=",
        "kg",
        part=part,
        rule=f"{OWN}: loads of kind fuel, least",
        method=GEOMETRY,
        caveat=stays.caveat if loads or not stays.band.known else NO_LOAD,
        outside_range="" if stays.band.known else stays.caveat,
        parents=(stays.id,),
    )


def _expansion(full: Result, whole: float, part: str) -> Check:
    return check(
        "fuel.expansion",
        "room for the fuel to expand, of the tank",
        Band.exact((whole - full.value) / whole),
        RULES["expansion"].value,
        ">=",
        "1",
        part=part,
        rule=paragraph("expansion"),
        method=GEOMETRY,
        caveat=full.caveat,
        parents=(full.id, "fuel.tank.volume"),
    )


def _same_place(fuel: Fuel, loads: tuple[Load, ...], part: str) -> Check:
    return check(
        "fuel.place",
        "fuel in [loads] against the middle of the tank, station",
        Band.exact(max((abs(x.place[0] - fuel.tank.place[0]) for x in loads), default=math.nan)),
        NEAR_PLACE,
        "<=",
        "m",
        part=part,
        rule=f"{OWN}: two places of one file",
        method="compared",
        caveat="balance is worked out with the place in [loads]" if loads else NO_LOAD,
    )


def _fuel_kinds(fuel: Fuel) -> Iterator[Check]:
    """Each fuel the tank is meant for against what tank and lines are made of."""
    made = {fuel.tank.material: "tank", **{line.material: line.name for line in fuel.lines}}
    kinds = sorted({material(key).kind for key in made})
    rule = "; ".join(str(FUELS_SOURCE[kind]) for kind in kinds if kind in FUELS_SOURCE)
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
            rule=rule,
            method="data/fuel.toml",
            caveat=why,
        )
