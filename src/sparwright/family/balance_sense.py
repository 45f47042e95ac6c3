"""What a weight ahead of a hinge line must be beyond single keys: heavy stuff, a bolt that holds it, room to stand."""

from __future__ import annotations

import math

from sparwright.base.quantity import inches
from sparwright.data.loader import fasteners, materials
from sparwright.family.aileron import AileronFrame
from sparwright.family.balance import HEAVIEST, AileronWeight, TailWeight
from sparwright.family.entry import Entry, Faults
from sparwright.family.model import TailSurface
from sparwright.family.tail_frame import TailFrame

STUFF = ("lead", "steel")
EDGE = 2.0  # diameters of a bolt from its middle to an edge (ac-43-13-1b chapter 4, of rivets, read second hand)
ROW = 4.0  # diameters of a bolt from the rear bolt to the one ahead of it (common practice, no source)


def check_tail_weight(tail: TailSurface, frame: TailFrame, table: Entry, faults: Faults) -> None:
    """A weight at the tip of a tail surface; table: the frame's."""
    weight = frame.weight
    if weight is None:
        return
    spot = table["weight"]
    _slug(weight, spot, faults)
    if weight.bolt not in fasteners():
        return
    if weight.bolt != frame.hinges.pin:
        wanted = f"goes through spacers cut from the tube of the hinges' bushes: their pin's size, {frame.hinges.pin}"
        faults.wrong(spot["bolt"], wanted, f'bolt = "{frame.hinges.pin}"')
    low = frame.gap / 2 + frame.movable.front.outside + (ROW + EDGE) * fasteners()[weight.bolt].diameter
    high = (1 - tail.hinge) * tail.tip_chord - frame.movable.trailing.outside
    if not low <= weight.behind <= high:
        wanted = f"both bolts lie behind the front tube, ahead of the trailing edge: {inches(low)} to {inches(high)}"
        faults.wrong(spot["behind"], wanted)


def check_aileron_weights(frame: AileronFrame, table: Entry, faults: Faults) -> None:
    """The weights of an aileron; where they stand along it is checked with hinges and horn. table: the frame's."""
    for weight in frame.weights:
        spot = table["weights"][weight.name]
        _slug(weight, spot, faults)
        if abs(weight.below) <= weight.diameter / 2:
            half = inches(weight.diameter / 2)
            wanted = f"stands under its hinge line, or over it, by more than half its diameter, {half}"
            faults.wrong(spot["below"], wanted)


def slug_mass(weight: TailWeight | AileronWeight) -> float:
    """Mass of the slug less the hole of its bolt, kg: rho l pi (D^2 - d^2)/4."""
    hole = fasteners()[weight.bolt].diameter
    area = math.pi / 4 * (weight.diameter**2 - hole**2)
    return area * weight.length * materials()[weight.material].density


def _slug(weight: TailWeight | AileronWeight, spot: Entry, faults: Faults) -> None:
    """What it is of, its bolt, and that it lies ahead of the hinge line."""
    stuff = materials().get(weight.material)
    if stuff is not None and stuff.kind not in STUFF:
        faults.wrong(spot["material"], f"is lead or a steel; {weight.material} is {stuff.kind}", 'material = "lead"')
    if weight.ahead <= weight.diameter / 2:
        wanted = f"lies wholly ahead of the hinge line: more than half its diameter, {inches(weight.diameter / 2)}"
        faults.wrong(spot["ahead"], wanted)
    one = fasteners().get(weight.bolt)
    known = [k for k, f in fasteners().items() if f.kind == "bolt"]
    if one is None or one.kind != "bolt":
        faults.wrong(spot["bolt"], f"is not a bolt we know; known are {', '.join(known)}", 'bolt = "AN3"')
        return
    if weight.diameter < 2 * EDGE * one.diameter:
        wanted = f"leaves two bolt diameters from the bolt's middle to its edge: {inches(2 * EDGE * one.diameter)}"
        faults.wrong(spot["diameter"], wanted + " at least")
    elif stuff is not None and slug_mass(weight) > HEAVIEST:
        wanted = f"is no heavier than {HEAVIEST:g} kg: two smaller ones, or a longer arm"
        faults.add(spot, wanted, f"{slug_mass(weight):.2f} kg")
