"""The brakes' levers drawn: how near they come to what stands still, the other controls in neutral.

Each lever turns aft at its grip, from as drawn to the travel the file says, in steps; gaps as in controls/clearance.py.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from sparwright.base.check import Check, check
from sparwright.base.record import locked
from sparwright.base.source import Band
from sparwright.controls.clearance import LOOK, METHOD, Near, nearer, still
from sparwright.data.controls import RULES
from sparwright.family.model import Model
from sparwright.parts.brakes import brakes_of
from sparwright.parts.control_bodies import number as named
from sparwright.parts.part import Assembly
from sparwright.parts.solids import solids
from sparwright.shape.solid import Solid, turning

STEPS = 6  # of a lever's travel


def brake_levers_clear(model: Model, assembly: Assembly) -> Iterator[Check]:
    """Least gap of the brakes' levers through their travel; none without brakes."""
    found = brakes_of(model)
    if found is None or model.controls is None:
        return
    around, least = still(assembly), Near(LOOK)
    cranks = {k.name: k for k in model.controls.cranks}
    for name in dict.fromkeys(line.lever.partition(".")[0] for line in found[1].lines):
        plate, hub = assembly.part(named(model, "CRANK", name)), named(model, "CRANK-HUB", name)
        pivot, beside = np.array(cranks[name].pivot), {plate.number, hub, *around.joined.get(hub, set())}
        keep = np.array([n not in beside and n not in around.stops for n in around.numbers])
        for i in range(STEPS + 1):
            angle = found[1].travel * i / STEPS
            turn = turning(np.array([0.0, 1.0, 0.0]), angle)
            for body in solids(plate):
                moved = Solid(locked((body.points - pivot) @ turn.T + pivot), body.faces)
                before = Near(least.gap, plate.number, least.other, least.where)
                now = nearer(
                    before, moved, around, keep, beside, plate.passes, f"drawn by {math.degrees(angle):.0f} deg"
                )
                least = now if now.gap < least.gap else least
    told = f"{least.one} and {least.other}, {least.where}" if least.other else f"nothing within {LOOK * 1e3:.0f} mm"
    unsure = f"bodies that are not closed: {', '.join(around.open[:6])}" if around.open else ""
    yield check("controls.brake_levers.clear", "least gap of the brakes' levers, through their travel",
                Band.exact(least.gap), RULES["clear"].value, RULES["clear"].sense, "m", part=least.one,
                rule=str(RULES["clear"].source), method=METHOD, caveat=f"{told}; other controls in neutral",
                outside_range=unsure)  # fmt: skip
