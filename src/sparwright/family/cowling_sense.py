"""Whether a cowling makes sense: ends that hold their angles, a firewall and a fastener that are there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sparwright.base.quantity import inches
from sparwright.family.cowling import CowlEnd, Cowling
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.tables import BAD
from sparwright.family.tail_sense import check_fastener


def check_cowling(values: Mapping[str, Any], whole: Entry, faults: Faults) -> None:
    """Note what is wrong with the cowling of a model."""
    cowl = values.get("cowling")
    if cowl is None or cowl is BAD:
        return
    assert isinstance(cowl, Cowling)
    table = whole["cowling"]
    if values["sheets"] is not BAD:
        sheets = [s.name for s in values["sheets"]]
        if cowl.firewall not in sheets:
            faults.wrong(table["firewall"], f"names a flat sheet of [sheets]{hint(cowl.firewall, sheets)}")
    check_fastener(cowl.fastener, ("bolt",), table.nearest("fastener"), faults)
    if cowl.leg <= cowl.angle.thickness:
        faults.wrong(table["leg"], f"must be more than the angle is thick, {inches(cowl.angle.thickness)}")
    room = 2 * (cowl.leg + cowl.sheet.thickness)
    for key in ("front", "rear"):
        _end(getattr(cowl, key), table[key], room, faults)
    least = min(min(end.half, (end.top - end.bottom) / 2) for end in (cowl.front, cowl.rear))
    if cowl.short >= least:
        faults.wrong(
            table["short"], f"leaves nothing of the angles round the ends; less than {inches(least)} is wanted"
        )


def _end(end: CowlEnd, table: Entry, room: float, faults: Faults) -> None:
    """Room for the angles between the panels."""
    if end.top - end.bottom <= room:
        faults.wrong(table["top"], f"must lie more than {inches(room)} over the bottom, for the angles in the corners")
    if 2 * end.half <= room:
        faults.wrong(table["half"], f"must be more than {inches(room / 2)}, for the angles in the corners")
