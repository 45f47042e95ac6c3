"""What electrics, pitot lines and oil must be beyond single keys: items that are there, current or power, runs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sparwright.base.quantity import inches
from sparwright.data.electrics import WIRES
from sparwright.family.electrics import PHASES, Circuit, Electrics
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.fitted_sense import run_ends
from sparwright.family.pitot import Pitot
from sparwright.family.tables import BAD

PUMPS = ("fuel.pump", "fuel.emergency")
RUN = 'run = { bus = ["33 in", "0 in", "8 in"], radio = ["30 in", "4 in", "8 in"] }'


def check_electrics(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about [electrics], [pitot] and the engine's oil that no single key can tell."""
    if values.get("electrics", BAD) not in (BAD, None):
        _electrics(values["electrics"], values, whole, faults)
    if values.get("pitot", BAD) not in (BAD, None):
        _pitot(values["pitot"], whole["pitot"], faults)
    _holders(values, whole, faults)
    engine = values["engine"]
    if engine is not BAD and engine.mix and engine.strokes == 4:
        faults.wrong(whole["engine"]["mix"], "a four-stroke has no oil in its fuel: leave it out, or say strokes = 2")
    if engine is not BAD and engine.oil_use and engine.strokes == 2:
        faults.wrong(whole["engine"]["oil_use"], "is a four-stroke's; a two-stroke says mix", "mix = 50")


def _holders(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """What wires, lines, antenna and head are held by is a flat sheet, a strut, or a tube of the frame."""
    fuselage = values["fuselage"]
    if any(values[k] is BAD for k in ("fuselage", "sheets", "struts")):
        return
    sheets, struts = ([x.name for x in values[k]] for k in ("sheets", "struts"))
    known = {*sheets, *struts, *run_ends(fuselage.tubes, fuselage.nodes)}
    pitot = values.get("pitot", BAD)
    if pitot is not BAD and pitot is not None and pitot.held not in known - set(sheets):
        wanted = f"names a strut, or a tube by its first and last node{hint(pitot.held, sorted(known - set(sheets)))}"
        faults.wrong(whole["pitot"]["held"], wanted)
    for held, spot in _held(values, whole):
        for i, name in enumerate(held):
            if name not in known:
                wanted = f"names a flat sheet, a strut, or a tube by its first and last node{hint(name, sorted(known))}"
                faults.wrong(spot["held"].nearest(i), wanted)
        if not held:
            faults.add(spot["held"], "something must hold it", example='held = ["B1R-B1L"]')


def _held(values: dict[str, Any], whole: Entry) -> Iterator[tuple[tuple[str, ...], Entry]]:
    e, p = values.get("electrics", BAD), values.get("pitot", BAD)
    if e is not BAD and e is not None:
        yield from ((c.held, whole["electrics"]["circuits"][c.name]) for c in e.circuits)
        if e.antenna:
            yield e.antenna.held, whole["electrics"]["antenna"]
    if p is not BAD and p is not None:
        yield from ((x.held, whole["pitot"]["lines"][x.name]) for x in p.lines)


def _electrics(e: Electrics, values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    table, items = whole["electrics"], _names(values["items"])
    if e.battery and items is not None and e.battery.item not in items:
        faults.wrong(table["battery"]["item"], f"names an item of [items]{hint(e.battery.item, items)}")
    if e.battery and e.generator and not 0.8 <= e.generator.voltage / e.battery.voltage <= 1.3:
        wanted = f"must suit the battery's {e.battery.voltage:g} V, from 0.8 to 1.3 of it"
        faults.wrong(table["generator"]["voltage"], wanted, 'voltage = "14 V"')
    for c in e.circuits:
        _circuit(c, items, values["fuel"], table["circuits"][c.name], faults)


def _names(items: Any) -> list[str] | None:
    return None if items is BAD else [i.name for i in items]


def _circuit(c: Circuit, items: list[str] | None, fuel: Any, table: Entry, faults: Faults) -> None:
    if (c.current is None) == (c.power is None):
        faults.add(table, "says either current or power, one of them", example='current = "2 A"')
    if c.gauge not in WIRES:
        faults.wrong(table["gauge"], f"is not a wire we know; known are {', '.join(map(str, WIRES))}", "gauge = 20")
    if c.demand == "continuous" and c.share != 1.0:
        faults.wrong(table["share"], "is an intermittent load's: a continuous one is on all the time")
    for i, phase in enumerate(c.phases):
        if phase not in PHASES:
            faults.wrong(
                table["phases"].nearest(i), f"is not a phase we know{hint(phase, PHASES)}", 'phases = ["cruise"]'
            )
    if (c.protector == "none") != (c.rating is None):
        wanted = "no protector has no rating" if c.rating is not None else "a breaker or fuse has a rating"
        faults.add(table.nearest("rating"), wanted, example='rating = "5 A"')
    known = [*(items or ()), *(p for p in PUMPS if fuel not in (BAD, None) and getattr(fuel, p.split(".")[1]))]
    if c.feeds and items is not None and fuel is not BAD and c.feeds not in known:
        faults.wrong(table["feeds"], f"names an item, fuel.pump or fuel.emergency{hint(c.feeds, known)}")
    _run(c.run, table, faults)


def _run(run: Mapping[str, Any], table: Entry, faults: Faults) -> None:
    if len(run) < 2:
        faults.add(table.nearest("run"), "a wire or line has at least two places", f"{len(run)}", RUN)
    if len(run) > 1 and len(set(run.values())) == 1:
        faults.add(table.nearest("run"), "its places are all one", example=RUN)


def _pitot(p: Pitot, table: Entry, faults: Faults) -> None:
    for line in p.lines:
        spot = table["lines"][line.name]
        _run(line.run, spot, faults)
        if line.outside <= line.bore:
            faults.wrong(spot["outside"], f"must be more than the bore, {inches(line.bore)}")
