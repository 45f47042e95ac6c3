"""How the tank is held: a box, on tubes that are there, by sheets and bolts that fit one another."""

from __future__ import annotations

from typing import Any

from sparwright.data.loader import fasteners
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.fitted_sense import run_ends
from sparwright.family.tables import BAD


def check_tank_hold(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about the tank's bearers and straps that no single key can tell."""
    fuel = values["fuel"]
    if fuel in (BAD, None) or fuel.tank.hold is None:
        return
    hold, table = fuel.tank.hold, whole["fuel"]["tank"]["hold"]
    if fuel.tank.shape != "box":
        faults.add(table, "pads and straps are those of a box; a cylinder's are not drawn")
    if values["fuselage"] is not BAD:
        ends = sorted(set(run_ends(values["fuselage"].tubes, values["fuselage"].nodes)))
        for i, name in enumerate(hold.bearers):
            if name not in ends:
                wanted = f"names a tube of the frame by its first and last node{hint(name, ends)}"
                faults.wrong(table["bearers"].nearest(i), wanted)
    if len(set(hold.bearers)) < 2:
        faults.add(table["bearers"], "two bearers at least, each once", f"{len(hold.bearers)}")
    known = [k for k, f in fasteners().items() if f.kind == "bolt"]
    if hold.bolt not in known:
        faults.wrong(table.nearest("bolt"), f"is not a bolt we know{hint(hold.bolt, known)}")
    elif hold.tab_height < 4 * fasteners()[hold.bolt].diameter:
        faults.wrong(table["tab_height"], "must be four diameters of its bolt or more: two either side of its hole")
