"""Formers and stringers: arches that stand on tubes that are there, strips that lie in two formers or more."""

from __future__ import annotations

import math
from typing import Any

from sparwright.base.quantity import inches
from sparwright.data.loader import fasteners
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.fitted_sense import run_ends
from sparwright.family.formers import Former, Stringer
from sparwright.family.tables import BAD

SIDE = 0.9  # of the quarter's angle: nearer to a foot a strip would run out of it


def check_formers(values: dict[str, Any], whole: Entry, faults: Faults) -> None:
    """Everything about formers and stringers that no single key can tell."""
    if values["formers"] is BAD or values["stringers"] is BAD:
        return
    formers = {f.name: f for f in values["formers"] if f is not BAD}
    fuselage = values["fuselage"]
    ends = None if fuselage is BAD else sorted(set(run_ends(fuselage.tubes, fuselage.nodes)))
    sheets = [] if values["sheets"] is BAD else [s.name for s in values["sheets"] if s is not BAD]
    for name, former in formers.items():
        if name in sheets:
            faults.add(whole["formers"][name], "has the name of one of [sheets]: another is wanted", name)
        _former(former, ends, whole["formers"][name], faults)
    for stringer in (s for s in values["stringers"] if s is not BAD):
        _stringer(stringer, formers, whole["stringers"][stringer.name], faults)


def _former(former: Former, ends: list[str] | None, table: Entry, faults: Faults) -> None:
    if ends is not None and former.on not in ends:
        wanted = f"names a tube of the frame by its first and last node{hint(former.on, ends)}"
        faults.wrong(table["on"], wanted)
    if former.crown <= former.feet:
        faults.wrong(table["crown"], f"must lie above its feet, waterline {inches(former.feet)}")
    known = [k for k, f in fasteners().items() if f.kind == "bolt"]
    if former.bolt not in known:
        faults.wrong(table.nearest("bolt"), f"is not a bolt we know{hint(former.bolt, known)}")


def _stringer(stringer: Stringer, formers: dict[str, Former], table: Entry, faults: Faults) -> None:
    for i, name in enumerate(stringer.formers):
        if name not in formers:
            faults.wrong(table["formers"].nearest(i), f"names one of [formers]{hint(name, formers)}")
    if len(stringer.formers) < 2 or len(set(stringer.formers)) < len(stringer.formers):
        faults.add(table["formers"], "two formers or more, each once", f"{len(stringer.formers)}")
    if not 0 < stringer.share <= SIDE:
        faults.wrong(table["share"], f"must be more than 0, where two would meet, and {SIDE} at most")
    for former in (formers[n] for n in stringer.formers if n in formers):
        deep = min(former.ring, former.crown - former.feet)
        if stringer.bar.depth >= deep or not math.isfinite(deep):
            spot = table["bar"].nearest("depth")
            faults.wrong(spot, f"must be less than the ring of former {former.name} is wide, {inches(deep)}")
