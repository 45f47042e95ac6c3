"""Whether a wing's drag bracing makes sense: two spars, tubes on the wing in order, pins and bolts with room."""

from __future__ import annotations

from itertools import pairwise

from sparwright.base.quantity import inches
from sparwright.data.hardware import wire_end
from sparwright.data.loader import fasteners, materials
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.model import Wing
from sparwright.family.tail_sense import EDGE, NEAR, ROW, check_bore, check_fastener


def check_drag(wing: Wing, table: Entry, faults: Faults) -> None:
    """Note what is wrong with the drag bracing of a wing."""
    drag = wing.drag_bracing
    if drag is None:
        return
    spot = table["drag_bracing"]
    if len(wing.spars) != 2:
        faults.add(spot, f"lies between two spars; the wing has {len(wing.spars)}")
    if len(drag.bays) < 2 or any(b <= a for a, b in pairwise(drag.bays)):
        example = 'bays = ["12 in", "48 in"]'
        faults.wrong(spot.nearest("bays"), "are two buttlines at least, from the inside out", example)
    if wing.panels:
        span = wing.panels[0].root_buttline, wing.panels[-1].tip_buttline
        for i, y in enumerate(drag.bays):
            if not span[0] < y < span[1]:
                faults.wrong(
                    spot.nearest("bays", i), f"must lie on the wing, buttline {' to '.join(map(inches, span))}"
                )
    check_bore(drag.tube, spot["tube"], faults)
    if check_fastener(drag.bolt, ("bolt",), spot["bolt"], faults):
        least = ROW * fasteners()[drag.bolt].diameter
        if drag.pitch < least - NEAR:
            faults.wrong(spot["pitch"], f"bolts stand three diameters apart at least, {inches(least)}")
    if drag.block and drag.block not in materials():
        faults.wrong(spot["block"], f"is not a material we know{hint(drag.block, materials())}")
    end = wire_end("fork", drag.wire)
    if end is None:
        faults.wrong(spot["wire"], "is a wire that no fork is on file for; 3/32, 1/8, 5/32 and 3/16 in are")
    elif drag.edge < EDGE * fasteners()[end.pin].diameter - NEAR:
        least = EDGE * fasteners()[end.pin].diameter
        faults.wrong(spot["edge"], f"a pin is two diameters from the edge at least, {inches(least)}")
    if drag.hole <= drag.wire:
        faults.wrong(spot["hole"], f"must be wider than the wire, {inches(drag.wire)}")
