"""Lugs on nodes of the fuselage for struts and wires, as parts and joints."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from shapely import Polygon

from sparwright.family.model import Model
from sparwright.parts.ends import Lugs, NodeSpot, pin_diameter, spots
from sparwright.parts.frame import at_node, tube_number
from sparwright.parts.lugs import ROUND_NODE, behind, disc, hull, mirrored_places, plate_part, saddle
from sparwright.parts.number import part_number
from sparwright.parts.part import Joint, Part
from sparwright.parts.spar_fittings import lug_names
from sparwright.shape.frame import ON_CENTRE, nodes, runs
from sparwright.shape.solid import Pose, as_place


def node_lug_parts(model: Model) -> Iterator[Part]:
    """Every lug on a node."""
    for spot in spots(model)[1]:
        assert spot.fitting is not None
        for lugs in spot.lugs:
            pins = tuple((*lugs.flat(p), pin_diameter(h)) for h, p in zip(lugs.held, lugs.pins, strict=True))
            for number, off in _numbers(model, spot, lugs):
                pose = Pose(as_place(lugs.origin + off * lugs.normal), as_place(lugs.across), as_place(lugs.out))
                outline = node_lug_outline(spot, lugs, pose, number)
                yield plate_part(number, f"lug at {spot.name}", spot.fitting.lug, outline, pose, pins, at=spot.name)


def node_lug_outline(spot: NodeSpot, lugs: Lugs, pose: Pose, number: str) -> Polygon:
    """A lug in its own axes about its node: y towards its pins."""
    assert spot.fitting is not None
    flat = [lugs.flat(p) for p in lugs.pins]
    around = ROUND_NODE * 2 * max(t.radius for t in spot.tubes)
    whole = hull([disc((0.0, 0.0), around), *(disc(p, spot.fitting.edge) for p in flat)])
    whole = whole.difference(behind((0.0, 0.0)))
    if abs(spot.place[1]) < ON_CENTRE < abs(lugs.pins[0][1]):
        whole = whole.difference(past_the_middle(pose, spot.fitting.lug.thickness))
    return saddle(whole, spot.tubes, spot.place, pose, spot.fitting.lug.thickness, flat,
                  number)  # fmt: skip


def past_the_middle(pose: Pose, thickness: float) -> Polygon:
    """All of a plate's plane on the left of the plane of symmetry, where its mirror lies. Either face counts."""
    right = np.array([pose.x[1], pose.y[1]])
    steep = float(np.linalg.norm(right))
    right, way = right / steep, np.array([-right[1], right[0]]) / steep
    off = -pose.origin[1] + np.sqrt(max(1 - steep**2, 0.0)) * thickness / 2
    edge = off / steep * right
    corners = (edge + way, edge - way, edge - way - right, edge + way - right)
    return Polygon([(float(x), float(y)) for x, y in corners])


def _numbers(model: Model, spot: NodeSpot, lugs: Lugs) -> Iterator[tuple[str, float]]:
    for name, off in lug_names(lugs):
        yield part_number(model.name, "fuselage", "LUG", spot.name, name), off


def node_lug_numbers(model: Model, spot: NodeSpot, lugs: Lugs) -> list[str]:
    """Numbers of the plates of lugs."""
    return [number for number, _ in _numbers(model, spot, lugs)]


def node_tubes(model: Model, node: str) -> tuple[str, ...]:
    """Numbers of the tubes that meet at a node, the right one of a pair."""
    right = node if node in nodes(model.fuselage) else f"{node}R"
    return tuple(tube_number(model, r) for r in at_node(runs(model.fuselage), right))


def node_lug_joints(model: Model) -> Iterator[Joint]:
    """Their welds: on both faces along the tubes."""
    for spot in spots(model)[1]:
        for lugs in spot.lugs:
            plates = node_lug_numbers(model, spot, lugs)
            around = ROUND_NODE * 2 * max(t.radius for t in spot.tubes)
            yield Joint(
                number=f"{plates[0]}-WELD", kind="weld", parts=(*node_tubes(model, spot.name), *plates), primary=True,
                place=as_place(spot.place), length=len(plates) * 2 * np.pi * around / 2,
                count=len(mirrored_places(lugs.pins[0])), note="both faces, along every tube they stand on",
            )  # fmt: skip
