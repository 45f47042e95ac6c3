"""What a fuel system must be beyond single keys: lines that meet, openings in the tank, fuels that are known."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from sparwright.base.quantity import inches
from sparwright.data.fuel import FUELS
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.fuel import Fuel, FuelLine, Place, Tank

NEAR = 1e-4  # m: places nearer than this are one


def check_fuel(fuel: Fuel, whole: Entry, faults: Faults) -> None:
    """Everything about the fuel system that no single key can tell."""
    table = whole["fuel"]
    _tank(fuel.tank, table["tank"], faults)
    if fuel.vent:
        _vent(fuel, table["vent"], faults)
    _lines(fuel, table, faults)
    for name in ("valve", "filter", "pump", "emergency"):
        thing = getattr(fuel, name)
        if thing and fuel.lines and not any(_same(thing.place, p) for line in fuel.lines for p in line.run.values()):
            known = ", ".join(n for line in fuel.lines for n in line.run)
            faults.wrong(table[name].nearest("place"), f"must be a place of a line; the lines' places are {known}")
    if fuel.carburettor and None not in (fuel.carburettor.least, fuel.carburettor.most):
        least, most = fuel.carburettor.least, fuel.carburettor.most
        if least is not None and most is not None and least > most:
            faults.wrong(table["carburettor"].nearest("least"), "must not be above most")
    _replaced(fuel, whole, faults)


def _tank(tank: Tank, table: Entry, faults: Faults) -> None:
    for i, name in enumerate(tank.fuels):
        if name not in FUELS:
            faults.wrong(table["fuels"].nearest(i), f"is not a fuel we know{hint(name, FUELS)}", 'fuels = ["avgas"]')
    if tank.shape == "cylinder":
        other = "length" if tank.axis == "across" else "width"
        if abs(getattr(tank, other) - tank.height) > NEAR:
            size = inches(tank.height)
            faults.wrong(table[other], f"a cylinder {tank.axis} has its diameter as {other} and as height, {size}")
    for name in ("filler",) if tank.sump > 0 else ("outlet", "filler", "drain"):
        _within(tank, getattr(tank, name), table[name], faults)
    if tank.sump > 0 and tank.outlet[2] > tank.place[2] - tank.height / 2 + NEAR:
        wanted = "with a sump the outlet lies in it, below the tank's bottom"
        faults.add(table["outlet"], wanted, inches(tank.outlet[2]))
    elif tank.sump > 0:
        x, y, _ = tank.outlet
        _within(tank, (x, y, tank.place[2]), table["outlet"], faults)
    if tank.screen and tank.screen.wire >= tank.screen.mesh:
        faults.wrong(table["screen"].nearest("wire"), f"must be thinner than the mesh, {inches(tank.screen.mesh)}")


def _vent(fuel: Fuel, table: Entry, faults: Faults) -> None:
    vent = fuel.vent
    if vent is None or len(vent.run) < 2:
        example = 'run = { tank = ["12 in", "0 in", "9 in"], opening = ["30 in", "6 in", "-17 in"] }'
        faults.add(table.nearest("run"), "a vent has at least two places", "", example)
        return
    _within(fuel.tank, vent.inside, table.nearest("run", next(iter(vent.run))), faults)
    if vent.outside <= vent.bore:
        faults.wrong(table.nearest("outside"), f"must be more than the bore, {inches(vent.bore)}")


def _within(tank: Tank, place: Place, spot: Entry, faults: Faults) -> None:
    half = np.array([tank.length, tank.width, tank.height]) / 2
    if np.any(np.abs(np.subtract(place, tank.place)) > half + NEAR):
        low, high = np.array(tank.place) - half, np.array(tank.place) + half
        reach = "; ".join(f"{w} {inches(a)} to {inches(b)}" for w, a, b in
                          zip(("station", "buttline", "waterline"), low, high, strict=True))  # fmt: skip
        faults.add(spot, f"must lie in the tank: {reach}", "", "")


def _lines(fuel: Fuel, table: Entry, faults: Faults) -> None:
    for line in fuel.lines:
        spot = table["lines"][line.name]
        if line.outside <= line.bore:
            faults.wrong(spot.nearest("outside"), f"must be more than the bore, {inches(line.bore)}")
        if len(line.run) < 2:
            example = 'run = { outlet = ["27 in", "0 in", "1 in"], valve = ["10 in", "0 in", "-6 in"] }'
            faults.add(spot.nearest("run"), "a line has at least two places", f"{len(line.run)}", example)
    if all(len(line.run) > 1 for line in fuel.lines):
        _meet(fuel, fuel.lines, table, faults)


def _meet(fuel: Fuel, lines: Sequence[FuelLine], table: Entry, faults: Faults) -> None:
    """The first begins at the outlet, each begins where the one before ends, the last ends at the carburettor."""
    before, where = fuel.tank.outlet, "the tank's outlet"
    for line in lines:
        places = list(line.run.items())
        if not _same(places[0][1], before):
            spot = table["lines"][line.name].nearest("run", places[0][0])
            faults.add(spot, f"must begin at {where}, {_said(before)}", _said(places[0][1]))
        before, where = places[-1][1], f"the end of {line.name}"
    if lines and fuel.carburettor and not _same(before, fuel.carburettor.place):
        last = list(lines[-1].run)[-1]
        spot = table["lines"][lines[-1].name].nearest("run", last)
        faults.add(spot, f"must end at the carburettor, {_said(fuel.carburettor.place)}", _said(before))


def _replaced(fuel: Fuel, whole: Entry, faults: Faults) -> None:
    known = [n for group in ("items", "allowances") if group in whole and isinstance(whole[group].value, dict)
             for n in whole[group].value]  # fmt: skip
    for i, name in enumerate(fuel.replaces):
        if name not in known:
            spot = whole["fuel"].nearest("replaces", i)
            faults.wrong(spot, f"names an item or an allowance of this model{hint(name, known)}")


def _same(a: Place, b: Place) -> bool:
    return float(np.linalg.norm(np.subtract(a, b))) < NEAR


def _said(place: Place) -> str:
    return ", ".join(map(inches, place))
