"""The engine's mount as parts and joints: a welded frame of its own, bolted to the fuselage through the firewall."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from sparwright.base.problem import DesignProblem
from sparwright.family.fitted import EngineMount
from sparwright.family.model import Model
from sparwright.parts.bolts import bolt_for
from sparwright.parts.flat_sheets import sheet_number
from sparwright.parts.frame import at_node, tube_number, welded_tubes, welds
from sparwright.parts.number import part_number
from sparwright.parts.part import Bolt, Joint, Part
from sparwright.shape.frame import Welded, nodes, runs

GROUP = "mount"


def mount_parts(model: Model) -> tuple[Part, ...]:
    """Every tube of the mount; none where the file has none."""
    return welded_tubes(model, model.mount, GROUP) if model.mount else ()


def mount_joints(model: Model, tubes: Sequence[Part]) -> Iterator[Joint]:
    """Its welds, its feet on the frame with the firewall between, and the engine on its pads."""
    mount = model.mount
    if not mount:
        return
    yield from welds(model, mount, GROUP, tubes)
    known, engine = nodes(mount), part_number(model.name, "power", "ENGINE")
    for foot in mount.feet:
        for own, other in zip(_sides(foot.node, known), _sides(foot.to, nodes(model.fuselage)), strict=False):
            ends = (_ends_at(model, model.fuselage, "fuselage", other), _ends_at(model, mount, GROUP, own))
            yield Joint(number=part_number(model.name, GROUP, "FOOT", own), kind="bolt", place=known[own], primary=True,
                        parts=(sheet_number(model, mount.through), *ends), fastener=mount.bolt, fasteners=1,
                        bolt=_foot_bolt(model, mount, own),
                        note="into a tapped plug welded in the frame's tube; head drilled, locked by wire")  # fmt: skip
    for pad in mount.pads:
        for own in _sides(pad, known):
            yield Joint(number=part_number(model.name, GROUP, "PAD", own), kind="bolt", place=known[own], primary=True,
                        parts=(_ends_at(model, mount, GROUP, own), engine), fastener="unknown", fasteners=1,
                        note=f"{mount.pad_bolt} through rubber; length and torque by the engine's maker")  # fmt: skip


def _foot_bolt(model: Model, mount: EngineMount, node: str) -> Bolt:
    """From ahead through the foot and the firewall into the plug."""
    run = next(r for r in at_node(runs(mount), node) if node in (r.nodes[0], r.nodes[-1]))
    places = [nodes(mount)[n] for n in run.nodes]
    long = sum(math.dist(a, b) for a, b in pairwise(places))
    sheet = next(s for s in model.sheets if s.name == mount.through)
    found = bolt_for(mount.bolt, [("mount's foot", long), ("firewall", sheet.sheet.thickness)], "forward",
                     limit="its own torque; foot and plug are too thick to crush")  # fmt: skip
    return replace(found, nut="none: the plug in the frame's tube is tapped", locking="head drilled, wired to the foot")


def _sides(node: str, known: Mapping[str, object]) -> list[str]:
    """A node's full names: itself, or right and left."""
    return [n for n in (node, f"{node}R", f"{node}L") if n in known]


def _ends_at(model: Model, frame: Welded, group: str, node: str) -> str:
    """The stoutest tube that ends at a node."""
    met = [r for r in at_node(runs(frame), node) if node in (r.nodes[0], r.nodes[-1])]
    if not met:
        raise DesignProblem(f"{model.name}: no tube of the {group} ends at {node}, where the mount is bolted")
    return tube_number(model, met[0], group)
