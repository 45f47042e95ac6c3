"""The weight ledger as results and checks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sparwright.base.check import Check, Result, Step, check
from sparwright.base.source import Band
from sparwright.family.model import Model, spoken
from sparwright.mass.record import Balance, Line, Loading
from sparwright.mass.weigh import extremes, sum_band

METHOD = "ac-43-13-1b chapter 10 (moments); jcgm-100 5.1.2 (bands as root of squares, lines independent)"


def mass_results(model: Model, balance: Balance) -> tuple[Result, ...]:
    """Empty mass by group and together, mean chord, and the four corner cases."""
    groups: dict[str, list[Line]] = {}
    for line in balance.lines:
        groups.setdefault(line.group, []).append(line)
    corners = (r for key, case in extremes(balance).items() for r in _of_corner(key, case, balance))
    most = Result(
        "mass.case.max_mass",
        "greatest take-off mass, the designer's limit",
        model.limits.max_mass,
        "kg",
        source="designer",
    )
    return (*(_group(name, lines) for name, lines in groups.items()), *_empty(balance, groups), most, *corners)


def _group_id(name: str) -> str:
    return f"mass.group.{name.replace(' ', '_')}"


def _said(group: str) -> str:
    return spoken(group.removeprefix("wing ")) if group.startswith("wing ") else group


def _group(name: str, lines: Sequence[Line]) -> Result:
    band = sum_band(x.mass for x in lines)
    steps = tuple(_lines(lines))
    return Result(_group_id(name), f"mass, {_said(name)}", band.value, "kg", band.low, band.high, METHOD, "", steps)


def _empty(balance: Balance, groups: Mapping[str, Sequence[Line]]) -> Iterator[Result]:
    e = balance.empty
    given = tuple((n, sum(x.mass.value for x in v), "kg") for n, v in groups.items())
    yield Result(
        "mass.empty",
        "empty mass",
        e.value,
        "kg",
        e.low,
        e.high,
        METHOD,
        "as designed; builders' copies come out 30 to 50 lb heavier (association article 1991, read-second-hand)",
        (Step("empty mass", "sum m", given, e.value, "kg", METHOD),),
        tuple(map(_group_id, groups)),
    )
    yield Result("mass.empty_station", "empty centre of gravity, station", balance.empty_station, "m", source=METHOD)
    weighted = "common practice, no source: weighted by area"
    yield Result("mass.mean_chord", "mean chord of the wing cell", balance.mean_chord, "m", source=weighted)
    yield Result(
        "mass.mean_chord_station", "station of its leading edge", balance.mean_chord_station, "m", source=weighted
    )


def _of_corner(key: str, case: Loading, balance: Balance) -> Iterator[Result]:
    yield _case_result(key, case, balance)
    yield _place_result(key, case, balance)
    for i, turn in enumerate(("roll", "pitch", "yaw")):
        yield Result(
            f"mass.inertia.{turn}.{key}",
            f"{turn}ing inertia, {key}",
            float(case.inertia[i, i]),
            "kg m2",
            source="sum of parts; common practice, no source",
            caveat="what is bought or not drawn yet, allowances and what is aboard count as points",
        )


def _lines(lines: Sequence[Line]) -> Iterator[Step]:
    for x in sorted(lines, key=lambda x: -x.mass.value):
        yield Step(
            x.name,
            "",
            (("low", x.mass.low, "kg"), ("high", x.mass.high, "kg"), ("station", x.place[0], "m")),
            x.mass.value,
            "kg",
            x.source,
        )


def _case_result(key: str, case: Loading, balance: Balance) -> Result:
    e = balance.empty
    aboard = case.mass - e.value
    step = Step("mass", "empty + aboard", (("empty", e.value, "kg"), ("aboard", aboard, "kg")), case.mass, "kg", METHOD)
    return Result(
        f"mass.case.{key}",
        f"mass, {key} loading",
        case.mass,
        "kg",
        case.mass + e.low - e.value,
        case.mass + e.high - e.value,
        METHOD,
        case.name,
        (step,),
        ("mass.empty",),
    )


def _place_result(key: str, case: Loading, balance: Balance) -> Result:
    step = Step(
        "place in the mean chord",
        "(x - x0)/c",
        (("x", case.station, "m"), ("x0", balance.mean_chord_station, "m"), ("c", balance.mean_chord, "m")),
        case.fraction,
        "1",
        METHOD,
    )
    return Result(
        f"mass.cg.{key}",
        f"centre of gravity in the mean chord, {key}",
        case.fraction,
        "1",
        case.fraction_low,
        case.fraction_high,
        METHOD,
        case.name,
        (step,),
        (f"mass.case.{key}", "mass.mean_chord"),
    )


def mass_checks(model: Model, balance: Balance) -> tuple[Check, ...]:
    """Greatest mass and both limits of balance, over every loading."""
    cases, limits, e = extremes(balance), model.limits, balance.empty
    heavy, fore, aft = cases["heaviest"], cases["foremost"], cases["aftmost"]
    high = Band(heavy.mass, heavy.mass + e.low - e.value, heavy.mass + e.high - e.value)
    return (
        check(
            "mass.max",
            "everything aboard within the greatest take-off mass",
            high,
            limits.max_mass,
            "<=",
            "kg",
            case=heavy.name,
            rule="designer's limit",
            method=METHOD,
            parents=("mass.case.heaviest",),
        ),
        check(
            "mass.forward",
            "foremost balance within the forward limit",
            Band(fore.fraction, fore.fraction_low, fore.fraction_high),
            limits.forward_cg,
            ">=",
            "1",
            case=fore.name,
            rule="designer's limit",
            method=METHOD,
            parents=("mass.cg.foremost",),
        ),
        check(
            "mass.aft",
            "aftmost balance within the aft limit",
            Band(aft.fraction, aft.fraction_low, aft.fraction_high),
            limits.aft_cg,
            "<=",
            "1",
            case=aft.name,
            rule="designer's limit",
            method=METHOD,
            parents=("mass.cg.aftmost",),
        ),
    )
