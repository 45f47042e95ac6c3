"""Wires of the circuits and the antenna as parts; battery and instruments are items.

    mass of a wire = copper of its gauge x length, and its insulation by a factor (data/electrics.toml)

The second wire that brings the current back runs with it and counts in the same part.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from sparwright.base.record import locked
from sparwright.data.electrics import RULES, WIRES
from sparwright.family.electrics import Circuit
from sparwright.family.model import Model
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part
from sparwright.parts.soft import clips, laid_run
from sparwright.shape.solid import as_place
from sparwright.shape.tube import Tube

GROUP = "electrics"
ELECTRICS_NOT_DRAWN = (
    "electrics: switches, fuse block, bus, terminals, clamps; the way of each wire between its clips",
)
PAIR = ", two side by side"
FEEDS = "terminals crimped with the tool of their maker; a boot over each"


def wire_number(model: Model, circuit: Circuit) -> str:
    """Number of a circuit's wire."""
    return part_number(model.name, GROUP, "WIRE", circuit.name.upper().replace("_", "-"))


def electrics_parts(model: Model) -> Iterator[Part]:
    """A wire for each circuit, and the antenna."""
    e = model.electrics
    for circuit in e.circuits if e else ():
        yield _wire(model, circuit)
    if e and e.antenna:
        foot = np.array(e.antenna.place)
        rod = Tube(path=locked([foot, foot + (0.0, 0.0, e.antenna.height)]), outside=e.antenna.diameter, wall=0.0)
        yield Part(number=_antenna(model), name="antenna", form="item", group=GROUP, purpose="bought",
                   material="bought", stock="bought", places=(as_place(rod.path.mean(axis=0)),), mass=e.antenna.mass,
                   band=0.1, mark="designer", shape=rod)  # fmt: skip


def _antenna(model: Model) -> str:
    return part_number(model.name, GROUP, "ANTENNA")


def _wire(model: Model, circuit: Circuit) -> Part:
    kind, cover = WIRES[circuit.gauge], RULES["insulation"].band
    outside = 2 * math.sqrt(kind.area * cover.value * 2 / math.pi)  # insulation is light: as thick again, roughly
    run, middle = laid_run(list(circuit.run.values()), outside)
    lengths = 2 if circuit.back == "wire" else 1
    guard = f", {circuit.protector} {circuit.rating:g} A" if circuit.rating is not None else ""
    return Part(
        number=wire_number(model, circuit), name=f"wire, {circuit.name.replace('_', ' ')}", form="soft", group=GROUP,
        purpose=circuit.purpose, material="bought",
        stock=f"no. {circuit.gauge} tin-plated copper, insulation {circuit.insulation}{PAIR * (lengths - 1)}",
        places=(middle,), mass=kind.copper * cover.value * run.length * lengths,
        band=(cover.high - cover.low) / 2 / cover.value, shape=run, note=f"{' to '.join(circuit.run)}{guard}",
    )  # fmt: skip


def electrics_joints(model: Model, tubes: Sequence[Part]) -> Iterator[Joint]:
    """Each wire clipped to what holds it, and joined to the item that it feeds; the antenna on its foot."""
    e, parts = model.electrics, {p.number: p for p in electrics_parts(model)}
    for circuit in e.circuits if e else ():
        part = parts[wire_number(model, circuit)]
        yield from clips(model, part, circuit.held, tubes)
        if circuit.feeds and not circuit.feeds.startswith("fuel."):
            fed = part_number(model.name, "systems", circuit.feeds.upper().replace("_", "-"))
            yield Joint(number=f"{part.number}-FEEDS-JOINT", kind="bolt", parts=(fed, part.number),
                        place=list(circuit.run.values())[-1], primary=False, fastener="unknown",
                        note=FEEDS)  # fmt: skip
    if e and e.antenna:
        yield from clips(model, parts[_antenna(model)], e.antenna.held, tubes, "its foot bolted, bare metal under it")
