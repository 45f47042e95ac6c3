"""What of the brakes no single key can tell: shoes within the drum, an arm beyond it, levers that are there."""

from __future__ import annotations

from collections.abc import Sequence

from sparwright.base.quantity import inches
from sparwright.data.loader import fasteners
from sparwright.family.brakes import Brakes
from sparwright.family.controls import Crank
from sparwright.family.entry import Entry, Faults, hint
from sparwright.family.model import Wheel

CLEAR = 2.0  # diameters of the link's bolt from its middle to the drum (common practice, no source)


def check_brakes(b: Brakes, main: Wheel | None, guided: bool, cranks: Sequence[Crank], ends: set[str],
                 sheets: Sequence[str], table: Entry, faults: Faults) -> None:  # fmt: skip
    """cranks: those of [controls]; ends: how tubes of the frame are called; sheets: names of flat sheets."""
    if main is None or not guided:
        faults.add(table, "brakes want main wheels off the centreline and [undercarriage.guide], which holds them",
                   "none")  # fmt: skip
    if b.drum >= b.outside:
        faults.wrong(table["drum"], f"must be less than the outside of the drum, {inches(b.outside)}")
    bolts = [k for k, f in fasteners().items() if f.kind == "bolt"]
    if b.bolt not in bolts:
        faults.wrong(table.nearest("bolt"), f"is not a bolt we know{hint(b.bolt, bolts)}")
    elif b.arm < b.outside / 2 + CLEAR * fasteners()[b.bolt].diameter:
        least = inches(b.outside / 2 + CLEAR * fasteners()[b.bolt].diameter)
        faults.wrong(table["arm"], f"the link's bolt must pass outside the drum: {least} at least")
    elif b.bush.outside - 2 * b.bush.wall < fasteners()[b.bolt].diameter - 1e-9:
        faults.wrong(table["bush"], f"its bore must take the bolt, {inches(fasteners()[b.bolt].diameter)}")
    if sorted(line.name for line in b.lines) != ["left", "right"]:
        faults.add(table["lines"], "one line named right and one named left, each to the brake of its side",
                   ", ".join(line.name for line in b.lines) or "none")  # fmt: skip
    known = [f"{k.name}.{n}" for k in cranks for n in k.holes if not k.pair and "grip" in k.holes and n != "grip"]
    for line in b.lines:
        spot = table["lines"][line.name]
        if line.lever not in known:
            faults.wrong(spot["lever"], f"names a single bell-crank with a hole grip, and its hole for the cable"
                                        f"{hint(line.lever, known)}")  # fmt: skip
        for i, name in enumerate(line.held):
            if name not in ends and name not in sheets:
                faults.wrong(spot["held"].nearest(i), f"names a flat sheet, or a tube of the frame by its first and "
                                                      f"last node{hint(name, sorted((*ends, *sheets)))}")  # fmt: skip
