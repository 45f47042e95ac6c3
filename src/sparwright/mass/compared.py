"""The groups of parts held against statistics of built aeroplanes: a comparison, never a check.

Ours: parts by their group, items and allowances by the group the file gives them. Struts, wires and their ends count
with the wings, the engine's mount with the engine. What has no such group is in no comparison, and how much that is
is told.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from sparwright.base.check import Result, Step
from sparwright.base.quantity import parse
from sparwright.base.source import Band
from sparwright.family.model import Model
from sparwright.mass.record import Balance, Line
from sparwright.mass.statistics import SYMBOLS, Said, said
from sparwright.mass.weigh import sum_band

TITLES = {
    "wings": "wings with struts and wires", "tail": "tail", "fuselage": "fuselage", "gear": "landing gear",
    "power": "engine, mount and propeller", "fuel": "fuel system", "controls": "flight controls",
    "electrics": "electrics", "furnishing": "seat and furnishing",
}  # fmt: skip
# groups of parts that count with another
WITH = {"struts": "wings", "fittings": "wings", "mount": "power", "seat": "furnishing"}
POUND = parse("1 lb", "mass")
METHOD = "statistics of built aeroplanes, each in the units its book prints"


def belongs(model: Model, line: Line) -> str:
    """The group of TITLES a line of the ledger is compared with; "none" for none."""
    given = {x.name.replace("_", " "): str(x.group) for x in model.items}
    given |= {x.name.replace("_", " "): str(x.group) for x in model.allowances}
    name = line.name.split(" ", 1)[1] if line.kind == "part" else line.name
    if name in given and line.group in ("systems", "not drawn yet"):
        return given[name]
    shell = model.seat.shell if model.seat else None
    if shell and line.kind == "part" and name in (shell.pan.replace("_", " "), shell.back.replace("_", " ")):
        return "furnishing"
    if line.group.startswith("wing "):
        return "wings"
    group = WITH.get(line.group, line.group)
    return group if group in TITLES else "none"


def compared_results(model: Model, balance: Balance, fastest: float) -> Iterator[Result]:
    """Each group's weight, what each method says of it, and ours over that. fastest: level speed, m/s; NaN unknown."""
    groups: dict[str, list[Line]] = {name: [] for name in (*TITLES, "none")}
    for line in balance.lines:
        groups[belongs(model, line)].append(line)
    methods = list(said(model, balance, fastest))
    for name, title in TITLES.items():
        ours = sum_band(x.mass for x in groups[name])
        yield Result(f"compared.{name}", f"{title}: ours", ours.value, "kg", ours.low, ours.high, METHOD,
                     "", tuple(_lines(groups[name])), ("mass.empty",))  # fmt: skip
        for s in methods:
            if s.equation.group == name:
                yield from _method(s, title, ours)
    left = sum(x.mass.value for x in groups["none"]) / balance.empty.value
    yield Result("compared.left", "part of the empty mass that is compared with nothing", left, "1", source=METHOD,
                 steps=tuple(_lines(groups["none"])), parents=("mass.empty",))  # fmt: skip


def _lines(lines: Sequence[Line]) -> Iterator[Step]:
    for x in sorted(lines, key=lambda x: -x.mass.value):
        yield Step(x.name, "", (("low", x.mass.low, "kg"), ("high", x.mass.high, "kg")), x.mass.value, "kg", x.source)


def _method(s: Said, title: str, ours: Band) -> Iterator[Result]:
    e, mass = s.equation, s.pounds * POUND
    id = f"compared.{e.group}.{e.key.split('-', 1)[1]}"
    steps = tuple(
        Step(f"{name} wing, lb" if name else "lb", e.formula,
             tuple((k, v, SYMBOLS[k][0]) for k, v in given.items()), lb, "lb", str(e.source))
        for name, given, lb in s.given
    )  # fmt: skip
    missing = next((f"{SYMBOLS[k][1]} is not known" for _, given, _ in s.given for k, v in given.items()
                    if not math.isfinite(v)), "")  # fmt: skip
    note = "; ".join(x for x in (missing, s.outside and f"outside its range: {s.outside}") if x)
    yield Result(id, f"{title}: {e.method}", mass, "kg", source=str(e.source), caveat=note, steps=steps,
                 parents=("flight.speed.max",) if {"VH", "q"} & set(s.given[0][1]) else (),
                 outside_range=s.outside)  # fmt: skip
    ratio = Step("ours over it", "ours/theirs", (("ours", ours.value, "kg"), ("theirs", mass, "kg")),
                 ours.value / mass, "1", METHOD)  # fmt: skip
    yield Result(f"{id}.ratio", f"{title}: ours over {e.method}", ours.value / mass, "1", ours.low / mass,
                 ours.high / mass, METHOD, note, (ratio,), (f"compared.{e.group}", id), s.outside)  # fmt: skip
