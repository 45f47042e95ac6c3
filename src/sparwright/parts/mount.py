"""The engine's mount as parts and joints: a welded frame of its own, bolted to the fuselage through the firewall."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sparwright.base.problem import DesignProblem
from sparwright.family.model import Model
from sparwright.parts.flat_sheets import sheet_number
from sparwright.parts.frame import at_node, tube_number, welded_tubes, welds
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part
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
                        note="into a tapped plug welded in the frame's tube; head drilled, locked by wire")  # fmt: skip
    for pad in mount.pads:
        for own in _sides(pad, known):
            yield Joint(number=part_number(model.name, GROUP, "PAD", own), kind="bolt", place=known[own], primary=True,
                        parts=(_ends_at(model, mount, GROUP, own), engine), fastener=mount.pad_bolt, fasteners=1,
                        note="through the engine's rubber, to the torque its maker says")  # fmt: skip


def _sides(node: str, known: Mapping[str, object]) -> list[str]:
    """A node's full names: itself, or right and left."""
    return [n for n in (node, f"{node}R", f"{node}L") if n in known]


def _ends_at(model: Model, frame: Welded, group: str, node: str) -> str:
    """The stoutest tube that ends at a node."""
    met = [r for r in at_node(runs(frame), node) if node in (r.nodes[0], r.nodes[-1])]
    if not met:
        raise DesignProblem(f"{model.name}: no tube of the {group} ends at {node}, where the mount is bolted")
    return tube_number(model, met[0], group)
